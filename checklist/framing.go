package checklist

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// framingPost is what each post place owes before decking hides it.
func framingPost(c *collector, p layout.Post) {
	c.add(placeOf(c, p))
	if c.Run.PostsAre == layout.PostsExisting {
		existingPost(c)
		plumb(c, "framing", "post")
		framingPhotos(c)
		return
	}
	c.add(footing(c, p))
	switch c.Spec.PostMount {
	case layout.MountSleeve:
		sleeveChecks(c, p)
	case layout.MountBase:
		baseChecks(c)
	default:
		boltChecks(c, p)
	}
	if p.HoldDown != "" {
		c.add(Check{Key: "framing.hold_down", Ask: AskSeen, Hold: true, Title: "The hold-down is on as called for",
			How:    "Read the label of the hold-down and count its fasteners. " + sentence(p.HoldDown),
			Reason: "The upper bolt pulls far harder than the push on the guard, and end grain does not hold it.",
			Source: c.practiceSource(codes.HoldDownCapacity)})
	}
	what := "post"
	if c.Spec.PostMount == layout.MountSleeve {
		what = "sleeve"
	}
	plumb(c, "framing", what)
	framingPhotos(c)
}

// placeOf is where the post stands along the run. The datum post is the datum: there is nothing to measure it from.
func placeOf(c *collector, p layout.Post) Check {
	if p.Centre == 0 {
		return Check{Key: "framing.place", Ask: AskSeen, Title: "The datum post stands where the drawing has it",
			How:    "Look at the drawing of the run and mark the centre of this post: every place is measured from it.",
			Reason: "A datum out of place moves every post of the run.", Source: ownLayout}
	}
	return c.alongRun(Check{Key: "framing.place", Ask: AskLength, Title: "Centre of the post from the datum",
		How:    "Hook the tape on the datum mark and read at the post's centre line, along the run and level.",
		Reason: "Bays, rails and balusters follow from where the posts stand.", Source: ownTolerance,
	}.near(p.Centre, c.Spec.TolPostCentre, c.Spec.TolPostCentre), p.Number)
}

// fixedWords says how a post of a flight is fixed.
func fixedWords(p layout.Post) string {
	if p.Stand == nil || p.Stand.Fixed == "" {
		return ""
	}
	return " " + sentence(p.Stand.Fixed)
}

// footing is what holds the post's foot: blocking on a deck, whatever the drawing has on a stair.
func footing(c *collector, p layout.Post) Check {
	if c.rake() {
		return Check{Key: "framing.stands", Ask: AskSeen, Hold: true, Title: "The post is fixed to the stair, or to what its foot stands on, as the drawing has it",
			How:    "Look at every fastener and at what it bites in. " + sentence(p.Joist) + fixedWords(p),
			Reason: "A stringer is thin and short-grained at its steps: a post fixed to it needs what the drawing gives it.",
			Source: practice}
	}
	title, look := "Blocking is in, tight to the post and fixed", "Look at both sides of the post"
	if c.Spec.PostMount == layout.MountBase {
		title, look = "Blocking is in under the base, tight to the joists and fixed", "Look under the base from below"
	}
	return Check{Key: "framing.blocking", Ask: AskSeen, Hold: true, Title: title,
		How:    look + " and push the framing by hand. " + blockingWords(c, p),
		Reason: "Decking hides it, and without it the framing rolls under a push on the guard.",
		Source: "R507.10.1.1, 2021 IRC, secondary text"}
}

// blockingWords lists the blocking that was planned.
func blockingWords(c *collector, p layout.Post) string {
	if len(p.Blocking) == 0 {
		return "The layout lists no pieces here: say what stands in their place."
	}
	var pieces []string
	for _, b := range p.Blocking {
		pieces = append(pieces, fmt.Sprintf("%d of %s, %s long", b.Count, b.Section, c.text(b.Length)))
	}
	return "Planned: " + strings.Join(pieces, "; ") + "."
}

// plumb is the lean of a post or sleeve, both ways.
func plumb(c *collector, stage, what string) {
	over := layout.LeanOver(c.Style)
	for _, way := range []struct{ key, words, plus string }{
		{"along", "along the run", "away from the datum"},
		{"across", "across the run", "outwards"},
	} {
		c.add(Check{Key: stage + ".plumb_" + way.key, Ask: AskSigned, Title: fmt.Sprintf("Lean of the %s %s", what, way.words),
			How:    fmt.Sprintf("Read the gap behind a level over %s; plus leans %s, minus the other way.", c.text(over), way.plus),
			Reason: "Two posts that lean alike give equal openings, but leaning balusters and gaps that differ from bottom to top.",
			Source: ownTolerance + "; no published figure was found",
		}.near(0, c.Spec.TolPostPlumb, c.Spec.TolPostPlumb))
	}
}

