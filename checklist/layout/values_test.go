package layout_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// inch is a length in inches, exact for the decimals of the check values.
func inch(in float64) length.Length { return length.FromInches(in) }

// millimetre is a length in millimetres.
func millimetre(mm float64) length.Length {
	return length.Length(math.Round(mm * float64(length.Millimetre)))
}

// near compares a computed number with a printed one, half a unit of its last place apart at most.
func near(t *testing.T, what string, got, want, unit float64) {
	t.Helper()
	if math.Abs(got-want) > unit/2+1e-9 {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

// rules returns a rule set with amendments, each "key", "value".
func rules(t testing.TB, id string, amended ...string) codes.Applied {
	t.Helper()
	base, err := codes.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	var amendments []codes.Amendment
	for i := 0; i < len(amended); i += 2 {
		amendments = append(amendments, codes.Amendment{Key: amended[i], Value: amended[i+1], SaidBy: "R. Sample"})
	}
	applied, err := codes.Apply(base, amendments)
	if err != nil {
		t.Fatal(err)
	}
	return applied
}

// oneBay lays out a single bay of a clear opening between walls.
func oneBay(t *testing.T, clear, member, gap length.Length, applied codes.Applied) layout.Infill {
	t.Helper()
	spec := layout.DefaultSpec(length.Inches)
	spec.InfillWidth, spec.InfillGap, spec.InfillMode = member, gap, layout.EqualGaps
	run := layout.DefaultRun(layout.Level, length.Inches)
	run.Label, run.Start, run.End, run.ClearOpening = "R1", layout.EndWall, layout.EndWall, clear
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: applied, Unit: length.Inches})
	if len(l.Bays) != 1 || l.Bays[0].Planned == nil {
		t.Fatalf("no bay of %v: %v", clear, l.Problems)
	}
	return l.Bays[0].Planned.Infill
}

// stairOf lays out a rake of riser by tread under the 2018 IRC.
func stairOf(t *testing.T, run layout.Run) layout.Layout {
	t.Helper()
	run.Kind, run.Label = layout.Rake, "R1"
	return layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2018"), Unit: length.Inches})
}

