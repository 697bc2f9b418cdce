package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// heightMargin is what a height left to the rule set stands over its limit (common practice, no source).
func (w *work) heightMargin() length.Length {
	if w.in.Unit == length.Millimetres {
		return 12 * mm
	}
	return in / 2
}

// heightOf is the finished height of a level or raked guard, as specified or the rule set's limit and a margin, and the
// limit itself; zero where neither is given.
func (w *work) heightOf(level bool) (height length.Length, lim codes.AppliedFigure, known bool) {
	height = w.spec.StairHeight
	if level {
		height = w.spec.LevelHeight
		// A lower height for a small drop is taken only where the drop has been given.
		if drop := w.run.Drop(w.out.Stair); drop > 0 {
			lim, known = codes.GuardHeight(w.in.Rules, drop)
		} else {
			lim, known = w.in.Rules.Figure(codes.GuardHeightLevel)
		}
	} else {
		lim, known = w.in.Rules.Figure(codes.GuardHeightStair)
	}
	if height == 0 && known {
		height = lim.Value + w.heightMargin()
	}
	return height, lim, known
}

// topShrinks is what rail and cap together lose of their height as they dry from wetMoisture to DryMoisture, by the shrinkage of the species
// and the linear method (Wood Handbook, from memory); nothing where that is not known.
func (w *work) topShrinks() length.Length {
	high := w.spec.RailDepth() + w.spec.CapThickness
	return w.sizeAt(high, wetMoisture) - w.drySize(high)
}

// heights stacks the rails and cap under the finished top.
func (w *work) heights() {
	level := w.run.Kind != Rake
	key, words := "level_height", "level height"
	if !level {
		key, words = "stair_height", "stair height"
	}
	finished, lim, known := w.heightOf(level)
	h := Heights{Datum: "the decking, marked on every post from one and the same reference", Finished: finished, Under: w.spec.UnderRail}
	if !level {
		h.Datum = "the nosing line, measured plumb"
		h.Under = w.spec.RakeBottom
	}
	h.RailVertical, h.CapVertical = w.slope.along(w.spec.RailDepth()), w.slope.along(w.spec.CapThickness)
	h.TopRailTop = finished - h.CapVertical
	h.BottomRailTop = h.Under + h.RailVertical
	h.PostTop = h.TopRailTop
	if w.spec.PostsAtCap == PostsThroughCap {
		h.PostTop = finished + w.spec.PostAbove
	}
	w.out.Heights = h
	if finished <= 0 {
		w.fatal(w.run.Label, key, "Enter the %s: there is no figure in this rule set to take it from.", words)
		return
	}
	w.sayHeights(level, lim, known)
	if !known {
		w.say("Height: there is no figure in this rule set to hold it to.")
	} else if !lim.Bound.Test(finished, lim.Value) {
		value, figure := finished.FormatAgainst(lim.Value, w.style)
		w.problem(w.run.Label, key, "The finished top at %s does not reach the figure of %s %s (%s).", value, lim.Bound, figure, lim.Source())
	} else if over, shrinks := finished-lim.Value, w.topShrinks(); over <= shrinks {
		left := "nothing over"
		if over > 0 {
			left = "only " + over.FormatFine(w.style) + " over"
		}
		w.problem(w.run.Label, key, "The finished top has %s the figure of %s %s, and rail and cap may dry by about %s: it can fall below. Leave more over.", left, lim.Bound, w.text(lim.Value), shrinks.FormatFine(w.style))
	}
	if clear := h.TopRailTop - h.RailVertical - h.BottomRailTop; clear <= 0 {
		w.problem(w.run.Label, "under_rail", "The rails leave no room for infill: the top rail's underside is %s from the bottom rail's top.", w.text(clear))
	}
	if level {
		w.underRail()
	}
}

// sayHeights writes the height arithmetic.
func (w *work) sayHeights(level bool, lim codes.AppliedFigure, known bool) {
	h := w.out.Heights
	from := "decking"
	if !level {
		from = "nosing line, plumb"
	}
	figure := ""
	if known {
		figure = fmt.Sprintf(" (%s %s, %s)", lim.Bound, lim.Value.FormatFigure(w.style), lim.Clause)
	}
	w.say("Heights: finished top %s above the %s%s, less a cap of %s, puts the top of the top rail at %s.", w.text(h.Finished), from, figure, w.text(h.CapVertical), w.text(h.TopRailTop))
	w.say("Heights: bottom rail from %s to %s; rails measure %s plumb.", w.text(h.Under), w.text(h.BottomRailTop), w.text(h.RailVertical))
}

// underRail holds the opening under the bottom rail of a level run to its figure, or to that of the infill.
func (w *work) underRail() {
	lim := limitOf(w.in.Rules, codes.OpeningUnderRail, w.style)
	if !lim.known {
		lim = limitOf(w.in.Rules, codes.OpeningLevel, w.style)
	}
	if !lim.passes(w.spec.UnderRail) {
		value, _ := lim.against(w.spec.UnderRail, w.style)
		w.problem(w.run.Label, "under_rail", "The opening under the bottom rail is %s; the figure is %s.", value, lim.words)
	}
	asked, _ := codes.ClimbZoneAsked(w.in.Rules, w.run.Drop(w.out.Stair))
	if inside, _ := codes.InClimbZone(w.in.Rules, w.out.Heights.BottomRailTop); asked && inside {
		w.problem(w.run.Label, "under_rail", "The top of the bottom rail, at %s, stands in the zone where nothing may help climbing: ask the authority.", w.text(w.out.Heights.BottomRailTop))
	}
}

// betweenRails is the cut length of a baluster that stands between rails so far apart, in shoes whose floors keep it off them.
func (w *work) betweenRails(apart length.Length) (cut length.Length, note string) {
	switch seat := w.spec.InfillSeat; {
	case !w.spec.InfillSeatGiven:
		return apart, "rail to rail: how far its shoes keep it off the rails is not given, so take that off twice"
	case seat == 0:
		return apart, "rail to rail"
	default:
		return apart - 2*seat, fmt.Sprintf("%s short of each rail, in its shoes", w.text(seat))
	}
}

// memberCut is the cut length of an upright member of the infill and how its ends are cut; of a panel, its height.
func (w *work) memberCut() (cut length.Length, note string) {
	h := w.out.Heights
	switch {
	case w.spec.InfillKind == FillPanels:
		cut, note = h.TopRailTop-h.RailVertical-h.BottomRailTop-2*w.spec.PanelGap, fmt.Sprintf("%s clear of each rail", w.text(w.spec.PanelGap))
	case w.spec.InfillKind == FillCables:
		cut, note = h.TopRailTop-h.RailVertical-h.BottomRailTop, "rail to rail; drilled at the cables' marks"
	case w.spec.InfillFix == FixFace:
		cut, note = h.TopRailTop-h.Under, "on the face of both rails, full depth"
	default:
		cut, note = w.betweenRails(h.TopRailTop - h.RailVertical - h.BottomRailTop)
	}
	if !w.slope.level() {
		note += fmt.Sprintf("; measured plumb, both ends cut %.1f degrees off square", w.slope.angle())
	}
	return max(cut, 0).RoundDown(w.spec.Grid), note
}
