package main_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media"
	"newelbook/server"
	"newelbook/views/pack"
)

// How large the big job is, and how long each of its runs. Twelve feet come to two bays.
const (
	bigRuns     = 50
	bigReadings = 1000
	bigPhotos   = 500
	bigLength   = "12'"
)

// benchPassword is the builder's in benchmarks.
const benchPassword = "four posts in a row"

// benchSite is a data folder of its own with an invented builder, and one job. No verdict or length stands in it: what is
// read comes from the layout.
type benchSite struct {
	dir     string
	store   *store.Store
	media   *media.Library
	service *jobs.Service
	builder jobs.By
	job     string // id
	files   string // id of the job whose only photographs are the files that pages are held against
}

// newBenchSite opens an empty data folder and makes the builder's account and an empty job.
func newBenchSite(b *testing.B) *benchSite {
	b.Helper()
	x := &benchSite{dir: b.TempDir()}
	ctx := b.Context()
	var err error
	if x.store, err = store.Open(ctx, filepath.Join(x.dir, "newelbook.db"), store.Options{Now: time.Now}); err != nil {
		b.Fatal(err)
	}
	if x.media, err = media.Open(x.dir, media.Limits{}); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { x.close(b) })
	x.service = jobs.NewService(x.store, time.Now)
	token, err := x.service.SetupToken(ctx)
	if err != nil {
		b.Fatal(err)
	}
	hash, err := server.HashPassword(benchPassword)
	if err != nil {
		b.Fatal(err)
	}
	a, err := x.service.Setup(ctx, token, jobs.AccountInput{Name: "Ada Sample (invented)", Login: "ada", Hash: hash})
	if err != nil {
		b.Fatal(err)
	}
	x.builder = jobs.By{Actor: a.Actor()}
	x.job, x.files = x.makeJob(b, "S-50"), x.makeJob(b, "S-51")
	return x
}

// makeJob makes an empty job and returns its id.
func (x *benchSite) makeJob(b *testing.B, ref string) string {
	b.Helper()
	id, err := x.service.MakeJob(b.Context(), x.builder, jobs.JobInput{
		Ref: ref, Name: "A long deck (invented)", Site: "1 Sample Lane, Nowhere", Owner: "A. Sample", Builder: "Example Decks", Contact: "decks@example.invalid",
		RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago", Begun: "2026-05-01", Lat: "44.9512", Lon: "-93.1",
		Spec: map[string]string{"bolt_top": "2 1/2", "bolt_bottom": "2 1/2"},
	})
	if err != nil {
		b.Fatal(err)
	}
	return id
}

// close closes the data folder, so that another process may open it. A second call does nothing.
func (x *benchSite) close(b *testing.B) {
	b.Helper()
	if x.store == nil {
		return
	}
	if err := x.media.Close(); err != nil {
		b.Error(err)
	}
	if err := x.store.Close(); err != nil {
		b.Error(err)
	}
	x.store = nil
}

// run saves a level run and returns its id.
func (x *benchSite) run(b *testing.B, label, length string) string {
	b.Helper()
	id, err := x.service.SaveRun(b.Context(), x.builder, x.job, jobs.RunInput{Fields: map[string]string{
		"kind": "level", "label": label, "length": length, "deck_height": "48", "joists": "across", "first_joist": "0",
	}})
	if err != nil {
		b.Fatalf("SaveRun %s: %v", label, err)
	}
	return id
}

func (x *benchSite) record(b *testing.B) *jobs.Record {
	b.Helper()
	r, err := x.service.Record(b.Context(), x.job)
	if err != nil {
		b.Fatal(err)
	}
	return r
}

