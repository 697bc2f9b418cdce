package codes

import (
	"cmp"

	"newelbook/checklist/length"
)

// Bound says on which side of a figure a value must lie, and whether the figure itself will do. The zero value is
// unknown and nothing is inside it.
type Bound string

// The bounds. Under and Over are strict: exactly at the figure is outside. For a trigger, such as the drop at which a
// guard is required, being inside the bound means that the rule takes hold.
const (
	AtLeast Bound = "at least"
	AtMost  Bound = "at most"
	Under   Bound = "under"
	Over    Bound = "over"
)

// Test says whether the value is inside the limit, compared exactly.
func (b Bound) Test(value, limit length.Length) bool { return b.holds(cmp.Compare(value, limit)) }

// TestNumber is Test for counts and other figures that are not lengths. Not-a-number is never inside.
func (b Bound) TestNumber(value, limit float64) bool {
	return value == value && limit == limit && b.holds(cmp.Compare(value, limit))
}

// Known says whether b is one of the four bounds.
func (b Bound) Known() bool {
	switch b {
	case AtLeast, AtMost, Under, Over:
		return true
	}
	return false
}

// holds judges the order of value against limit: negative, zero or positive.
func (b Bound) holds(order int) bool {
	switch b {
	case AtLeast:
		return order >= 0
	case AtMost:
		return order <= 0
	case Under:
		return order < 0
	case Over:
		return order > 0
	}
	return false
}
