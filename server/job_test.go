package server_test

import (
	"net/http"
	"strings"
	"testing"
)

func TestMakeJob(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	empty := b.page("/jobs/new").fields("/jobs")
	a := b.post("/jobs", with(empty, "ref", "NB-0042", "begun", "May 4")).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{
		"name": "Enter a name", "site": "Enter where", "owner": "owner's name", "builder": "builder's name", "contact": "how to reach",
		"rule_set": "Choose the rule set", "units": "Choose feet", "zone": "time zone", "begun": "as 2026-05-04",
	})
	if got := a.fields("/jobs"); got.Get("ref") != "NB-0042" || got.Get("begun") != "May 4" {
		t.Errorf("fields kept = %v", got)
	}
	job := b.aJob()
	page := b.page(job)
	page.says("Back deck", "Describe the first run", "14 Example Lane", "S-1001", "Framing", "0 of")
	b.page("/jobs").says("NB-0042", "Back deck")
	if again := b.page("/jobs/new").fields("/jobs"); again.Get("builder") != "Sample Decks" || again.Get("zone") != "America/Chicago" || again.Get("owner") != "" {
		t.Errorf("the next job is offered %v", again)
	}
}

// TestFormOnce sends one form twice: one job is made. The same form with another body is refused and kept.
func TestFormOnce(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	action := job + "/particulars"
	v := with(b.page(action).fields(action), "permit", "S-2002")
	first, second := b.post(action, v), b.post(action, v)
	if first.location != job || second.location != job || second.status != http.StatusSeeOther {
		t.Errorf("the form twice: %d %q and %d %q", first.status, first.location, second.status, second.location)
	}
	rec, err := s.service.Record(t.Context(), strings.TrimPrefix(job, "/jobs/"))
	if err != nil {
		t.Fatal(err)
	}
	if rec.Head.Seq != 2 {
		t.Errorf("%d events, want 2", rec.Head.Seq)
	}
	a := b.post(action, with(v, "permit", "S-3003")).want(http.StatusConflict)
	a.says("sent once before", "What stands saved", "S-2002")
	got := a.fields(action)
	if got.Get("permit") != "S-3003" || got.Get("form_id") == v.Get("form_id") {
		t.Errorf("fields kept = %v", got)
	}
	b.post(action, got).want(http.StatusSeeOther)
	b.page(action).says("Particulars")
	if got := b.page(action).fields(action).Get("permit"); got != "S-3003" {
		t.Errorf("permit = %q, want S-3003", got)
	}
}

// TestStale has two people change the same job: the second keeps what was typed and sees what stands.
func TestStale(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	action := job + "/specification"
	one, two := b.page(action).fields(action), b.page(action).fields(action)
	b.post(action, with(one, "post_width", "3 5/8")).want(http.StatusSeeOther)
	a := b.post(action, with(two, "post_width", "3 9/16")).want(http.StatusConflict)
	a.says("after this form was opened", "What stands saved", "3 5/8")
	got := a.fields(action)
	if got.Get("post_width") != "3 9/16" {
		t.Errorf("post_width kept = %q", got.Get("post_width"))
	}
	b.post(action, got).want(http.StatusSeeOther)
	if got := b.page(action).fields(action).Get("post_width"); got != "3 9/16" {
		t.Errorf("post_width = %q, want 3 9/16", got)
	}
}

// TestInvalidKeepsVersion guards against a form that came back invalid being taken as opened on the newest version.
func TestInvalidKeepsVersion(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	action := job + "/specification"
	mine, theirs := b.page(action).fields(action), b.page(action).fields(action)
	b.post(action, with(theirs, "kerf", "3/32")).want(http.StatusSeeOther)
	a := b.post(action, with(mine, "kerf", "wide"))
	if a.status == http.StatusUnprocessableEntity {
		a = b.post(action, with(a.fields(action), "kerf", "1/16"))
	}
	a.want(http.StatusConflict)
}

func TestSpecification(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	action := job + "/specification"
	page := b.page(action)
	page.says("Post width", "Baluster gap tolerance", "common practice, no source")
	a := b.post(action, with(page.fields(action), "post_width", "wide", "kerf", "-1")).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"post_width": "Post width must be a length", "kerf": "must"})
	if got := a.fields(action).Get("post_width"); got != "wide" {
		t.Errorf("post_width kept = %q", got)
	}
}

func TestRules(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	page := b.page(job + "/rules")
	page.says("International Residential Code, 2018", "R312.1.3", "under 4", "official text", "at least 36")
	action := job + "/amendments"
	v := with(page.fields(action), "key", "guard.height_level", "value", "42", "said_by", "", "on", "yesterday")
	b.post(action, v).want(http.StatusUnprocessableEntity).faults(map[string]string{"said_by": "Enter who said so", "on": "Enter the date it was said as 2026-05-04"})
	b.post(action, with(v, "value", "tall", "on", "2026-05-05")).want(http.StatusUnprocessableEntity).
		faults(map[string]string{"value": "enter a value such as 36 in", "said_by": "Enter who said so", "on": "not later than today"})
	v = with(v, "said_by", "Iris Sample", "office", "Sampleton building office", "on", "2026-04-30", "value", "tall")
	a := b.post(action, v).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"value": "enter a value such as 36 in"})
	if got := a.fields(action); got.Get("key") != "guard.height_level" || got.Get("value") != "tall" {
		t.Errorf("fields kept = %v", got)
	}
	v.Set("value", "42")
	done := b.follow(b.post(action, v))
	done.says("The authority's own figures", "Iris Sample", "at least 42", "36 in, R312.1.2")
	s.as("ben").page(job + "/rules").silent("Who said so")
}
