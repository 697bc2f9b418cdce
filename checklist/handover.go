package checklist

import (
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// handoverRun is what each run owes at handover.
func handoverRun(c *collector) {
	c.add(photo("handover.photo_run", PhotoWanted, "the finished run", "the whole run from inside and from outside",
		"From each end or square on, the label in the frame.", "It shows what was handed over."))
	if c.Run.Kind == layout.Removable {
		removable(c)
	}
}

// removable is what a length of guard that lifts out owes.
func removable(c *collector) {
	c.add(Check{Key: "handover.lifts_out", Ask: AskSeen, Title: "The length lifts out and goes back by hand",
		How: "Lift it out and refit it with the people who will do it.", Reason: "A length that jams is left out.", Source: practice})
	c.add(Check{Key: "handover.own_frame", Ask: AskSeen, Title: "Every part of the length is held by its own frame, none by a fixed post or a neighbour",
		How: "Look at each rail's end, the cap and the infill before it is lifted.", Reason: "A part that stays behind, or that is torn off its neighbour, is found with the length in the air.", Source: practice})
	if c.Layout.Lift != nil && c.Layout.Lift.Side > 0 {
		side := c.either(length.Inch/8, 3*length.Millimetre)
		c.add(Check{Key: "handover.side_clearance", Ask: AskLength, Title: "Clearance to the fixed neighbour, the tighter side",
			How: "At its least, top to bottom.", Reason: "The length must pass its neighbours as it lifts.", Source: practice,
		}.near(c.Layout.Lift.Side, side, side))
	}
	c.add(Check{Key: "handover.lock", Ask: AskSeen, Title: "The length is locked and cannot be lifted without meaning to",
		How: "Lock it, then try to lift it.", Reason: "A guard that lifts under a lean is no guard.", Source: practice})
	c.add(Check{Key: "handover.sleeve_covers", Ask: AskSeen, Title: "Covers for the empty sleeves are there and fit",
		How: "Lift the length out and put each cover on.", Reason: "An open sleeve fills with dirt and catches a foot.", Source: practice})
	c.add(Check{Key: KeyOwnerTold, Ask: AskSeen, Title: "The owner was told what a removable length means and says so in writing",
		How:    "Say that the opening is a fall hazard while it is out, and that most places do not accept a removable length as a required guard.",
		Reason: "While it is out nothing stops a fall; under a permit the authority answers for it.", Source: practice})
}

// handoverJob is what the job owes at handover.
func handoverJob(c *collector) {
	c.add(Check{Key: "handover.care", Ask: AskSeen, Title: "The owner was shown how to look after the guard",
		How: "Walk along it with the care page in hand.", Reason: "Fixings loosen and finishes wear.", Source: practice})
	c.add(Check{Key: "handover.scope", Ask: AskSeen, Title: "What was not built or checked by this builder has been said",
		How: "Frame, ledger, footings and whatever else was there before.", Reason: "A guard is no better than what it stands on.", Source: practice})
}
