package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// screenOf is a load of a layout by its name.
func screenOf(t *testing.T, l layout.Layout, what string) layout.Screen {
	t.Helper()
	i := slices.IndexFunc(l.Screens, func(s layout.Screen) bool { return s.What == what })
	if i < 0 {
		t.Fatalf("no screen of %s: %v", what, l.Screens)
	}
	return l.Screens[i]
}

// TestLoadAlongTheTop: of a load at a point and one along the top the worse counts, never both. Check values E12 and E13: 50 lb/ft puts 200 lb
// on posts 4 ft apart, 300 lb on posts 6 ft apart, 400 lb on posts 8 ft apart; at the end of a run a post carries half a bay. 200 lb at 42 in over a
// 2x10 rim is 1,914 lb at the upper bolt (notes on the trade), so 300 lb is 2,871 and 400 lb 3,829.
func TestLoadAlongTheTop(t *testing.T) {
	for _, tt := range []struct {
		run, centres float64 // inches
		want         float64 // lb at the upper bolt
		says         string
	}{
		{72, 72, 1914.29, `200 lb at a point (no less than 50 lb/ft along 36" of guard, 150 lb), at 42"`},
		{96, 48, 1914.29, `200 lb at a point (no less than 50 lb/ft along 48" of guard, 200 lb), at 42"`},
		{144, 72, 2871.43, `50 lb/ft along 72" of guard, 300 lb (more than 200 lb at a point), at 42"`},
		{288, 96, 3828.57, `50 lb/ft along 96" of guard, 400 lb (more than 200 lb at a point), at 42"`},
	} {
		spec := layout.DefaultSpec(length.Inches)
		spec.LevelHeight, spec.Decking, spec.JoistDepth, spec.BoltTop, spec.BoltBottom, spec.PostMaxCentres = inch(42), inch(1), inch(9.25), inch(2), inch(2), inch(tt.centres)
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: inch(tt.run)}, Spec: spec, Rules: rules(t, "ibc-2021"), Unit: length.Inches})
		s := screenOf(t, l, "upper bolt tension")
		near(t, fmt.Sprintf("%g in run", tt.run), s.Value, tt.want, 0.02)
		if !strings.Contains(s.Sentence, tt.says) {
			t.Errorf("%g in run says %q, want %q", tt.run, s.Sentence, tt.says)
		}
		if byLine := strings.HasPrefix(tt.says, "50"); strings.Contains(s.Sentence, "One- and two-family dwellings: the concentrated load alone") != byLine {
			t.Errorf("%g in run says %q of whom the load along the top leaves out", tt.run, s.Sentence)
		}
	}
}

// TestLoadAlongTheTopAlone: England has 0.74 kN/m and no load at a point. In its own units, with posts of 89 mm at 1,800 mm, a top at 1,100 mm,
// 25 mm of decking and bolts at 181 and 54 mm: a post inside the run carries 0.74 x 1.8 kN, and a rail of 89 by 38 mm on edge bends by w L squared / 8.
func TestLoadAlongTheTopAlone(t *testing.T) {
	spec := layout.DefaultSpec(length.Millimetres)
	spec.LevelHeight = millimetre(1100)
	l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: millimetre(3600)}, Spec: spec, Rules: rules(t, "england-k"), Unit: length.Millimetres})
	bolt := screenOf(t, l, "upper bolt tension")
	if want := 0.74 * 1.8 * (1100 + 25 + 181) / 127; math.Abs(bolt.Value-want) > 0.001 || bolt.Unit != "kN" {
		t.Errorf("upper bolt %g %s, want %g kN", bolt.Value, bolt.Unit, want)
	}
	if !strings.HasPrefix(bolt.Sentence, "Upper bolt tension: 0.74 kN/m along 1800 mm of guard, 1.33 kN, at 1100 mm,") {
		t.Errorf("it says %q", bolt.Sentence)
	}
	clear := (1800.0 - 89) / 1000
	rail := screenOf(t, l, "rail bending")
	if want := 0.74 * clear * clear / 8 * 1e6 / (89.0 * 38 * 38 / 6); math.Abs(rail.Value-want) > 0.001 || rail.Unit != "MPa" {
		t.Errorf("rail %g %s, want %g MPa", rail.Value, rail.Unit, want)
	}
	if !strings.HasPrefix(rail.Sentence, "Rail bending: 0.74 kN/m along all of it of 1711 mm of clear top rail, on edge, bends it to 12.6 MPa") {
		t.Errorf("it says %q", rail.Sentence)
	}
}

