package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// headFraming is how the post at the head of a flight stands against the edge of the deck, in plan along the flight.
type headFraming struct {
	post     string        // what the post is called
	rim      length.Length // thickness of the rim, or outer joist, that the post stands inside
	half     length.Length // from that rim's inner face to the post's centre
	overhang length.Length // of the decking past the rim, as far as the steps' nosings project
}

// face is how far the rim's outer face stands in front of the post's centre: the top nosing cannot be behind it.
func (h headFraming) face() length.Length { return h.rim + h.half }

// nosing is how far the top nosing is expected to stand in front of it.
func (h headFraming) nosing() length.Length { return h.face() + h.overhang }

// headFraming tells how the post at the head is framed, where that is known: a new one, bolted or in a sleeve inside the rim, of a flight that
// is said to end there and goes on straight from the deck's edge. Where a level run shares it, it is framed as whichever of the two has it first.
func (w *work) headFraming() (h headFraming, ok bool) {
	if w.run.Kind != Rake || w.run.Start != EndStairHead && w.run.End != EndStairHead {
		return h, false
	}
	own, across := w, false
	for _, m := range w.in.Meets {
		turn := m.Run.Turn
		if w.run.StartAt == m.Run.Label {
			own, turn = newWork(Input{Run: m.Run, Spec: w.in.Spec, Unit: w.in.Unit}), w.run.Turn
			h.post = w.in.Joint.Shared
		}
		if turn%90 != 0 {
			return h, false
		}
		across = turn%180 != 0
	}
	s := own.spec
	if own.run.PostsAre == PostsExisting || s.PostMount == MountBase || s.JoistWidth <= 0 {
		return h, false
	}
	h.rim, h.half, h.overhang = s.JoistWidth, s.PostWidth/2, w.run.Nosing
	if across {
		h.half = s.PostDepth / 2
	}
	if s.PostMount == MountSleeve {
		h.half = (max(s.PostWidth, s.PostDepth)+s.SleeveClearance+s.SleeveSwelling)/2 + s.SleeveWall
	}
	if h.post == "" {
		h.post = "the post at the head"
	}
	return h, true
}

// words say what its nosing is made up of.
func (h headFraming) words(w *work) string {
	parts := fmt.Sprintf("%s, the rim's %s and %s from there to the post's centre", w.marked(h.nosing()), w.marked(h.rim), w.marked(h.half))
	if h.overhang > 0 {
		parts += fmt.Sprintf(" and a nosing of %s", w.marked(h.overhang))
	}
	return parts
}

// takeNosing takes what is expected for how far the top nosing stands in front of the head post where the run does not say: of a flight that
// goes down from its datum the distance to the nosing, of one that goes up its length. It says what was taken, and asks for it.
func (w *work) takeNosing() {
	h, ok := w.headFraming()
	switch {
	case !ok, w.run.Down() && w.run.NosingFrom != 0, !w.run.Down() && (w.run.Length != 0 || w.run.ClearOpening != 0):
		return
	case w.run.Down():
		w.run.NosingFrom = h.nosing()
	default:
		w.headBack = h.nosing()
	}
	w.ask("Measure how far the top nosing stands in front of the centre of %s, level: it is not given. The post stands inside the rim, so the marks go by %s.", h.post, h.words(w))
}

// checkNosing holds the place of the head post against the top nosing to its framing.
func (w *work) checkNosing(all []support) {
	h, ok := w.headFraming()
	if !ok || w.slope.level() {
		return
	}
	gap := w.up(w.headOf(all).centre()) - w.out.Stair.Run
	if gap >= h.face()-w.spec.Grid/2 {
		w.say("Stair head: the top nosing stands %s in front of the centre of %s; the rim's outer face stands %s in front of it.", w.marked(gap), h.post, w.marked(h.face()))
		return
	}
	field := "nosing_from"
	if !w.run.Down() {
		field = "length"
	}
	where := w.marked(gap) + " in front of"
	if gap <= 0 {
		where = w.marked(-gap) + " behind"
	}
	w.problem(w.run.Label, field, "By this layout the top nosing stands %s the centre of %s, which stands inside the rim: it cannot be behind the rim's outer face, which is %s in front of that centre. Measure it, and expect %s. Until then the marks go by what is entered, and may be wrong.",
		where, h.post, w.marked(h.face()), h.words(w))
}

// beside says what a length that is not given has beside the treads.
func (w *work) beside() string {
	var parts string
	if w.run.NosingFrom != 0 {
		parts += fmt.Sprintf(", and %s from the datum to the first nosing,", w.text(w.run.NosingFrom))
	}
	if w.headBack != 0 {
		parts += fmt.Sprintf(", and %s from the top nosing to the head post,", w.text(w.headBack))
	}
	return parts
}

// headOf is the support at the head of the flight.
func (w *work) headOf(all []support) support {
	if w.run.Down() {
		return all[0]
	}
	return all[len(all)-1]
}

// headRail says where the upper end of the bottom rail would run into the edge of the deck: from the post at the head it passes over rim and
// decking as far as the nosing, and is lowest there.
func (w *work) headRail(all []support) {
	head := w.headOf(all)
	if w.out.Stair == nil || w.slope.level() || head.wall() || w.fixedTo(head, all) != onLanding {
		return
	}
	behind := min(w.up(head.near), w.up(head.far())) - w.out.Stair.Run // the downhill face behind the top nosing
	over := behind
	if h, ok := w.headFraming(); ok {
		over = max(over, h.face()-head.width/2)
	}
	under := length.MulDiv(behind-over, int64(w.slope.rise), int64(w.slope.run)) + w.out.Heights.Under // above the decking at its edge
	if over <= 0 || under >= -w.spec.Grid/2 {
		return
	}
	into := "the decking"
	if -under > w.spec.Decking {
		into = "decking and rim"
	}
	w.problem(w.run.Label, "rake_bottom", "The upper end of the bottom rail would run into %s at the head: its underside comes to %s below the decking at the deck's edge, %s in front of the post. Look where the top nosing stands, or set the rail higher.",
		into, w.marked(-under), w.marked(over))
}
