package pack

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/views"
	"newelbook/views/draw"
)

// TagFile is place tags of a job's runs, to be written as a PDF. Made is when the newest of their layouts was made.
type TagFile struct {
	Job   string
	Paper Paper
	Size  draw.TagSize
	Tags  []draw.Tag
	Made  time.Time
}

// ParseTagSize reads the name of a size of tags, small or large, letters large or small; an empty one is small. The error is a *StripError.
func ParseTagSize(name string) (draw.TagSize, error) {
	switch strings.ToLower(strings.TrimSpace(name)) {
	case "", views.TagSmall:
		return draw.TagSmall, nil
	case views.TagLarge:
		return draw.TagLarge, nil
	}
	return draw.TagSize{}, &StripError{Reason: fmt.Sprintf("There is no size %q for tags: choose %s or %s.", name, views.TagSmall, views.TagLarge)}
}

// TagsOf is a tag for every post and every bay of runs, of all live ones where none is named by its id, in the order of places. The error
// is jobs.ErrNotFound for a run that is not there or was taken out, and a *StripError where there is nothing to make a tag of.
func TagsOf(rec *jobs.Record, runs []string, size draw.TagSize, paper Paper) (TagFile, error) {
	f := TagFile{Job: "job " + rec.Job.Ref, Paper: paper, Size: size}
	for _, id := range runs {
		if run, ok := rec.Run(id); !ok || run.Retired {
			return TagFile{}, fmt.Errorf("tags of run %s: %w", id, jobs.ErrNotFound)
		}
	}
	for _, p := range rec.Places() {
		if p.Kind != checklist.PlacePost && p.Kind != checklist.PlaceBay || len(runs) > 0 && !slices.Contains(runs, p.RunID) {
			continue
		}
		tag, err := views.PlaceTag(rec.Job.ID, p)
		if err != nil {
			return TagFile{}, err
		}
		f.Tags = append(f.Tags, tag)
		if v, ok := rec.Layout(p.RunID); ok && v.At.After(f.Made) {
			f.Made = v.At
		}
	}
	if len(f.Tags) == 0 {
		return TagFile{}, &StripError{Reason: "There is no post and no bay to make a tag of: add a run first."}
	}
	return f, nil
}

// Sheets draws the tags, a sheet of paper each.
func (f TagFile) Sheets() []draw.Sheet {
	o := draw.TagOptions{Paper: draw.TagLetter, Size: f.Size, Job: f.Job}
	if f.Paper == A4 {
		o.Paper = draw.TagA4
	}
	return draw.Tags(f.Tags, o)
}

// WriteTags writes the tags as a tagged PDF 1.7. The same tags and fonts give the same bytes.
func WriteTags(w io.Writer, f TagFile, fonts []Family) error {
	d := &Document{Title: "Place tags, " + f.Job, JobRef: f.Job, Edition: "Place tags", Lang: "en", Created: f.Made}
	if err := writeSheets(w, d, f.Paper, f.Sheets(), fonts); err != nil {
		return fmt.Errorf("write place tags of %s: %w", f.Job, err)
	}
	return nil
}
