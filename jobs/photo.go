package jobs

import (
	"strings"
	"time"
	"unicode"

	"newelbook/checklist"
	"newelbook/media"
)

// Photo is a photograph in the record: the original under its hash, what its EXIF claims, and what it shows. The same
// original may be filed at several places; it is stored once.
type Photo struct {
	ID     string     `json:"id"`
	Number int        `json:"number"` // figure number, counted per job, never used again
	Media  media.ID   `json:"media"`
	Name   string     `json:"name"` // file name as uploaded: a hint for people, nothing more
	Kind   string     `json:"kind"`
	Bytes  int64      `json:"bytes"`
	Width  int        `json:"width"` // upright
	Height int        `json:"height"`
	Exif   media.Exif `json:"exif"`
	// Supplied is the picture that the sender's browser made of an original that can't be shown here; nil where views are made
	// from the original itself.
	Supplied *SuppliedView   `json:"supplied_view,omitempty"`
	Place    checklist.Place `json:"place"`
	// Stage is empty while nobody has said what the photograph shows: it then stands at the whole job and answers no check.
	Stage   checklist.Stage `json:"stage"`
	CheckID string          `json:"check_id"`
	// LayoutVersion is the run's newest layout when it was filed: which spot the place's number stood for.
	LayoutVersion int    `json:"layout_version"`
	Caption       string `json:"caption"`
	// Shows names things of Showable. Marks are drawn over copies of it. ReadingID is the reading that was typed from what it
	// shows, such as a tape; empty for none.
	Shows     []string     `json:"shows,omitempty"`
	Marks     []media.Mark `json:"marks,omitempty"`
	ReadingID string       `json:"reading_id,omitempty"`
	Marked    *MarkedBy    `json:"marked,omitempty"` // who drew the marks as they are, and when; nil for none and for those drawn before this was kept
	// Tags are the texts of the place tags that were read in it. FiledBy is FiledByTag while it stands where a tag filed it, and empty
	// once somebody filed it. StageMeant is the stage chosen for a photograph that came in without a place.
	Tags       []string        `json:"tags,omitempty"`
	FiledBy    string          `json:"filed_by,omitempty"`
	StageMeant checklist.Stage `json:"stage_meant,omitempty"`
	By         Actor           `json:"by"`
	Received   time.Time       `json:"received"`
	Version    int             `json:"version"`
}

// MarkedBy is who drew marks over copies of a photograph.
type MarkedBy struct {
	By Actor     `json:"by"`
	At time.Time `json:"at"`
}

// SuppliedView is a JPEG that came with an original, made by the browser that sent both. It shows what the sender's device
// made of the original and is not derived from it here, so it proves nothing of its own. It is held like an original.
type SuppliedView struct {
	Media  media.ID `json:"media"`
	Bytes  int64    `json:"bytes"`
	Width  int      `json:"width"` // upright
	Height int      `json:"height"`
}

// Filed says whether somebody said what the photograph shows.
func (p Photo) Filed() bool { return p.Stage != "" }

// Shown is what its pictures are made of: the original, or the view that came with it.
func (p Photo) Shown() (id media.ID, width, height int) {
	if p.Supplied != nil {
		return p.Supplied.Media, p.Supplied.Width, p.Supplied.Height
	}
	return p.Media, p.Width, p.Height
}

// Flag is something about a photograph's claims that does not fit, with the two facts that disagree.
type Flag struct {
	Key      string `json:"key"`
	Sentence string `json:"sentence"`
}

// PlainFileName is the name of a file as uploaded, fit to be shown and kept: a hint for people, nothing more.
func PlainFileName(name string) string {
	name = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, ""))
	if r := []rune(name); len(r) > 200 {
		name = string(r[:200])
	}
	return name
}
