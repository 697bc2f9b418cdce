package codes_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func drop(out, drop length.Length) codes.DropPoint { return codes.DropPoint{Out: out, Drop: drop} }

func TestGuardRequired(t *testing.T) {
	const nm = length.Nanometre
	wisconsin := codes.Amendment{Key: codes.GuardTriggerDrop, Value: "24 in", SaidBy: "a sample official"}
	for _, tt := range []struct {
		id       string // row of check-values.csv
		name     string
		set      string
		amended  []codes.Amendment
		points   []codes.DropPoint
		required bool
		why      string // part of the sentence
	}{
		{"A01", "30.00 in everywhere", "irc-2018", nil,
			[]codes.DropPoint{drop(0, 30*in), drop(18*in, 30*in), drop(36*in, 30*in)}, false,
			`the greatest within 36" of the edge is 30", and the figure is over 30" (R312.1.1, 2018 IRC, official text)`},
		{"A02", "30.01 in at the edge", "irc-2018", nil, []codes.DropPoint{drop(0, 3001*in/100)}, true,
			`the drop at the edge is 30 1/64", and the figure is over 30" within 36" of the edge (R312.1.1, 2018 IRC, official text)`},
		{"A02", "a nanometre over", "irc-2018", nil, []codes.DropPoint{drop(0, 30*in+nm)}, true,
			`is 30.00000004", and the figure is over 30.00000000"`},
		{"A04", "34 in only beyond the zone", "irc-2018", nil,
			[]codes.DropPoint{drop(0, 28*in), drop(36*in, 29*in), drop(40*in, 34*in)}, false, `is 29"`},
		{"A04", "34 in at the very end of the zone", "irc-2018", nil,
			[]codes.DropPoint{drop(0, 28*in), drop(36*in, 34*in)}, true, `the drop 36" out is 34"`},
		{"A04", "34 in a nanometre beyond the zone", "irc-2018", nil,
			[]codes.DropPoint{drop(0, 28*in), drop(36*in+nm, 34*in)}, false, `is 28"`},
		{"A06", "600 mm, flat ground", "ontario-9.8", nil, []codes.DropPoint{drop(0, 600*mm), drop(1200*mm, 600*mm)}, false, `is 600 mm`},
		{"A06", "601 mm, flat ground", "ontario-9.8", nil, []codes.DropPoint{drop(0, 601*mm), drop(1200*mm, 601*mm)}, true, `at the edge is 601 mm`},
		{"A06", "600 mm, slope not measured", "ontario-9.8", nil, []codes.DropPoint{drop(0, 600*mm)}, false,
			"The slope of the ground was not measured; one over 1 in 2 calls for a guard too (9.8.8.1,"},
		// Ontario: a low deck over steep ground, exactly at 1 in 2 and just over it.
		{"", "slope of exactly 1 in 2", "ontario-9.8", nil, []codes.DropPoint{drop(0, 100*mm), drop(400*mm, 300*mm)}, false, "is 300 mm"},
		{"", "slope a nanometre over 1 in 2", "ontario-9.8", nil, []codes.DropPoint{drop(0, 100*mm), drop(400*mm, 300*mm+nm)}, true, "the ground falls"},
		{"", "slope of 3 in 4", "ontario-9.8", nil, []codes.DropPoint{drop(0, 100*mm), drop(400*mm, 400*mm)}, true,
			"the ground falls 300 mm in 400 mm going out, and the figure is over 1 in 2 within 1200 mm of the edge"},
		{"", "steep ground that begins inside the zone", "ontario-9.8", nil,
			[]codes.DropPoint{drop(0, 100*mm), drop(1200*mm, 100*mm), drop(1400*mm, 400*mm)}, true, "the ground falls 300 mm in 200 mm"},
		{"", "steep ground that begins beyond the zone", "ontario-9.8", nil,
			[]codes.DropPoint{drop(0, 100*mm), drop(1201*mm, 100*mm), drop(1400*mm, 400*mm)}, false, "is 100 mm"},
		{"", "a wall in the zone", "ontario-9.8", nil,
			[]codes.DropPoint{drop(0, 100*mm), drop(500*mm, 100*mm), drop(500*mm, 300*mm)}, true, "the ground falls 200 mm in 0 mm"},
		{"", "ground that rises steeply", "ontario-9.8", nil, []codes.DropPoint{drop(0, 500*mm), drop(400*mm, 0)}, false, "is 500 mm"},
		{"", "steep ground where the rule set has no slope", "irc-2018", nil, []codes.DropPoint{drop(0, 4*in), drop(12*in, 28*in)}, false, `is 28"`},
		// The authority's own figure.
		{"", "24 in under an amendment", "irc-2018", []codes.Amendment{wisconsin}, []codes.DropPoint{drop(0, 24*in)}, false, "said by a sample official"},
		{"", "25 in under an amendment", "irc-2018", []codes.Amendment{wisconsin}, []codes.DropPoint{drop(0, 25*in)}, true,
			"(said by a sample official; the code: over 30 in, R312.1.1, 2018 IRC, official text)"},
		// Section 0.1: where the figure is inclusive, exactly at it a guard is required.
		{"A08", "1,000 mm", "new-zealand-f4-d1", nil, []codes.DropPoint{drop(0, 1000*mm)}, true,
			"the drop at the edge is 1000 mm, and the figure is at least 1000 mm within 1200 mm of the edge (F4.3.1, F4, edition not shown, secondary text)"},
		{"A08", "999 mm", "new-zealand-f4-d1", nil, []codes.DropPoint{drop(0, 999*mm)}, false, "is 999 mm"},
		{"A08", "a nanometre short", "new-zealand-f4-d1", nil, []codes.DropPoint{drop(0, 1000*mm-nm)}, false, "is 999.999999 mm"},
		{"", "1,000 mm in Australia", "australia-ncc-2022", nil, []codes.DropPoint{drop(0, 1000*mm)}, true, "at least 1000 mm (Housing Provisions 11.3.3"},
		{"", "999 mm in Australia", "australia-ncc-2022", nil, []codes.DropPoint{drop(0, 999*mm)}, false, "is 999 mm"},
		{"", "600 mm in Ireland", "ireland-k", nil, []codes.DropPoint{drop(0, 600*mm)}, false, "is 600 mm"},
		{"", "601 mm in England", "england-k", nil, []codes.DropPoint{drop(0, 601*mm)}, true, "over 600 mm (3.1, Approved Document K, 2013 edition, memory)"},
		{"", "24 in in Wisconsin", "wisconsin-sps-325", nil, []codes.DropPoint{drop(0, 24*in)}, false, `is 24"`},
		{"", "25 in in Wisconsin", "wisconsin-sps-325", nil, []codes.DropPoint{drop(0, 25*in)}, true, `over 24" within 36" of the edge`},
		{"", "sloping ground in New Zealand, 1,200 mm out", "new-zealand-f4-d1", nil,
			[]codes.DropPoint{drop(0, 700*mm), drop(1200*mm, 1000*mm)}, true, "the drop 1200 mm out is 1000 mm"},
		{"", "sloping ground in New Zealand, 1,201 mm out", "new-zealand-f4-d1", nil,
			[]codes.DropPoint{drop(0, 700*mm), drop(1201*mm, 1000*mm)}, false, "is 700 mm"},
		// Nothing known never means no guard.
		{"", "nothing measured", "irc-2018", nil, nil, true, `No drop has been measured within 36" of the edge, so a guard is taken as required`},
		{"", "measured only beyond the zone", "irc-2018", nil, []codes.DropPoint{drop(40*in, 10*in)}, true, "No drop has been measured"},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		required, why := codes.GuardRequired(applied(t, tt.set, tt.amended...), tt.points, applied(t, tt.set).RuleSet().Units.Style())
		if required != tt.required {
			t.Errorf("%s %s: required = %t (%s), want %t", tt.id, tt.name, required, why, tt.required)
		}
		if !strings.Contains(why, tt.why) {
			t.Errorf("%s %s: why = %q, want it to hold %q", tt.id, tt.name, why, tt.why)
		}
	}
}

