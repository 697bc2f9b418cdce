package layout_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// rakeWith lays out a rake under a rule set with changes to its specification.
func rakeWith(t testing.TB, set string, unit length.Unit, run layout.Run, change func(*layout.Spec)) layout.Layout {
	t.Helper()
	run.Kind, run.Label = layout.Rake, "R1"
	spec := layout.DefaultSpec(unit)
	spec.ConnectorTopGiven, spec.ConnectorBottomGiven = true, true
	if change != nil {
		change(&spec)
	}
	return layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, set), Unit: unit})
}

// tested finds what was held to a figure.
func tested(t *testing.T, l layout.Layout, key string) layout.Tested {
	t.Helper()
	for _, x := range l.Stair.Tested {
		if x.Key == key {
			return x
		}
	}
	t.Fatalf("nothing was held to %s: %v", key, l.Stair.Tested)
	return layout.Tested{}
}

// problemAt is the first problem of a field.
func problemAt(l layout.Layout, field string) string {
	for _, p := range l.Problems {
		if p.Field == field {
			return p.Sentence
		}
	}
	return ""
}

// The worst pair of uneven steps is named, each rule set by its own figure (3/8 in in the IRC, 10 and 5 mm in Ontario 9.8.4.4, 5 mm
// either way in D1/AS1; official text, official text, secondary text).
func TestUnevenSteps(t *testing.T) {
	mm := millimetre
	for _, c := range []struct {
		name, set string
		unit      length.Unit
		run       layout.Run
		key       string
		inside    bool
		says      string
	}{
		{"3/8 exactly", "irc-2018", length.Inches, layout.Run{Tread: inch(10), RisersMeasured: []length.Length{inch(7.5), inch(7.25), inch(7.625), inch(7.5)}}, codes.StairRiserUniform, true, ""},
		{"over 3/8", "irc-2018", length.Inches, layout.Run{Tread: inch(10), RisersMeasured: []length.Length{inch(7.5), inch(7.25), inch(7.6875), inch(7.5)}}, codes.StairRiserUniform, false,
			`riser 3 (7 11/16") against riser 2 (7 1/4")`},
		{"neighbours 5 mm", "ontario-9.8", length.Millimetres, layout.Run{Tread: mm(280), RisersMeasured: []length.Length{mm(180), mm(184), mm(188), mm(183)}}, codes.StairRiserUniformAdjacent, true, ""},
		{"neighbours 6 mm", "ontario-9.8", length.Millimetres, layout.Run{Tread: mm(280), RisersMeasured: []length.Length{mm(180), mm(184), mm(184), mm(178)}}, codes.StairRiserUniformAdjacent, false,
			"riser 3 (184 mm) against riser 4 (178 mm)"},
		{"treads", "irc-2018", length.Inches, layout.Run{Tread: inch(10), TotalRise: inch(30), TreadsMeasured: []length.Length{inch(10), inch(10.5), inch(10)}}, codes.StairTreadUniform, false,
			`tread 2 (10 1/2") against tread 1 (10")`},
		{"either way", "new-zealand-f4-d1", length.Millimetres, layout.Run{Tread: mm(280), Riser: mm(180), RisersMeasured: []length.Length{mm(180), mm(186), mm(180)}}, codes.StairRiserVariation, false, "6 mm"},
		{"a pad takes its height off the first riser", "irc-2018", length.Inches, layout.Run{Tread: inch(10), Riser: inch(7.5), Risers: 4, LandingHeight: inch(0.5)}, codes.StairRiserUniform, false,
			`riser 2 (7 1/2") against riser 1 (7")`},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := rakeWith(t, c.set, c.unit, c.run, nil)
			got := tested(t, l, c.key)
			if got.Inside != c.inside || !strings.Contains(got.Sentence(), c.says) && !strings.Contains(got.Value, c.says) {
				t.Errorf("%s; inside = %v, want %v and %q", got.Sentence(), got.Inside, c.inside, c.says)
			}
			if got.Source == "" || got.Figure == "" {
				t.Errorf("no figure or clause: %+v", got)
			}
		})
	}
}

