package server_test

import (
	"net/http"
	"testing"

	"newelbook/jobs"
)

func TestDeviations(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ben := s.as("ben")
	ben.page(job + "/deviations").says("None is open.")

	check, at := s.checkID(job, "framing.bolt_upper", "R1-P1")
	ben.post(job+"/readings", with(ben.ask(job, "framing", "framing.bolt_upper", at), "text:"+check, "1 7/8")).want(http.StatusSeeOther)
	ben.page(job+"/deviations").says("D1", "R1-P1", "open")
	d := s.record(job).Deviations[0]
	path := job + "/deviations/" + d.ID
	crew := ben.page(path)
	crew.says("Deviation D1", "Opened it: upper bolt", "1 7/8″", "fails the limit", "Measure again", "a good reading ends it")
	crew.silent("What becomes of it")
	ben.post(path, nil).want(http.StatusForbidden)

	v, stale := ada.page(path).fields(path), ada.page(path).fields(path)
	a := ada.post(path, with(v, "state", "referred", "reason", "Whether it may stay.", "name", "")).want(422)
	a.faults(map[string]string{"name": "Enter who accepted it, or whom it was referred to."})
	if got := a.fields(path); got.Get("state") != "referred" || got.Get("reason") != "Whether it may stay." {
		t.Errorf("what was typed is not kept: %v", got)
	}
	ada.follow(ada.post(path, with(a.fields(path), "name", "Iris Sample, engineer"))).says("referred", "Referred to", "Iris Sample, engineer", "Whether it may stay.", "entered by Ada Sample")
	c := ada.post(path, with(stale, "state", "accepted", "reason", "Seen", "name", "Olive Sample")).want(http.StatusConflict)
	c.says("Ada Sample saved deviation D1 after this form was opened", "What stands saved", "Iris Sample, engineer")
	ada.follow(ada.post(path, c.fields(path))).says("accepted", "Accepted by", "Olive Sample")
	ben.page(job+"/deviations").says("None is open.", "Ended", "Olive Sample")

	n := ben.page(job + "/deviations/new?place=job&stage=framing")
	bad := ben.post(job+"/deviations/new", n.fields(job+"/deviations/new")).want(422)
	bad.faults(map[string]string{"what": "Enter what is not as it should be"})
	made := ben.post(job+"/deviations/new", with(bad.fields(job+"/deviations/new"), "what", "The ledger was cut")).want(http.StatusSeeOther)
	ben.follow(made).says("Deviation D2", "The ledger was cut.", "opened by hand", "Whole job")
	if d := s.record(job).Deviations[1]; d.Kind != jobs.DevByHand || d.OpenedBy.Name != "Ben Sample" {
		t.Errorf("opened as %+v", d)
	}
	ben.get(job + "/deviations/nosuch").want(http.StatusNotFound)
}

// A good reading ends a deviation by itself, and its page shows both.
func TestDeviationPutRight(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	check, at := s.checkID(job, "framing.bolt_upper", "R1-P1")
	for _, text := range []string{"1 7/8", "2 1/8"} {
		ada.post(job+"/readings", with(ada.ask(job, "framing", "framing.bolt_upper", at), "text:"+check, text)).want(http.StatusSeeOther)
	}
	page := ada.page(job + "/deviations/" + s.record(job).Deviations[0].ID)
	page.says("put right", "Opened it", "1 7/8″", "Ended it", "2 1/8″")
	page.silent("Measure again", "What becomes of it")
}