func TestGuardRequiredWithoutFigures(t *testing.T) {
	required, why := codes.GuardRequired(codes.Applied{}, []codes.DropPoint{drop(0, 1*in)}, length.InchFraction)
	if !required || !strings.Contains(why, "no figure in this rule set") {
		t.Errorf("GuardRequired without figures = %t, %q", required, why)
	}
}

// The sentence is in the job's lengths, whatever the rule set's: 900 mm was typed, and over 30 in is over 762 mm.
func TestGuardRequiredInTheJobsLengths(t *testing.T) {
	if _, why := codes.GuardRequired(applied(t, "irc-2018"), []codes.DropPoint{drop(0, 900*length.Millimetre)}, length.Metric); !strings.Contains(why, "is 900 mm, and the figure is over 762 mm within 914.4 mm of the edge") {
		t.Errorf("why = %q", why)
	}
}

// The order in which points were measured changes nothing, the points are left as they were, and more drop
// never removes a guard.
func TestGuardRequiredProperties(t *testing.T) {
	var sets []codes.Applied
	for _, id := range codes.IDs() {
		sets = append(sets, applied(t, id))
	}
	rapid.Check(t, func(t *rapid.T) {
		rules := rapid.SampledFrom(sets).Draw(t, "rules")
		point := rapid.Custom(func(t *rapid.T) codes.DropPoint {
			return drop(length.Length(rapid.IntRange(0, 60).Draw(t, "out"))*in, length.Length(rapid.IntRange(0, 40).Draw(t, "drop"))*in)
		})
		points := rapid.SliceOfN(point, 1, 6).Draw(t, "points")
		required, why := codes.GuardRequired(rules, points, length.Metric)
		before := append([]codes.DropPoint(nil), points...)
		shuffled := rapid.Permutation(points).Draw(t, "shuffled")
		if r, w := codes.GuardRequired(rules, shuffled, length.Metric); r != required || w != why {
			t.Fatalf("order matters: %t %q against %t %q", r, w, required, why)
		}
		for i := range points {
			if points[i] != before[i] {
				t.Fatalf("points were changed to %v from %v", points, before)
			}
		}
		if !required {
			return
		}
		deeper := make([]codes.DropPoint, 0, len(points))
		for _, p := range points {
			deeper = append(deeper, drop(p.Out, p.Drop+6*in))
		}
		if r, w := codes.GuardRequired(rules, deeper, length.Metric); !r {
			t.Fatalf("six inches more drop removed the guard: %q, then %q", why, w)
		}
	})
}