// Pitch and two risers and a tread stand with their figures where a rule set has them: D10, D13 and D15 of the check values.
func TestStairFigures(t *testing.T) {
	for _, c := range []struct {
		id, set    string
		rise, tr   float64
		key        string
		inside     bool
		value, fig string
	}{
		{"D10", "england-k", 220, 220, codes.StairPitchMax, false, "45.00 degrees", "at most 42 degrees"},
		{"D13", "england-k", 220, 300, codes.StairRelationMax, false, "740 mm", "at most 700 mm"}, // D13
		{"D13", "england-k", 150, 220, codes.StairRelationMin, false, "520 mm", "at least 550 mm"},
		{"D13", "england-k", 150, 250, codes.StairRelationMin, true, "550 mm", "at least 550 mm"},
		{"", "ireland-k", 150, 250, codes.StairRelationMax, true, "550 mm", "at most 700 mm"},
		{"", "australia-ncc-2022", 190, 355, codes.StairRelationMax, false, "735 mm", "at most 700 mm"},
		{"D15", "new-zealand-f4-d1", 190, 280, codes.StairPitchMax, true, "34.16 degrees", "at most 37 degrees"},
	} {
		got := tested(t, rakeWith(t, c.set, length.Millimetres, layout.Run{Riser: millimetre(c.rise), Tread: millimetre(c.tr), Risers: 4}, nil), c.key)
		if got.Inside != c.inside || got.Value != c.value || got.Figure != c.fig {
			t.Errorf("%s: %s %v by %v: %+v", c.id, c.set, c.rise, c.tr, got)
		}
	}
	l := rakeWith(t, "irc-2018", length.Inches, layout.Run{Riser: inch(7), Tread: inch(11), Risers: 4}, nil)
	if !slices.ContainsFunc(l.Working, func(s string) bool {
		return strings.Contains(s, "no figure for") && strings.Contains(s, "the greatest pitch")
	}) {
		t.Errorf("the sheet does not say that there is no figure for the pitch: %q", l.Working)
	}
	for _, x := range l.Stair.Tested {
		if strings.Contains(strings.ToLower(x.Sentence()), "compl") {
			t.Errorf("it says that something complies: %s", x.Sentence())
		}
	}
}

// The triangle is worked out only where the stringer makes one; elsewhere the sheet says why not and asks for a gauge.
func TestTriangleNotScreened(t *testing.T) {
	for _, kind := range []string{"", layout.StringerRisers, layout.StringerCut, layout.StringerClosed, layout.StringerOpen, layout.StringerInset} {
		l := rakeWith(t, "irc-2018", length.Inches, layout.Run{Riser: inch(7.75), Tread: inch(10), Risers: 5, Stringer: kind}, nil)
		screened := kind == "" || kind == layout.StringerRisers || kind == layout.StringerCut
		if s := l.Stair; s.Screened != screened || (s.Sphere > 0) != screened || (s.NotScreened == "") != screened {
			t.Errorf("%q: screened %v, sphere %v, why not %q", kind, s.Screened, s.Sphere, s.NotScreened)
		}
		if !slices.ContainsFunc(l.Stair.Asks, func(s string) bool { return strings.Contains(s, "gauge") && strings.Contains(s, `under 6"`) }) {
			t.Errorf("%q: nobody is asked to try a gauge: %q", kind, l.Stair.Asks)
		}
	}
}

