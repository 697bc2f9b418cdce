package store_test

import (
	"errors"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// deviation is the newest deviation of the record.
func (x *site) deviation(t *testing.T) jobs.Deviation {
	t.Helper()
	all := x.record(t).Deviations
	if len(all) == 0 {
		t.Fatal("no deviation was opened")
	}
	return all[len(all)-1]
}

// A deviation is opened by a reading, by a hold-point photograph that is missing when a run is covered or a stage closed, and by hand. It is
// put right by a good reading, accepted or referred with a reason and a name, by the builder alone, and stays in the record.
func TestDeviationFromOpenToEnd(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "6'")
	bolt := run + "/P1.framing.bolt_upper"

	x.take(t, jobs.ReadingInput{CheckID: bolt, Text: "1 in"})
	byReading := x.deviation(t)
	if byReading.Kind != jobs.DevReading || byReading.State != jobs.DevOpen || byReading.CheckID != bolt {
		t.Errorf("a reading outside its limit opened %+v", byReading)
	}
	x.take(t, x.answer(x.check(t, "framing.bolt_upper").Check))
	if d, _ := x.record(t).Deviation(byReading.ID); d.State != jobs.DevPutRight || d.EndedWith == "" || !strings.Contains(d.Reason, "measured again") {
		t.Errorf("a good reading left it as %+v", d)
	}

	err := x.service.CoverRun(t.Context(), crew, x.job, jobs.CoverInput{RunID: run, On: x.record(t).Job.Day(x.now)})
	var blocked *jobs.BlockedError
	if !errors.As(err, &blocked) {
		t.Fatalf("covering a run without its photographs: %v", err)
	}
	if err := x.service.CoverRun(t.Context(), builder, x.job, jobs.CoverInput{RunID: run, On: x.record(t).Job.Day(x.now), Reason: "The camera was broken."}); err != nil {
		t.Fatal(err)
	}
	missing := x.deviation(t)
	if missing.Kind != jobs.DevMissing || missing.Stage != checklist.Framing || !strings.Contains(strings.Join(missing.Missing, "\n"), "Photograph: inside face: no photograph.") {
		t.Errorf("covering over what is missing opened %+v", missing)
	}

	if _, err := x.service.OpenDeviation(t.Context(), crew, x.job, jobs.DeviationInput{PlaceID: run + "/P2", Stage: "posts", What: "A post is split."}); err != nil {
		t.Fatal(err)
	}
	byHand := x.deviation(t)
	if byHand.Kind != jobs.DevByHand || byHand.Place.Label != "R1-P2" {
		t.Errorf("by hand opened %+v", byHand)
	}

	end := func(by jobs.By, d jobs.Deviation, in jobs.DeviationInput) error {
		in.ID, in.Version = d.ID, d.Version
		return x.service.EndDeviation(t.Context(), by, x.job, in)
	}
	for name, refused := range map[string]error{
		"by crew":        end(crew, missing, jobs.DeviationInput{State: "accepted", Reason: "Seen.", Name: "A. Sample"}),
		"with no name":   end(builder, missing, jobs.DeviationInput{State: "accepted", Reason: "Seen."}),
		"with no reason": end(builder, missing, jobs.DeviationInput{State: "accepted", Name: "A. Sample"}),
		"as put right":   end(builder, missing, jobs.DeviationInput{State: "put right", Reason: "Seen.", Name: "A. Sample"}),
	} {
		if refused == nil {
			t.Errorf("ended %s", name)
		}
	}
	if err := end(builder, missing, jobs.DeviationInput{State: "accepted", Reason: "The owner saw the framing.", Name: "A. Sample"}); err != nil {
		t.Error(err)
	}
	if err := end(builder, byHand, jobs.DeviationInput{State: "referred", Reason: "Whether it may stay.", Name: "Sample Town"}); err != nil {
		t.Error(err)
	}
	var states []jobs.DeviationState
	for _, d := range x.record(t).Deviations {
		states = append(states, d.State)
	}
	if want := []jobs.DeviationState{jobs.DevPutRight, jobs.DevAccepted, jobs.DevReferred}; len(states) != 3 || states[0] != want[0] || states[1] != want[1] || states[2] != want[2] {
		t.Errorf("they stand as %q, want %q", states, want)
	}
	x.agree(t)
}
