package codes

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist/length"
)

// AppliedFigure is a figure as it stands for one job. The embedded Figure is the one in force; Base is the code's own;
// Amendment is nil unless the authority gave its own figure, in which case only the value and the standing differ.
type AppliedFigure struct {
	Figure
	Base      Figure     `json:"base"`
	Amendment *Amendment `json:"amendment,omitempty"`
}

// Source returns where the figure comes from in one line, with who amended it and what the code itself says.
func (f AppliedFigure) Source() string {
	if f.Amendment == nil {
		return f.Base.Source()
	}
	own := strings.TrimSpace(string(f.Base.Bound) + " " + f.Base.Text)
	return fmt.Sprintf("said by %s; the code: %s, %s", f.SaidBy(), own, f.Base.Source())
}

// SaidBy returns who amended the figure, with office and date where they are recorded; empty for the code's own figure.
func (f AppliedFigure) SaidBy() string {
	if f.Amendment == nil {
		return ""
	}
	parts := []string{f.Amendment.SaidBy}
	for _, part := range []string{f.Amendment.Office, dayText(f.Amendment.On)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ", ")
}

// dayText is a date as people read it, 14 Mar 2026; a text that is no date stays as it is.
func dayText(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 Jan 2006")
}

// Applied is a rule set with a job's amendments laid over it: the one place that answers what a figure is for the job.
// The zero value has no figures.
type Applied struct {
	base    RuleSet
	figures []AppliedFigure // sorted by key
}

// Apply lays the amendments over the rule set. Every amendment must name a figure that the rule set has, or else one of the
// practice that stands beside every rule set (such as the edge distance of a bolt), a value of that figure's kind and who said
// so. A figure of practice stands among those of the rule set once it is amended, and only then. Otherwise the zero Applied is returned with an error that joins one *AmendmentError for
// each refusal.
func Apply(base RuleSet, amendments []Amendment) (Applied, error) {
	base = base.clone()
	applied := Applied{base: base}
	for _, f := range base.Figures {
		applied.figures = append(applied.figures, AppliedFigure{Figure: f, Base: f})
	}
	var refused []error
	for _, a := range amendments {
		i, found := applied.find(a.Key)
		if !found {
			practice, known := sound().reference.Figure(a.Key)
			if !known {
				refused = append(refused, &AmendmentError{Amendment: a, Cause: ErrNoFigure, base: base})
				continue
			}
			applied.figures = slices.Insert(applied.figures, i, AppliedFigure{Figure: practice, Base: practice})
		}
		if err := applied.figures[i].amend(a, base.Units); err != nil {
			refused = append(refused, &AmendmentError{Amendment: a, Cause: err, base: base, figure: applied.figures[i].Base})
		}
	}
	if len(refused) > 0 {
		return Applied{}, errors.Join(refused...)
	}
	return applied, nil
}

// amend puts the amendment in force.
func (f *AppliedFigure) amend(a Amendment, bare length.Unit) error {
	if f.Amendment != nil {
		return ErrTwice
	}
	if strings.TrimSpace(a.SaidBy) == "" {
		return ErrNobody
	}
	if a.On != "" {
		if _, err := time.Parse(time.DateOnly, a.On); err != nil {
			return ErrDate
		}
	}
	figure, err := f.Base.withValue(a.Value, bare)
	if err != nil {
		return err
	}
	figure.Standing = Authority
	f.Figure, f.Amendment = figure, &a
	return nil
}

// RuleSet returns the rule set underneath, without the amendments.
func (a Applied) RuleSet() RuleSet { return a.base.clone() }

// Figure returns the figure of that key as it stands for the job; false means that there is no figure in this rule set.
func (a Applied) Figure(key string) (AppliedFigure, bool) {
	i, found := a.find(key)
	if !found {
		return AppliedFigure{}, false
	}
	return a.figures[i], true
}

// find returns where the figure of that key stands, or would stand.
func (a Applied) find(key string) (int, bool) {
	return slices.BinarySearchFunc(a.figures, key, func(f AppliedFigure, key string) int { return strings.Compare(f.Key, key) })
}

// Practice returns the figure of that key as it stands for the job: the rule set's own or the authority's where there is one,
// and that of the practice beside every rule set otherwise. False means that neither has it.
func (a Applied) Practice(key string) (AppliedFigure, bool) {
	if f, found := a.Figure(key); found {
		return f, true
	}
	f, found := sound().reference.Figure(key)
	if !found {
		return AppliedFigure{}, false
	}
	return AppliedFigure{Figure: f, Base: f}, true
}

// Figures returns every figure as it stands for the job, sorted by key.
func (a Applied) Figures() []AppliedFigure { return slices.Clone(a.figures) }
