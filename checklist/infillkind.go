package checklist

import (
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
)

// cableBay is what the cables of a bay owe, and the uprights that keep them apart.
func cableBay(c *collector, infill layout.Infill, built bool) {
	count := infill.Cables.Count
	c.add(Check{Key: "infill.cables", Ask: AskCount, Title: "Cables in the bay", How: "Count them.",
		Reason: "One too few makes every gap too wide.", Source: ownLayout, Count: &count, Built: built})
	gap := Check{Key: "infill.gap", Ask: AskGap, Title: "Widest gap between cables", Built: built, Sample: "the widest that was found in the bay",
		How: "Midway between uprights, push a gauge of the limit's size between every two cables, and between the rails and the cables beside " +
			"them; or measure the widest, square to the cables, while it is pushed apart.",
		Reason: "Cables give when a child pushes between them.", Source: "tolerance: the job's own"}
	gap = gap.near(infill.Cables.Largest, c.Spec.TolGap, c.Spec.TolGap)
	if _, own := c.Rules.Figure(codes.OpeningRope); own {
		c.add(c.held(gap, codes.OpeningRope))
	} else {
		c.add(c.heldToOpening(gap))
	}
	if infill.Count > 0 {
		uprights := infill.Count
		c.add(Check{Key: "infill.count", Ask: AskCount, Title: "Uprights in the bay", How: "Count them.",
			Reason: "They keep the cables apart.", Source: ownLayout, Count: &uprights, Built: built})
	}
	c.add(c.held(Check{Key: "infill.support", Ask: AskLength, Title: "Widest clear distance between posts or uprights", Built: built,
		How: "Measure along the bottom rail.", Sample: "the widest that was found in the bay", Reason: "The longer a cable runs free, the more it gives.", Source: ownTolerance,
	}.near(infill.Largest, c.Spec.TolPostCentre, c.Spec.TolPostCentre), codes.OpeningRopeSupport))
	c.add(Check{Key: "infill.firm", Ask: AskSeen, Title: "Every cable is as tight as its maker asks",
		How:    "By the maker's own method, at the middle of the longest free length; by hand is no load test.",
		Reason: "A slack cable opens a gap.", Source: practice})
	c.add(Check{Key: "infill.cable_ends", Ask: AskSeen, Title: "Cable ends are locked, and the end posts have not been pulled in",
		How:    "Look at every end fitting; sight along the end posts after tightening.",
		Reason: "All cables pull the end posts the same way.", Source: practice})
}

// panelBay is what the panels of a bay owe.
func panelBay(c *collector, infill layout.Infill, built bool) {
	count := infill.Count
	c.add(Check{Key: "infill.count", Ask: AskCount, Title: "Panels in the bay", How: "Count them.",
		Reason: "Each has its own place and size.", Source: ownLayout, Count: &count, Built: built})
	c.add(c.heldToOpening(Check{Key: "infill.gap", Ask: AskGap, Title: "Widest gap at the edge of a panel", Built: built, Sample: "the widest that was found in the bay",
		How: "Measure all four edges of each panel, or try a gauge of the limit's size.", Reason: "A panel that slipped leaves its gap on one side.",
		Source: "tolerance: the job's own"}.near(infill.Largest, c.Spec.TolGap, c.Spec.TolGap)))
	c.endGaps(infill, built)
	c.add(Check{Key: "infill.firm", Ask: AskSeen, Title: "Every panel is held along its edges as its maker asks, and firm",
		How:    "Push each by hand; this is no load test.",
		Reason: "A panel that comes out of its channel leaves the whole bay open.", Source: practice})
	c.add(Check{Key: "infill.panel_mark", Ask: AskSeen, Title: "Each panel's mark or paper says what it is and what it was tested for",
		How:    "Read the mark in the corner or the delivery paper; note what it says.",
		Reason: "Kind and thickness of glass or sheet are not seen from outside.", Source: practice})
}
