package layout

import (
	"math"

	"newelbook/checklist/length"
)

// sharedPost is a post as the run that it belongs to has it, for another that starts at it.
type sharedPost struct {
	of         string // label of the run that it belongs to
	wide, deep length.Length
	turned     float64       // degrees clockwise from the run that starts there
	through    bool          // it passes through its own run's cap
	wall       bool          // that run ends at a wall there, so that there is none
	level      *Post         // as laid out, of a level run; nil on a flight and where that is not made
	cap        length.Length // thickness of its run's cap, zero without one
}

// sharedPost is the post that a run starts at; before is the layout of the run that has it at one of its ends, nil where that is not made.
func (j Joints) sharedPost(run Run, before *Layout) *sharedPost {
	other := j.runs[run.StartAt]
	of, turned := j.postOf(run, len(j.runs))
	spec := j.specOf(of)
	p := &sharedPost{of: of.Label, wide: spec.PostWidth, deep: spec.PostDepth, turned: turned, through: spec.PostsAtCap == PostsThroughCap}
	if spec.capOver() {
		p.cap = spec.CapThickness
	}
	switch {
	case before == nil || of.Kind == Rake:
	case run.Join == JoinFirst:
		p.level = &before.Posts[0]
	default:
		p.level = &before.Posts[len(before.Posts)-1]
	}
	p.wall = run.Join == JoinFirst && other.Start == EndWall || run.Join != JoinFirst && other.End == EndWall
	return p
}

// postOf is the run that has the post at a run's datum end as its own, and how many degrees clockwise it is turned from the run asked about;
// of no more than so many runs that share their first posts.
func (j Joints) postOf(run Run, most int) (of Run, turned float64) {
	other, known := j.runs[run.StartAt]
	switch {
	case run.StartAt == "" || !known || most == 0 || run.Join == JoinDoubled || run.Join == JoinOpening:
		return run, 0
	case run.Join == JoinFirst:
		of, turned = j.postOf(other, most-1)
	default:
		of = other
		if next := j.next[other.Label]; next.Join != JoinDoubled {
			turned = turnedBy(next.Turn)
		}
	}
	return of, turned - float64(run.Turn)
}

// seen is the post at an end of the run as another one that starts there sees it.
func (w *work) seen(atStart bool, by Run) *sharedPost {
	p := &sharedPost{of: w.run.Label, wide: w.spec.PostWidth, deep: w.spec.PostDepth, turned: w.endSeat().turned}
	if atStart {
		p.turned = w.startSeat().turned
		if own := w.in.Joint.post; own != nil {
			p.of, p.wide, p.deep = own.of, own.wide, own.deep
		}
	}
	p.turned -= float64(by.Turn)
	return p
}

// endPost is the first or the last post of the run, the zero Post where it has none.
func (w *work) endPost(first bool) Post {
	n := len(w.out.Posts)
	switch {
	case n == 0:
		return Post{}
	case first:
		return w.out.Posts[0]
	}
	return w.out.Posts[n-1]
}

// postSides are the sides of a post, along and across its own run: those of this run's posts but where it is another's.
func (w *work) postSides(p Post) (wide, deep length.Length) {
	if shared := w.in.Joint.post; shared != nil && p.SharedAs != "" {
		return shared.wide, shared.deep
	}
	return w.spec.PostWidth, w.spec.PostDepth
}

// asItStands gives the run's first post, where it is another run's, the top and the length that it has there, and asks about all in which it is
// not what this run needs: the run is laid out by what stands.
func (w *work) asItStands() {
	p := w.in.Joint.post
	if p == nil || len(w.out.Posts) == 0 || w.out.Posts[0].SharedAs == "" {
		return
	}
	post := &w.out.Posts[0]
	w.unlikeSides(post.SharedAs, p)
	if p.level == nil || w.run.Kind == Rake {
		return
	}
	if off := p.level.Top - post.Top; off != 0 && !Touches(off, w.spec.Grid) {
		way := "short"
		if off > 0 {
			way = "long"
		}
		w.problem(w.run.Label, "level_height", "The top of %s stands at %s, by %s; by this run it would stand at %s, so it is %s too %s for it. Give both runs one height and one cap, or set two posts.",
			post.SharedAs, w.text(p.level.Top), p.of, w.text(post.Top), w.text(off.Abs()), way)
	}
	if off := (p.cap - w.spec.CapThickness).Abs(); p.cap > 0 && w.spec.capOver() && off > 0 {
		w.problem(w.run.Label, "cap_thickness", "The cap of %s is %s thick and that of this run %s, %s apart: over %s either their tops or their undersides are not level.", p.of, w.text(p.cap), w.text(w.spec.CapThickness), w.text(off), post.SharedAs)
	}
	post.Top, post.Cut, post.Rough, post.TopCut = p.level.Top, p.level.Cut, p.level.Rough, p.level.TopCut
}

