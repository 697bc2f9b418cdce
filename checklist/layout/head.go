package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/length"
)

// Meeting is a run that shares a post with this one at a stair head: for a rake the level run, for a level run the rake.
type Meeting struct {
	Run     Run
	AtStart bool // the post is at this run's datum end
}

// Meetings lists the runs that share a post with run at a stair head.
func Meetings(run Run, all []Run) []Meeting {
	var meet []Meeting
	for _, o := range all {
		first, second := run, o
		if run.StartAt != "" && run.StartAt == o.Label {
			first, second = o, run
		}
		atFirst := second.Join == JoinFirst
		switch {
		case second.StartAt == "" || second.StartAt != first.Label || (o.Kind == Rake) == (run.Kind == Rake):
			continue
		case second.Join == JoinDoubled || second.Join == JoinOpening:
			continue
		// The head of a flight is at the datum where it goes down and at the far end where it goes up.
		case first.Kind == Rake && first.Down() != atFirst || second.Kind == Rake && !second.Down():
			continue
		}
		meet = append(meet, Meeting{Run: o, AtStart: atFirst || second.Label == run.Label})
	}
	return meet
}

// Meet is what happens where the level guard and the raked one meet at the post of a stair head.
type Meet struct {
	Post    string        `json:"post"`
	Run     string        `json:"run"`      // label of the other run
	AtStart bool          `json:"at_start"` // it is at this run's datum end
	Behind  length.Length `json:"behind"`   // the post's downhill face behind the top nosing; negative in front of it
	Level   length.Length `json:"level"`    // finished top of the level guard above the decking
	Rake    length.Length `json:"rake"`     // finished top of the raked guard above the decking, at the post's downhill face
	Jog     length.Length `json:"jog"`      // level less rake there; zero where they meet within the post
	Top     length.Length `json:"top"`      // the post's highest place above the decking
	Carries string        `json:"carries"`  // label of the run whose cap lies on the post, of both with a comma between; empty where none does
	// CapPast is how far this run's cap ends past the post's centre, in plan, negative short of it; CapCut is how it is cut there. Both are left
	// out where no cap comes to lie on the post.
	CapPast  length.Length `json:"cap_past,omitempty"`
	CapCut   string        `json:"cap_cut,omitempty"`
	Sentence string        `json:"sentence"` // what to do, in words
}

// meets works out every stair head of the run and lets its post serve both guards.
func (w *work) meets() {
	if w.apart || len(w.out.Posts) == 0 {
		return
	}
	for _, m := range w.in.Meets {
		own := &w.out.Posts[len(w.out.Posts)-1]
		if m.AtStart {
			own = &w.out.Posts[0]
		}
		in := Input{Run: m.Run, Spec: w.in.Spec, Rules: w.in.Rules, Unit: w.in.Unit, Meets: []Meeting{{Run: w.in.Run}}}
		turn := m.Run.Turn
		switch {
		case w.run.StartAt != m.Run.Label:
			in.Joint.Shared, in.Joint.post = own.Label, w.seen(m.AtStart, m.Run)
		case w.run.Join != JoinFirst:
			turn = w.run.Turn
			in.Joint.EndRun, in.Joint.EndTurn = w.run.Label, turn
		default:
			turn = w.run.Turn
		}
		other := newWork(in)
		other.apart = true
		other.layOut()
		h := stairHead{level: w, rake: other, levelPost: *own}
		if w.run.Kind == Rake {
			h.level, h.rake = other, w
			if h.levelPost = other.endPost(w.run.StartAt != m.Run.Label || w.run.Join == JoinFirst); h.levelPost.Width == 0 {
				continue
			}
		}
		rake := h.rake.out
		if len(rake.Posts) == 0 || rake.Stair == nil || h.level.out.Heights.Finished <= 0 || rake.Heights.Finished <= 0 {
			continue
		}
		h.post = rake.Posts[len(rake.Posts)-1]
		if h.rake.run.Down() {
			h.post = rake.Posts[0]
		}
		if h.post.Stand == nil {
			continue
		}
		h.across = turn%180 != 0
		w.meetAt(m, own, h)
	}
}

// stairHead is a level run and a flight that share a post. Places are in plan behind the top nosing, heights above the decking: the landing's
// nosing is the last of the flight, so that a place behind it is over the decking.
type stairHead struct {
	level, rake *work
	post        Post // as the flight has it
	levelPost   Post // as the level run has it
	across      bool // the runs do not go on in one line: the level cap comes to the post from its side
}

// climb is how much the flight rises over so much of its run.
func (h stairHead) climb(x length.Length) length.Length {
	return length.MulDiv(x, int64(h.rake.slope.rise), int64(h.rake.slope.run))
}

// near and far are the post's downhill and uphill face.
func (h stairHead) near() length.Length {
	low := min(h.rake.up(h.post.Face), h.rake.up(h.post.Face+h.post.Width))
	return low - h.rake.out.Stair.Run
}
func (h stairHead) far() length.Length { return h.near() + h.post.Width }

