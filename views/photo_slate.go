package views

import (
	"strconv"
	"time"
	"unicode/utf8"

	"newelbook/checklist"
	"newelbook/jobs"
)

// PhotoSlatePage fills a screen with what ties a picture to its job: permit, site, place, date and time in the job's zone. It is held in
// view of another phone, or photographed first.
type PhotoSlatePage struct {
	Frame
	Lines     []SlateLine // over the time, the most wanted first
	Day, Time string      // when the page was made; the script lets them go on
	Zone      string      // offset and name of the job's zone
	ZoneName  string
	Made      string // milliseconds since 1970, for the script
	BackURL   string
}

// SlateLine is one thing on a slate. Wide is how much room its text asks for: "long", "longest", empty for a short one.
type SlateLine struct {
	Key, Text, Wide string
	Missing         bool
}

// SlateURL is the slate of a job, for a check or a place where they are given.
func SlateURL(jobID string, to PhotoTarget) string {
	return JobURL(jobID, "slate") + query("check", to.CheckID, "place", to.PlaceID, "stage", to.Stage)
}

// NewPhotoSlate is the slate of what photographs are filed to. A check or place that the job does not have is not found; none at all gives
// the slate of the whole job. back is where it leads, empty for the page that files photographs.
func NewPhotoSlate(f Frame, rec *jobs.Record, to PhotoTarget, now time.Time, back string) (PhotoSlatePage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoSlatePage{}, err
	}
	job, place, shows := rec.Job, checklist.Place{Label: "Whole job"}, to.Stage
	switch c, ok := sheet.Check(to.CheckID); {
	case ok:
		place, shows = c.Check.Place, string(c.Check.Stage)+": "+lowerFirst(photoTitle(c.Check))
	case to.CheckID != "":
		return PhotoSlatePage{}, jobs.ErrNotFound
	case to.PlaceID != "":
		if place, ok = rec.Place(to.PlaceID); !ok {
			return PhotoSlatePage{}, jobs.ErrNotFound
		}
	}
	if place.Kind == checklist.PlaceJob {
		place.Label = "Whole job"
	}
	at := now.In(job.Location())
	f.Title, f.Heading = "Slate", place.Label
	p := PhotoSlatePage{
		Frame: f, Day: at.Format("Mon 2 Jan 2006"), Time: at.Format("15:04:05"), Zone: at.Format("-07:00") + " " + job.Zone, ZoneName: job.Zone,
		Made: strconv.FormatInt(now.UnixMilli(), 10), BackURL: back,
	}
	if p.BackURL == "" {
		p.BackURL = JobURL(job.ID, "photos", "new") + query("check", to.CheckID, "place", to.PlaceID, "stage", to.Stage)
	}
	for _, l := range []SlateLine{{Key: "Permit", Text: job.Permit}, {Key: "Site", Text: orElse(job.Site, job.Name)}, {Key: "Job", Text: job.Ref}, {Key: "Shows", Text: upperFirst(shows)}} {
		switch n := utf8.RuneCountInString(l.Text); {
		case n == 0 && l.Key == "Permit":
			l.Text, l.Missing, l.Wide = "none entered", true, "long"
		case n == 0:
			continue
		case n > 40:
			l.Wide = "longest"
		case n > 12:
			l.Wide = "long"
		}
		p.Lines = append(p.Lines, l)
	}
	return p, nil
}

// LongHeading says whether the place's label asks for more room than a post's.
func (p PhotoSlatePage) LongHeading() bool { return utf8.RuneCountInString(p.Heading) > 7 }
