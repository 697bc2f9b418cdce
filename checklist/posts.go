package checklist

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// postsPost is what each post owes once it stands.
func postsPost(c *collector, p layout.Post) {
	size := c.either(length.Inch/8, 3*length.Millimetre)
	for _, face := range []struct {
		key, title string
		nominal    length.Length
	}{
		{KeyPostWidth, "Width of the post, the face seen along the run", c.Spec.PostWidth},
		{KeyPostDepth, "Depth of the post, the face across the run", c.Spec.PostDepth},
	} {
		c.add(Check{Key: face.key, Ask: AskLength, Title: face.title, How: "Across the face, near the rail height.",
			Reason: "Sleeves, post caps and clear openings follow the post as it is, not as the yard calls it.",
			Source: practice}.near(face.nominal, size, size))
	}
	c.add(c.moisture("posts.moisture", "Moisture of the post", "On two faces, away from knots and ends; enter the higher.", "the higher of two faces", c.Spec.PostMoisture,
		"Wet posts loosen in bolts and sleeves as they dry, and what is cut to fit them then no longer does.",
		"Enter the posts as wet in the specification, or let them dry before anything is cut to them.",
		"Enter the posts as dry in the specification: they have shrunk already, and swell in the weather."))
	plumb(c, "posts", "post")
	c.add(c.overDecking(Check{Key: KeyPostTop, Ask: AskLength, Title: "Height of the post's top",
		How:    "From the one reference for all heights: " + sentence(c.reference()) + topWords(p),
		Reason: "Cap and finished height rest on it.", Source: ownTolerance,
	}.near(c.onGrid(p.Top), c.Spec.TolHeight, c.Spec.TolHeight), 0))
}

// topWords says where to read a top that falls with a flight.
func topWords(p layout.Post) string {
	if p.TopCut == nil || p.TopCut.Shape == layout.TopSquare || p.Stand != nil {
		return ""
	}
	return " Its top is cut to the rake: read it at the uphill face, the higher one."
}

// postsRun is what the posts of a run owe together.
func postsRun(c *collector) {
	c.add(Check{Key: "posts.one_reference", Ask: AskSeen, Title: "Every height of the run was taken from the same reference",
		How:    "Compare how each post was read: " + sentence(c.reference()) + " Note any that was taken from elsewhere, such as the framing or a post's top.",
		Reason: "A height from the framing on one post and from the decking on the next differs by the decking, and the figures do not show it.", Source: practice})
}

// reference is what the run's heights are measured from, in words.
func (c *collector) reference() string {
	switch {
	case c.Layout.Heights.Datum != "":
		return lowerFirst(c.Layout.Heights.Datum)
	case c.rake():
		return "the nosing line, plumb"
	}
	return "the finished decking"
}

// postsBay is the clear opening of each bay as built. Rails and infill are computed again from it.
func postsBay(c *collector, b layout.Bay) {
	reason := fmt.Sprintf("Rails and infill are cut to the opening as it is; bottom and top more than %s apart ask for plumb posts.", c.text(c.Spec.TolOpening))
	if m := b.Measured; m != nil && m.Bottom > 0 && m.Top > 0 {
		if apart := (m.Top - m.Bottom).Abs(); apart > c.Spec.TolOpening {
			by, most := apart.FormatAgainst(c.Spec.TolOpening, c.Style)
			reason = fmt.Sprintf("Bottom and top as measured are %s apart, more than %s: look at the plumb of both posts before cutting.", by, most)
		}
	}
	for _, at := range []struct{ key, title, how string }{
		{KeyOpeningBottom, "Clear opening at the bottom rail", "Level, face to face, at the height of the bottom rail."},
		{KeyOpeningTop, "Clear opening at the top rail", "Level, face to face, at the height of the top rail."},
	} {
		k := Check{Key: at.key, Ask: AskLength, Title: at.title, How: at.how + c.toWall(b), Reason: reason, Source: ownTolerance}
		if b.Planned != nil {
			planned := b.Planned.ClearBottom
			if at.key == KeyOpeningTop {
				planned = b.Planned.ClearTop
			}
			k = k.near(planned, c.Spec.TolPostCentre, c.Spec.TolPostCentre)
		}
		c.add(k)
	}
}

// toWall says to what face of a wall an opening is measured; empty between posts.
func (c *collector) toWall(b layout.Bay) string {
	for _, e := range c.Layout.Walls {
		if e.Far && b.ToPost != 0 || !e.Far && b.FromPost != 0 {
			continue
		}
		if e.Siding() == 0 {
			return " It ends at the finished face of the wall."
		}
		return fmt.Sprintf(" It ends at the finished face of the wall: while %s is still to come on it, hold a block as thick against the wall and measure to that.", c.text(e.Siding()))
	}
	return ""
}
