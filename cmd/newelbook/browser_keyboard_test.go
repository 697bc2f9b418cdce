package main

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"newelbook/cmd/newelbook/demo/pictures"
)

// keyboardAlone makes a job, answers for it, files a picture and issues a pack, with no mouse, no touch and no script.
func keyboardAlone(t *testing.T, browser context.Context) {
	s := newFixture(t).serve()
	p := newPerson(t, browser, s.address, 1280)
	p.withoutScripts()
	p.open("/sign-in")
	p.keys(kb.Tab)
	if got := p.focused(); got != "To the content" {
		p.Errorf("the first stop of the keyboard is %q, want the way to the content", got)
	}
	p.write("Sign-in name", builderLogin)
	p.write("Password", password)
	p.enter(http.StatusOK)
	p.sees("No job yet")

	p.reach("New job")
	p.enter(http.StatusOK)
	p.write("Reference", "K-1")
	p.write("Owner", ownerName)
	p.write("Builder", builderName)
	p.enter(http.StatusUnprocessableEntity)
	p.putRight(map[string]string{"Reference": "K-1", "Owner": ownerName, "Builder": builderName})
	p.mark("International Residential Code, 2018")
	p.mark("Feet and inches")
	p.write("Name", "Deck guard at the forge")
	p.write("Site", "3 Invented Quay")
	p.write("How to reach the builder", "Ring the yard (invented)")
	p.write("Time zone", journeyZone)
	p.enter(http.StatusOK)
	p.sees("The job is made")

	p.reach("Add a run")
	p.enter(http.StatusOK)
	p.write("Run length", "8'")
	p.enter(http.StatusOK)
	p.sees("R1 is laid out")

	p.reach("Stages")
	p.enter(http.StatusOK)
	p.reach("Blocking is in, tight to the post and fixed")
	p.enter(http.StatusOK)
	p.mark("R1-P1")
	p.reach("Ask")
	p.enter(http.StatusOK)
	p.mark("Yes")
	p.reach("Save the reading")
	p.enter(http.StatusOK)
	p.sees("Just recorded", "good")
	p.reach("Lean of the post along the run")
	p.enter(http.StatusOK)
	p.mark("R1-P2")
	p.reach("Ask")
	p.enter(http.StatusOK)
	p.write("Reading at R1-P2", "1/16 and a bit")
	p.enter(http.StatusUnprocessableEntity)
	p.putRight(map[string]string{"Reading at R1-P2": "1/16 and a bit"})
	p.write("Reading at R1-P2", "-1/16")
	p.enter(http.StatusOK)
	p.sees("Just recorded", "good")

	p.reach("Photographs")
	p.enter(http.StatusOK)
	p.reach("File photographs")
	p.enter(http.StatusOK)
	p.spell("What it shows", "R1-P1")
	p.spell("Stage", "Framing")
	p.attach("Photographs", picture(t, pictures.Wide, "R1-P1", moment().Add(-time.Hour)))
	p.reach("Send")
	p.enter(http.StatusOK)
	p.sees("The photograph is on the server and filed")

	p.reach("Pack")
	p.enter(http.StatusOK)
	p.mark("Framing inspection")
	p.mark("Views alone")
	p.reach("Issue the pack")
	p.enter(http.StatusOK)
	p.issued("Pack 1, framing inspection")
	p.reach("Newelbook")
	p.enter(http.StatusOK)
	p.reach("Sign out")
	p.enter(http.StatusOK)
	p.sees("Sign-in name")
}

// withoutScripts stops the page's own scripts.
func (p *person) withoutScripts() {
	p.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
}

// keys presses keys.
func (p *person) keys(keys string, options ...chromedp.KeyOption) {
	p.Helper()
	p.keyed += utf8.RuneCountInString(keys)
	p.do(chromedp.KeyEvent(keys, options...))
}

// focused is the words of what the keyboard acts on.
func (p *person) focused() string {
	p.Helper()
	return ask[string](p, `return focusWords()`)
}

// mostStops is more than any page has places where the keyboard can stop.
const mostStops = 300

// reach tabs to what has these words, or begins with them, and demands that it can be seen there.
func (p *person) reach(words string) {
	p.Helper()
	var passed []string
	for range mostStops {
		p.keys(kb.Tab)
		at := p.focused()
		if at == words || strings.HasPrefix(at, words+" ") {
			if hidden := ask[string](p, `return focusHidden()`); hidden != "" {
				p.keep("hidden")
				p.Errorf("at %s the focus on %q %s", p.where(), words, hidden)
			}
			return
		}
		passed = append(passed, at)
		if n := len(passed); n > 3 && passed[0] == at && slices.Contains(passed[1:n-1], "") {
			break
		}
	}
	p.Fatalf("at %s the keyboard does not come to %q, only to %q", p.where(), words, passed)
}

