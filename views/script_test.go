package views_test

import (
	"context"
	"errors"
	"fmt"
	"html"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"newelbook/checklist/length"
	"newelbook/views"
)

// browser is the headless browser, or the test is skipped, or fails when NEWELBOOK_REQUIRE_TOOLS is set.
func browser(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	if os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1" {
		t.Fatal("no browser on this machine, and NEWELBOOK_REQUIRE_TOOLS is set")
	}
	t.Skip("no browser on this machine")
	return ""
}

// dump opens a page of the given body with the script and returns the document as the script left it.
func dump(t *testing.T, body string) string {
	t.Helper()
	return dumpWith(t, "sheet.js", body)
}

// dumpWith does so with the script of that name.
func dumpWith(t *testing.T, name, body string) string {
	t.Helper()
	program := browser(t)
	script, err := fs.ReadFile(views.Assets(), name)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name string, content []byte) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, content, 0o644); err != nil {
			t.Fatal(err)
		}
		return file
	}
	write("sheet.js", script)
	page := write("page.html", []byte(`<!doctype html><meta charset="utf-8"><title>t</title>`+body+`<script src="sheet.js"></script>`))
	// A browser that falls down by itself, once in some thousand starts, has said nothing of the page: it is started again, and the log
	// tells. What a page makes of the script is never asked twice.
	for start := 1; ; start++ {
		out, err := open(t, program, filepath.Join(dir, fmt.Sprintf("profile-%d", start)), page)
		var ended *exec.ExitError
		switch {
		case err == nil:
			return string(out)
		case errors.As(err, &ended) && !ended.Exited() && t.Context().Err() == nil && start < 3:
			t.Logf("browser fell down, start %d: %v", start, err)
		default:
			t.Fatalf("browser, start %d: %v", start, err)
		}
	}
}

// open is the document that a new browser leaves of the page, within a minute.
func open(t *testing.T, program, profile, page string) ([]byte, error) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	return exec.CommandContext(ctx, program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+profile,
		"--dump-dom", "file://"+page).Output()
}

var (
	echoes = regexp.MustCompile(`(?s)<output[^>]*>(.*?)</output>`)
	tags   = regexp.MustCompile(`<[^>]*>`)
)

// The echo reads a length just as the server does, or says that it is none yet.
func TestScriptReadsLengthsAsTheServerDoes(t *testing.T) {
	type sample struct{ text, unit string }
	var samples []sample
	for _, unit := range []string{"in", "mm"} {
		for _, text := range []string{
			"41 3/8", "41-3/8", `41 3/8"`, "3'-4 1/2\"", "3' 4", "6 ft 4 in", "6 feet 4.5", "7.625", ".5", "0", "12.", "1,940 mm", "1,940", "1.94 m", "9.5 cm", "95 mm",
			"3½", "½", "3 ⅞", "3 15⁄16", "3′ 4″", "−1/8", "- 1/8", "+3", "–3/16", "3 1/64", "3 64/64", "1/128", "1/3", "1/10", "2/3 ft", "1/3 ft", "413/8", "3 5/4", "3/0",
			"3' 12", "3' 11 63/64", "1000 m", "1000.1 m", "1e3", "three", "3 in in", "3 in.", "3in", "3 inches", "3 millimetres", "12,34", "1,234,567", "", "  ", "-", "3''", "3' ''",
			"50/64", "1 2 3/4", "3 - 1/2", "3.5/8", "4 ft", "0.001", "1050.925", "-1050.925",
		} {
			samples = append(samples, sample{text, unit})
		}
	}
	var body strings.Builder
	for i, s := range samples {
		fmt.Fprintf(&body, `<div data-entry="%s"><label for="f%d">x</label><output data-echo></output><input id="f%d" value="%s"><div data-pad hidden></div></div>`, s.unit, i, i, html.EscapeString(s.text))
	}
	found := echoes.FindAllStringSubmatch(dump(t, body.String()), -1)
	if len(found) != len(samples) {
		t.Fatalf("%d echoes, want %d", len(found), len(samples))
	}
	for i, s := range samples {
		got := strings.ReplaceAll(html.UnescapeString(tags.ReplaceAllString(strings.ReplaceAll(found[i][1], `<span class="echo-note">`, " | "), "")), "−", "-")
		l, err := length.Parse(s.text, length.Unit(s.unit))
		want := ""
		switch {
		case strings.TrimSpace(s.text) == "":
		case err != nil && s.unit == "mm":
			want = " | Not a length yet. Write it like 1050."
		case err != nil:
			want = " | Not a length yet. Write it like 41 3/8."
		case s.unit == "mm":
			want = l.Format(length.Metric) + " | " + primed(l.Format(length.InchFraction))
		default:
			want = primed(l.Format(length.InchFraction)) + " | " + l.Format(length.Metric)
		}
		if got != want {
			t.Errorf("%q in %s: the echo says %q, the server %q", s.text, s.unit, got, want)
		}
	}
}

func primed(s string) string { return strings.ReplaceAll(s, `"`, "″") }

// The pad types whole inches and a fraction, takes back, and never loses what stands in the box.
func TestScriptPad(t *testing.T) {
	const press = `<script>addEventListener('load', function () {
var keys = function (names) { names.split('|').forEach(function (n) { Array.from(document.querySelectorAll('[data-pad] button')).find(function (b) { return b.textContent === n; }).click(); }); };
var say = function () { document.body.append(Object.assign(document.createElement('p'), { textContent: document.querySelector('input').value })); };
keys('4|1|3/8'); say(); keys('15/16'); say(); keys('Back'); say(); keys('Back|0'); say(); keys('1/2|even'); say(); keys('+ / −'); say(); keys('+ / −|Clear'); say(); keys('7/8'); say(); keys('2'); say();
});</script>`
	out := dump(t, `<div data-entry="in" data-signed><output data-echo></output><input><div data-pad hidden></div></div>`+press)
	var got []string
	for _, m := range regexp.MustCompile(`<p>([^<]*)</p>`).FindAllStringSubmatch(out, -1) {
		got = append(got, m[1])
	}
	want := []string{"41 3/8", "41 15/16", "41", "40", "40", "-40", "", "7/8", "2 7/8"}
	if strings.Join(got, ",") != strings.Join(want, ",") {
		t.Errorf("the box went through %q, want %q", got, want)
	}
}
