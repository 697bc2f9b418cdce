package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// finder is a script that finds things on a page by the words that a person sees.
//
//go:embed testdata/browser/find.js
var finder string

// patience is how long a person waits for one page or thing: far longer than any takes on a slow machine.
const patience = 30 * time.Second

// settling is how long a page that has come may take to show what it says.
const settling = 5 * time.Second

// person is somebody with one tab, in a browser context without anybody else's cookies. It fails the test where a thing is
// not there to be seen or touched.
type person struct {
	*testing.T
	ctx   context.Context
	site  string
	name  string // of the screenshots
	width int64
	touch bool
	pages int
	taps  int // touches and clicks so far
	keyed int // keys pressed so far
}

// newPerson opens a tab of so many CSS pixels for a site; up to 600 px it is a phone, with touch.
func newPerson(t *testing.T, browser context.Context, site string, width int64) *person {
	t.Helper()
	ctx, end := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	t.Cleanup(end)
	p := &person{T: t, ctx: ctx, site: site, name: strings.ReplaceAll(t.Name(), "/", "-"), width: width, touch: width < 600}
	var more []chromedp.EmulateViewportOption
	if p.touch {
		more = append(more, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait)
	}
	p.do(chromedp.EmulateViewport(width, 844, more...))
	p.watchConsole()
	return p
}

// watchConsole fails the test on a script's error and on what the page's policy refuses. A refused page is no error here: it
// is looked for by its status.
func (p *person) watchConsole() {
	messages := chromedp.Console(p.ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if (m.IsException() || m.Type == chromedp.ConsoleError) && m.Source != "network" {
				p.Errorf("the page says on its console: %s (%s)", m, m.URL)
			}
		}
	}()
}

// do takes steps, each within patience.
func (p *person) do(steps ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	for _, step := range steps {
		ctx, cancel := p.wait()
		err := chromedp.Do(ctx, step)
		cancel()
		if err != nil {
			p.Fatalf("at %s: %v", p.where(), err)
		}
	}
}

// wait is the tab's own context until it has a target, which must outlive the wait, and then one that ends.
func (p *person) wait() (context.Context, context.CancelFunc) {
	if chromedp.FromContext(p.ctx).Target == nil {
		return p.ctx, func() {}
	}
	return context.WithTimeout(p.ctx, patience)
}

// where is the address without the site's own part; the empty string where the tab does not say.
func (p *person) where() string {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	at, err := chromedp.Run(ctx, chromedp.Location())
	if err != nil {
		return ""
	}
	return strings.TrimPrefix(at, p.site)
}

// until asks again and again until something is so, and fails with these words where it never is.
func (p *person) until(otherwise string, so func() bool) {
	p.Helper()
	for end := time.Now().Add(patience); !so(); {
		if time.Now().After(end) {
			p.keep("never")
			p.Fatalf("at %s: %s", p.where(), otherwise)
		}
	}
}

// open goes to a path of the site.
func (p *person) open(path string) {
	p.Helper()
	p.openTo(path, http.StatusOK)
}

// openTo is open where the page is expected to come with another status.
func (p *person) openTo(path string, want int) {
	p.Helper()
	if got := p.arrive(chromedp.Navigate(p.site + path)); got != want {
		p.Fatalf("%s came with %d, want %d:\n%s", path, got, want, ask[string](p, `return shownText()`))
	}
}

// back goes back to the page before, which the browser may have kept as it was left: then none is loaded.
func (p *person) back(path string) {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](`history.back()`))
	p.until("going back does not lead to "+path, func() bool { return p.where() == path })
}

// arrive takes a step that leads to another page, waits for that and returns its status.
func (p *person) arrive(step chromedp.Action[chromedp.Void]) int {
	p.Helper()
	ctx, cancel := p.wait()
	defer cancel()
	answer, err := chromedp.RunResponse(ctx, step)
	if err != nil || answer == nil {
		p.keep("lost")
		p.Fatalf("no page came after %s: %v", p.where(), err)
	}
	p.pages++
	p.keep("")
	p.fits()
	return int(answer.Status)
}

