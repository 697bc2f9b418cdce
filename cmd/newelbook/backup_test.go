package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"testing"

	"newelbook/jobs"
)

// writeOn takes readings and photographs until it is told to stop. Each round is told on rounds.
func (d *data) writeOn(ctx context.Context, job, check string, pictures [][]byte, stop <-chan struct{}, rounds chan<- int) error {
	for n := 1; ; n++ {
		if _, err := d.service.TakeReadings(ctx, byBuilder(), job, []jobs.ReadingInput{{Field: "text", CheckID: check, Text: fmt.Sprintf("40 %d/16", n%15+1)}}); err != nil {
			return err
		}
		if n <= len(pictures) {
			facts, err := d.media.Intake(ctx, bytes.NewReader(pictures[n-1]))
			if err != nil {
				return err
			}
			if _, err := d.service.AddPhotos(ctx, byBuilder(), job, []jobs.PhotoInput{{Facts: facts, Name: "IMG.jpg", PlaceID: "job", Stage: "framing"}}); err != nil {
				return err
			}
		}
		select {
		case <-stop:
			return nil
		case rounds <- n:
		default:
		}
	}
}

// A backup that is made while somebody goes on writing is sound, restores, and holds the beginning of the chain that goes
// on without it.
func TestBackupWhileWritesGoOn(t *testing.T) {
	dir := t.TempDir()
	live := filepath.Join(dir, "live")
	job := newFolder(t, live)
	d := open(t, live)
	opening := checkAt(t, d.record(t, job), "R1-B1", "posts.opening_bottom").Check.ID
	var pictures [][]byte
	for shade := range 40 {
		pictures = append(pictures, photo(t, uint8(shade)))
	}
	stop, rounds, ended := make(chan struct{}), make(chan int), make(chan error, 1)
	go func() { ended <- d.writeOn(t.Context(), job, opening, pictures, stop, rounds) }()
	// round waits until one more round has begun and ended, or the writer is at fault.
	round := func() {
		t.Helper()
		for range 2 {
			select {
			case <-rounds:
			case err := <-ended:
				t.Fatal(errors.Join(errors.New("the writer ended"), err))
			}
		}
	}
	copies := []string{"b1", "b2", "b3"}
	for _, name := range copies {
		round()
		must(t, "", "backup", filepath.Join(dir, name), "--data", live)
		round()
	}
	close(stop)
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	whole := d.chain(t, job)
	before := 0
	for _, name := range copies {
		restored := filepath.Join(dir, name+"-restored")
		must(t, "", "restore", filepath.Join(dir, name), "--data", restored)
		sound(t, restored)
		r := open(t, restored)
		part := r.chain(t, job)
		if len(part) <= before || len(part) >= len(whole) {
			t.Errorf("%s has %d events; the backup before has %d and the live chain %d", name, len(part), before, len(whole))
			continue
		}
		before = len(part)
		if !reflect.DeepEqual(part, whole[:len(part)]) {
			t.Errorf("the %d events of %s are not the first of the live chain", len(part), name)
		}
		if got, want := r.record(t, job).Head, part[len(part)-1].Head(); got != want {
			t.Errorf("the record of %s stands at %+v, want %+v", name, got, want)
		}
	}
	sound(t, live)
}
