package views

import (
	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// Names of the fields by which tags are chosen.
const (
	FieldTagRun   = "run"
	FieldTagPaper = "paper"
)

// TagsURL is the page of a job's place tags, or the file to print.
func TagsURL(jobID string, parts ...string) string {
	return JobURL(jobID, append([]string{"photos", "tags"}, parts...)...)
}

// TagFile is the name under which TagsURL has the file to print.
const TagFile = "tags.pdf"

// PhotoTagsPage chooses the runs whose place tags are printed, and says what they are for.
type PhotoTagsPage struct {
	Frame
	URL       string
	Runs      Field
	Paper     Field
	Example   Drawing
	None      string // why there is nothing to print
	UploadURL string
}

// NewPhotoTags is that page.
func NewPhotoTags(f Frame, rec *jobs.Record) (PhotoTagsPage, error) {
	f.Lead = "One tag for every post and bay, with its label in large letters. Staple it up where it is in the picture: a photograph that shows one tag is filed at its place by itself, and you type nothing."
	p := PhotoTagsPage{URL: TagsURL(rec.Job.ID, TagFile), UploadURL: JobURL(rec.Job.ID, "photos", "new") + query("place", PlaceByTag)}
	p.Runs = newField(f, FieldTagRun, "Runs")
	p.Runs.Hint = "None ticked prints all of them."
	for _, run := range rec.Live() {
		p.Runs.Options = append(p.Runs.Options, Option{Value: run.ID, Label: run.Label})
	}
	p.Paper = *filterField(f, FieldTagPaper, "Paper", []Option{{Value: "letter", Label: "Letter"}, {Value: "a4", Label: "A4"}}, "letter")
	if rec.Job.Units == length.Millimetres {
		p.Paper.Value = "a4"
	}
	for _, place := range rec.Places() {
		if place.Kind != checklist.PlacePost {
			continue
		}
		text, err := jobs.TagText(rec.Job.ID, place)
		if err != nil {
			return PhotoTagsPage{}, err
		}
		code, err := draw.NewCode(text)
		if err != nil {
			return PhotoTagsPage{}, err
		}
		p.Example = Drawing{Sheet: draw.TagCard(draw.Tag{Label: place.Label, Code: code}, draw.TagOptions{Job: "job " + rec.Job.Ref}), Caption: "The first of them, to scale."}
		break
	}
	if len(p.Runs.Options) == 0 {
		p.None = "There is no post and no bay yet: add a run first."
	}
	p.Frame = f
	return p, nil
}
