package jobs

import (
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Job is one guard job: who, where, under which rules, to which specification.
type Job struct {
	ID        string `json:"id"`
	Ref       string `json:"ref"`  // the builder's own reference, on every sheet
	Name      string `json:"name"` // what people call it
	Site      string `json:"site"`
	Owner     string `json:"owner"`
	Builder   string `json:"builder"`
	Contact   string `json:"contact"` // how to reach the builder: shown on an expired link and in the pack
	Permit    string `json:"permit"`
	Authority string `json:"authority"`

	RuleSet    string            `json:"rule_set"`
	Amendments []codes.Amendment `json:"amendments"`                // the authority's own figures, and who said so
	Past       []PastAmendment   `json:"past_amendments,omitempty"` // those that no longer hold, in the order they ended

	Units length.Unit           `json:"units"`
	Zone  string                `json:"zone"`          // IANA name
	Begun string                `json:"begun"`         // date work began, 2006-01-02 in Zone; empty when unknown
	Lat   *float64              `json:"lat,omitempty"` // site position in degrees, where known
	Lon   *float64              `json:"lon,omitempty"`
	Photo checklist.PhotoPolicy `json:"photo_policy"`

	Spec    layout.Spec `json:"spec"`
	Version int         `json:"version"`
	Made    time.Time   `json:"made"`

	zone *time.Location // Zone as a record loaded it, since loading reads a file
}

// PastAmendment is a figure of the authority's that no longer holds: withdrawn, or replaced by a later one.
type PastAmendment struct {
	Amendment codes.Amendment `json:"amendment"`
	Ended     time.Time       `json:"ended"`
	EndedBy   Actor           `json:"ended_by"`
	Why       string          `json:"why"`
	Replaced  bool            `json:"replaced"` // by a later figure of the authority's, not withdrawn
}

// Run is one run of guard in the record.
type Run struct {
	layout.Run
	Order   int  `json:"order"`
	Retired bool `json:"retired"`
	Version int  `json:"version"`
}

// LayoutVersion is one computed layout of one run, kept for good.
type LayoutVersion struct {
	RunID   string        `json:"run_id"`
	Version int           `json:"version"`
	At      time.Time     `json:"at"`
	Basis   string        `json:"basis"`
	Layout  layout.Layout `json:"layout"`
}

// Location is the job's time zone. A job is never saved with a zone that does not load.
func (j Job) Location() *time.Location {
	if j.zone != nil && j.zone.String() == j.Zone {
		return j.zone
	}
	loc, err := time.LoadLocation(j.Zone)
	if err != nil {
		return time.UTC
	}
	return loc
}

// Day is the date of an instant in the job's zone.
func (j Job) Day(at time.Time) string { return at.In(j.Location()).Format(time.DateOnly) }

// DayText is a date as people read it, 6 May 2026; a text that is no date stays as it is.
func DayText(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 Jan 2006")
}

// Rules is the job's rule set with its amendments laid over it.
func (j Job) Rules() (codes.Applied, error) {
	base, err := codes.Get(j.RuleSet)
	if err != nil {
		return codes.Applied{}, err
	}
	return codes.Apply(base, j.Amendments)
}

// Own is the code's own figure of that key, or that of the practice beside it, whatever the authority says; false where the job's
// rule set has none and practice neither.
func (j Job) Own(key string) (codes.Figure, bool) {
	rules, err := j.Rules()
	if err != nil {
		return codes.Figure{}, false
	}
	f, found := rules.Practice(key)
	return f.Base, found
}
