package layout

import (
	"math"

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
	// EndDoubled says that the corner at the far end has two posts, EndBy back from the corner (zero for the least).
	EndDoubled bool
	EndBy      length.Length
	// StartSquare and EndSquare say that the deck ends with the run there, at a square corner: its frame does. StartStraight says that
	// the run goes on in the line of the one that it starts at.
	StartSquare, EndSquare, StartStraight bool
	// DeckOn is the side of the run that the deck is on, as DeckSides has it; zero is taken as 1.
	DeckOn int
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
	runs, next map[string]Run
	side       map[string]int
	spec       Spec
	unit       length.Unit
}

// NewJoints takes the runs of a job in order, with its specification.
func NewJoints(runs []Run, spec Spec, unit length.Unit) Joints {
	j := Joints{runs: map[string]Run{}, next: Followers(runs), side: DeckSides(runs), spec: spec, unit: unit}
	for _, r := range runs {
		j.runs[r.Label] = r
	}
	return j
}

// DeckSides maps the labels of runs to the side of them that the deck is on, 1 for the right of the way along and -1 for the left: the
// side to which the level runs that are joined turn more.
func DeckSides(runs []Run) map[string]int {
	outline, turned := map[string]string{}, map[string]int{} // outline is named by its first run
	for _, r := range runs {
		of, joined := outline[r.StartAt]
		if !joined || r.StartAt == "" {
			of = r.Label
		} else if r.Kind != Rake {
			turned[of] += r.Turn
		}
		outline[r.Label] = of
	}
	sides := map[string]int{}
	for label, of := range outline {
		sides[label] = 1
		if turned[of] < 0 {
			sides[label] = -1
		}
	}
	return sides
}

// specOf is the specification of a run; its faults stand in that run's layout.
func (j Joints) specOf(run Run) Spec {
	spec, _ := j.spec.With(run.Overrides, j.unit)
	return spec
}

// Of is the joint of a run; before is the layout of the run that it starts at, nil for none.
func (j Joints) Of(run Run, before *Layout) Joint {
	next, follows := j.next[run.Label]
	joint := Joint{DeckOn: j.side[run.Label], EndTurn: next.Turn, EndRun: next.Label, EndDoubled: next.Join == JoinDoubled, EndBy: next.JoinBy}
	joint.EndSquare = run.End == EndCorner
	if follows {
		joint.EndSquare = next.Kind != Rake && j.square(next, run.End)
	}
	if bay, ok := j.bayOfNext(next); ok && follows && joint.EndSquare {
		joint.Bay, joint.BayBy = bay, next.Label
	}
	joint.StartSquare = run.StartAt == "" && run.Start == EndCorner
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
	}
	if other.Kind != Rake && run.Join != JoinFirst {
		j.beside(&joint, run, other, before)
	}
	return joint
}

// square says whether a run turns square from the last post of the one before it, with the deck inside the corner; end is how that one
// ends.
func (j Joints) square(run Run, end EndKind) bool {
	if run.Join == JoinOpening || run.Join == JoinFirst {
		return false
	}
	return run.Turn == 90*j.side[run.Label] || run.Turn == 0 && end == EndCorner
}

// beside takes over what the frame under the level run before this one says.
func (j Joints) beside(joint *Joint, run, other Run, before *Layout) {
	joint.StartSquare = j.square(run, other.End)
	joint.StartStraight = run.Turn == 0 && !joint.StartSquare
	joint.Beside = other.Joists
	switch bay, ok := outerBay(other, j.specOf(other), before.Frame, true); {
	case joint.StartSquare && ok:
		if joint.Bay > 0 && joint.Bay != bay {
			joint.BayAtEnd, joint.BayEndBy = joint.Bay, joint.BayBy
		}
		joint.Bay, joint.BayBy = bay, other.Label
	case joint.StartStraight && before.Frame != nil && before.Frame.BayBy != "":
		joint.Bay, joint.BayBy = before.Frame.Bay, before.Frame.BayBy
	}
}

