package main

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"newelbook/media/mediatest"
)

// weakSignal stands before a server and loses posts of photographs: the first in the middle of the body, the second on the way back, so that the
// photograph arrived and the sender does not know.
type weakSignal struct {
	to    *httputil.ReverseProxy
	mu    sync.Mutex
	posts int
}

func (w *weakSignal) ServeHTTP(out http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodPost || !strings.HasSuffix(r.URL.Path, "/photos") {
		w.to.ServeHTTP(out, r)
		return
	}
	w.mu.Lock()
	w.posts++
	post := w.posts
	w.mu.Unlock()
	switch post {
	case 1:
		if _, err := io.CopyN(io.Discard, r.Body, 1500); err != nil && !errors.Is(err, io.EOF) {
			panic(err)
		}
		panic(http.ErrAbortHandler)
	case 2:
		w.to.ServeHTTP(httptest.NewRecorder(), r)
		panic(http.ErrAbortHandler)
	}
	w.to.ServeHTTP(out, r)
}

// drop drags files from outside onto the page, beside the box for them.
func (p *person) drop(paths ...string) {
	p.Helper()
	data := &input.DragData{Items: []*input.DragDataItem{}, Files: paths, DragOperationsMask: 1}
	p.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		for _, kind := range []input.DispatchDragEventType{input.DispatchDragEventTypeDragEnter, input.DispatchDragEventTypeDragOver, input.DispatchDragEventTypeDrop} {
			if _, err := chromedp.Call(ctx, input.DispatchDragEvent, input.DispatchDragEventParams{Type: kind, X: 20, Y: 300, Data: data}); err != nil {
				return err
			}
		}
		return nil
	}))
}

// sendMany sends photographs from a phone over a weak signal: each says where it is until it is on the server, what was lost on the way is sent again
// by itself and filed once, and what is refused is listed with its reason.
func sendMany(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	s := f.serve()
	target, err := url.Parse(s.address)
	if err != nil {
		t.Fatal(err)
	}
	d := open(t, f.dir)
	weak := httptest.NewUnstartedServer(&weakSignal{to: httputil.NewSingleHostReverseProxy(target)})
	weak.Config.SetKeepAlivesEnabled(false) // or the browser itself sends a post again whose connection broke
	weak.Start()
	t.Cleanup(weak.Close)
	p := newPerson(t, browser, weak.URL, 390)
	p.signIn()

	card := t.TempDir()
	if err := writeShots(card, 1, 4); err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, name := range []string{"LK_0001.jpg", "LK_0002.jpg", "notes.jpg", "LK_0003.jpg", "LK_0004.jpg"} {
		paths = append(paths, filepath.Join(card, name))
	}
	if err := os.WriteFile(paths[2], []byte("Post R1-P3 is plumb."), 0o640); err != nil {
		t.Fatal(err)
	}
	broken, err := os.ReadFile(paths[4])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(paths[4], append(broken[:len(broken)*2/3], 0xff, 0xd9), 0o640); err != nil {
		t.Fatal(err)
	}

	p.open(f.url("photos", "new"))
	p.pick("What it shows", "Whole job")
	p.pick("Stage", "Framing")
	p.drop(paths[0], paths[1], card) // anywhere on the page; a folder is left out and said
	p.sees("0 of 2 on the server, 2 still on this phone.", "A folder was dropped and is left out")
	p.upload(paths[2:]...)
	p.upload(paths[0]) // chosen twice
	p.sees("0 of 5 on the server, 5 still on this phone.", "LK_0001.jpg", "still on this phone")
	p.keep("chosen")
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	p.until("the lost one does not say that it is sent again", func() bool {
		return strings.Contains(ask[string](p, `return shownText()`), "is safe on this phone and is sent again in")
	})
	p.keep("lost")
	p.until("they don't all come to an end", func() bool {
		return strings.Contains(ask[string](p, `return shownText()`), "4 of 5 on the server, 1 not taken in.") &&
			ask[bool](p, `return !!document.querySelector('.uploads-on')`)
	})
	p.sees("notes.jpg", "This is a text file, not a photograph, whatever its name says.", "LK_0004.jpg", "can’t be shown there")
	p.keep("ended")
	p.fits()
	rec := d.record(t, f.job)
	had := map[string]int{}
	for _, photo := range rec.Photos {
		had[photo.Name]++
	}
	for _, name := range []string{"LK_0001.jpg", "LK_0002.jpg", "LK_0003.jpg", "LK_0004.jpg"} {
		if had[name] != 1 {
			t.Errorf("%s is on record %d times, want once", name, had[name])
		}
	}
	p.follow("Go on without them")
	p.sees("Photo 1", "Photo 4")
	p.keep("wall")

	// Once signed out, nothing counts as sent.
	p.open(f.url("photos", "new"))
	p.pick("What it shows", "Whole job")
	p.pick("Stage", "Framing")
	if err := writeShots(card, 9, 9); err != nil {
		t.Fatal(err)
	}
	p.upload(filepath.Join(card, "LK_0009.jpg"))
	p.do(chromedp.Evaluate[chromedp.Void](`fetch('/sign-out', { method: 'POST' })`, chromedp.EvalAwaitPromise))
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	p.until("it does not say that nobody is signed in", func() bool {
		return strings.Contains(ask[string](p, `return shownText()`), "You are no longer signed in.")
	})
	p.sees("0 of 1 on the server, 1 still on this phone.")
	if n := len(d.record(t, f.job).Photos); n != 4 {
		t.Errorf("%d photographs on record after one was sent by nobody, want 4", n)
	}
}

// heicView gives the page a photograph that this browser can open under a HEIC's first bytes, as a phone's browser can open a HEIC, and looks at what
// comes with it.
func heicView(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("photos", "new"))
	p.pick("What it shows", "Whole job")
	p.pick("Stage", "Framing")
	file := filepath.Join(t.TempDir(), "IMG_0007.HEIC")
	if err := os.WriteFile(file, mediatest.HEIC(4032, 3024, 1, nil), 0o640); err != nil {
		t.Fatal(err)
	}
	// This browser opens no HEIC: what a phone's own makes of it is put in its place.
	p.do(chromedp.Evaluate[chromedp.Void](`window.createImageBitmap = (real => async () => {
		const c = document.createElement('canvas'); c.width = 3000; c.height = 4000;
		const g = c.getContext('2d'); g.fillStyle = '#7a5c3a'; g.fillRect(0, 0, 3000, 4000);
		return real.call(window, c);
	})(window.createImageBitmap)`))
	p.upload(file)
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	p.until("the photograph does not arrive", func() bool {
		return strings.HasSuffix(p.where(), "/photos?place=job") || strings.HasSuffix(p.where(), "/photos")
	})
	rec := open(t, f.dir).record(t, f.job)
	if len(rec.Photos) != 1 || rec.Photos[0].Kind != "heic" || rec.Photos[0].Supplied == nil {
		t.Fatalf("on record: %+v, want a HEIC with a supplied view", rec.Photos)
	}
	if v := rec.Photos[0].Supplied; v.Width != 1500 || v.Height != 2000 {
		t.Errorf("the view is %d by %d, want 1500 by 2000", v.Width, v.Height)
	}
	p.open(f.url("photos", rec.Photos[0].ID))
	p.sees("view supplied by the browser, not derived from the original", "Its picture was supplied by the sender's browser", "image/heic, 3024 by 4032 pixels")
	p.keep("heic")
}
