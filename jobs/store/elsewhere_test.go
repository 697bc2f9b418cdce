package store_test

import (
	"testing"

	"newelbook/jobs"
)

// What was seen at a post is marked when the layout has put the post of that number elsewhere, and not for a little.
func TestSeenElsewhere(t *testing.T) {
	x := newSite(t, open(t))
	id := x.run(t, "R1", "144")
	at := func(place, key string) *jobs.CheckState {
		t.Helper()
		c, ok := x.sheet(t).Check(id + "/" + place + "." + key)
		if !ok {
			t.Fatalf("no check %s at %s", key, place)
		}
		return c
	}
	places := map[string]string{"P1": "framing.blocking", "P2": "framing.blocking", "B1": "rails.connectors", "B2": "rails.connectors"}
	for place, key := range places {
		x.take(t, x.answer(at(place, key).Check))
	}
	for _, change := range []struct {
		length string
		moved  map[string]bool
	}{
		{"143", nil},
		{"120", map[string]bool{"P2": true, "B1": true, "B2": true}},
		{"144", nil},
	} {
		run, _ := x.record(t).Run(id)
		if _, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{ID: id, Version: run.Version, Fields: map[string]string{"length": change.length}}); err != nil {
			t.Fatal(err)
		}
		for place, key := range places {
			if got := at(place, key); got.Moved != change.moved[place] || got.Current == nil {
				t.Errorf("with the run %s long, %s at %s is moved %v, want %v", change.length, key, place, got.Moved, change.moved[place])
			}
		}
	}
}