// The geometry of a 7 3/4 by 10 stair, to the trade's own figures (derived from the stated shape): a nosing of 1 1/4 takes the largest
// ball from 5.098 to 5.736 in, and the greatest height of the rail from 1.370 to 0.402 in; at that height the ball just passes.
func TestTriangleFigures(t *testing.T) {
	for _, c := range []struct{ nosing, sphere, most float64 }{{0, 5.098, 1.370}, {1.25, 5.736, 0.402}} {
		l := rakeWith(t, "irc-2018", length.Inches, layout.Run{Riser: inch(7.75), Tread: inch(10), Risers: 5, Nosing: inch(c.nosing)}, func(s *layout.Spec) { s.RakeBottom = 0 })
		near(t, "sphere", l.Stair.Sphere.Inches(), c.sphere, 0.001)
		near(t, "most", l.Stair.RailMost.Inches(), c.most, 0.001)
		near(t, "ball at the most", layout.TriangleSphere(inch(7.75), inch(10), inch(c.nosing), l.Stair.RailMost).Inches(), 6, 1e-6)
	}
}

// TestMeasuredSteps: steps measured all alike leave the triangle of the formula; one low tread makes it larger, and its riser is named.
func TestMeasuredSteps(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		r, tr := sixteenths(t, "riser", 5, 9), sixteenths(t, "tread", 8, 14)
		n := rapid.IntRange(2, 20).Draw(t, "risers")
		run := layout.Run{Kind: layout.Rake, Label: "R1", Tread: tr, Nosing: sixteenths(t, "nosing", 0, 1), RisersMeasured: slices.Repeat([]length.Length{r}, n)}
		in := layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: irc, Unit: length.Inches}
		want := layout.TriangleSphere(r, tr, run.Nosing, in.Spec.RakeBottom)
		alike := layout.Compute(in).Stair
		if (alike.Sphere - want).Abs() > 2 {
			t.Fatalf("%v, want %v", alike.Sphere, want)
		}
		if n < 3 {
			return
		}
		// Tread k lies lower by a quarter inch: its riser is the higher one, and the line through the outer nosings does not move.
		k := rapid.IntRange(2, n-1).Draw(t, "tread")
		in.Run.RisersMeasured = slices.Clone(run.RisersMeasured)
		in.Run.RisersMeasured[k-1] -= length.Inch / 4
		in.Run.RisersMeasured[k] += length.Inch / 4
		low := layout.Compute(in).Stair
		if low.Sphere <= alike.Sphere || low.SphereAt != k+1 {
			t.Fatalf("tread %d lower: %v under riser %d, %v where all are alike", k, low.Sphere, low.SphereAt, alike.Sphere)
		}
	})
}

// A rail with square ends fits its opening exactly: the plan length of a leaning rectangle is its length times the cosine and its depth
// times the sine of the angle. At 7 3/4 by 10 a rail of 3 1/2 in loses 2.71 in (geometry of the stated shape).
func TestSquareRails(t *testing.T) {
	run := layout.Run{Riser: inch(7.75), Tread: inch(10), Risers: 5}
	plumb := rakeWith(t, "irc-2018", length.Inches, run, nil)
	square := rakeWith(t, "irc-2018", length.Inches, run, func(s *layout.Spec) { s.RailRakeEnd = layout.EndSquare })
	a, b := plumb.Bays[0].Planned.Top, square.Bays[0].Planned.Top
	near(t, "what square ends lose", (a.Ideal - b.Ideal).Inches(), 2.71, 0.01)
	angle := math.Atan2(7.75, 10)
	near(t, "plan length", b.Ideal.Inches()*math.Cos(angle)+3.5*math.Sin(angle), b.Clear.Inches(), 1e-6)
	if b.Bevel != 0 || a.Bevel == 0 {
		t.Errorf("bevels %v and %v", a.Bevel, b.Bevel)
	}
}

