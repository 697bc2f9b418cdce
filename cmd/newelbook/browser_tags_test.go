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

// byTag opens the sheets of tags, sends two photographs that show one from a phone, finds them filed at their places, and names their views in
// one tap each: on the photograph's own page, and on the page that files what came in.
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

	card := t.TempDir()
	var shots []string
	for i, label := range []string{"R1-P1", "R1-P2"} {
		shots = append(shots, filepath.Join(card, label+".jpg"))
		if err := os.WriteFile(shots[i], scenes.Photo(tagTexts(t, d.record(t, f.job))[label], i), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	p.upload(shots...)
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	var photos []jobs.Photo
	p.until("the photographs are not filed by their tags", func() bool {
		photos = d.record(t, f.job).Photos
		return len(photos) == 2 && photos[0].FiledBy == jobs.FiledByTag && photos[1].FiledBy == jobs.FiledByTag
	})
	p.until("the page does not go on by itself", func() bool { return !strings.Contains(p.where(), "/photos/new") })
	p.until("the page that it goes on to does not come", func() bool { return ask[string](p, `return document.readyState`) == "complete" })
	for _, photo := range photos {
		if photo.Place.Label+".jpg" != photo.Name {
			t.Errorf("%s is filed at %s", photo.Name, photo.Place.Label)
		}
	}
	answers := func(i int, view string) func() bool {
		return func() bool {
			got, _ := d.record(t, f.job).Photo(photos[i].ID)
			return got.CheckID == photos[i].Place.ID+".framing."+view
		}
	}
	p.open(f.url("photos", photos[0].ID))
	p.sees("filed by the tag in the picture", "Which view is it?")
	p.fits()
	p.keep("filed")
	p.press("The post in its place")
	p.until("its view is not named", answers(0, "photo_wide"))
	p.open(f.url("photos"))
	p.follow("Name the view of 1 photograph that its tag filed")
	p.sees("Every photograph is filed.", "which view is it?", photos[1].Place.Label)
	p.keep("naming")
	p.follow("Inside face")
	p.sees("The photograph is filed there now.")
	p.seesNot("which view is it?")
	p.until("the other's view is not named", answers(1, "photo_inside"))
}
