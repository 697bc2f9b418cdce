package checklist_test

import (
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/checklist/length"
)

// near is a check of a length with a nominal and a tolerance either way.
func near(at, tol length.Length) checklist.Check {
	return nominal(checklist.Check{Ask: checklist.AskLength}, at, tol, tol)
}

// Slips as they happen at a saw: common practice, no source. The nominal tells which of several was meant.
func TestSlippedAsks(t *testing.T) {
	for _, tt := range []struct {
		typed string
		unit  length.Unit
		check checklist.Check
		want  string
	}{
		// Feet and inches.
		{"3", length.Inches, near(36*in, in/4), "3'"},
		{"3 1/2", length.Inches, near(42*in, in/4), "3 1/2'"},
		{"42'", length.Inches, near(42*in, in/4), `42"`},
		{"42 ft", length.Inches, near(42*in, in/4), `42"`},
		{`6"`, length.Inches, near(72*in, in/4), `6'`},
		// Run together: a fraction, or feet and inches, as the layout has it.
		{"38", length.Inches, near(in*3/8, in/8), "3/8"},
		{"38", length.Inches, near(44*in, in/4), `3' 8"`},
		{"36", length.Inches, near(41*in+in/2, in/4), `3' 6"`},
		{"1 1/6", length.Inches, near(in+in/16, in/16), "1 1/16"},
		{"358", length.Inches, near(in*29/8, in/8), "3 5/8"},
		{"41316", length.Inches, near(4*in+in*13/16, in/4), "4 13/16"},
		{"4138", length.Inches, near(41*in+in*3/8, in/4), "41 3/8"},
		{"413/8", length.Inches, near(41*in+in*3/8, in/4), "41 3/8"},
		{" 311/16 ", length.Inches, near(3*in+in*11/16, in/8), "3 11/16"},
		{"-18", length.Inches, nominal(checklist.Check{Ask: checklist.AskSigned}, 0, in/8, in/8), "-1/8"},
		// A digit dropped or doubled.
		{"4 3/8", length.Inches, near(41*in+in*3/8, in/4), "41 3/8"},
		{"1 3/8", length.Inches, near(41*in+in*3/8, in/4), "41 3/8"},
		{"411 3/8", length.Inches, near(41*in+in*3/8, in/4), "41 3/8"},
		{"107", length.Millimetres, near(1067*mm, 6*mm), "1067"},
		{"106", length.Millimetres, near(1067*mm, 6*mm), "1067"},
		// The other system.
		{"1067", length.Inches, near(42*in, in/4), "1067 mm"},
		{"95", length.Inches, near(3*in+in*3/4, in/8), "95 mm"},
		{"42", length.Millimetres, near(1067*mm, 6*mm), `42"`},
		{"3 3/4", length.Millimetres, near(95*mm, 3*mm), `3 3/4"`},
		{`1067"`, length.Inches, near(42*in, in/4), "1067 mm"},
		// Past the tolerance and still what was meant: the reading stays off the layout.
		{"417/8", length.Inches, near(41*in+in*3/8, in/4), "41 7/8"},
	} {
		slip, ok := checklist.Slipped(tt.check, tt.typed, tt.unit, tt.unit.Style())
		if !ok || slip.Meant != tt.want {
			t.Errorf("%q against %v: %+v, %v, want %q", tt.typed, *tt.check.Nominal, slip, ok, tt.want)
		}
	}
}

// What is as measured, or off by what happens on a job, is not asked about.
func TestSlippedDoesNotAsk(t *testing.T) {
	height := near(41*in+in/2, in/4)
	for _, tt := range []struct {
		typed string
		unit  length.Unit
		check checklist.Check
	}{
		{"41 1/2", length.Inches, height},
		{"41 7/8", length.Inches, height},
		{"40", length.Inches, height},
		{"43 1/4", length.Inches, height},
		{"48 1/2", length.Inches, near(46*in, in/4)},
		{"60", length.Inches, near(67*in, in/4)},
		{"1 1/2", length.Inches, near(2*in+in/8, in/4)},
		{"2 7/8", length.Inches, near(2*in+in/8, in/4)},
		{"4 1/8", length.Inches, near(3*in+in*3/4, in/8)},
		{"1050", length.Millimetres, near(1067*mm, 6*mm)},
		{"110", length.Millimetres, near(95*mm, 3*mm)},
		{"1/2", length.Inches, nominal(checklist.Check{Ask: checklist.AskSigned}, 0, in/8, in/8)},
		{"about a yard", length.Inches, height},
		{"", length.Inches, height},
		{"38", length.Inches, checklist.Check{Ask: checklist.AskLength}},
		{"3", length.Inches, checklist.Check{Ask: checklist.AskCount, Nominal: height.Nominal}},
	} {
		if slip, ok := checklist.Slipped(tt.check, tt.typed, tt.unit, tt.unit.Style()); ok {
			t.Errorf("%q asks about %+v", tt.typed, slip)
		}
	}
}

func TestSlippedSays(t *testing.T) {
	for _, tt := range []struct{ typed, want string }{
		{"413/8", `413/8 is no length, and the layout has 41 1/2": the space before the fraction left out.`},
		{"4 1/2", `4 1/2" is far from the 41 1/2" on the layout: a digit left out.`},
	} {
		if slip, _ := checklist.Slipped(near(41*in+in/2, in/4), tt.typed, length.Inches, length.InchFraction); slip.Why != tt.want {
			t.Errorf("%q: %s", tt.typed, slip.Why)
		}
	}
}

// Taking what is proposed is taking a length that reads back as said, nearer the layout than what was typed, and asks no second time.
func TestSlippedProposesWhatStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]length.Unit{length.Inches, length.Millimetres}).Draw(t, "unit")
		c := near(length.Length(rapid.Int64Range(0, 40_000).Draw(t, "sixteenths"))*in/16, in/8)
		typed := rapid.StringMatching(`-?[0-9]{1,5}( [0-9]{1,2}/(2|4|8|16))?( mm|'|")?`).Draw(t, "typed")
		slip, ok := checklist.Slipped(c, typed, unit, unit.Style())
		if !ok {
			return
		}
		meant, err := length.Parse(slip.Meant, unit)
		if err != nil || meant != slip.Length {
			t.Fatalf("%q proposes %q, which reads as %v, %v and not as %v", typed, slip.Meant, meant, err, slip.Length)
		}
		if got, err := length.Parse(typed, unit); err == nil && (got-*c.Nominal).Abs() <= (meant-*c.Nominal).Abs() {
			t.Fatalf("%q proposes %q, no nearer %v", typed, slip.Meant, *c.Nominal)
		}
		if again, ok := checklist.Slipped(c, slip.Meant, unit, unit.Style()); ok {
			t.Fatalf("%q proposes %q, which proposes %q", typed, slip.Meant, again.Meant)
		}
	})
}

// Hostile text is read within bounds and never breaks.
func FuzzSlipped(f *testing.F) {
	for _, typed := range []string{"413/8", "38", "1067", "½", "-", "99999999999999999999", "3 8", "//"} {
		f.Add(typed, int64(1_054_100_000))
	}
	f.Fuzz(func(t *testing.T, typed string, at int64) {
		if slip, ok := checklist.Slipped(near(length.Length(at%1e15), in/4), typed, length.Inches, length.InchFraction); ok && slip.Meant == "" {
			t.Errorf("%q proposes nothing", typed)
		}
	})
}