// TestMarkOffSquareRail: on a steep flight a rail with square ends is so much shorter along its top edge that its first or last member
// stands past that edge. Of 8 in by 9 a rail 5 1/2 in deep loses 4.89 in; 1/4 in members with 1 in gaps stand within that. It is said, and
// only then.
func TestMarkOffSquareRail(t *testing.T) {
	run := layout.Run{Riser: inch(8), Tread: inch(9), Risers: 5}
	with := func(ends string) (layout.Layout, string) {
		l := rakeWith(t, "irc-2018", length.Inches, run, func(s *layout.Spec) {
			s.RailRakeEnd, s.RailWidth = ends, inch(5.5)
			s.InfillMode, s.InfillGap, s.InfillWidth = layout.EqualGaps, inch(1), inch(0.25)
		})
		for _, p := range l.Problems {
			if strings.Contains(p.Sentence, "falls") {
				return l, p.Sentence
			}
		}
		return l, ""
	}
	l, says := with(layout.EndSquare)
	in, cut := l.Bays[0].Planned.Infill, l.Bays[0].Planned.Bottom.Cut
	first, last := in.Marks[0], in.Marks[len(in.Marks)-1]
	if first >= 0 && last <= cut {
		t.Fatalf("marks from %v to %v on a rail of %v: this flight is not steep enough to try it", first, last, cut)
	}
	if !strings.Contains(says, "no baluster can be set there") || !strings.Contains(says, max(-first, last-cut).Format(length.InchFraction)) {
		t.Errorf("marks from %v to %v on a rail of %v: %q", first, last, cut, says)
	}
	l, says = with(layout.EndPlumb)
	if in := l.Bays[0].Planned.Infill; says != "" || in.Marks[0] < 0 {
		t.Errorf("with plumb ends the first mark is at %v: %q", in.Marks[0], says)
	}
}

// TestPostMarksGoByEvenSteps: where measured steps leave the line of even ones by a mark or more, the sheet says which the marks go by. Of
// four risers of 7, 7 1/2, 6 1/2 and 7 in the second nosing stands 1/2 in over the line of 7 in risers; level treads leave it alone.
func TestPostMarksGoByEvenSteps(t *testing.T) {
	says := func(risers ...float64) string {
		run := layout.Run{Riser: inch(7), Tread: inch(10), Risers: 4}
		for _, r := range risers {
			run.RisersMeasured = append(run.RisersMeasured, inch(r))
		}
		for _, ask := range rakeWith(t, "irc-2018", length.Inches, run, nil).Stair.Asks {
			if strings.Contains(ask, "even steps") {
				return ask
			}
		}
		return ""
	}
	if got := says(7, 7.5, 6.5, 7); !strings.Contains(got, "a nosing stands 1/2\" off their line") {
		t.Errorf("uneven risers: %q", got)
	}
	if got := says(7, 7, 7, 7); got != "" {
		t.Errorf("even risers: %q", got)
	}
}

// TestSquareRailMarks: whatever the ends, marks hooked along the rail put the balusters where those from the post face do.
func TestSquareRailMarks(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.RailRakeEnd = rapid.SampledFrom([]string{layout.EndPlumb, layout.EndSquare}).Draw(t, "ends")
		spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres}).Draw(t, "mode")
		run := layout.Run{Kind: layout.Rake, Label: "R1", Riser: sixteenths(t, "riser", 5, 8), Tread: sixteenths(t, "tread", 9, 13), Risers: 5}
		run.Start, run.End = layout.EndStairFoot, layout.EndStairHead
		down := rapid.Bool().Draw(t, "down")
		if down {
			run.Start, run.End = run.End, run.Start
		}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		rise, tread := float64(run.Riser), float64(run.Tread)
		sin, cos := rise/math.Hypot(rise, tread), tread/math.Hypot(rise, tread)
		for _, b := range l.Bays {
			p := b.Planned
			if p == nil {
				t.Fatal(l.Problems)
			}
			// The rail stands in the middle of its opening; on its top edge the tape hooks the upper corner of the datum end.
			taken := float64(p.Bottom.Cut) * cos
			depth := 0.0
			if spec.RailRakeEnd == layout.EndSquare {
				depth = float64(spec.RailWidth) * sin
			}
			hook := (float64(p.ClearBottom) - taken - depth) / 2
			if down {
				hook += depth
			}
			for i, m := range p.Infill.Marks {
				if off := math.Abs(hook + float64(m)*cos - float64(p.Infill.FromPost[i])); off > float64(spec.Grid)+2 {
					t.Fatalf("%s: mark %d is %v nm off the one from the post", b.Label, i+1, off)
				}
			}
		}
	})
}

