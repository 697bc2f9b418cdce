package layout

import (
	"fmt"
	"math"

	"newelbook/checklist/length"
)

// capJoint is how the cap of a run meets that of another over one of its ends.
type capJoint struct {
	run string // label of the other run, empty where a corner is said and none is joined there
	// turn is how many degrees the way turns there going along this run from its datum, -179 to 180, positive to the right: at the
	// datum end coming from the other run, at the far end going on into it.
	turn  int
	width length.Length // of the other cap; zero where none lies over the post
	flat  bool          // both caps lie level
	said  bool          // one of the two runs says that its end there is a corner
	third string        // the two runs whose caps meet there already, where this is another; empty where it is one of the two
}

// capStart and capEnd are how the cap of a run meets those of its neighbours, nil where none is there. The joint decides, whatever the runs
// say that their ends are: of all runs that come to one post, or to one corner of two posts, the first two meet.
func (j Joints) capStart(run Run) *capJoint {
	label, atEnd := j.capPlaceOf(run)
	return j.capJointAt(run, label, atEnd, true)
}

func (j Joints) capEnd(run Run) *capJoint { return j.capJointAt(run, run.Label, true, false) }

// capJoint is how the cap meets another at either end. Where a corner is said and no run is joined, it is taken to turn square towards the
// deck, with a cap like this one's.
func (w *work) capJoint(start bool) *capJoint {
	if w.liftsAt(start) {
		return nil
	}
	c, said, turn := w.in.Joint.capEnd, w.run.End == EndCorner && !w.in.Joint.endOpens, 0
	if start {
		c, said, turn = w.in.Joint.capStart, w.run.Start == EndCorner && w.run.StartAt == "", w.run.Turn
	}
	if c != nil || !said {
		return c
	}
	if turn%180 == 0 {
		turn = 90 * w.out.DeckOn
	}
	return &capJoint{turn: signed(turn), width: w.spec.CapWidth, flat: w.run.Kind != Rake}
}

// liftsAt says whether one of the two runs of a corner of two posts lifts out there: then each cap ends over its own post.
func (w *work) liftsAt(start bool) bool {
	c := w.endCorner()
	if start {
		c = w.startCorner()
	}
	return c.doubled && c.lifts()
}

// signed brings degrees into -179 to 180.
func signed(degrees int) int {
	d := wrap(degrees)
	if d > 180 {
		d -= 360
	}
	return d
}

// capPlaceOf is the end of a run at which another one's datum end stands: its far end or, not atEnd, its own datum end.
func (j Joints) capPlaceOf(run Run) (label string, atEnd bool) {
	for range len(j.runs) {
		other, known := j.runs[run.StartAt]
		switch {
		case run.StartAt == "" || !known || run.Join == JoinOpening:
			return run.Label, false
		case run.Join != JoinFirst:
			return other.Label, true
		}
		run = other
	}
	return run.Label, false
}

// capJointAt is how a run meets the others at a place; atDatum says that it comes there with its datum end.
func (j Joints) capJointAt(run Run, label string, atEnd, atDatum bool) *capJoint {
	all := j.meet[capPlace{label, atEnd}]
	if len(all) < 2 || j.runs[label].End == EndWall && atEnd || j.runs[label].Start == EndWall && !atEnd {
		return nil
	}
	first, second := all[0], all[1]
	c := &capJoint{run: second.Label, flat: first.Kind != Rake && second.Kind != Rake}
	if c.said = second.Start == EndCorner || first.Start == EndCorner; atEnd {
		c.said = second.Start == EndCorner || first.End == EndCorner
	}
	switch {
	case run.Label == first.Label && atDatum == !atEnd:
	case run.Label == second.Label && atDatum:
		c.run = first.Label
	default:
		return &capJoint{third: first.Label + " and " + second.Label}
	}
	if c.turn = signed(second.Turn); !atEnd {
		// Both go off from the post: the way comes back along the one and goes on along the other.
		if c.turn = signed(180 - second.Turn); run.Label == second.Label {
			c.turn = signed(second.Turn - 180)
		}
	}
	if spec := j.specOf(j.runs[c.run]); spec.capOver() {
		c.width = spec.CapWidth
	}
	return c
}

// hasCap says whether there is a cap rail, and capOver whether it lies over the posts, which end under it.
func (s Spec) hasCap() bool  { return s.CapThickness > 0 && s.CapWidth > 0 }
func (s Spec) capOver() bool { return s.hasCap() && s.PostsAtCap != PostsThroughCap }

// capPlace is an end of a run: its far end, or its datum end.
type capPlace struct {
	run   string
	atEnd bool
}

// meetings gathers the runs that come to one place, the one whose end it is first.
func (j Joints) meetings(runs []Run) map[capPlace][]Run {
	meet := map[capPlace][]Run{}
	for _, r := range runs {
		meet[capPlace{r.Label, true}] = append(meet[capPlace{r.Label, true}], r)
		label, atEnd := j.capPlaceOf(r)
		meet[capPlace{label, atEnd}] = append(meet[capPlace{label, atEnd}], r)
	}
	return meet
}

// capEnd is how far each edge of a cap runs past the centre of the support at its end, in plan, and how it is cut there. Left and right are as
// seen going along from the datum.
type capEnd struct {
	left, right length.Length
	cut         string
}

// plain is an end square to the run.
func plain(past length.Length, cut string) capEnd { return capEnd{past, past, cut} }

