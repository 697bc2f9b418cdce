package checklist

import (
	"fmt"

	"newelbook/checklist/layout"
)

// capsPost is what each post that ends under the cap owes before the cap hides its top: post-top protection is part of
// the caps there.
func capsPost(c *collector, _ layout.Post) {
	if !c.capped() || c.Spec.PostsAtCap == layout.PostsThroughCap {
		return
	}
	c.add(Check{Key: "caps.end_sealed", Ask: AskSeen, Title: "The post's end grain is sealed before the cap goes on",
		How: "Look at the cut end: wet with sealer to its edges.", Reason: "End grain drinks, and the cap hides it.", Source: practice})
}

// capsRun is what the cap rail of the run owes.
func capsRun(c *collector) {
	if !c.capped() {
		return
	}
	for _, at := range []struct{ key, words string }{{"start", "datum end"}, {"middle", "middle"}, {"end", "far end"}} {
		c.add(Check{Key: "caps.overhang_" + at.key, Ask: AskLength, Title: "Overhang of the cap at the " + at.words + " of the run",
			How: "From the outside face of the posts, or a string along them, out to the cap's edge; the same reference at all three places.", Sample: "three stations of the run",
			Reason: "One reference keeps the cap straight where posts are not.", Source: ownTolerance,
		}.near(c.Spec.CapOverhang, c.Spec.TolOverhang, c.Spec.TolOverhang).measuredFrom(FromPostFace, Otherwise{From: FromString, Alike: true}, Otherwise{From: FromRail}))
	}
	first, last := c.throughEnds()
	for _, at := range []struct {
		key, words, how string
		post            int
	}{
		{"start", "at the datum end", "At the end of the run. ", first},
		{"end", "at the far end", "At the end of the run. ", last},
		{"lowest", "where it is least", "Where the guard stands least above the surface: over the highest decking, or the nosing nearest the cap. ", 0},
	} {
		c.add(c.overDecking(c.heldToHeight(Check{Key: "caps.height_" + at.key, Ask: AskLength, Title: "Finished height " + at.words,
			Sample: "three places of the run", How: at.how + "Measured from " + sentence(c.surface()),
			Reason: "It is the height that stops a fall; wood shrinks, so a guard set at its limit can fall under it.",
			Source: "tolerance: the job's own",
		}.near(c.onGrid(c.Layout.Heights.Finished), c.Spec.TolHeight, c.Spec.TolHeight)), at.post))
	}
	c.add(Check{Key: "caps.fixings", Ask: AskSeen, Title: "The cap is fixed at every post and along the rail",
		How: "Look from below; lift it by hand.", Reason: "The cap carries load only where it really is fixed.", Source: practice})
	if len(c.Layout.Cap) > 1 {
		c.add(Check{Key: "caps.joints", Ask: AskSeen, Title: "Joints of the cap lie over posts",
			How: "Look at each joint: both ends bear on the post and are fixed.", Reason: "A joint between posts is a hinge.", Source: practice})
	}
	start, end := c.Layout.CapMitred()
	for _, at := range []struct {
		key, words string
		mitred     bool
	}{{"start", "datum", start}, {"end", "far", end}} {
		if at.mitred {
			c.add(Check{Key: "caps.mitre_" + at.key, Ask: AskLength, Title: "Gap of the mitre at the " + at.words + " end",
				How: "At its widest, top face.", Reason: "An open mitre takes water into the end grain.", Source: ownTolerance,
			}.near(0, c.Spec.TolMitre, 0))
		}
	}
	if c.rake() {
		c.add(Check{Key: "caps.rake_ends", Ask: AskSeen, Title: fmt.Sprintf("Ends of the raked cap are cut %s", c.rakeEnd()),
			How: "A level or square against each end.", Reason: "It is what the drawing has, and what the next piece meets.", Source: ownLayout})
		c.add(handrail(c))
		handrailHeight(c)
	}
}

// throughEnds are the first and the last post where posts pass through the cap, so that a height can be taken down from their tops; 0 for
// none.
func (c *collector) throughEnds() (first, last int) {
	if n := len(c.Layout.Posts); n > 0 && c.Spec.PostsAtCap == layout.PostsThroughCap {
		return c.Layout.Posts[0].Number, c.Layout.Posts[n-1].Number
	}
	return 0, 0
}

// surface is what finished heights are measured from.
func (c *collector) surface() string {
	if c.rake() {
		return "the line of the nosings, plumb"
	}
	return "the finished decking beside the guard"
}

// rakeEnd is the end cut of a raked cap.
func (c *collector) rakeEnd() string {
	if c.Spec.CapRakeEnd == "" {
		return layout.EndPlumb
	}
	return c.Spec.CapRakeEnd
}

// handrail asks whether the flight has the handrail that it needs.
func handrail(c *collector) Check {
	k := Check{Key: "caps.handrail", Ask: AskSeen, Title: "The flight has a handrail that a hand can close on, unbroken from end to end",
		How:    "Close a hand round it all the way; where none is asked for answer not applicable and say so.",
		Reason: "A flat cap is not a handrail.", Source: practice}
	if st := c.Layout.Stair; st != nil {
		for _, says := range []string{st.Handrail, st.Grip} {
			if says != "" {
				k.How += " " + sentence(says)
			}
		}
	}
	return k
}