// TestRakeLengths: before rounding, rails and their connectors laid along the rake fill the plan opening: length times cosine.
func TestRakeLengths(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		if l.Kind != layout.Rake {
			return
		}
		cos := math.Cos(math.Atan2(float64(l.Stair.Riser), float64(l.Stair.Tread)))
		for _, b := range l.Bays {
			for _, r := range []layout.Rail{b.Planned.Top, b.Planned.Bottom} {
				if off := float64(r.Ideal)*cos - float64(r.Clear-2*r.Allowance); math.Abs(off) > 2 {
					t.Fatalf("%s: %v along the rake is %v nm off its opening", r.Label, r.Ideal, off)
				}
			}
		}
	})
}

// TestRakeMirror: a flight seen from its head has the same stair, the same posts on the same treads and the same cut lengths, within
// the grid that their places are rounded to.
func TestRakeMirror(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		run := layout.Run{Kind: layout.Rake, Label: "R1", Start: layout.EndStairFoot, End: layout.EndStairHead, Riser: sixteenths(t, "riser", 5, 8), Tread: sixteenths(t, "tread", 9, 13),
			Risers: rapid.IntRange(2, 16).Draw(t, "risers"), PostsOn: rapid.SampledFrom([]string{"", layout.OnTreads, layout.OnStringer}).Draw(t, "on"), FootOn: rapid.SampledFrom([]string{"", layout.OnPad}).Draw(t, "foot")}
		in := layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: irc, Unit: length.Inches}
		up := layout.Compute(in)
		in.Run.Start, in.Run.End = run.End, run.Start
		down := layout.Compute(in)
		if up.Stair.Sphere != down.Stair.Sphere || len(up.Posts) != len(down.Posts) {
			t.Fatalf("%v and %d posts one way, %v and %d the other", up.Stair.Sphere, len(up.Posts), down.Stair.Sphere, len(down.Posts))
		}
		for i, a := range up.Posts {
			b := down.Posts[len(down.Posts)-1-i]
			if a.Stand.Step != b.Stand.Step {
				continue // a post whose centre stands within the grid of a nosing may fall to either side of it
			}
			if off := (a.Stand.FromNosing - b.Stand.FromNosing).Abs(); off > in.Spec.Grid+2 {
				t.Fatalf("%s stands %v from its nosing, %v the other way", a.Label, a.Stand.FromNosing, b.Stand.FromNosing)
			}
			if off := (a.Cut - b.Cut).Abs(); off > 2*in.Spec.Grid {
				t.Fatalf("%s is cut %v, %v the other way", a.Label, a.Cut, b.Cut)
			}
			for _, f := range []layout.FaceMarks{a.Stand.Downhill, a.Stand.Uphill} {
				if f.Top-f.Line != up.Heights.TopRailTop || f.Under-f.Line != up.Heights.Under {
					t.Fatalf("%s: marks %+v do not stand the heights apart", a.Label, f)
				}
			}
			// The same rail meets the two faces of a post its width times the slope apart.
			if off := (a.Stand.Uphill.Line - a.Stand.Downhill.Line - up.Stair.PostJog).Abs(); off > 2 {
				t.Fatalf("%s: faces %v nm off %v apart", a.Label, off, up.Stair.PostJog)
			}
		}
	})
}

