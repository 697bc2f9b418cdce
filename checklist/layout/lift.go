package layout

import (
	"cmp"
	"fmt"
	"math"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// lift says what a removable length needs, with its weight from the pieces that lift out. Runs of other kinds have none.
func (w *work) lift() {
	if w.run.Kind != Removable {
		return
	}
	l := &Lift{Why: w.run.RemovableWhy, Store: w.run.RemovableStore, Side: w.run.SideClearance}
	w.out.Lift = l
	if l.Why == "" {
		w.problem(w.run.Label, "removable_why", "Enter why this length is removable: the reason is printed.")
	}
	if w.spec.PostMount == MountSleeve {
		l.Rise = w.spec.JoistDepth + w.spec.Decking
		l.Note = fmt.Sprintf("Lift %s straight up to clear the sleeves; keep %s clear at each side. Cover the empty sleeves and close the opening: an open edge is a fall hazard.", w.text(l.Rise), w.text(l.Side))
	} else {
		w.problem(w.run.Label, "post_mount", "A removable length stands in sleeves: its post mount is %s.", w.spec.PostMount)
		l.Note = fmt.Sprintf("Keep %s clear at each side. Close the opening while it is out: an open edge is a fall hazard.", w.text(l.Side))
	}
	if l.Store == "" {
		w.problem(w.run.Label, "removable_store", "Enter where this length will be stood while it is out.")
	}
	l.Reach = l.Rise + max(w.out.Heights.Finished, w.out.Heights.PostTop)
	l.Ends = []LiftEnd{w.liftStart(), w.liftFar()}
	for i, e := range l.Ends {
		if e.Known && e.Clear < l.Side {
			w.problem(w.run.Label, "side_clearance", "%s It is to be %s or more%s.", e.Says, w.text(l.Side), w.curedBy(i == 0))
		}
	}
	w.weigh(l)
}

// weigh works out what the length weighs, and how many people carry it.
func (w *work) weigh(l *Lift) {
	limit := w.spec.CarryAlone
	if limit == 0 {
		limit = CarryDefault(w.in.Unit)
	}
	l.Limit = float64(limit) / float64(Kilogram)
	species, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok {
		return
	}
	l.Weight = w.volume() * species.Density(liftMoisture)
	if kind := w.spec.InfillKind; kind == FillCables || kind == FillPanels {
		l.Without = kind
	}
	w.say("Removable length: wood of %s at %d %% moisture. %s", species.Name, liftMoisture, l.Weighs(w.style))
	if l.Two = l.Weight > l.Limit; l.Two {
		l.Note += fmt.Sprintf(" Two people carry it: it weighs more than %s.", l.Alone(w.style))
	}
}

// Weighs is the sentence on what the length weighs, in both units, that of the style first, and on what that leaves out. It is
// rounded up, so that what is over a whole limit never reads as the limit.
func (l *Lift) Weighs(style length.Style) string {
	if l.Weight == 0 {
		return "Its weight is not known: its species is not given."
	}
	out := "hardware"
	if l.Without != "" {
		out = l.Without + " and " + out
	}
	return fmt.Sprintf("It weighs about %s by its species and pieces, %s not included.", weightOf(l.Weight).both(style, Weight.upText), out)
}

// Alone is the most that one person carries, in both units.
func (l *Lift) Alone(style length.Style) string { return weightOf(l.Limit).both(style, Weight.Text) }

// liftStart and liftFar are the ends of a removable length. It is to be held by its own frame alone, so that an end at a wall or at
// a post that another run shares is a problem.
func (w *work) liftStart() LiftEnd {
	e := LiftEnd{End: "datum end", Run: w.run.StartAt}
	switch {
	case w.run.Start == EndWall:
		w.problem(w.run.Label, "start", "%s ends at a wall without a post: its rails would hang on the wall. Give it a post of its own there, in a sleeve.", w.run.Label)
		e.Says = "At the datum end it would hang on the wall."
	case w.run.StartAt == "" && w.in.Joint.StartRun != "":
		e.Run = w.in.Joint.StartRun
		w.problem(w.run.Label, "join", "%s shares the first post of %s: a removable length stands in posts of its own. Let %s begin at it as a doubled corner or beyond an opening.", e.Run, w.run.Label, e.Run)
		e.Says = "At the datum end " + e.Run + " would hang on its post."
	case w.run.StartAt == "":
		e.Says = "Nothing is described beside its datum end: measure what is there."
	case w.run.Join == JoinOpening:
		own := sideOf(w.run, w.spec)
		e.Clear, e.Known = clearAcross(own, *cmp.Or(w.in.Joint.across, &own), w.run.JoinBy), true
	case w.run.Join == JoinDoubled:
		e.Clear, e.Known = w.startCorner().clear(w.startBack()), true
	default:
		w.problem(w.run.Label, "join", "%s would hang on a fixed post, %s: a removable length stands in posts of its own. Join it as a doubled corner or beyond an opening.", w.run.Label, w.in.Joint.Shared)
		e.Says = "At the datum end it would hang on a post of " + e.Run + "."
	}
	return w.liftClear(e)
}

func (w *work) liftFar() LiftEnd {
	e := LiftEnd{End: "far end", Run: w.in.Joint.EndRun}
	switch {
	case w.run.End == EndWall:
		w.problem(w.run.Label, "end", "%s ends at a wall without a post: its rails would hang on the wall. Give it a post of its own there, in a sleeve.", w.run.Label)
		e.Says = "At the far end it would hang on the wall."
	case e.Run == "":
		e.Says = "Nothing is described beside its far end: measure what is there."
	case w.in.Joint.EndDoubled:
		e.Clear, e.Known = w.endCorner().clear(w.endBack()), true
	default:
		w.problem(w.run.Label, "join", "%s shares the last post of %s: a removable length stands in posts of its own. Join %s to it as a doubled corner or beyond an opening.", e.Run, w.run.Label, e.Run)
		e.Says = "At the far end " + e.Run + " would hang on its post."
	}
	return w.liftClear(e)
}

// liftClear puts a clear distance in words.
func (w *work) liftClear(e LiftEnd) LiftEnd {
	switch {
	case !e.Known:
	case e.Clear < 0:
		e.Says = fmt.Sprintf("At the %s the two runs stand %s in one another, caps and sleeves counted: nothing is clear to %s.", e.End, w.text(-e.Clear), e.Run)
	default:
		e.Says = fmt.Sprintf("Clear to %s at the %s, caps and sleeves counted: %s.", e.Run, e.End, w.text(e.Clear))
	}
	return e
}

// curedBy says what gives a length that lifts out its clearance at an end.
func (w *work) curedBy(start bool) string {
	c := w.endCorner()
	if start {
		c = w.startCorner()
	}
	if start && w.run.Join == JoinOpening {
		return ": make the opening wider"
	}
	return fmt.Sprintf(": set each post of the corner back by %s or more", w.text(c.least()))
}

// liftMoisture is the moisture content, in percent, that a removable length is weighed at: wood in the open, air-dry
// (common practice, no source).
const liftMoisture = 15

// volume is the wood of posts, rails, balusters and cap in cubic metres.
func (w *work) volume() float64 {
	var total float64
	box := func(a, b, c length.Length, count int) {
		total += a.Millimetres() * b.Millimetres() * c.Millimetres() / 1e9 * float64(count)
	}
	for _, p := range w.out.Posts {
		if p.SharedAs == "" {
			box(w.spec.PostWidth, w.spec.PostDepth, p.Cut, 1)
		}
	}
	for _, b := range w.out.Bays {
		parts := b.Used()
		if parts == nil {
			continue
		}
		box(w.spec.RailThickness, w.spec.RailWidth, parts.Top.Cut+parts.Bottom.Cut, 1)
		if parts.Infill.Kind == FillPanels {
			continue
		}
		before := total
		box(parts.Infill.Member, parts.Infill.Member, parts.Infill.Cut, parts.Infill.Count)
		if parts.Infill.Shape == InfillRound {
			total = before + (total-before)*math.Pi/4
		}
	}
	for _, c := range w.out.Cap {
		box(w.spec.CapThickness, w.spec.CapWidth, c.Length, 1)
	}
	return total
}
