package server_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html"

	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media"
	"newelbook/media/mediatest"
	"newelbook/server"
	"newelbook/views/pack"
)

// password is everybody's here.
const password = "four posts in a row"

// passwordHash is made once: each takes 19 MiB.
var passwordHash = sync.OnceValues(func() (string, error) { return server.HashPassword(password) })

// site is a whole server on a temporary store, with a builder (ada) and a crew account (ben). Everything in it is invented.
type site struct {
	*httptest.Server
	t       *testing.T
	service *jobs.Service
	clock   *clock
	log     *bytes.Buffer
	media   *media.Library
	desk    *pack.Desk
	// door is that of the originals: it can be shut, so that what reads them waits.
	door *mediatest.Gate
	dir  string // the data folder
}

// clock is a time that a test sets.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) forward(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

// syncWriter lets the server's goroutines share a log.
type syncWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (s *syncWriter) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.w.Write(p)
}

func newSite(t *testing.T) *site {
	t.Helper()
	return newSiteAt(t, "https://record.example")
}

// newPrivateSite is a server that guests cannot reach.
func newPrivateSite(t *testing.T) *site {
	t.Helper()
	return newSiteAt(t, "")
}

func newSiteAt(t *testing.T, publicURL string) *site {
	t.Helper()
	s := &site{t: t, clock: &clock{at: time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)}, log: new(bytes.Buffer)}
	dir := t.TempDir()
	s.dir = dir
	st, err := store.Open(t.Context(), filepath.Join(dir, "newelbook.db"), store.Options{Now: s.clock.now})
	if err != nil {
		t.Fatal(err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	files, err := media.OpenFiles(root, 0)
	if err != nil {
		t.Fatal(err)
	}
	s.door = &mediatest.Gate{Store: files}
	library, err := media.NewLibrary(s.door, root, media.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	s.media = library
	s.service = jobs.NewService(st, s.clock.now)
	issuer := pack.Issuer{Service: s.service, Media: library, Dir: filepath.Join(dir, "packs"), KeyFile: filepath.Join(dir, "signing.key")}
	s.desk = pack.NewDesk(issuer, func(_ string, err error) string { return server.IssueFault(err) })
	h, err := server.New(server.Deps{
		Service: s.service, Media: library, Packs: &issuer, Desk: s.desk, Sessions: st.Sessions(), Now: s.clock.now,
		PublicURL: publicURL, TrustedProxies: []string{"127.0.0.1"}, // the tests' own requests may say where they come from
		Log: slog.New(slog.NewTextHandler(&syncWriter{w: s.log}, nil)),
	})
	if err != nil {
		t.Fatal(err)
	}
	s.Server = httptest.NewServer(h)
	t.Cleanup(func() {
		s.Close()
		s.desk.Close(context.Background())
		if err := errors.Join(library.Close(), root.Close()); err != nil {
			t.Error(err)
		}
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// withPeople adds the builder and the crew account.
func (s *site) withPeople() *site {
	s.t.Helper()
	hash, err := passwordHash()
	if err != nil {
		s.t.Fatal(err)
	}
	token, err := s.service.SetupToken(s.t.Context())
	if err != nil {
		s.t.Fatal(err)
	}
	a, err := s.service.Setup(s.t.Context(), token, jobs.AccountInput{Name: "Ada Sample", Login: "ada", Hash: hash})
	if err != nil {
		s.t.Fatal(err)
	}
	if _, err := s.service.AddAccount(s.t.Context(), jobs.By{Actor: a.Actor()}, jobs.AccountInput{Name: "Ben Sample", Login: "ben", Role: jobs.RoleCrew, Hash: hash}); err != nil {
		s.t.Fatal(err)
	}
	return s
}

// browser is one person's browser: it keeps cookies and does not follow redirects.
type browser struct {
	s *site
	*http.Client
}

func (s *site) visitor() *browser {
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return &browser{s: s, Client: &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

// as signs somebody in.
func (s *site) as(login string) *browser {
	s.t.Helper()
	b := s.visitor()
	a := b.post("/sign-in", url.Values{"login": {login}, "password": {password}})
	if a.status != http.StatusSeeOther || a.location != "/jobs" {
		s.t.Fatalf("sign-in as %s: %d to %q, want 303 to /jobs", login, a.status, a.location)
	}
	return b
}

// answer is what came back.
type answer struct {
	t        *testing.T
	status   int
	location string
	header   http.Header
	body     string
	doc      *html.Node
}

func (b *browser) do(r *http.Request) answer {
	b.s.t.Helper()
	resp, err := b.Do(r)
	if err != nil {
		b.s.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		b.s.t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		b.s.t.Fatal(err)
	}
	return answer{t: b.s.t, status: resp.StatusCode, location: resp.Header.Get("Location"), header: resp.Header, body: string(body), doc: doc}
}

func (b *browser) get(path string) answer {
	b.s.t.Helper()
	r, err := http.NewRequestWithContext(b.s.t.Context(), http.MethodGet, b.s.URL+path, nil)
	if err != nil {
		b.s.t.Fatal(err)
	}
	return b.do(r)
}

func (b *browser) post(path string, v url.Values) answer {
	b.s.t.Helper()
	r, err := http.NewRequestWithContext(b.s.t.Context(), http.MethodPost, b.s.URL+path, strings.NewReader(v.Encode()))
	if err != nil {
		b.s.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return b.do(r)
}

// page gets a page and demands status 200.
func (b *browser) page(path string) answer {
	b.s.t.Helper()
	a := b.get(path)
	if a.status != http.StatusOK {
		b.s.t.Fatalf("GET %s: status %d, want 200\n%s", path, a.status, a.text())
	}
	return a
}

// follow gets the page that a post leads to.
func (b *browser) follow(a answer) answer {
	b.s.t.Helper()
	if a.status != http.StatusSeeOther {
		b.s.t.Fatalf("status %d, want 303\n%s", a.status, a.text())
	}
	return b.page(a.location)
}

// find lists the elements that a test wants.
func (a answer) find(want func(*html.Node) bool) []*html.Node {
	var out []*html.Node
	for n := range a.doc.Descendants() {
		if n.Type == html.ElementNode && want(n) {
			out = append(out, n)
		}
	}
	return out
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// text is the words of the page.
func (a answer) text() string {
	for _, n := range a.find(func(n *html.Node) bool { return n.Data == "main" }) {
		return textOf(n)
	}
	return a.body
}

func (a answer) title() string {
	for _, n := range a.find(func(n *html.Node) bool { return n.Data == "title" }) {
		return textOf(n)
	}
	return ""
}

// says demands words on the page.
func (a answer) says(words ...string) {
	a.t.Helper()
	text := a.text()
	for _, w := range words {
		if !strings.Contains(text, w) {
			a.t.Errorf("page %q does not say %q:\n%s", a.title(), w, text)
		}
	}
}

// silent demands that words are not on the page.
func (a answer) silent(words ...string) {
	a.t.Helper()
	text := a.text()
	for _, w := range words {
		if strings.Contains(text, w) {
			a.t.Errorf("page %q says %q:\n%s", a.title(), w, text)
		}
	}
}

// want demands a status.
func (a answer) want(status int) answer {
	a.t.Helper()
	if a.status != status {
		a.t.Fatalf("status %d, want %d\n%s", a.status, status, a.text())
	}
	return a
}

// faults demands the messages of the error summary by field, each leading to a control of the page; and "Error: " in the
// title.
func (a answer) faults(want map[string]string) {
	a.t.Helper()
	if !strings.HasPrefix(a.title(), "Error: ") {
		a.t.Errorf("title %q does not begin with Error:", a.title())
	}
	got := map[string]string{}
	for _, box := range a.find(func(n *html.Node) bool { return strings.Contains(attr(n, "class"), "error-summary") }) {
		for n := range box.Descendants() {
			if n.Type == html.ElementNode && n.Data == "a" {
				id := strings.TrimPrefix(attr(n, "href"), "#")
				controls := a.find(func(c *html.Node) bool { return attr(c, "id") == id })
				if len(controls) != 1 {
					a.t.Errorf("summary links to #%s, which %d elements have", id, len(controls))
					continue
				}
				got[attr(controls[0], "name")] = textOf(n)
			}
		}
	}
	for field, words := range want {
		if !strings.Contains(got[field], words) {
			a.t.Errorf("summary for field %q is %q, want %q", field, got[field], words)
		}
	}
	if len(got) != len(want) {
		a.t.Errorf("summary has %d linked faults %v, want %d", len(got), got, len(want))
	}
}

// fields reads every control of the form that posts to action, as a browser would send it.
func (a answer) fields(action string) url.Values {
	a.t.Helper()
	out := url.Values{}
	forms := a.find(func(n *html.Node) bool { return n.Data == "form" && attr(n, "action") == action })
	if len(forms) == 0 {
		a.t.Fatalf("page %q has no form for %s", a.title(), action)
	}
	for n := range forms[0].Descendants() {
		if n.Type != html.ElementNode || attr(n, "name") == "" {
			continue
		}
		switch n.Data {
		case "input":
			kind := attr(n, "type")
			if (kind == "radio" || kind == "checkbox") && !has(n, "checked") {
				continue
			}
			out.Add(attr(n, "name"), attr(n, "value"))
		case "textarea":
			out.Add(attr(n, "name"), strings.TrimPrefix(textNodes(n), "\n"))
		case "select":
			out.Add(attr(n, "name"), chosen(n))
		}
	}
	return out
}

func has(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

func textNodes(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

func chosen(sel *html.Node) string {
	first, have := "", false
	for n := range sel.Descendants() {
		if n.Type == html.ElementNode && n.Data == "option" {
			if has(n, "selected") {
				return attr(n, "value")
			}
			if !have {
				first, have = attr(n, "value"), true
			}
		}
	}
	return first
}

// with sets fields of a form: name, value, name, value.
func with(v url.Values, pairs ...string) url.Values {
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Set(pairs[i], pairs[i+1])
	}
	return v
}

// aJob makes a job through its form and returns its path. The names are invented.
func (b *browser) aJob() string {
	b.s.t.Helper()
	v := with(b.page("/jobs/new").fields("/jobs"), "ref", "NB-0042", "name", "Back deck", "site", "14 Example Lane, Sampleton", "owner", "Olive Sample",
		"builder", "Sample Decks", "contact", "555 0100", "permit", "S-1001", "authority", "Sampleton building office",
		"rule_set", "irc-2018", "units", "in", "zone", "America/Chicago", "begun", "2026-05-01")
	a := b.post("/jobs", v).want(http.StatusSeeOther)
	return a.location
}

// aRun describes a level run of two bays through its form and returns its path.
func (b *browser) aRun(job string) string {
	b.s.t.Helper()
	v := with(b.page(job+"/runs/new?kind=level").fields(job+"/runs"), "label", "R1", "length", "140", "deck_height", "48", "joists", "across")
	return b.post(job+"/runs", v).want(http.StatusSeeOther).location
}
