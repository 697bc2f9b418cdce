package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// holeStep is how far two pairs of fixings of a sleeve stand apart in height at least, so that they never meet; holeWood is the least that is
// left between two holes of one wall (common practice, no source).
const (
	holeStep = 1 * in
	holeWood = in / 4
)

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
	s.Note = fmt.Sprintf("%s %s and %s clearance and %s swelling; top flush with the decking, never proud. Measure each post. It stands on a plate under the sleeve, with a drain; the thickness of a plate inside comes off it.",
		w.text(size), of, w.text(w.spec.SleeveClearance), w.text(w.spec.SleeveSwelling))
	s.Note += w.postMoves(size)
	if w.spec.SleeveMaterial != SleeveSteel {
		return s
	}
	s.Note += " Mind the inside radius and the weld seam."
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
	if species, ok := codes.SpeciesByKey(w.spec.Species); !ok || species.Shrinkage.Tangential == 0 {
		return " How much the post moves with the weather is not known for this species."
	}
	if w.spec.PostMoisture == StockWet {
		return fmt.Sprintf(" Wet, it will dry to %d %% and lose about %s: it stands that much looser.", DryMoisture, (size - w.drySize(size)).FormatFine(w.style))
	}
	swell := w.sizeAt(size, wetMoisture) - w.drySize(size)
	text := fmt.Sprintf(" From %d to %d %% moisture it swells by about %s.", DryMoisture, wetMoisture, swell.FormatFine(w.style))
	if swell > w.spec.SleeveSwelling+w.spec.SleeveClearance && len(w.out.Posts) == 0 { // told once for the run
		w.problem(w.run.Label, "sleeve_swelling", "A post of %s swells by about %s from %d to %d %% moisture, more than clearance and swelling allow: it would seize.", w.text(size), w.text(swell), DryMoisture, wetMoisture)
	}
	return text
}

// fixingPair is two fixings of a steel sleeve, one over the other: the wall that they hold, against what, and the wall opposite that they are driven
// through.
type fixingPair struct {
	wall, against, opposite string
	shift                   length.Length // how much nearer the middle than the first pair they stand
}

// sleeveHoles lists the holes of the steel sleeve of a post, once it is known how that stands among the joists. Each fixing passes the wall against
// the framing through a hole that clears its shank, and is driven through a hole in the opposite wall that clears head and driver. Heights are
// from the bottom of the sleeve.
func (w *work) sleeveHoles(p *Post) {
	switch {
	case p.Sleeve == nil:
		return
	case p.SharedAs != "":
		p.Sleeve.Note = "Made and fixed with " + p.SharedAs + "."
		return
	case w.spec.SleeveMaterial != SleeveSteel:
		return
	case p.Turned != 0:
		return // turnedWords says why
	}
	pairs, order := w.sleeveFixings(p)
	p.Sleeve.Order = order
	upper, lower := w.spec.JoistDepth-w.spec.BoltTop, w.spec.BoltBottom
	for _, pair := range pairs {
		for _, h := range []length.Length{lower + pair.shift, upper - pair.shift} {
			p.Sleeve.Holes = append(p.Sleeve.Holes,
				Hole{Wall: pair.wall + " (against " + pair.against + ")", For: forShank, Height: h, Size: w.shankHole()},
				Hole{Wall: pair.opposite, For: forHead, Height: h, Size: w.spec.SleeveHeadHole})
		}
	}
	p.Sleeve.Note += w.headWords()
	w.sleeveFits(p.Sleeve)
}

// lagHead is the width across corners of the hex head of a lag screw, one and a half diameters across its flats (ASME B18.2.1, from memory).
func (w *work) lagHead() length.Length {
	return nearestNM(1.5 * float64(w.spec.BoltDiameter) / math.Cos(math.Pi/6))
}

// socketRoom is the least that a head access hole must have over a hex head for the wall of a socket round it (common practice, no source).
const socketRoom = 3 * mm

// headWords says what a head access hole must let through.
func (w *work) headWords() string {
	return fmt.Sprintf(" Try a head access hole of %s in an offcut: it must pass the fixing's head, %s across the corners of a hex, and its driver (common practice, no source).",
		w.text(w.spec.SleeveHeadHole), w.text(w.lagHead().RoundUp(w.spec.Grid)))
}

// What a hole of a sleeve is for.
const (
	forShank = "shank clearance"
	forHead  = "head access"
)

// shankHole is the hole in a sleeve's wall that clears the shank of its fixing: the most that a bolt's may be over it, in millimetres down to the
// half.
func (w *work) shankHole() length.Length {
	_, most := BoltHole(w.spec.BoltDiameter)
	if w.in.Unit == length.Millimetres {
		return most.RoundDown(mm / 2)
	}
	return most
}

