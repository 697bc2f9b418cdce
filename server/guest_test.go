package server_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"newelbook/media/exifwrite"
)

func TestGuestReads(t *testing.T) {
	s, ada, job := packed(t)
	first := ada.link(job, "1", "owner")
	// What comes later is in the next pack and not in the first.
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"b.jpg", picture(t, 2, exifwrite.Tags{})}).want(http.StatusSeeOther)
	ada.issue(job, "handover", "no").want(http.StatusSeeOther)
	second := ada.link(job, "2", "owner")
	rec := s.record(job)
	old, later := rec.Photos[0].Media.String(), rec.Photos[1].Media.String()

	g := s.visitor()
	page := g.page(first)
	page.says("Back deck", "Pack 1, framing inspection, issued by Sample Decks", "The stage framing is not closed", "A later pack, number 2, was issued", "A guard stops falls", "Photographs 1", "none open")
	page.silent("Sign out", "Ada Sample builder")
	for name, want := range map[string]string{"Referrer-Policy": "no-referrer", "X-Robots-Tag": "noindex, nofollow", "Cache-Control": "no-store"} {
		if got := page.header.Get(name); got != want {
			t.Errorf("%s = %q, want %q", name, got, want)
		}
	}
	g.page(second).says("Pack 2, handover", "Photographs 2")
	for path, status := range map[string]int{
		first + "/pack/owner.pdf": 200, first + "/pack.zip": 200, first + "/pack/html/owner.html": 200, first + "/pack/html/pack.css": 200,
		first + "/pack/pictures/" + old + ".jpg": 200, first + "/pack/pictures/" + later + ".jpg": 404, second + "/pack/pictures/" + later + ".jpg": 200,
		first + "/pack/record.json": 404, first + "/pack/originals/" + old + ".jpeg": 404, first + "/pack/html/%2e%2e/record.json": 404,
		first + "/receipts/nosuch": 404, first + "x": 404, "/g/nosuch": 404, "/g/nosuch/pack.pdf": 404,
	} {
		a := g.get(path)
		if a.status != status {
			t.Errorf("GET %s: %d, want %d", path, a.status, status)
		}
		if a.header.Get("Referrer-Policy") != "no-referrer" || a.header.Get("Cache-Control") != "no-store" {
			t.Errorf("GET %s: policy %q, cache %q", path, a.header.Get("Referrer-Policy"), a.header.Get("Cache-Control"))
		}
	}
	g.get("/g/nosuch").want(http.StatusNotFound).says("Check that the whole address was copied.")
	// A link is no account.
	for _, path := range []string{job, job + "/photos", job + "/packs/1/pack/inspector.pdf", job + "/photos/" + rec.Photos[0].ID + "/original"} {
		if a := g.get(path).want(http.StatusSeeOther); !strings.HasPrefix(a.location, "/sign-in") {
			t.Errorf("GET %s leads a guest to %s", path, a.location)
		}
	}
	log := s.log.String()
	for _, path := range []string{first, second} {
		if token := strings.TrimPrefix(path, "/g/"); strings.Contains(log, token) {
			t.Error("the log has the token of a link")
		}
	}
	if !strings.Contains(log, "/g/(token)/pack/owner.pdf") {
		t.Errorf("the log has no line of a guest's request:\n%s", log)
	}
}

func TestGuestClosed(t *testing.T) {
	s, ada, job := packed(t)
	taken, expiring := ada.link(job, "1", "inspector"), ada.link(job, "1", "owner")
	g := s.visitor()
	form := g.page(taken).fields(taken + "/answers")

	revoke := job + "/links/" + s.record(job).Links[0].ID + "/revoked"
	ada.follow(ada.post(revoke, ada.page(job+"/packs").fields(revoke))).says("The link is taken back.", "taken back")
	ada.post(revoke, nil).want(http.StatusSeeOther)
	for _, path := range []string{taken, taken + "/pack/owner.pdf", taken + "/pack/html/owner.html"} {
		g.get(path).want(http.StatusGone).says("The builder has taken it back.", "Sample Decks", "555 0100")
	}
	g.post(taken+"/answers", with(form, "kind", "remark", "text", "Too late", "name", "Iris Sample")).want(http.StatusGone)
	g.page(expiring)

	s.clock.forward(30 * 24 * time.Hour)
	a := g.get(expiring).want(http.StatusGone)
	a.says("It was open until 3 Jun 2026, 09:00 -05:00. Ask the builder for a new one.", "555 0100")
	a.silent("Example Lane", "Olive Sample")
	if n := len(s.record(job).Answers); n != 0 {
		t.Errorf("%d answers through closed links", n)
	}
}

