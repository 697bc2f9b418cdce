package layout

import (
	"cmp"

	"newelbook/checklist/length"
)

// frame says how the framing ends under the run: at a square corner of the deck the end joist stands against the outer face of the
// corner's post, at a wall against the wall, and elsewhere the row of joists goes on, unless the builder gives the last one. Alongside
// the joists it says what is clear beside the outer one.
func (w *work) frame(all []support) {
	if w.run.Kind == Rake || w.run.Joists == "" || w.spec.JoistWidth <= 0 || w.spec.JoistSpacing <= w.spec.JoistWidth {
		return
	}
	w.joistsAgree()
	f := &Frame{}
	w.out.Frame = f
	if w.run.Joists == JoistsAlong {
		f.Bay, f.BayBy = w.spec.JoistSpacing-w.spec.JoistWidth, ""
		if w.in.Joint.Bay > 0 {
			f.Bay, f.BayBy = w.in.Joint.Bay, w.in.Joint.BayBy
		}
		return
	}
	thick, first, last := w.spec.JoistWidth, all[0], all[len(all)-1]
	taken := "Framing: an end joist is taken to stand against the %s, its centre %s from the datum."
	switch {
	case first.wall():
		w.startJoist(0, "wall at the datum", taken)
	case w.in.Joint.StartSquare:
		_, deep := w.holds(first.post)
		w.startJoist(first.centre()-cornerFace(w.startBack(), deep)-thick, "corner's post at the datum", taken)
	}
	switch {
	case w.run.LastJoist > 0:
		f.End = joistAt(w.run.LastJoist-thick/2, thick)
		if wide, _ := w.holds(last.post); !last.wall() && w.in.Joint.EndSquare && f.End.Near < last.centre()+wide/2-w.spec.Grid {
			w.problem(w.run.Label, "last_joist", "The last joist, its near face at %s, stands inside the corner's post, which reaches %s: measure it again.", w.text(f.End.Near), w.text(last.centre()+wide/2))
		}
		return
	case last.wall():
		f.End = joistAt(w.out.Length-thick, thick)
	case w.in.Joint.EndSquare:
		_, deep := w.holds(last.post)
		f.End = joistAt(last.centre()+cornerFace(w.endBack(), deep), thick)
	default:
		return
	}
	against := "corner's post at the far end"
	if last.wall() {
		against = "wall at the far end"
	}
	w.say(taken+" Where it stands elsewhere, enter it as the last joist.", against, w.text(f.End.Centre))
}

// startJoist is the end joist at the datum end, where the first of the row leaves room for it.
func (w *work) startJoist(near length.Length, against, taken string) {
	if w.run.FirstJoist == 0 {
		w.out.Frame.First = near + w.spec.JoistWidth/2
		w.say("Framing: the first joist is not given, and is taken to stand against the %s, its centre %s from the datum.", against, w.text(w.out.Frame.First))
		return
	}
	if j := firstOf(w.run, w.spec, near); j != nil {
		w.out.Frame.Start = j
		w.say(taken, against, w.text(j.Centre))
	}
}

// firstOf is the end joist that stands at a place before the first of the row, nil where the first of the row takes its room.
func firstOf(r Run, spec Spec, near length.Length) *Joist {
	j := joistAt(near, spec.JoistWidth)
	if r.FirstJoist-spec.JoistWidth/2 < j.Far {
		return nil
	}
	return j
}

// cornerFace is how far past the centre of the end post the framing stands that ends a square corner: against the outer faces of the other
// run's posts, whose centre line stands back past it. deep is what stands among the joists across a run.
func cornerFace(back, deep length.Length) length.Length { return back + deep/2 }

// holds is what stands among the joists at a post, along and across the run: the post, or the sleeve that it is in.
func (w *work) holds(post int) (wide, deep length.Length) {
	if w.spec.PostMount == MountSleeve {
		size, _ := w.sleeveSize(post)
		out := w.spec.sleeveOutside(size)
		return out, out
	}
	return w.spec.PostWidth, w.spec.PostDepth
}

// outerBay is the clear space between the outer joist at an end of a run and the next one, for a run that goes on from there alongside.
func outerBay(r Run, spec Spec, f *Frame, atEnd bool) (length.Length, bool) {
	row, ok := rowOf(r, spec, f)
	if !ok {
		return 0, false
	}
	i := 1
	switch {
	case atEnd && row.end == nil:
		return 0, false
	case atEnd:
		i = row.stops()
	case row.start != nil:
		i = 0
	}
	s, ok := row.space(i)
	return s.To - s.From, ok
}

// joistsAgree asks where the joists under this run and under the one that it goes on from cannot both be so.
func (w *work) joistsAgree() {
	j := w.in.Joint
	if w.run.Joists == JoistsAlong && j.BayAtEnd > 0 {
		w.problem(w.run.Label, "joists", "By the joists under %s the bay beside the outer joist is %s clear, by those under %s it is %s: measure it, and enter the first joist of both as it is.", j.BayBy, w.text(j.Bay), j.BayEndBy, w.text(j.BayAtEnd))
	}
	switch {
	case j.Beside == "":
	case j.StartSquare && j.Beside == w.run.Joists:
		meet := map[string]string{JoistsAcross: "end on", JoistsAlong: "alongside"}[j.Beside]
		w.problem(w.run.Label, "joists", "Joists meet both %s and this run %s, and the corner between them is square: look which of the two it is.", w.run.StartAt, meet)
	case j.StartStraight && j.Beside != w.run.Joists:
		w.problem(w.run.Label, "joists", "%s and this run stand on one straight edge, and joists meet the one end on and the other alongside: look which of the two it is.", cmp.Or(w.run.StartAt, "The run before"))
	}
}
