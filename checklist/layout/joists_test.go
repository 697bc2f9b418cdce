package layout_test

import (
	"slices"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Joists of 1 1/2 in at 16 in, the first at 3/4 in from the datum: those from 16 to 48 3/4 in are numbers 2 to 4, the last included.
func TestJoistsUnderARun(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	run := layout.Run{Joists: layout.JoistsAcross, FirstJoist: length.Inch * 3 / 4}
	var numbers []int
	for _, j := range layout.Joists(run, spec, nil, 16*length.Inch, 48*length.Inch+length.Inch*3/4) {
		numbers = append(numbers, j.Number)
		if want := run.FirstJoist + length.Length(j.Number-1)*16*length.Inch; j.Centre != want || j.Far-j.Near != spec.JoistWidth || j.Near+spec.JoistWidth/2 != want {
			t.Errorf("joist %d stands at %v, %v to %v, want its centre at %v", j.Number, j.Centre, j.Near, j.Far, want)
		}
	}
	if !slices.Equal(numbers, []int{2, 3, 4}) {
		t.Errorf("joists %v, want 2 to 4", numbers)
	}
	if got := layout.Joists(run, spec, nil, -100*length.Inch, 0); len(got) != 0 {
		t.Errorf("joists before the first one: %v", got)
	}
	run.Joists = layout.JoistsAlong
	if got := layout.Joists(run, spec, nil, 0, 100*length.Inch); got != nil {
		t.Errorf("joists that run along have ends: %v", got)
	}
	run.Joists, spec.JoistSpacing = layout.JoistsAcross, spec.JoistWidth
	if got := layout.Joists(run, spec, nil, 0, 100*length.Inch); got != nil {
		t.Errorf("joists without room between them: %v", got)
	}
}
