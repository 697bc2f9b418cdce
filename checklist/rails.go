package checklist

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// railsBay is what the rails of each bay owe.
func railsBay(c *collector, b layout.Bay) {
	if used := b.Used(); used != nil {
		var planned layout.Parts
		if b.Built != nil && b.Planned != nil {
			planned = *b.Planned
		}
		c.railLength("rails.top_length", "Cut length of the top rail", used.Top, planned.Top, b.Built != nil)
		c.railLength("rails.bottom_length", "Cut length of the bottom rail", used.Bottom, planned.Bottom, b.Built != nil)
	}
	if c.rake() {
		rakeBottom(c)
		flightEnds(c, b)
	} else {
		levelBottom(c)
	}
	railHeights(c, b)
	c.add(Check{Key: "rails.connectors", Ask: AskSeen, Title: "Each rail is seated in its connectors, which are fixed with every screw",
		How: "Look at all four ends; no daylight behind the rail.", Reason: "A rail that hangs on half its screws drops under a lean.",
		Source: practice})
	c.add(Check{Key: "rails.screws_inside", Ask: AskSeen, Title: "No screw breaks through",
		How: "Run a gloved hand along every face.", Reason: "Points cut hands and let water in.", Source: practice})
	if species, ok := codes.SpeciesByKey(c.Spec.Species); ok && species.CedarFamily {
		c.add(Check{Key: "rails.screws_metal", Ask: AskSeen, Title: "Screws are stainless steel",
			How:    "Read the box; a magnet hardly holds on most stainless.",
			Reason: species.Name + " bleeds, and stains and eats other metals under a clear finish or none.",
			Source: practice + "; trade association tip sheets say the same, secondary text"})
	}
}

// railsRun is what the rails of a run owe once: what they are made of and put together with.
func railsRun(c *collector) {
	c.add(c.moisture("rails.moisture", "Moisture of the rails", "On three rails of the run; enter the highest.", "the highest of three rails", layout.StockDry,
		"Wet rails shrink in their width: connectors work loose, and a guard set at its limit falls under it.",
		"Let them dry before they are cut, or look at connectors and heights again when they have dried.", ""))
	c.add(Check{Key: "rails.connectors_way", Ask: AskSeen, Title: "Connectors are the right way round: top and bottom, left and right",
		How: "Read the stamp or the maker's sheet at one of each; compare the others with it.", Sample: "one of each kind is read",
		Reason: "A connector upside down carries the rail on its screws alone.", Source: "makers' instructions; " + practice})
	c.add(Check{Key: "rails.ends_sealed", Ask: AskSeen, Title: "Cut ends of rails and infill are sealed",
		How: "Look at the ends before they go into their connectors.", Reason: "End grain drinks, and the connector hides it.", Source: practice})
	c.add(Check{Key: "rails.metals", Ask: AskSeen, Title: "Screws and connectors are of metals that go together",
		How:    "Read both boxes: stainless screws in stainless connectors, galvanised in galvanised, and no aluminium against wood treated with copper.",
		Reason: "Two metals in the wet eat one another, and copper in treated wood eats aluminium.", Source: "guidance on treated wood, official text; no clause is cited"})
	if c.Spec.ScrewLength > 0 {
		c.add(Check{Key: "rails.screw_size", Ask: AskSeen, Title: "Screws are as specified: " + c.text(c.Spec.ScrewLength) + " long, " + c.Spec.FastenerMetal,
			Sample: "one of the box is measured", How: "Read the box and measure one; a magnet hardly holds on most stainless.",
			Reason: "A shorter screw owes its penetration, a longer one comes through, and plain metal rusts in treated wood.", Source: ownLayout})
	}
}

// railLength is the cut length of one rail. It may be short by the tolerance and never long.
func (c *collector) railLength(key, title string, rail, planned layout.Rail, built bool) {
	if rail.Cut <= 0 {
		return
	}
	k := Check{Key: key, Ask: AskLength, Title: title, How: "End to end, before it goes in.",
		Reason: "A long rail spreads its posts; a short one leaves its connectors.", Source: ownTolerance,
	}.near(rail.Cut, 0, c.Spec.TolRailShort)
	if c.rake() {
		k.How = "Along the " + c.railEdge() + ", cut to cut, before it goes in."
	}
	if built {
		k.Built = true
		if planned.Cut > 0 {
			was := planned.Cut
			k.Was = &was
		}
	}
	c.add(k)
}