// TestCheckValues holds the computation to the trade's check values, row by row.
func TestCheckValues(t *testing.T) {
	irc := rules(t, "irc-2018")
	count := func(t *testing.T, clear, member, gap length.Length, applied codes.Applied, n int, want, unit float64, metric bool) {
		t.Helper()
		in := oneBay(t, clear, member, gap, applied)
		if in.Count != n {
			t.Errorf("count = %d, want %d", in.Count, n)
		}
		got := in.Gap.Inches()
		if metric {
			got = in.Gap.Millimetres()
		}
		near(t, "gap", got, want, unit)
	}
	triangle := func(t *testing.T, r, tr, n, v, want float64) {
		t.Helper()
		near(t, "sphere", layout.TriangleSphere(inch(r), inch(tr), inch(n), inch(v)).Inches(), want, 0.001)
	}
	clearOf := func(t *testing.T, centres, want float64) {
		t.Helper()
		run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(centres)}
		spec := layout.DefaultSpec(length.Inches)
		spec.PostMaxCentres = inch(96)
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		near(t, "clear", l.Bays[0].Planned.ClearBottom.Inches(), want, 0.001)
	}
	bays := func(t *testing.T, most float64, n int, centres float64) {
		t.Helper()
		spec := layout.DefaultSpec(length.Inches)
		spec.PostMaxCentres = inch(most)
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: inch(288)}, Spec: spec, Rules: irc, Unit: length.Inches})
		if len(l.Bays) != n {
			t.Errorf("bays = %d, want %d", len(l.Bays), n)
		}
		for _, b := range l.Bays {
			near(t, "centres", b.Centres.Inches(), centres, 0.001)
		}
	}
	rake := func(t *testing.T, r, tr, angle, angleUnit, factor float64) {
		t.Helper()
		s := stairOf(t, layout.Run{Riser: inch(r), Tread: inch(tr), Risers: 4}).Stair
		near(t, "angle", s.Angle, angle, angleUnit)
		near(t, "complement", s.Complement, 90-angle, angleUnit)
		if factor != 0 {
			near(t, "factor", s.Factor, factor, 0.00001)
		}
	}
	tests := []struct {
		id, input, want string // as the file has them
		check           func(*testing.T)
	}{
		{"B10", "triangle r 7.75, t 10, v 0", "d = 5.098 in, pass 6 in", func(t *testing.T) { triangle(t, 7.75, 10, 0, 0, 5.098) }},
		{"B11", "triangle r 7.75, t 10, v 1.5", "d = 6.085 in, fail; limit v < 1.370 in", func(t *testing.T) {
			triangle(t, 7.75, 10, 0, 1.5, 6.085)
			near(t, "limit", layout.TriangleRail(inch(7.75), inch(10), 0, inch(6)).Inches(), 1.370, 0.001)
			near(t, "limit with a nosing", layout.TriangleRail(inch(7.75), inch(10), inch(1.25), inch(6)).Inches(), 0.402, 0.001)
		}},
		{"B13", "triangle r 7, t 11, v 0 / 1", "d = 4.962 / 5.670 in, pass", func(t *testing.T) {
			triangle(t, 7, 11, 0, 0, 4.962)
			triangle(t, 7, 11, 0, 1, 5.670)
		}},
		{"C01", "L 72, w 1.5, g 4", "n 13, gap 3.750", func(t *testing.T) { count(t, inch(72), inch(1.5), inch(4), irc, 13, 3.750, 0.001, false) }},
		{"C04", "4x4 posts (3.5) 72 o.c.: L", "68.5", func(t *testing.T) { clearOf(t, 72, 68.5) }},
		{"C05", "L 68.5, w 1.5, g 4", "n 12, gap 3.8846", func(t *testing.T) { count(t, inch(68.5), inch(1.5), inch(4), irc, 12, 3.8846, 0.0001, false) }},
		{"C06", "4x4 posts 96 o.c.: L", "92.5 in", func(t *testing.T) { clearOf(t, 96, 92.5) }},
		{"C07", "L 92.5, w 1.5, g 4", "n 17, gap 3.7222", func(t *testing.T) { count(t, inch(92.5), inch(1.5), inch(4), irc, 17, 3.7222, 0.0001, false) }},
		{"C08", "L 120, w 1.5, g 4", "n 22, gap 3.7826", func(t *testing.T) { count(t, inch(120), inch(1.5), inch(4), irc, 22, 3.7826, 0.0001, false) }},
		{"C10", "L 72, w 0.75, g 4", "n 15, gap 3.7969", func(t *testing.T) { count(t, inch(72), inch(0.75), inch(4), irc, 15, 3.7969, 0.0001, false) }},
		{"C11", "L 3.9, w 1.5, g 4 / L 4.0", "n 0 / n 1, gap 1.25", func(t *testing.T) {
			count(t, inch(3.9), inch(1.5), inch(4), irc, 0, 3.9, 0.001, false)
			count(t, inch(4), inch(1.5), inch(4), irc, 1, 1.25, 0.001, false)
			if n := layout.LeastCountUnder(inch(4), inch(1.5), inch(4)); n != 1 {
				t.Errorf("LeastCountUnder = %d, want 1", n)
			}
		}},
		{"C13", "L 2000 mm, w 42, g 125 (AU)", "n 12, gap 115.077", func(t *testing.T) {
			au := rules(t, "irc-2018", codes.OpeningLevel, "125 mm")
			count(t, millimetre(2000), millimetre(42), millimetre(125), au, 12, 115.077, 0.001, true)
		}},
		{"C15", "run 102.375 in / 26 and / 25", "3.9375; 4.0950", func(t *testing.T) {
			near(t, "by 26", layout.EqualSpacing(inch(102.375), 26).Inches(), 3.9375, 0.0001)
			near(t, "by 25", layout.EqualSpacing(inch(102.375), 25).Inches(), 4.0950, 0.0001)
		}},
		{"C17", "run 288, max 72 / max 96", "4 bays 72.0 / 3 bays 96.0", func(t *testing.T) {
			bays(t, 72, 4, 72)
			bays(t, 96, 3, 96)
		}},
		{"C19", "two balusters per 10 in tread, w 1.25 / 1.5 / 0.75", "gaps 3.75 / 3.50 / 4.25 (4.25 legal only on open stair side)", func(t *testing.T) {
			for _, row := range [][2]float64{{1.25, 3.75}, {1.5, 3.5}, {0.75, 4.25}} {
				near(t, "gap", layout.GapAtCentres(layout.EqualSpacing(inch(10), 2), inch(row[0])).Inches(), row[1], 0.001)
			}
		}},
		{"C20", "rise 7.625, run 10", "37.3 deg (37.326), complement 52.7", func(t *testing.T) { rake(t, 7.625, 10, 37.326, 0.001, 0) }},
		{"C21", "rise 7.75, run 10", "37.776 deg, rake factor 1.26516", func(t *testing.T) { rake(t, 7.75, 10, 37.776, 0.001, 1.26516) }},
		{"C23", "rise 7, run 11", "32.471 deg, factor 1.18531", func(t *testing.T) { rake(t, 7, 11, 32.471, 0.001, 1.18531) }},
		{"C25", "plumb balusters on a rake: opening measured", "horizontal clear distance, not along the rake", func(t *testing.T) {
			spec := layout.DefaultSpec(length.Inches)
			spec.InfillMode, spec.InfillRake, spec.InfillWidth = layout.FixedCentres, inch(5.5), inch(0.75)
			run := layout.Run{Label: "R1", Kind: layout.Rake, Riser: inch(6), Tread: inch(12), ClearOpening: inch(60)}
			l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
			near(t, "gap at 5 1/2 in along a 6 by 12 rake", l.Bays[0].Planned.Infill.Gap.Inches(), 4.17, 0.01)
		}},
		{"D01", "total rise 36 in, max 7.75", "5 risers x 7.200, 4 treads, run 40 at 10", func(t *testing.T) {
			l := stairOf(t, layout.Run{TotalRise: inch(36), Tread: inch(10)})
			if s := l.Stair; s.Risers != 5 || s.Treads != 4 || s.Riser != inch(7.2) || s.Run != inch(40) || l.Length != inch(40) {
				t.Errorf("stair = %+v", *s)
			}
		}},
		{"D02", "total rise 108 in", "14 risers x 7.7143", func(t *testing.T) {
			n, r := layout.EqualRisers(inch(108), inch(7.75))
			if n != 14 {
				t.Errorf("risers = %d, want 14", n)
			}
			near(t, "riser", r.Inches(), 7.7143, 0.0001)
		}},
		{"D04", "total rise 23.25 in", "3 risers x 7.75; handrail not required", func(t *testing.T) {
			s := stairOf(t, layout.Run{TotalRise: inch(23.25), Tread: inch(10)}).Stair
			if s.Risers != 3 || s.Riser != inch(7.75) || s.HandrailRequired {
				t.Errorf("stair = %+v", *s)
			}
			if four := stairOf(t, layout.Run{TotalRise: inch(31), Tread: inch(10)}).Stair; !four.HandrailRequired {
				t.Errorf("no handrail with four risers: %s", four.Handrail)
			}
		}},
		{"D06", "risers 7.25, 7.50, 7.625", "spread 0.375, pass", func(t *testing.T) { spread(t, 0.375, true, 7.25, 7.5, 7.625) }},
		{"D07", "risers 7.25, 7.64", "spread 0.39, fail", func(t *testing.T) { spread(t, 0.39, false, 7.25, 7.64) }},
		{"D10", "UK private 220 / 220", "45.0 deg, fail pitch", func(t *testing.T) {
			s := stairOf(t, layout.Run{Riser: millimetre(220), Tread: millimetre(220), Risers: 4}).Stair
			near(t, "angle", s.Angle, 45, 0.1)
		}},
		{"D13", "UK 2R+G: 220/300 ; 150/220 ; 150/250", "740 fail ; 520 fail ; 550 pass", func(t *testing.T) {
			for _, row := range [][3]float64{{220, 300, 740}, {150, 220, 520}, {150, 250, 550}} {
				s := stairOf(t, layout.Run{Riser: millimetre(row[0]), Tread: millimetre(row[1]), Risers: 4}).Stair
				near(t, "2R+G", s.StepSum.Millimetres(), row[2], 0.01)
			}
		}},
		{"D15", "NZ 190 / 280 main private", "34.16 deg, pass", func(t *testing.T) {
			s := stairOf(t, layout.Run{Riser: millimetre(190), Tread: millimetre(280), Risers: 4}).Stair
			near(t, "angle", s.Angle, 34.16, 0.01)
		}},
		{"E01", "200 lb at 36 in", "7,200 in-lb", func(t *testing.T) { near(t, "moment", layout.Moment(200, inch(36)), 7200, 1) }},
		{"E02", "200 lb at 42 in", "8,400 in-lb", func(t *testing.T) { near(t, "moment", layout.Moment(200, inch(42)), 8400, 1) }},
		{"E03", "7,200 in-lb, arm 5.75 in", "1,252.2 lb", func(t *testing.T) { near(t, "force", layout.CoupleForce(7200, inch(5.75)), 1252.2, 0.1) }},
		{"E05", "S of dressed 4x4 ; 6x6", "7.1458 ; 27.729 in3", func(t *testing.T) {
			near(t, "4x4", layout.SectionModulus(inch(3.5), inch(3.5)), 7.1458, 0.0001)
			near(t, "6x6", layout.SectionModulus(inch(5.5), inch(5.5)), 27.729, 0.001)
		}},
		{"E06", "S needed: 7,200 / (800 x 1.5)", "6.000 in3, 4x4 passes", func(t *testing.T) {
			needed := layout.ModulusNeeded(7200, 800*1.5)
			near(t, "needed", needed, 6, 0.001)
			if needed > layout.SectionModulus(inch(3.5), inch(3.5)) {
				t.Error("a 4x4 does not reach the modulus needed")
			}
		}},
		{"E08", "36 in guard, 1 in decking, 2x10 rim, bolts 2 in from edges", "spacing 5.25; M about lower bolt 8,850; upper bolt 1,685.7 lb (<= 1,800 hold-down)", func(t *testing.T) {
			near(t, "moment", layout.Moment(200, inch(36+1+7.25)), 8850, 1)
			near(t, "tension", layout.UpperBoltTension(200, inch(36), inch(1), inch(7.25), inch(5.25)), 1685.7, 0.1)
			near(t, "tension screened in a layout", boltScreen(t, 9.25).Value, 1685.7, 0.1)
		}},
		{"E10", "as E08 with 2x12 rim", "spacing 7.25; M 9,250; 1,275.9 lb", func(t *testing.T) {
			near(t, "tension screened in a layout", boltScreen(t, 11.25).Value, 1275.9, 0.1)
		}},
		{"E12", "50 plf, posts 4 ft", "200 lb per post", func(t *testing.T) { near(t, "load", layout.PostLoad(50, inch(48)), 200, 1) }},
		{"E13", "50 plf, posts 6 ft / 8 ft", "300 / 400 lb (governs over 200 lb)", func(t *testing.T) {
			near(t, "load", layout.PostLoad(50, inch(72)), 300, 1)
			near(t, "load", layout.PostLoad(50, inch(96)), 400, 1)
		}},
		{"E15", "test pass level", "2.5 x 200 = 500 lb; 237 lb mean = 47 %", func(t *testing.T) {
			level, ok := rules(t, "irc-2018").Practice(codes.LoadPostTest)
			if !ok || level.Unit != "lb" {
				t.Fatalf("the level of tests is %+v", level)
			}
			near(t, "test level", level.Number, 2.5*200, 0)
			near(t, "factor over the load", layout.TestFactor(level.Number, 200), 2.5, 0)
			near(t, "share that posts without a hold-down held", layout.TestShare(237, level.Number), 47, 1)
			says := boltScreen(t, 9.25).Sentence
			if !strings.Contains(says, "held 237 lb on average in published tests, 47 % of the 500 lb that such tests ask for, 2.5 times the load here") {
				t.Errorf("a layout with no hold-down says %q", says)
			}
		}},
		{"E16", "W, 3/8 in, G .50 / .49", "305.0 / 295.9 lb per in", func(t *testing.T) { withdrawal(t, 0.375, 0.5, 305.0, 0.49, 295.9) }},
		{"E17", "W, 3/8 in, G .36 / .55", "186.3 / 351.8", func(t *testing.T) { withdrawal(t, 0.375, 0.36, 186.3, 0.55, 351.8) }},
		{"E18", "W, 1/2 in, G .36 / .42 / .50 / .55", "231.2 / 291.3 / 378.4 / 436.6", func(t *testing.T) {
			withdrawal(t, 0.5, 0.36, 231.2, 0.42, 291.3, 0.50, 378.4, 0.55, 436.6)
		}},
		{"E19", "W, 1/4 in and 5/16 in, G .36", "137.5 and 162.5", func(t *testing.T) {
			withdrawal(t, 0.25, 0.36, 137.5)
			withdrawal(t, 0.3125, 0.36, 162.5)
		}},
		{"E21", "wood screw No. 10 (0.190), min penetration", "1.14 in (6D)", func(t *testing.T) {
			near(t, "penetration", layout.WoodScrewPenetration(inch(0.190)).Inches(), 1.14, 0.01)
		}},
		{"E22", "lag pilot 1/2 in, Southern Pine G .55", "0.300-0.375 in; 5/16 ok, 3/8 top of range, 1/4 too small", func(t *testing.T) { pilot(t, 0.5, 0.55, 0.300, 0.375) }},
		{"E24", "lag pilot 3/8 in, G .36 / .55 / .68", "0.150-0.2625 / 0.225-0.28125 / 0.24375-0.31875", func(t *testing.T) {
			pilot(t, 0.375, 0.36, 0.150, 0.2625)
			pilot(t, 0.375, 0.55, 0.225, 0.28125)
			pilot(t, 0.375, 0.68, 0.24375, 0.31875)
		}},
		{"E26", "lag pilot 1/2 in, White Oak G .73", "0.325-0.425", func(t *testing.T) { pilot(t, 0.5, 0.73, 0.325, 0.425) }},
		{"E27", "clearance hole, any lag", "= D (1/2 -> 0.500)", func(t *testing.T) { near(t, "hole", layout.LagClearance(inch(0.5)).Inches(), 0.5, 0.001) }},
		{"E28", "bolt hole for 1/2 in", "0.53125-0.5625 in", func(t *testing.T) {
			least, most := layout.BoltHole(inch(0.5))
			near(t, "least", least.Inches(), 0.53125, 0.00001)
			near(t, "most", most.Inches(), 0.5625, 0.0001)
		}},
		{"E29", "lag min thread length: 4 / 6 / 8 / 12 in", "2.5 / 3.5 / 4.5 / 6.0 in", func(t *testing.T) {
			for _, row := range [][2]float64{{4, 2.5}, {6, 3.5}, {8, 4.5}, {12, 6}} {
				near(t, "thread", layout.LagThread(inch(row[0])).Inches(), row[1], 0.1)
			}
		}},
		{"E30", "200 lb ; 1.0 kN", "0.8896 kN ; 224.81 lb", func(t *testing.T) {
			near(t, "kN", layout.KilonewtonsFromPounds(200), 0.8896, 0.0001)
			near(t, "lb", layout.PoundsFromKilonewtons(1), 224.81, 0.01)
		}},
		{"E31", "50 plf ; 0.74 kN/m ; 0.5 kN/m", "0.7297 kN/m ; 50.71 plf ; 34.26 plf", func(t *testing.T) {
			near(t, "kN/m", layout.KilonewtonsPerMetre(50), 0.7297, 0.0001)
			near(t, "plf", layout.PoundsPerFoot(0.74), 50.71, 0.01)
			near(t, "plf", layout.PoundsPerFoot(0.5), 34.26, 0.01)
		}},
		{"F04", "western redcedar tangential green to 12 / 15 / 19 %", "3.00 / 2.50 / 1.833 %", func(t *testing.T) {
			for _, row := range [][2]float64{{12, 3}, {15, 2.5}, {19, 1.833}} {
				near(t, "shrinkage", layout.Shrinkage(5.0, row[0]), row[1], 0.001)
			}
		}},
		{"F06", "Douglas-fir coast tangential green to 12 %", "4.56 %", func(t *testing.T) { near(t, "shrinkage", layout.Shrinkage(7.6, 12), 4.56, 0.01) }},
		{"F07", "PS 20 width / thickness at 15 %", "2.806 / 2.347 %", func(t *testing.T) {
			width, thickness := layout.LumberShrinkage(15)
			near(t, "width", width, 2.806, 0.001)
			near(t, "thickness", thickness, 2.347, 0.001)
		}},
		{"F10", "green cedar 1.5 in balusters, fixed centres, gap 3.97 in, dry to 12 %", "gap 4.015: FAIL after drying", func(t *testing.T) {
			spec := layout.DefaultSpec(length.Inches)
			spec.InfillMode, spec.InfillCentres, spec.InfillWidth = layout.FixedCentres, inch(5.47), inch(1.5)
			spec.InfillMoisture, spec.Grid = layout.StockWet, 1
			run := layout.Run{Label: "R1", Kind: layout.Level, ClearOpening: inch(60)}
			l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
			in := l.Bays[0].Planned.Infill
			near(t, "dry gap", in.DryGap.Inches(), 4.015, 0.001)
			near(t, "wet gap", in.Gap.Inches(), 3.97, 0.001)
			if !mentions(l.Problems, "infill_centres") {
				t.Errorf("nothing says that the dry gap is over the limit: %v", l.Problems)
			}
		}},
		{"F13", "rule of thumb: 3.5 in, 12 points MC", "3 % -> 0.105 in", func(t *testing.T) {
			near(t, "movement", layout.ThumbMovement(inch(3.5), 12).Inches(), 0.105, 0.001)
		}},
		{"F14", "Douglas-fir 5.5 in, 14 to 8 % MC, CT .00267", "5.5 x 6 x .00267 = 0.0881 in", func(t *testing.T) {
			near(t, "movement", layout.Movement(inch(5.5), 14, 8, 0.00267).Inches(), -0.0881, 0.0001)
		}},
	}
	rows := checkRows(t)
	for _, tt := range tests {
		t.Run(tt.id, func(t *testing.T) {
			if row := rows[tt.id]; row != [2]string{tt.input, tt.want} {
				t.Errorf("the file has %q for %s, the test %q", row, tt.id, [2]string{tt.input, tt.want})
			}
			tt.check(t)
		})
	}
}

