package store_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// Opening a stage again is recorded with who and why, and every later stage that was closed is to be looked at again, until it was opened
// and closed anew; the stages before it and those still open are not.
func TestReopenedStageMarksTheLaterOnes(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	close := func(stage checklist.Stage) {
		t.Helper()
		if err := x.service.CloseStage(t.Context(), builder, x.job, jobs.CloseInput{Stage: string(stage), Version: x.record(t).Stages[stage].Version, Reason: "Seen on site."}); err != nil {
			t.Fatal(err)
		}
	}
	reopen := func(stage checklist.Stage) {
		t.Helper()
		if err := x.service.ReopenStage(t.Context(), builder, x.job, jobs.CloseInput{Stage: string(stage), Version: x.record(t).Stages[stage].Version, Reason: "A post was moved."}); err != nil {
			t.Fatal(err)
		}
	}
	marked := func(why string, want ...checklist.Stage) {
		t.Helper()
		var got []checklist.Stage
		for _, st := range x.sheet(t).Stages {
			if st.Again != "" {
				got = append(got, st.Stage)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v are to be looked at again, want %v", why, got, want)
		}
		unfinished, err := x.record(t).Unfinished()
		if err != nil {
			t.Fatal(err)
		}
		said := 0
		for _, line := range unfinished {
			if strings.HasPrefix(line, "Opened again after") {
				said++
			}
		}
		if said != len(want) {
			t.Errorf("%s: a pack would say so %d times, want %d: %q", why, said, len(want), unfinished)
		}
	}
	for _, stage := range []checklist.Stage{checklist.Framing, checklist.Posts, checklist.Rails} {
		close(stage)
	}
	marked("closed in their order")
	reopen(checklist.Posts)
	marked("posts opened again", checklist.Rails)
	if st := x.record(t).Stages[checklist.Posts]; st.Closed || st.Reason != "A post was moved." || st.By.Name != builder.Actor.Name {
		t.Errorf("recorded as %+v", st)
	}
	close(checklist.Posts)
	marked("posts closed anew", checklist.Rails)
	reopen(checklist.Framing)
	marked("framing opened again", checklist.Posts, checklist.Rails)
	close(checklist.Framing)
	reopen(checklist.Posts)
	close(checklist.Posts)
	marked("posts looked at", checklist.Rails)
	reopen(checklist.Rails)
	marked("rails opened again")
	close(checklist.Rails)
	marked("rails looked at")
	x.agree(t)
}