func TestGuardHeight(t *testing.T) {
	const nm = length.Nanometre
	for _, tt := range []struct {
		id     string
		name   string
		set    string
		drop   length.Length
		height length.Length
		inside bool
	}{
		{"A14", "deck 1,800 mm above ground, 900 mm high", "ontario-9.8", 1800 * mm, 900 * mm, true},
		{"A14", "a nanometre low", "ontario-9.8", 1800 * mm, 900*mm - nm, false},
		{"A14", "deck a nanometre higher", "ontario-9.8", 1800*mm + nm, 900 * mm, false},
		{"A14", "the national code, 1,800 mm", "nbc-2020", 1800 * mm, 900 * mm, true},
		{"A14", "the national code, 1,801 mm", "nbc-2020", 1801 * mm, 900 * mm, false},
		{"A14", "the higher deck with the general height", "ontario-9.8", 1800*mm + nm, 1070 * mm, true},
		{"A14", "the higher deck just under the general height", "ontario-9.8", 1801 * mm, 1070*mm - nm, false},
		{"A09", "no low height in this rule set", "irc-2018", 1 * in, 36 * in, true},
		{"A09", "no low height in this rule set, low guard", "irc-2018", 1 * in, 35 * in, false},
	} {
		checkRow(t, tt.id)
		f, ok := codes.GuardHeight(applied(t, tt.set), tt.drop)
		if got := ok && f.Bound.Test(tt.height, f.Value); got != tt.inside {
			t.Errorf("%s %s: %v %s %v is %t, want %t", tt.id, tt.name, tt.height, f.Bound, f.Value, got, tt.inside)
		}
	}
	if f, ok := codes.GuardHeight(codes.Applied{}, 1*in); ok {
		t.Errorf("GuardHeight without figures = %+v", f)
	}
}

