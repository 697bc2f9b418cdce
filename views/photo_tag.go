package views

import (
	"newelbook/jobs"
)

// PhotoViews asks which view a photograph is that its tag filed: one tap each for the views that its place still lacks at its stage.
type PhotoViews struct {
	URL, FormID, Version, Caption string
	Owed                          []Option
}

// filedBy says how a photograph came to be filed where it is, where that was no hand.
func filedBy(x jobs.Photo) string {
	if x.FiledBy == jobs.FiledByTag {
		return "filed by the tag in the picture"
	}
	return ""
}

// newPhotoViews is nil for a photograph that no tag filed, that answers a check already, or whose place lacks none.
func newPhotoViews(rec *jobs.Record, sheet *jobs.Sheet, x jobs.Photo, form Form) *PhotoViews {
	if x.FiledBy != jobs.FiledByTag || x.CheckID != "" {
		return nil
	}
	p := PhotoViews{URL: PhotoURL(rec.Job.ID, x.ID), FormID: form.ID + "-view", Version: form.Version(x.Version), Caption: x.Caption}
	owed := photosOwed(rec, sheet, jobs.PhotoFilter{Stage: string(x.Stage), Place: x.Place.ID})
	for _, list := range [][]*jobs.CheckState{owed.before, owed.hidden, owed.wanted} {
		for _, c := range list {
			p.Owed = append(p.Owed, Option{Value: c.Check.ID, Label: photoTitle(c.Check)})
		}
	}
	if len(p.Owed) == 0 {
		return nil
	}
	return &p
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