// TestRakeUnits: the same lengths described in inches and in millimetres are the same stair before rounding.
func TestRakeUnits(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		run := layout.Run{Kind: layout.Rake, Label: "R1", Riser: sixteenths(t, "riser", 5, 8), Tread: sixteenths(t, "tread", 9, 13), Risers: rapid.IntRange(2, 16).Draw(t, "risers"), Nosing: length.Inch}
		in := layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: irc, Unit: length.Inches}
		inches := layout.Compute(in)
		in.Unit = length.Millimetres
		mm := layout.Compute(in)
		a, b := inches.Stair, mm.Stair
		if a.Sphere != b.Sphere || a.Run != b.Run || a.Angle != b.Angle || a.RailMost != b.RailMost {
			t.Fatalf("%+v in inches, %+v in millimetres", a, b)
		}
		for i := range inches.Bays {
			if x, y := inches.Bays[i].Planned.Top.Ideal, mm.Bays[i].Planned.Top.Ideal; x != y {
				t.Fatalf("rail %v in inches, %v in millimetres", x, y)
			}
		}
	})
}

// Posts stand where they are said to: on treads, on the stringer, on the pad at the foot.
func TestPostStands(t *testing.T) {
	run := layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 6, Start: layout.EndStairFoot, End: layout.EndStairHead, PostsOn: layout.OnTreads, Posts: []length.Length{inch(26)}, NosingFrom: inch(3)}
	plain := func(s *layout.Spec) { s.CapThickness, s.StairHeight, s.PostMaxCentres = 0, inch(36), inch(72) }
	l := rakeWith(t, "irc-2018", length.Inches, run, plain)
	// The second post's centre is 23 in behind the lowest nosing: on the third tread, its downhill face 1 1/4 in behind that nosing.
	p := l.Posts[1].Stand
	if p.Step != 3 || p.FromNosing != inch(1.25) || p.Across != 0 || !strings.Contains(l.Posts[1].Joist, "tread 3") {
		t.Fatalf("%+v, %q", p, l.Posts[1].Joist)
	}
	// Over the third tread the nosing line stands 1.25 x 0.75 = 0.9375 in at the downhill face and 3.5 x 0.75 more at the other.
	near(t, "line at the downhill face", p.Downhill.Line.Inches(), 0.9375, 1e-6)
	near(t, "line at the uphill face", p.Uphill.Line.Inches(), 3.5625, 1e-6)
	near(t, "cut", l.Posts[1].Cut.Inches(), 36+3.5625, 1.0/16)
	// The foot post's uphill face stands 1 1/4 in front of the lowest nosing, on the ground.
	if f := l.Posts[0].Stand; f.Step != 0 || f.FromNosing != inch(1.25) || f.Below != 0 {
		t.Errorf("foot: %+v", f)
	}
	// On a pad 1 1/4 in over the ground that the rise was measured from, it is marked and cut from the pad.
	run.LandingHeight = inch(1.25)
	if f := rakeWith(t, "irc-2018", length.Inches, run, plain).Posts[0]; f.Cut != l.Posts[0].Cut-inch(1.25) || f.Stand.Downhill.Top != l.Posts[0].Stand.Downhill.Top-inch(1.25) {
		t.Errorf("on a pad: %+v, cut %v, want %v less the pad", f.Stand, f.Cut, l.Posts[0].Cut)
	}
	run.LandingHeight = 0
	run.FootOn, run.FootBelow = layout.OnFooting, inch(30)
	if f := rakeWith(t, "irc-2018", length.Inches, run, plain).Posts[0]; f.Stand.Below != inch(30) || f.Cut != l.Posts[0].Cut+inch(30) {
		t.Errorf("footing: %+v, cut %v", f.Stand, f.Cut)
	}
	run.PostsOn, run.FootOn, run.PostReach = layout.OnStringer, "", inch(10)
	s := rakeWith(t, "irc-2018", length.Inches, run, plain).Posts[1]
	// Its lower end is 10 in below the nosing line at its centre, its top 36 in above that line at the uphill face.
	near(t, "cut on the stringer", s.Cut.Inches(), 46+1.75*0.75, 1.0/16)
}

