package checklist

import (
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// postTopsPost is what each post's top owes. Where posts end under the cap rail, sealing is part of the caps.
func postTopsPost(c *collector, p layout.Post) {
	if !c.capped() || c.Spec.PostsAtCap == layout.PostsThroughCap {
		k := Check{Key: "post_tops.cap_size", Ask: AskLength, Title: "Inside of the post cap",
			How:    "Measure the cap's inside before it goes on.",
			Reason: "A cap that is forced on splits and a loose one blows off, so it is bought for the post as measured.", Source: practice}
		size := c.either(length.Inch/8, 3*length.Millimetre)
		if measured, ok := c.MeasuredPost[p.Number]; ok {
			planned := c.Spec.PostWidth
			k = k.near(measured, size, 0)
			k.Built, k.Was = true, &planned
		} else {
			k = k.near(c.Spec.PostWidth, size, 0)
		}
		c.add(k)
		c.add(Check{Key: "post_tops.end_sealed", Ask: AskSeen, Title: "The post's end grain is sealed",
			How: "Look at the cut end before the post cap hides it.", Reason: "End grain drinks.", Source: practice})
	}
	c.add(Check{Key: "post_tops.firm", Ask: AskSeen, Title: "The post stands firm when pushed by hand",
		How:    "Push and pull at the top, in and out; this is no load test.",
		Reason: "A loose bolt or sleeve shows first at the top.", Source: practice})
}
