package main_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

// block is how many fetches of one kind follow one another before those of the next kind.
const block = 50

// BenchmarkPage fetches pages of a job with 50 runs, 1,000 readings and 500 photographs, and the same bytes as a static file
// from the same server, and reports how many times longer the page takes, at the median and at the 99th percentile. There are
// two references. "original" is the server's own way to a file: it passes the same middleware (session, account, log line) and
// finds its file through a record. "file" is http.ServeFile alone: no middleware, no session, no record.
//
// The three are fetched in turn, fifty of one and then fifty of the next, so that the machine's other work falls on all of
// them. One iteration is a block of each: -benchtime 50x makes 2,500 fetches of each, and fewer than 2,000 say little of a 99th
// percentile.
func BenchmarkPage(b *testing.B) {
	x := newBenchSite(b)
	x.fill(b)
	file := filepath.Join(b.TempDir(), "page.html")
	v := x.serve(b, file)
	run := x.record(b).Runs[0].ID
	for _, p := range []struct{ name, path string }{
		{"job", views.JobURL(x.job)},
		{"run", views.RunURL(x.job, run)},
		{"photos", views.JobURL(x.job, "photos")},
		{"stage", views.StageURL(x.job, "framing")},
		{"jobs", "/jobs"},
	} {
		b.Run(p.name, func(b *testing.B) { x.pageAgainstFile(b, v, p.path, file) })
	}
}

func (x *benchSite) pageAgainstFile(b *testing.B, v *visitor, path, file string) {
	var body bytes.Buffer
	if _, err := v.get(b.Context(), path, &body); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(file, body.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	size := body.Len()
	kinds := []struct {
		path string
		took []time.Duration
	}{{path: path}, {path: x.original(b, body.Bytes())}, {path: "/file"}}
	for b.Loop() {
		for i := range kinds {
			k := &kinds[i]
			for range block {
				took, err := v.get(b.Context(), k.path, &body)
				if err != nil {
					b.Fatal(err)
				}
				if body.Len() != size {
					b.Fatalf("%s has %d bytes, want %d", k.path, body.Len(), size)
				}
				k.took = append(k.took, took)
			}
		}
	}
	page, original, alone := kinds[0].took, kinds[1].took, kinds[2].took
	b.ReportMetric(0, "ns/op") // of three kinds together it would say nothing
	b.ReportMetric(float64(size)/1024, "KiB")
	b.ReportMetric(milliseconds(quantile(page, 50)), "p50-ms")
	b.ReportMetric(milliseconds(quantile(page, 99)), "p99-ms")
	b.ReportMetric(ratio(page, original, 50), "p50/original")
	b.ReportMetric(ratio(page, original, 99), "p99/original")
	b.ReportMetric(ratio(page, alone, 50), "p50/file")
	b.ReportMetric(ratio(page, alone, 99), "p99/file")
}

// original holds bytes as the original of a photograph and returns where the server sends them from.
func (x *benchSite) original(b *testing.B, body []byte) string {
	b.Helper()
	held, err := media.Put(b.Context(), x.media.Originals(), bytes.NewReader(body))
	if err != nil {
		b.Fatal(err)
	}
	facts := madeUp(0)
	facts.ID, facts.Kind, facts.Bytes = held.ID, media.JPEG, held.Bytes
	ids, err := x.service.AddPhotos(b.Context(), x.builder, x.files, []jobs.PhotoInput{{Facts: facts, Name: "page.jpg", PlaceID: "job", Stage: "framing"}})
	if err != nil {
		b.Fatal(err)
	}
	return views.PhotoURL(x.files, ids[0].ID, "original")
}

func quantile(of []time.Duration, percent int) time.Duration {
	slices.Sort(of)
	return of[min(len(of)-1, len(of)*percent/100)]
}

func ratio(of, reference []time.Duration, percent int) float64 {
	return float64(quantile(of, percent)) / float64(quantile(reference, percent))
}

func milliseconds(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }
