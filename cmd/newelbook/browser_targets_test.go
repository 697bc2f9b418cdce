package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// The rule on the size of targets that every page is held to (WCAG 2.2, 2.5.8) tells what is far enough apart from what is not: small
// controls pass by their spacing alone.
func TestSmallTargets(t *testing.T) {
	if testing.Short() {
		t.Skip("it starts a browser")
	}
	// button is a control of a size, with its left edge at x.
	button := func(x, size int) string {
		return fmt.Sprintf(`<button style="position:absolute;top:40px;left:%dpx;width:%dpx;height:%dpx;padding:0;border:0">a</button>`, x, size, size)
	}
	pages := []struct {
		id, html string
		fails    bool
	}{
		{"G12", button(40, 20) + button(63, 24), false}, // 20 px, its centre at 50; the other one's edge at 63, over 12 px from it
		{"G12", button(40, 20), false},                  // and alone
		{"G13", button(40, 20) + button(62, 20), true},  // centres 22 px apart: circles of 24 px meet
		{"", button(40, 20) + button(64, 20), false},    // centres 24 px apart: they touch and no more
		{"", button(40, 24) + button(64, 24), false},    // large enough, side by side
	}
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var n int
		if _, err := fmt.Sscanf(r.URL.Path, "/%d", &n); err != nil || n >= len(pages) {
			http.NotFound(w, r)
			return
		}
		fmt.Fprintf(w, `<!doctype html><html lang="en"><meta name="viewport" content="width=device-width"><title>Targets</title><body><main><h1>Targets</h1>%s</main>`, pages[n].html)
	}))
	t.Cleanup(site.Close)
	p := newPerson(t, startBrowser(t), site.URL, 390)
	for n, page := range pages {
		if got := p.arrive(chromedp.Navigate(fmt.Sprintf("%s/%d", site.URL, n))); got != http.StatusOK {
			t.Fatalf("page %d came with %d", n, got)
		}
		p.do(chromedp.Evaluate[chromedp.Void](axe))
		broken := p.violations(`{ runOnly: ['target-size', 'document-title'], rules: { 'target-size': { enabled: true } } }`)
		failed := len(broken) == 1 && strings.HasPrefix(broken[0], "target-size")
		if failed != page.fails || !failed && len(broken) > 0 {
			t.Errorf("%s page %d: %q, want it to fail: %t", page.id, n, broken, page.fails)
		}
	}
}
