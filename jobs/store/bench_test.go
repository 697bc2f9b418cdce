package store_test

import (
	"context"
	"fmt"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// big makes a job with 50 runs, 1,000 readings and 500 photographs.
func big(b *testing.B) *site {
	b.Helper()
	x := newSite(b, open(b))
	for i := range 50 {
		x.run(b, fmt.Sprintf("R%d", i+1), "144")
	}
	var inputs []jobs.ReadingInput
	for _, c := range x.sheet(b).Checks {
		if c.Check.Ask == checklist.AskSeen && len(inputs) < 1000 {
			inputs = append(inputs, x.answer(c.Check))
		}
	}
	x.take(b, inputs...)
	place := x.record(b).Runs[0].ID
	var photos []jobs.PhotoInput
	for n := range 500 {
		photos = append(photos, jobs.PhotoInput{Facts: facts(n), Name: "IMG.jpg", PlaceID: place, Stage: "framing"})
	}
	if _, err := x.service.AddPhotos(context.Background(), crew, x.job, photos); err != nil {
		b.Fatal(err)
	}
	r := x.record(b)
	if len(r.Runs) != 50 || len(r.Readings) != 1000 || len(r.Photos) != 500 {
		b.Fatalf("the job has %d runs, %d readings, %d photographs", len(r.Runs), len(r.Readings), len(r.Photos))
	}
	return x
}

// BenchmarkLoad reads the big job from the tables.
func BenchmarkLoad(b *testing.B) {
	x := big(b)
	for b.Loop() {
		if err := x.store.View(context.Background(), func(tx jobs.Tx) error {
			_, err := tx.Load(x.job)
			return err
		}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAppendReading adds one reading's event and row to the big job, in a transaction of its own.
func BenchmarkAppendReading(b *testing.B) {
	x := big(b)
	r := x.record(b)
	reading, head := r.Readings[0], r.Head
	n := 0
	for b.Loop() {
		n++
		reading.ID = fmt.Sprint("bench-", n)
		e, err := sealed(x.job, head, jobs.EvReadingTaken, jobs.Change{Reading: &reading})
		if err != nil {
			b.Fatal(err)
		}
		if err := x.store.Update(context.Background(), func(tx jobs.Tx) error { return tx.Append(e) }); err != nil {
			b.Fatal(err)
		}
		head = e.Head()
	}
}

// BenchmarkTakeReading is the whole use case: judge one reading on the big job's sheet, and store it.
func BenchmarkTakeReading(b *testing.B) {
	x := big(b)
	in := x.answer(x.check(b, "framing.blocking").Check)
	for b.Loop() {
		x.take(b, in)
	}
}

// BenchmarkCheckChains checks the big job.
func BenchmarkCheckChains(b *testing.B) {
	x := big(b)
	for b.Loop() {
		if found, err := x.store.CheckChains(context.Background(), b.TempDir()+"/scratch.db"); err != nil || len(found) > 0 {
			b.Fatal(found, err)
		}
	}
}