// The height of a landing's guard: Australia lowers it along a short inside edge, others along any landing or none.
func TestLandingHeight(t *testing.T) {
	const nm = length.Nanometre
	for _, tt := range []struct {
		id                 string
		name               string
		set                string
		insideEdge, height length.Length
		inside             bool
	}{
		{"A17", "landing with an inside edge of 600 mm", "australia-ncc-2022", 600 * mm, 865 * mm, false},
		{"A17", "the same landing at 1,000 mm", "australia-ncc-2022", 600 * mm, 1000 * mm, true},
		{"A17", "the same landing a nanometre low", "australia-ncc-2022", 600 * mm, 1000*mm - nm, false},
		{"A17", "landing with an inside edge of 500 mm", "australia-ncc-2022", 500 * mm, 865 * mm, true},
		{"A17", "a nanometre longer", "australia-ncc-2022", 500*mm + nm, 865 * mm, false},
		{"", "landing in England", "england-k", 2000 * mm, 900 * mm, true},
		{"", "landing in Ireland", "ireland-k", 2000 * mm, 900*mm - nm, false},
		{"", "landing in New Zealand", "new-zealand-f4-d1", 2000 * mm, 900 * mm, true},
		{"", "landing where the rule set has no figure of its own", "irc-2018", 300 * mm, 34 * in, false},
		{"", "the same at the level height", "irc-2018", 300 * mm, 36 * in, true},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		f, ok := codes.LandingHeight(applied(t, tt.set), tt.insideEdge)
		if got := ok && f.Bound.Test(tt.height, f.Value); got != tt.inside {
			t.Errorf("%s %s: %v %s %v is %t, want %t", tt.id, tt.name, tt.height, f.Bound, f.Value, got, tt.inside)
		}
	}
	if f, ok := codes.LandingHeight(codes.Applied{}, 1*in); ok {
		t.Errorf("LandingHeight without figures = %+v", f)
	}
}

func TestClimbZoneAsked(t *testing.T) {
	for _, tt := range []struct {
		set          string
		drop         length.Length
		asked, ruled bool
	}{
		{"ontario-9.8", 1 * mm, true, true},
		{"nbc-2020", 1 * mm, true, true},      // no relief is taken from memory
		{"australia-ncc-2022", 0, true, true}, // not given
		{"australia-ncc-2022", 4000 * mm, false, true},
		{"australia-ncc-2022", 4001 * mm, true, true},
		{"irc-2018", 9000 * mm, false, false},
		{"england-k", 9000 * mm, false, false},
	} {
		asked, ruled := codes.ClimbZoneAsked(applied(t, tt.set), tt.drop)
		if asked != tt.asked || ruled != tt.ruled {
			t.Errorf("%s: ClimbZoneAsked(%v) = %t, %t, want %t, %t", tt.set, tt.drop, asked, ruled, tt.asked, tt.ruled)
		}
	}
}

func TestInClimbZone(t *testing.T) {
	const nm = length.Nanometre
	for _, tt := range []struct {
		id            string
		set           string
		height        length.Length
		inside, ruled bool
	}{
		{"B15", "ontario-9.8", 500 * mm, true, true},
		{"B15", "ontario-9.8", 950 * mm, false, true},
		{"B15", "ontario-9.8", 140 * mm, true, true},
		{"B15", "ontario-9.8", 140*mm - nm, false, true},
		{"B15", "ontario-9.8", 900 * mm, true, true},
		{"B15", "ontario-9.8", 900*mm + nm, false, true},
		{"B15", "irc-2018", 500 * mm, false, false},
		{"B15", "australia-ncc-2022", 149 * mm, false, true},
		{"B15", "australia-ncc-2022", 150 * mm, true, true},
		{"B15", "australia-ncc-2022", 760 * mm, true, true},
		{"B15", "australia-ncc-2022", 761 * mm, false, true},
	} {
		checkRow(t, tt.id)
		inside, ruled := codes.InClimbZone(applied(t, tt.set), tt.height)
		if inside != tt.inside || ruled != tt.ruled {
			t.Errorf("%s %s at %v: InClimbZone = %t, %t, want %t, %t", tt.id, tt.set, tt.height, inside, ruled, tt.inside, tt.ruled)
		}
	}
}
