package main

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"newelbook/views/pack"
)

// unpacked is the folder of the newest pack's files for a browser, as somebody has it on a disk who unpacked the archive.
func (f *fixture) unpacked() string {
	f.Helper()
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	bag, err := f.data.packs.Open(f.job, rec.Packs[len(rec.Packs)-1])
	f.must(err)
	var archive bytes.Buffer
	f.must(bag.WriteZIP(f.ctx, &archive))
	z, err := zip.NewReader(bytes.NewReader(archive.Bytes()), int64(archive.Len()))
	f.must(err)
	dir := f.TempDir()
	f.must(os.CopyFS(dir, z))
	return filepath.Join(dir, bag.Name, "data")
}

// fromDisk opens the pages of an unpacked pack on a phone with no server and no network: they ask for nothing but files of the
// pack, all of these come, nothing breaks a rule of WCAG A or AA that a program can tell, on the screen and as on paper, and the
// pages fit.
func fromDisk(t *testing.T, browser context.Context) {
	reader := tool(t, "pdftotext")
	f := newFixture(t).withEvidence()
	data := f.unpacked()
	f.must(f.data.Close())
	p := newPerson(t, browser, "file://"+filepath.ToSlash(data)+"/", 390)
	asked := p.asked()
	p.link(true)
	for _, of := range []struct {
		edition pack.Edition
		holds   []string
	}{
		{pack.OwnerEdition, []string{"Owner's edition", "Deck guard at the mill", "What is unusual about it"}},
		{pack.InspectorEdition, []string{"Inspector's edition", "Deck guard at the mill", "fails the limit"}},
	} {
		path := of.edition.HTML()
		p.do(chromedp.Navigate(p.site + path))
		p.pages++
		p.keep("")
		p.fits()
		p.sees(of.holds...)
		p.looks(path + " from disk")
		p.until("not every picture and font of "+path+" comes", func() bool {
			return ask[bool](p, `document.querySelectorAll('img').forEach(i => { i.loading = 'eager' })
				return [...document.images].every(i => i.complete && i.naturalWidth > 0) && document.fonts.status === 'loaded' && [...document.fonts].some(f => f.status === 'loaded') && ![...document.fonts].some(f => f.status === 'error')`)
		})
		p.medium("print")
		p.narrow(718) // as wide as the text is on the narrower of the two papers, A4
		if got := p.ground(); got != 255 {
			p.Errorf("%s has a ground of %d on paper, want 255", path, got)
		}
		for _, v := range p.violations(wcag) {
			p.Errorf("%s as on paper: %s", path, v)
		}
		p.fits()
		p.narrow(390)
		p.medium("")
		text, pages := p.print(reader, chromedp.PaperLetter)
		if pages == 0 {
			p.Errorf("%s prints on no page", path)
		}
		heads := ask[[]string](p, `return [...document.querySelectorAll('thead tr')].map(r => [...r.cells].map(c => c.textContent.trim()).join(' '))`)
		for n, sheet := range strings.Split(text, "\f") {
			lines := strings.Split(strings.TrimSpace(sheet), "\n")
			if last := strings.Join(strings.Fields(lines[len(lines)-1]), " "); slices.Contains(heads, last) {
				p.Errorf("page %d of %s ends with the head of a table, %q, and none of its rows", n+1, path, last)
			}
		}
		for _, words := range of.holds {
			if !strings.Contains(text, words) {
				p.Errorf("%s on paper lacks %q:\n%s", path, words, text)
			}
		}
	}
	urls := asked()
	if len(urls) < 4 { // two pages, their style and a font at least
		p.Errorf("the pages asked for %q alone: the test shows nothing", urls)
	}
	for _, url := range urls {
		if !strings.HasPrefix(url, p.site) && !strings.HasPrefix(url, "data:") {
			p.Errorf("a page from disk asks for %s", url)
		}
	}
}

// asked begins to note what the tab asks for, by URL; what it returns tells it so far.
func (p *person) asked() func() []string {
	p.Helper()
	var mu sync.Mutex
	var urls []string
	err := chromedp.Listen(p.ctx, func(ev any) {
		if e, ok := ev.(*network.EventRequestWillBeSent); ok {
			mu.Lock()
			defer mu.Unlock()
			urls = append(urls, e.Request.URL)
		}
	})
	if err != nil {
		p.Fatal(err)
	}
	return func() []string {
		mu.Lock()
		defer mu.Unlock()
		return append([]string(nil), urls...)
	}
}
