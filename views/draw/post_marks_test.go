package draw_test

import (
	"bytes"
	"testing"

	"newelbook/checklist/layout"
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

func TestPostMarksGolden(t *testing.T) {
	for _, c := range []struct {
		name, unit, label string
		post              int
	}{{"down", "in", "R3", 1}, {"up", "mm", "R2", 0}} {
		l, e := find(t, c.unit, c.label, 170)
		var buf bytes.Buffer
		if err := draw.SVG(&buf, draw.PostMarks(l, l.Posts[c.post], draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec})); err != nil {
			t.Fatal(err)
		}
		golden(t, "post-marks-"+c.name, buf.Bytes())
	}
}
