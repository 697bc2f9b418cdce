package draw_test

import (
	"math"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

func grips() []layout.Grip {
	const in = length.Inch
	tested := []layout.Tested{{What: "Around", Value: `11"`, Figure: `over 6 1/4"`, Source: "R311.7.8.3 Type II", Inside: true}, {What: "Deep in the recess", Value: `1/4"`, Figure: `at least 5/16"`, Source: "R311.7.8.3 Type II"}}
	return []layout.Grip{
		{Name: "the separate handrail", Shape: layout.GripRound, Wide: in * 3 / 2, Deep: in * 3 / 2, Tested: tested[:1]},
		{Name: "the cap", Shape: layout.GripPlain, Wide: in * 11 / 2, Deep: in * 3 / 2, Tested: tested},
		{Name: "the separate handrail", Shape: layout.GripRecessed, Wide: in * 11 / 4, Deep: in * 7 / 2, RecessFrom: in * 3 / 4, RecessDepth: in * 5 / 16, RecessWithin: in * 7 / 8, RecessRun: in * 3 / 8, Tested: tested},
	}
}

// The section is at the scale that its sheet states, within the sheet, and no text stands on another.
func TestGrip(t *testing.T) {
	scales := map[string]float64{"1:1, full size": 1, "1:2": 2, "1:4": 4}
	for _, g := range grips() {
		s := draw.Grip(g, 170, length.InchFraction)
		den := scales[s.Scale]
		left, right := math.Inf(1), math.Inf(-1)
		for _, it := range s.Items {
			switch x := it.(type) {
			case draw.Circle:
				left, right = x.Centre.X-x.Radius, x.Centre.X+x.Radius
			case draw.Outline:
				for _, p := range x.Points {
					left, right = math.Min(left, p.X), math.Max(right, p.X)
				}
			case draw.Text:
				if x.At.X < 0 || x.At.Y < 0 || x.At.X > s.Width || x.At.Y > s.Height {
					t.Errorf("%s: %q stands off the sheet at %v", g.Shape, x.Body, x.At)
				}
			}
		}
		if want := g.Wide.Millimetres() / den; den == 0 || math.Abs(right-left-want) > 0.01 {
			t.Errorf("%s: %.2f mm wide at %s, want %.2f", g.Shape, right-left, s.Scale, want)
		}
	}
	if s := draw.Grip(layout.Grip{}, 170, length.Metric); len(s.Items) != 0 {
		t.Error("a grip without a size is drawn")
	}
}
