package layout

import (
	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Joint is what a run knows of its neighbours. The zero Joint is a run that stands alone.
type Joint struct {
	// Shared is the label that the post at the datum end already has in another run, empty where it is this run's own.
	Shared string
	// EndTurn is the degrees turned at the far end, for a mitre there; zero is taken as 90 at a corner.
	EndTurn int
	// EndRun is the label of the run that goes on at the far end, empty for none.
	EndRun string
	// EndDoubled says that the corner at the far end has two posts.
	EndDoubled bool
	// StartRun is the label of the run that goes off from the first post, empty for none.
	StartRun string
	// start and end are the corners at the ends of the run with the runs beyond them; nil where none is described.
	start, end *corner
	// startAngled and endAngled say that the deck turns there at an angle that is not square.
	startAngled, endAngled bool
	// across is the run beyond an opening at the datum end; nil without one.
	across *cornerSide
	// StartSquare and EndSquare say that the deck ends with the run there, at a square corner: its frame does. StartStraight says that
	// the run goes on in the line of the one that it starts at.
	StartSquare, EndSquare, StartStraight bool
	// DeckOn is the side of the run that the deck is on, as DeckSides has it; zero is taken as 1.
	DeckOn int
	// capStart and capEnd are how the cap meets those of other runs at either end, nil where none is there.
	capStart, capEnd *capJoint
	// endOpens says that another run goes on from the far end beyond an opening.
	endOpens bool
	// post is the post that this run shares as it stands, nil where none is shared.
	post *sharedPost
	// blocked says that the run which has the post shared here lays out its blocking.
	blocked bool
	// Mount is how the post that this run shares is mounted by the run that it belongs to; empty where none is shared.
	Mount string
	// Beside is how joists meet the run that this one starts at, empty where it is not said or that is a flight.
	Beside string
	// Bay is, for a run alongside the joists, the clear space beside the outer joist as the joists under the run BayBy leave it; zero
	// where none tells.
	Bay   length.Length
	BayBy string
	// BayAtEnd is what the joists under another run, BayEndBy, make of the same space, where that is something else.
	BayAtEnd length.Length
	BayEndBy string
}

// Followers maps the label of a run to the run that goes on from its last post: the first in order that shares that post or
// doubles it. Runs beyond an opening, or at the first post, do not.
func Followers(runs []Run) map[string]Run {
	next := map[string]Run{}
	for _, r := range runs {
		if _, taken := next[r.StartAt]; r.StartAt != "" && !taken && r.Join != JoinOpening && r.Join != JoinFirst {
			next[r.StartAt] = r
		}
	}
	return next
}

// Joints tells what the runs of a job share with their neighbours.
type Joints struct {
	runs  map[string]Run
	next  map[string]Run // that go on from the last post of each
	first map[string]Run // that start at the first post of each
	deck  deckSides
	opens map[string]bool    // that another goes on from beyond an opening
	meet  map[capPlace][]Run // that come to one place
	spec  Spec
	unit  length.Unit
}

// NewJoints takes the runs of a job in order, with its specification.
func NewJoints(runs []Run, spec Spec, unit length.Unit) Joints {
	j := Joints{runs: map[string]Run{}, next: Followers(runs), first: map[string]Run{}, deck: newDeckSides(runs), opens: map[string]bool{}, spec: spec, unit: unit}
	for _, r := range runs {
		j.runs[r.Label] = r
		j.opens[r.StartAt] = j.opens[r.StartAt] || r.Join == JoinOpening
		if _, taken := j.first[r.StartAt]; r.Join == JoinFirst && !taken {
			j.first[r.StartAt] = r
		}
	}
	j.meet = j.meetings(runs)
	return j
}

// deckOn is the side of a run that the deck is on.
func (j Joints) deckOn(run Run) int {
	side, _ := j.deck.of(run.Label)
	return side
}

// specOf is the specification of a run; its faults stand in that run's layout.
func (j Joints) specOf(run Run) Spec {
	spec, _ := j.spec.With(run.Overrides, j.unit)
	return spec
}

// side is what a run brings to a corner.
func (j Joints) side(run Run) cornerSide {
	return sideOf(run, j.specOf(run))
}

// corner is the corner at the datum end of a run, as the run sees it, that it makes with the run that it starts at; nil where that is not one of the
// job's, or its post is another's corner already.
func (j Joints) corner(run Run) *corner {
	before, ok := j.runs[run.StartAt]
	if !ok || run.StartAt == "" || run.Join == JoinOpening || run.Join == JoinFirst && !j.offFirst(run) {
		return nil
	}
	c := &corner{own: j.side(run), other: j.side(before), turn: turnOf(run.Turn), doubled: run.Join == JoinDoubled}
	switch {
	case run.Join == JoinFirst:
		c.turn = turnOf(180 - run.Turn) // both go off from the post
	case c.turn == 0 && before.End == EndCorner:
		c.turn = 90
	}
	if c.doubled {
		c.by = run.JoinBy
	}
	return c
}

// offFirst says whether a run makes a corner with another at its first post: the first to go off there, where that post is in no other corner.
func (j Joints) offFirst(run Run) bool {
	other := j.runs[run.StartAt]
	return run.Join == JoinFirst && other.StartAt == "" && j.first[other.Label].Label == run.Label && run.Kind != Rake && other.Kind != Rake
}

// Of is the joint of a run; before is the layout of the run that it starts at, nil for none.
func (j Joints) Of(run Run, before *Layout) Joint {
	joint := j.ends(run)
	joint.capStart, joint.capEnd, joint.endOpens = j.capStart(run), j.capEnd(run), j.opens[run.Label]
	if bay, ok := j.bayOfNext(j.next[run.Label]); ok && joint.EndSquare && joint.EndRun != "" {
		joint.Bay, joint.BayBy = bay, joint.EndRun
	}
	if bay, ok := j.bayOfNext(j.first[run.Label]); ok && joint.StartSquare && joint.StartRun != "" {
		joint.startBay(bay, joint.StartRun)
	}
	if run.StartAt == "" || before == nil || len(before.Posts) == 0 {
		return joint
	}
	switch run.Join {
	case JoinShared, "":
		joint.Shared = before.Posts[len(before.Posts)-1].Label
	case JoinFirst:
		joint.Shared = before.Posts[0].Label
	}
	if p := before.Posts[0]; joint.Shared == p.Label && p.SharedAs != "" {
		joint.Shared = p.SharedAs // it is a third run's post already
	}
	other := j.runs[run.StartAt]
	if joint.Shared != "" {
		joint.Mount = j.specOf(other).PostMount
		joint.post = j.sharedPost(run, before)
		joint.blocked = other.Kind != Rake && before.Frame != nil
	}
	if other.Kind != Rake && (run.Join != JoinFirst || j.offFirst(run)) {
		j.beside(&joint, run, other, before)
	}
	return joint
}

// startBay takes over the outer bay that another run makes at the datum end, before that which one makes at the far end.
func (joint *Joint) startBay(bay length.Length, by string) {
	if joint.Bay > 0 && joint.Bay != bay {
		joint.BayAtEnd, joint.BayEndBy = joint.Bay, joint.BayBy
	}
	joint.Bay, joint.BayBy = bay, by
}

// ends is what the joint of a run follows from without any layout: how its frame ends, and at which corners.
func (j Joints) ends(run Run) Joint {
	next, follows := j.next[run.Label]
	joint := Joint{DeckOn: j.deckOn(run), EndTurn: next.Turn, EndRun: next.Label, EndDoubled: next.Join == JoinDoubled}
	joint.EndSquare = run.End == EndCorner
	if follows {
		joint.EndSquare = next.Kind != Rake && j.square(next, run)
		end := j.corner(next).flipped()
		joint.end = &end
		joint.endAngled = next.Kind != Rake && !joint.EndSquare && j.inward(next, run)
	}
	joint.start = j.corner(run)
	if other, ok := j.runs[run.StartAt]; ok && run.Join == JoinOpening {
		side := j.side(other)
		joint.across = &side
	}
	joint.StartSquare = run.StartAt == "" && run.Start == EndCorner
	first := j.first[run.Label]
	joint.StartRun = first.Label
	if j.offFirst(first) {
		start := j.corner(first).flipped()
		joint.start = &start
		joint.StartSquare = j.square(first, run)
		joint.startAngled = !joint.StartSquare && j.inward(first, run)
	}
	if other, ok := j.runs[run.StartAt]; ok && run.StartAt != "" && other.Kind != Rake {
		joint.StartSquare = j.square(run, other)
		joint.startAngled = !joint.StartSquare && joint.start != nil && j.inward(run, other)
	}
	return joint
}

// goesStraight says whether a run goes on in the line of the one that it starts at.
func (r Run) goesStraight() bool {
	if r.Join == JoinFirst {
		return wrap(r.Turn) == 180
	}
	return r.Turn == 0
}

// inward says whether a run goes off from an end of another towards its deck.
func (j Joints) inward(run, other Run) bool {
	t := wrap(run.Turn * j.deckOn(other))
	return t > 0 && t < 180
}

// square says whether a run goes off square from an end post of another, with the deck inside the corner.
func (j Joints) square(run, other Run) bool {
	switch {
	case run.Join == JoinOpening || run.Join == JoinFirst && !j.offFirst(run):
		return false
	case run.Turn == 0 && run.Join != JoinFirst:
		return other.End == EndCorner
	}
	return run.Turn == 90*j.deckOn(other)
}

// beside takes over what the frame under the level run before this one says.
func (j Joints) beside(joint *Joint, run, other Run, before *Layout) {
	joint.StartStraight = run.goesStraight() && !joint.StartSquare
	joint.Beside = other.Joists
	switch bay, ok := outerBay(other, j.specOf(other), before.Frame, run.Join != JoinFirst); {
	case joint.StartSquare && ok:
		joint.startBay(bay, other.Label)
	case joint.StartStraight && before.Frame != nil && before.Frame.BayBy != "":
		joint.Bay, joint.BayBy = before.Frame.Bay, before.Frame.BayBy
	}
}

// bayOfNext is the outer bay at the datum end of the run that goes on from a square corner, by the frame under that run.
func (j Joints) bayOfNext(next Run) (length.Length, bool) {
	if next.Kind == Rake || next.Joists != JoistsAcross {
		return 0, false
	}
	joint := j.ends(next)
	if next.Join != JoinDoubled {
		joint.post = j.sharedPost(next, nil)
	}
	w := newWork(Input{Run: next, Spec: j.spec, Unit: j.unit, Joint: joint})
	all := w.supports()
	if all == nil {
		return 0, false
	}
	w.frame(all)
	return outerBay(next, w.spec, w.out.Frame, false)
}

// endTurn is the turn at the far end.
func (w *work) endTurn() int {
	if w.in.Joint.EndTurn == 0 {
		return 90
	}
	return w.in.Joint.EndTurn
}

// corner says how the run joins the one that it starts at, and holds a doubled corner to the opening limit.
func (w *work) corner() {
	w.sharedMeets()
	switch {
	case w.run.StartAt == "":
		return
	case w.run.Join == JoinOpening && w.run.JoinBy <= 0:
		w.problem(w.run.Label, "join_by", "Enter the opening left between %s and this run: without it the run cannot be drawn in its place.", w.run.StartAt)
	case w.run.Join == JoinOpening:
		w.say("Joint: an opening of %s is left between the last post of %s and the first of this run. It is no bay: nothing guards it but what is built there.", w.text(w.run.JoinBy), w.run.StartAt)
	case w.run.Join == JoinDoubled:
		back, limit := w.startBack(), limitOf(w.in.Rules, codes.OpeningLevel, w.style)
		c := w.startCorner()
		gap := c.gap(bare, back)
		w.say("Joint: a corner of two posts. Where the centre lines of %s and this run meet is the corner; the centre of each post stands %s back from it, and %s is clear between them.", w.run.StartAt, w.text(back), w.text(gap))
		switch held := c.gap(socket, back); {
		case gap < 0:
			w.problem(w.run.Label, "join_by", "The two posts of the corner with %s overlap by %s: set each back by %s or more.", w.run.StartAt, w.text(-gap), w.text(c.least()))
		case held < 0:
			w.problem(w.run.Label, "join_by", "At the corner with %s the %s of this run stands %s in the %s of that one: set each post back by %s or more.", w.run.StartAt, c.own.socketName(), w.text(-held), c.other.socketName(), w.text(c.least()))
		case !limit.passes(gap):
			value, _ := limit.against(gap, w.style)
			w.problem(w.run.Label, "join_by", "The gap of %s between the two posts of the corner with %s is not %s: set them closer or close it.", value, w.run.StartAt, limit.words)
		}
	}
}
