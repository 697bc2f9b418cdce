package main

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// errorFocus sends forms that are refused, on a phone with scripts: the summary has the focus and leads to each field, what
// was typed stands, nothing was saved, and a form sent twice or late harms nothing.
func errorFocus(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	bolts := f.askURL("framing.bolt_upper", "R1-P1", "R1-P2")
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()

	// One reading of two is no length: both texts come back, and neither is recorded.
	p.open(bolts)
	p.fill("Reading at R1-P1", "2 5/8")
	p.fill("Reading at R1-P2", "2 and a bit")
	p.followTo("Save the readings", http.StatusUnprocessableEntity)
	p.refused("Reading at R1-P2")
	for label, text := range map[string]string{"Reading at R1-P1": "2 5/8", "Reading at R1-P2": "2 and a bit"} {
		if got := p.value(label); got != text {
			p.Errorf("%q holds %q when the page comes back, want %q", label, got, text)
		}
	}
	p.open(f.url("record"))
	p.seesNot("2 5/8″")

	// The same form sent a second time leads to the same place, and makes no second run.
	p.open(f.url("runs", "new"))
	p.fill("Run length", "6'")
	p.follow("Lay out the run")
	first := p.where()
	p.back(f.url("runs", "new"))
	p.follow("Lay out the run")
	if got := p.where(); got != first {
		p.Errorf("the form sent again leads to %s, want %s", got, first)
	}
	p.open(f.url("runs"))
	if got := ask[int](p, `return document.querySelectorAll('.rows .row').length`); got != len(f.runs)+1 {
		p.Errorf("%d runs stand after one was added twice by the same form, want %d", got, len(f.runs)+1)
	}

	// Somebody else saved meanwhile: nothing is overwritten, both texts are shown.
	p.open(f.url("particulars"))
	other := newPerson(t, browser, s.address, 390)
	other.signIn()
	other.open(f.url("particulars"))
	other.fill("Site", "4 Invented Quay, gate on the left")
	other.follow("Save")
	p.fill("Site", "4 Invented Quay, gate on the right")
	p.followTo("Save", http.StatusConflict)
	p.sees("4 Invented Quay, gate on the left")
	if got := p.value("Site"); got != "4 Invented Quay, gate on the right" {
		p.Errorf("the site reads %q after a conflict, want what was typed", got)
	}
	p.refused("")
}

// refused looks at a page of errors as the script leaves it. field is the label that the first line leads to, or empty where
// it leads nowhere.
func (p *person) refused(field string) {
	p.Helper()
	if got := p.title(); !strings.HasPrefix(got, "Error: ") {
		p.Errorf("%s is called %q, want it to begin with Error:", p.where(), got)
	}
	if !ask[bool](p, `return document.activeElement.matches('.error-summary')`) {
		p.Errorf("at %s the summary of errors has not the focus, but %q", p.where(), ask[string](p, `return focusWords()`))
	}
	if field == "" {
		return
	}
	p.do(p.tapAt(p.spot(`return document.querySelector('.error-summary a')`)))
	p.until("the line of the summary leads nowhere", func() bool { return ask[string](p, `return focusWords()`) == field })
}

// numberEntry puts readings in with the pad under a thumb: the value is shown large as it grows, and is what the server reads.
func numberEntry(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	bolt, lean := f.askURL("framing.bolt_upper", "R1-P2"), f.askURL("framing.plumb_along", "R1-P1")
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()

	p.open(bolt)
	for _, step := range []struct{ key, holds, shows string }{
		{"2", "2", "2″"}, {"5/8", "2 5/8", "2 5/8″"}, {"1", "21 5/8", "21 5/8″"}, {"Back", "21", "21″"}, {"Back", "2", "2″"},
		{"11/16", "2 11/16", "2 11/16″"}, {"even", "2", "2″"}, {"Clear", "", ""}, {"2", "2", "2″"}, {"5/8", "2 5/8", "2 5/8″"},
	} {
		p.tapKey(step.key)
		p.until(fmt.Sprintf("the key %s does not make the field hold %q", step.key, step.holds), func() bool { return p.value("Reading at R1-P2") == step.holds })
		if got := p.echo(); got != step.shows {
			p.Errorf("the page shows %q after the key %s, want %q", got, step.key, step.shows)
		}
	}
	p.sees("66.68 mm")
	if got := ask[string](p, `return text(document.querySelector('.pad [aria-pressed="true"]'))`); got != "5/8" {
		p.Errorf("the key that is shown pressed is %q, want 5/8", got)
	}
	if got := ask[string](p, `return document.querySelector('[data-entry] input').inputMode`); got != "none" {
		p.Errorf("the telephone's own keyboard would cover the pad: inputmode is %q, want none", got)
	}
	p.follow("Save the reading")
	p.sees("2 5/8″", "good")

	p.open(bolt)
	p.fill("Reading at R1-P2", "2 5/")
	p.sees("Not a length yet")
	p.fill("Reading at R1-P2", "68 mm")
	p.sees("68 mm")

	p.open(lean)
	p.tapKey("1/16")
	p.tapKey("+ / −")
	p.until("1/16 and the change of direction do not make the field hold -1/16", func() bool { return p.value("Reading at R1-P1") == "-1/16" })
	p.follow("Save the reading")
	p.sees("-1/16″")
}

// tapKey touches a key of the pad that is shown.
func (p *person) tapKey(words string) {
	p.Helper()
	p.do(p.tapAt(p.spot(`return [...document.querySelectorAll('.pad button')].find(b => shown(b) && text(b) === arg)`, words)))
}

// echo is the length that the page shows large before it is saved.
func (p *person) echo() string {
	p.Helper()
	return ask[string](p, `const e = document.querySelector('.echo-value'); return e ? text(e) : ''`)
}
