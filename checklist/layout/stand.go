package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// What the posts of a flight are fixed to.
const (
	OnTreads   = "treads"
	OnStringer = "stringer"
	OnPad      = "pad"     // foot post alone: a base on the pad or landing
	OnFooting  = "footing" // foot post alone: down into the ground
	onLanding  = "landing" // at the head: as a level post
)

// Stand is where a post of a flight stands against its steps. Faces are named by the way the flight goes.
type Stand struct {
	Step       int           `json:"step"`        // 0 the ground or landing at the foot, then treads from the foot, and the landing at the top
	On         string        `json:"on"`          // that surface in words
	FromNosing length.Length `json:"from_nosing"` // its nosing to the post's downhill face, in plan; negative in front of it; at the foot to the lowest nosing, in front
	Across     int           `json:"across"`      // number of the nosing that the post stands across, from the foot; 0 for none
	Downhill   FaceMarks     `json:"downhill"`
	Uphill     FaceMarks     `json:"uphill"`
	Below      length.Length `json:"below"`              // how far the post goes below that surface
	Fixed      string        `json:"fixed"`              // how it is fixed, in words
	Stringer   bool          `json:"stringer,omitempty"` // its bolts go through the face of the stringer: see Stair.Stringer
	FixedOn    string        `json:"fixed_on,omitempty"` // OnTreads, OnPad or OnFooting, where nothing of it goes through framing or a stringer; else empty
}

// FaceMarks are heights at one face of a post, plumb above the surface that it stands over: of the nosing line, and of what is marked
// from it.
type FaceMarks struct {
	Line  length.Length `json:"line"`
	Under length.Length `json:"under"` // underside of the bottom rail
	Top   length.Length `json:"top"`   // top of the top rail
}

// up is how far a place lies up the flight from the lowest nosing, in plan; x is measured from the datum.
func (w *work) up(x length.Length) length.Length {
	if w.run.Down() {
		return w.out.Stair.Run + w.run.NosingFrom - x
	}
	return x - w.run.NosingFrom
}

// line is how high the nosing line stands over a step, plumb, at a place up the flight from the lowest nosing; step 0 is the ground, or the landing
// or pad on it.
func (w *work) line(up length.Length, step int) length.Length {
	high := length.Length(step-1) * w.out.Stair.Riser
	if step == 0 {
		high += w.run.LandingHeight
	}
	return length.MulDiv(up, int64(w.slope.rise), int64(w.slope.run)) - high
}

// stand works out where a post stands against the steps; a foot post on a pad or in a footing stands over the ground wherever it is.
func (w *work) stand(s support, ground bool) *Stand {
	st := w.out.Stair
	if st == nil || st.Tread <= 0 || st.Risers < 1 || w.slope.level() {
		return nil
	}
	low, high := w.up(s.near), w.up(s.far())
	if low > high {
		low, high = high, low
	}
	p := &Stand{}
	if middle := w.up(s.centre()); middle >= 0 && !ground {
		p.Step = int(min(int64(middle/st.Tread)+1, int64(st.Risers)))
	}
	// The nosings of the flight stand at whole treads from the lowest, one to each riser.
	for n := max(p.Step, 1); n <= min(p.Step+1, st.Risers) && !ground; n++ {
		if at := length.Length(n-1) * st.Tread; low < at && at < high {
			p.Across = n
		}
	}
	mark := func(up length.Length) FaceMarks {
		line := w.line(up, p.Step)
		return FaceMarks{Line: line, Under: line + w.out.Heights.Under, Top: line + w.out.Heights.TopRailTop}
	}
	p.Downhill, p.Uphill = mark(low), mark(high)
	p.FromNosing = low - length.Length(max(p.Step, 1)-1)*st.Tread
	switch p.Step {
	case 0:
		p.On, p.FromNosing = "the ground or landing at the foot", -high
	case st.Risers:
		p.On = "the landing at the top"
	default:
		p.On = fmt.Sprintf("tread %d", p.Step)
	}
	return p
}

// standWords says where a post stands against the steps.
func (w *work) standWords(p *Stand) string {
	face, from, nosing := "downhill", p.FromNosing, "the nosing"
	if p.Step == 0 {
		face, from, nosing = "uphill", -p.FromNosing, "the lowest nosing"
	}
	side := "behind"
	if from < 0 {
		side = "in front of"
	}
	if from.Round(w.spec.Grid) == 0 {
		return fmt.Sprintf("Stands over %s, its %s face at %s.", p.On, face, nosing)
	}
	return fmt.Sprintf("Stands over %s, its %s face %s %s %s.", p.On, face, w.marked(from.Abs()), side, nosing)
}

// marked shows a length as it is marked, on the grid.
func (w *work) marked(l length.Length) string { return w.text(l.Round(w.spec.Grid)) }

// fixedTo is what a post of the flight is fixed to; empty where it is not said.
func (w *work) fixedTo(s support, all []support) string {
	switch {
	case w.footPost(s, all) && w.run.FootOn != "":
		return w.run.FootOn
	case w.footPost(s, all) && w.run.StairFoot != "":
		return OnPad
	case w.up(s.centre()) >= w.out.Stair.Run:
		return onLanding
	}
	return w.run.PostsOn
}

