package layout

import (
	"fmt"

	"newelbook/checklist/codes"
)

// What a hand holds along a flight.
const (
	HandrailTop      = "top of the guard"
	HandrailSeparate = "separate"   // a handrail fixed to this guard
	HandrailOther    = "other side" // a handrail on the flight's other side
)

// handrail says whether the rule set asks for a handrail on this flight, whether the top of the guard can be one, and at which
// height it runs.
func (w *work) handrail(s *Stair) {
	s.Handrail = w.handrailNeeded(s)
	s.Grip, s.Graspable, s.GripShape = w.grip()
	switch w.run.Handrail {
	case HandrailTop:
		s.HandrailAt, _, _ = w.heightOf(false)
		if !s.Graspable {
			w.problem(w.run.Label, "handrail", "The top of the guard is to serve as the handrail. %s", s.Grip)
		}
	case HandrailSeparate:
		if s.HandrailAt = w.run.HandrailHeight; s.HandrailAt == 0 {
			s.Asks = append(s.Asks, "Enter the height of the separate handrail above the nosing line: it is not held to a figure yet.")
		}
	case "":
		if s.HandrailRequired {
			s.Asks = append(s.Asks, "Say what serves as the handrail of this flight: the top of the guard, a separate one, or one on the other side.")
		}
	}
	if s.HandrailAt > 0 {
		w.handrailHeight(s)
	}
	if s.HandrailRequired && !s.Graspable && w.run.Handrail != HandrailOther {
		s.HandrailAdvice = w.handrailAdvice()
	}
}

// handrailNeeded says whether the rule set asks for a handrail.
func (w *work) handrailNeeded(s *Stair) string {
	figure, ok := w.in.Rules.Figure(codes.StairHandrailRisers)
	switch {
	case !ok:
		return "There is no figure in this rule set for the flight that needs a handrail: ask the authority."
	case s.Risers == 0:
		return "The number of risers is not given, so the handrail is not decided."
	case figure.Bound.TestNumber(float64(s.Risers), figure.Number):
		s.HandrailRequired = true
		return fmt.Sprintf("A handrail is required: %s, and the figure is %s %s (%s).", plural(s.Risers, "riser"), figure.Bound, figure.Text, figure.Source())
	}
	return fmt.Sprintf("A handrail is not required: %s, and the figure is %s %s (%s).", plural(s.Risers, "riser"), figure.Bound, figure.Text, figure.Source())
}

// handrailHeight holds the handrail's height to the rule set: the top of a guard to the figures for one that serves as the handrail,
// where there are any.
func (w *work) handrailHeight(s *Stair) {
	field, what, low, high := "handrail_height", "The handrail above the nosing line", codes.HandrailHeightMin, codes.HandrailHeightMax
	if w.run.Handrail == HandrailTop {
		field, what = "stair_height", "The top of the guard, as the handrail above the nosing line,"
		if _, ok := w.in.Rules.Figure(codes.GuardHandrailTopMin); ok {
			low, high = codes.GuardHandrailTopMin, codes.GuardHandrailTopMax
		}
	}
	w.test(low, field, what, s.HandrailAt)
	w.test(high, field, what, s.HandrailAt)
}

// handrailAdvice describes a separate handrail by the rule set's figures.
func (w *work) handrailAdvice() string {
	between := func(low, high string) string {
		a, b := limitOf(w.in.Rules, low, w.style), limitOf(w.in.Rules, high, w.style)
		switch {
		case a.known && b.known:
			return w.text(a.figure.Value) + " to " + w.text(b.figure.Value)
		case a.known:
			return string(a.figure.Bound) + " " + w.text(a.figure.Value)
		case b.known:
			return string(b.figure.Bound) + " " + w.text(b.figure.Value)
		}
		return ""
	}
	words := "A separate handrail would do: a round rail"
	if size := between(codes.HandrailGripDiameterMin, codes.HandrailGripDiameterMax); size != "" {
		words += " of " + size
	}
	words += " on the inside of the guard"
	if at := between(codes.HandrailHeightMin, codes.HandrailHeightMax); at != "" {
		words += ", its top " + at + " above the nosing line"
	}
	if lim := limitOf(w.in.Rules, codes.HandrailWallClearanceMin, w.style); lim.known {
		words += ", clear of the guard by " + string(lim.figure.Bound) + " " + w.text(lim.figure.Value)
	}
	return words + ", unbroken from above the lowest riser to above the top one, its ends returned to a post."
}