// top and under are the finished top of the raked guard at a place, and the underside of its cap, or its top where it has none.
func (h stairHead) top(x length.Length) length.Length {
	return h.rake.out.Heights.Finished + h.climb(x)
}
func (h stairHead) under(x length.Length) length.Length {
	return h.rake.out.Heights.TopRailTop + h.climb(x)
}

// joint is where the two finished tops are at one height.
func (h stairHead) joint() length.Length {
	return length.MulDiv(h.level.out.Heights.Finished-h.rake.out.Heights.Finished, int64(h.rake.slope.run), int64(h.rake.slope.rise))
}

// levelEdge is how far the level cap reaches past the post's centre down the flight where it lies on the post: to its edge where it comes from
// the side, to its end where it comes in line.
func (h stairHead) levelEdge() length.Length {
	if h.across {
		return h.level.spec.CapWidth / 2
	}
	return h.post.Width/2 + h.level.spec.CapOverhang
}

// rakeEdge is the same for the raked cap, towards where the level one comes from.
func (h stairHead) rakeEdge() length.Length {
	if h.across {
		return h.rake.spec.CapWidth / 2
	}
	return h.post.Width/2 + h.rake.spec.CapOverhang
}

// head is how the post's top is cut and where both caps end: past the post's centre, each on its own way, and how.
type head struct {
	cut                 TopCut
	carries             []string
	levelPast, rakePast length.Length
	levelCut, rakeCut   string
	says                string // of the caps, in words
}

// solve decides which cap the post carries: the higher one, and both where their tops meet over it. Where a run has no cap, or its posts pass
// through it, the post stands clear of both.
func (h stairHead) solve(w *work) head {
	level, rake := h.level.out.Heights, h.rake.out.Heights
	near, far, joint := h.near(), h.far(), h.joint()
	r := head{cut: TopCut{Shape: TopSquare}}
	if !h.level.spec.capOver() || !h.rake.spec.capOver() {
		top := max(level.PostTop, level.Finished, max(rake.PostTop, rake.Finished)+h.climb(near))
		r.cut.Downhill, r.cut.Uphill = top, top
		r.says = "No cap lies on it: rails and caps of both runs end against its faces."
		return r
	}
	half := h.post.Width / 2
	levelLies, rakeLies := half+h.level.spec.CapOverhang, half+h.rake.spec.CapOverhang
	levelCut := h.level.capCut() + fmt.Sprintf(", %s past the post", w.text(h.level.spec.CapOverhang))
	plumb := h.rake.capCut()
	switch {
	case joint < near:
		r.cut = TopCut{Shape: TopRaked, Downhill: h.under(near), Uphill: h.under(far), Bevel: h.rake.slope.angle()}
		r.carries = []string{h.rake.run.Label}
		r.rakePast, r.rakeCut = rakeLies, plumb+fmt.Sprintf(", %s past the post", w.text(h.rake.spec.CapOverhang))
		r.levelPast, r.levelCut = -half, h.level.capCut()+", against the post under the raked cap"
		lowest := h.under(far) // of the raked cap's underside over the level cap's end
		if h.across {
			lowest = h.under(near + half - h.levelEdge())
			r.levelPast = -h.levelPost.Width / 2
		}
		edge, slope := near+half-h.levelEdge(), h.rake.slope // the level cap's downhill edge, behind the nosing
		deep := (length.MulDiv(level.Finished-h.under(0), int64(slope.run), int64(slope.rise)) - edge).RoundUp(h.level.spec.Grid)
		switch {
		case level.Finished <= lowest:
		case h.across && deep < 2*h.levelEdge():
			// Further back the raked cap passes over it.
			r.levelCut = fmt.Sprintf("%s, against the post under the raked cap, its downhill corner notched in plan, %s along and %s across, for that cap", h.level.capCut(), w.text(h.rakeEdge()-half), w.text(deep))
		default:
			r.levelPast = -h.rakeEdge()
			r.levelCut = fmt.Sprintf("%s, against the raked cap's edge, %s short of the post", h.level.capCut(), w.text(h.rakeEdge()-half))
		}
		r.says = fmt.Sprintf("It carries the raked cap. The level rail ends against it, and the level cap is cut %s.", r.levelCut)
	case joint > far:
		r.cut.Downhill, r.cut.Uphill = level.PostTop, level.PostTop
		r.carries = []string{h.level.run.Label}
		r.levelPast, r.levelCut = levelLies, levelCut
		r.rakePast, r.rakeCut = -half, plumb+", against the post under the level cap"
		if h.top(near) > level.PostTop {
			r.rakePast = -h.levelEdge()
			r.rakeCut = fmt.Sprintf("%s, against the level cap's edge, %s short of the post", plumb, w.text(h.levelEdge()-half))
		}
		r.says = fmt.Sprintf("It carries the level cap. The raked rail ends against it, and the raked cap is cut %s.", r.rakeCut)
	default:
		r.cut = TopCut{Shape: TopBoth, Downhill: h.under(near), Uphill: level.PostTop, Line: joint - near, Foot: h.under(joint), Bevel: h.rake.slope.angle()}
		r.carries = []string{h.level.run.Label, h.rake.run.Label}
		r.rakePast, r.rakeCut = joint-near-half, plumb+", over the post against the level cap"
		r.levelPast, r.levelCut = half-(joint-near), h.level.capCut()+", over the post against the raked cap"
		r.says = fmt.Sprintf("It carries both caps: they meet in a line across its top, %s from its downhill face.", w.marked(r.cut.Line))
		if h.across {
			r.levelPast, r.levelCut = levelLies, levelCut+", notched for the raked cap"
			long, deep := half+h.level.spec.CapOverhang+h.rakeEdge(), r.cut.Line+h.levelEdge()-half
			r.says += fmt.Sprintf(" The raked cap, %s wide, comes to the level one, %s wide, from its side: notch the level cap in plan, %s along its downhill edge from its end and %s across, up to that line, and the raked cap, cut plumb, fills the notch.",
				w.text(h.rake.spec.CapWidth), w.text(h.level.spec.CapWidth), w.marked(long), w.marked(deep))
		}
	}
	return r
}

