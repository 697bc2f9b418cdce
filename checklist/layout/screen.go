package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// squareInchNewtons turns psi into MPa: newtons per pound over square millimetres per square inch.
const squareInchNewtons = newtonsPerPound / (25.4 * 25.4)

// screens works out the loads that a published method covers and names those that it does not.
func (w *work) screens() {
	switch w.spec.InfillKind {
	case FillCables:
		w.notScreened("the pull of cables on end posts", "it follows from the maker's tension, not from this layout")
	case FillPanels:
		w.notScreened("panels under a push", "their strength is the maker's or an engineer's to give")
	}
	load, ok := w.topLoad()
	if !ok {
		w.notScreened("upper bolt tension", "there is no load on the guard in this rule set")
		w.notScreened("rail bending", "there is no load on the guard in this rule set")
		return
	}
	w.boltScreen(load)
	w.railScreen(load)
}

// notScreened records a load that was left out, and why.
func (w *work) notScreened(what, why string) {
	w.out.Screens = append(w.out.Screens, Screen{What: what, Sentence: fmt.Sprintf("%s: not screened, since %s.", upperFirst(what), why)})
}

// boltScreen is the tension in the upper bolt, against the hold-down's published figure.
func (w *work) boltScreen(load topLoad) {
	const what = "upper bolt tension"
	switch {
	case w.spec.PostMount != MountBolted:
		w.notScreened(what, "the method does not fit posts in sleeves or on bases")
		return
	case w.run.PostsAre == PostsExisting:
		w.notScreened(what, "the posts stand there already, and nothing here says how they are bolted")
		return
	case w.run.Kind == Rake:
		w.stringerScreen(load)
		return
	}
	w.tension(what, w.edgePair(0), load, w.carried(func(Post) bool { return true }))
	for _, p := range w.out.Posts {
		if len(p.Corner) > 0 {
			// It holds against a push on the next run, whose first bay is no longer than bays may be.
			w.tension(what+" of the second pair at "+p.Label, p.Corner, load, w.spec.PostMaxCentres/2)
		}
	}
}

// tension screens a pair of bolts of a post that carries a length of the top.
func (w *work) tension(what string, bolts []Bolt, load topLoad, carried length.Length) {
	lower, spacing := bolts[1].FromTop, bolts[1].FromTop-bolts[0].FromTop
	if spacing <= 0 || w.out.Heights.Finished <= 0 {
		w.notScreened(what, "the bolts or the height are not laid out")
		return
	}
	pounds, push := load.onPost(w, carried)
	if pounds <= 0 {
		w.notScreened(what, "the load runs along the top, and no bay is laid out")
		return
	}
	s := Screen{What: what, Screened: true, Unit: load.unit()}
	s.Value = load.told(UpperBoltTension(pounds, w.out.Heights.Finished, w.spec.Decking, lower, spacing))
	s.Sentence = fmt.Sprintf("%s: %s, at %s, with %s of decking and %s down to the lower bolt, over %s between the bolts, is %s (load: %s).",
		upperFirst(what), push.onPost(), w.text(w.out.Heights.Finished), w.text(w.spec.Decking), w.text(lower), w.text(spacing), force(s.Value, s.Unit), push.source)
	s.Sentence += push.note
	if over := w.againstHoldDown(&s); over != "" {
		w.problem(w.run.Label, "bolt_top", "%s: ask an engineer, or set the bolts further apart.", over)
	}
	if s.Figure > 0 {
		s.Sentence += " An upper hold-down does nothing for an inward push."
	}
	s.Sentence += w.tested(pounds)
	w.out.Screens = append(w.out.Screens, s)
}

// againstHoldDown holds the tension in the upper bolt to the hold-down's figure; it returns a phrase where it is over that.
func (w *work) againstHoldDown(s *Screen) (over string) {
	hold, ok := w.in.Rules.Practice(codes.HoldDownCapacity)
	if !ok {
		return ""
	}
	s.Figure = hold.Number
	if s.Unit == "kN" && hold.Unit == "lb" {
		s.Figure = KilonewtonsFromPounds(hold.Number)
	}
	relation := "within"
	if s.Value > s.Figure {
		relation = "over"
		over = fmt.Sprintf("The %s screens at %s, over the hold-down figure of %s", s.What, force(s.Value, s.Unit), force(s.Figure, s.Unit))
	}
	s.Sentence += fmt.Sprintf(" That is %s the hold-down figure of %s (%s).", relation, force(s.Figure, s.Unit), hold.Source())
	return over
}

