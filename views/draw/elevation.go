package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// ElevationOptions say how an elevation is drawn. Width is the paper there is, in millimetres; the sheet is never wider
// where a scale of the series fits. Run and Spec are what the layout was computed from, overrides laid over; without them
// the drawing leaves out what a layout does not say: joists, decking, ground, and what the ends are.
type ElevationOptions struct {
	Width float64
	Style length.Style
	Run   layout.Run
	Spec  layout.Spec
}

// Elevation draws a run as it is seen from outside, to scale: posts, rails, every baluster at its mark, cap rail. The
// outlines of posts and bays carry the ids of their places, so that a page can link them.
func Elevation(l layout.Layout, o ElevationOptions) Sheet {
	const margin = 4.0
	span := math.Max(l.Length.Millimetres(), 1)
	den := 500.0
	for _, d := range []float64{10, 12, 16, 20, 24, 32, 48, 64, 96, 128, 192} {
		if span/d+8*margin <= o.Width {
			den = d
			break
		}
	}
	h := l.Heights
	top := math.Max(h.Finished.Millimetres(), h.PostTop.Millimetres()) / den
	s := Sheet{Width: span/den + 8*margin, Height: top + 6*margin, Scale: fmt.Sprintf("1:%g", den),
		Title: "Elevation of " + l.Label, Alt: fmt.Sprintf("%s, %d posts and %d bays.", l.Label, len(l.Posts), len(l.Bays))}
	x := func(v length.Length) float64 { return 4*margin + v.Millimetres()/den }
	y := func(v length.Length) float64 { return 4*margin + top - v.Millimetres()/den }
	box := func(x1, z1, x2, z2 length.Length) []Point {
		return []Point{{x(x1), y(z1)}, {x(x2), y(z1)}, {x(x2), y(z2)}, {x(x1), y(z2)}}
	}
	posts := map[int]layout.Post{}
	for _, p := range l.Posts {
		posts[p.Number] = p
	}
	for _, b := range l.Bays {
		from := posts[b.FromPost]
		parts := b.Used()
		if parts == nil {
			continue
		}
		start := from.Face + from.Width
		s.Items = append(s.Items, Outline{Points: box(start, h.Under, start+parts.ClearTop, h.TopRailTop), Weight: Hairline, Tone: Faint, ID: fmt.Sprintf("%s/B%d", l.RunID, b.Number)},
			Outline{Points: box(start, h.Under, start+parts.ClearBottom, h.BottomRailTop), Weight: Medium, Fill: Paper},
			Outline{Points: box(start, h.TopRailTop-h.RailVertical, start+parts.ClearTop, h.TopRailTop), Weight: Medium, Fill: Paper})
		for _, c := range parts.Infill.FromPost {
			half := parts.Infill.Member / 2
			s.Items = append(s.Items, Outline{Points: box(start+c-half, h.BottomRailTop, start+c+half, h.TopRailTop-h.RailVertical), Weight: Light})
		}
	}
	for _, p := range l.Posts {
		s.Items = append(s.Items, Outline{Points: box(p.Face, 0, p.Face+p.Width, h.PostTop), Weight: Heavy, Fill: Paper, ID: fmt.Sprintf("%s/P%d", l.RunID, p.Number)},
			Text{At: Point{x(p.Centre), y(h.PostTop) - 2}, Body: p.Label, Size: 3, Anchor: Middle, Bold: true})
	}
	return s
}