// What cannot be is explained, and the rest is laid out all the same.
func TestImpossibleStairs(t *testing.T) {
	for _, c := range []struct {
		name  string
		run   layout.Run
		field string
		says  string
	}{
		{"riser over the limit", layout.Run{Riser: inch(8.5), Tread: inch(10), Risers: 5}, "riser", `at most 7 3/4"`},
		{"risers that do not make the rise", layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 5, TotalRise: inch(40)}, "risers", `5 risers of 7 1/2" make 37 1/2", not the total rise of 40"`},
		{"a riser that was not measured", layout.Run{Tread: inch(10), Risers: 5, TotalRise: inch(37.5), RisersMeasured: []length.Length{inch(7.5), inch(7.5)}}, "risers_measured", "the flight has 5"},
		{"treads that are not the tread run", layout.Run{Tread: inch(10), Risers: 3, TotalRise: inch(22.5), TreadsMeasured: []length.Length{inch(11), inch(11)}}, "tread", `average 11"`},
		{"more posts than treads", layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 4, PostsOn: layout.OnTreads, Posts: []length.Length{inch(5), inch(12), inch(17), inch(24)}}, "posts", "5 posts on 3 treads"},
		{"a post across a nosing", layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 6, PostsOn: layout.OnTreads, Posts: []length.Length{inch(21)}}, "posts", "across nosing 3"},
		{"a flat cap as the handrail", layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 5, Handrail: layout.HandrailTop}, "handrail", "outside the figures of a grip"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := rakeWith(t, "irc-2018", length.Inches, c.run, nil)
			if got := problemAt(l, c.field); !slices.ContainsFunc(l.Problems, func(p layout.Problem) bool { return p.Field == c.field && strings.Contains(p.Sentence, c.says) }) {
				t.Errorf("%s: %q does not say %q", c.field, got, c.says)
			}
			if len(l.Bays) == 0 || l.Bays[0].Planned == nil {
				t.Errorf("the rest is not laid out: %v", l.Problems)
			}
		})
	}
}

// The handrail: its grip by D16 of the check values, its height by D09, and a separate one in words.
func TestHandrail(t *testing.T) {
	five := layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 5}
	flat := rakeWith(t, "irc-2018", length.Inches, five, func(s *layout.Spec) { s.CapThickness, s.CapWidth = inch(1.5), inch(3.5) })
	if s := flat.Stair; s.Graspable || !strings.Contains(s.Grip, `10" around`) || !strings.Contains(s.HandrailAdvice, `1 1/4" to 2"`) || !strings.Contains(s.HandrailAdvice, `34" to 38"`) {
		t.Errorf("%s, 2x4 flat: %v, %q, %q", "D16", s.Graspable, s.Grip, s.HandrailAdvice)
	}
	for _, c := range []struct {
		id           string
		size, at     float64
		grip, inside bool
	}{{"D16", 1.5, 36, true, true}, {"D09", 1.5, 34, true, true}, {"D09", 1.5, 38, true, true}, {"D09", 1.5, 33.75, true, false}, {"", 2.0625, 36, false, true}} {
		run := five
		run.Handrail, run.HandrailSize, run.HandrailHeight = layout.HandrailSeparate, inch(c.size), inch(c.at)
		l := rakeWith(t, "irc-2018", length.Inches, run, nil)
		inside := tested(t, l, codes.HandrailHeightMin).Inside && tested(t, l, codes.HandrailHeightMax).Inside
		if l.Stair.Graspable != c.grip || inside != c.inside {
			t.Errorf("%s: %v at %v: graspable %v, inside %v; %q", c.id, c.size, c.at, l.Stair.Graspable, inside, l.Stair.Grip)
		}
	}
	run := five
	run.Handrail = layout.HandrailTop
	top := rakeWith(t, "irc-2018", length.Inches, run, func(s *layout.Spec) { s.StairHeight = inch(39) })
	if tested(t, top, codes.GuardHandrailTopMax).Inside {
		t.Error("a top at 39 in is taken for a handrail")
	}
	nowhere := rakeWith(t, "new-zealand-f4-d1", length.Millimetres, layout.Run{Riser: millimetre(180), Tread: millimetre(280), Risers: 5}, nil)
	if !strings.Contains(nowhere.Stair.Grip, "no figure in this rule set") || nowhere.Stair.Graspable {
		t.Errorf("a rule set without a grip says %q", nowhere.Stair.Grip)
	}
}

