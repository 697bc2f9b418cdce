package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// A second reading that is not good is of the same deviation, which then says what that one came to; whoever was about to
// accept the first is told.
func TestDeviationSaysTheNewestReading(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	c := x.check(t, checklist.KeyOpeningBottom).Check
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Text: "67"})
	first := x.record(t).Deviations[0]
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Text: "67"})
	if got := x.record(t).Deviations; len(got) != 1 || got[0].Version != first.Version {
		t.Errorf("the same reading again gives %+v, want the deviation as it was", got)
	}
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Text: "60"})
	got := x.record(t).Deviations
	if len(got) != 1 || got[0].State != jobs.DevOpen || got[0].ReadingID != first.ReadingID || !strings.Contains(got[0].What, `60"`) {
		t.Errorf("a worse reading gives %+v, want the one deviation, of 60 in", got)
	}
	var conflict *jobs.ConflictError
	err := x.service.EndDeviation(t.Context(), builder, x.job, jobs.DeviationInput{ID: first.ID, Version: first.Version, State: "accepted", Reason: "Seen.", Name: "A. Sample"})
	if !errors.As(err, &conflict) {
		t.Errorf("accepting it as it was before = %v, want a ConflictError", err)
	}
	x.agree(t)
}

// What was seen not to be so is not put right by saying that it does not apply: the deviation stays open until it is seen to be so, or
// the builder ends it.
func TestNotApplicablePutsNothingRight(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	c := x.check(t, "infill.firm").Check
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Seen: "no"})
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Seen: "not applicable", Reason: "Nobody will lean there"})
	if d := x.deviation(t); d.State != jobs.DevOpen || d.EndedWith != "" {
		t.Errorf("said not to apply, the deviation is %+v, want it open", d)
	}
	st, _ := x.sheet(t).Stage(checklist.InfillSt)
	if !slices.ContainsFunc(st.Outstanding, func(o jobs.Outstanding) bool {
		return o.CheckID == c.ID && strings.Contains(o.Sentence, "deviation D1 is open")
	}) {
		t.Errorf("outstanding is %v, want the deviation among it", st.Outstanding)
	}
	x.take(t, jobs.ReadingInput{CheckID: c.ID, Seen: "yes"})
	if d := x.deviation(t); d.State != jobs.DevPutRight {
		t.Errorf("seen to be so, the deviation is %+v, want it put right", d)
	}
	x.agree(t)
}
