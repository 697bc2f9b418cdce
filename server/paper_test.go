package server_test

import (
	"archive/zip"
	"bytes"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"newelbook/media/exifwrite"
)

// paperPDF is about as small as a PDF can be; text stands in it as a comment.
func paperPDF(text, trailer string) []byte {
	body := "%PDF-1.4\n%" + text + "\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\n"
	xref := "xref\n0 1\n0000000000 65535 f \ntrailer<</Size 3/Root 1 0 R" + trailer + ">>\n"
	return []byte(body + xref + "startxref\n" + strconv.Itoa(len(body)) + "\n%%EOF\n")
}

// attach opens the form for a paper and sends it with a file.
func (b *browser) attach(job string, f file, pairs ...string) answer {
	b.s.t.Helper()
	v := with(b.page(job+"/papers/new").fields(job+"/papers"), "kind", "test report", "title", "Base, guard load", "issuer", "Sample Test House", "on", "2026-05-01")
	return b.uploadTo(job+"/papers", "file", with(v, pairs...), f)
}

func TestPapers(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	ben.page(job + "/papers").says("None is attached yet.")
	body := paperPDF("guard load", "")
	a := ben.attach(job, file{"base test.pdf", body})
	attached := ben.follow(a)
	attached.says("The paper is attached", "Sample Test House", "1 May 2026", "base test.pdf", "Whole job")
	attached.silent("Withdraw it")
	saved := ben.get(a.location + "/file")
	if saved.status != http.StatusOK || saved.body != string(body) || saved.header.Get("Content-Type") != "application/pdf" ||
		!strings.HasPrefix(saved.header.Get("Content-Disposition"), "attachment; filename=NB-0042-paper-1.pdf") || saved.header.Get("Content-Security-Policy") != "default-src 'none'; sandbox" || saved.header.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("the file is sent as %d %v", saved.status, saved.header)
	}
	ben.get(a.location + "/view").want(http.StatusNotFound) // a PDF is never drawn here
	ben.get(job + "/papers/nosuch").want(http.StatusNotFound)

	label := ada.attach(job, file{"label.jpg", picture(t, 1, exifwrite.Tags{Model: "Pocket 1"})}, "kind", "product label or instructions", "title", "Connector", "on", "")
	shown := ada.follow(label)
	if pictures := shown.find(func(n *html.Node) bool { return n.Data == "img" }); len(pictures) != 1 {
		t.Errorf("the page of a picture shows %d", len(pictures))
	}
	if view := ada.get(label.location + "/view"); view.status != http.StatusOK || view.header.Get("Content-Type") != "image/jpeg" || strings.Contains(view.body, "Pocket 1") {
		t.Errorf("its view: %d %q", view.status, view.header.Get("Content-Type"))
	}

	// Described anew and withdrawn, by the builder.
	v := with(ada.page(a.location).fields(a.location), "title", "Base, guard load, sheet 2", "issuer", "")
	ada.post(a.location, v).want(422).faults(map[string]string{"issuer": "Enter who issued it"})
	ada.follow(ada.post(a.location, with(v, "issuer", "Sample Test House"))).says("Base, guard load, sheet 2", "Saved.")
	ada.post(a.location, with(v, "issuer", "Another")).want(http.StatusConflict)
	gone := a.location + "/withdrawal"
	w := ada.page(a.location).fields(gone)
	refused := ada.post(gone, w).want(422)
	refused.faults(map[string]string{"why": "Enter why it no longer holds"})
	if typed := refused.fields(a.location).Get("title"); typed != "Base, guard load, sheet 2" {
		t.Errorf("the form beside it came back with the title %q", typed)
	}
	withdrawn := ada.follow(ada.post(gone, with(w, "why", "For another base")))
	withdrawn.says("For another base", "no later pack encloses it")
	withdrawn.silent("Describe it anew")
	ben.page(job+"/papers").says("Withdrawn", "For another base")
	if saved := ben.get(a.location + "/file"); saved.body != string(body) {
		t.Error("the file of a withdrawn paper is gone")
	}
	ben.page(job+"/record").says("was attached", "was withdrawn")
}

