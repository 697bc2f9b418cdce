package server_test

import (
	"net/http"
	"testing"
	"time"

	"newelbook/media/exifwrite"
)

func TestDiary(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ben := s.as("ben")
	ben.page(job+"/diary").says("Write today’s page", "Monday 4 May 2026")

	day := job + "/diary/2026-05-04"
	check, at := s.checkID(job, "framing.bolt_upper", "R1-P1")
	ben.post(job+"/readings", with(ben.ask(job, "framing", "framing.bolt_upper", at), "text:"+check, "2 1/8")).want(http.StatusSeeOther)
	ben.upload(job+"/photos", ben.filing(job, "place=job&stage=framing"), file{"a.jpg", picture(t, 1, exifwrite.Tags{})}).want(http.StatusSeeOther)
	page := ben.page(day)
	page.says("Recorded on this day", "1 reading", "R1-P1", "2 1/8″", "1 photograph", "Photo 1")
	v := with(page.fields(day), "weather", "Dry", "people", "Ben Sample, 7 1/2\r\nJo Sample, 4", "work", "Blocking in.\r\nPosts set.", "fall_protection", "Barrier on the yard side.")
	ben.follow(ben.post(day, v)).says("The page is saved.", "Saved by Ben Sample, 4 May 2026 09:00.")
	if p, _ := s.record(job).DiaryDay("2026-05-04"); p.Work != "Blocking in.\nPosts set." || len(p.People) != 2 || p.People[0].Hours != "7 1/2" {
		t.Errorf("the page is kept as %+v", p)
	}

	mine, theirs := ben.page(day).fields(day), ada.page(day).fields(day)
	ada.follow(ada.post(day, with(theirs, "weather", "Dry until noon", "delays", "Rain")))
	a := ben.post(day, with(mine, "weather", "Wet", "visitors", "The owner")).want(http.StatusConflict)
	a.says("Ada Sample saved the diary of 4 May 2026 after this form was opened", "What stands saved", "Dry until noon", "Rain")
	again := a.fields(day)
	if again.Get("weather") != "Wet" || again.Get("visitors") != "The owner" || again.Get("work") != "Blocking in.\nPosts set." {
		t.Errorf("what was typed is not kept: %v", again)
	}
	ben.follow(ben.post(day, with(again, "delays", "Rain")))
	if p, _ := s.record(job).DiaryDay("2026-05-04"); p.Version != 3 || p.Weather != "Wet" || p.Delays != "Rain" {
		t.Errorf("after both were put together the page is %+v", p)
	}

	bad := ben.post(day, with(ben.page(day).fields(day), "people", "Ben Sample 8")).want(422)
	bad.faults(map[string]string{"people": "Enter one person a line with the hours after a comma"})
	if got := bad.fields(day).Get("people"); got != "Ben Sample 8" {
		t.Errorf("the people come back as %q", got)
	}

	s.clock.forward(24 * time.Hour)
	ben.page(job+"/diary/2026-05-05").says("Last time: Ben Sample, 7 1/2; Jo Sample, 4.", "No reading and no photograph was received on this day.")
	ben.page(job+"/diary").says("Tuesday 5 May 2026", "Wet; Blocking in; 2 people; 1 reading; 1 photograph")
	for _, day := range []string{"2026-05-06", "2026-5-4", "yesterday", "2026-02-30"} {
		ben.get(job + "/diary/" + day).want(http.StatusNotFound)
	}
	if a := ben.get(job + "/diary?day=2026-05-04").want(http.StatusSeeOther); a.location != day {
		t.Errorf("another day leads to %s, want %s", a.location, day)
	}
}