func TestOwnerAnswers(t *testing.T) {
	s, ada, job := packed(t)
	path := ada.link(job, "1", "owner")
	g := s.visitor()
	page := g.page(path)
	page.says("I accept the work as the pack shows it", "I do not accept it yet", "I have a question or a remark")
	page.silent("Outcome", "Office")
	if checked := page.find(func(n *html.Node) bool { return n.Data == "input" && has(n, "checked") }); len(checked) != 0 {
		t.Error("an answer is picked beforehand")
	}
	v := with(page.fields(path+"/answers"), "kind", "declined", "name", "Olive Sample")
	bad := g.post(path+"/answers", v).want(422)
	bad.faults(map[string]string{"text": "Enter what stands in the way"})
	v = with(bad.fields(path+"/answers"), "text", "The gate sticks.", "place", "R1-B2")
	if v.Get("kind") != "declined" || v.Get("name") != "Olive Sample" {
		t.Errorf("what was typed is not kept: %v", v)
	}
	a := g.post(path+"/answers", v)
	receipt := g.follow(a)
	receipt.says("Your answer is recorded", "Not accepted by the owner", "The gate sticks.", "R1-B2", "as it was given; nobody checked it", "Pack 1, framing inspection")
	if b := g.post(path+"/answers", v).want(http.StatusSeeOther); b.location != a.location {
		t.Errorf("the same answer again leads to %s, want %s", b.location, a.location)
	}
	rec := s.record(job)
	if len(rec.Answers) != 1 || rec.Answers[0].PackHash != rec.Packs[0].Hash {
		t.Fatalf("answers in the record: %+v, want one on the pack's hash", rec.Answers)
	}
	reused := g.post(path+"/answers", with(v, "text", "The gate sticks badly.")).want(http.StatusConflict)
	reused.says("This form was sent once before with other content")
	if got := reused.fields(path + "/answers"); got.Get("text") != "The gate sticks badly." {
		t.Errorf("what was typed is not kept: %v", got)
	}
	g.page(path).says("Answered so far", "not accepted")
	ada.page(job+"/packs").says("Not accepted by the owner", "The gate sticks.")
	// Another link has no receipt of it, and an owner records no outcome.
	other := ada.link(job, "1", "owner")
	s.visitor().get(other + strings.TrimPrefix(a.location, path)).want(http.StatusNotFound)
	g.post(path+"/answers", url.Values{"kind": {"outcome"}, "outcome": {"accepted"}, "on": {"2026-05-04"}, "name": {"Olive Sample"}}).want(422).faults(map[string]string{"kind": "Choose what you want to record."})
}

func TestInspectorAnswers(t *testing.T) {
	s, ada, job := packed(t)
	path := ada.link(job, "1", "inspector")
	g := s.visitor()
	v := with(g.page(path).fields(path+"/answers"), "kind", "outcome", "stage", "framing", "text", "Look at P2 again.", "on", "2026-05-09", "office", "Sampleton building office")
	bad := g.post(path+"/answers", v).want(422)
	bad.faults(map[string]string{"outcome": "Choose the outcome.", "on": "Enter the date of the inspection", "name": "Enter your name"})
	v = bad.fields(path + "/answers")
	for name, want := range map[string]string{"kind": "outcome", "stage": "framing", "text": "Look at P2 again.", "on": "2026-05-09", "office": "Sampleton building office"} {
		if v.Get(name) != want {
			t.Errorf("%s comes back as %q, want %q", name, v.Get(name), want)
		}
	}
	g.follow(g.post(path+"/answers", with(v, "outcome", "correct and call again", "on", "2026-05-04", "name", "Iris Sample"))).says("Framing: correct and call again", "4 May 2026", "Sampleton building office")
	a := s.record(job).Answers[0]
	if string(a.From) != "inspector" || string(a.Stage) != "framing" || a.Outcome != "correct and call again" {
		t.Errorf("recorded as %+v", a)
	}
	ada.page(job+"/packs").says("to be corrected", "Inspected 4 May 2026.", "Look at P2 again.")
}

// Guesses at links are slowed down by address.
func TestGuessing(t *testing.T) {
	s := newSite(t)
	g := s.visitor()
	for range 40 {
		if a := g.get("/g/guess"); a.status == http.StatusTooManyRequests {
			return
		}
	}
	t.Error("40 guesses at links were all answered")
}
