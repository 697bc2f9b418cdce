package server_test

import (
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/server"
)

func TestNewRefusesMissing(t *testing.T) {
	if _, err := server.New(server.Deps{}); err == nil {
		t.Error("New without a service gives no error")
	}
}

func TestStatusOf(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{&jobs.InvalidError{}, 422}, {jobs.ErrNotFound, 404}, {media.ErrNotFound, 404}, {jobs.ErrGone, 410},
		{&jobs.ConflictError{}, 409}, {&jobs.FormReusedError{}, 409}, {&jobs.BlockedError{}, 409}, {jobs.ErrForbidden, 403},
		{media.ErrTooLarge, 413}, {&http.MaxBytesError{}, 413}, {media.ErrUnsupported, 415}, {media.ErrCorrupt, 415}, {media.ErrStorageFull, 507},
		{errors.New("anything else"), 500},
	} {
		for _, err := range []error{c.err, fmt.Errorf("doing this: %w", c.err)} {
			if got := server.StatusOf(err); got != c.want {
				t.Errorf("StatusOf(%v) = %d, want %d", err, got, c.want)
			}
		}
	}
}

func TestRedact(t *testing.T) {
	for _, c := range []struct{ path, want string }{
		{"/jobs/abc", "/jobs/abc"}, {"/g/secret", "/g/(token)"}, {"/g/secret/pack.pdf", "/g/(token)/pack.pdf"}, {"/setup/secret", "/setup/(token)"},
	} {
		if got := server.Redact(c.path); got != c.want {
			t.Errorf("Redact(%q) = %q, want %q", c.path, got, c.want)
		}
	}
}

func TestLocal(t *testing.T) {
	for _, c := range []struct{ address, want string }{
		{"/jobs?a=1", "/jobs?a=1"}, {"/jobs/x/check?id=k%2FP3.a", "/jobs/x/check?id=k%2FP3.a"}, {"", "/"}, {"jobs", "/"}, {"//elsewhere.example/", "/"},
		{"https://elsewhere.example/", "/"}, {`/\elsewhere.example`, "/"}, {"/\r\nX: y", "/"}, {"javascript:alert(1)", "/"},
	} {
		if got := server.Local(c.address, "/"); got != c.want {
			t.Errorf("Local(%q) = %q, want %q", c.address, got, c.want)
		}
	}
}

func TestHeaders(t *testing.T) {
	s := newSite(t).withPeople()
	for _, path := range []string{"/sign-in", "/nowhere", "/jobs"} {
		a := s.visitor().get(path)
		for name, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "same-origin", "Cache-Control": "private, no-cache",
		} {
			if got := a.header.Get(name); got != want {
				t.Errorf("%s: %s = %q, want %q", path, name, got, want)
			}
		}
		csp := a.header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'self'", "frame-ancestors 'none'", "form-action 'self'"} {
			if !strings.Contains(csp, part) {
				t.Errorf("%s: policy %q lacks %s", path, csp, part)
			}
		}
		if strings.Contains(csp, "unsafe") {
			t.Errorf("%s: policy %q is loose", path, csp)
		}
		if a.header.Get("X-Request-Id") == "" {
			t.Errorf("%s: no request id", path)
		}
	}
}

func TestNoPage(t *testing.T) {
	s := newSite(t).withPeople()
	a := s.visitor().get("/nowhere").want(http.StatusNotFound)
	a.says("There is nothing at this address")
	s.as("ada").get("/jobs/nosuchjob").want(http.StatusNotFound)
	s.visitor().post("/assets/sheet.css", nil).want(http.StatusMethodNotAllowed)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodHead, s.URL+"/sign-in", nil)
	if err != nil {
		t.Fatal(err)
	}
	s.visitor().do(r).want(http.StatusOK)
}

func TestAsset(t *testing.T) {
	s := newSite(t)
	page := s.visitor().page("/sign-in")
	i := strings.Index(page.body, "/assets/sheet.")
	path := page.body[i : i+strings.IndexByte(page.body[i:], '"')]
	a := s.visitor().page(path)
	if got := a.header.Get("Cache-Control"); got != "public, max-age=31536000, immutable" {
		t.Errorf("Cache-Control of %s = %q", path, got)
	}
	s.visitor().get("/assets/sheet.css").want(http.StatusNotFound)
}

func TestCrossSite(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	for _, header := range [][2]string{{"Sec-Fetch-Site", "cross-site"}, {"Origin", "https://elsewhere.example"}} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/sign-out", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set(header[0], header[1])
		a := b.do(r).want(http.StatusForbidden)
		a.says("came from another site")
		if a.header.Get("Content-Security-Policy") == "" {
			t.Error("the refusal has no policy")
		}
	}
	b.page("/jobs")
}

func TestTooLong(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	b.post("/jobs", url.Values{"name": {strings.Repeat("x", 2<<20)}}).want(http.StatusRequestEntityTooLarge)
	many := url.Values{}
	for i := range 6000 {
		many.Set(fmt.Sprint("f", i), "x")
	}
	b.post("/jobs", many).want(http.StatusRequestEntityTooLarge)
}

