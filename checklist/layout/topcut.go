package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// How the top of a post is cut.
const (
	TopSquare = "square"
	TopRaked  = "raked" // to the rake, under a raked cap
	TopBoth   = "both"  // square under a level cap, and from a line on down to the rake under a raked one
)

// TopCut is how the top of a post is cut where a flight comes to it. Heights are plumb above the surface that the post stands over.
type TopCut struct {
	Shape    string        `json:"shape"`            // TopSquare, TopRaked or TopBoth
	Downhill length.Length `json:"downhill"`         // its top at the downhill face
	Uphill   length.Length `json:"uphill"`           // its top at the uphill face
	Line     length.Length `json:"line,omitempty"`   // TopBoth: from the downhill face to where the square part begins, in plan
	Foot     length.Length `json:"foot,omitempty"`   // TopBoth: the raked part at that line
	Bevel    float64       `json:"bevel"`            // degrees off square; zero where it is square
	Across   bool          `json:"across,omitempty"` // the flight goes off to the side of this run, so that downhill and uphill face are its sides
	Says     string        `json:"says"`             // one or two sentences
}

// postLong is how much longer a post is cut whose top is marked in place (common practice, no source).
func (w *work) postLong() length.Length {
	if w.in.Unit == length.Millimetres {
		return 50 * mm
	}
	return 2 * in
}

// topCut works out the top of a post of a flight: to the rake under a raked cap, square where it stands through the cap or has none.
func (w *work) topCut(p Post) *TopCut {
	top := w.out.Heights.PostTop
	t := &TopCut{Shape: TopSquare, Downhill: p.Stand.Uphill.Line + top, Uphill: p.Stand.Uphill.Line + top}
	if w.spec.capOver() {
		t.Shape, t.Downhill, t.Bevel = TopRaked, p.Stand.Downhill.Line+top, w.slope.angle()
	}
	return t
}

// topWords says how a top is cut, over a surface; a phrase that goes on from "cut".
func (w *work) topWords(t TopCut, on string) string {
	switch t.Shape {
	case TopBoth:
		return fmt.Sprintf("square at %s as far as a line %s from its downhill face, and from there down to the rake, %.1f degrees off square: %s at the line and %s at the face, all above %s", w.marked(t.Uphill), w.marked(t.Line), t.Bevel, w.marked(t.Foot), w.marked(t.Downhill), on)
	case TopRaked:
		return fmt.Sprintf("to the rake, %.1f degrees off square, %s at its downhill face and %s at its uphill one, above %s", t.Bevel, w.marked(t.Downhill), w.marked(t.Uphill), on)
	}
	return fmt.Sprintf("square, %s above %s", w.marked(t.Uphill), on)
}

// longTop leaves a new post of the run's own long, to be marked and cut once it stands, and says so.
func (w *work) longTop(p *Post, t TopCut, on string) {
	switch {
	case p.SharedAs != "":
		t.Says = "For its top see the stair head."
	case p.Existing:
		t.Says = fmt.Sprintf("Look how its top is cut: the layout has it %s.", w.topWords(t, on))
	default:
		p.Rough = p.Cut + w.postLong()
		t.Says = fmt.Sprintf("Cut it long, its top in place %s.", w.topWords(t, on))
	}
	p.TopCut = &t
}
