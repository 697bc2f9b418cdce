package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"newelbook/media/exifwrite"
)

// link sets what the phone's connection is like: slow as at the edge of a cell, or gone.
func (p *person) link(gone bool) {
	p.Helper()
	const latency, down, up = 300, 60_000, 30_000 // milliseconds, bytes a second
	p.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		if _, err := chromedp.Call(ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
			MatchedNetworkConditions: []*network.Conditions{{Latency: latency, DownloadThroughput: down, UploadThroughput: up, Offline: gone}},
		}); err != nil {
			return err
		}
		_, err := chromedp.Call(ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: gone, Latency: latency, DownloadThroughput: down, UploadThroughput: up})
		return err
	}))
}

// grainyShot is a photograph of some 90 kB, which takes seconds over a slow link.
func grainyShot(t *testing.T, path string, seed uint64) {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 4))
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = uint8(random.Uint32())
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	shot, err := exifwrite.Encode(b.Bytes(), exifwrite.Tags{Make: "Larkfield", Model: "Pocket 2", DateTimeOriginal: "2026:05:04 09:30:00", OffsetTimeOriginal: "-05:00"})
	if err == nil {
		err = os.WriteFile(path, shot, 0o640)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// slowLink sends photographs from a phone over a slow link that goes away in the middle of one and comes back: until it is true none is said to
// be on the server, then all are, once each, and the wall shows them over the same link.
func slowLink(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	s := f.serve()
	d := open(t, f.dir)
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	card := t.TempDir()
	var paths []string
	for n := range 3 {
		paths = append(paths, filepath.Join(card, fmt.Sprintf("LK_%04d.jpg", n+1)))
		grainyShot(t, paths[n], uint64(n))
	}
	p.link(false)
	p.open(f.url("photos", "new"))
	p.pick("What it shows", "Whole job")
	p.pick("Stage", "Framing")
	p.upload(paths...)
	p.sees("0 of 3 on the server, 3 still on this phone.")
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('form[data-upload]').requestSubmit()`))
	p.until("the second one does not set out", func() bool {
		return ask[bool](p, `return shownText().includes('1 of 3 on the server') && [...document.querySelectorAll('.uploads progress')].some(b => b.value > 0.1 && b.value < 0.9)`)
	})
	p.link(true)
	p.until("the lost one does not say that it is sent again", func() bool {
		return strings.Contains(ask[string](p, `return shownText()`), "is safe on this phone and is sent again in")
	})
	p.keep("gone")
	var told, here int
	sum := ask[string](p, `return document.querySelector('.uploads-sum').textContent`)
	if _, err := fmt.Sscanf(sum, "%d of 3 on the server, %d still on this phone.", &told, &here); err != nil || told+here != 3 || here == 0 {
		t.Errorf("with the link gone the page says %q", sum)
	}
	// The one under way may have arrived without its answer coming back.
	if n := len(d.record(t, f.job).Photos); n < told || n > told+1 {
		t.Errorf("%d photographs on record while %d are said to be", n, told)
	}
	p.link(false)
	p.until("they don't all arrive", func() bool {
		return strings.Contains(p.where(), "/photos?place=job") || strings.HasSuffix(p.where(), "/photos")
	})
	had := map[string]int{}
	for _, photo := range d.record(t, f.job).Photos {
		had[photo.Name]++
	}
	for _, path := range paths {
		if had[filepath.Base(path)] != 1 {
			t.Errorf("%s is on record %d times, want once", filepath.Base(path), had[filepath.Base(path)])
		}
	}
	p.until("the wall does not show all three over the slow link", func() bool {
		return ask[int](p, `return [...document.querySelectorAll('.wall img')].filter(i => i.complete && i.naturalWidth > 0).length`) == 3
	})
	p.keep("wall")
	p.fits()
}
