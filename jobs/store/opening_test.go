package store_test

import (
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// A bay is laid out again from its opening as measured, also when the plan changes a little; not when the run gets other
// bays, of which none is the one that was measured.
func TestMeasuredOpeningOfAnotherBay(t *testing.T) {
	x := newSite(t, open(t))
	id := x.run(t, "R1", "144")
	x.take(t, jobs.ReadingInput{CheckID: x.check(t, checklist.KeyOpeningBottom).Check.ID, Text: "68 11/16"})
	for _, change := range []struct {
		fields, overrides map[string]string
		bays              int
		built             bool
	}{
		{map[string]string{"length": "143 1/2"}, nil, 2, true},
		{nil, map[string]string{"post_max_centres": "50"}, 3, false},
		{nil, map[string]string{"post_max_centres": ""}, 2, true},
	} {
		run, _ := x.record(t).Run(id)
		if _, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{ID: id, Version: run.Version, Fields: change.fields, Overrides: change.overrides}); err != nil {
			t.Fatal(err)
		}
		v, _ := x.record(t).Layout(id)
		first := v.Layout.Bays[0]
		if len(v.Layout.Bays) != change.bays || (first.Built != nil) != change.built {
			t.Errorf("after %v: %d bays, the first as built %v; want %d, %v", change, len(v.Layout.Bays), first.Built != nil, change.bays, change.built)
		}
		if first.Built != nil && first.Built.ClearBottom != 68*length.Inch+11*length.Inch/16 {
			t.Errorf("after %v the first bay is built to %v", change, first.Built.ClearBottom)
		}
	}
	x.agree(t)
}
