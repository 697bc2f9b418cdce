package length

import (
	"errors"
	"fmt"
)

// Causes of a refused text, found in an *Error with errors.Is.
var (
	// ErrEmpty: nothing was written.
	ErrEmpty = errors.New("no length given")
	// ErrSyntax: the text is not one of the accepted spellings.
	ErrSyntax = errors.New("not a length")
	// ErrRange: the length lies beyond 1,000 m either way.
	ErrRange = errors.New("length out of range")
	// ErrTooFine: the fraction is finer than 1/64, or is not a whole number of nanometres (such as 1/3 in).
	ErrTooFine = errors.New("fraction finer than 1/64 or not exact")
	// ErrUnit: the number has no unit and the caller named none for bare numbers.
	ErrUnit = errors.New("no unit given")
	// ErrStyle: the text names no display style.
	ErrStyle = errors.New("unknown length style")
)

// Error says which text was refused and why. Bare is the unit that bare numbers would have taken; it picks the examples
// of the sentence.
type Error struct {
	Input string
	Cause error
	Bare  Unit
}

// Error returns the text for logs.
func (e *Error) Error() string { return fmt.Sprintf("parse length %q: %v", e.Input, e.Cause) }

// Unwrap returns the cause: ErrEmpty, ErrSyntax, ErrRange, ErrTooFine or ErrUnit.
func (e *Error) Unwrap() error { return e.Cause }

// Sentence returns a finished sentence that tells the person what to write instead.
func (e *Error) Sentence() string {
	metric := e.Bare == Millimetres
	switch {
	case errors.Is(e.Cause, ErrUnit):
		return "Enter a length with its unit, such as 41 3/8 in or 1040 mm."
	case errors.Is(e.Cause, ErrRange) && metric:
		return "Enter a length no longer than 1000000 mm (1,000 m)."
	case errors.Is(e.Cause, ErrRange):
		return "Enter a length no longer than 3,280 ft."
	case errors.Is(e.Cause, ErrTooFine) && metric:
		return "Enter a decimal such as 41.5, or a fraction no finer than 1/64."
	case errors.Is(e.Cause, ErrTooFine):
		return "Enter a fraction in halves, quarters, eighths, sixteenths, thirty-seconds or sixty-fourths, such as 41 3/8."
	case metric:
		return "Enter a length such as 1940 or 1940 mm."
	}
	return `Enter a length such as 41 3/8 or 3' 5 3/8".`
}
