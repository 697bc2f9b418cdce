package store_test

import (
	"errors"
	"testing"

	"newelbook/jobs"
)

// A run shares a post with a run before it and with no other, and goes on sharing it under the other's new label.
func TestSharedPost(t *testing.T) {
	x := newSite(t, open(t))
	first := x.run(t, "R1", "100")
	corner := func(label, at string) (string, error) {
		return x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{Fields: map[string]string{
			"kind": "level", "label": label, "length": "60", "deck_height": "48", "start": "corner", "start_at": at,
		}})
	}
	for _, at := range []string{"R7", "R2"} {
		var bad *jobs.InvalidError
		if _, err := corner("R2", at); !errors.As(err, &bad) || bad.Fields[0].Field != "start_at" {
			t.Errorf("R2 that starts at %s = %v, want a fault in start_at", at, err)
		}
	}
	second, err := corner("R2", "R1")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{ID: first, Version: 1, Fields: map[string]string{"label": "R9"}}); err != nil {
		t.Fatal(err)
	}
	r := x.record(t)
	run, _ := r.Run(second)
	v, _ := r.Layout(second)
	if post := v.Layout.Posts[0]; run.StartAt != "R9" || post.SharedAs != "R9-P3" {
		t.Errorf("after R1 was called R9 the second run starts at %s and its first post is shared as %q, want R9 and R9-P3", run.StartAt, post.SharedAs)
	}
	x.agree(t)
}
