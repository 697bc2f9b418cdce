package main

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"newelbook/jobs"
	"newelbook/views"
)

// pointAndSign is an owner on a telephone with a link: a tap on a bay of the drawing puts it into the answer, a signature is drawn with a
// finger, and the receipt shows both.
func pointAndSign(t *testing.T, browser context.Context) {
	f := newFixture(t).withEvidence()
	s := f.serve()
	d := open(t, f.dir)
	p := newPerson(t, browser, s.address, 390)
	p.open(views.GuestURL(f.owner))
	if got := p.arrive(p.tapAt(p.spot(`return document.querySelector('a[aria-label="Say something of R1-B2"], a[href*="place=R1-B2"]')`))); got != http.StatusOK {
		t.Fatalf("pointing at a bay answers %d", got)
	}
	const where = "Where, if it is about one place"
	if got := p.value(where); got != "R1-B2" {
		t.Fatalf("after pointing at R1-B2 the field holds %q", got)
	}
	p.choose("What do you want to record?", "I have a question or a remark")
	p.fill("In your words", "The gap at the far end looks wide (invented).")
	p.fill("Your name", ownerName)

	field := p.spot(`return document.querySelector('.sign svg')`)
	for _, line := range [][4]float64{{-80, 10, 60, -20}, {20, -25, 90, 25}} {
		p.stroke(spot{X: field.X + line[0], Y: field.Y + line[1]}, spot{X: field.X + line[2], Y: field.Y + line[3]})
	}
	p.until("two strokes are not drawn", func() bool { return ask[float64](p, `return document.querySelectorAll('.sign polyline').length`) == 2 })
	p.keep("signed")
	// The browser's own imitation of a finger loses the tap after strokes that were never scrolled, so the button is clicked.
	button := p.spot(`return named(arg)`, "Record the answer")
	p.do(chromedp.MouseClickXY(button.X, button.Y))
	p.until("the answer leads to no receipt", func() bool { return strings.Contains(p.where(), "/receipts/") })
	p.sees("Your answer is recorded", "R1-B2", "Signature of")
	p.fits()

	rec, err := d.service.Record(f.ctx, f.job)
	f.must(err)
	a := rec.Answers[len(rec.Answers)-1]
	strokes, err := jobs.ParseStrokes(a.Signature)
	if err != nil || len(strokes) != 2 || a.Place != "R1-B2" || a.Kind != jobs.AnswerRemark {
		t.Errorf("kept: %s at %q with the signature %q (%v), want a remark at R1-B2 with two strokes", a.Kind, a.Place, a.Signature, err)
	}
}