// boltChecks are those of a post bolted to the framing.
func boltChecks(c *collector, p layout.Post) {
	for _, b := range p.Bolts {
		key, nominal := "framing.bolt_upper", b.FromTop
		if b.Name == "lower" {
			key, nominal = "framing.bolt_lower", b.FromBottom
		}
		title, how := c.boltEdgeWords(p, b.Name)
		c.add(boltEdge(c, key, title, how, nominal))
	}
	if len(p.Bolts) == 0 {
		return // a post of a flight on a tread, a pad or a footing
	}
	both := "Both bolts"
	if len(p.Corner) > 0 {
		both = "Both bolts of each pair"
		c.add(boltEdge(c, "framing.corner_upper", "Upper bolt of the second pair below the top of the framing",
			"At the corner's other edge: from the top edge of the framing down to the bolt's centre.", p.Corner[0].FromTop))
		c.add(boltEdge(c, "framing.corner_lower", "Lower bolt of the second pair above the underside of the framing",
			"At the corner's other edge: from the bottom edge of the framing up to the bolt's centre.", p.Corner[1].FromBottom))
	}
	c.add(Check{Key: "framing.bolts_through", Ask: AskSeen, Hold: true, Title: both + " go right through, with washers, and are tight",
		How:    fmt.Sprintf("Look at both ends, past hangers, joist ends and ducts: a washer under head and nut, thread past the nut, %s bolts%s.", c.text(c.Spec.BoltDiameter), boltsLong(c, p)),
		Reason: "Screws and half-length bolts pull out of the framing.",
		Source: c.practiceSource(codes.BoltDiameterMin)})
	source := c.practiceSource(codes.PostSizeMin)
	if f, found := c.Rules.Figure(codes.PostNotch4x4); found {
		source = f.Source()
	}
	c.add(Check{Key: "framing.unnotched", Ask: AskSeen, Hold: true, Title: "The post is whole, not notched, where it is fixed",
		How:    "Look at the post's full section at the top of the framing.",
		Reason: "A notch takes the wood away where the push on the guard bends the post most.", Source: source})
}

// boltEdgeWords says what a bolt's distance from its nearest edge is called and how it is taken: through framing, or square to the edges of a
// stringer.
func (c *collector) boltEdgeWords(p layout.Post, name string) (title, how string) {
	upper := name == "upper"
	switch {
	case !p.Stringer() && upper:
		return "Upper bolt below the top of the framing", "From the top edge of the framing down to the bolt's centre."
	case !p.Stringer():
		return "Lower bolt above the underside of the framing", "From the bottom edge of the framing up to the bolt's centre."
	case !upper:
		return "Lower bolt above the stringer's lower edge", "Square to the stringer's lower edge, up to the bolt's centre."
	case c.Layout.Stair.Stringer.Notched:
		return "Upper bolt below the notches of the stringer", "Lay a straightedge through the inner corners of the notches, and measure square from it down to the bolt's centre."
	}
	return "Upper bolt below the stringer's upper edge", "Square to the stringer's upper edge, down to the bolt's centre."
}

// boltsLong says how long bolts must be at least, where the layout says so.
func boltsLong(c *collector, p layout.Post) string {
	if len(p.Bolts) == 0 || p.Bolts[0].Length == 0 {
		return ""
	}
	text := fmt.Sprintf(" at least %s long, through %s", c.text(p.Bolts[0].Length), p.Through(p.Bolts[0], c.Style))
	if len(p.Corner) > 0 && p.Corner[0].Length != p.Bolts[0].Length {
		text += fmt.Sprintf(", those of the second pair %s, through %s", c.text(p.Corner[0].Length), p.Through(p.Corner[0], c.Style))
	}
	return text
}

// existingPost is what a post owes that stood there before this guard: nothing is known of it until it is seen.
func existingPost(c *collector) {
	c.add(Check{Key: "framing.existing_sound", Ask: AskSeen, Hold: true, Title: "The existing post is sound, above and below the decking",
		How:    "Push an awl in at the decking's line, at every fixing and at the end grain; look for cracks, splits and notches.",
		Reason: "Rot starts where it is not seen, and it is where the post works hardest.", Source: practice})
	c.add(Check{Key: "framing.existing_fixed", Ask: AskSeen, Hold: true, Title: "What holds the existing post has been seen",
		How:    "Open the decking or look from below: bolts, washers, blocking, hold-down. What cannot be seen is referred to the authority or an engineer.",
		Reason: "A post that stands may not stop a fall.", Source: practice})
}

