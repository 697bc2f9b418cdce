package store_test

import (
	"errors"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// A reading keeps the doubt that the job's own tape was stated to have; stating another later changes no verdict, and no reading comes
// with a tool or a doubt that the job does not know.
func TestOwnTape(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	bolt := x.check(t, "framing.bolt_upper").Check
	in := jobs.ReadingInput{Field: "at", CheckID: bolt.ID, Text: "2 1/32", Tool: string(checklist.ToolOwn)}
	refused := func(why string, in jobs.ReadingInput) {
		t.Helper()
		var bad *jobs.InvalidError
		if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{in}); !errors.As(err, &bad) || bad.Fields[0].Field != "at" {
			t.Errorf("%s = %v, want it refused at its field", why, err)
		}
	}
	state := func(doubt string) {
		t.Helper()
		in := jobInput()
		in.Version, in.Spec = x.record(t).Job.Version, map[string]string{"tape_doubt": doubt}
		if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
			t.Fatal(err)
		}
	}
	refused("a tape with no doubt stated", in)
	state("1/64")
	x.take(t, in)
	state("1/8")
	x.take(t, in)
	hostile := in
	hostile.Tool = string(checklist.OwnTape(1))
	refused("a doubt that nobody stated", hostile)
	hostile.Tool = "crystal ball"
	refused("a tool of no list", hostile)

	got := x.record(t).Readings
	if len(got) != 2 || got[0].Result.Limit != checklist.Inside || got[0].Result.Verdict != checklist.OffLayout || got[0].Tool != checklist.OwnTape(length.Inch/64) || got[1].Result.Verdict != checklist.TooClose {
		t.Errorf("readings %+v", got)
	}
	x.agree(t)
}
