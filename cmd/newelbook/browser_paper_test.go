package main

import (
	"bytes"
	"context"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"newelbook/jobs"
)

// screenOnly are lines of a page that lead somewhere.
var screenOnly = []string{"Sheets", "To the content", "Newelbook", "Photographs", "Diary", "Deviations", "Pack", "Back to the layout"}

// stripCaption is what stands under the strip of a bay's marks.
var stripCaption = regexp.MustCompile(`B[0-9]+ (bottom|top|bottom and top), cut`)

// headsLast is a page that ends with the heads of a post's figures.
var headsLast = regexp.MustCompile(`Near face[^\n]*\s*$`)

// onPaper prints shop sheets, those of usual level runs on one page of either paper, a longer one with its marks beside their words, the materials and a stage: what is worked from is on them, nothing that needs a screen is, and the paper
// stays white though the screen was dark, and drawings keep to their scale.
func onPaper(t *testing.T, browser context.Context) {
	reader := tool(t, "pdftotext")
	f := newFixture(t).withEvidence()
	for _, run := range []map[string]string{
		{"label": "R8", "kind": "level", "start": "free", "end": "free", "length": "17'", "deck_height": "42", "joists": "across", "first_joist": "6"},
		{"label": "R9", "kind": "level", "start": "free", "end": "free", "length": "35'", "deck_height": "42", "joists": "across", "first_joist": "6"},
		{"label": "R10", "kind": "rake", "start": "stair head", "end": "stair foot", "total_rise": "60", "risers": "6", "tread": "9", "nosing": "1", "deck_height": "60", "handrail": "top of the guard",
			"risers_measured": "10, 9 1/2, 10 3/4, 10, 10, 9 3/4", "stringer": "open risers"},
	} {
		id, err := f.data.service.SaveRun(f.ctx, f.by, f.job, jobs.RunInput{Fields: run})
		f.must(err)
		f.runs = append(f.runs, id)
	}
	f.read("posts.opening_bottom", "R8-B2", "64 1/2")
	f.read("posts.opening_top", "R8-B2", "64 5/8")
	f.read("posts.plumb_along", "R8-P2", "-1/4")
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.prefer("dark")
	for _, of := range []struct {
		path  string
		most  int // pages
		holds []string
	}{
		{f.url("runs", f.runs[0], "sheet"), 1, []string{"J-2", "R1-P1", "R1-B1", "Infill marks", "Caution", "as built", "before you cut, see on the page of R1"}},
		{f.url("runs", f.runs[3], "sheet"), 1, []string{"R8-P4", "R8-B2 bottom, cut", "R8-B2 top, cut", "R8-P2 leans", "Sheets of layout v1", "Caution"}},
		{f.url("runs", f.runs[4], "sheet"), 1, []string{"R9-P7", "R9-B6", "Infill marks", "Caution"}},
		{f.url("runs", f.runs[5], "sheet"), 2, []string{"R10-P2", "The riser is 10", "Infill marks", "Caution"}},
		{f.url("runs", f.runs[0], "framing"), 3, []string{"J-2", "R1-P1", "Framing of R1", "Caution"}},
		{f.url("runs", f.runs[1], "sheet"), 1, []string{"R2-P2", "Stair", "Infill marks", "on each post: ", "Caution"}},
		{f.url("runs", f.runs[2], "sheet"), 1, []string{"Removable length", "Infill marks", "Caution"}},
		{f.url("materials"), 8, []string{"J-2", "Order", "boards alike", "Every piece", "R1-B1 top", "Cautions"}},
		{f.url("stages", "posts"), 3, []string{"J-2", "Posts", "Left to check", "Clear opening at the top rail"}},
	} {
		p.open(of.path)
		if got := p.ground(); got > 60 {
			p.Errorf("%s has a ground of %d on a dark screen, want below 60", of.path, got)
		}
		p.medium("print")
		if got := p.ground(); got != 255 {
			p.Errorf("%s has a ground of %d on paper, want 255", of.path, got)
		}
		if got := ask[[]string](p, `return [...document.querySelectorAll('button, nav, .skip, .head')].filter(shown).map(text)`); len(got) > 0 {
			p.Errorf("%s shows %q on paper", of.path, got)
		}
		// As wide as the text of a shop sheet on Letter paper is, in CSS pixels.
		p.do(chromedp.EmulateViewport(718, 844))
		if got := ask[[]string](p, `return [...document.querySelectorAll('svg.draw')].filter(shown).filter(d => Math.abs(d.getBoundingClientRect().width / 96 * 25.4 - parseFloat(d.getAttribute('width'))) > 0.2).map(d => d.getAttribute('aria-label'))`); len(got) > 0 {
			p.Errorf("%s prints %q at another size than their scale", of.path, got)
		}
		p.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
		p.medium("")
		text, pages := p.print(reader, chromedp.PaperLetter)
		_, onA4 := p.print(reader, chromedp.PaperA4)
		if pages > of.most || onA4 > of.most {
			p.Errorf("%s takes %d pages of Letter and %d of A4, want %d at most", of.path, pages, onA4, of.most)
		}
		for _, words := range of.holds {
			if !strings.Contains(text, words) {
				p.Errorf("%s on paper lacks %q:\n%s", of.path, words, text)
			}
		}
		for page := range strings.SplitSeq(text, "\f") {
			if strings.Contains(page, "Infill marks") && !stripCaption.MatchString(page) {
				p.Errorf("%s on paper has its marks on another page than the words on them:\n%s", of.path, text)
			}
		}
		for line := range strings.Lines(text) {
			if words := strings.TrimSpace(line); slices.Contains(screenOnly, words) || strings.HasPrefix(words, "Next: ") || strings.Contains(words, "Print this page") {
				p.Errorf("%s on paper says %q, which needs a screen", of.path, words)
			}
		}
	}
	// Wherever a page ends, it does not end between the heads of a post's figures and these.
	p.open(f.url("runs", f.runs[4]))
	for high := 8.0; high <= 11; high += 0.25 {
		paper := chromedp.PaperLetter
		paper.Height = high
		text, _ := p.print(reader, paper)
		for page := range strings.SplitSeq(text, "\f") {
			if headsLast.MatchString(page) {
				p.Errorf("on paper %g in high a page of R9 ends before the figures of a post:\n%s", high, page)
			}
		}
	}
}

