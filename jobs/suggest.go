package jobs

import (
	"fmt"
	"slices"
	"time"

	"newelbook/checklist"
	"newelbook/media"
)

// How near in time a reading must be for a photograph to be taken for one of its place, and of its stage (both common practice, no
// source). Of two readings at different places the nearer one counts only if it is nearer by nearerBy times.
const (
	samePlace = 15 * time.Minute
	sameStage = 4 * time.Hour
	nearerBy  = 3
)

// Suggestion is where an unfiled photograph may belong. It is a guess that somebody confirms: nothing is filed by it.
type Suggestion struct {
	Place checklist.Place // no id where nothing speaks for one
	Stage checklist.Stage // empty where nothing speaks for one
	Why   string          // a finished sentence
}

// Whole says whether it names both a place and a stage.
func (s Suggestion) Whole() bool { return s.Place.ID != "" && s.Stage != "" }

// Moment is something that the record knows of a time: a reading at its place, or a stage that was closed. Wall is what a clock in
// the job's zone showed.
type Moment struct {
	Wall   media.WallTime
	Place  checklist.Place // of a reading
	Stage  checklist.Stage
	Closed bool // the stage was closed then; otherwise a reading was taken
}

// Moments are the readings and the closings of stages by the wall clock of the job's zone, oldest first.
func (r *Record) Moments() []Moment {
	loc := r.Job.Location()
	wall := func(t time.Time) media.WallTime {
		t = t.In(loc)
		return media.WallTime{Year: t.Year(), Month: t.Month(), Day: t.Day(), Hour: t.Hour(), Minute: t.Minute(), Second: t.Second()}
	}
	var out []Moment
	for i := range r.Readings {
		x := &r.Readings[i]
		at := x.Claimed
		if at.IsZero() {
			at = x.Received
		}
		place, ok := r.Place(x.Check.Place.ID)
		if !ok || r.elsewhere(place, x.LayoutVersion) {
			continue // nobody can file a photograph there now
		}
		out = append(out, Moment{Wall: wall(at), Place: place, Stage: x.Check.Stage})
	}
	for _, s := range r.Stages {
		if s.Closed {
			out = append(out, Moment{Wall: wall(s.At), Stage: s.Stage, Closed: true})
		}
	}
	slices.SortStableFunc(out, func(a, b Moment) int {
		if c := clock(a.Wall).Compare(clock(b.Wall)); c != 0 {
			return c
		}
		return slices.Index(checklist.Stages(), a.Stage) - slices.Index(checklist.Stages(), b.Stage)
	})
	return out
}

// clock makes wall times comparable with one another. It is no instant.
func clock(w media.WallTime) time.Time { return w.In(time.UTC) }

// Suggest says where a photograph may belong that claims to be taken at a wall time. The time is held against the wall clock of the
// job's zone as the file has it: a camera set to another zone makes a wrong guess, never a converted time. moments come from Moments.
func Suggest(moments []Moment, taken media.WallTime) Suggestion {
	if taken.IsZero() {
		return Suggestion{Why: "The file names no time of capture, so nothing speaks for a place."}
	}
	at := clock(taken)
	i, _ := slices.BinarySearchFunc(moments, at, func(m Moment, t time.Time) int {
		if clock(m.Wall).After(t) {
			return 1
		}
		return -1
	})
	before, after := nearest(moments[:i], -1), nearest(moments[i:], 1)
	s := Suggestion{Stage: stageAt(moments, i, before, after, at)}
	switch {
	case before == nil && after == nil:
		s.Why = "No reading was taken near that time."
	case before != nil && after != nil && before.Place.ID == after.Place.ID && away(before, at) <= sameStage && away(after, at) <= sameStage:
		s.Place, s.Why = before.Place, fmt.Sprintf("Taken between two readings at %s.", before.Place.Label)
	default:
		near, far := before, after
		if near == nil || far != nil && away(far, at) < away(near, at) {
			near, far = far, near
		}
		s.Place, s.Why = near.Place, fmt.Sprintf("Taken %s a reading at %s.", apart(near, at), near.Place.Label)
		switch {
		case away(near, at) > samePlace:
			s.Place, s.Why = checklist.Place{}, fmt.Sprintf("The nearest reading, at %s, is more than %d minutes away.", near.Place.Label, int(samePlace.Minutes()))
		case far != nil && far.Place.ID != near.Place.ID && away(far, at) < nearerBy*away(near, at):
			s.Place, s.Why = checklist.Place{}, fmt.Sprintf("Taken between readings at %s and %s: either may be meant.", before.Place.Label, after.Place.Label)
		}
	}
	return s
}

