package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
)

// basePlate is how thick the plate of a base is drawn, in real millimetres, and basePast how far it reaches past the post; neither is measured
// from.
const (
	basePlate = 6.0
	basePast  = 30.0
)

// onBase says whether the post stands on a surface base.
func (d *detail) onBase() bool { return d.o.Spec.PostMount == layout.MountBase }

// blockedFrom is where the first piece of blocking stands, inward from the rim's outer face: against the post or its sleeve, or, under a base,
// against the rim.
func (d *detail) blockedFrom() float64 {
	if d.onBase() {
		return d.rim()
	}
	return d.postFar() + d.slack()
}

// base draws a surface base on the decking with the post's end as far off it as the base holds it.
func (d *detail) base() {
	deck, off := mm(d.o.Spec.Decking), mm(d.p.StandOff)
	near, far := d.postNear(), d.postFar()
	d.rect(near-basePast, deck, far+basePast, deck+basePlate, Outline{Weight: Medium, Tone: Accent, Fill: Paper})
	for _, x := range []float64{near - 18, far + 18} {
		d.rect(x-4, -d.depth()*0.6, x+4, deck+12, Outline{Weight: Light, Fill: Paper})
	}
	words := "base"
	if off > 0 {
		if off > basePlate {
			d.rect(near+10, deck+basePlate, far-10, deck+off, Outline{Weight: Medium, Tone: Accent, Fill: Paper})
		}
		words += ", the post's end " + d.text(d.p.StandOff) + " up"
	}
	d.post(deck + off)
	d.word(far+basePast+4, deck+4*d.den, Start, words, Accent)
}

// baseBlocking draws the blocking under a base in section: cut through where it runs along the rim, from the side where it runs inward.
func (d *detail) baseBlocking() {
	from, depth := d.blockedFrom(), d.depth()
	words := "blocking under the base, cut as measured"
	switch b := d.p.Blocking; {
	case len(b) == 0:
		d.rect(from, -depth, d.postFar(), 0, Outline{Weight: Light, Dash: Hidden})
	case d.o.Run.Joists == layout.JoistsAlong:
		d.rect(from, -depth, from+math.Min(mm(b[0].Length), d.postFar()+detailPast-from), 0, Outline{Weight: Light, Dash: Hidden})
		words = fmt.Sprintf("%d of %s under the base", b[0].Count, d.text(b[0].Length))
	default:
		each, count := d.eachSpace(), 0
		for i := range each {
			d.endGrain(from+float64(i)*d.rim(), -depth, from+float64(i+1)*d.rim(), 0)
		}
		for _, piece := range b {
			count += piece.Count
		}
		words = fmt.Sprintf("blocking under the base, %d pieces", count)
	}
	d.word(from, -depth-4*d.den, Start, words, Ink)
}

// eachSpace is how many pieces of blocking stand side by side in one space between joists.
func (d *detail) eachSpace() int {
	b := d.p.Blocking
	if len(b) > 1 {
		return b[0].Count
	}
	return b[0].Count / max(1, len(d.p.Blocked))
}
