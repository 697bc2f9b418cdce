package codes

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist/length"
)

// Amendment is the authority's own figure for one job, and who said so.
type Amendment struct {
	Key    string `json:"key"`
	Value  string `json:"value"` // as people write it: 42 in; a bare length takes the units of the rule set
	SaidBy string `json:"said_by"`
	Office string `json:"office"`
	On     string `json:"on"` // the date it was said, 2026-03-14, or empty when not recorded
	Note   string `json:"note"`
}

// Causes of a refused amendment, found with errors.Is.
var (
	// ErrNoFigure: the rule set has no figure of that key.
	ErrNoFigure = errors.New("no such figure in the rule set")
	// ErrValue: the value is not of the figure's kind.
	ErrValue = errors.New("value of the wrong kind")
	// ErrNobody: nobody is named who said so.
	ErrNobody = errors.New("nobody named")
	// ErrDate: the date is not a day written as 2026-03-14.
	ErrDate = errors.New("not a date")
	// ErrTwice: another amendment names the same figure.
	ErrTwice = errors.New("amended twice")
)

// AmendmentError says which amendment was refused and why.
type AmendmentError struct {
	Amendment Amendment
	Cause     error
	base      RuleSet
	figure    Figure // zero for ErrNoFigure
}

// Error returns the text for logs.
func (e *AmendmentError) Error() string {
	return fmt.Sprintf("amend %q to %q: %v", e.Amendment.Key, e.Amendment.Value, e.Cause)
}

// Unwrap returns the cause.
func (e *AmendmentError) Unwrap() error { return e.Cause }

// Sentence returns a finished sentence that tells the person what to do.
func (e *AmendmentError) Sentence() string {
	switch {
	case errors.Is(e.Cause, ErrNoFigure):
		return fmt.Sprintf("Choose a figure that %s has; it has none called %q.", e.base.Name, e.Amendment.Key)
	case errors.Is(e.Cause, ErrNobody):
		return fmt.Sprintf("%s: enter the name of whoever gave this figure.", e.figure.Title)
	case errors.Is(e.Cause, ErrDate):
		return fmt.Sprintf("%s: enter the date as year, month and day, such as 2026-03-14.", e.figure.Title)
	case errors.Is(e.Cause, ErrTwice):
		return fmt.Sprintf("%s: keep one figure of the authority's and remove the other.", e.figure.Title)
	}
	return fmt.Sprintf("%s: enter a value such as %s.", e.figure.Title, e.figure.Text)
}

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

// Apply lays the amendments over the rule set. Every amendment must name a figure that the rule set has, a value of that
// figure's kind and who said so. Otherwise the zero Applied is returned with an error that joins one *AmendmentError for
// each refusal.
func Apply(base RuleSet, amendments []Amendment) (Applied, error) {
	base = base.clone()
	applied := Applied{base: base}
	index := make(map[string]int, len(base.Figures))
	for i, f := range base.Figures {
		index[f.Key] = i
		applied.figures = append(applied.figures, AppliedFigure{Figure: f, Base: f})
	}
	var refused []error
	for _, a := range amendments {
		i, found := index[a.Key]
		if !found {
			refused = append(refused, &AmendmentError{Amendment: a, Cause: ErrNoFigure, base: base})
			continue
		}
		if err := applied.figures[i].amend(a, base.Units); err != nil {
			refused = append(refused, &AmendmentError{Amendment: a, Cause: err, base: base, figure: base.Figures[i]})
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
	i, found := slices.BinarySearchFunc(a.figures, key, func(f AppliedFigure, key string) int { return strings.Compare(f.Key, key) })
	if !found {
		return AppliedFigure{}, false
	}
	return a.figures[i], true
}

// Figures returns every figure as it stands for the job, sorted by key.
func (a Applied) Figures() []AppliedFigure { return slices.Clone(a.figures) }
