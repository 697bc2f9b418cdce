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

// NewJoint is the joint of a run: before is the layout of the run that it starts at, nil for none; next is the run that goes on from
// its last post, zero for none.
func NewJoint(run Run, before *Layout, next Run) Joint {
	j := Joint{EndTurn: next.Turn, EndRun: next.Label, EndDoubled: next.Join == JoinDoubled, EndBy: next.JoinBy}
	if run.StartAt == "" || before == nil || len(before.Posts) == 0 {
		return j
	}
	switch run.Join {
	case JoinShared, "":
		j.Shared = before.Posts[len(before.Posts)-1].Label
	case JoinFirst:
		j.Shared = before.Posts[0].Label
	}
	if p := before.Posts[0]; j.Shared == p.Label && p.SharedAs != "" {
		j.Shared = p.SharedAs // it is a third run's post already
	}
	return j
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
