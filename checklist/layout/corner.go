package layout

import (
	"cmp"

	"newelbook/checklist/length"
)

// cornerSide is what one run brings to a corner: its own specification, overrides included, and whether it lifts out.
type cornerSide struct {
	spec   Spec
	joists string // how they meet it, as Run has it
	lifts  bool
	clear  length.Length // to its fixed neighbours, of one that lifts out
}

func sideOf(run Run, spec Spec) cornerSide {
	s := cornerSide{spec: spec, joists: run.Joists, lifts: run.Kind == Removable}
	if s.lifts {
		s.clear = run.SideClearance
	}
	return s
}

// held is what stands among the joists along and across the run, as planned: its post, or the sleeve that it is in.
func (s cornerSide) held() (wide, deep length.Length) {
	if s.spec.PostMount == MountSleeve {
		out := s.spec.sleeveOutside(s.spec.postSize())
		return out, out
	}
	return s.spec.PostWidth, s.spec.PostDepth
}

// corner is a corner as one of its two runs sees it: own is that run and other the one beyond. Both see the same set-back and the same edges.
type corner struct {
	own, other cornerSide
	turn       int           // degrees turned, without its sign
	doubled    bool          // two posts, each set back from it
	by         length.Length // set-back as given, zero for the least
}

// flipped is the same corner as the other run sees it.
func (c corner) flipped() corner {
	c.own, c.other = c.other, c.own
	return c
}

// edge is how far past the corner, along the own run, the framing under the other one ends the deck: it stands against the outer faces of that
// run's posts or sleeves. Where the corner is not square it is the least of that from the own edge to a depth inward of it.
func (c corner) edge(inward length.Length) length.Length {
	_, own := c.own.held()
	_, other := c.other.held()
	across, along := sin(c.turn), cos(c.turn)
	if across <= 0 {
		return 0
	}
	at := func(y length.Length) float64 { return (float64(other/2) + float64(y)*along) / across }
	return nearestNM(min(at(-own/2), at(inward-own/2)))
}

// thick is how thick the framing is that ends the own run's frame there.
func (c corner) thick() length.Length { return cmp.Or(c.other.spec.JoistWidth, c.own.spec.JoistWidth) }

// lifts says whether one of the two runs lifts out.
func (c corner) lifts() bool { return c.own.lifts || c.other.lifts }

// back is how far the centre of each post stands back from the corner; nothing where one post stands in it.
func (c corner) back() length.Length {
	if !c.doubled {
		return 0
	}
	return cmp.Or(c.by, c.least())
}

// startCorner and endCorner are the corners at the ends of the run. Where nothing is described beyond one, the run there is taken to be like
// this one.
func (w *work) startCorner() corner {
	doubled := w.run.StartAt != "" && w.run.Join == JoinDoubled
	return w.cornerOr(w.in.Joint.start, corner{turn: w.run.Turn, doubled: doubled, by: w.run.JoinBy})
}

func (w *work) endCorner() corner {
	return w.cornerOr(w.in.Joint.end, corner{turn: w.endTurn()})
}

// cornerOr is a corner as the joint has it, or else as it is given, both its runs like this one.
func (w *work) cornerOr(c *corner, given corner) corner {
	if c != nil {
		return *c
	}
	given.own = sideOf(w.run, w.spec)
	given.other = cornerSide{spec: w.spec}
	if given.turn = turnOf(given.turn); given.turn == 0 && !given.doubled {
		given.turn = 90
	}
	return given
}

// turnOf is how far a run turns, either way: 0 to 180 degrees.
func turnOf(turn int) int { return min(wrap(turn), wrap(-turn)) }

// startBack and endBack are the set-backs at the ends of the run, nothing where one post stands in the corner.
func (w *work) startBack() length.Length { return w.startCorner().back() }
func (w *work) endBack() length.Length   { return w.endCorner().back() }
