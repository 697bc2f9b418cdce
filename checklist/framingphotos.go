package checklist

import (
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

const hides = "Decking hides this for good."

// keyPhotoPermit is the check for the permit itself, which cannot have the permit in view besides.
const keyPhotoPermit = "framing.photo_permit"

// framingPhotos are the photographs that each post owes before its run is covered.
func framingPhotos(c *collector) {
	c.add(photo("framing.photo_wide", PhotoHold, "the post in its place", "the post with its label and both neighbours",
		"Stand back; hold the written label in the frame.", "It ties the close pictures to their place, and decking hides this for good."))
	inside, outside := "the inside face square on: blocking, both bolts and any hold-down", "the outside face: bolt heads, washers, the post not notched"
	switch c.Spec.PostMount {
	case layout.MountSleeve:
		inside, outside = "the inside face square on: blocking, the sleeve and its fixings", "the outside face: the sleeve, its fixings and what they bear on"
	case layout.MountBase:
		inside, outside = "the framing under the base square on: blocking and fasteners", "the base from above: its label and every fastener"
	}
	c.add(photo("framing.photo_inside", PhotoHold, "inside face", inside, "Square on, near enough to read the hold-down's label.", hides))
	c.add(photo("framing.photo_outside", PhotoHold, "outside face", outside, "Square on, the full depth of the framing in the frame.", hides))
	switch c.Spec.PostMount {
	case layout.MountSleeve:
		c.add(photo("framing.photo_sleeve_inside", PhotoHold, "down inside the sleeve", "the screw heads and the drain",
			"Straight down with a light.", "Nobody sees in there again without lifting the guard out."))
		c.add(photo("framing.photo_sleeve_depth", PhotoHold, "depth of the sleeve", "a tape standing in the sleeve, its figure readable at the top edge",
			"Eye level with the sleeve's top.", "It shows the reading that was entered, and decking hides this for good."))
		c.add(photo("framing.photo_sleeve_top", PhotoHold, "top of the sleeve", "the sleeve's top against a decking offcut",
			"From the side, low down.", "It shows the step that the decking will make."))
	case layout.MountBase:
	default:
		c.add(photo("framing.photo_edges", PhotoHold, "bolt edge distances", "a tape in the frame at both bolts' edge distances, its figures readable",
			"Square on, the tape flat against the wood.", "It shows the readings that were entered, and decking hides this for good."))
	}
}

// ReadOff says whether figures or letters are to be read off the check's photographs: of anything measured, and of a tape, a label or
// the permit. Such a picture is shown larger on paper than one that only shows how something stands.
func (c Check) ReadOff() bool {
	switch c.Key {
	case "framing.photo_edges", "framing.photo_sleeve_depth", "framing.photo_labels", keyPhotoPermit:
		return true
	}
	return c.Ask == AskLength || c.Ask == AskSigned || c.Ask == AskGap || c.Ask == AskCount
}

// framingRun is what each run owes once before it is covered.
func framingRun(c *collector) {
	stairRun(c)
	wallEnds(c)
	title, along, across := "the joist bays", "the joist bays along the run, before decking", "the joist bays across the run, before decking"
	if c.rake() {
		title, along, across = "the stair's framing", "the stringers and blocking from the foot, before treads", "the stringers and blocking from the side, before treads"
	}
	c.add(photo("framing.photo_joists_along", PhotoHold, title+", along the run", along, "From one end, the whole run in the frame.", hides))
	c.add(photo("framing.photo_joists_across", PhotoHold, title+", across the run", across, "From the middle of the run.", hides))
}

// wallEnds is what an end at a wall owes: the siding hides what the rail is fixed to.
func wallEnds(c *collector) {
	for _, end := range []struct {
		key, words string
		kind       layout.EndKind
	}{{"start", "datum", c.Run.Start}, {"end", "far", c.Run.End}} {
		if end.kind != layout.EndWall {
			continue
		}
		c.add(Check{Key: "framing.wall_" + end.key, Ask: AskSeen, Hold: true, Title: "Wall at the " + end.words + " end: there is framing or blocking behind the siding for the rails, and flashing over what goes through it",
			How:    "Look before siding goes on, or find the studs; screws go into them and not into siding or sheathing alone, and every hole is flashed or sealed.",
			Reason: "Siding holds no screw, and water that gets in behind it rots the wall.", Source: practice})
	}
}

// framingJob is what the job owes once.
func framingJob(c *collector) {
	letters := c.text(c.either(length.Inch/8, 3*length.Millimetre))
	c.add(photo("framing.photo_labels", PhotoHold, "labels of fasteners and hangers", "the labels of bolts, screws, hold-downs, hangers and bases",
		"Fill the frame with each label: letters "+letters+" high must be readable.",
		"An inspector must be able to see that the right fasteners were used, and the boxes are gone by then."))
	c.add(photo(keyPhotoPermit, PhotoHold, "the permit", "the permit as it is posted, its number readable",
		"Square on; where the job has no permit, say so.", "Some authorities tie every picture to the permit."))
}
