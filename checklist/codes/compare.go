package codes

import (
	"math"
	"slices"
	"strings"
)

// Difference is one figure that two rule sets do not have alike.
type Difference struct {
	Key   string `json:"key"`
	Title string `json:"title"` // as the first rule set has it, or the second where only that has the figure
	// A and B are the figures in force; nil means that there is no figure in that rule set.
	A *AppliedFigure `json:"a,omitempty"`
	B *AppliedFigure `json:"b,omitempty"`
	// What differs where both have the figure; all false where only one has it.
	Value  bool `json:"value"`
	Bound  bool `json:"bound"`
	Clause bool `json:"clause"`
}

// Compare lists, by key, the figures whose value, bound or clause differ between two rule sets as they stand for a job, and
// those that only one has. Practice that the authority amended for one of them stands against the practice beside the other.
// Values are compared, not how they are written: 36 in and 914.4 mm are the same. Edition and standing are not differences of
// the figure; both figures carry theirs.
func Compare(a, b Applied) []Difference {
	var all []Difference
	for _, key := range keysOf(a, b) {
		x, inA := a.Figure(key)
		y, inB := b.Figure(key)
		switch {
		case !inB && x.Amendment != nil:
			y, inB = b.Practice(key)
		case !inA && y.Amendment != nil:
			x, inA = a.Practice(key)
		}
		switch {
		case !inB:
			all = append(all, Difference{Key: key, Title: x.Title, A: &x})
		case !inA:
			all = append(all, Difference{Key: key, Title: y.Title, B: &y})
		default:
			if d := difference(x, y); d.Value || d.Bound || d.Clause {
				all = append(all, d)
			}
		}
	}
	return all
}

// keysOf lists the keys of both, sorted, each once.
func keysOf(a, b Applied) []string {
	var keys []string
	for _, f := range slices.Concat(a.figures, b.figures) {
		keys = append(keys, f.Key)
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// difference compares two figures of one key.
func difference(a, b AppliedFigure) Difference {
	return Difference{
		Key: a.Key, Title: a.Title, A: &a, B: &b,
		Value: !a.sameValue(b.Figure), Bound: a.Bound != b.Bound, Clause: a.Clause != b.Clause,
	}
}

// sameValue says whether two figures of one kind are of one size. Lengths, counts and ratios are compared exactly; where
// two units meet, to one part in a thousand million.
func (f Figure) sameValue(other Figure) bool {
	switch f.Kind {
	case KindText:
		return strings.EqualFold(f.Text, other.Text)
	case KindLength:
		return f.Value == other.Value
	case KindRatio:
		return f.Rise*other.Run == other.Rise*f.Run
	}
	if f.Unit == other.Unit {
		return f.Number == other.Number
	}
	x, _ := f.Metric()
	y, _ := other.Metric()
	return math.Abs(x-y) <= 1e-9*max(x, y)
}
