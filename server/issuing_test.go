package server_test

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"newelbook/media/exifwrite"
)

// waiting is a site with a job of one photograph, and the form that issues a pack of it with originals, which wait at the gate.
func waiting(t *testing.T) (s *site, ada *browser, job string, form url.Values) {
	t.Helper()
	s = newSite(t).withPeople()
	ada = s.as("ada")
	job = ada.aJob()
	ada.aRun(job)
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"a.jpg", picture(t, 1, exifwrite.Tags{Model: "Pocket 1"})}).want(http.StatusSeeOther)
	ada.get(ada.page(job + "/photos").photoView(t)) // so that its picture is made
	s.door.Hold()
	return s, ada, job, with(ada.page(job+"/packs").fields(job+"/packs"), "purpose", "handover", "originals", "yes")
}

// photoView is the address of the large picture of the first photograph on a wall.
func (a answer) photoView(t *testing.T) string {
	t.Helper()
	for _, n := range a.find(func(n *html.Node) bool { return n.Data == "img" }) {
		return strings.TrimSuffix(attr(n, "src"), "thumb") + "view"
	}
	t.Fatal("no photograph is on the wall")
	return ""
}

// A pack is issued in the background: the page says how far it is, to whoever comes back, and the same form begins nothing anew.
func TestIssuingInTheBackground(t *testing.T) {
	s, ada, job, form := waiting(t)
	a := ada.post(job+"/packs", form).want(http.StatusSeeOther)
	if a.location != job+"/packs/issuing" {
		t.Fatalf("issuing leads to %s", a.location)
	}
	ada.follow(a).says("A pack is being issued", "Asked for", "Pictures made and read", "Look again", "the server goes on")
	other := s.as("ben") // another browser
	other.page(job+"/packs").says("A pack is being issued", "under way")
	other.page(job + "/packs/issuing").says("handover")
	if again := ada.post(job+"/packs", form); again.location != a.location {
		t.Errorf("the same form leads to %s", again.location)
	}
	second := with(ada.page(job+"/packs").fields(job+"/packs"), "purpose", "other", "purpose_other", "The bank", "originals", "no")
	refused := ada.post(job+"/packs", second).want(422)
	refused.says("Another pack of this job is being issued. Wait until it is done")
	if kept := refused.fields(job + "/packs").Get("purpose_other"); kept != "The bank" {
		t.Errorf("what was chosen came back as %q", kept)
	}
	s.door.Release()
	if err := s.desk.Wait(t.Context(), strings.TrimPrefix(job, "/jobs/")); err != nil {
		t.Fatal(err)
	}
	ada.follow(ada.get(job + "/packs/issuing").want(http.StatusSeeOther)).says("Pack 1 is issued. Nothing in it changes any more.")
	ada.post(job+"/packs", form).want(http.StatusSeeOther)
	if n := len(s.record(job).Packs); n != 1 {
		t.Errorf("one form issued %d packs", n)
	}
	ada.issueWith(job, second).want(http.StatusSeeOther)
	if n := len(s.record(job).Packs); n != 2 {
		t.Errorf("two forms issued %d packs", n)
	}
}

// A server that ends while a pack is being issued leaves nothing of it, and says so.
func TestIssuingCutOff(t *testing.T) {
	s, ada, job, form := waiting(t)
	ada.post(job+"/packs", form).want(http.StatusSeeOther)
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	s.desk.Close(ended)
	ada.follow(ada.get(job+"/packs/issuing").want(http.StatusSeeOther)).says("Not issued", "cut off", "The pack for handover that Ada Sample asked for", "Nothing was issued: issue it again.")
	if n := len(s.record(job).Packs); n != 0 {
		t.Errorf("%d packs are on record", n)
	}
	if left, err := os.ReadDir(filepath.Join(s.dir, "packs", strings.TrimPrefix(job, "/jobs/"))); len(left) > 0 || err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
