package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// holeStep is how far the holes of neighbouring sleeve walls stand apart in height, so that two screws never meet
// (common practice, no source).
const holeStep = 1 * in

// thickTube is the thickest wall that square steel tube for a sleeve is taken to have (common practice, no source).
const thickTube = in / 2

// wetMoisture is the moisture content, in percent, that a post out in the weather is taken to reach: the most that dressed lumber is
// sold as dry at (PS 20). Dry stock is taken to come at DryMoisture.
const wetMoisture = 19

// sleeve sizes the socket of one post: inside from the post as measured, its clearance and its swelling; as high as framing
// and decking together, so that its top is flush with the decking.
func (w *work) sleeve(post int) *Sleeve {
	play := w.spec.SleeveClearance + w.spec.SleeveSwelling
	s := &Sleeve{Holes: []Hole{}, Planned: w.spec.postSize() + play, Height: w.spec.JoistDepth + w.spec.Decking}
	size, of := w.sleeveSize(post)
	s.Inside, s.Outside = size+play, w.spec.sleeveOutside(size)
	s.Note = fmt.Sprintf("%s %s and %s clearance and %s swelling; top flush with the decking, never proud. Measure each post, and give the sleeve a drain.",
		w.text(size), of, w.text(w.spec.SleeveClearance), w.text(w.spec.SleeveSwelling))
	s.Note += w.postMoves(size)
	if w.spec.SleeveMaterial != SleeveSteel {
		return s
	}
	s.Note += " Mind the inside radius and the weld seam."
	s.Holes = w.sleeveHoles()
	w.sleeveFits(post, s)
	return s
}

// postSize is the greater side of a post.
func (s Spec) postSize() length.Length { return max(s.PostWidth, s.PostDepth) }

// sleeveOutside is the outside size of the sleeve round a post of a size.
func (s Spec) sleeveOutside(size length.Length) length.Length {
	return size + s.SleeveClearance + s.SleeveSwelling + 2*s.SleeveWall
}

// sleeveSize is the size of post that a sleeve is made to, as measured where it was, and in words which of the two it is.
func (w *work) sleeveSize(post int) (size length.Length, of string) {
	if measured, ok := w.in.Posts[post]; ok && measured > 0 {
		return measured, "of post as measured"
	}
	return w.spec.postSize(), "of post"
}

// postMoves says how a post moves in its sleeve with the weather, by the shrinkage of its species and the linear method (Wood
// Handbook, from memory).
func (w *work) postMoves(size length.Length) string {
	species, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok || species.Shrinkage.Tangential == 0 {
		return " How much the post moves with the weather is not known for this species."
	}
	at := func(moisture float64) length.Length { return DrySize(size, species.Shrinkage.Tangential, moisture) }
	if w.spec.PostMoisture == StockWet {
		return fmt.Sprintf(" Wet, it will dry to %d %% and lose about %s: it stands that much looser.", DryMoisture, (size - at(DryMoisture)).FormatFine(w.style))
	}
	swell := at(wetMoisture) - at(DryMoisture)
	text := fmt.Sprintf(" From %d to %d %% moisture it swells by about %s.", DryMoisture, wetMoisture, swell.FormatFine(w.style))
	if swell > w.spec.SleeveSwelling+w.spec.SleeveClearance && len(w.out.Posts) == 0 { // told once for the run
		w.problem(w.run.Label, "sleeve_swelling", "A post of %s swells by about %s from %d to %d %% moisture, more than clearance and swelling allow: it would seize.", w.text(size), w.text(swell), DryMoisture, wetMoisture)
	}
	return text
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

// sleeveFits warns, once for the run, of a head left proud that would foul the post, of a hole that meets the fixing which holds the
// post, and of holes on neighbouring walls that meet each other.
func (w *work) sleeveFits(post int, s *Sleeve) {
	if len(w.out.Posts) > 0 {
		return // every sleeve of a run has the same holes
	}
	if side := w.spec.SleeveClearance / 2; w.spec.SleeveHead > side {
		w.problem(w.run.Label, "sleeve_head", "A screw head stands %s proud inside the sleeve, and the post has %s on that side: let the heads in, relieve the post there, or give the sleeve more clearance.", w.text(w.spec.SleeveHead), w.text(side))
	}
	if w.spec.SleeveWall > thickTube {
		w.problem(w.run.Label, "sleeve_wall", "The wall of a steel sleeve is entered as %s, as of wood: enter that of the tube, or its outside is wrong on every sheet.", w.text(w.spec.SleeveWall))
	}
	if lock := w.spec.SleeveLock; lock > 0 {
		for _, h := range s.Holes {
			if d := (h.Height - lock).Abs(); d < (h.Size+w.spec.BoltDiameter)/2 {
				w.problem(w.run.Label, "sleeve_lock", "The fixing that holds the post, %s up, meets the hole for %s in the %s wall, %s up: move one of them.", w.text(lock), h.For, h.Wall, w.text(h.Height))
				break
			}
		}
	}
	if h := s.Holes; len(h) == 8 {
		// Fixings through neighbouring walls cross inside the tube: their heights differ by the shift, or meet where the framing is shallow.
		for _, a := range h[:4] {
			for _, b := range h[4:] {
				if a.For == b.For && (a.Height-b.Height).Abs() < w.spec.BoltDiameter {
					w.problem(w.run.Label, "bolt_bottom", "Fixings of neighbouring sleeve walls meet %s up: the framing is too shallow for four, leave one pair out or set the bolts further apart.", w.text(a.Height))
					return
				}
			}
		}
	}
}
