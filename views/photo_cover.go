package views

import (
	"newelbook/jobs"
)

// PhotoCoverURL is the page that lays a run's photographs from before its cover beside those from after.
func PhotoCoverURL(jobID, runID string) string {
	return JobURL(jobID, "runs", runID, "cover", "photos")
}

// PhotoCoverPage is what decking hid of a run beside what is seen there now, place by place.
type PhotoCoverPage struct {
	Frame
	Pairs   []PhotoPair
	WallURL string
	Empty   string
}

// PhotoPair is the newest photograph of a place from before the cover and the newest from after, nil where there is none.
type PhotoPair struct {
	Place         string
	URL           string // all of the place
	More          string // how many the place has, where it has others
	Before, After *Photo
}

// NewPhotoCover is that page. A run that is not covered has nothing to lay side by side, and the page says so.
func NewPhotoCover(f Frame, rec *jobs.Record, run jobs.Run) (PhotoCoverPage, error) {
	f.Title, f.Place = run.Label+" before and after decking", run.Label
	p := PhotoCoverPage{WallURL: JobURL(rec.Job.ID, "photos") + query("place", run.ID+"/")}
	cover, covered := rec.CoveredRun(run.ID)
	if !covered {
		p.Empty = "The run is not decked over. Once its cover is recorded, photographs from before and after stand here side by side."
		p.Frame = f
		return p, nil
	}
	f.Lead = "Decked over on " + jobs.DayText(cover.On) + ". By the time that each file claims; where it claims none, or that day, by the stage it is filed under."
	for _, place := range rec.Places() {
		if place.RunID != run.ID {
			continue
		}
		found := rec.Find(jobs.PhotoFilter{Place: place.ID})
		pair := PhotoPair{Place: place.Label, URL: PhotosURL(rec.Job.ID, "", place.ID)}
		shown := 0
		for i := range found.Len() {
			x := found.At(i)
			side := &pair.After
			if cover.Precedes(x) {
				side = &pair.Before
			}
			if *side == nil {
				shown++
			}
			shot := photo(rec, *x) // they come by stage and then by number: the last is the newest
			shot.FullURL += query("place", place.ID)
			*side = &shot
		}
		if found.Len() > shown {
			pair.More = counted(found.Len(), "photograph") + " in all"
		}
		if shown > 0 {
			p.Pairs = append(p.Pairs, pair)
		}
	}
	if len(p.Pairs) == 0 {
		p.Empty = "No photograph is filed at this run."
	}
	p.Frame = f
	return p, nil
}
