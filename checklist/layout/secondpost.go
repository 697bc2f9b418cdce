package layout

import (
	"fmt"
	"math"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// secondPost is the corner of two posts that a post stands at, as its run sees it, and the run that has the other post; ok where the deck is inside that
// corner.
func (w *work) secondPost(p *Post) (c *corner, other string, ok bool) {
	switch j := w.in.Joint; {
	case p.Number == 1 && j.start != nil && j.start.doubled:
		return j.start, w.run.StartAt, j.StartSquare || j.startAngled
	case p.Number == w.lastPost && j.end != nil && j.end.doubled:
		return j.end, j.EndRun, j.EndSquare || j.endAngled
	}
	return nil, "", false
}

// behind is how far inward of the centre line a run's posts and what blocks them reach: behind the posts, where joists meet the run end on, but under
// bases.
func (s cornerSide) behind() length.Length {
	_, deep := s.held()
	if s.joists != JoistsAcross || s.spec.PostMount == MountBase {
		return deep / 2
	}
	return deep/2 + besidePieces*s.spec.JoistWidth
}

// inOther says whether what stands between two distances from the corner along the own run, and two inward of its centre line, would stand in what the
// other run has within so much along it of its post's centre, and inward as far as given.
func (c corner) inOther(from, to, outer, inner, along, inward length.Length) bool {
	_, deep := c.other.held()
	back := float64(c.back())
	across, on := sin(c.turn), cos(c.turn)
	var own, other [4][2]float64
	for i, s := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		own[i] = [2]float64{float64([]length.Length{from, to}[s[0]]), float64([]length.Length{outer, inner}[s[1]])}
		// The other run goes off from the corner at its turn, its own inward side to the deck.
		a, b := back+float64([]length.Length{-along, along}[s[0]]), float64([]length.Length{-deep / 2, inward}[s[1]])
		other[i] = [2]float64{-a*on + b*across, a*across + b*on}
	}
	return !parted(own, other) && !parted(other, own)
}

// parted says whether a line along a side of the first figure has the whole of the other beyond it, touching allowed; both are convex and go round one
// way (plane geometry).
func parted(first, other [4][2]float64) bool {
	for i, a := range first {
		b, c := first[(i+1)%4], first[(i+2)%4]
		side := func(p [2]float64) float64 { return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) }
		inside, least := math.Copysign(1, side(c)), math.Inf(1)
		for _, p := range other {
			least = min(least, -inside*side(p))
		}
		if least >= -math.Hypot(b[0]-a[0], b[1]-a[1]) { // a nanometre of rounding
			return true
		}
	}
	return false
}

// fromCorner is how far a place along the run stands from the corner at a post, into the run.
func (w *work) fromCorner(p *Post, c *corner, at length.Length) length.Length {
	if p.Number == 1 {
		return at - p.Centre + c.back()
	}
	return p.Centre + c.back() - at
}

// meetsSecondPost says whether blocking beside a post, from and to along the run, would stand in the other post of its corner, or in the blocking behind
// that one. Where that would go through this post it is left out.
func (w *work) meetsSecondPost(p *Post, from, to length.Length) bool {
	c, _, ok := w.secondPost(p)
	if !ok {
		return false
	}
	ownWide, own := c.own.held()
	wide, deep := c.other.held()
	along, reach := wide/2, deep/2
	if c.other.joists == JoistsAcross {
		between, behind, back := max(along, c.other.spec.JoistSpacing), c.other.behind(), c.back()
		if !c.inOther(back-ownWide/2, back+ownWide/2, -own/2, own/2, between, behind) {
			along, reach = between, behind
		}
	}
	a, b := w.fromCorner(p, c, from), w.fromCorner(p, c, to)
	return c.inOther(min(a, b), max(a, b), -own/2, w.out.Frame.Bay-own/2, along, reach)
}

// clearOfSecondPost leaves out the blocking behind a post where it would go through the other post of its corner, and asks.
func (w *work) clearOfSecondPost(p *Post) {
	c, other, ok := w.secondPost(p)
	if !ok || len(p.Blocked) == 0 || w.spec.PostMount == MountBase {
		return
	}
	_, deep := c.own.held()
	wide, otherDeep := c.other.held()
	for _, s := range p.Blocked {
		a, b := w.fromCorner(p, c, s.From), w.fromCorner(p, c, s.To)
		if !c.inOther(min(a, b), max(a, b), deep/2, c.own.behind(), wide/2, otherDeep/2) {
			continue
		}
		cure := "share one post there, or have the corner's framing worked out"
		if least := (c.own.behind() + wide/2).RoundUp(max(w.spec.Grid, 1)); c.turn == 90 && limitOf(w.in.Rules, codes.OpeningLevel, w.style).passes(c.gap(bare, least)) {
			cure = fmt.Sprintf("set each post of the corner back by %s or more, or share one", w.text(least))
		}
		w.problem(p.Label, "join", "The blocking behind it would go through the other post of the corner with %s, and is left out: %s.", other, cure)
		p.Blocking, p.Blocked = []Piece{}, nil
		return
	}
}

// besideSecondPost says of a bolted post what to look at where the other post of its corner is bolted too, and they do not look past each other.
func (w *work) besideSecondPost(p *Post) {
	if c, other, ok := w.secondPost(p); ok && c.turn >= 90 && c.other.spec.PostMount == MountBolted {
		p.Joist += fmt.Sprintf(" Its bolts run in at the height of those of the other post of the corner with %s: dry-fit bolts, nuts and hold-downs of both before drilling (%s).", other, practice)
	}
}
