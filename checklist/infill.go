package checklist

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
)

// infillRun is what the infill of a run owes once, before it is set out: whether its stock is as it was entered. Cables and panels shrink
// by nothing that is laid out here.
func infillRun(c *collector) {
	if c.Spec.InfillKind == layout.FillCables || c.Spec.InfillKind == layout.FillPanels {
		return
	}
	c.add(c.moisture("infill.moisture", "Moisture of the balusters", "On three pieces of the lot; enter the highest. Where they are not of wood answer not applicable and say so.", "the highest of three pieces", c.Spec.InfillMoisture,
		"Wet balusters shrink in their width, and every gap grows by it.",
		"Enter the baluster stock as wet in the specification: the layout then tests the gaps at their dry size too.",
		"Enter the baluster stock as dry in the specification, with its width as measured: what the layout allows for has shrunk already."))
}

// infillBay is what the infill of each bay owes.
func infillBay(c *collector, b layout.Bay) {
	used := b.Used()
	if used == nil {
		return
	}
	switch used.Infill.Kind {
	case layout.FillCables:
		cableBay(c, used.Infill, b.Built != nil)
	case layout.FillPanels:
		panelBay(c, used.Infill, b.Built != nil)
	default:
		balusterBay(c, used.Infill, b.Built != nil)
	}
	climb(c)
}

// balusterBay is what the balusters of a bay owe.
func balusterBay(c *collector, infill layout.Infill, built bool) {
	count := infill.Count
	c.add(Check{Key: "infill.count", Ask: AskCount, Title: "Balusters in the bay", How: "Count them.",
		Reason: "One too few makes every gap too wide.", Source: ownLayout, Count: &count, Built: built})
	gap := Check{Key: "infill.gap", Ask: AskGap, Title: "Widest gap in the bay", Built: built, Sample: "the widest that was found in the bay",
		How: "Try a gauge of the limit's size in every gap, or measure top and bottom of the first, the middle, the last and any that " +
			"looks wide; enter the widest and note how many were measured.",
		Reason: "A child's head follows where a ball goes.", Source: "tolerance: the job's own"}
	if c.rake() {
		gap.How += " Measure level between plumb balusters, not along the rail."
	}
	if infill.DryGap > infill.Largest {
		gap.How += fmt.Sprintf(" The stock was laid out wet: dry, the widest gap is %s by the layout.", c.text(infill.DryGap))
	}
	c.add(c.heldToOpening(gap.near(infill.Largest, c.Spec.TolGap, c.Spec.TolGap)))
	c.endGaps(infill, built)
	c.add(Check{Key: "infill.firm", Ask: AskSeen, Title: "Every baluster is locked at both ends and firm",
		How:    "Push and twist each by hand; this is no load test.",
		Reason: "A baluster that turns or slides opens a gap.", Source: practice})
	c.add(Check{Key: "infill.plumb", Ask: AskSigned, Title: "Lean of the worst baluster along the run",
		How: "Read the gap behind a level over its length; plus leans away from the datum.", Sample: "the worst that was found in the bay",
		Reason: "Leaning balusters are wider apart at one end.", Source: ownTolerance + "; no published figure was found",
	}.near(0, c.Spec.TolBalusterPlumb, c.Spec.TolBalusterPlumb))
}

// endGaps asks for the gaps between the members at the ends of a bay and its posts.
func (c *collector) endGaps(infill layout.Infill, built bool) {
	for _, end := range []struct {
		key, words string
		gap        layout.Infill
	}{{"start", "datum", infill}, {"end", "far", layout.Infill{EndGap: infill.LastGap}}} {
		c.add(c.heldToOpening(Check{Key: "infill.gap_" + end.key, Ask: AskGap, Title: "Gap at the " + end.words + " end of the bay", Built: built,
			How: "Post face to the first " + infill.Noun() + ", at its widest.", Reason: "The end gaps take up what the posts are out by.",
			Source: "tolerance: the job's own"}.near(end.gap.EndGap, c.Spec.TolGap, c.Spec.TolGap)))
	}
}

// heldToOpening holds a check to the rule set's opening: on a stair its own figure, where the rule set has one.
func (c *collector) heldToOpening(k Check) Check {
	if c.rake() {
		return c.held(k, codes.OpeningStair, codes.OpeningLevel)
	}
	return c.held(k, codes.OpeningLevel)
}

// climb asks for footholds where the rule set has a zone that must be free of them at this drop.
func climb(c *collector) {
	if asked, _ := codes.ClimbZoneAsked(c.Rules, c.Run.Drop(c.Layout.Stair)); !asked {
		return
	}
	low, _ := c.Rules.Figure(codes.ClimbZoneLow)
	high, _ := c.Rules.Figure(codes.ClimbZoneHigh)
	c.add(c.held(c.held(Check{Key: "infill.climb", Ask: AskSeen, Title: fmt.Sprintf("Nothing gives a foothold from %s to %s above the floor", c.text(low.Value), c.text(high.Value)),
		How:    "Look for rails, plates and openings in the zone; a bottom rail on edge can be one: ask the authority.",
		Reason: "A foothold makes a ladder of a guard."}, codes.ClimbZoneLow), codes.ClimbZoneHigh))
}
