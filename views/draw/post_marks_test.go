package draw_test

import (
	"bytes"
	"math"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// Every post of every flight: the figures of both faces are lettered, apart from each other, and the faces are named on the side where
// the flight has them.
func TestPostMarks(t *testing.T) {
	drawn := 0
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			if l.Stair == nil {
				continue
			}
			for _, p := range l.Posts {
				e := sample.options(i, 170)
				s := draw.PostMarks(l, p, draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec})
				textsApart(t, s)
				has := said(s)
				for _, f := range []layout.FaceMarks{p.Stand.Downhill, p.Stand.Uphill} {
					for _, want := range []string{f.Top.Round(l.Grid).Format(e.Style), f.Under.Round(l.Grid).Format(e.Style)} {
						if _, ok := has[want]; !ok {
							t.Errorf("%s: the marks do not say %q", p.Label, want)
						}
					}
				}
				if down, up := has["downhill face"], has["uphill face"]; (down.At.X > up.At.X) != e.Run.Down() {
					t.Errorf("%s: the downhill face is named at %.0f, the uphill one at %.0f, on a flight that goes down from the datum: %v", p.Label, down.At.X, up.At.X, e.Run.Down())
				}
				drawn++
			}
		}
	}
	if drawn < 6 {
		t.Fatalf("only %d posts of flights drawn", drawn)
	}
	l, e := find(t, "in", "R1", 170)
	if s := draw.PostMarks(l, l.Posts[0], draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec}); len(s.Items) != 0 {
		t.Error("a post of a level run has the marks of a flight")
	}
}

// Bolts through a stringer are drawn where they are drilled: on the post's centre line, as far above the stringer's lower edge as a square and the rake have
// it, and lettered along that line and square to the stringer's edges. No line runs through their lettering.
func TestPostMarksBolts(t *testing.T) {
	drawn := map[string]int{}
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			for _, p := range l.Posts {
				if !p.Stringer() {
					continue
				}
				e := sample.options(i, 170)
				s := draw.PostMarks(l, p, draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec})
				has := said(s)
				upper, lower := e.Spec.BoltTop.Format(e.Style), e.Spec.BoltBottom.Format(e.Style)
				wood := e.Run.StringerDepth.Inches()
				rise, run := l.Stair.Riser.Inches(), l.Stair.Tread.Inches()
				words := "upper " + upper + " below its upper edge"
				if e.Run.Stringer != layout.StringerClosed {
					words = "upper " + upper + " below the inner corners of its notches"
					wood -= rise * run / math.Hypot(rise, run)
				}
				for _, want := range []string{words, "lower " + lower + " above its lower edge"} {
					if _, ok := has[want]; !ok {
						t.Errorf("%s: the marks do not say %q", p.Label, want)
					}
				}
				for _, says := range onLines(s) {
					t.Errorf("%s: %s", p.Label, says)
				}
				drawn[e.Run.Stringer]++
				if e.Run.StringerBelow == 0 {
					continue
				}
				// Circles from the lowest up, their heights on paper; the nosing line at the post's centre is half way between its marks.
				var circles []draw.Circle
				for _, it := range s.Items {
					if c, ok := it.(draw.Circle); ok {
						circles = append(circles, c)
					}
				}
				if len(circles) != 2 {
					t.Fatalf("%s: %d bolts drawn", p.Label, len(circles))
				}
				// The surface is the level line at 0: every height is under it by the stand.
				surface := math.NaN()
				for _, it := range s.Items {
					if line, ok := it.(draw.Line); ok && line.Weight == draw.Medium && line.Tone == draw.Faint {
						surface = line.A.Y
					}
				}
				centre := (p.Stand.Downhill.Line.Inches() + p.Stand.Uphill.Line.Inches()) / 2
				factor := math.Hypot(rise, run) / run
				for n, square := range []float64{e.Spec.BoltBottom.Inches(), wood - e.Spec.BoltTop.Inches()} {
					want := surface - (centre-e.Run.StringerBelow.Inches()+square*factor)*25.4/den(t, s)
					if off := math.Abs(circles[n].Centre.Y - want); off*den(t, s) > e.Spec.Grid.Millimetres()*factor+1e-6 {
						t.Errorf("%s: bolt %d is drawn at %.2f, want %.2f", p.Label, n+1, circles[n].Centre.Y, want)
					}
				}
				up := length.FromInches(e.Spec.BoltBottom.Inches() * factor).Round(l.Grid).Format(e.Style)
				if _, ok := has[up]; !ok {
					t.Errorf("%s: the lower bolt's %s up the centre line is not lettered", p.Label, up)
				}
			}
		}
	}
	if drawn[layout.StringerCut] < 1 || drawn[layout.StringerClosed] < 1 || drawn[""] < 1 {
		t.Fatalf("posts on stringers drawn: %v", drawn)
	}
}

func TestPostMarksGolden(t *testing.T) {
	for _, c := range []struct {
		name, unit, label string
		post              int
	}{{"down", "in", "R3", 1}, {"up", "mm", "R2", 0}, {"cut", "in", "R5", 1}, {"closed", "mm", "R6", 1}} {
		l, e := find(t, c.unit, c.label, 170)
		var buf bytes.Buffer
		if err := draw.SVG(&buf, draw.PostMarks(l, l.Posts[c.post], draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec})); err != nil {
			t.Fatal(err)
		}
		golden(t, "post-marks-"+c.name, buf.Bytes())
	}
}
