package store_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
)

// What was seen and photographed at a post fills no hold point once the post stands elsewhere on the layout.
func TestEvidenceOfAMovedPost(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "12'")
	const post = "/P2."
	blocking, wide := run+post+"framing.blocking", run+post+"framing.photo_wide"
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: blocking, Seen: "yes"}}); err != nil {
		t.Fatal(err)
	}
	if _, err := x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{{Facts: media.Photo{ID: media.ID{1}, Kind: media.JPEG, Bytes: 1, Width: 1, Height: 1}, CheckID: wide}}); err != nil {
		t.Fatal(err)
	}
	owed := func() []string {
		st, _ := x.sheet(t).Stage(checklist.Framing)
		var out []string
		for _, o := range st.Outstanding {
			if o.CheckID == blocking || o.CheckID == wide {
				out = append(out, o.Sentence)
			}
		}
		return out
	}
	if got := owed(); len(got) != 0 {
		t.Fatalf("with both recorded, outstanding is %q", got)
	}
	r, _ := x.record(t).Run(run)
	if _, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{ID: run, Version: r.Version, Fields: map[string]string{"length": "9'"}}); err != nil {
		t.Fatal(err)
	}
	got := owed()
	if len(got) != 2 || !slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "recorded before R1-P2 moved") }) ||
		!slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "no photograph") }) {
		t.Errorf("after the post moved, outstanding is %q", got)
	}
	if c, _ := x.sheet(t).Check(blocking); len(c.History) != 1 || c.Verdict() != checklist.Good {
		t.Error("the reading itself is gone or judged again")
	}
}

// An open deviation by hand at a run's framing keeps the run from being covered in silence.
func TestCoverOverAnOpenDeviation(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "6'")
	if _, err := x.service.OpenDeviation(t.Context(), crew, x.job, jobs.DeviationInput{PlaceID: run, Stage: "framing", What: "A joist is split beside the post."}); err != nil {
		t.Fatal(err)
	}
	err := x.service.CoverRun(t.Context(), builder, x.job, jobs.CoverInput{RunID: run, On: x.record(t).Job.Day(x.now)})
	blocked, ok := err.(*jobs.BlockedError)
	if !ok || !slices.ContainsFunc(blocked.Outstanding, func(o jobs.Outstanding) bool { return strings.Contains(o.Sentence, "A joist is split") }) {
		t.Errorf("CoverRun = %v, want it to name the deviation", err)
	}
}