// unfolded prints pages on which something is folded away on the screen: paper cannot be opened, so it stands there.
func unfolded(t *testing.T, browser context.Context) {
	reader := tool(t, "pdftotext")
	f := newFixture(t).withEvidence()
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	for _, path := range []string{f.url(), f.url("runs")} {
		p.open(path)
		folded := ask[[]string](p, `return [...document.querySelectorAll('details:not([open]) > :not(summary) li, details:not([open]) > .caution, details:not([open]) > table td')].filter(e => !e.querySelector('li')).map(e => e.textContent)`)
		if len(folded) == 0 {
			p.Errorf("%s folds nothing away: the test shows nothing", path)
		}
		text, _ := p.print(reader, chromedp.PaperLetter)
		printed := strings.Join(strings.Fields(text), " ")
		for _, words := range folded {
			first := strings.Fields(words)
			if first = first[:min(3, len(first))]; !strings.Contains(printed, strings.Join(first, " ")) {
				p.Errorf("%s on paper lacks %q", path, words)
			}
		}
	}
}

// medium shows the page as on paper ("print") or on the screen (""), which is dark.
func (p *person) medium(name string) {
	p.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: name, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
		return err
	}))
}

// ground is how light the page's ground is, from 0 to 255.
func (p *person) ground() int {
	p.Helper()
	return ask[int](p, `return Math.max(...getComputedStyle(document.body).backgroundColor.match(/\d+/g).slice(0, 3).map(Number))`)
}

// print prints the page on a paper and returns its text and how many pages it takes.
func (p *person) print(reader string, paper chromedp.PaperSize) (text string, pages int) {
	p.Helper()
	ctx, cancel := p.wait()
	defer cancel()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPrintBackground()))
	if err != nil {
		p.Fatalf("print %s: %v", p.where(), err)
	}
	p.keepPDF(pdf)
	var out, errs bytes.Buffer
	c := exec.CommandContext(ctx, reader, "-layout", "-", "-")
	c.Stdin, c.Stdout, c.Stderr = bytes.NewReader(pdf), &out, &errs
	if err := c.Run(); err != nil {
		p.Fatalf("read the printed page: %v\n%s", err, &errs)
	}
	// pdftotext ends each page with a form feed.
	return out.String(), strings.Count(out.String(), "\f")
}