// railEdge is the edge that a raked rail is measured along.
func (c *collector) railEdge() string {
	if c.Spec.RailLengthEdge == "" {
		return layout.EdgeTop
	}
	return c.Spec.RailLengthEdge
}

// levelBottom is what passes under a level bottom rail, and whether it is level.
func levelBottom(c *collector) {
	under := c.Layout.Heights.Under
	if under == 0 {
		under = c.Spec.UnderRail
	}
	c.add(c.held(Check{Key: "rails.under", Ask: AskGap, Title: "Clear under the bottom rail",
		How: "At the widest place along the bay. On a face-mounted guard the gap out past the deck's edge is part of it.", Sample: "the widest place that was found",
		Reason: "A child goes under where a ball goes under.", Source: "tolerance: the job's own",
	}.near(under, c.Spec.TolUnderRail, c.Spec.TolUnderRail), codes.OpeningUnderRail, codes.OpeningLevel))
	c.add(Check{Key: "rails.level", Ask: AskSigned, Title: "Rail out of level over the bay",
		How: "Level on the top rail; plus is high at the far end.", Reason: "The cap and the eye follow the rail.",
		Source: ownTolerance + "; no published figure was found",
	}.near(0, c.Spec.TolRailLevel, c.Spec.TolRailLevel))
}

// rakeBottom is where a raked bottom rail stands, and the triangle that it makes with riser and tread.
func rakeBottom(c *collector) {
	c.add(c.overDecking(Check{Key: "rails.rake_bottom", Ask: AskSigned, Title: "Underside of the bottom rail above the nosing line",
		How:    "A straightedge on two nosings, then plumb up to the rail at the widest place; minus is below the line.",
		Reason: "It sets how large a ball passes at riser and tread.", Source: practice,
	}.near(c.Spec.RakeBottom, c.either(length.Inch/4, 6*length.Millimetre), c.either(length.Inch, 25*length.Millimetre)), 0))
	k := Check{Key: "rails.triangle", Ask: AskGap, Title: "Triangle of riser, tread and bottom rail",
		How: "Try every step with a gauge, or measure the largest ball that goes in; enter the largest of the bay.", Sample: "the largest that was found in the bay",
		Reason: "The triangle is the largest opening of a stair guard."}
	if stair := c.Layout.Stair; stair != nil && stair.Sphere > 0 {
		k.Reason = fmt.Sprintf("The triangle is the largest opening of a stair guard: %s by the layout.", stair.Sphere.FormatUp(c.Style))
	}
	if stair := c.Layout.Stair; stair != nil && stair.NotScreened != "" {
		k.How += " The layout does not work it out. " + stair.NotScreened
	}
	c.add(c.held(k, codes.OpeningTriangle, codes.OpeningStair, codes.OpeningLevel))
}

// railHeights is the top of the top rail at both ends of the bay. Where no cap lies on it, it is the guard's finished top
// and held to the guard's height.
func railHeights(c *collector, b layout.Bay) {
	for _, end := range []struct {
		key, words string
		post       int
	}{{"start", "datum", b.FromPost}, {"end", "far", b.ToPost}} {
		k := Check{Key: "rails.height_" + end.key, Ask: AskLength, Title: "Top of the top rail at the " + end.words + " end of the bay",
			How: "From the one reference for all heights: " + sentence(c.reference()), Reason: "The finished height rests on it.", Source: ownTolerance,
		}.near(c.onGrid(c.Layout.Heights.TopRailTop), c.Spec.TolHeight, c.Spec.TolHeight)
		if !c.capped() {
			k.Reason = "It is the finished top of the guard."
			k = c.heldToHeight(k)
		}
		c.add(c.overDecking(k, end.post))
	}
}

// heldToHeight holds a check to the rule set's least height of this run.
func (c *collector) heldToHeight(k Check) Check {
	if c.rake() {
		return c.held(k, codes.GuardHeightStair)
	}
	drop := c.Run.Drop(c.Layout.Stair)
	if drop == 0 {
		// A lower height for a small drop is taken only where the drop has been given.
		return c.held(k, codes.GuardHeightLevel)
	}
	figure, found := codes.GuardHeight(c.Rules, drop)
	return c.heldBy(k, figure, found)
}
