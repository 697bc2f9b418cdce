package main_test

import (
	"bytes"
	"testing"
	"time"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views"
)

// hundredBays is a level run of 7,200 in; at no more than 72 in between post centres it comes to a hundred bays.
const hundredBays = "600'"

// BenchmarkLayout lays out a run of a hundred bays, and fetches the page of the same run: rendered and sent whole over
// loopback. It reports the layout's share of the page's time, both as medians.
func BenchmarkLayout(b *testing.B) {
	x := newBenchSite(b)
	id := x.run(b, "R1", hundredBays)
	v := x.serve(b, "")
	run, ok := x.record(b).Run(id)
	if !ok {
		b.Fatal("the run is gone")
	}
	base, err := codes.Get("irc-2018")
	if err != nil {
		b.Fatal(err)
	}
	rules, err := codes.Apply(base, nil)
	if err != nil {
		b.Fatal(err)
	}
	in := layout.Input{Run: run.Run, Spec: x.record(b).Job.Spec, Rules: rules, Unit: length.Inches}
	if n := len(layout.Compute(in).Bays); n != 100 {
		b.Fatalf("%d bays, want 100", n)
	}
	var computed, page []time.Duration
	var body bytes.Buffer
	for b.Loop() {
		began := time.Now()
		layout.Compute(in)
		computed = append(computed, time.Since(began))
		took, err := v.get(b.Context(), views.RunURL(x.job, id), &body)
		if err != nil {
			b.Fatal(err)
		}
		page = append(page, took)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(float64(body.Len())/1024, "KiB")
	b.ReportMetric(milliseconds(quantile(computed, 50)), "layout-ms")
	b.ReportMetric(milliseconds(quantile(page, 50)), "page-ms")
	b.ReportMetric(ratio(computed, page, 50), "layout/page")
}
