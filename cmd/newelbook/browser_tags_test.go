package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"newelbook/jobs"
	"newelbook/media/codes/scenes"
)

// byTag opens the sheets of tags, sends a photograph that shows one from a phone, finds it filed at its place, and names its view in one
// tap.
func byTag(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	s := f.serve()
	d := open(t, f.dir)
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("photos"))
	p.follow("Place tags to print: photographs that show one are filed by it")
	p.sees("One tag", "Print them", "None ticked prints all of them.")
	p.fits()
	p.keep("tags")
	p.follow("Send photographs by tag")

	shot := filepath.Join(t.TempDir(), "IMG_0001.jpg")
	if err := os.WriteFile(shot, scenes.Photo(tagTexts(t, d.record(t, f.job))["R1-P2"], 1), 0o640); err != nil {
		t.Fatal(err)
	}
	p.upload(shot)
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	var photo jobs.Photo
	p.until("the photograph is not filed by its tag", func() bool {
		rec := d.record(t, f.job)
		if len(rec.Photos) == 0 {
			return false
		}
		photo = rec.Photos[len(rec.Photos)-1]
		return photo.FiledBy == jobs.FiledByTag
	})
	if photo.Place.Label != "R1-P2" {
		t.Errorf("filed at %s, want R1-P2", photo.Place.Label)
	}
	p.open(f.url("photos", photo.ID))
	p.sees("filed by the tag in the picture", "Which view is it?")
	p.fits()
	p.keep("filed")
	p.press("The post in its place")
	p.until("its view is not named", func() bool {
		got, _ := d.record(t, f.job).Photo(photo.ID)
		return strings.HasSuffix(got.CheckID, "framing.photo_wide")
	})
}
