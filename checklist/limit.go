package checklist

import (
	"cmp"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// limitOf freezes a code figure as a limit. Only lengths with a bound are limits.
func limitOf(f codes.Figure) (Limit, bool) {
	if f.Kind != codes.KindLength || !f.Bound.Known() {
		return Limit{}, false
	}
	return Limit{Key: f.Key, Bound: f.Bound, Value: f.Value, Clause: f.Clause, Edition: f.Edition, Standing: string(f.Standing)}, true
}

// holding is a reading held against one limit.
type holding struct {
	limit   Limit
	margin  length.Length // positive inside
	doubt   length.Length
	outcome Outcome
}

// hold compares a reading with the limit.
func (l Limit) hold(reading, doubt length.Length) holding {
	h := holding{limit: l, margin: reading - l.Value, doubt: doubt, outcome: Inside}
	if l.upper() {
		h.margin = l.Value - reading
	}
	switch {
	case !l.Bound.Test(reading, l.Value):
		h.outcome = Outside
	case h.margin < doubt:
		h.outcome = Uncertain
	}
	return h
}

// upper says whether the limit bounds from above.
func (l Limit) upper() bool { return l.Bound == codes.Under || l.Bound == codes.AtMost }

// citation names where the figure comes from and how it was seen.
func (l Limit) citation() string {
	var parts []string
	if l.Amended != "" {
		parts = append(parts, "said by "+l.Amended+" for this job")
	}
	parts = append(parts, l.Clause, l.Edition)
	if l.Amended == "" {
		parts = append(parts, l.Standing)
	}
	parts = slices.DeleteFunc(parts, func(part string) bool { return part == "" })
	return strings.Join(parts, ", ")
}

// worse orders holdings, the worst first, whatever their order in the check.
func worse(a, b holding) int {
	return cmp.Or(
		cmp.Compare(a.outcome.rank(), b.outcome.rank()), cmp.Compare(a.margin, b.margin), compareLimits(a.limit, b.limit),
	)
}

// compareLimits is an order of limits of equal weight.
func compareLimits(a, b Limit) int {
	return cmp.Or(cmp.Compare(a.Key, b.Key), cmp.Compare(a.Bound, b.Bound), cmp.Compare(a.citation(), b.citation()))
}

// rank orders outcomes, the worst first.
func (o Outcome) rank() int {
	switch o {
	case Outside:
		return 0
	case Uncertain:
		return 1
	case Inside:
		return 2
	}
	return 3
}
