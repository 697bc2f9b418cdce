package server_test

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"newelbook/media/exifwrite"
)

// issue issues a pack through its form, and waits until that is over.
func (b *browser) issue(job, purpose, originals string) answer {
	b.s.t.Helper()
	return b.issueWith(job, with(b.page(job+"/packs").fields(job+"/packs"), "purpose", purpose, "originals", originals))
}

// issueWith is issue with a form that was read before.
func (b *browser) issueWith(job string, form url.Values) answer {
	b.s.t.Helper()
	a := b.post(job+"/packs", form)
	if err := b.s.desk.Wait(b.s.t.Context(), strings.TrimPrefix(job, "/jobs/")); err != nil {
		b.s.t.Fatal(err)
	}
	return a
}

// link makes a link through its form and returns the path that it opens.
func (b *browser) link(job, pack, whom string) string {
	b.s.t.Helper()
	a := b.post(job+"/links", with(b.page(job+"/packs").fields(job+"/links"), "pack", pack, "for", whom, "name", "Olive Sample", "days", "30")).want(http.StatusOK)
	address := ""
	for _, n := range a.find(func(n *html.Node) bool { return attr(n, "name") == "address" }) {
		address = attr(n, "value")
	}
	path, ok := strings.CutPrefix(address, "https://record.example")
	if !ok || !strings.HasPrefix(path, "/g/") {
		b.s.t.Fatalf("the link's address is %q", address)
	}
	if a.header.Get("Cache-Control") != "no-store" {
		b.s.t.Errorf("the page with the token may be kept: %q", a.header.Get("Cache-Control"))
	}
	return path
}

// packed is a site with a job, a run, a photograph and one pack.
func packed(t *testing.T) (s *site, ada *browser, job string) {
	t.Helper()
	s = newSite(t).withPeople()
	ada = s.as("ada")
	job = ada.aJob()
	ada.aRun(job)
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"a.jpg", picture(t, 1, exifwrite.Tags{Model: "Pocket 1"})}).want(http.StatusSeeOther)
	ada.issue(job, "framing inspection", "yes").want(http.StatusSeeOther)
	return s, ada, job
}

func TestPacks(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ben := s.as("ben")
	crew := ben.page(job + "/packs")
	crew.says("Missing or open now", "The stage framing is not closed", "R1 is not marked as covered.", "The builder issues packs")
	crew.silent("Issue the pack", "Make the link")
	for _, path := range []string{"/packs", "/links", "/links/nosuch/revoked"} {
		ben.post(job+path, nil).want(http.StatusForbidden).says("Only the builder does this")
	}
	if n := len(s.record(job).Packs); n != 0 {
		t.Fatalf("crew issued %d packs", n)
	}

	ada.issue(job, "", "").want(422).faults(map[string]string{"purpose": "Choose what the pack is for.", "originals": "Choose whether the originals are enclosed"})
	ada.issue(job, "other", "no").want(422).faults(map[string]string{"purpose_other": "Enter what the pack is for."})
	original := picture(t, 1, taken("2026:05:04 08:50:00"))
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"a.jpg", original}).want(http.StatusSeeOther)

	v := with(ada.page(job+"/packs").fields(job+"/packs"), "purpose", "other", "purpose_other", "The bank’s surveyor", "originals", "yes")
	first := ada.issueWith(job, v)
	ada.follow(ada.get(first.location)).says("Pack 1 is issued.", "Pack 1, The bank’s surveyor", "enclosed")
	ada.issueWith(job, v).want(http.StatusSeeOther)
	rec := s.record(job)
	if len(rec.Packs) != 1 {
		t.Fatalf("the same form twice made %d packs, want 1", len(rec.Packs))
	}

	pdf := ben.page(job + "/packs/1/pack/inspector.pdf")
	if !strings.HasPrefix(pdf.body, "%PDF-") || pdf.header.Get("Content-Type") != "application/pdf" {
		t.Errorf("the PDF begins %.10q, type %q", pdf.body, pdf.header.Get("Content-Type"))
	}
	archive := ben.page(job + "/packs/1/pack.zip")
	if got := archive.header.Get("Content-Disposition"); got != "attachment; filename=NB-0042-pack-1.zip" {
		t.Errorf("Content-Disposition = %q", got)
	}
	z, err := zip.NewReader(strings.NewReader(archive.body), int64(len(archive.body)))
	if err != nil {
		t.Fatal(err)
	}
	names := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(f.Name, "/")
		names[name] = body
	}
	if !bytes.Equal(names["data/originals/"+rec.Photos[0].Media.String()+".jpeg"], original) {
		t.Errorf("the original is not in the archive as it was sent")
	}
	if sum := sha256.Sum256(names["manifest-sha256.txt"]); hex.EncodeToString(sum[:]) != rec.Packs[0].Hash {
		t.Error("the manifest of the archive has not the hash of the issued pack")
	}

	page := ben.page(job + "/packs/1/pack/html/owner.html")
	if csp := page.header.Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
		t.Errorf("the pack's pages have the policy %q", csp)
	}
	for _, n := range page.find(func(n *html.Node) bool { return n.Data == "link" || n.Data == "img" || n.Data == "script" }) {
		address, err := url.Parse(attr(n, "href") + attr(n, "src"))
		if err != nil {
			t.Fatal(err)
		}
		base, err := url.Parse(job + "/packs/1/pack/html/owner.html")
		if err != nil {
			t.Fatal(err)
		}
		ben.page(base.ResolveReference(address).Path)
	}
	calendar := ben.page(job + "/packs/1/pack/care.ics")
	if got := calendar.header.Get("Content-Type"); got != "text/calendar; charset=utf-8" || !strings.HasPrefix(calendar.body, "BEGIN:VCALENDAR\r\n") {
		t.Errorf("the calendar is of type %q and begins %.20q", got, calendar.body)
	}
	for _, path := range []string{"/packs/1/pack.pdf", "/packs/1/pack/pack.pdf", "/packs/1/pack/record.json", "/packs/1/pack/html/../record.json", "/packs/1/pack/originals/" + rec.Photos[0].Media.String() + ".jpeg", "/packs/2/pack.pdf", "/packs/x/pack.zip"} {
		if a := ben.get(job + path); a.status != http.StatusNotFound {
			t.Errorf("GET %s: %d, want 404", path, a.status)
		}
	}
}