// fits fails where the page is wider than the screen.
func (p *person) fits() {
	p.Helper()
	if wide := ask[int64](p, `return document.documentElement.scrollWidth`); wide > p.width {
		p.Errorf("%s is %d px wide on a screen of %d px: %s", p.where(), wide, p.width, ask[string](p, `return widest(arg)`, p.width))
	}
}

// keep leaves a picture of the page where they are wanted.
func (p *person) keep(what string) {
	if *screenshots == "" {
		return
	}
	ctx, cancel := p.wait()
	defer cancel()
	picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.MkdirAll(*screenshots, 0o755)
	}
	if err == nil {
		words := strings.Trim(regexp.MustCompile(`[^a-zA-Z0-9]+`).ReplaceAllString(p.where()+" "+what, "-"), "-")
		err = os.WriteFile(filepath.Join(*screenshots, fmt.Sprintf("%s-%02d-%.60s.png", p.name, p.pages, words)), picture, 0o644)
	}
	if err != nil {
		p.Errorf("keep a picture: %v", err)
	}
}

// keepPDF leaves a printed page where pictures are wanted.
func (p *person) keepPDF(pdf []byte) {
	if *screenshots == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*screenshots, fmt.Sprintf("%s-%02d.pdf", p.name, p.pages)), pdf, 0o644); err != nil {
		p.Errorf("keep a printed page: %v", err)
	}
}

// ask runs a script in the page, with the finder's functions and its arguments as arg (one) or args, and returns what it
// returns.
func ask[T any](p *person, script string, args ...any) T {
	p.Helper()
	given, err := json.Marshal(append([]any{}, args...))
	if err != nil {
		p.Fatal(err)
	}
	ctx, cancel := p.wait()
	defer cancel()
	var got T
	for range 3 {
		got, err = chromedp.Run(ctx, chromedp.Evaluate[T](fmt.Sprintf("(() => { %s\nconst args = %s, arg = args[0];\n%s })()", finder, given, script)))
		if err == nil || !strings.Contains(err.Error(), "navigated") {
			break // else the page went on by itself, and took the answer with it
		}
	}
	if err != nil {
		p.Fatalf("at %s: %s: %v", p.where(), script, err)
	}
	return got
}

// sees fails unless the page shows each of the texts before long.
func (p *person) sees(texts ...string) {
	p.Helper()
	shown := ""
	for end := time.Now().Add(settling); ; {
		shown = ask[string](p, `return shownText()`)
		if !slices.ContainsFunc(texts, func(text string) bool { return !strings.Contains(shown, text) }) || time.Now().After(end) {
			break
		}
	}
	for _, text := range texts {
		if !strings.Contains(shown, text) {
			p.keep("unseen")
			p.Errorf("%s does not say %q:\n%s", p.where(), text, shown)
		}
	}
}

// seesNot fails where the page shows one of the texts.
func (p *person) seesNot(texts ...string) {
	p.Helper()
	shown := ask[string](p, `return shownText()`)
	for _, text := range texts {
		if strings.Contains(shown, text) {
			p.Errorf("%s says %q:\n%s", p.where(), text, shown)
		}
	}
}

// title is what the tab is called.
func (p *person) title() string { return ask[string](p, `return document.title`) }

// spot is where a thing can be touched.
type spot struct {
	X, Y    float64
	Missing string // why it cannot
}

// spot looks for a thing by a script that returns an element, and brings it into view.
func (p *person) spot(script string, args ...any) spot {
	p.Helper()
	s := ask[spot](p, `return spot((() => { `+script+` })())`, args...)
	if s.Missing != "" {
		p.keep("missing")
		p.Fatalf("%s at %s: %q\n%s", s.Missing, p.where(), args, ask[string](p, `return shownText()`))
	}
	return s
}

