package store_test

import (
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// complete answers and photographs everything that a stage still asks for.
func (x *site) complete(t *testing.T, stage checklist.Stage) {
	t.Helper()
	var photos []jobs.PhotoInput
	var readings []jobs.ReadingInput
	for _, c := range x.sheet(t).Checks {
		switch {
		case c.Check.Stage != stage || c.Answered():
		case c.Check.Ask == checklist.AskPhoto:
			photos = append(photos, jobs.PhotoInput{Facts: facts(len(photos)), CheckID: c.Check.ID})
		default:
			readings = append(readings, x.answer(c.Check))
		}
	}
	if _, err := x.service.AddPhotos(t.Context(), crew, x.job, photos); err != nil {
		t.Fatal(err)
	}
	x.take(t, readings...)
}

// What comes to be outstanding in a stage that is closed already is missing from a pack that is issued now, and the pack
// says so; what the stage was closed over is said once.
func TestOutstandingAfterClosing(t *testing.T) {
	said := func(x *site) (lines []string) {
		t.Helper()
		open, err := x.record(t).Unfinished()
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range open {
			if strings.HasPrefix(line, "The stage framing") {
				lines = append(lines, line)
			}
		}
		return lines
	}
	for _, reason := range []string{"", "The joists were inspected before"} {
		x := newSite(t, open(t))
		x.run(t, "R1", "144")
		want := 0
		if reason == "" {
			x.complete(t, checklist.Framing)
		} else {
			want = 1 // closed over a deviation
		}
		if err := x.service.CloseStage(t.Context(), builder, x.job, jobs.CloseInput{Stage: string(checklist.Framing), Reason: reason}); err != nil {
			t.Fatal(err)
		}
		if got := said(x); len(got) != want {
			t.Errorf("closed for the reason %q, it is said of framing: %q, want %d lines", reason, got, want)
		}
		x.run(t, "R2", "60")
		got := said(x)
		if len(got) != want+1 || !strings.Contains(got[len(got)-1], "came to be outstanding since, the first being: R2-P1 ") {
			t.Errorf("with another run after it was closed for the reason %q, it is said of framing: %q", reason, got)
		}
	}
}
