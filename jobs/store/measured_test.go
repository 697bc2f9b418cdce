package store_test

import (
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// TestLeanMarksTheTopRail: a top rail of a bay that was measured otherwise at the top has no marks until the lean of a post beside it is
// read, in either order; then they are its own, in a layout that says why it was made.
func TestLeanMarksTheTopRail(t *testing.T) {
	t.Parallel()
	for name, order := range map[string][]int{"openings first": {0, 1, 2}, "lean first": {2, 0, 1}} {
		x := newSite(t, open(t))
		run := x.run(t, "R1", "80")
		readings := []jobs.ReadingInput{
			{CheckID: run + "/B1." + checklist.KeyOpeningBottom, Text: "68"}, {CheckID: run + "/B1." + checklist.KeyOpeningTop, Text: "68 1/4"},
			{CheckID: run + "/P1." + checklist.KeyPostLean, Text: "-3/8"},
		}
		for i, at := range order {
			x.take(t, readings[at])
			v, _ := x.record(t).Layout(run)
			in := v.Layout.Bays[0].Used().Infill
			if whole := i == 2; whole != (in.TopMarks != nil) {
				t.Errorf("%s, after %d readings: top marks %v, %q", name, i+1, in.TopMarks, in.TopNote)
			}
			if at == 2 && i == 2 && !strings.Contains(v.Basis, "R1-P1 measured -3/8\" out of plumb along the run") {
				t.Errorf("%s: the layout was made since %q", name, v.Basis)
			}
		}
	}
}
