package views

import (
	"newelbook/jobs"
	"newelbook/media"
)

// Shot is a small picture that stands within something else and leads to its photograph.
type Shot struct{ ThumbURL, URL, Alt string }

// Joined is a photograph large beside the reading that was typed from it.
type Joined struct {
	Picture Picture
	URL     string // the photograph's page
	Words   string
}

// joins are the photographs that readings were typed from, by the reading's id, oldest first.
type joins map[string][]*jobs.Photo

func joinsOf(rec *jobs.Record) joins {
	out := joins{}
	for i := range rec.Photos {
		if p := &rec.Photos[i]; p.ReadingID != "" {
			out[p.ReadingID] = append(out[p.ReadingID], p)
		}
	}
	return out
}

// shot is the first photograph that a reading was typed from, small; nil where there is none.
func (j joins) shot(jobID, readingID string) *Shot {
	if len(j[readingID]) == 0 {
		return nil
	}
	p := j[readingID][0]
	return &Shot{ThumbURL: PhotoURL(jobID, p.ID, "thumb"), URL: PhotoURL(jobID, p.ID), Alt: photoNumber(*p) + ", which it was read from"}
}

// large are all that a reading was typed from, each with its marks.
func (j joins) large(rec *jobs.Record, readingID string) []Joined {
	var out []Joined
	for _, p := range j[readingID] {
		out = append(out, Joined{Picture: pictureOf(rec.Job.ID, *p), URL: PhotoURL(rec.Job.ID, p.ID), Words: "Read from " + lowerFirst(photoNumber(*p)) + ", received " + stamp(p.Received, rec.Job.Location()) + "."})
	}
	return out
}

// pictureOf is the large picture of a photograph, with its marks where it has any.
func pictureOf(jobID string, x jobs.Photo) Picture {
	_, w, h := x.Shown()
	w, h = media.View.Fit(w, h)
	p := Picture{URL: PhotoURL(jobID, x.ID, "view"), Alt: photoAlt(x), Width: w, Height: h}
	if len(x.Marks) > 0 {
		p.URL = PhotoURL(jobID, x.ID, "marked")
	}
	return p
}