// setPost works out how a post of the flight is fixed and how long it is cut: to its top at the uphill face, which is the higher one.
func (w *work) setPost(p *Post, s support, all []support) {
	on := w.fixedTo(s, all)
	if p.Stand = w.stand(s, on == OnPad || on == OnFooting); p.Stand == nil {
		p.Joist = "Stands on the stair; joists do not apply."
		return
	}
	p.Joist = w.standWords(p.Stand)
	st := p.Stand
	if on != onLanding {
		p.StandOff, p.Foot = 0, ""
	}
	if on == OnTreads || on == OnPad || on == OnFooting {
		st.FixedOn = on
		p.Bolts, p.HoldDown, p.Sleeve = []Bolt{}, "", nil // nothing is bolted through a rim there, or stands in it
	}
	switch on {
	case OnTreads:
		w.onBase(p, "the tread")
		st.Fixed = "On the tread: blocking between the stringers under it, and a base with a published guard-load test or a hold-down through to the blocking. Screws into a tread alone do not hold a guard."
	case OnPad:
		w.onBase(p, "the pad or landing")
		st.Fixed = "On a base with a published guard-load test, anchored to the pad or landing as its maker says."
	case OnFooting:
		st.Below = w.run.FootBelow
		st.Fixed = "Down into the footing: " + w.text(st.Below) + " below the surface."
		if st.Below == 0 {
			w.problem(w.run.Label, "foot_below", "Enter how far the foot post goes below the ground: it is cut to stand on it.")
			st.Fixed = "Down into a footing, to a depth that is not given."
		}
	case onLanding:
		st.Below = w.framingDeep()
		st.Fixed = "To the framing of the landing, as a level post."
		if w.spec.PostMount == MountBase {
			st.Fixed = "On the landing, as a level post, over blocking in its framing."
		}
	default:
		up := w.up(p.Centre)
		low := min(w.reach(), w.line(up, 0))
		st.Below = max(low-w.line(up, st.Step), 0)
		st.Fixed = fmt.Sprintf("Through-bolted to the side of the stringer, its lower end %s below the nosing line, plumb at its centre.", w.marked(low))
		if low < w.reach() {
			st.Fixed += " It ends on the ground: mark its bolts from the stringer, not from its end."
		}
		if on == "" {
			st.Fixed += " What the posts are fixed to is not said: this is assumed."
		}
		if len(p.Bolts) > 0 && p.SharedAs == "" {
			w.onStringer(p, up)
		}
	}
	if w.footPost(s, all) && w.run.StairFoot != "" {
		st.Fixed += " It stands on " + w.run.StairFoot + "."
	}
	if p.SharedAs != "" {
		st.Fixed, p.StandOff, p.Foot = "This is "+p.SharedAs+": it is fixed and cut with that run.", 0, ""
	}
	top := w.topCut(*p)
	p.Cut = (top.Uphill + st.Below - p.StandOff).RoundUp(w.spec.Grid)
	w.longTop(p, *top, st.On)
	if on == OnTreads && st.Across > 0 {
		w.problem(w.run.Label, "posts", "%s would stand across nosing %d: a post on a tread needs the whole of its foot on it. Move its centre, or fix the posts to the stringer.", p.Label, st.Across)
	}
}

// offLine says how far the nosings as measured stand off the line of even steps, from which the marks on the posts are worked out;
// empty where it is less than can be marked, or the steps are not all measured.
func (w *work) offLine() string {
	st, risers, treads := w.out.Stair, w.run.RisersMeasured, w.run.TreadsMeasured
	if st == nil || st.Tread <= 0 || len(risers) < 2 || len(risers) != st.Risers || w.slope.level() {
		return ""
	}
	var high, up, most length.Length
	for i, r := range risers {
		high += r
		if off := (high - st.Riser - length.MulDiv(up, int64(w.slope.rise), int64(w.slope.run))).Abs(); off > most {
			most = off
		}
		if i < len(treads) && len(treads) == st.Treads {
			up += treads[i]
		} else {
			up += st.Tread
		}
	}
	if most = most.Round(w.spec.Grid); most == 0 {
		return ""
	}
	return fmt.Sprintf("The marks on the posts and the places of the posts go by even steps of %s by %s; as measured, a nosing stands %s off their line: lay a straightedge over the nosings and mark from it.", w.text(st.Riser), w.text(st.Tread), w.text(most))
}

// footPost says whether a support is the post at the foot of the flight.
func (w *work) footPost(s support, all []support) bool {
	if w.run.Down() {
		return s.post == all[len(all)-1].post
	}
	return s.post == all[0].post
}

// postsFit holds the number of posts on treads to that of the treads.
func (w *work) postsFit() {
	if w.run.PostsOn != OnTreads || w.out.Stair == nil {
		return
	}
	n := 0
	for _, p := range w.out.Posts {
		if p.Stand != nil && p.Stand.Step > 0 && p.Stand.Step < w.out.Stair.Risers {
			n++
		}
	}
	if n > w.out.Stair.Treads {
		w.problem(w.run.Label, "posts", "There are %d posts on %s: no more than one stands on a tread. Take posts out, or fix them to the stringer.", n, plural(w.out.Stair.Treads, "tread"))
	}
}
