package store_test

import (
	"errors"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// A hold point of an authority that accepts no photographs is met by what was seen with a named witness and by nothing else; when the
// setting changes afterwards, what is owed changes with it and nothing recorded does.
func TestWitnessedHoldPoint(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	set := func(photo checklist.PhotoPolicy) {
		t.Helper()
		in := jobInput()
		in.Version, in.Photo = x.record(t).Job.Version, string(photo)
		if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
			t.Fatal(err)
		}
	}
	owed := func() string {
		t.Helper()
		sheet, err := x.record(t).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		st, _ := sheet.Stage(checklist.Framing)
		for _, o := range st.Outstanding {
			if strings.HasSuffix(o.CheckID, "/P1.framing.photo_inside") && o.Hold {
				return o.Sentence
			}
		}
		return ""
	}
	set(checklist.PhotosRefused)
	c := x.check(t, "framing.photo_inside").Check
	in := jobs.ReadingInput{Field: "at", CheckID: c.ID, Seen: "yes"}
	if got, want := owed(), "Seen with a witness: inside face: not checked."; got != want {
		t.Errorf("before it is seen %q is owed, want %q", got, want)
	}
	var bad *jobs.InvalidError
	again := in
	again.CheckID = strings.Replace(c.ID, "/P1.", "/P2.", 1)
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{in, again}); !errors.As(err, &bad) || len(bad.Fields) != 1 || bad.Fields[0].Field != jobs.WitnessField {
		t.Errorf("two answers with no witness = %v, want one fault at the witness", err)
	}
	in.Witness = "  Iris   Sample, building office "
	x.take(t, in)
	got := x.record(t).Readings[0]
	if got.Answer.Witness != "Iris Sample, building office" || got.Result.Verdict != checklist.Good {
		t.Errorf("recorded %+v, %s", got.Answer, got.Result.Verdict.Word())
	}
	if got := owed(); got != "" {
		t.Errorf("after it was seen %q is owed", got)
	}
	if _, err := x.service.SameRest(t.Context(), crew, x.job, c.ID, nil); !errors.As(err, &bad) {
		t.Errorf("the rest of the run is the same = %v, want it refused: a witness saw each place, or did not", err)
	}
	set(checklist.PhotosAsked)
	if got, want := owed(), "Photograph: inside face: no photograph."; got != want {
		t.Errorf("with photographs asked for again %q is owed, want %q", got, want)
	}
	set(checklist.PhotosRefused)
	if got := owed(); got != "" {
		t.Errorf("with photographs refused once more %q is owed", got)
	}
	x.agree(t)
}
