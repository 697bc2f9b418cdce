package store_test

import (
	"errors"
	"sync"
	"testing"

	"newelbook/jobs"
	"newelbook/media"
)

// A check that asks for a photograph is not answered by the word that there is one.
func TestNoPhotographNoYes(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	c := x.check(t, "framing.photo_inside").Check
	for _, seen := range []string{"yes", "no"} {
		var bad *jobs.InvalidError
		if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{Field: "f", CheckID: c.ID, Seen: seen}}); !errors.As(err, &bad) || bad.Fields[0].Field != "f" {
			t.Errorf("%s with no photograph = %v, want one fault in field f", seen, err)
		}
	}
	in := jobs.PhotoInput{Facts: media.Photo{ID: media.ID{1}, Kind: media.JPEG, Bytes: 1, Width: 1, Height: 1}, CheckID: c.ID}
	if _, err := x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{in}); err != nil {
		t.Fatal(err)
	}
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Seen: "yes"})
	var bad *jobs.InvalidError
	if _, err := x.service.SameRest(t.Context(), crew, x.job, c.ID, nil); !errors.As(err, &bad) {
		t.Errorf("the rest of the photographs are the same = %v, want it refused", err)
	}
	x.agree(t)
}

// TestOnePhotographAtOnce files one original to one place from many sides at once: the record has it once, and all are told of the same.
func TestOnePhotographAtOnce(t *testing.T) {
	x := newSite(t, open(t))
	const times = 8
	added, errs := make([][]jobs.PhotoAdded, times), make([]error, times)
	var start, all sync.WaitGroup
	start.Add(1)
	for i := range times {
		all.Go(func() {
			start.Wait()
			added[i], errs[i] = x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{{Facts: facts(1), Name: "IMG.jpg", PlaceID: "job", Stage: "framing"}})
		})
	}
	start.Done()
	all.Wait()
	brought := 0
	for i := range times {
		if errs[i] != nil || len(added[i]) != 1 || added[i][0].ID != added[0][0].ID {
			t.Fatalf("call %d: %+v, %v", i, added[i], errs[i])
		}
		if !added[i][0].There {
			brought++
		}
	}
	if n := len(x.record(t).Photos); n != 1 || brought != 1 {
		t.Errorf("%d photographs on record, brought by %d, want 1 and 1", n, brought)
	}
}
