package layout

import (
	"fmt"

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
	Post     string        `json:"post"`
	Run      string        `json:"run"`      // label of the other run
	Behind   length.Length `json:"behind"`   // the post's downhill face behind the top nosing; negative in front of it
	Level    length.Length `json:"level"`    // finished top of the level guard above the decking
	Rake     length.Length `json:"rake"`     // finished top of the raked guard above the decking, at the post's downhill face
	Jog      length.Length `json:"jog"`      // level less rake there; zero where they meet within the post
	Top      length.Length `json:"top"`      // post top above the decking that serves both
	Sentence string        `json:"sentence"` // what to do, in words
}

// meets works out every stair head of the run and lets its post serve both guards.
func (w *work) meets() {
	for _, m := range w.in.Meets {
		other := Compute(Input{Run: m.Run, Spec: w.in.Spec, Rules: w.in.Rules, Unit: w.in.Unit})
		level, rake, rakeRun := w.out, other, m.Run
		if w.run.Kind == Rake {
			level, rake, rakeRun = other, w.out, w.run
		}
		if len(w.out.Posts) == 0 || len(rake.Posts) == 0 || rake.Stair == nil || level.Heights.Finished <= 0 || rake.Heights.Finished <= 0 {
			continue
		}
		head := rake.Posts[len(rake.Posts)-1]
		if rakeRun.Down() {
			head = rake.Posts[0]
		}
		own := &w.out.Posts[len(w.out.Posts)-1]
		if m.AtStart {
			own = &w.out.Posts[0]
		}
		if head.Stand == nil {
			continue
		}
		w.meetAt(m, own, head, level, rake)
	}
}

// meetAt works out one stair head. The landing's nosing is the last of the flight, so that a place behind it is over the decking.
func (w *work) meetAt(m Meeting, own *Post, head Post, level, rake Layout) {
	st := rake.Stair
	behind := head.Stand.FromNosing - length.Length(st.Risers-max(head.Stand.Step, 1))*st.Tread
	if head.Stand.Step == 0 {
		behind = -head.Stand.FromNosing - head.Width - st.Run
	}
	climb := func(x length.Length) length.Length { return length.MulDiv(x, int64(st.Riser), int64(st.Tread)) }
	r := Meet{Post: own.Label, Run: m.Run.Label, Behind: behind, Level: level.Heights.Finished, Rake: rake.Heights.Finished + climb(behind)}
	if own.SharedAs != "" {
		r.Post = own.SharedAs
	}
	joint := length.MulDiv(level.Heights.Finished-rake.Heights.Finished, int64(st.Tread), int64(st.Riser))
	r.Top = max(level.Heights.PostTop, rake.Heights.PostTop+climb(behind))
	behindNosing := func(x length.Length) string {
		if x < 0 {
			return w.marked(-x) + " in front of the top nosing"
		}
		return w.marked(x) + " behind the top nosing"
	}
	where := behindNosing(joint)
	start := fmt.Sprintf("Stair head at %s, with %s: the level top at %s and the raked one at %s above the nosing line meet without a jog %s.", r.Post, m.Run.Label, w.marked(r.Level), w.marked(rake.Heights.Finished), where)
	switch far := behind + head.Width; {
	case behind <= joint && joint <= far:
		r.Sentence = fmt.Sprintf("%s That is within the post, %s from its downhill face: the two tops meet over it with no jog.", start, w.marked(joint-behind))
		if w.spec.CapThickness > 0 && w.spec.PostsAtCap != PostsThroughCap {
			r.Sentence += " Both caps are cut long enough to cover that post: trim them to one another there, the raked one plumb."
		}
	default:
		r.Jog = r.Level - r.Rake
		higher, lower := "level", "raked"
		if r.Jog < 0 {
			higher, lower = lower, higher
		}
		r.Sentence = fmt.Sprintf("%s The post's downhill face stands elsewhere, %s, so there is a jog of %s at the post: the %s top is the higher. The post is cut for the higher, and the %s rail and cap end against its face. With its centre %s the two would meet without a jog.",
			start, behindNosing(behind), w.marked(r.Jog.Abs()), higher, lower, where)
	}
	if joint > 0 {
		r.Sentence += " The stair's lower height stops at the nosing: over the landing the level height is asked for, so ask the authority about the piece between."
	}
	w.out.Meets = append(w.out.Meets, r)
	if w.run.Kind == Rake {
		own.Cut = max(own.Cut, (r.Top + own.Stand.Below + length.Length(st.Risers-own.Stand.Step)*st.Riser).RoundUp(w.spec.Grid))
		return
	}
	own.Top = max(own.Top, r.Top)
	own.Cut = max(own.Cut, w.postCut(own.Top))
}