// TestRailBendsByTheWorse: a load of 50 lb/ft over all of a rail outweighs 200 lb in its middle from a span of 8 ft (w L / 8 against P / 4).
// 92 1/2 in under 200 lb is 4,625 in-lb (permit calculation in the notes on the trade), 116 1/2 in under 50 lb/ft 50 / 12 x 116.5 squared / 8.
func TestRailBendsByTheWorse(t *testing.T) {
	for _, tt := range []struct{ centres, moment float64 }{{96, 4625}, {120, 50.0 / 12 * 116.5 * 116.5 / 8}} {
		spec := layout.DefaultSpec(length.Inches)
		spec.PostMaxCentres = inch(120)
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: inch(tt.centres)}, Spec: spec, Rules: rules(t, "ibc-2021"), Unit: length.Inches})
		s := screenOf(t, l, "rail bending")
		near(t, "stress", s.Value, tt.moment/(3.5*1.5*1.5/6), 0.01)
		if byLine := tt.centres > 100; strings.Contains(s.Sentence, "50 lb/ft along all of it of") != byLine {
			t.Errorf("%g in bay says %q", tt.centres, s.Sentence)
		}
	}
}

// TestCapSharesByStiffness: a cap of 1 by 5 1/2 in on a 2x4 on edge, 68 1/2 in clear, 200 lb: 3,425 in-lb (notes on the trade). Both bend to one
// curve, so the push parts as breadth x depth cubed does: each then is a beam of its own under its part.
func TestCapSharesByStiffness(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.CapThickness, spec.CapWidth = inch(1), inch(5.5)
	l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: inch(72)}, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches})
	s := screenOf(t, l, "rail bending")
	near(t, "rail alone", s.Value, 2609.5, 0.1)
	cap, rail := 1*math.Pow(5.5, 3), 3.5*math.Pow(1.5, 3)
	toCap := 200 * cap / (cap + rail)
	stressCap := toCap * 68.5 / 4 / (1 * 5.5 * 5.5 / 6)
	stressRail := (200 - toCap) * 68.5 / 4 / (3.5 * 1.5 * 1.5 / 6)
	if want := fmt.Sprintf("each by its stiffness: %.0f psi in the cap, %.0f psi in the rail.", stressCap, stressRail); !strings.Contains(s.Sentence, want) {
		t.Errorf("it says %q, want %q", s.Sentence, want)
	}
}

// TestStairRailSpan: a rail of a flight spans the length along its rake: 200 lb in the middle of 60 in of opening over risers and treads of 10 in
// bends as 84.85 in does.
func TestStairRailSpan(t *testing.T) {
	run := layout.Run{Label: "R1", Kind: layout.Rake, Riser: inch(10), Tread: inch(10), ClearOpening: inch(60)}
	l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2021"), Unit: length.Inches})
	s := screenOf(t, l, "rail bending")
	near(t, "stress", s.Value, 200*60*math.Sqrt2/4/(3.5*1.5*1.5/6), 0.1)
}

// TestExistingPostsAreNotScreened: nothing is known of what holds posts that stand there already.
func TestExistingPostsAreNotScreened(t *testing.T) {
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(72), PostsAre: layout.PostsExisting}
	l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2021"), Unit: length.Inches})
	if s := screenOf(t, l, "upper bolt tension"); s.Screened {
		t.Errorf("it says %q", s.Sentence)
	}
}
