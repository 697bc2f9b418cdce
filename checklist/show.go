package checklist

import (
	"strconv"

	"newelbook/checklist/length"
)

// Show is the answer as people read it: a length in the style, a number, yes or no, what the gauge did. It is empty for
// no answer.
func (a Answer) Show(style length.Style) string {
	switch {
	case a.Length != nil:
		return a.Length.Format(style)
	case a.Count != nil:
		return strconv.Itoa(*a.Count)
	case a.Moisture != nil:
		return a.Moisture.String()
	case a.Gauge != "":
		return "gauge " + string(a.Gauge)
	}
	return string(a.Seen)
}

// HeldTo lists the figures that a reading of the check is held to: code figures with their clauses and standing, then the layout's
// nominal with its tolerance. It is empty where there is none.
func (c Check) HeldTo(style length.Style) string { return heldTo(c, style) }