// sleeveFixings says through which walls a steel sleeve is fixed: to the rim or outer joist at its outer wall, and once more where it has framing
// at another. What covers a wall that fixings are driven through goes in after them, which the order of work says.
func (w *work) sleeveFixings(p *Post) (pairs []fixingPair, order string) {
	sides := [2]string{"datum side", "far side"}
	side := func(i int, against string) fixingPair { return fixingPair{sides[i], against, sides[1-i], holeStep} }
	blocked, edge := len(p.Blocking) > 0, "the rim"
	if w.run.Joists == JoistsAlong {
		edge = "the outer joist"
	}
	first := fixingPair{wall: "outer", against: edge, opposite: "inner"}
	switch touched, joist := w.touchedSide(p); {
	case p.JoistClsh || w.run.Kind == Rake:
	case w.run.Joists == JoistsAlong && blocked && w.atCorner(p) && Touches(w.pastCorner(p), w.spec.Grid):
		i := 0
		if p.Number == w.lastPost {
			i = 1
		}
		return []fixingPair{first, side(i, "the framing round the corner")}, "Drive its fixings before the blocking beside it goes in."
	case w.run.Joists == JoistsAlong && blocked && p.Beside[0].To <= p.Centre && p.Beside[1].From >= p.Centre:
		return []fixingPair{first, side(0, "the blocking")}, "In this order: blocking on the datum side, sleeve with its fixings, blocking on the far side."
	case w.run.Joists == JoistsAlong:
	case touched >= 0 && blocked:
		return []fixingPair{first, side(touched, joist)}, "Drive its fixings before the blocking behind it goes in."
	case touched >= 0:
		return []fixingPair{first, side(touched, joist)}, ""
	case blocked:
		// Blocking stands against the inner wall and nothing beside the sleeve: it is fixed to the sleeve on the bench.
		step := max(holeStep, (w.shankHole()+w.spec.SleeveHeadHole)/2+holeWood).RoundUp(w.spec.Grid)
		return []fixingPair{first, {"inner", "the blocking", "outer", step}},
			"Fix the blocking to the sleeve on the bench, through the outer wall, and bore the inner wall's head access holes on through it; then set both in, drive the fixings into the rim and fix the blocking to the joists."
	}
	return []fixingPair{first}, "What framing stands beside it is not known: a second pair of fixings goes where there is some, at other heights."
}

// touchedSide is the side of a post or sleeve that stands against a joist, 0 the datum side and 1 the far side, and which joist; -1 for neither.
func (w *work) touchedSide(p *Post) (side int, joist string) {
	row, across := rowOf(w.run, w.spec, w.out.Frame)
	if !across {
		return -1, ""
	}
	near, far := w.among(p)
	i := row.before(p.Centre)
	if j, ok := row.at(i); ok && Touches(near-j.Far, w.spec.Grid) {
		return 0, j.Name()
	}
	if j, ok := row.at(i + 1); ok && Touches(j.Near-far, w.spec.Grid) {
		return 1, j.Name()
	}
	return -1, ""
}

// told says whether the run has a problem of a field already.
func (w *work) told(field string) bool {
	return slices.ContainsFunc(w.out.Problems, func(p Problem) bool { return p.Field == field })
}

// sleeveFits warns, each once for the run, of a head left proud that would foul the post, of a hole that meets the fixing which holds the
// post, and of holes that meet each other.
func (w *work) sleeveFits(s *Sleeve) {
	if side := w.spec.SleeveClearance / 2; w.spec.SleeveHead > side && !w.told("sleeve_head") {
		w.problem(w.run.Label, "sleeve_head", "A screw head stands %s proud inside the sleeve, and the post has %s on that side: let the heads in, relieve the post there, or give the sleeve more clearance.", w.text(w.spec.SleeveHead), w.text(side))
	}
	if w.spec.SleeveWall > thickTube && !w.told("sleeve_wall") {
		w.problem(w.run.Label, "sleeve_wall", "The wall of a steel sleeve is entered as %s, as of wood: enter that of the tube, or its outside is wrong on every sheet.", w.text(w.spec.SleeveWall))
	}
	if lock := w.spec.SleeveLock; lock > 0 && !w.told("sleeve_lock") {
		for _, h := range s.Holes {
			if d := (h.Height - lock).Abs(); d < (h.Size+w.spec.BoltDiameter)/2 {
				w.problem(w.run.Label, "sleeve_lock", "The fixing that holds the post, %s up, meets the hole for %s in the %s wall, %s up: move one of them.", w.text(lock), h.For, h.Wall, w.text(h.Height))
				break
			}
		}
	}
	if head := w.lagHead(); w.spec.SleeveHeadHole < head+socketRoom && !w.told("sleeve_head_hole") {
		w.problem(w.run.Label, "sleeve_head_hole", "A head access hole of %s is too tight for a fixing of %s with a hex head, %s across its corners, and a socket round it: bore it wider, or take a fixing whose head and driver pass (common practice, no source).",
			w.text(w.spec.SleeveHeadHole), w.text(w.spec.BoltDiameter), w.text(head.RoundUp(w.spec.Grid)))
	}
	w.holesMeet(s)
}

// holesMeet warns of fixings of one height through neighbouring walls, which cross inside the tube, and of holes of one wall that run into each
// other: in shallow framing the pairs meet.
func (w *work) holesMeet(s *Sleeve) {
	if w.told("bolt_bottom") {
		return
	}
	wall := func(h Hole) string {
		name, _, _ := strings.Cut(h.Wall, " (")
		return name
	}
	for i, a := range s.Holes {
		for _, b := range s.Holes[i+1:] {
			least := length.Length(0)
			switch {
			case wall(a) == wall(b):
				least = (a.Size + b.Size) / 2
			case a.For == forShank && b.For == forShank:
				least = w.spec.BoltDiameter
			}
			if (a.Height - b.Height).Abs() < least {
				w.problem(w.run.Label, "bolt_bottom", "Fixings of the sleeve walls meet %s up: the framing is too shallow for four, leave one pair out or set the bolts further apart.", w.text(a.Height))
				return
			}
		}
	}
}
