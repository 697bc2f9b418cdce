package jobs

import (
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
)

// Reading is one answer to one check. It is never overwritten: a second reading names the one it supersedes, and both stay.
// It keeps the whole check it was judged against, so an old verdict never changes.
type Reading struct {
	ID      string           `json:"id"` // made by whoever records it
	CheckID string           `json:"check_id"`
	Check   checklist.Check  `json:"check"` // as it stood when judged
	Answer  checklist.Answer `json:"answer"`
	Typed   string           `json:"typed"` // the text as it was entered
	Tool    checklist.Tool   `json:"tool"`
	Note    string           `json:"note"`
	Result  checklist.Result `json:"result"`

	By        Actor     `json:"by"`
	Claimed   time.Time `json:"claimed"` // when it was read, as claimed
	Received  time.Time `json:"received"`
	Device    string    `json:"device"` // the recording device's own name for itself
	DeviceSeq int       `json:"device_seq"`

	RuleSet       string `json:"rule_set"`
	LayoutVersion int    `json:"layout_version"`
	Supersedes    string `json:"supersedes"`
	SameAs        string `json:"same_as"` // "the rest of this run is the same": the reading it was copied from
	// PaperID is the attached paper that an observation rests on (see PaperFor); empty for none.
	PaperID string `json:"paper_id,omitempty"`
}

// ReadWith names the tool, and for a length that was judged how far the tool may be out there, shown in style; it is empty for a tool that
// was not named.
func (r Reading) ReadWith(style length.Style) string {
	words := r.Tool.Words(style)
	if _, own := r.Tool.Stated(); own || words == "" || r.Result.Doubt <= 0 {
		return words
	}
	return words + ", out by up to " + r.Result.Doubt.Format(style)
}