// bayOfNext is the outer bay at the datum end of the run that goes on from a square corner, from its own joists and its posts as planned.
func (j Joints) bayOfNext(next Run) (length.Length, bool) {
	spec := j.specOf(next)
	deep, back, centre := spec.PostDepth, length.Length(0), length.Length(0)
	if spec.PostMount == MountSleeve {
		deep = spec.sleeveOutside(spec.postSize())
	}
	if next.LengthOver == OverFaces {
		centre = spec.PostWidth / 2
	}
	if next.Join == JoinDoubled {
		back = cornerBack(spec, next.Turn, next.JoinBy)
	}
	near := centre - cornerFace(back, deep) - spec.JoistWidth
	f := &Frame{Start: firstOf(next, spec, near)}
	if next.FirstJoist == 0 {
		f = &Frame{First: near + spec.JoistWidth/2}
	}
	return outerBay(next, spec, f, false)
}

// endTurn is the turn at the far end.
func (w *work) endTurn() int {
	if w.in.Joint.EndTurn == 0 {
		return 90
	}
	return w.in.Joint.EndTurn
}

// cornerLeast is the least set-back at which the two posts of a doubled corner do not overlap: each keeps to its side of the line
// that halves the corner. Half the width and half the depth times the tangent of half the turn, up to the grid.
func cornerLeast(s Spec, turn int) length.Length {
	if turn%180 == 0 {
		return s.PostWidth / 2
	}
	half := math.Abs(float64(turn)) * math.Pi / 360
	least := s.PostWidth/2 + length.Length(math.Ceil(float64(s.PostDepth)/2*math.Tan(half)-1e-3))
	if s.Grid > 0 {
		least = least.RoundUp(s.Grid)
	}
	return least
}

// cornerBack is how far each post of a doubled corner stands back from it, centre to corner.
func cornerBack(s Spec, turn int, by length.Length) length.Length {
	if by > 0 {
		return by
	}
	return cornerLeast(s, turn)
}

// cornerGap is the clear distance between the two posts of a doubled corner, to the nearest nanometre; negative where they overlap.
func cornerGap(s Spec, turn int, back length.Length) length.Length {
	half := math.Abs(float64(turn)) * math.Pi / 360
	return nearestNM(2 * (float64(back-s.PostWidth/2)*math.Cos(half) - float64(s.PostDepth)/2*math.Sin(half)))
}

// startBack and endBack are the set-backs at the ends of the run, nothing where one post stands in the corner.
func (w *work) startBack() length.Length {
	if w.run.StartAt == "" || w.run.Join != JoinDoubled {
		return 0
	}
	return cornerBack(w.spec, w.run.Turn, w.run.JoinBy)
}

func (w *work) endBack() length.Length {
	if !w.in.Joint.EndDoubled {
		return 0
	}
	return cornerBack(w.spec, w.endTurn(), w.in.Joint.EndBy)
}

// corner says how the run joins the one that it starts at, and holds a doubled corner to the opening limit.
func (w *work) corner() {
	w.sharedPost()
	switch {
	case w.run.StartAt == "":
		return
	case w.run.Join == JoinOpening && w.run.JoinBy <= 0:
		w.problem(w.run.Label, "join_by", "Enter the opening left between %s and this run: without it the run cannot be drawn in its place.", w.run.StartAt)
	case w.run.Join == JoinOpening:
		w.say("Joint: an opening of %s is left between the last post of %s and the first of this run. It is no bay: nothing guards it but what is built there.", w.text(w.run.JoinBy), w.run.StartAt)
	case w.run.Join == JoinDoubled:
		back, limit := w.startBack(), limitOf(w.in.Rules, codes.OpeningLevel, w.style)
		gap := cornerGap(w.spec, w.run.Turn, back)
		w.say("Joint: a corner of two posts. Where the centre lines of %s and this run meet is the corner; the centre of each post stands %s back from it, and %s is clear between them.", w.run.StartAt, w.text(back), w.text(gap))
		switch {
		case gap < 0:
			w.problem(w.run.Label, "join_by", "The two posts of the corner with %s overlap: set each back by %s or more.", w.run.StartAt, w.text(cornerLeast(w.spec, w.run.Turn)))
		case !limit.passes(gap):
			value, _ := limit.against(gap, w.style)
			w.problem(w.run.Label, "join_by", "The gap of %s between the two posts of the corner with %s is not %s: set them closer or close it.", value, w.run.StartAt, limit.words)
		}
	}
}
