package views

import (
	"newelbook/checklist"
	"newelbook/jobs"
)

// PhotoViews asks which view a photograph is: one tap each for the views that a place still lacks at a stage.
type PhotoViews struct {
	URL, FormID, Version, Caption string
	Back                          string // the page that comes up then, empty for the photograph's own
	Asks                          string
	Owed                          []Option
}

// filedBy says how a photograph came to be filed where it is, where that was no hand.
func filedBy(x jobs.Photo) string {
	if x.FiledBy == jobs.FiledByTag {
		return "filed by the tag in the picture"
	}
	return ""
}

// placeAndStage is where a view is lacking.
type placeAndStage struct {
	place string
	stage checklist.Stage
}

// owedViews are the views that are lacking, by place and stage.
func owedViews(rec *jobs.Record, sheet *jobs.Sheet) map[placeAndStage][]Option {
	out := map[placeAndStage][]Option{}
	owed := photosOwed(rec, sheet, jobs.PhotoFilter{})
	for _, list := range [][]*jobs.CheckState{owed.before, owed.hidden, owed.wanted} {
		for _, c := range list {
			at := placeAndStage{c.Check.Place.ID, c.Check.Stage}
			out[at] = append(out[at], Option{Value: c.Check.ID, Label: photoTitle(c.Check)})
		}
	}
	return out
}

// unnamed says whether a tag filed a photograph and nobody has named its view yet.
func unnamed(x *jobs.Photo) bool { return x.FiledBy == jobs.FiledByTag && x.CheckID == "" }

// unnamedViews counts the photographs of which a tag said where they belong, and whose view is lacking there and not named yet. With a limit
// above 0 it lists so many of them, those with the lowest numbers.
func unnamedViews(rec *jobs.Record, owed map[placeAndStage][]Option, limit int) (n int, some []jobs.Photo) {
	for i := range rec.Photos { // by index: photographs are large
		if x := &rec.Photos[i]; unnamed(x) && len(owed[placeAndStage{x.Place.ID, x.Stage}]) > 0 {
			if n++; n <= limit {
				some = append(some, *x)
			}
		}
	}
	return n, some
}

// newPhotoViews asks for a view among those that are lacking; nil where none is.
func newPhotoViews(rec *jobs.Record, x jobs.Photo, owed []Option, form Form) *PhotoViews {
	if len(owed) == 0 {
		return nil
	}
	return &PhotoViews{URL: PhotoURL(rec.Job.ID, x.ID), FormID: form.ID + "-view", Version: form.Version(x.Version), Caption: x.Caption, Owed: owed}
}

// newShotViews is that beneath a photograph among others, which come up again when it is named.
func newShotViews(rec *jobs.Record, x jobs.Photo, at checklist.Place, owed []Option, form Form) *PhotoViews {
	v := newPhotoViews(rec, x, owed, Form{ID: form.ID})
	if v != nil {
		v.FormID += "-" + x.ID
		v.Back, v.Asks = PhotoFilingURL(rec.Job.ID), "Of "+at.Label+", it is"
	}
	return v
}

// PlaceByTag is the value, in the form that sends photographs, of letting the tag in each say which place it shows.
const PlaceByTag = "tag"

// byTag puts that after the option for none.
func byTag(places []Option) []Option {
	return append([]Option{places[0], {Value: PlaceByTag, Label: "What its place tag says"}}, places[1:]...)
}

// placed is a place that photographs can be looked for at: none where their tags say which.
func placed(placeID string) string {
	if placeID == PlaceByTag {
		return ""
	}
	return placeID
}