func TestLinks(t *testing.T) {
	s, ada, job := packed(t)
	v := with(ada.page(job+"/packs").fields(job+"/links"), "for", "", "name", "", "days", "ever")
	bad := ada.post(job+"/links", v).want(422)
	bad.faults(map[string]string{"for": "Choose whether the link is for", "name": "Enter whom the link is for.", "days": "from 1 to 730"})

	v = with(bad.fields(job+"/links"), "for", "owner", "name", "Olive Sample", "days", "30")
	page := ada.post(job+"/links", v).want(http.StatusOK)
	page.says("https://record.example/g/", "Olive Sample", "shown this once")
	// The same form again, as by reloading, shows no token and makes no second link.
	again := ada.follow(ada.post(job+"/links", v))
	again.says("That link was made before")
	if strings.Contains(again.body, "/g/") {
		t.Error("the token is shown a second time")
	}
	rec := s.record(job)
	if len(rec.Links) != 1 {
		t.Fatalf("%d links, want 1", len(rec.Links))
	}
	ada.page(job+"/packs").says("Olive Sample", "for the owner, made 4 May 2026 09:00, open until 3 Jun 2026 09:00", "Take it back")
	s.clock.forward(31 * 24 * time.Hour)
	s.as("ada").page(job + "/packs").says("expired")
}

func TestLinksNeedAddress(t *testing.T) {
	s := newPrivateSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.issue(job, "handover", "no").want(http.StatusSeeOther)
	page := ada.page(job + "/packs")
	page.says("Links are made only by a server that owner and inspector can reach. Start it with --public-url")
	page.silent("Make the link")
	ada.post(job+"/links", url.Values{"pack": {"1"}, "for": {"owner"}, "name": {"Olive Sample"}, "days": {"3"}}).want(http.StatusForbidden)
	if n := len(s.record(job).Links); n != 0 {
		t.Errorf("%d links were made", n)
	}
}

// A download starts before the archive is complete: its first bytes arrive while a file of the pack is still to be read.
func TestDownloadStartsAtOnce(t *testing.T) {
	s, ada, job := packed(t)
	whole := ada.page(job + "/packs/1/pack.zip").body
	s.door.Hold()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+job+"/packs/1/pack.zip", nil)
	if err != nil {
		t.Fatal(err)
	}
	limit := time.AfterFunc(time.Minute, s.door.Release) // an archive that waits for all its files fails below instead of hanging
	resp, err := ada.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		t.Fatalf("status %d, want 200", resp.StatusCode)
	}
	first := make([]byte, 4<<10)
	if _, err := io.ReadFull(resp.Body, first); err != nil {
		t.Fatal(err)
	}
	if !limit.Stop() {
		t.Fatal("nothing of the archive came while the original was held back")
	}
	s.door.Release()
	rest, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	if string(first)+string(rest) != whole {
		t.Errorf("the archive that waited has %d bytes and is not the same as the one of %d that did not", len(first)+len(rest), len(whole))
	}
}