// meetAt works out one stair head.
func (w *work) meetAt(m Meeting, own *Post, h stairHead) {
	near, far, joint, at := h.near(), h.far(), h.joint(), h.solve(w)
	r := Meet{Post: own.Label, Run: m.Run.Label, Behind: near, Level: h.level.out.Heights.Finished, Rake: h.top(near), Top: at.cut.Uphill, Carries: strings.Join(at.carries, ", "), AtStart: m.AtStart}
	if own.SharedAs != "" {
		r.Post = own.SharedAs
	}
	if r.CapPast, r.CapCut = at.levelPast, at.levelCut; w.run.Kind == Rake {
		r.CapPast, r.CapCut = at.rakePast, at.rakeCut
	}
	behindNosing := func(x length.Length) string {
		if x < 0 {
			return w.marked(-x) + " in front of the top nosing"
		}
		return w.marked(x) + " behind the top nosing"
	}
	r.Sentence = fmt.Sprintf("Stair head at %s, with %s: the level top at %s and the raked one at %s above the nosing line meet without a jog %s.", r.Post, m.Run.Label, w.marked(r.Level), w.marked(h.rake.out.Heights.Finished), behindNosing(joint))
	if near <= joint && joint <= far {
		r.Sentence += fmt.Sprintf(" That is within the post, %s from its downhill face: the two tops meet over it with no jog.", w.marked(joint-near))
	} else {
		r.Jog = r.Level - r.Rake
		higher := "level"
		if r.Jog < 0 {
			higher = "raked"
		}
		r.Sentence += fmt.Sprintf(" The post's downhill face stands %s, so there is a jog of %s: the %s top is the higher.", behindNosing(near), w.marked(r.Jog.Abs()), higher)
	}
	verb := "Cut the post's top"
	if h.owner(own, w).run.PostsAre == PostsExisting {
		verb = "The post stands there already. Its top is wanted"
	}
	r.Sentence += fmt.Sprintf(" %s %s. %s", verb, w.topWords(at.cut, "the decking"), at.says)
	if joint > 0 {
		r.Sentence += " The stair's lower height stops at the nosing: over the landing the level height is asked for, so ask the authority about the piece between."
	}
	w.out.Meets = append(w.out.Meets, r)
	w.topAtHead(own, at.cut, h.across)
}

// owner is whichever run the post is cut with.
func (h stairHead) owner(own *Post, w *work) *work {
	other := h.level
	if w == h.level {
		other = h.rake
	}
	if own.SharedAs != "" {
		return other
	}
	return w
}

// topAtHead gives the run's own post the top that serves both guards; t counts from the decking; across says that the
// flight goes off to the side.
func (w *work) topAtHead(own *Post, t TopCut, across bool) {
	if w.run.Kind != Rake {
		own.Top = t.Uphill
		own.Cut = w.postCut(own)
		if t.Across = across; t.Shape != TopSquare {
			w.longTop(own, t, "the decking")
		}
		return
	}
	// A post in front of the top nosing stands over a lower step.
	lower := own.Stand.Uphill.Line - w.line(max(w.up(own.Face), w.up(own.Face+own.Width)), w.out.Stair.Risers)
	t.Downhill, t.Uphill = t.Downhill+lower, t.Uphill+lower
	if t.Shape == TopBoth {
		t.Foot += lower
	}
	own.Top = t.Uphill - own.Stand.Uphill.Line
	own.Cut = (t.Uphill + own.Stand.Below - own.StandOff).RoundUp(w.spec.Grid)
	w.longTop(own, t, own.Stand.On)
}

// capAtHead is where the run's cap ends at a stair head at its datum end, or its far end, past the post's centre, and how it is cut; ok is
// false where there is none.
func (w *work) capAtHead(start bool) (past length.Length, cut string, ok bool) {
	for _, m := range w.out.Meets {
		if m.AtStart == start && m.CapCut != "" {
			return m.CapPast, m.CapCut, true
		}
	}
	return 0, "", false
}
