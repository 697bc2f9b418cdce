package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// bolts places the two through-bolts of a bolted post in the depth of the framing, with the length that they must have.
func (w *work) bolts() []Bolt {
	depth, long := w.spec.JoistDepth, w.boltLength(w.spec.JoistWidth)
	return []Bolt{
		{Name: "upper", FromTop: w.spec.BoltTop, FromBottom: depth - w.spec.BoltTop, Length: long},
		{Name: "lower", FromTop: depth - w.spec.BoltBottom, FromBottom: w.spec.BoltBottom, Length: long},
	}
}

// boltLength is what a through-bolt must reach: the post, the rim, outer joist or stringer behind it, and two washers, a nut and some thread,
// for which two diameters are allowed, up to the next length that bolts are sold in (common practice, no source).
func (w *work) boltLength(behind length.Length) length.Length {
	step := length.Inch / 2
	if w.in.Unit == length.Millimetres {
		step = 10 * mm
	}
	return (w.spec.PostDepth + behind + 2*w.spec.BoltDiameter).RoundUp(step)
}

// boltRoom says whether something stands in the way of a post's bolts: the end of a joist with its hanger, or an obstruction that
// the builder has noted. Both bolts stand on the post's centre line.
func (w *work) boltRoom(p *Post) {
	if w.spec.PostMount != MountBolted || w.run.Kind == Rake {
		return
	}
	need := w.spec.BoltAccess
	for _, at := range w.run.Obstructions {
		if d := (at - p.Centre).Abs(); d < need {
			w.problem(p.Label, "obstructions", "What is noted at %s from the datum stands %s from the line of the bolts, and a washer and a spanner want %s: move the post or what is there.", w.text(at), w.text(d), w.text(need))
		}
	}
	if w.run.Joists != JoistsAcross || w.spec.JoistWidth <= 0 || w.spec.JoistSpacing <= w.spec.JoistWidth {
		return
	}
	steps := max(0, ratio{int64(p.Centre - w.run.FirstJoist), int64(w.spec.JoistSpacing)}.round(1))
	joist := w.run.FirstJoist + steps*w.spec.JoistSpacing
	d := (p.Centre - joist).Abs() - w.spec.JoistWidth/2
	switch {
	case d < w.spec.BoltDiameter/2:
		p.Joist += fmt.Sprintf(" The bolts run into the end of joist %d.", steps+1)
	case d < need:
		p.Joist += fmt.Sprintf(" The bolts come out %s beside joist %d, and a washer and a spanner want %s: mind its hanger.", w.text(d), steps+1, w.text(need))
	}
}

// boltsFit holds the bolts of the run's posts to what they go through, framing or stringer, each once.
func (w *work) boltsFit() {
	for _, p := range w.out.Posts {
		if p.SharedAs == "" && len(p.Bolts) > 0 && !p.Stringer() {
			w.checkBolts(p.Bolts)
			break
		}
	}
	if st := w.out.Stair; st != nil && st.Stringer != nil {
		w.checkStringer(st.Stringer)
	}
}

// checkBolts holds the bolts through framing to the least edge distance and keeps the upper above the lower.
func (w *work) checkBolts(bolts []Bolt) {
	if spacing := bolts[1].FromTop - bolts[0].FromTop; spacing <= 0 {
		w.problem(w.run.Label, "bolt_top", "The upper bolt is not above the lower one: look at both distances and the joist depth.")
	} else {
		w.say("Bolts: %s below the top and %s above the underside of %s framing stand %s apart; %s long, through post, rim and two diameters of washers and nut.",
			w.text(w.spec.BoltTop), w.text(w.spec.BoltBottom), w.text(w.spec.JoistDepth), w.text(spacing), w.text(bolts[0].Length))
	}
	for _, b := range bolts {
		w.boltEdge(b.Name, min(b.FromTop, b.FromBottom), "framing", "bolt_top")
	}
}

// boltEdge holds the nearest edge of what a bolt goes through to the least edge distance; a fault leads to field.
func (w *work) boltEdge(name string, nearest length.Length, of, field string) {
	edge, ok := w.in.Rules.Practice(codes.BoltEdgeMin)
	if !ok || edge.Bound.Test(nearest, edge.Value) {
		return
	}
	value, figure := nearest.FormatAgainst(edge.Value, w.style)
	w.problem(w.run.Label, field, "The %s bolt stands %s from the edge of the %s; the figure is %s %s (%s).", name, value, of, edge.Bound, figure, edge.Source())
}

// holdDown says what is called for at a bolted post.
func (w *work) holdDown() string {
	if !w.out.Required.Required {
		return ""
	}
	figure, ok := w.in.Rules.Practice(codes.HoldDownCapacity)
	if !ok {
		return ""
	}
	text := fmt.Sprintf("A hold-down of %s %s at the upper bolt is called for (%s).", figure.Bound, figure.Text, figure.Source())
	if w.spec.HoldDown != "" {
		text += " The job has " + w.spec.HoldDown + "."
	}
	return text
}
