package jobs

import (
	"time"

	"newelbook/checklist"
	"newelbook/media"
)

// Photo is a photograph in the record: the original under its hash, what its EXIF claims, and what it shows. The same
// original may be filed at several places; it is stored once.
type Photo struct {
	ID      string          `json:"id"`
	Number  int             `json:"number"` // figure number, counted per job, never used again
	Media   media.ID        `json:"media"`
	Name    string          `json:"name"` // file name as uploaded: a hint for people, nothing more
	Kind    string          `json:"kind"`
	Bytes   int64           `json:"bytes"`
	Width   int             `json:"width"` // upright
	Height  int             `json:"height"`
	Exif    media.Exif      `json:"exif"`
	Place   checklist.Place `json:"place"`
	Stage   checklist.Stage `json:"stage"`
	CheckID string          `json:"check_id"`
	// LayoutVersion is the run's newest layout when it was filed: which spot the place's number stood for.
	LayoutVersion int       `json:"layout_version"`
	Caption       string    `json:"caption"`
	By            Actor     `json:"by"`
	Received      time.Time `json:"received"`
	Version       int       `json:"version"`
}

// Flag is something about a photograph's claims that does not fit, with the two facts that disagree.
type Flag struct {
	Key      string `json:"key"`
	Sentence string `json:"sentence"`
}