// long is how far its longer edge runs.
func (e capEnd) long() length.Length { return max(e.left, e.right) }

// capEndAt is the end of the cap at a support: at a stair head as that says, at a corner mitred into the cap beyond, over a post that goes on
// straight cut in its middle. back is how far the corner lies past that support's centre: nothing where one post stands in it.
func (w *work) capEndAt(s support, start bool) capEnd {
	j, back := w.capJoint(start), w.endBack()
	if start {
		back = w.startBack()
	}
	past, cut, atHead := w.capAtHead(start)
	switch p := w.in.Joint.post; {
	case s.wall():
		return plain(-w.spec.CapWallGap, w.capCut()+", "+w.offWall())
	case atHead && (j == nil || !j.flat):
		return plain(past, cut)
	case start && p != nil && p.through:
		return plain(-s.width/2, w.capCut()+", against the post")
	case w.liftsAt(start):
		return plain(s.width/2+w.spec.CapOverhang, w.capCut()+fmt.Sprintf(", %s past the post, to stand clear of the cap round the corner", w.text(w.spec.CapOverhang)))
	case j == nil || j.width == 0 || !j.flat || j.turn == 180:
		return plain(s.width/2+w.spec.CapOverhang, w.capCut()+fmt.Sprintf(", %s past the post", w.text(w.spec.CapOverhang)))
	case j.turn == 0:
		return plain(back, fmt.Sprintf("%s, joint with the cap of %s", w.capCut(), j.run)+betweenPosts(back))
	}
	out := mitreOut(w.spec.CapWidth, j.width, j.turn)
	e, side := capEnd{left: back + out, right: back - out}, "left"
	if j.turn < 0 {
		e.left, e.right = e.right, e.left
	}
	if e.right > e.left {
		side = "right"
	}
	e.cut = fmt.Sprintf("mitre %s degrees, long point %s", mitreAngle(w.spec.CapWidth, j.width, j.turn), side) + betweenPosts(back)
	return e
}

// mitreOut is how far past the corner the edge of a cap runs that is on the outside of a turn; the other one ends so far short of it. The
// line of the mitre goes from where the outer edges cross to where the inner ones do (plane geometry), so that caps of two widths close too.
func mitreOut(own, other length.Length, turn int) length.Length {
	rad := math.Abs(float64(turn)) * math.Pi / 180
	if own == other {
		return nearestNM(float64(own) / 2 * math.Tan(rad/2))
	}
	return nearestNM((float64(other) - float64(own)*math.Cos(rad)) / 2 / math.Sin(rad))
}

// mitreAngle is how many degrees off square that line stands: half of the turn between caps of one width.
func mitreAngle(own, other length.Length, turn int) string {
	if own == other {
		return fmt.Sprintf("%g", math.Abs(float64(turn))/2)
	}
	out := mitreOut(own, other, turn)
	return fmt.Sprintf("%.1f", math.Atan2(math.Abs(float64(out)), float64(own)/2)*180/math.Pi)
}

// betweenPosts says of the joint of caps at a doubled corner that nothing is under it.
func betweenPosts(back length.Length) string {
	if back == 0 {
		return ""
	}
	return ", between the two posts: put a block under it"
}

// CapMitred says at which ends of the run its cap is mitred into another.
func (l Layout) CapMitred() (start, end bool) {
	if l.CapLeft == nil || l.CapRight == nil {
		return false, false
	}
	return l.CapLeft.From != l.CapRight.From, l.CapLeft.To != l.CapRight.To
}

// capMeets asks about caps that do not meet as they are described, once, with the run that comes to the other.
func (w *work) capMeets() {
	j := w.in.Joint.capStart
	if j == nil || w.run.StartAt == "" {
		return
	}
	if j.third != "" {
		w.problem(w.run.Label, "start_at", "The caps of %s meet where this run starts, and its own comes to them as a third: no joint is worked out for it. Fit it against them in place.", j.third)
		return
	}
	if j.width == 0 {
		return
	}
	if _, _, atHead := w.capAtHead(true); !j.flat {
		if !atHead {
			w.problem(w.run.Label, "start_at", "The caps of %s and of this run come to one post and do not both lie level: no joint is worked out for them. Fit them to each other in place.", j.run)
		}
		return
	}
	switch width := (w.spec.CapWidth - j.width).Abs(); {
	case j.turn == 180:
		w.problem(w.run.Label, "turn", "This run goes back over %s, and so would its cap: look at the turn.", j.run)
	case j.turn == 0 && j.said:
		w.problem(w.run.Label, "turn", "A corner is said between %s and this run, and the turn given leaves them in one line: enter the degrees that it turns by. Until then their caps are cut square, end to end.", j.run)
	case width > 0 && j.turn == 0:
		w.problem(w.run.Label, "cap_width", "The cap of %s is %s wide and that of this run %s: their edges are out by %s each side where they meet.", j.run, w.text(j.width), w.text(w.spec.CapWidth), w.text(width/2))
	case width > 0:
		w.problem(w.run.Label, "cap_width", "The cap of %s is %s wide and that of this run %s, %s apart: the mitre is cut %s degrees on the one and %s on the other. Look whether that is meant.",
			j.run, w.text(j.width), w.text(w.spec.CapWidth), w.text(width), mitreAngle(j.width, w.spec.CapWidth, j.turn), mitreAngle(w.spec.CapWidth, j.width, j.turn))
	}
}
