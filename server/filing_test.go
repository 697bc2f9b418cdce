package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/media/codes/scenes"
	"newelbook/views"
)

// unfiled puts photographs on record without a place, taken so many minutes after the time that it is at the site.
func (s *site) unfiled(job string, minutes ...int) (ids []string) {
	s.t.Helper()
	var inputs []jobs.PhotoInput
	for i, n := range minutes {
		at := s.clock.now().In(s.record(job).Job.Location()).Add(time.Duration(n) * time.Minute)
		local := media.WallTime{Year: at.Year(), Month: at.Month(), Day: at.Day(), Hour: at.Hour(), Minute: at.Minute()}
		facts := media.Photo{ID: media.ID{byte(i + 1)}, Kind: media.JPEG, Bytes: 1000, Width: 4, Height: 3, Exif: media.Exif{Orientation: 1, Capture: media.Capture{Local: local, Source: "DateTimeOriginal"}}}
		inputs = append(inputs, jobs.PhotoInput{Facts: facts, Name: fmt.Sprintf("card-%d.jpg", i), Caption: "By Ben", Unfiled: true})
	}
	added, err := s.service.AddPhotos(s.t.Context(), jobs.By{Actor: jobs.Actor{ID: "card", Name: "Card", Role: jobs.RoleBuilder}}, strings.TrimPrefix(job, "/jobs/"), inputs)
	if err != nil {
		s.t.Fatal(err)
	}
	for _, a := range added {
		ids = append(ids, a.ID)
	}
	return ids
}

// TestFiling files photographs of a card where their time suggests: one by its view, in one tap, and the rest of the batch in another.
func TestFiling(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	ada.aRun(job)
	check, at := s.checkID(job, "framing.bolt_upper", "R1-P2")
	ben.post(job+"/readings", with(ben.ask(job, "framing", "framing.bolt_upper", at), "text:"+check, "2")).want(http.StatusSeeOther)
	ids := s.unfiled(job, 1, 2, 3, 300)
	filing := job + "/photos/filing"
	page := ben.page(filing)
	page.says("R1-P2, framing: 3 photographs", "Of R1-P2, it is", "Inside face", "No place suggested: 1 photograph")

	wide := at + ".framing.photo_wide"
	v := page.fields(job + "/photos/" + ids[1])
	page = ben.follow(ben.post(job+"/photos/"+ids[1], with(v, "check", wide)))
	page.says("The photograph is filed there now.", "R1-P2, framing: 2 photographs")
	if p, _ := s.record(job).Photo(ids[1]); p.CheckID != wide || p.Place.Label != "R1-P2" || p.Stage != "framing" || p.Caption != "By Ben" {
		t.Errorf("its view named, it answers %q at %s, %s, caption %q", p.CheckID, p.Place.Label, p.Stage, p.Caption)
	}
	page.silent("The post in its place")

	batch := page.fields(filing)
	if got := batch[views.BatchFields(ids[0]).Photos]; len(got) != 2 {
		t.Errorf("ticked are %q, want the two that are left", got)
	}
	ben.follow(ben.post(filing, batch)).says("2 photographs are filed there now.", "No place suggested: 1 photograph")
	for _, id := range []string{ids[0], ids[2]} {
		if p, _ := s.record(job).Photo(id); p.Place.Label != "R1-P2" || p.Stage != "framing" || p.CheckID != "" {
			t.Errorf("filed at %s, %s, answers %q; want R1-P2, framing and no check", p.Place.Label, p.Stage, p.CheckID)
		}
	}
}

// TestFilingTagged names the views of what tags filed, one after another on one page; another site's address leads nowhere else.
func TestFilingTagged(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	for i, label := range []string{"R1-P1", "R1-P2"} {
		ada.follow(ada.upload(job+"/photos", ada.filing(job, "place=tag"), file{"IMG.jpg", scenes.Photo(s.tagOf(job, label), i)}))
		s.untilRead(job, i)
	}
	ada.page(job + "/photos").says("Name the views of 2 photographs that their tags filed")
	filing := job + "/photos/filing"
	photos := s.record(job).Photos
	page := ada.page(filing)
	page.says("Every photograph is filed.", "Filed by the tag in the picture: which view is it?", "Of R1-P1, it is", "Of R1-P2, it is")
	for i, p := range photos {
		v := with(page.fields(job+"/photos/"+p.ID), "check", p.Place.ID+".framing.photo_inside")
		if i == 1 {
			v.Set("back", "//elsewhere.invalid/")
		}
		a := ada.post(job+"/photos/"+p.ID, v).want(http.StatusSeeOther)
		if want := []string{filing, job + "/photos/" + p.ID}[i]; a.location != want {
			t.Errorf("then it leads to %s, want %s", a.location, want)
		}
		page = ada.page(filing)
		if got, _ := s.record(job).Photo(p.ID); got.CheckID != p.Place.ID+".framing.photo_inside" || got.Place.ID != p.Place.ID {
			t.Errorf("it answers %q at %s", got.CheckID, got.Place.Label)
		}
	}
	page.silent("which view is it?")
	ada.page(job + "/photos").silent("Name the view")
}
