package checklist

import (
	"fmt"
	"strings"

	"newelbook/checklist/length"
)

// whyMeasured is what a length came to, in finished sentences: the first names the figure that decided, and where a limit outranks a
// layout that it is off as well, a second says by how much.
func whyMeasured(c Check, got length.Length, worst *holding, r Result, t Tool, style length.Style) string {
	why := whyDecided(c, got, worst, r, t, style)
	if r.Layout == Outside && verdict(r.Limit, r.Layout) != OffLayout {
		why += " Off the layout as well: " + againstLayout(c, got, style) + "."
	}
	return why
}

// whyDecided is the finished sentence that names the figure which decided.
func whyDecided(c Check, got length.Length, worst *holding, r Result, t Tool, style length.Style) string {
	var value, against string
	if worst != nil {
		value, against = againstLimit(got, *worst, style)
	}
	switch {
	case worst != nil && worst.outcome == Outside:
		return fmt.Sprintf("%s is %s (%s).", value, against, worst.limit.citation())
	case worst != nil && worst.outcome == Uncertain:
		again := "measure again with care, or adjust it"
		if c.Ask == AskGap {
			again = "measure again with care, or try a gauge"
		}
		if worst.margin == 0 {
			return fmt.Sprintf("%s is %s, and %s is %s: %s.", value, against, t.possessive(), r.Doubt.Format(style), again)
		}
		return fmt.Sprintf("%s is %s, no more than %s of %s: %s.", value, against, t.possessive(), r.Doubt.Format(style), again)
	case worst != nil && r.Layout == NotHeld:
		return fmt.Sprintf("%s is %s (%s).", value, against, worst.limit.citation())
	case worst != nil:
		return fmt.Sprintf("%s; it is %s (%s).", againstLayout(c, got, style), against, worst.limit.citation())
	case r.Layout != NotHeld:
		return againstLayout(c, got, style) + "."
	}
	return got.Format(style) + " was recorded; there is no figure to hold it to."
}

// againstLimit says on which side of a limit a length is, and by how much when inside.
func againstLimit(got length.Length, h holding, style length.Style) (value, against string) {
	value, limit := got.FormatAgainst(h.limit.Value, style)
	against = string(h.limit.Bound) + " " + limit
	switch {
	case h.outcome == Outside:
		return value, "not " + against
	case h.margin == 0:
		return value, against + " with nothing to spare"
	}
	by, _ := h.margin.FormatAgainst(0, style)
	return value, against + " by " + by
}

// againstLayout says how a length stands against its nominal and tolerance.
func againstLayout(c Check, got length.Length, style length.Style) string {
	off := got - *c.Nominal
	allowed, side := c.Plus, "over"
	if off < 0 {
		allowed, side = c.Minus, "under"
	}
	outside := off.Abs() > allowed
	by, most := off.Abs().FormatAgainst(allowed, style)
	if *c.Nominal == 0 {
		if off < 0 {
			by = "-" + by
		}
		if outside {
			return fmt.Sprintf("%s is outside the %s that the layout allows", by, tolerance(c, style))
		}
		return fmt.Sprintf("%s is within the %s that the layout allows", by, tolerance(c, style))
	}
	value, nominal := got.Format(style), c.Nominal.Format(style)
	switch {
	case outside && allowed == 0:
		return fmt.Sprintf("%s is %s %s the %s on the layout, and none of that is allowed", value, by, side, nominal)
	case outside:
		return fmt.Sprintf("%s is %s %s the %s on the layout, more than the %s allowed", value, by, side, nominal, most)
	case c.Plus == c.Minus:
		return fmt.Sprintf("%s is within %s of the %s on the layout", value, c.Plus.Format(style), nominal)
	case off == 0:
		return value + " is the length on the layout"
	}
	return fmt.Sprintf("%s is %s %s the %s on the layout, no more than the %s allowed", value, by, side, nominal, most)
}

// tolerance shows a check's tolerance.
func tolerance(c Check, style length.Style) string {
	if c.Plus == c.Minus {
		return "±" + c.Plus.Format(style)
	}
	return fmt.Sprintf("+%s -%s", c.Plus.Format(style), c.Minus.Format(style))
}

// heldTo lists the figures that a reading of the check is held to, each with where it comes from and how that was seen.
func heldTo(c Check, style length.Style) string {
	var parts []string
	for _, l := range c.Limits {
		parts = append(parts, strings.TrimSuffix(fmt.Sprintf("%s %s, %s", l.Bound, l.Value.FormatFigure(style), l.citation()), ", "))
	}
	switch {
	case c.Nominal != nil && c.HasTol:
		parts = append(parts, fmt.Sprintf("%s %s, layout", c.Nominal.Format(style), tolerance(c, style)))
	case c.Moist != nil:
		parts = append(parts, c.Moist.heldTo())
	case c.Count != nil:
		parts = append(parts, fmt.Sprintf("%d, layout", *c.Count))
	}
	return strings.Join(parts, "; ")
}