// What is typed is kept, whatever is wrong; a file that arrived whole need not be sent again, and one that is refused is told of in words.
func TestPaperAtFault(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	for _, c := range []struct {
		name string
		file file
		says string
	}{
		{"none", file{}, "Choose the file of the paper."},
		{"encrypted", file{"a.pdf", paperPDF("x", "/Encrypt 9 0 R")}, "encrypted"},
		{"cut short", file{"a.pdf", paperPDF("x", "")[:90]}, "damaged or was cut short"},
		{"a table", file{"a.pdf", []byte("PK\x03\x04")}, "office document"},
		{"too large", file{"a.pdf", append(paperPDF("x", ""), make([]byte, 60_000_000)...)}, "larger than 60 MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := ada.attach(job, c.file, "title", "Kept as typed").want(422)
			a.faults(map[string]string{"file": c.says})
			if v := a.fields(job + "/papers"); v.Get("title") != "Kept as typed" || v.Get("issuer") != "Sample Test House" || v.Get("kind") != "test report" || v.Has("held") {
				t.Errorf("the form came back with %v", v)
			}
		})
	}
	a := ada.attach(job, file{"letter.pdf", paperPDF("kept", "")}, "title", "", "on", "yesterday").want(422)
	a.faults(map[string]string{"title": "Enter the title", "on": "Enter the date on it"})
	a.says("letter.pdf, 181 bytes, is on the server and need not be sent again.")
	v := with(a.fields(job+"/papers"), "title", "Letter", "on", "2026-05-02")
	if len(v.Get("held")) != 64 {
		t.Fatalf("the file is held as %q", v.Get("held"))
	}
	sent := ada.uploadTo(job+"/papers", "file", v)
	ada.follow(sent).says("Letter", "letter.pdf")
	again := ada.uploadTo(job+"/papers", "file", v)
	if again.location != sent.location || len(s.record(job).Papers) != 1 {
		t.Errorf("the same form twice leads to %s and %s and made %d papers", sent.location, again.location, len(s.record(job).Papers))
	}
	ada.attach(job, file{"copy.pdf", paperPDF("kept", "")}).want(422).faults(map[string]string{"file": "attached already, as Paper 1: Letter"})
	ada.uploadTo(job+"/papers", "file", with(v, "form_id", "another-form", "held", strings.Repeat("ab", 32))).want(422).faults(map[string]string{"file": "Choose the file"})
}

// The builder chooses which papers leave with a pack; guests get those that its manifest lists, to be saved, and no others.
func TestPapersLeaveWithPack(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ada.attach(job, file{"a.pdf", paperPDF("one", "")}, "title", "One").want(http.StatusSeeOther)
	ada.attach(job, file{"b.pdf", paperPDF("two", "")}, "title", "Two", "kind", "product label or instructions").want(http.StatusSeeOther)
	form := with(ada.page(job+"/packs").fields(job+"/packs"), "purpose", "handover", "originals", "no")
	if len(form["papers"]) != 2 {
		t.Fatalf("ticked at first: %v", form["papers"])
	}
	ada.attach(job, file{"c.pdf", paperPDF("three", "")}, "title", "Three").want(http.StatusSeeOther)
	stale := ada.post(job+"/packs", form).want(422)
	stale.faults(map[string]string{"papers": "attached or withdrawn since this page was opened"})
	stale.says("Paper 3: Three")
	form = stale.fields(job + "/packs")
	if len(form["papers"]) != 3 {
		t.Fatalf("ticked then: %v", form["papers"])
	}
	form["papers"] = slices.DeleteFunc(form["papers"], func(id string) bool { return id == s.record(job).Papers[0].ID })
	ada.issueWith(job, form).want(http.StatusSeeOther)

	archive := ada.page(job + "/packs/1/pack.zip")
	z, err := zip.NewReader(strings.NewReader(archive.body), int64(len(archive.body)))
	if err != nil {
		t.Fatal(err)
	}
	var enclosed []string
	for _, f := range z.File {
		_, name, _ := strings.Cut(f.Name, "/")
		if !strings.HasPrefix(name, "data/papers/") {
			continue
		}
		enclosed = append(enclosed, name)
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if body, err := io.ReadAll(r); err != nil || name == "data/papers/paper-2.pdf" && !bytes.Equal(body, paperPDF("two", "")) {
			t.Errorf("%s is not as it was received, %v", name, err)
		}
	}
	if !slices.Equal(enclosed, []string{"data/papers/paper-2.pdf", "data/papers/paper-3.pdf"}) {
		t.Errorf("the archive encloses %v", enclosed)
	}
	page := ada.page(job + "/packs/1/pack/html/inspector.html")
	page.says("Not enclosed in this pack: ask the builder.", "papers/paper-3.pdf")

	owner := ada.link(job, "1", "owner")
	guest := s.visitor()
	guest.page(owner).says("Papers to save", "Two")
	guest.page(owner).silent("Three")
	for path, want := range map[string]int{"/pack/papers/paper-2.pdf": 200, "/pack/papers/paper-3.pdf": 200, "/pack/papers/paper-1.pdf": 404, "/pack/papers/": 404, "/pack/papers/../record.json": 404} {
		a := guest.get(owner + path)
		a.want(want)
		if want == 200 && (a.header.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(a.header.Get("Content-Disposition"), "attachment;") || a.header.Get("Content-Security-Policy") != "default-src 'none'; sandbox") {
			t.Errorf("%s is sent with %v", path, a.header)
		}
	}
}
