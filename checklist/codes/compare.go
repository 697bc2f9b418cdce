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
// those that only one has. Values are compared, not how they are written: 36 in and 914.4 mm are the same. Edition and
// standing are not differences of the figure; both figures carry theirs.
func Compare(a, b Applied) []Difference {
	var all []Difference
	i, j := 0, 0
	for i < len(a.figures) || j < len(b.figures) {
		switch {
		case j == len(b.figures) || i < len(a.figures) && a.figures[i].Key < b.figures[j].Key:
			only := a.figures[i]
			all = append(all, Difference{Key: only.Key, Title: only.Title, A: &only})
			i++
		case i == len(a.figures) || b.figures[j].Key < a.figures[i].Key:
			only := b.figures[j]
			all = append(all, Difference{Key: only.Key, Title: only.Title, B: &only})
			j++
		default:
			if d := difference(a.figures[i], b.figures[j]); d.Value || d.Bound || d.Clause {
				all = append(all, d)
			}
			i, j = i+1, j+1
		}
	}
	return slices.Clip(all)
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
