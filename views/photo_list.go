package views

import (
	"slices"

	"newelbook/checklist"
	"newelbook/jobs"
)

// PhotoListPage is the wall of photographs: what is still missing first, then what is there, by stage and place.
type PhotoListPage struct {
	Frame
	Before, Wanted []Row // photographs that are missing: hold points, and the others
	Hidden         []Row // hold points that are missing and cannot be seen any more
	Groups         []PhotoGroup
	Policy         string
	Stage, At      *Field
	URL, NewURL    string
	AllURL         string // the whole wall, where only a part is shown
	Empty          string
}

// PhotoGroup is the photographs of one stage.
type PhotoGroup struct {
	Name   string
	Photos []Photo
}

// NewPhotoList is the wall, of one stage or place where they are given, both by name or id.
func NewPhotoList(f Frame, rec *jobs.Record, stageName, placeID string) (PhotoListPage, error) {
	stage := checklist.Stage(stageName)
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoListPage{}, err
	}
	job := rec.Job
	p := PhotoListPage{Policy: policyText(job), URL: JobURL(job.ID, "photos"), NewURL: JobURL(job.ID, "photos", "new") + query("place", placeID, "stage", stageName)}
	if stage != "" || placeID != "" {
		p.AllURL = p.URL
	}
	if place, ok := rec.Place(placeID); ok && place.Kind != checklist.PlaceJob {
		f.Place = place.Label
	}
	owed, group := photosOwed(rec, sheet, stage, placeID), placeID == ""
	p.Before, p.Hidden, p.Wanted = owedPhotoRows(rec, owed.before, stage, group), owedPhotoRows(rec, owed.hidden, stage, group), owedPhotoRows(rec, owed.wanted, stage, group)
	p.Stage, p.At = filterField(f, "stage", "Stage", stageOptions("Every stage"), stageName), filterField(f, "place", "Place", placeOptions(rec, "Every place"), placeID)

	at, shown := placeOrder(rec), 0
	for _, s := range append([]checklist.Stage{""}, checklist.Stages()...) {
		var of []jobs.Photo
		for _, x := range rec.Photos {
			if x.Stage == s && (stage == "" || s == stage) && (placeID == "" || x.Place.ID == placeID) {
				of = append(of, x)
			}
		}
		if len(of) == 0 {
			continue
		}
		slices.SortStableFunc(of, func(a, b jobs.Photo) int { return at(a.Place.ID) - at(b.Place.ID) })
		g := PhotoGroup{Name: upperFirst(orElse(string(s), "not filed yet")) + ", " + counted(len(of), "photograph")}
		for _, x := range of {
			g.Photos = append(g.Photos, photo(rec, x))
		}
		p.Groups, shown = append(p.Groups, g), shown+len(of)
	}
	switch {
	case shown > 0:
	case len(rec.Photos) > 0:
		p.Empty = "No photograph of this stage and place."
	default:
		p.Empty = "No photograph yet. Each one is kept as it was received, under the hash of its bytes."
	}
	p.Frame = f
	return p, nil
}

func filterField(f Frame, name, label string, options []Option, value string) *Field {
	v := newField(f, name, label)
	v.Options, v.Value, v.Size = options, value, "medium"
	return &v
}
