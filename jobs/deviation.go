package jobs

import (
	"time"

	"newelbook/checklist"
)

// DeviationKind is what opened a deviation.
type DeviationKind string

// Kinds of deviation.
const (
	DevReading   DeviationKind = "reading"   // a check failed its limit or left the layout
	DevMissing   DeviationKind = "missing"   // a stage was closed, or a run covered, over something not recorded
	DevByHand    DeviationKind = "by hand"   //
	DevRemovable DeviationKind = "removable" // a removable length: it ends by the owner's and, under a permit, the authority's answer alone
)

// DeviationState is what became of it.
type DeviationState string

// States of a deviation. It never disappears.
const (
	DevOpen     DeviationState = "open"
	DevPutRight DeviationState = "put right" // measured again and good
	DevAccepted DeviationState = "accepted"  // with a reason and a name
	DevReferred DeviationState = "referred"  // to the authority or an engineer
)

// Deviation is something not as the layout, a limit or the record wanted it.
type Deviation struct {
	ID        string          `json:"id"`
	Number    int             `json:"number"` // D1, D2 …
	Kind      DeviationKind   `json:"kind"`
	CheckID   string          `json:"check_id"`
	Stage     checklist.Stage `json:"stage"`
	Place     checklist.Place `json:"place"`
	What      string          `json:"what"`       // one sentence
	Missing   []string        `json:"missing"`    // what was outstanding when a stage closed over it
	ReadingID string          `json:"reading_id"` // the reading that opened it
	Opened    time.Time       `json:"opened"`
	OpenedBy  Actor           `json:"opened_by"`

	State     DeviationState `json:"state"`
	Ended     time.Time      `json:"ended"`
	EndedBy   Actor          `json:"ended_by"`
	Reason    string         `json:"reason"`     // why accepted, or what was asked of whom
	Name      string         `json:"name"`       // who accepted it or to whom it was referred
	EndedWith string         `json:"ended_with"` // the reading that closed it
	Version   int            `json:"version"`
}
