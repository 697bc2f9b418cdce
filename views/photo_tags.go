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
	FieldTagSize  = "size"
	FieldTagPaper = "paper"
)

// Sizes that tags are printed at.
const (
	TagSmall = "small"
	TagLarge = "large"
)

// TagsURL is the page of a job's place tags, or the file to print.
func TagsURL(jobID string, parts ...string) string {
	return JobURL(jobID, append([]string{"photos", "tags"}, parts...)...)
}

// TagFile is the name under which TagsURL has the file to print.
const TagFile = "tags.pdf"

// PlaceTag is the tag of a post or bay of a job, to be drawn. Other places have none.
func PlaceTag(jobID string, place checklist.Place) (draw.Tag, error) {
	text, err := jobs.TagText(jobID, place)
	if err != nil {
		return draw.Tag{}, err
	}
	code, err := draw.NewCode(text)
	if err != nil {
		return draw.Tag{}, err
	}
	return draw.Tag{Label: place.Label, Code: code}, nil
}

// PhotoTagsPage chooses the runs whose place tags are printed, and says what they are for.
type PhotoTagsPage struct {
	Frame
	URL       string
	Runs      Field
	Size      Field
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
	p.Size = *filterField(f, FieldTagSize, "Size", []Option{{Value: TagSmall, Label: "Small, six to a sheet, to staple to a post"}, {Value: TagLarge, Label: "Large, one to a sheet, for pictures from across the deck"}}, TagSmall)
	p.Paper = *filterField(f, FieldTagPaper, "Paper", []Option{{Value: "letter", Label: "Letter"}, {Value: "a4", Label: "A4"}}, "letter")
	if rec.Job.Units == length.Millimetres {
		p.Paper.Value = "a4"
	}
	for _, place := range rec.Places() {
		if place.Kind != checklist.PlacePost {
			continue
		}
		tag, err := PlaceTag(rec.Job.ID, place)
		if err != nil {
			return PhotoTagsPage{}, err
		}
		p.Example = Drawing{Sheet: draw.TagCard(tag, draw.TagOptions{Size: draw.TagSmall, Job: "job " + rec.Job.Ref}), Caption: "The first of them, to scale."}
		break
	}
	if len(p.Runs.Options) == 0 {
		p.None = "There is no post and no bay yet: add a run first."
	}
	p.Frame = f
	return p, nil
}
