package main

import (
	"context"
	_ "embed"
	"net/http"
	"net/url"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"newelbook/jobs"
	"newelbook/views"
)

// axe is axe-core 4.14.1, unchanged, under the Mozilla Public License 2.0 that stands beside it. It is part of no build.
//
//go:embed testdata/axe/axe.min.js
var axe string

// page is one page of the site as it is visited.
type page struct {
	name, path string
	status     int
	guest      bool              // needs no account
	then       func(*person) int // what is done on it to come to the page that is meant
}

// everyPage visits every page of the site with a phone: nothing on it breaks a rule of WCAG A or AA that a program can tell,
// in the light and in the dark, and it fits screens of 390 and 320 px.
func everyPage(t *testing.T, browser context.Context) {
	f := newFixture(t).withEvidence()
	loose, err := f.data.service.SaveRun(f.ctx, f.by, f.job, jobs.RunInput{Fields: map[string]string{"label": "R4", "kind": "rake", "start": "stair head", "end": "stair foot", "total_rise": "60", "tread": "10", "deck_height": "60"}})
	f.must(err)
	check, dev := f.check("framing.bolt_upper", "R1-P1"), f.deviation()
	stage := f.url("stages", "framing")
	pages := []page{
		{name: "jobs", path: "/jobs"}, {name: "new job", path: "/jobs/new"}, {name: "people", path: "/people"},
		{name: "job", path: f.url()}, {name: "particulars", path: f.url("particulars")}, {name: "specification", path: f.url("specification")}, {name: "rules", path: f.url("rules")},
		{name: "rule sets", path: "/rules"}, {name: "rule set", path: "/rules/ontario-9.8"}, {name: "rules against others", path: f.url("rules") + "?against=ontario-9.8"},
		{name: "new level run", path: f.url("runs", "new")}, {name: "new stair run", path: f.url("runs", "new") + "?kind=rake"}, {name: "new removable run", path: f.url("runs", "new") + "?kind=removable"},
		{name: "runs", path: f.url("runs")}, {name: "materials", path: f.url("materials")}, {name: "level layout", path: f.url("runs", f.runs[0])}, {name: "stair layout", path: f.url("runs", f.runs[1])}, {name: "removable layout", path: f.url("runs", f.runs[2])},
		{name: "layout of a stair with its stringer unknown", path: f.url("runs", loose)},
		{name: "shop sheet", path: f.url("runs", f.runs[0], "sheet")}, {name: "framing details", path: f.url("runs", f.runs[0], "framing")}, {name: "stair shop sheet", path: f.url("runs", f.runs[1], "sheet")},
		{name: "change a run", path: f.url("runs", f.runs[0], "edit")}, {name: "covered", path: f.url("runs", f.runs[0], "cover")}, {name: "cover", path: f.url("runs", f.runs[2], "cover")},
		{name: "closed stage", path: stage}, {name: "stage", path: f.url("stages", "posts")},
		{name: "pick places", path: stage + "/ask?key=framing.bolt_upper"}, {name: "ask", path: f.askURL("framing.bolt_upper", "R1-P1", "R1-P2")},
		{name: "ask what is seen", path: f.askURL("framing.blocking", "R1-P1")}, {name: "ask a gap", path: f.askURL("infill.gap", "R1-B1")},
		{name: "check", path: views.CheckURL(f.job, check)}, {name: "check of a photograph", path: views.CheckURL(f.job, f.check("framing.photo_wide", "R1-P1"))},
		{name: "photographs", path: f.url("photos")}, {name: "file photographs", path: f.url("photos", "new")}, {name: "photograph", path: f.url("photos", f.photo)},
		{name: "photographs searched", path: f.url("photos") + "?stage=framing&q=post"}, {name: "photographs to file", path: f.url("photos", "filing")}, {name: "slate", path: f.url("slate") + "?check=" + url.QueryEscape(f.check("framing.photo_wide", "R1-P1"))}, {name: "before and after", path: f.url("runs", f.runs[0], "cover", "photos")},
		{name: "diary", path: f.url("diary")}, {name: "day", path: f.url("diary", f.day())},
		{name: "deviations", path: f.url("deviations")}, {name: "new deviation", path: f.url("deviations", "new")}, {name: "deviation", path: f.url("deviations", dev)},
		{name: "papers", path: f.url("papers")}, {name: "attach a paper", path: f.url("papers", "new")}, {name: "paper", path: f.url("papers", f.paper)},
		{name: "errors of a paper", path: f.url("papers", "new"), status: http.StatusUnprocessableEntity, then: func(p *person) int { return p.press("Attach the paper") }},
		{name: "packs", path: f.url("packs")}, {name: "issued pack", path: f.url("packs", "1", "pack", "html", "inspector.html")}, {name: "record", path: f.url("record")},
		{name: "not found", path: "/jobs/nothing-here", status: http.StatusNotFound},
		{name: "errors of a form", path: f.url("runs", "new"), status: http.StatusUnprocessableEntity, then: func(p *person) int { return p.press("Lay out the run") }},
		{name: "errors of a reading", path: f.askURL("framing.bolt_upper", "R1-P2"), status: http.StatusUnprocessableEntity, then: func(p *person) int {
			p.fill("Reading at R1-P2", "41 and a bit")
			return p.press("Save the reading")
		}},
		{name: "blocked stage", path: f.url("stages", "posts"), status: http.StatusConflict, then: func(p *person) int { return p.press("Close the stage") }},
		{name: "a new link", path: f.url("packs"), then: func(p *person) int {
			p.choose("Who it is for", "The owner")
			p.fill("Name", ownerName)
			return p.press("Make the link")
		}},
		{name: "sign-in", path: "/sign-in", guest: true}, {name: "errors of sign-in", path: "/sign-in", guest: true, status: http.StatusUnprocessableEntity, then: func(p *person) int { return p.press("Sign in") }},
		{name: "owner's pack", path: views.GuestURL(f.owner), guest: true}, {name: "inspector's pack", path: views.GuestURL(f.inspector), guest: true},
		{name: "pack to read", path: views.GuestURL(f.owner, "pack") + "/html/owner.html", guest: true},
		{name: "receipt", path: views.GuestURL(f.owner, "receipts", f.receipt), guest: true},
		{name: "link taken back", path: views.GuestURL(f.gone), guest: true, status: http.StatusGone}, {name: "no such link", path: views.GuestURL("nothing-here"), guest: true, status: http.StatusNotFound},
	}
	s := f.serve()
	builder, guest := newPerson(t, browser, s.address, 390), newPerson(t, browser, s.address, 390)
	builder.signIn()
	for _, of := range pages {
		p := builder
		if of.guest {
			p = guest
		}
		p.visit(of)
	}
}