// boltEdge is one bolt's distance from the edge of the framing. In most rule sets the least edge distance is practice with a
// source of its own, not a figure of theirs, and it binds whether or not a guard is required: every guard carries load.
func boltEdge(c *collector, key, title, how string, nominal length.Length) Check {
	k := Check{Key: key, Ask: AskLength, Title: title, How: how, Hold: true,
		Reason: "Too near the edge the wood splits out, and the distance between the bolts sets their pull.",
		Source: "tolerance: " + practice,
	}.near(nominal, c.either(length.Inch/4, 6*length.Millimetre), 0)
	f, found := c.Rules.Practice(codes.BoltEdgeMin)
	limit, ok := limitOf(f.Figure)
	if !found || !ok {
		return k
	}
	limit.Amended = f.SaidBy()
	k.Limits = append(k.Limits, limit)
	source := f.Source()
	if _, own := c.Rules.RuleSet().Figure(codes.BoltEdgeMin); !own {
		source += ", not a figure of this job's rule set"
	}
	return k.sourced(source)
}

// sleeveChecks are those of a post that stands in a sleeve.
func sleeveChecks(c *collector, p layout.Post) {
	sleeve := p.Sleeve
	if sleeve == nil {
		return
	}
	fit := c.either(length.Inch/16, 3*length.Millimetre/2)
	inside := Check{Key: "framing.sleeve_inside", Ask: AskLength, Hold: true, Title: "Inside of the sleeve", Sample: "the size furthest off of four",
		How:    "Measure both ways at the top and at the bottom; enter the size that is furthest off.",
		Reason: "Slack lets the guard lean, and a tight sleeve seizes when the post swells.",
		Source: practice}
	inside = inside.near(sleeve.Inside, fit, fit)
	if sleeve.Inside != sleeve.Planned {
		inside.Built, inside.Was = true, &sleeve.Planned
	} else {
		inside.How += " Measure the post first: the sleeve follows the post as it is."
	}
	c.add(inside)
	deep := c.either(length.Inch/8, 3*length.Millimetre)
	c.add(Check{Key: "framing.sleeve_depth", Ask: AskLength, Hold: true, Title: "Depth of the sleeve",
		How: "From the sleeve's top edge down to what the post stands on.", Reason: "The post's hold grows with its depth in the sleeve.",
		Source: practice}.near(sleeve.Height, deep, deep))
	c.add(Check{Key: "framing.sleeve_top", Ask: AskSigned, Hold: true, Title: "Sleeve top against the finished decking",
		How:    "Lay a decking offcut across beside the sleeve and read the step; minus is below the decking, plus is proud.",
		Reason: "A proud edge trips feet and holds water against the post; too low, the decking bears on the post.",
		Source: practice}.near(0, 0, c.either(length.Inch/8, 3*length.Millimetre)))
	c.add(Check{Key: "framing.sleeve_fixed", Ask: AskSeen, Hold: true, Title: "The sleeve is fixed on every side as laid out",
		How: holeWords(sleeve), Reason: "The sleeve carries the whole push on the guard.", Source: ownLayout})
	if c.Spec.SleeveMaterial == layout.SleeveSteel {
		c.add(Check{Key: "framing.sleeve_heads", Ask: AskSeen, Hold: true, Title: "Screws are driven through the opposite wall, heads tight on the wall against the framing",
			How:    "Look down the sleeve: each head sits flat inside the tube; no head is left on the opposite wall.",
			Reason: "A head left on the opposite wall pinches the tube and leaves it loose on the framing.", Source: practice})
	}
	c.add(Check{Key: "framing.sleeve_drain", Ask: AskSeen, Hold: true, Title: "The sleeve drains",
		How: "Pour a cup of water in and see it run out.", Reason: "Standing water rots the post where it works hardest.", Source: practice})
}

// holeWords says what to count a sleeve's fasteners against.
func holeWords(s *layout.Sleeve) string {
	if len(s.Holes) == 0 {
		return "The layout has no hole schedule for this sleeve: count the fasteners each side and note them."
	}
	return fmt.Sprintf("Count the fasteners against the schedule: %d holes, head access holes among them.", len(s.Holes))
}

// baseChecks are those of a post on a surface base.
func baseChecks(c *collector) {
	k := Check{Key: KeyBaseTest, Ask: AskSeen, Hold: true, Title: "The post base has a published guard-load test",
		How:    "File the test's sheet and read its height, load and fasteners. Given for this job: " + sentence(c.Spec.BaseTest),
		Reason: "An ordinary base holds a post up but hardly holds it upright.", Source: c.practiceSource(codes.LoadPostTest)}
	if c.Spec.BaseTest == "" {
		k.How = "None is named for this job: refer the base to the authority or an engineer, or change it."
	}
	c.add(k)
	c.add(Check{Key: "framing.base_fixed", Ask: AskSeen, Hold: true, Title: "The base is fixed through to blocking with the fasteners of its test",
		How:    "Look from below: solid blocking under the base, every fastener of the test's sheet in it.",
		Reason: "Decking alone does not hold the fasteners of a base.", Source: practice})
}
