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
	first, last := all[0], all[len(all)-1]
	if w.run.Joists == JoistsAlong {
		f.Bay, f.BayBy = w.spec.JoistSpacing-w.spec.JoistWidth, ""
		if w.in.Joint.Bay > 0 {
			f.Bay, f.BayBy = w.in.Joint.Bay, w.in.Joint.BayBy
		}
		if w.in.Joint.StartSquare && !first.wall() {
			f.Start = w.startEdge(first)
		}
		if w.in.Joint.EndSquare && !last.wall() {
			f.End = w.endEdge(last)
		}
		w.known(f, first, last, f.Bay)
		return
	}
	_, deep := sideOf(w.run, w.spec).held()
	w.known(f, first, last, deep+besidePieces*w.spec.JoistWidth)
	taken := "Framing: an end joist is taken to stand against the %s, its centre %s from the datum."
	switch {
	case first.wall():
		w.startJoist(joistAt(0, w.spec.JoistWidth), "wall at the datum", taken)
	case w.in.Joint.StartSquare:
		w.startJoist(w.startEdge(first), "corner's post at the datum", taken)
	}
	against := "corner's post at the far end"
	switch {
	case w.run.LastJoist > 0:
		f.End = joistAt(w.run.LastJoist-w.spec.JoistWidth/2, w.spec.JoistWidth)
		if wide, _ := w.holds(last.post); !last.wall() && w.in.Joint.EndSquare && f.End.Near < last.centre()+wide/2-w.spec.Grid {
			w.problem(w.run.Label, "last_joist", "The last joist, its near face at %s, stands inside the corner's post, which reaches %s: measure it again.", w.text(f.End.Near), w.text(last.centre()+wide/2))
		}
		return
	case last.wall():
		f.End, against = joistAt(w.out.Length-w.spec.JoistWidth, w.spec.JoistWidth), "wall at the far end"
	case w.in.Joint.EndSquare:
		f.End = w.endEdge(last)
	default:
		return
	}
	w.say(taken+" Where it stands elsewhere, enter it as the last joist.", against, w.text(f.End.Centre))
}

// known notes how far the edge and what is built in behind it, so far inward, are known at a corner that is not square.
func (w *work) known(f *Frame, first, last support, inward length.Length) {
	const says = "Framing: the corner at the %s is not square, so that past %s from the datum no joist or blocking is known."
	if c := w.startCorner(); w.in.Joint.startAngled && !first.wall() {
		from := first.centre() - c.back() - c.edge(inward)
		f.KnownFrom = &from
		w.say(says, "datum", w.marked(from))
	}
	if c := w.endCorner(); w.in.Joint.endAngled && !last.wall() {
		to := last.centre() + c.back() + c.edge(inward)
		f.KnownTo = &to
		w.say(says, "far end", w.marked(to))
	}
}

// startEdge and endEdge are the framing under the other run of a square corner, which ends that of this one: a joist to those of this run, or, of a
// run alongside them, the rim that they end at.
func (w *work) startEdge(first support) *Joist {
	c := w.startCorner()
	return joistAt(first.centre()-c.back()-c.edge(0)-c.thick(), c.thick())
}

func (w *work) endEdge(last support) *Joist {
	c := w.endCorner()
	return joistAt(last.centre()+c.back()+c.edge(0), c.thick())
}

// startJoist takes an end joist at the datum end, unless the first of the row is that itself.
func (w *work) startJoist(end *Joist, against, taken string) {
	if w.run.FirstJoist == 0 {
		w.out.Frame.First = end.Far - w.spec.JoistWidth/2
		w.say("Framing: the first joist is not given, and is taken to stand against the %s, its centre %s from the datum.", against, w.text(w.out.Frame.First))
		return
	}
	first := joistAt(w.run.FirstJoist-w.spec.JoistWidth/2, w.spec.JoistWidth)
	switch {
	case first.Near >= end.Far:
		w.out.Frame.Start = end
		w.say(taken, against, w.text(end.Centre))
		if apart := first.Centre - end.Centre; apart > w.spec.JoistSpacing+w.spec.Grid {
			w.problem(w.run.Label, "first_joist", "The first joist is entered %s from the end joist against the %s, centre to centre, and joists stand %s apart: look whether it was measured from the other end. No blocking is worked out between the two.", w.text(apart), against, w.text(w.spec.JoistSpacing))
		}
	case w.in.Joint.StartSquare && (first.Far-end.Far).Abs() >= max(w.spec.Grid, 1):
		w.problem(w.run.Label, "first_joist", "The first joist, its centre %s from the datum, stands where the corner's framing is: an end joist against the corner's post has its centre at %s. Measure both again.", w.text(first.Centre), w.text(end.Centre))
	}
}

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