// visit goes to a page and looks at it.
func (p *person) visit(of page) {
	p.Helper()
	want := of.status
	if want == 0 {
		want = http.StatusOK
	}
	got := p.arrive(chromedp.Navigate(p.site + of.path))
	if of.then != nil {
		got = of.then(p)
	}
	if got != want {
		p.Errorf("%s (%s) came with %d, want %d", of.name, of.path, got, want)
	}
	p.looks(of.name + " (" + of.path + ")")
}

// wcag are axe's options for the rules of WCAG A and AA.
const wcag = `{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'], rules: { 'target-size': { enabled: true } } }`

// looks looks at the page that is open as axe does, with everything on it unfolded, in the light and in the dark, and at two widths.
// axe stays in the page.
func (p *person) looks(name string) {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('details').forEach(d => { d.open = true })`), chromedp.Evaluate[chromedp.Void](axe))
	for _, v := range p.violations(wcag) {
		p.Errorf("%s: %s", name, v)
	}
	p.prefer("dark")
	for _, v := range p.violations(`{ runOnly: { type: 'rule', values: ['color-contrast'] } }`) {
		p.Errorf("%s in the dark: %s", name, v)
	}
	p.prefer("light")
	p.narrow(320)
	p.fits()
	if over := ask[[]string](p, `return [...document.querySelectorAll('th, td')].filter(shown).filter(c => c.scrollWidth > c.clientWidth + 1).map(text)`); len(over) > 0 {
		p.Errorf("%s: what stands in these cells runs over the next: %q", name, over)
	}
	p.narrow(390)
}

// violations are the rules that axe finds broken, each with the things that break it. The style of a page from disk, which no script may
// fetch, is left out of the one rule that reads it (the lock of a screen's orientation).
func (p *person) violations(options string) []string {
	p.Helper()
	ctx, cancel := p.wait()
	defer cancel()
	found, err := chromedp.Run(ctx, chromedp.Evaluate[struct {
		Broken []string
		Held   int
	}](`axe.run(document, { preload: location.protocol !== 'file:', ...`+options+` }).then(r => ({ Held: r.passes.length, Broken: r.violations.map(v => v.id + ': ' + v.help
		+ v.nodes.slice(0, 4).map(n => '\n    ' + n.html.slice(0, 200) + '\n      ' + n.any.concat(n.all, n.none).map(c => c.message).join('; ')).join('')
		+ (v.nodes.length > 4 ? '\n    and ' + (v.nodes.length - 4) + ' more' : '')) }))`, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("axe at %s: %v", p.where(), err)
	}
	if found.Held == 0 {
		p.Errorf("axe at %s held nothing to any rule", p.where())
	}
	return found.Broken
}

// prefer asks for light or dark pages.
func (p *person) prefer(scheme string) {
	p.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}

// narrow changes the width of the phone.
func (p *person) narrow(width int64) {
	p.Helper()
	p.width = width
	p.do(chromedp.EmulateViewport(width, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
}