// meeting lays out a level run and a flight that share a post at the stair head, the flight's top nosing at by from that post's centre.
func meeting(t *testing.T, by float64) []layout.Layout {
	t.Helper()
	job := layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: layout.DefaultSpec(length.Inches)}
	job.Spec.LevelHeight, job.Spec.StairHeight, job.Spec.PostMaxCentres = inch(36), inch(34), inch(96)
	job.Runs = []layout.Run{
		{ID: "a", Label: "R1", Kind: layout.Level, Length: inch(72), End: layout.EndStairHead},
		{ID: "b", Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, StartAt: "R1", End: layout.EndStairFoot, Riser: inch(7.75), Tread: inch(10), Risers: 5, NosingFrom: inch(by)},
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return layouts
}

// At 36 and 34 in over 7 3/4 by 10 the two rails meet without a jog 2.58 in behind the top nosing (geometry of the stated shape). A
// post whose face stands elsewhere has a jog, and is cut for the higher; both runs say the same of it.
func TestStairHead(t *testing.T) {
	for _, by := range []float64{2.58, 0.25, 8, -3} {
		layouts := meeting(t, by)
		level, rake := layouts[0], layouts[1]
		if len(level.Meets) != 1 || len(rake.Meets) != 1 {
			t.Fatalf("%v: level %v, rake %v", by, level.Meets, rake.Meets)
		}
		a, b := level.Meets[0], rake.Meets[0]
		if a.Post != "R1-P2" || b.Post != a.Post || a.Jog != b.Jog || a.Top != b.Top || a.Behind != b.Behind {
			t.Errorf("%v: the level run says %+v, the rake %+v", by, a, b)
		}
		face := by - 1.75 // the downhill face behind the top nosing
		near(t, "behind", a.Behind.Inches(), face, 0.001)
		want := 36 - (34 + face*0.775)
		if face <= 2.5806 && 2.5806 <= face+3.5 {
			want = 0
		}
		near(t, "jog", a.Jog.Inches(), want, 0.001)
		if !strings.Contains(a.Sentence, `2 9/16" behind the top nosing`) || (want == 0) != strings.Contains(a.Sentence, "with no jog") {
			t.Errorf("%v: %q", by, a.Sentence)
		}
		owner := level.Posts[len(level.Posts)-1]
		if owner.Top < level.Heights.PostTop || owner.Top < a.Top {
			t.Errorf("%v: the post's top at %v serves not both, %+v", by, owner.Top, a)
		}
	}
}

// How low the rail must stand reads right on either side of the nosing line.
func TestRailMustStand(t *testing.T) {
	for most, want := range map[float64]string{
		1.5:   `The rail's underside must stand lower than 1 1/2" above the nosing line.`,
		-2.25: `The rail's underside must stand more than 2 1/4" below the nosing line.`,
	} {
		if got := (&layout.Stair{RailMost: inch(most)}).RailMustStand(length.InchFraction); got != want {
			t.Errorf("%v: %q, want %q", most, got, want)
		}
	}
}

// A table names what was held without the comma that a sentence goes on with.
func TestTestedName(t *testing.T) {
	x := layout.Tested{What: "The top of the guard, as the handrail above the nosing line,", Value: `36"`, Figure: `at least 34"`, Source: "a clause", Inside: true}
	if got, want := x.Name(), "The top of the guard, as the handrail above the nosing line"; got != want {
		t.Errorf("Name() = %q, want %q", got, want)
	}
	if got := x.Sentence(); !strings.HasPrefix(got, x.What+` is 36"`) {
		t.Errorf("Sentence() = %q", got)
	}
}
