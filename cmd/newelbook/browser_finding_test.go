package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"newelbook/jobs"
	"newelbook/media/codes/scenes"
)

// finding looks for photographs on a phone: what is missing, one by its words, one after another by finger and by key, and a run from before
// it was covered beside the same from after.
func finding(t *testing.T, browser context.Context) {
	f := newFixture(t).withEvidence()
	for i, at := range []struct{ label, stage, caption string }{
		{"R1-P2", "framing", "Gasket under the washer"}, {"R1-P2", "handover", "Finished"}, {"R1-B1", "rails", "Connector"},
	} {
		facts, err := f.data.media.Intake(f.ctx, bytes.NewReader(scenes.Photo("no tag", i)))
		f.must(err)
		_, err = f.data.service.AddPhotos(f.ctx, f.by, f.job, []jobs.PhotoInput{{Facts: facts, Name: fmt.Sprintf("IMG_%d.jpg", i), PlaceID: f.place(at.label), Stage: at.stage, Caption: at.caption}})
		f.must(err)
	}
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("photos"))
	p.unfold("Find photographs")
	p.follow("Only what is missing")
	p.sees("inside face", "hold point", "Still needed before decking")
	p.seesNot("Gasket under the washer")
	p.keep("missing")

	p.open(f.url("photos") + "?q=gasket")
	p.sees("Gasket under the washer")
	p.seesNot("Connector")

	p.open(f.url("photos"))
	first := ask[string](p, `return document.querySelector('.wall .shot a').getAttribute('href')`)
	p.open(first)
	swipe := func(from, to float64) chromedp.Action[chromedp.Void] {
		return chromedp.Func(func(context.Context, *chromedp.Target) error {
			y := ask[float64](p, `const r = document.querySelector('[data-turns]').getBoundingClientRect(); return r.top + r.height / 2`)
			p.stroke(spot{X: from, Y: y}, spot{X: (from + to) / 2, Y: y + 4}, spot{X: to, Y: y + 6})
			return nil
		})
	}
	p.arrive(swipe(300, 120))
	second := p.where()
	if second == first || !strings.Contains(second, "/photos/") {
		t.Errorf("a finger drawn to the left leads from %s to %s", first, second)
	}
	p.arrive(swipe(120, 300))
	if got := p.where(); got != first {
		t.Errorf("a finger drawn back leads to %s, want %s", got, first)
	}
	p.arrive(chromedp.KeyEvent(kb.ArrowRight))
	if got := p.where(); got != second {
		t.Errorf("the right key leads to %s, want %s", got, second)
	}
	p.keep("turned")

	p.open(f.url("runs", f.runs[0], "cover", "photos"))
	p.sees("R1-P2", "Gasket under the washer", "Finished")
	if apart := ask[float64](p, `const pair = [...document.querySelectorAll('.pair')].find(e => e.querySelectorAll('img').length === 2);
		if (!pair) return 1e6; const [a, b] = [...pair.querySelectorAll('img')].map(e => e.getBoundingClientRect());
		return a.right <= b.left ? Math.abs(a.top - b.top) : 1e6`); apart > 2 {
		t.Errorf("before and after do not stand side by side: %v px", apart)
	}
	p.keep("cover")
}