// unlikeSides asks where the section of a shared post is not that of this run's own; which way round it stands is no matter.
func (w *work) unlikeSides(label string, p *sharedPost) {
	own := [2]length.Length{min(w.spec.PostWidth, w.spec.PostDepth), max(w.spec.PostWidth, w.spec.PostDepth)}
	has := [2]length.Length{min(p.wide, p.deep), max(p.wide, p.deep)}
	if own == has {
		return
	}
	by := w.text((own[0] - has[0]).Abs())
	switch other := w.text((own[1] - has[1]).Abs()); {
	case own[0] == has[0]:
		by = other + " on its broad side"
	case own[1] == has[1]:
		by += " on its narrow side"
	case other != by:
		by += " on its narrow side and " + other + " on its broad one"
	}
	w.problem(w.run.Label, "post_width", "%s is %s by %s, as %s has it; the posts of this run are %s by %s: it differs by %s. This run is laid out from the post as it stands. Give both one size, or set two posts.",
		label, w.text(has[0]), w.text(has[1]), p.of, w.text(own[0]), w.text(own[1]), by)
}

// sharedMeets asks where the two runs of a shared post mount it otherwise, and where their rails would meet one another before they meet it.
func (w *work) sharedMeets() {
	j := w.in.Joint
	if j.Shared == "" {
		return
	}
	switch {
	case j.post != nil && j.post.wall:
		w.problem(w.run.Label, "start_at", "%s ends at a wall where this run starts, and has no post there that the two could share: look at the ends of both.", w.run.StartAt)
	case w.run.Start == EndWall:
		w.problem(w.run.Label, "start", "This run is said to start at a wall, and at a post of %s: look which of the two it is. It is laid out from the wall.", w.run.StartAt)
	}
	if j.Mount != "" && j.Mount != w.spec.PostMount && w.run.Kind != Rake {
		w.problem(w.run.Label, "post_mount", "%s is mounted one way by %s and another by this run, and it is one post: look which of the two it is.", j.Shared, w.run.StartAt)
	}
	turn := math.Abs(math.Remainder(float64(w.run.Turn), 360))
	outside := float64(w.run.Turn) // the side of this run that is outside the corner, as skew has it
	if w.run.Join == JoinFirst {   // both go off from the post
		turn, outside = 180-turn, -outside
	}
	if turn <= 90 || turn >= 180 || w.run.Kind == Rake {
		return
	}
	// The inner edges of the two rails cross so far from the post's centre, and the rails end so far from it there.
	s, across := w.startSeat(), w.railAcross()
	cross := float64(across) / 2 / math.Tan((180-turn)/2*math.Pi/180)
	inner := skewOver(s.skew, across)
	if s.skew*outside > 0 { // the long point is on the outside
		inner = -inner
	}
	ends := s.half + w.spec.connectorLeast() - inner
	if w.run.Join == JoinFirst { // the post stands square to that run, whose rails may end further off
		other := w.startCorner().other.spec
		ends = max(ends, other.PostWidth/2+other.connectorLeast())
	}
	if float64(ends) < cross {
		w.problem(w.run.Label, "turn", "At a corner of %g degrees the rails of %s and of this run would meet one another %s from the middle of %s, before they meet it: mitre them against each other there, or set two posts.", turn, w.run.StartAt, w.text(nearestNM(cross)), j.Shared)
	}
}

// connectorLeast is what is taken off a rail's end at least, top or bottom.
func (s Spec) connectorLeast() length.Length { return min(s.ConnectorTop, s.ConnectorBottom) }