// nearest is the reading that comes first in a direction: 1 from the front, -1 from the back; nil where there is none.
func nearest(moments []Moment, step int) *Moment {
	i := 0
	if step < 0 {
		i = len(moments) - 1
	}
	for ; i >= 0 && i < len(moments); i += step {
		if !moments[i].Closed {
			return &moments[i]
		}
	}
	return nil
}

func away(m *Moment, at time.Time) time.Duration { return clock(m.Wall).Sub(at).Abs() }

// apart says how long before or after a reading something was.
func apart(m *Moment, at time.Time) string {
	d := clock(m.Wall).Sub(at)
	word := "before"
	if d < 0 {
		d, word = -d, "after"
	}
	switch n := int(d.Minutes()); n {
	case 0:
		return "less than a minute " + word
	case 1:
		return "a minute " + word
	default:
		return fmt.Sprintf("%d minutes %s", n, word)
	}
}

// stageAt is the stage that work was at: that of the nearer reading within hours, unless a closing stands between; else that which
// the closings around it leave open.
func stageAt(moments []Moment, i int, before, after *Moment, at time.Time) checklist.Stage {
	var closed, closes checklist.Stage // the last closed before it, the next closed after it
	for k := i - 1; k >= 0 && closed == ""; k-- {
		if moments[k].Closed {
			closed = moments[k].Stage
		}
	}
	for k := i; k < len(moments) && closes == ""; k++ {
		if moments[k].Closed {
			closes = moments[k].Stage
		}
	}
	stages := checklist.Stages()
	fits := func(m *Moment) bool {
		if m == nil || away(m, at) > sameStage {
			return false
		}
		n := slices.Index(stages, m.Stage)
		return (closed == "" || n > slices.Index(stages, closed)) && (closes == "" || n <= slices.Index(stages, closes))
	}
	switch b, a := fits(before), fits(after); {
	case b && a && away(after, at) < away(before, at):
		return after.Stage
	case b:
		return before.Stage
	case a:
		return after.Stage
	}
	if next := slices.Index(stages, closed) + 1; closed != "" && closes != "" && next < len(stages) && stages[next] == closes {
		return closes // the one stage that was open between the two
	}
	return ""
}

// Batch is unfiled photographs that were taken one after another and have one suggestion.
type Batch struct {
	Suggestion Suggestion
	Photos     []Photo
}

// batchMost is how many photographs one batch holds: what a person can look over before the one tap.
const batchMost = 24

// Batches are the unfiled photographs by the time they claim, those without one last, put together where place and stage are the
// same; at most limit photographs.
func (r *Record) Batches(limit int) []Batch {
	found := r.Find(PhotoFilter{Stage: NotFiled})
	photos := make([]*Photo, found.Len())
	for i := range photos {
		photos[i] = found.At(i)
	}
	slices.SortStableFunc(photos, func(a, b *Photo) int {
		s, t := a.Exif.Capture.Local, b.Exif.Capture.Local
		if s.IsZero() != t.IsZero() {
			if s.IsZero() {
				return 1
			}
			return -1
		}
		return clock(s).Compare(clock(t))
	})
	moments := r.Moments()
	var out []Batch
	for _, p := range photos[:min(limit, len(photos))] {
		s := r.suggest(moments, p)
		if last := len(out) - 1; last >= 0 && len(out[last].Photos) < batchMost && out[last].Suggestion.Place.ID == s.Place.ID && out[last].Suggestion.Stage == s.Stage {
			out[last].Photos = append(out[last].Photos, *p)
			continue
		}
		out = append(out, Batch{Suggestion: s, Photos: []Photo{*p}})
	}
	return out
}
