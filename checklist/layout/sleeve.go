package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// holeStep is how far the holes of neighbouring sleeve walls stand apart in height, so that two screws never meet
// (common practice, no source).
const holeStep = 1 * in

// sleeve sizes the socket of one post: inside from the post as measured, its clearance and its swelling; as high as framing
// and decking together, so that its top is flush with the decking.
func (w *work) sleeve() *Sleeve {
	s := &Sleeve{Holes: []Hole{}}
	s.Inside = max(w.spec.PostWidth, w.spec.PostDepth) + w.spec.SleeveClearance + w.spec.SleeveSwelling
	s.Outside = s.Inside + 2*w.spec.SleeveWall
	s.Height = w.spec.JoistDepth + w.spec.Decking
	s.Note = fmt.Sprintf("%s of post and %s clearance and %s swelling; top flush with the decking, never proud. Measure each post, and give the sleeve a drain.",
		w.text(max(w.spec.PostWidth, w.spec.PostDepth)), w.text(w.spec.SleeveClearance), w.text(w.spec.SleeveSwelling))
	if w.spec.SleeveMaterial != SleeveSteel {
		return s
	}
	s.Note += " Mind the inside radius and the weld seam. Heads left proud foul the post."
	s.Holes = w.sleeveHoles()
	return s
}

// sleeveHoles lists the holes of a steel sleeve. Each fixing passes the wall against the framing through a hole that clears
// its shank, and is driven through a hole in the opposite wall that clears head and driver. Neighbouring walls are fixed at
// differing heights. Heights are from the bottom of the sleeve.
func (w *work) sleeveHoles() []Hole {
	upper, lower := w.spec.JoistDepth-w.spec.BoltTop, w.spec.BoltBottom
	var holes []Hole
	for _, pair := range []struct {
		framing, opposite string
		shift             length.Length
	}{{"outer", "inner", 0}, {"datum side", "far side", holeStep}} {
		for _, h := range []length.Length{lower + pair.shift, upper - pair.shift} {
			holes = append(holes,
				Hole{Wall: pair.framing + " (against the framing)", For: "shank clearance", Height: h, Size: w.spec.BoltDiameter},
				Hole{Wall: pair.opposite, For: "head access", Height: h, Size: w.spec.SleeveHeadHole})
		}
	}
	return holes
}
