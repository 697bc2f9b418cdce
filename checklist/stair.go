package checklist

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// mostSteps bounds the risers that are asked for one by one; no flight of a deck comes near it.
const mostSteps = 40

// stairRun is what the flight itself owes before posts are cut: each riser, and how far risers and treads differ. Its figures are
// those of a stair, and hold whether or not a guard is asked for.
func stairRun(c *collector) {
	st := c.Layout.Stair
	if !c.rake() || st == nil || st.Riser <= 0 {
		return
	}
	either := c.either(length.Inch/8, 3*length.Millimetre)
	for n := 1; n <= min(st.Risers, mostSteps); n++ {
		k := Check{Key: fmt.Sprintf("framing.riser_%d", n), Ask: AskLength, Title: fmt.Sprintf("Riser %d of %d, counted from the foot", n, st.Risers),
			How:    "A level from nosing to nosing, plumb down to the tread below.",
			Reason: "An uneven step is the one that people trip on.", Source: practice}
		switch n {
		case 1:
			k.How = "From the finished landing or ground, not from bare soil or the footing, up to the first nosing."
			k.Reason = "The first riser is often uneven: a pad or paving laid later takes its height."
		case st.Risers:
			k.How = "From the last tread up to the finished decking."
			k.Reason = "The last riser is often uneven: the decking's thickness is forgotten."
		}
		c.add(c.bound(k.near(c.onGrid(st.Riser), either, either), codes.StairRiserMax, codes.StairRiserMin))
	}
	c.add(c.bound(Check{Key: "framing.risers_differ", Ask: AskLength, Title: "Greatest riser less the smallest",
		How: "From the risers as measured, the first and the last included; note which two.", Reason: "Feet take every step for the one before."}, codes.StairRiserUniform))
	if _, ok := c.Rules.Figure(codes.StairRiserUniformAdjacent); ok {
		c.add(c.bound(Check{Key: "framing.risers_next", Ask: AskLength, Title: "Greatest difference between neighbouring risers",
			How: "From the risers as measured; note which two.", Reason: "Feet take every step for the one before."}, codes.StairRiserUniformAdjacent))
	}
	if st.Treads < 1 {
		return
	}
	c.add(c.bound(Check{Key: "framing.tread_least", Ask: AskLength, Title: "Smallest tread of the flight",
		How: "Level, nosing to nosing.", Sample: "the smallest that was found", Reason: "A foot that hangs over a short tread slips.", Source: ownLayout}.near(c.onGrid(st.Tread), either, either), codes.StairTreadMin))
	c.add(c.bound(Check{Key: "framing.treads_differ", Ask: AskLength, Title: "Greatest tread less the smallest",
		How: "From the treads as measured; note which two.", Reason: "Feet take every step for the one before."}, codes.StairTreadUniform))
}

// bound adds the rule set's figures of a stair as limits, and says in the source where there is none.
func (c *collector) bound(k Check, keys ...string) Check {
	for i, key := range keys {
		figure, found := c.Rules.Figure(key)
		limit, ok := limitOf(figure.Figure)
		if !found || !ok {
			if i == 0 {
				k = k.sourced(noFigure)
			}
			continue
		}
		limit.Amended = figure.SaidBy()
		k.Limits = append(k.Limits, limit)
		k = k.sourced(figure.Source())
	}
	if k.Source == "" {
		k.Source = practice
	}
	return k
}

// flightEnds asks for a gauge where the triangle of the steps says nothing: at the foot of the flight and at its top.
func flightEnds(c *collector, b layout.Bay) {
	first, last := b.Number == 1, b.Number == len(c.Layout.Bays)
	foot, head := first, last
	if c.Run.Down() {
		foot, head = last, first
	}
	for _, end := range []struct {
		at                     bool
		key, title, how, where string
	}{
		{foot, "rails.gauge_foot", "Opening under the rail at the foot of the flight", "Try a gauge from the foot post to the lowest riser, down to the finished ground; enter the largest that goes through.", "ground"},
		{head, "rails.gauge_head", "Opening under the rail at the top of the flight", "Try a gauge beside the post at the top, over the landing and the edge of the decking; enter the largest that goes through.", "decking"},
	} {
		if end.at {
			c.add(c.held(Check{Key: end.key, Ask: AskGap, Title: end.title, How: end.how,
				Sample: "the largest gauge that goes through",
				Reason: "The layout does not work this opening out, since " + end.where + ", not a tread, closes it: ask the authority where only the general figure is granted.", Source: practice},
				codes.OpeningTriangle, codes.OpeningStair, codes.OpeningLevel))
		}
	}
}

// handrailHeight asks for the height of the handrail over the steps.
func handrailHeight(c *collector) {
	k := Check{Key: "caps.handrail_height", Ask: AskLength, Title: "Top of the handrail above the line of the nosings",
		How:    "A straightedge on two nosings, then plumb up; the lowest and the highest place, and enter the one nearer a limit. Where there is no handrail answer not applicable and say so.",
		Sample: "the place nearest a limit", Reason: "A hand looks for it at one height all the way."}
	if st := c.Layout.Stair; st != nil && st.HandrailAt > 0 {
		k = k.near(c.onGrid(st.HandrailAt), c.Spec.TolHeight, c.Spec.TolHeight)
	}
	c.add(c.overDecking(c.bound(k, codes.HandrailHeightMin, codes.HandrailHeightMax), 0))
}
