package codes

import (
	"errors"
	"fmt"
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
	// ErrNoFigure: neither the rule set nor the practice beside it has a figure of that key.
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
