package codes

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"newelbook/checklist/length"
)

// DropPoint is one reading of how far the ground lies below the finished walking surface, at a horizontal distance out
// from the open edge. The points of one call lie on one line square to the edge.
type DropPoint struct {
	Out  length.Length `json:"out"`
	Drop length.Length `json:"drop"`
}

// GuardRequired says whether the rule set asks for a guard at this edge, and why, in one sentence that names the figure, lengths in the
// given style.
//
// Drops count from the edge to the end of the zone, inclusive, and only those: deeper ground beyond it does not. Where the
// rule set has a slope, ground that falls more steeply than it between two neighbouring points, the nearer one inside the
// zone, calls for a guard as well. Two points at the same distance make a wall, steeper than any slope.
//
// Where it cannot tell (no figure, or nothing measured within the zone) it answers that a guard is required and says so:
// forgetting never removes a guard.
func GuardRequired(rules Applied, points []DropPoint, style length.Style) (required bool, why string) {
	limit, found := rules.Figure(GuardTriggerDrop)
	if !found {
		return true, "There is no figure in this rule set for the drop that calls for a guard, so a guard is taken as required."
	}
	zone, zoned := rules.Figure(GuardTriggerZone)
	inZone := func(p DropPoint) bool { return !zoned || zone.Bound.Test(p.Out, zone.Value) }
	within := ""
	if zoned {
		within = fmt.Sprintf(" within %s of the edge", zone.Value.FormatFigure(style))
	}

	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b DropPoint) int {
		return cmp.Or(cmp.Compare(a.Out, b.Out), cmp.Compare(a.Drop, b.Drop))
	})
	deepest, measured := DropPoint{}, false
	for _, p := range points {
		if inZone(p) && (!measured || p.Drop > deepest.Drop) {
			deepest, measured = p, true
		}
	}
	if !measured {
		return true, fmt.Sprintf("No drop has been measured%s, so a guard is taken as required (%s).", within, limit.Source())
	}
	drop, figure := deepest.Drop.FormatAgainst(limit.Value, style)
	if limit.Bound.Test(deepest.Drop, limit.Value) {
		return true, fmt.Sprintf("A guard is required: the drop %s is %s, and the figure is %s %s%s (%s).",
			place(deepest, style), drop, limit.Bound, figure, within, limit.Source())
	}
	slope, sloped := rules.Figure(GuardTriggerSlope)
	if sloped {
		for i := 1; i < len(points); i++ {
			near, far := points[i-1], points[i]
			if inZone(near) && falls(near, far, slope.Figure) {
				return true, fmt.Sprintf("A guard is required: the ground falls %s in %s going out, and the figure is %s %s%s (%s).",
					(far.Drop - near.Drop).Format(style), (far.Out - near.Out).Format(style), slope.Bound, slope.Text, within, slope.Source())
			}
		}
	}
	sentence := fmt.Sprintf("A guard is not required by the drop: the greatest%s is %s, and the figure is %s %s (%s).",
		within, drop, limit.Bound, figure, limit.Source())
	if sloped && len(points) == 1 {
		sentence += fmt.Sprintf(" The slope of the ground was not measured; one %s %s calls for a guard too (%s).", slope.Bound, slope.Text, slope.Source())
	}
	return false, sentence
}

// place says where a drop was measured.
func place(p DropPoint, style length.Style) string {
	if p.Out <= 0 {
		return "at the edge"
	}
	return p.Out.Format(style) + " out"
}

// falls says whether the ground from the nearer to the farther point is inside the slope's bound, compared exactly.
func falls(near, far DropPoint, slope Figure) bool {
	rise, run := far.Drop-near.Drop, far.Out-near.Out
	if rise <= 0 {
		return false
	}
	if run == 0 {
		return true
	}
	ground := new(big.Rat).Quo(rise.Rat(), run.Rat())
	return slope.Bound.holds(ground.Cmp(big.NewRat(slope.Rise, slope.Run)))
}

// GuardHeight returns the least height of a level guard at that drop: the low height where the rule set has one and the
// drop allows it, the general height otherwise. False means that there is no figure in this rule set.
//
// The low height of Ontario holds for an exterior guard that serves one dwelling unit; for anything else ask Applied for
// GuardHeightLevel.
func GuardHeight(rules Applied, drop length.Length) (AppliedFigure, bool) {
	low, hasLow := rules.Figure(GuardHeightLevelLow)
	upTo, hasDrop := rules.Figure(GuardHeightLevelLowDrop)
	if hasLow && hasDrop && upTo.Bound.Test(drop, upTo.Value) {
		return low, true
	}
	return rules.Figure(GuardHeightLevel)
}

// LandingHeight returns the least height of the guard along a landing of a stair, by the length of its inside edge: the
// landing's own height where the rule set has one and that length allows it, the height of a level guard otherwise, whatever
// the drop. False means that there is no figure in this rule set.
func LandingHeight(rules Applied, insideEdge length.Length) (AppliedFigure, bool) {
	landing, found := rules.Figure(GuardHeightLanding)
	most, limited := rules.Figure(GuardLandingLengthMax)
	if found && (!limited || most.Bound.Test(insideEdge, most.Value)) {
		return landing, true
	}
	return rules.Figure(GuardHeightLevel)
}

// ClimbZoneAsked says whether the zone where nothing may help climbing is asked for at that drop: where the drop is not
// given (zero) it is, since forgetting never removes a check. ruled is false when there is no such zone in this rule set.
func ClimbZoneAsked(rules Applied, drop length.Length) (asked, ruled bool) {
	if _, ruled := InClimbZone(rules, 0); !ruled {
		return false, false
	}
	trigger, found := rules.Figure(ClimbTriggerDrop)
	return !found || drop <= 0 || trigger.Bound.Test(drop, trigger.Value), true
}

// InClimbZone says whether a foothold at that height above the floor stands in the zone where nothing may help climbing,
// the ends of the zone included. ruled is false when there is no such zone in this rule set. It does not look at the drop:
// some rule sets ask for the zone over a great drop only, see ClimbZoneAsked.
func InClimbZone(rules Applied, height length.Length) (inside, ruled bool) {
	low, hasLow := rules.Figure(ClimbZoneLow)
	high, hasHigh := rules.Figure(ClimbZoneHigh)
	if !hasLow || !hasHigh {
		return false, false
	}
	return !low.Bound.Test(height, low.Value) && !high.Bound.Test(height, high.Value), true
}