// stringerScreen is the tension in the upper bolt of posts on the stringer, where the places of the bolts are known: the same couple, with the
// load as high above the lower bolt as the finished top stands. How the stringer itself bends and twists it leaves out.
func (w *work) stringerScreen(load topLoad) {
	const what = "upper bolt tension"
	st := w.out.Stair.Stringer
	switch {
	case st == nil:
		w.notScreened(what, "no new post of the flight is bolted to its stringer, and the method fits no other")
		return
	case st.Depth == 0 || st.Below == 0:
		w.notScreened(what, "the stringer's depth and how far its lower edge stands below the nosing line are not both given")
		return
	case st.apart(w.spec.Grid) <= 0 || st.Marks[1].BelowLine <= 0 || w.out.Heights.Finished <= 0:
		w.notScreened(what, "the bolts or the height are not laid out")
		return
	}
	lower, spacing := st.Marks[1].BelowLine.Round(w.spec.Grid), st.apart(w.spec.Grid)
	pounds, push := load.onPost(w, w.carried(Post.Stringer))
	if pounds <= 0 {
		w.notScreened(what, "the load runs along the top, and no bay is laid out")
		return
	}
	s := Screen{What: what, Screened: true, Unit: load.unit()}
	s.Value = load.told(UpperBoltTension(pounds, w.out.Heights.Finished, 0, lower, spacing))
	s.Sentence = fmt.Sprintf("Upper bolt tension on the stringer: %s, at %s above the nosing line, with %s from that line down to the lower bolt, over %s between the bolts, is %s (load: %s).",
		push.onPost(), w.text(w.out.Heights.Finished), w.text(lower), w.text(spacing), force(s.Value, s.Unit), push.source)
	s.Sentence += push.note
	if over := w.againstHoldDown(&s); over != "" {
		w.ask("%s, with the bolts %s apart in %s: ask an engineer how the posts on the stringer are held.", over, w.text(spacing), st.wood(w.style))
	}
	s.Sentence += " How the stringer bends and twists is not in it."
	w.out.Screens = append(w.out.Screens, s)
}

// tested says how posts bolted without a hold-down did in published tests, where the job names none, beside a load in pounds.
func (w *work) tested(pounds float64) string {
	level, ok := w.in.Rules.Practice(codes.LoadPostTest)
	if !ok || w.spec.HoldDown != "" {
		return ""
	}
	return fmt.Sprintf(" No hold-down is named for this job: 4x4 posts on two 1/2 in bolts without one held %d lb on average in published tests, %.0f %% of the %s that such tests ask for, %.1f times the load here (%s).",
		testedWithout, TestShare(testedWithout, level.Number), force(level.Number, level.Unit), TestFactor(level.Number, pounds), level.Source())
}

// railScreen is the bending stress of the top rail in the longest bay, without and with a cap that is fixed to carry load. On a stair its span
// is along the rake, since the push is square to the guard.
func (w *work) railScreen(load topLoad) {
	var clear length.Length
	for _, b := range w.out.Bays {
		if p := b.Used(); p != nil {
			clear = max(clear, w.slope.along(p.ClearTop))
		}
	}
	// An outward push bends a rail on edge over its thickness and a flat one over its width.
	rail := section{w.spec.RailWidth, w.spec.RailThickness}
	if w.spec.RailOrientation == RailFlat {
		rail = section{w.spec.RailThickness, w.spec.RailWidth}
	}
	if clear <= 0 || rail.stiffness() <= 0 {
		w.notScreened("rail bending", "there is no rail laid out")
		return
	}
	moment, push := load.onRail(w, clear)
	s := Screen{What: "rail bending", Screened: true, Unit: "psi"}
	per := 1.0
	if w.in.Unit == length.Millimetres {
		s.Unit, per = "MPa", squareInchNewtons
	}
	s.Value = bendingStress(moment, rail) * per
	where := "clear top rail"
	if !w.slope.level() {
		where += " along the rake"
	}
	s.Sentence = fmt.Sprintf("Rail bending: %s of %s of %s, %s, bends it to %s", push.words, w.marked(clear), where, w.spec.RailOrientation, stress(s.Value, s.Unit))
	if push.other != "" {
		s.Sentence += ", " + push.other + " does"
	}
	s.Sentence += fmt.Sprintf(" (load: %s)", push.source)
	if cap := (section{w.spec.CapThickness, w.spec.CapWidth}); cap.stiffness() > 0 && w.slope.level() {
		s.Sentence += fmt.Sprintf("; with a cap of the same wood that really is fixed to carry load both bend together, each by its stiffness: %s in the cap, %s in the rail",
			stress(bendingStress(moment, cap, rail)*per, s.Unit), stress(bendingStress(moment, rail, cap)*per, s.Unit))
	}
	s.Sentence += "." + push.note + " There is no figure for it in this rule set: hold it against the design value of the stock."
	w.out.Screens = append(w.out.Screens, s)
}

// force shows a force to the pound or the hundredth of a kilonewton.
func force(value float64, unit string) string {
	if unit == "kN" {
		return fmt.Sprintf("%.2f kN", value)
	}
	return thousands(value) + " " + unit
}

// stress shows a stress to the psi or the tenth of a megapascal.
func stress(value float64, unit string) string {
	if unit == "MPa" {
		return fmt.Sprintf("%.1f MPa", value)
	}
	return thousands(value) + " " + unit
}

// thousands shows a whole number with its thousands set apart.
func thousands(value float64) string {
	digits := fmt.Sprintf("%.0f", value)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return digits
}
