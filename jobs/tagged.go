package jobs

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
)

// FiledByTag is what Photo.FiledBy says of a photograph that was filed by the place tag in it.
const FiledByTag = "tag"

// tagActor is who an event names that came of a tag and not of a person.
var tagActor = Actor{ID: "tag", Name: "tag in the picture", Role: RoleCrew}

// tagsOf are the tags among the texts of a photograph's codes, in order of their texts, each once.
func tagsOf(texts []string) []string {
	var out []string
	for _, text := range texts {
		if _, ok := ReadTag(text); ok {
			out = append(out, text)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// tagged is what the tags in a photograph come to by the layout as it is now.
type tagged struct {
	places []checklist.Place // of this job, there now
	gone   []Tag             // of this job, not there now
	others int               // tags of other jobs
}

func (r *Record) tagged(p *Photo) tagged {
	var out tagged
	for _, text := range p.Tags {
		t, ok := ReadTag(text)
		if !ok {
			continue
		}
		if t.Job != r.Job.ID {
			out.others++
		} else if place, ok := r.Place(t.PlaceID()); ok {
			out.places = append(out.places, place)
		} else {
			out.gone = append(out.gone, t)
		}
	}
	return out
}

// one is the only place that the tags speak for: where they speak for several, or some are not of this job's places, there is none.
func (t tagged) one() (checklist.Place, bool) {
	if len(t.places) != 1 || len(t.gone) > 0 || t.others > 0 {
		return checklist.Place{}, false
	}
	return t.places[0], true
}

// tagFlags say what does not fit between the tags in a photograph and where it is filed.
func (r *Record) tagFlags(p *Photo, say func(key, text string, args ...any)) {
	if len(p.Tags) == 0 {
		return
	}
	t := r.tagged(p)
	if t.others > 0 {
		say("tag_other", "The picture shows a tag of another job, and this is job %s.", r.Job.Ref)
	}
	for _, gone := range t.gone {
		of := "a run that this job does not have"
		if run, ok := r.Run(gone.Run); ok {
			of = run.Label
		}
		say("tag_gone", "The picture shows a tag of %s of %s, and the layout has no such place now.", gone.words(), of)
	}
	labels := labelsOf(t.places)
	switch {
	case !p.Filed() && len(t.places) > 1:
		say("tag_several", "The picture shows the tags of %s, so it belongs to either, and no tag files it.", labels)
	case p.Filed() && len(t.places) > 0 && !slices.ContainsFunc(t.places, func(at checklist.Place) bool { return r.shownWith(p.Place, at) }):
		say("tag_elsewhere", "It was filed by hand at %s, and the tag in the picture is of %s.", p.Place.Label, labels)
	}
}

func labelsOf(places []checklist.Place) string {
	var labels []string
	for _, p := range places {
		labels = append(labels, p.Label)
	}
	if n := len(labels); n > 1 {
		return strings.Join(labels[:n-1], ", ") + " and " + labels[n-1]
	}
	return strings.Join(labels, "")
}

// shownWith says whether a photograph of a place may well show the tag of another: of its own, of any in its run or job, and a bay and
// the posts at its ends in each other's pictures.
func (r *Record) shownWith(place, tag checklist.Place) bool {
	switch {
	case place.ID == tag.ID, place.Kind == checklist.PlaceJob, place.ID == tag.RunID:
		return true
	case place.RunID != tag.RunID || place.Kind == tag.Kind:
		return false
	}
	bay, post := place.Number, tag.Number
	if place.Kind == checklist.PlacePost {
		bay, post = tag.Number, place.Number
	}
	v, _ := r.Layout(place.RunID)
	for _, b := range v.Layout.Bays {
		if b.Number == bay {
			return b.FromPost == post || b.ToPost == post
		}
	}
	return false
}

// tagStage is the stage that a photograph is filed under whose tag names its place: what was chosen for it when it was sent, or what
// was being done when it claims to be taken, or the first stage that is still open. Empty where all are closed.
func (r *Record) tagStage(p *Photo) checklist.Stage {
	if p.StageMeant != "" {
		return p.StageMeant
	}
	if s := Suggest(r.Moments(), p.Exif.Capture.Local); s.Stage != "" {
		return s.Stage
	}
	for _, s := range checklist.Stages() {
		if !r.Stages[s].Closed {
			return s
		}
	}
	return ""
}

// suggest is where an unfiled photograph may belong: by its tags, and by its time where it shows none.
func (r *Record) suggest(moments []Moment, p *Photo) Suggestion {
	s := Suggest(moments, p.Exif.Capture.Local)
	if p.StageMeant != "" {
		s.Stage = p.StageMeant
	}
	if len(p.Tags) == 0 {
		return s
	}
	if place, ok := r.tagged(p).one(); ok {
		s.Place, s.Why = place, fmt.Sprintf("The tag in the picture is of %s.", place.Label)
		return s
	}
	r.tagFlags(p, func(_, text string, args ...any) { s.Place, s.Why = checklist.Place{}, fmt.Sprintf(text, args...) })
	return s
}
