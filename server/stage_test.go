package server_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"newelbook/jobs"
)

func TestCloseOverDeviation(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	ada.aRun(job)
	action := job + "/stages/framing/closing"

	v := ben.page(job + "/stages/framing").fields(action)
	a := ben.post(action, v).want(http.StatusConflict)
	a.says("Framing is not ready to close", "outstanding", "not checked", "cannot be seen again once the deck is down", "Only the builder")

	v = ada.page(job + "/stages/framing").fields(action)
	a = ada.post(action, v).want(http.StatusConflict)
	a.says("Close it over a deviation", "no photograph")
	ben.post(action, with(v, "reason", "Rain")).want(http.StatusForbidden)
	ada.post(action, a.fields(action)).want(http.StatusConflict).faults(map[string]string{"reason": "why the stage is closed without it"})
	done := ada.follow(ada.post(action, with(a.fields(action), "reason", "The inspector looked at it on site.")))
	done.says("The stage is closed", "closed with a deviation", "D1", "The inspector looked at it on site.")

	// A form that was opened before is stale now, and says so.
	ada.post(action, with(v, "form_id", jobs.NewID())).want(http.StatusConflict).says("after this form was opened")

	again := job + "/stages/framing/reopening"
	w := done.fields(again)
	ada.post(again, w).want(http.StatusUnprocessableEntity).faults(map[string]string{"reason": "why the stage is opened again"})
	posts := job + "/stages/posts/closing"
	ada.post(posts, with(ada.page(job+"/stages/posts").fields(posts), "reason", "Seen with the framing.")).want(http.StatusSeeOther)
	ada.page(job+"/stages/posts").silent("look again", "The whole stage")
	ada.follow(ada.post(again, with(w, "reason", "Post 2 was moved"))).says("open", "Opened again by Ada Sample", "Post 2 was moved.", "look again")
	ada.page(job+"/stages/posts").says("Needs another look", "The whole stage", "Opened again after the stage posts was closed: framing.")
}

func TestCover(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	cover := ada.aRun(job) + "/cover"
	v := ben.page(cover).fields(cover)
	if v.Get("on") != "2026-05-04" {
		t.Errorf("the date offered is %q, want today in the job's zone", v.Get("on"))
	}
	ben.page(cover).says("Missing before it is hidden", "no photograph")
	a := ben.post(cover, with(v, "note", "Decked with Cy")).want(http.StatusConflict)
	a.says("Only the builder")
	if got := a.fields(cover).Get("note"); got != "Decked with Cy" {
		t.Errorf("note kept = %q", got)
	}
	w := ada.page(cover).fields(cover)
	ada.post(cover, with(w, "on", "2026-06-01")).want(http.StatusUnprocessableEntity).faults(map[string]string{"on": "not later than today"})
	w.Set("on", "2026-05-03")
	ada.post(cover, w).want(http.StatusConflict).faults(map[string]string{"reason": "with that missing"})
	ada.follow(ada.post(cover, with(w, "reason", "Decked before the phone was charged"))).says("Decked over on 3 May 2026", "covered")
	ada.page(cover).says("3 May 2026", "D1")
}

func TestRuns(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	action := job + "/runs"
	page := b.page(action + "/new?kind=rake")
	page.says("Total rise", "Another kind of run")
	b.page(action+"/new?kind=removable").says("not accepted as a required guard", "Why this length is removable")
	level := b.page(action + "/new?kind=level")
	level.silent("Total rise")
	v := level.fields(action)
	if v.Get("label") != "R1" {
		t.Errorf("label offered = %q, want R1", v.Get("label"))
	}
	a := b.post(action, with(v, "length", "long")).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"length": "Run length must be a length"})
	if got := a.fields(action).Get("length"); got != "long" {
		t.Errorf("length kept = %q", got)
	}
	run := b.aRun(job)
	b.page(job).says("R1", "Level run", "3 posts, 2 bays; layout v1", "planned")
	if next := b.page(action + "/new").fields(action).Get("label"); next != "R2" {
		t.Errorf("next label = %q, want R2", next)
	}

	// One field otherwise than the job, then as the job again.
	edit := b.page(run + "/edit").fields(run)
	if edit.Get("length") == "" || edit.Get("post_width") != "" {
		t.Errorf("the form of the run holds length %q and post width %q", edit.Get("length"), edit.Get("post_width"))
	}
	b.post(run, with(edit, "post_width", "5 1/2")).want(http.StatusSeeOther)
	page = b.page(run + "/edit")
	page.says("1 field otherwise", "The job has 3 1/2.")
	if got := page.fields(run).Get("post_width"); got != "5 1/2" {
		t.Errorf("post width of the run = %q", got)
	}
	stale := b.post(run, with(edit, "form_id", jobs.NewID(), "post_width", "4")).want(http.StatusConflict)
	stale.says("What stands saved", "5 1/2")

	retire := run + "/retired"
	b.post(retire, b.page(run+"/edit").fields(retire)).want(http.StatusSeeOther)
	b.page(job).says("None described yet")
}

func TestPostTopsSlug(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	b.aRun(job)
	b.page(job+"/stages/post-tops").says("Post tops", "Close the stage")
	if a := b.get(job + "/stages/" + url.PathEscape("post tops")); a.status != http.StatusNotFound {
		t.Errorf("the stage with a space: %d, want 404", a.status)
	}
	if !strings.Contains(b.page(job).body, job+"/stages/post-tops") {
		t.Error("the job does not lead to the stage")
	}
}