// checkRows reads input and expected value of every check value.
func checkRows(t *testing.T) map[string][2]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "check-values.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][2]string{}
	for _, row := range all[1:] {
		rows[row[0]] = [2]string{row[2], row[3]}
	}
	return rows
}

// spread lays out a flight with its risers as measured, and says whether their spread is within the rule set's figure.
func spread(t *testing.T, want float64, within bool, risers ...float64) {
	t.Helper()
	run := layout.Run{Riser: inch(7.5), Tread: inch(10)}
	for _, r := range risers {
		run.RisersMeasured = append(run.RisersMeasured, inch(r))
	}
	l := stairOf(t, run)
	near(t, "spread", l.Stair.RiserUneven.Spread.Inches(), want, 0.001)
	if mentions(l.Problems, "risers_measured") == within {
		t.Errorf("within = %v, problems %v", within, l.Problems)
	}
}

// boltScreen screens a 36 in guard with 1 in decking and bolts 2 in from the edges of a rim.
func boltScreen(t *testing.T, depth float64) layout.Screen {
	t.Helper()
	spec := layout.DefaultSpec(length.Inches)
	spec.LevelHeight, spec.Decking, spec.JoistDepth, spec.BoltTop, spec.BoltBottom = inch(36), inch(1), inch(depth), inch(2), inch(2)
	l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: inch(72)}, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches})
	return l.Screens[0]
}

func withdrawal(t *testing.T, diameter float64, pairs ...float64) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		near(t, "withdrawal", layout.LagWithdrawal(inch(diameter), pairs[i]), pairs[i+1], 0.1)
	}
}

func pilot(t *testing.T, diameter, gravity, least, most float64) {
	t.Helper()
	low, high := layout.LagPilot(inch(diameter), gravity)
	near(t, "least", low.Inches(), least, 0.00001)
	near(t, "most", high.Inches(), most, 0.00001)
}

// mentions says whether a problem names the field.
func mentions(problems []layout.Problem, field string) bool {
	for _, p := range problems {
		if p.Field == field {
			return true
		}
	}
	return false
}