// tapAt touches a spot with a finger, or clicks it where there is a mouse.
func (p *person) tapAt(s spot) chromedp.Action[chromedp.Void] {
	p.taps++
	if !p.touch {
		return chromedp.MouseClickXY(s.X, s.Y)
	}
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: s.X, Y: s.Y}}}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}})
		return err
	})
}

// stroke draws a finger from the first of the points to the last, without lifting it.
func (p *person) stroke(points ...spot) {
	p.Helper()
	touch := func(kind input.DispatchTouchEventType, at ...*input.TouchPoint) chromedp.Action[chromedp.Void] {
		return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, at...)})
			return err
		})
	}
	kind := input.DispatchTouchEventTypeTouchStart
	for _, at := range points {
		p.do(touch(kind, &input.TouchPoint{X: at.X, Y: at.Y}))
		kind = input.DispatchTouchEventTypeTouchMove
	}
	p.do(touch(input.DispatchTouchEventTypeTouchEnd))
}

// follow touches the link or button of these words, or that begins with them, and waits for the page that it leads to.
func (p *person) follow(words string) {
	p.Helper()
	p.followTo(words, http.StatusOK)
}

// followTo is follow where the page is expected to come with another status.
func (p *person) followTo(words string, want int) {
	p.Helper()
	if got := p.press(words); got != want {
		p.Fatalf("%q leads to %s with %d, want %d:\n%s", words, p.where(), got, want, ask[string](p, `return shownText()`))
	}
}

// press touches the link or button of these words and returns the status of the page that comes.
func (p *person) press(words string) int {
	p.Helper()
	return p.arrive(p.tapAt(p.spot(`return named(arg)`, words)))
}

// unfold touches the summary of these words, and what lies under it is shown.
func (p *person) unfold(words string) {
	p.Helper()
	p.do(p.tapAt(p.spot(`return named(arg)`, words)))
	p.until("touching "+words+" did not unfold it", func() bool { return ask[bool](p, `return named(arg).parentElement.open`, words) })
}

// fill types into the field of this label, over what stands there.
func (p *person) fill(label, text string) {
	p.Helper()
	p.do(p.tapAt(p.spot(`return labelled(arg)`, label)))
	p.until("touching "+label+" did not go into it", func() bool {
		return ask[bool](p, `const e = labelled(arg); if (document.activeElement !== e) return false; e.select(); return true`, label)
	})
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if text == "" {
			return chromedp.Do(ctx, chromedp.KeyEvent("\b"))
		}
		_, err := cdp.Call(ctx, t, input.InsertText, input.InsertTextParams{Text: text})
		return err
	}))
	p.until(fmt.Sprintf("typing %q into %q does not make it hold that", text, label), func() bool { return p.value(label) == text })
}

// value is what the field of this label holds.
func (p *person) value(label string) string {
	p.Helper()
	return ask[string](p, `const e = labelled(arg); return e ? e.value : 'no such field'`, label)
}

// choose touches an option of a question: its legend, and the words beside the option.
func (p *person) choose(legend, option string) {
	p.Helper()
	p.do(p.tapAt(p.spot(`return option(...args)`, legend, option)))
	p.until("touching "+option+" of "+legend+" did not choose it", func() bool { return ask[bool](p, `return option(...args).control.checked`, legend, option) })
}

// pick takes an option of the list of this label. A list opens outside the page, where no script reaches, so the option is
// set as the browser sets it.
func (p *person) pick(label, option string) {
	p.Helper()
	if wrong := ask[string](p, `return pickOption(...args)`, label, option); wrong != "" {
		p.Fatalf("at %s: %s", p.where(), wrong)
	}
}

// upload gives files to the page's file input, as the device's own chooser does.
func (p *person) upload(paths ...string) {
	p.Helper()
	p.do(chromedp.SetUploadFiles(chromedp.CSS(`input[type=file]`), paths))
}
