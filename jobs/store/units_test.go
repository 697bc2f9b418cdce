package store_test

import (
	"slices"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// What a run has otherwise than the job is kept as it was typed. It means the same lengths when the job changes its unit.
func TestOverridesKeepTheirLength(t *testing.T) {
	x := newSite(t, open(t))
	id, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{
		Fields:    map[string]string{"kind": "level", "label": "R1", "length": "200", "deck_height": "48"},
		Overrides: map[string]string{"post_max_centres": "50", "tol_gap": "3 mm"},
	})
	if err != nil {
		t.Fatal(err)
	}
	before := x.record(t)
	was, _ := before.Layout(id)
	in := jobInput()
	in.Version, in.Units = 1, "mm"
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	r := x.record(t)
	run, _ := r.Run(id)
	spec, faults := r.Job.Spec.With(run.Overrides, r.Job.Units)
	if len(faults) > 0 || spec.PostMaxCentres != 50*length.Inch || spec.TolGap != 3*length.Millimetre {
		t.Errorf("in millimetres the run has %v and %v (%v), want 50 in and 3 mm as before", spec.PostMaxCentres, spec.TolGap, faults)
	}
	is, _ := r.Layout(id)
	if got, want := len(is.Layout.Posts), len(was.Layout.Posts); got != want || is.Layout.Posts[1].Centre != was.Layout.Posts[1].Centre {
		t.Errorf("in millimetres the run has %d posts, the second at %v; want %d, as before", got, is.Layout.Posts[1].Centre, want)
	}
	if old, _ := before.Run(id); !slices.Contains(old.Overrides, layout.Override{Key: "post_max_centres", Text: "50"}) {
		t.Errorf("the record from before has %v now", old.Overrides)
	}
	x.agree(t)
}
