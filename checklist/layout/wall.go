package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// WallEnd is an end of a run at a wall, where no post stands. Lengths are in plan; Measured and Finished are from the datum.
type WallEnd struct {
	Far      bool          `json:"far"`      // at the far end, not the datum
	Measured length.Length `json:"measured"` // the wall's face that the run is measured to
	Finished length.Length `json:"finished"` // its face once all is on it: openings, rails and cap go by that
	// Top and Bottom are what hardware keeps each rail off the finished face, Cap what stays open at the end of the cap; zero without a cap.
	Top    length.Length `json:"top"`
	Bottom length.Length `json:"bottom"`
	Cap    length.Length `json:"cap"`
	Says   string        `json:"says"` // all of it in sentences
}

// WallFixing is what rails at a wall want, one sentence.
const WallFixing = "Fix rails at a wall into framing or blocking, not into siding alone, and flash or seal every hole (common practice, no source)."

// Siding is what is still to come on the wall.
func (e WallEnd) Siding() length.Length { return (e.Finished - e.Measured).Abs() }

// walls says what stands open at each end of the run that is a wall.
func (w *work) walls(all []support) {
	last := len(all) - 1
	if first := all[0]; first.wall() {
		top, _ := w.allowances(first, all[1], w.spec.ConnectorTop)
		bottom, _ := w.allowances(first, all[1], w.spec.ConnectorBottom)
		w.wall(WallEnd{Measured: first.near - w.run.Siding, Finished: first.near, Top: top, Bottom: bottom}, "the datum")
	}
	if end := all[last]; end.wall() {
		_, top := w.allowances(all[last-1], end, w.spec.ConnectorTop)
		_, bottom := w.allowances(all[last-1], end, w.spec.ConnectorBottom)
		w.wall(WallEnd{Far: true, Measured: end.near + w.run.Siding, Finished: end.near, Top: top, Bottom: bottom}, "the far end")
	}
}

// wall puts one end into words.
func (w *work) wall(e WallEnd, at string) {
	e.Says = fmt.Sprintf("Wall at %s, measured to its finished face.", at)
	if e.Siding() > 0 {
		e.Says = fmt.Sprintf("Wall at %s: %s is still to come on it, and openings, rails and cap go by the finished face, %s from the datum.", at, w.text(e.Siding()), w.text(e.Finished))
	}
	open := fmt.Sprintf("%s at both rails", w.text(e.Top))
	if e.Top != e.Bottom {
		open = fmt.Sprintf("%s at the top rail, %s at the bottom rail", w.text(e.Top), w.text(e.Bottom))
	}
	if w.spec.hasCap() {
		e.Cap = w.spec.CapWallGap
		open += fmt.Sprintf(", %s at the cap", w.text(e.Cap))
	}
	e.Says += fmt.Sprintf(" Left open there: %s.", open)
	w.out.Walls = append(w.out.Walls, e)
}

// bareWall asks about an opening at a wall that is longer than planned by just what is still to come there: it may have been measured to the wall
// as it is, and rails cut to that would be too long.
func (w *work) bareWall(label string, from, to support, measured length.Length) {
	coming := length.Length(0)
	for _, s := range []support{from, to} {
		if s.wall() {
			coming += w.run.Siding
		}
	}
	over := measured - (to.near - from.far())
	if coming > 0 && over > w.spec.TolOpening && (over-coming).Abs() <= w.spec.TolOpening {
		w.problem(label, "siding", "The opening as measured is %s longer than planned, and %s is still to come on the wall: if it was read to the wall as it is, take that off and enter it again before cutting.",
			w.text(over), w.text(coming))
	}
}