// write tabs to a field and types over what stands in it.
func (p *person) write(label, text string) {
	p.Helper()
	p.reach(label)
	p.keys("a", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.keys(text)
	if got := p.value(label); got != text {
		p.Fatalf("%q holds %q after typing %q", label, got, text)
	}
}

// mark tabs to a box or to a group of which only one can be chosen, goes on in that with the arrow keys, and marks it.
func (p *person) mark(words string) {
	p.Helper()
	p.reach(ask[string](p, `return groupStop(arg)`, words))
	for range mostStops {
		if p.focused() == words {
			break
		}
		p.keys(kb.ArrowDown)
	}
	if !ask[bool](p, `return document.activeElement.checked`) {
		p.keys(" ")
	}
	if got := p.focused(); got != words || !ask[bool](p, `return document.activeElement.checked`) {
		p.Fatalf("at %s the keyboard cannot mark %q; it is at %q", p.where(), words, got)
	}
}

// spell tabs to a list and types the beginning of an option.
func (p *person) spell(label, option string) {
	p.Helper()
	p.reach(label)
	p.keys(option)
	if got := ask[string](p, `return text(document.activeElement.selectedOptions[0])`); got != option {
		p.Fatalf("%q has %q after typing %q", label, got, option)
	}
}

// pressEnter is one press of Enter, as a keyboard sends it: the press of a key that makes a character, and its release.
func pressEnter() chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for _, kind := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
			key := input.DispatchKeyEventParams{Type: kind, Key: "Enter", Code: "Enter", WindowsVirtualKeyCode: 13, NativeVirtualKeyCode: 13}
			if kind == input.DispatchKeyEventTypeKeyDown {
				key.Text = "\r"
			}
			if _, err := cdp.Call(ctx, t, input.DispatchKeyEvent, key); err != nil {
				return err
			}
		}
		return nil
	})
}

// enter presses Enter and waits for the page that comes.
func (p *person) enter(want int) {
	p.Helper()
	p.keyed++
	if got := p.arrive(pressEnter()); got != want {
		p.Fatalf("Enter leads to %s with %d, want %d:\n%s", p.where(), got, want, ask[string](p, `return shownText()`))
	}
}

// putRight looks at a page of errors: its title says so, each line of the summary leads to the field that it names, in the
// order of the page, and what was typed stands there still.
func (p *person) putRight(typed map[string]string) {
	p.Helper()
	if got := p.title(); !strings.HasPrefix(got, "Error: ") {
		p.Errorf("%s is called %q, want it to begin with Error:", p.where(), got)
	}
	for label, text := range typed {
		if got := p.value(label); got != text {
			p.Errorf("%q holds %q when the page comes back, want %q", label, got, text)
		}
	}
	lines := ask[[]string](p, `return [...document.querySelectorAll('.error-summary a')].map(text)`)
	if len(lines) == 0 {
		p.Fatalf("%s has no summary of errors", p.where())
	}
	var order []int
	for _, line := range lines {
		p.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.blur(); window.scrollTo(0, 0)`))
		p.reach(line)
		p.do(pressEnter())
		p.until("the link of "+line+" leads nowhere", func() bool { return p.focused() != line && p.focused() != "" })
		if got := ask[string](p, `const e = document.activeElement, d = (e.getAttribute('aria-describedby') || '') + ' ' + ((e.closest('fieldset') || e).getAttribute('aria-describedby') || '');
			return d.split(/\s+/).filter(Boolean).map(id => document.getElementById(id)).filter(Boolean).map(text).join(' ')`); !strings.Contains(got, line) {
			p.Errorf("at %s the line %q leads to %q, which says %q", p.where(), line, p.focused(), got)
		}
		order = append(order, ask[int](p, `return [...document.querySelectorAll('input, select, textarea')].indexOf(document.activeElement)`))
	}
	if !slices.IsSorted(order) {
		p.Errorf("at %s the lines %q do not stand in the order of their fields", p.where(), lines)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.blur()`))
}

// attach tabs to a file input, opens the device's chooser with the keyboard and gives it files.
func (p *person) attach(label string, paths ...string) {
	p.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, cdppage.SetInterceptFileChooserDialog, cdppage.SetInterceptFileChooserDialogParams{Enabled: true})
		return err
	}))
	p.reach(label)
	ctx, cancel := p.wait()
	defer cancel()
	opened, err := chromedp.Run(ctx, chromedp.WaitEvent(cdppage.FileChooserOpened, nil, pressEnter()))
	if err != nil {
		p.Fatalf("no chooser of files opened at %s: %v", p.where(), err)
	}
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := chromedp.Call(ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: paths, BackendNodeID: opened.BackendNodeID})
		return err
	}))
}