// TestAccess walks every route: nobody signed out gets past sign-in, and crew get nothing that is the builder's.
func TestAccess(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	run := ada.aRun(job)
	ben := s.as("ben")
	fill := strings.NewReplacer(":job", strings.TrimPrefix(job, "/jobs/"), ":run", run[strings.LastIndex(run, "/")+1:], ":stage", "framing", "*name", "nothing")
	open := map[string]bool{"/setup/:token": true, "/sign-in": true, "/sign-out": true, "/assets/*name": true}
	builds := map[string]bool{
		"/people": true, "/jobs/new": true, "POST /jobs": true, "/jobs/:job/particulars": true, "/jobs/:job/specification": true, "/jobs/:job/amendments": true,
		"/jobs/:job/runs/new": true, "POST /jobs/:job/runs": true, "/jobs/:job/runs/:run/edit": true, "POST /jobs/:job/runs/:run": true, "/jobs/:job/runs/:run/retired": true,
		"/jobs/:job/stages/:stage/reopening": true, "POST /jobs/:job/deviations/:dev": true, "POST /jobs/:job/packs": true, "/jobs/:job/links": true,
		"/jobs/:job/links/:link/revoked": true, "POST /jobs/:job/papers/:paper": true, "/jobs/:job/papers/:paper/withdrawal": true,
	}
	for _, r := range server.RouteTable() {
		name := r.Method + " " + r.Path
		if want := open[r.Path] || strings.HasPrefix(r.Path, "/g/"); r.Anyone != want {
			t.Errorf("%s is open to anyone: %v, want %v", name, r.Anyone, want)
		}
		if (builds[r.Path] || builds[name]) && !r.Builds {
			t.Errorf("%s is not the builder's alone", name)
		}
		if r.Anyone {
			continue
		}
		send := func(b *browser) answer {
			if r.Method == http.MethodGet {
				return b.get(fill.Replace(r.Path))
			}
			return b.post(fill.Replace(r.Path), nil)
		}
		if a := send(s.visitor()); a.status != http.StatusSeeOther || !strings.HasPrefix(a.location, "/sign-in") {
			t.Errorf("%s signed out: %d to %q, want 303 to /sign-in", name, a.status, a.location)
		}
		a := send(ben)
		switch {
		case r.Builds && a.status != http.StatusForbidden:
			t.Errorf("%s as crew: %d, want 403", name, a.status)
		case !r.Builds && a.status == http.StatusForbidden:
			t.Errorf("%s as crew: 403 though crew may", name)
		case a.status == http.StatusInternalServerError:
			t.Errorf("%s as crew: 500", name)
		}
	}
}

func TestLog(t *testing.T) {
	s := newSite(t).withPeople()
	s.visitor().get("/setup/not-the-token").want(http.StatusNotFound)
	s.visitor().get("/sign-in?next=/jobs/secretquery")
	log := s.log.String()
	for _, secret := range []string{"not-the-token", "secretquery"} {
		if strings.Contains(log, secret) {
			t.Errorf("the log has %q:\n%s", secret, log)
		}
	}
	if !strings.Contains(log, "/setup/(token)") {
		t.Errorf("the log has no line of the request:\n%s", log)
	}
}

// formID is what each showing of a form has of its own.
var formID = regexp.MustCompile(`name="form_id" value="[^"]*"`)

// TestCompressed reads a page, the style sheet and a typeface as a browser asks for them: what is text comes smaller and is the same once
// it is unpacked, and whoever does not read gzip gets it plain.
func TestCompressed(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	page := b.page("/jobs/new")
	sheet := page.body[strings.Index(page.body, "/assets/sheet."):]
	sheet = sheet[:strings.IndexByte(sheet, '"')]
	styles := b.page(sheet).body
	font := styles[strings.Index(styles, "/assets/"):]
	font = font[:strings.IndexAny(font, `")`)]
	for _, c := range []struct {
		path string
		want string
	}{{"/jobs/new", "gzip"}, {sheet, "gzip"}, {font, ""}} {
		ask := func(encoding string) answer {
			r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+c.path, nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Header.Set("Accept-Encoding", encoding)
			return b.do(r).want(http.StatusOK)
		}
		packed, plain := ask("gzip"), ask("identity")
		if got := packed.header.Get("Content-Encoding"); got != c.want {
			t.Errorf("%s: Content-Encoding %q, want %q", c.path, got, c.want)
		}
		if got := plain.header.Get("Content-Encoding"); got != "" {
			t.Errorf("%s: Content-Encoding %q for a reader of plain text", c.path, got)
		}
		body := packed.body
		if c.want != "" {
			if len(body) > len(plain.body)/2 {
				t.Errorf("%s: %d bytes of %d", c.path, len(body), len(plain.body))
			}
			z, err := gzip.NewReader(strings.NewReader(body))
			if err != nil {
				t.Fatal(err)
			}
			whole, err := io.ReadAll(z)
			if err != nil {
				t.Fatalf("%s: %v", c.path, err)
			}
			body = string(whole)
		}
		same := func(s string) string { return formID.ReplaceAllString(s, "") }
		if same(body) != same(plain.body) {
			t.Errorf("%s: unpacked it differs from the plain one", c.path)
		}
	}
}
