package main_test

import (
	"bytes"
	"fmt"
	"runtime"
	"slices"
	"testing"
	"time"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/checklist/materials"
	"newelbook/views/draw"
)

// baysARun is how many bays each run of the benchmark's job has.
const baysARun = 10

// jobOfBays is an invented job of level runs joined at corners, ten bays each, every run of another length.
func jobOfBays(bays int) layout.Job {
	job := layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: layout.DefaultSpec(length.Inches)}
	for i := range bays / baysARun {
		r := layout.DefaultRun(layout.Level, length.Inches)
		r.ID, r.Label, r.Joists = fmt.Sprintf("r%d", i), fmt.Sprintf("R%d", i+1), layout.JoistsAcross
		r.Length = 680*length.Inch + length.Length(i%37)*length.Inch
		r.Start, r.End = layout.EndFree, layout.EndCorner
		if i > 0 {
			r.Start, r.StartAt = layout.EndCorner, fmt.Sprintf("R%d", i)
			r.Turn = 90
			if i%4 > 1 {
				r.Turn = -90
			}
		}
		job.Runs = append(job.Runs, r)
	}
	return job
}

// BenchmarkBays lays out, draws and plans the cutting of jobs of ten to ten thousand bays, and reports time and allocations
// for one bay of each: layout, drawings written as SVG (every run's elevation, the framing at every post, the marks of every
// rail), materials with their cutting plan.
func BenchmarkBays(b *testing.B) {
	for _, bays := range []int{10, 100, 1_000, 10_000} {
		job := jobOfBays(bays)
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		for _, l := range layouts {
			n += len(l.Bays)
			for _, p := range l.Problems {
				if p.Fatal {
					b.Fatal(p.Sentence)
				}
			}
		}
		if n != bays {
			b.Fatalf("%d bays, want %d", n, bays)
		}
		b.Run(fmt.Sprintf("layout/bays=%d", bays), perBay(bays, func() error {
			_, err := layout.ComputeJob(job)
			return err
		}))
		for _, d := range drawings {
			b.Run(fmt.Sprintf("%s/bays=%d", d.name, bays), perBay(bays, func() error { return drawAll(job, layouts, d.sheets) }))
		}
		b.Run(fmt.Sprintf("cutting/bays=%d", bays), perBay(bays, func() error {
			materials.Make(materials.Runs(job, layouts), materials.Site{}, job.Units.Style())
			return nil
		}))
	}
}

// perBay runs the work and reports what one bay of it took.
func perBay(bays int, work func() error) func(*testing.B) {
	return func(b *testing.B) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		began, times := time.Now(), 0
		for b.Loop() {
			if err := work(); err != nil {
				b.Fatal(err)
			}
			times++
		}
		took := time.Since(began)
		runtime.ReadMemStats(&after)
		each := float64(bays) * float64(times)
		b.ReportMetric(0, "ns/op")
		b.ReportMetric(float64(took.Nanoseconds())/each, "ns/bay")
		b.ReportMetric(float64(after.Mallocs-before.Mallocs)/each, "allocs/bay")
	}
}

// drawings are the kinds of drawing that the pages of a run show.
var drawings = []struct {
	name   string
	sheets func(layout.Job, layout.Run, layout.Layout) []draw.Sheet
}{
	{"elevations", func(job layout.Job, r layout.Run, l layout.Layout) []draw.Sheet {
		o := draw.ElevationOptions{Spec: job.Spec, Run: r, Style: job.Units.Style(), Width: 260, Height: 120}
		return []draw.Sheet{draw.Elevation(l, o)}
	}},
	{"details", func(job layout.Job, r layout.Run, l layout.Layout) []draw.Sheet {
		var out []draw.Sheet
		for _, p := range l.Posts {
			if p.SharedAs == "" {
				out = append(out, draw.Detail(l, p, draw.DetailOptions{Width: 260, Style: job.Units.Style(), Run: r, Spec: job.Spec}))
			}
		}
		return out
	}},
	{"strips", func(job layout.Job, r layout.Run, l layout.Layout) []draw.Sheet {
		return slices.Concat(draw.Strips(l, r, job.Spec, draw.StripOptions{Width: 260, Style: job.Units.Style()})...)
	}},
}

// drawAll writes one kind of drawing of every run.
func drawAll(job layout.Job, layouts []layout.Layout, sheets func(layout.Job, layout.Run, layout.Layout) []draw.Sheet) error {
	var out bytes.Buffer
	for i, l := range layouts {
		for _, sheet := range sheets(job, job.Runs[i], l) {
			out.Reset()
			if err := draw.SVG(&out, sheet); err != nil {
				return err
			}
		}
	}
	return nil
}
