package jobs

import (
	"errors"
	"fmt"
	"strings"
)

// What callers branch on.
var (
	ErrNotFound  = errors.New("not found")
	ErrForbidden = errors.New("not allowed for this role")
	ErrGone      = errors.New("link revoked or expired")
)

// FieldError is what is wrong with one field of a form. Message is a finished sentence.
type FieldError struct {
	Field   string // form field name
	Message string
	Meant   string // what was perhaps meant, to be taken with one tap; empty where there is no question
	Typed   bool   // what was typed can be kept as it is
}

// InvalidError is everything that is wrong with one submission.
type InvalidError struct{ Fields []FieldError }

func (e *InvalidError) Error() string {
	var parts []string
	for _, f := range e.Fields {
		parts = append(parts, f.Field+": "+f.Message)
	}
	return "invalid: " + strings.Join(parts, "; ")
}

// Add notes one more fault.
func (e *InvalidError) Add(field, message string) {
	e.Fields = append(e.Fields, FieldError{Field: field, Message: message})
}

// Err is e as an error, or nil when nothing is wrong.
func (e *InvalidError) Err() error {
	if len(e.Fields) == 0 {
		return nil
	}
	return e
}

// Outstanding is one thing that keeps a stage from closing.
type Outstanding struct {
	CheckID  string
	Place    string // label
	Sentence string
	Hold     bool // decking will hide it for good
}

// text is the place and the sentence on one line, as a deviation names it.
func (o Outstanding) text() string { return strings.TrimSpace(o.Place + " " + o.Sentence) }

// BlockedError is what keeps a stage from closing or a run from being covered. It closes only by naming a deviation.
type BlockedError struct {
	What        string // Framing
	Outstanding []Outstanding
}

func (e *BlockedError) Error() string {
	return fmt.Sprintf("%s: %d outstanding", e.What, len(e.Outstanding))
}

// ConflictError says that somebody else saved the thing since the form was opened. Nothing was saved over it.
type ConflictError struct {
	What   string // the job, run R1, the diary of 4 May 2026
	Who    string // who saved it last, where known
	Unsaid bool   // the form does not say which version it was opened on
}

// stale compares the version that a form was opened on, negative where it does not say, with the one that stands.
func stale(what, who string, stands, opened int) error {
	if opened == stands {
		return nil
	}
	return &ConflictError{What: what, Who: who, Unsaid: opened < 0}
}

func (e *ConflictError) Error() string { return e.What + " was saved by someone else meanwhile" }

// Sentence says so, and what to do.
func (e *ConflictError) Sentence() string {
	if e.Unsaid {
		return fmt.Sprintf("This form does not say which version of %s it was opened on. What you typed is kept below and what is saved stands beside it: put it together and save again.", e.What)
	}
	who := e.Who
	if who == "" {
		who = "Somebody else"
	}
	return fmt.Sprintf("%s saved %s after this form was opened. What you typed is kept below and what they saved stands beside it: put it together and save again.", who, e.What)
}

// FormReusedError says that a form was sent a second time with other content. The first stands.
type FormReusedError struct{ Result string }

func (e *FormReusedError) Error() string { return "form already used with other content" }

// Sentence says so, and what to do.
func (e *FormReusedError) Sentence() string {
	return "This form was sent once before with other content, and that was saved. What you typed now is kept below and is not saved yet: check it against what stands, then save again."
}
