package layout_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

func dropsField(t testing.TB) layout.RunField {
	t.Helper()
	fields := layout.RunFields()
	return fields[slices.IndexFunc(fields, func(f layout.RunField) bool { return f.Key == "drops" })]
}

func TestDropsAsTyped(t *testing.T) {
	const in = length.Inch
	for _, c := range []struct {
		typed string
		unit  length.Unit
		want  []layout.DropSpot
	}{
		{"0: 48", length.Inches, []layout.DropSpot{{Drop: 48 * in}}},
		{`6': 4' 3 1/2" out 3'; 0: 4'`, length.Inches, []layout.DropSpot{{Drop: 48 * in}, {Along: 72 * in, Out: 36 * in, Drop: 51*in + in/2}}},
		{"72: 53 out 36, 72: 51", length.Inches, []layout.DropSpot{{Along: 72 * in, Drop: 51 * in}, {Along: 72 * in, Out: 36 * in, Drop: 53 * in}}},
		{"0: 1200\n1800: 1260 out 900", length.Millimetres, []layout.DropSpot{{Drop: 1200 * length.Millimetre}, {Along: 1800 * length.Millimetre, Out: 900 * length.Millimetre, Drop: 1260 * length.Millimetre}}},
	} {
		var r layout.Run
		if err := dropsField(t).Set(&r, c.typed, c.unit); err != nil || !slices.Equal(r.Drops, c.want) {
			t.Errorf("%q: %v, %v", c.typed, r.Drops, err)
		}
	}
	for typed, says := range map[string]string{
		"48":              "has no colon",
		"0: x":            "must be a length",
		"0: 48; 0: 49":    "has its drop already",
		"0: -3":           "must be between",
		"0: 48 out 2000'": "must be between",
		spots(41):         "40 spots or fewer",
	} {
		r := layout.Run{Drops: []layout.DropSpot{{Drop: in}}}
		if err := dropsField(t).Set(&r, typed, length.Inches); err == nil || !strings.Contains(err.Error(), says) || len(r.Drops) != 1 {
			t.Errorf("%q: %v, and the run then has %v", typed, err, r.Drops)
		}
	}
}

func spots(n int) string {
	var parts []string
	for i := range n {
		parts = append(parts, length.Length(int64(i+1)*int64(length.Inch)).FormatBare(length.InchFraction)+": 1")
	}
	return strings.Join(parts, "; ")
}

// What the field shows, it reads back exactly, in either unit.
func TestDropsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]length.Unit{length.Inches, length.Millimetres}).Draw(t, "unit")
		nm := func(name string, most int64) length.Length {
			return length.Length(rapid.Int64Range(0, most*int64(length.Inch)).Draw(t, name))
		}
		var r, again layout.Run
		for range rapid.IntRange(0, 6).Draw(t, "spots") {
			s := layout.DropSpot{Along: nm("along", 12000), Out: nm("out", 1200), Drop: nm("drop", 1200)}
			if !slices.ContainsFunc(r.Drops, func(o layout.DropSpot) bool { return o.Along == s.Along && o.Out == s.Out }) {
				r.Drops = append(r.Drops, s)
			}
		}
		f := layout.RunFields()[slices.IndexFunc(layout.RunFields(), func(f layout.RunField) bool { return f.Key == "drops" })]
		text := f.Text(&r, unit.Style())
		if err := f.Set(&again, text, unit); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for _, s := range r.Drops {
			if !slices.Contains(again.Drops, s) {
				t.Fatalf("%q reads back as %v, want %v", text, again.Drops, r.Drops)
			}
		}
	})
}

// Sloping ground: the deepest spot inside the zone governs. IRC 2018 R312.1.1 (official text): over 30 in at any point within 36 in
// horizontally of the edge. Ontario 3.3.1.18 (official text, mirror): over 600 mm, or ground within 1.2 m steeper than 1 in 2.
func TestGuardAskedBySpots(t *testing.T) {
	const in, mm = length.Inch, length.Millimetre
	spot := func(along, out, drop length.Length) layout.DropSpot {
		return layout.DropSpot{Along: along, Out: out, Drop: drop}
	}
	for _, c := range []struct {
		name, rules string
		given       length.Length
		spots       []layout.DropSpot
		want        bool
		says        string
	}{
		{"nothing measured", "irc-2018", 0, nil, true, "No drop has been measured"},
		{"exactly at the figure everywhere", "irc-2018", 0, []layout.DropSpot{spot(0, 0, 30*in), spot(96*in, 0, 28*in)}, false, `is 30"`},
		{"over it at one end", "irc-2018", 0, []layout.DropSpot{spot(0, 0, 24*in), spot(96*in, 0, 30*in+in/8)}, true, `the drop at the edge is 30 1/8"`},
		{"over it out from the edge, at the end of the zone", "irc-2018", 0, []layout.DropSpot{spot(48*in, 0, 20*in), spot(48*in, 36*in, 31*in)}, true, `the drop 36" out is 31"`},
		{"over it beyond the zone alone", "irc-2018", 0, []layout.DropSpot{spot(48*in, 0, 20*in), spot(48*in, 37*in, 60*in)}, false, `the greatest within 36" of the edge is 20"`},
		{"the greatest given is over it, the spots are not", "irc-2018", 33 * in, []layout.DropSpot{spot(0, 0, 20*in)}, true, `33"`},
		{"the greatest given is not, a spot is", "irc-2018", 20 * in, []layout.DropSpot{spot(0, 0, 33*in)}, true, `33"`},
		// Along the run the ground may fall as it likes: only going out does its slope count.
		{"falls along the run", "ontario-9.8", 0, []layout.DropSpot{spot(0, 0, 100*mm), spot(200*mm, 0, 590*mm)}, false, "590 mm"},
		{"falls going out", "ontario-9.8", 0, []layout.DropSpot{spot(0, 0, 100*mm), spot(0, 600*mm, 590*mm)}, true, "falls 490 mm in 600 mm"},
	} {
		run := layout.Run{DeckHeight: c.given, Drops: c.spots}
		if got, why := run.GuardAsked(rules(t, c.rules), nil, rules(t, c.rules).RuleSet().Units.Style()); got != c.want || !strings.Contains(why, c.says) {
			t.Errorf("%s: %t, %q", c.name, got, why)
		}
	}
}

// No spot that is added ever takes a guard away.
func TestMoreSpotsNeverRemoveAGuard(t *testing.T) {
	figures := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, most int) length.Length {
			return length.Length(rapid.IntRange(0, most).Draw(t, name)) * length.Inch
		}
		run := layout.Run{DeckHeight: draw("given", 40), Drops: []layout.DropSpot{{Along: draw("along", 10), Drop: draw("drop", 40)}}}
		before, _ := run.GuardAsked(figures, nil, length.InchFraction)
		run.Drops = append(run.Drops, layout.DropSpot{Along: draw("along", 10), Out: draw("out", 60), Drop: draw("drop", 60)})
		if after, why := run.GuardAsked(figures, nil, length.InchFraction); before && !after {
			t.Fatalf("a guard was required, and with one more spot it is not: %s", why)
		}
	})
}
