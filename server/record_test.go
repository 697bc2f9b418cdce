package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"newelbook/media/exifwrite"
)

func TestRecord(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	var files []file
	for n := range 60 {
		files = append(files, file{fmt.Sprintf("%d.jpg", n), picture(t, n, exifwrite.Tags{Software: fmt.Sprint("Sample ", n)})})
	}
	ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), files...).want(http.StatusSeeOther)
	rec := s.record(job)

	page := s.as("ben").page(job + "/record")
	page.says("every entry follows from the one before", rec.Head.Hash[:8], "Photo 60 was taken in and filed under framing.", "Ada Sample, builder")
	page.silent("Photo 1 was taken in", "Newer entries")
	entries := func(a answer) int {
		return len(a.find(func(n *html.Node) bool { return attr(n, "class") == "chain-seq" }))
	}
	if n := entries(page); n != 50 {
		t.Errorf("%d entries on a page, want 50", n)
	}
	older := ""
	for _, n := range page.find(func(n *html.Node) bool { return n.Data == "a" && textOf(n) == "Older entries" }) {
		older = attr(n, "href")
	}
	if !strings.HasSuffix(older, fmt.Sprintf("from=%d", rec.Head.Seq-50)) {
		t.Fatalf("older entries are at %q", older)
	}
	first := ada.page(older)
	first.says("The job NB-0042 was made", "Layout v1 was computed.", "Photo 1 was taken in", "Newer entries")
	if n := entries(first); n != rec.Head.Seq-50 {
		t.Errorf("%d entries on the last page, want %d", n, rec.Head.Seq-50)
	}
	for _, from := range []string{"0", "-1", "x", fmt.Sprint(rec.Head.Seq + 1)} {
		ada.get(job + "/record?from=" + from).want(http.StatusNotFound)
	}
}
