package main_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/views"
)

// BenchmarkWall fetches a page of the wall of a job with 10,000 photographs and the same page of a job with 100 that has the
// same runs and checks, in turn, and reports how many times longer the large one takes: the whole wall, its last page, three
// searches and a large view.
func BenchmarkWall(b *testing.B) {
	small, large := newBenchSite(b), newBenchSite(b)
	small.hang(b, 100)
	large.hang(b, 10_000)
	a, z := small.serve(b, filepath.Join(b.TempDir(), "none")), large.serve(b, filepath.Join(b.TempDir(), "none"))
	at := func(x *benchSite, path string) string {
		if path == "view" {
			return views.PhotoURL(x.job, x.record(b).Photos[50].ID)
		}
		return views.JobURL(x.job, "photos") + path
	}
	for _, c := range []struct{ name, path string }{
		{"all", "?show=taken"}, {"last", "?show=taken&page=1000000"}, {"stage", "?show=taken&stage=framing"}, {"words", "?show=taken&q=west"},
		{"two", "?show=taken&stage=framing&q=west"}, {"view", "view"},
	} {
		b.Run(c.name, func(b *testing.B) {
			var took [2][]time.Duration
			var size [2]int
			var body bytes.Buffer
			for b.Loop() {
				for i, v := range []*visitor{a, z} {
					x := []*benchSite{small, large}[i]
					path := at(x, c.path)
					for range 10 {
						d, err := v.get(b.Context(), path, &body)
						if err != nil {
							b.Fatal(err)
						}
						took[i], size[i] = append(took[i], d), body.Len()
					}
				}
			}
			b.ReportMetric(0, "ns/op") // of two jobs together it would say nothing
			b.ReportMetric(float64(size[0])/1024, "small-KiB")
			b.ReportMetric(float64(size[1])/1024, "large-KiB")
			b.ReportMetric(milliseconds(quantile(took[1], 50)), "p50-ms")
			b.ReportMetric(ratio(took[1], took[0], 50), "p50/small")
			b.ReportMetric(ratio(took[1], took[0], 99), "p99/small")
		})
	}
}

// hang makes five runs and files n photographs to their checks by turns.
func (x *benchSite) hang(b *testing.B, n int) {
	b.Helper()
	for i := range 5 {
		x.run(b, fmt.Sprintf("R%d", i+1), bigLength)
	}
	var checks []string
	for _, c := range x.sheet(b).Checks {
		if c.Check.Photo != checklist.PhotoNone {
			checks = append(checks, c.Check.ID)
		}
	}
	var inputs []jobs.PhotoInput
	for i := range n {
		caption := fmt.Sprintf("Bolt %d", i)
		if i < 50 { // so that a search finds as many in both
			caption = "Seen from the west"
		}
		inputs = append(inputs, jobs.PhotoInput{Facts: madeUp(i), Name: fmt.Sprintf("IMG_%05d.jpg", i), Caption: caption, CheckID: checks[i%len(checks)]})
	}
	for part := range slices.Chunk(inputs, 500) {
		if _, err := x.service.AddPhotos(b.Context(), x.builder, x.job, part); err != nil {
			b.Fatal(err)
		}
	}
	if got := len(x.record(b).Photos); got != n {
		b.Fatalf("the job has %d photographs, want %d", got, n)
	}
}
