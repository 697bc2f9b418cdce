package main

import (
	"context"
	"io"
	"os"
	"testing"

	"github.com/chromedp/chromedp"

	"newelbook/media"
	"newelbook/media/mediatest"
)

// serveHeld serves the folder with its originals held back until letGo is called, which the end of the test does too.
func (f *fixture) serveHeld() (address string, letGo func()) {
	f.Helper()
	root, err := os.OpenRoot(f.dir)
	f.must(err)
	files, err := media.OpenFiles(root, 0)
	f.must(err)
	held := &mediatest.Gate{Store: files}
	held.Hold()
	f.must(f.data.media.Close())
	f.data.media, err = media.NewLibrary(held, root, media.Limits{})
	f.must(err)
	f.data.packs.Media = f.data.media
	ctx, stop := context.WithCancel(f.ctx)
	ready, ended := make(chan string, 1), make(chan error, 1)
	go func() {
		ended <- serving{data: f.dir, listen: "127.0.0.1:0", public: ownAddress}.serve(ctx, env{out: io.Discard, err: io.Discard, now: moment}, f.data, func(address string) error {
			ready <- address
			return nil
		})
	}()
	f.Cleanup(func() {
		held.Release()
		stop()
		f.must(<-ended)
		f.must(f.data.Close())
		f.must(root.Close())
	})
	select {
	case address = <-ready:
	case err := <-ended:
		ended <- err
		f.Fatalf("it does not serve: %v", err)
	}
	return address, held.Release
}

// newTab opens a further tab of the same browser, signed in as this one is.
func (p *person) newTab() *person {
	p.Helper()
	tab := *p
	var end context.CancelFunc
	tab.ctx, end = chromedp.NewContext(p.ctx)
	p.Cleanup(end)
	tab.narrow(p.width)
	tab.watchConsole()
	return &tab
}

// closedTab asks for a pack on a phone and closes the tab while it is made: the tab that is opened later says that it is under
// way, and then it is there, once.
func closedTab(t *testing.T, browser context.Context) {
	f := newFixture(t).withEvidence()
	before := len(f.data.record(t, f.job).Packs)
	address, letGo := f.serveHeld()
	p := newPerson(t, browser, address, 390)
	p.signIn()
	tab := p.newTab()
	tab.open(f.url("packs"))
	tab.choose("What it is for", "Framing inspection")
	tab.choose("Photographs, and where they were taken", "Views and originals")
	tab.follow("Issue the pack")
	tab.sees("A pack is being issued")
	if err := chromedp.Cancel(tab.ctx); err != nil {
		t.Fatalf("close the tab: %v", err)
	}
	later := p.newTab()
	later.open(f.url("packs"))
	later.sees("A pack is being issued", "under way")
	later.seesNot("Pack 3, framing inspection")
	later.keep("under way")
	letGo()
	later.issued("Pack 3, framing inspection")
	later.seesNot("A pack is being issued")
	if n := ask[int](later, `return document.querySelectorAll('main a[href$="/pack.zip"]').length`); n != before+1 {
		t.Errorf("the packs' page leads to %d archives, want %d", n, before+1)
	}
	if n := len(f.data.record(t, f.job).Packs); n != before+1 {
		t.Errorf("%d packs were issued, want 1", n-before)
	}
	rec := f.data.record(t, f.job)
	bag, err := f.data.packs.Open(f.job, rec.Packs[len(rec.Packs)-1])
	f.must(err)
	if _, err := bag.Measured(f.ctx); err != nil {
		t.Errorf("the pack is not whole: %v", err)
	}
}
