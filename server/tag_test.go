package server_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/media/codes/scenes"
)

// tagOf is the text of the tag of the place with a label.
func (s *site) tagOf(job, label string) string {
	s.t.Helper()
	rec := s.record(job)
	for _, p := range rec.Places() {
		if p.Label == label {
			text, err := jobs.TagText(rec.Job.ID, p)
			if err != nil {
				s.t.Fatal(err)
			}
			return text
		}
	}
	s.t.Fatalf("no place %s", label)
	return ""
}

// untilRead waits until a tag was read in a photograph, and returns it.
func (s *site) untilRead(job string, n int) jobs.Photo {
	s.t.Helper()
	for range 300 {
		if p := s.record(job).Photos[n]; len(p.Tags) > 0 {
			return p
		}
		time.Sleep(20 * time.Millisecond)
	}
	s.t.Fatal("no tag was read")
	return jobs.Photo{}
}

// TestUploadByTag files what is sent "by its tag" where the tag says, and lets the view be named in one tap.
func TestUploadByTag(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	ada.aRun(job)
	form := ben.filing(job, "place=tag")
	ben.follow(ben.upload(job+"/photos", form, file{"IMG_1.jpg", scenes.Photo(s.tagOf(job, "R1-P2"), 1)})).says("On the server: 1. Each is filed as soon as its tag is read; what shows none waits to be filed.")
	p := s.untilRead(job, 0)
	if p.Place.Label != "R1-P2" || p.Stage != "framing" || p.FiledBy != jobs.FiledByTag {
		t.Errorf("filed at %s, %s, by %q", p.Place.Label, p.Stage, p.FiledBy)
	}
	page := ben.page(job + "/photos/" + p.ID)
	page.says("filed by the tag in the picture", "Which view is it?", "The post in its place", "Inside face")
	ben.page(job+"/record").says("Photo 1 was filed by the tag in the picture, under framing.", "tag in the picture, crew")
	views := page.fields(job + "/photos/" + p.ID) // the first of the page
	check := p.Place.ID + ".framing.photo_wide"
	ben.follow(ben.post(job+"/photos/"+p.ID, with(views, "check", check)))
	if p := s.record(job).Photos[0]; p.CheckID != check || p.FiledBy != "" || p.Place.Label != "R1-P2" {
		t.Errorf("with its view named it answers %q, filed by %q at %s", p.CheckID, p.FiledBy, p.Place.Label)
	}
	ben.page(job + "/photos/" + p.ID).silent("Which view is it?")
}

// TestUploadByTagStages keeps a stage that was chosen, refuses one that is none, and leaves what shows no tag to be filed.
func TestUploadByTagStages(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ada.upload(job+"/photos", with(ada.filing(job, "place=tag"), "stage", "nosuch"), file{"IMG_1.jpg", picture(t, 1, taken("2026:05:04 09:00:00"))}).want(http.StatusUnprocessableEntity).faults(map[string]string{"stage": "Choose the stage"})
	ada.follow(ada.upload(job+"/photos", ada.filing(job, "place=tag&stage=rails"), file{"IMG_2.jpg", scenes.Photo(s.tagOf(job, "R1-B1"), 2)}))
	if p := s.untilRead(job, 0); p.Place.Label != "R1-B1" || p.Stage != "rails" {
		t.Errorf("filed at %s, %s; want the stage that was chosen", p.Place.Label, p.Stage)
	}
	ada.follow(ada.upload(job+"/photos", ada.filing(job, "place=tag"), file{"IMG_3.jpg", picture(t, 3, taken("2026:05:04 09:00:00"))}))
	ada.page(job + "/photos").says("File the 1 photograph that came in without a place")
}

// TestHandBeforeTag keeps what was filed by hand, and says what the tag says.
func TestHandBeforeTag(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	p1 := ""
	for _, p := range s.record(job).Places() {
		if p.Label == "R1-P1" {
			p1 = p.ID
		}
	}
	ada.follow(ada.upload(job+"/photos", ada.filing(job, "place="+strings.ReplaceAll(p1, "/", "%2F")+"&stage=framing"), file{"IMG_1.jpg", scenes.Photo(s.tagOf(job, "R1-P3"), 4)}))
	p := s.untilRead(job, 0)
	if p.Place.ID != p1 || p.FiledBy != "" {
		t.Errorf("filed at %s by %q, want it where the hand filed it", p.Place.Label, p.FiledBy)
	}
	page := ada.page(job + "/photos/" + p.ID)
	page.says("It was filed by hand at R1-P1, and the tag in the picture is of R1-P3.")
	page.silent("filed by the tag", "Which view is it?")
	ada.page(job + "/photos").says("shows the tag of another place")
}
