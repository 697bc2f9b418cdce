package store_test

import (
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// Baluster stock that was entered as dry and reads wet opens a deviation; entered as wet, the check is marked to be looked at again and the
// old word stands until it is read once more. The database keeps the tenths of a percent.
func TestWetStockEnteredAsDry(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "12'")
	id := run + ".infill.moisture"
	read := func(text string) *jobs.CheckState {
		t.Helper()
		x.take(t, jobs.ReadingInput{CheckID: id, Text: text})
		c, _ := x.sheet(t).Check(id)
		return c
	}
	if c := read("24.5"); c.Verdict() != checklist.OffLayout || c.Current.Tool != checklist.ToolMeter || *c.Current.Answer.Moisture != 245 || c.Deviation == nil || c.Deviation.State != jobs.DevOpen {
		t.Fatalf("wet stock entered as dry: %+v", c)
	}
	in := jobInput()
	in.Version = x.record(t).Job.Version
	in.Spec = map[string]string{"infill_moisture": "wet"}
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	c, _ := x.sheet(t).Check(id)
	if !c.Moved || c.Verdict() != checklist.OffLayout || !c.Check.Moist.Wet {
		t.Errorf("entered as wet: moved %t, %s, held to %+v", c.Moved, c.Verdict().Word(), c.Check.Moist)
	}
	if c := read("24.5 %"); c.Moved || c.Verdict() != checklist.Good || c.Deviation.State != jobs.DevPutRight {
		t.Errorf("read again: %+v", c)
	}
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: id, Text: "damp"}}); err == nil {
		t.Error("a word is taken as a moisture content")
	}
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: id, Text: "12", Tool: string(checklist.ToolTape)}}); err == nil {
		t.Error("a tape reads moisture")
	}
	x.agree(t)
}