func (x *benchSite) sheet(b *testing.B) *jobs.Sheet {
	b.Helper()
	s, err := x.record(b).Sheet()
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// fill makes the job big: runs, then readings in the order in which the stages ask for them, every twentieth measured
// one an inch short, then photographs filed to the checks that ask for them.
func (x *benchSite) fill(b *testing.B) {
	b.Helper()
	for i := range bigRuns {
		x.run(b, fmt.Sprintf("R%d", i+1), bigLength)
	}
	var inputs []jobs.ReadingInput
	tapes := 0 // how many of them are measured
	var pictures []jobs.PhotoInput
	for _, c := range x.sheet(b).Checks {
		if in, ok := tapeSays(c.Check, tapes%20 == 19); ok && len(inputs) < bigReadings {
			inputs = append(inputs, in)
			if in.Seen == "" {
				tapes++
			}
		}
		if c.Check.Photo != checklist.PhotoNone && len(pictures) < bigPhotos {
			pictures = append(pictures, jobs.PhotoInput{Facts: madeUp(len(pictures)), Name: "IMG.jpg", CheckID: c.Check.ID})
		}
	}
	for part := range slices.Chunk(inputs, 50) {
		if _, err := x.service.TakeReadings(b.Context(), x.builder, x.job, part); err != nil {
			b.Fatal(err)
		}
	}
	for part := range slices.Chunk(pictures, 50) {
		if _, err := x.service.AddPhotos(b.Context(), x.builder, x.job, part); err != nil {
			b.Fatal(err)
		}
	}
	if r := x.record(b); len(r.Runs) != bigRuns || len(r.Readings) != bigReadings || len(r.Photos) != bigPhotos {
		b.Fatalf("the job has %d runs, %d readings, %d photographs", len(r.Runs), len(r.Readings), len(r.Photos))
	}
}

// tapeSays is what somebody would enter for a check: yes, the number that the layout asks for, or its nominal length, an
// inch less with short. Checks with no such figure are passed over, and so are measured openings, since each would lay a
// bay out again.
func tapeSays(c checklist.Check, short bool) (jobs.ReadingInput, bool) {
	in := jobs.ReadingInput{CheckID: c.ID}
	switch {
	case c.Key == checklist.KeyOpeningBottom, c.Key == checklist.KeyOpeningTop, c.Ask == checklist.AskPhoto:
		return in, false
	case c.Ask == checklist.AskSeen:
		in.Seen = string(checklist.SeenYes)
	case c.Count != nil:
		in.Text = fmt.Sprint(*c.Count)
	case c.Nominal != nil:
		tape := *c.Nominal
		if short {
			tape -= length.Inch
		}
		in.Text = tape.Format(length.InchFraction)
	default:
		return in, false
	}
	return in, true
}

// madeUp is what media would have found in a photograph, made up from a number.
func madeUp(n int) media.Photo {
	var id media.ID
	copy(id[:], fmt.Sprintf("invented photograph %08d", n))
	return media.Photo{ID: id, Kind: media.JPEG, Bytes: int64(100_000 + n), Width: 4000, Height: 3000, Exif: media.Exif{
		Present: true, Orientation: 6, Make: "Example", Model: "Camera 1",
		Capture:  media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: 4, Hour: 9, Minute: 1, Second: n % 60}, Offset: "-05:00", Source: "DateTimeOriginal"},
		Position: &media.Position{Lat: 44.9513, Lon: -93.1001},
	}}
}

// serve serves the site over loopback, and beside it, under /file, one file by http.ServeFile and nothing else.
func (x *benchSite) serve(b *testing.B, file string) *visitor {
	b.Helper()
	issuer := pack.Issuer{Service: x.service, Media: x.media, Dir: filepath.Join(x.dir, "packs"), KeyFile: filepath.Join(x.dir, "signing.key")}
	h, err := server.New(server.Deps{
		Service: x.service, Media: x.media, Packs: &issuer, Desk: pack.NewDesk(issuer, func(_ string, err error) string { return err.Error() }),
		Sessions: x.store.Sessions(), Now: time.Now, Log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	})
	if err != nil {
		b.Fatal(err)
	}
	mux := http.NewServeMux()
	mux.Handle("/", h)
	mux.HandleFunc("GET /file", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, file) })
	s := httptest.NewServer(mux)
	b.Cleanup(s.Close)
	v := newVisitor(b, s.URL)
	v.signIn(b)
	return v
}

// visitor is one browser: it keeps its session and its connection.
type visitor struct {
	http.Client
	base string
}

func newVisitor(b *testing.B, base string) *visitor {
	b.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		b.Fatal(err)
	}
	return &visitor{base: base, Client: http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

// signIn signs the builder in.
func (v *visitor) signIn(b *testing.B) {
	b.Helper()
	form := url.Values{"login": {"ada"}, "password": {benchPassword}}.Encode()
	r, err := http.NewRequestWithContext(b.Context(), http.MethodPost, v.base+"/sign-in", strings.NewReader(form))
	if err != nil {
		b.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	resp, err := v.Do(r)
	if err != nil {
		b.Fatal(err)
	}
	if err := resp.Body.Close(); err != nil || resp.StatusCode != http.StatusSeeOther || resp.Header.Get("Location") != "/jobs" {
		b.Fatalf("sign-in: %s to %q, %v; want 303 to /jobs", resp.Status, resp.Header.Get("Location"), err)
	}
}

// get fetches a page whole into body and says how long that took, from the request to the last byte.
func (v *visitor) get(ctx context.Context, path string, body *bytes.Buffer) (time.Duration, error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, v.base+path, nil)
	if err != nil {
		return 0, err
	}
	body.Reset()
	began := time.Now()
	resp, err := v.Do(r)
	if err != nil {
		return 0, err
	}
	_, err = body.ReadFrom(resp.Body)
	took := time.Since(began)
	if err := errors.Join(err, resp.Body.Close()); err != nil {
		return 0, err
	}
	if resp.StatusCode != http.StatusOK {
		return 0, fmt.Errorf("GET %s: %s", path, resp.Status)
	}
	return took, nil
}
