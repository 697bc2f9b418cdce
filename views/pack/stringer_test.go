package pack_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// The pack draws the post of a flight that is bolted to the stringer, says what fixes it, and has where to drill, each place beside what it is measured
// from: on steps of 7 1/2 by 10, whose rake is 1 1/4 to 1, bolts 2 1/8 in from both edges of 11 1/4 in.
func TestBoltsThroughStringer(t *testing.T) {
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4"}, "runs": [
		{"id": "k7d2a2", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "riser": "7 1/2", "tread": 10, "risers": 6, "posts": "25", "foot_on": "pad",
		 "posts_on": "stringer", "stringer": "closed stringer", "stringer_depth": "11 1/4", "stringer_below": 12}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	x := jobs.Export{Job: jobs.Job{Ref: "S-1", Units: job.Units, Spec: job.Spec, Zone: "UTC", RuleSet: job.Rules}, Layouts: layouts, Runs: []jobs.Run{{Run: job.Runs[0]}}}
	doc := pack.Build(pack.Facts{Record: x, Pictures: map[media.ID]pack.Picture{}}).Edition(pack.InspectorEdition)
	drill, fixed, drawn := map[string]string{}, "", false
	for _, s := range doc.Sections {
		for _, b := range s.Blocks {
			switch v := b.(type) {
			case pack.Drawing:
				drawn = drawn || strings.Contains(v.Caption, "R2-P2 on the stringer")
			case pack.Table:
				for _, row := range v.Rows {
					switch {
					case strings.Contains(v.Caption, "bolts through the stringer, to their centres: R2-P2"):
						drill[row[0].Text] = row[1].Text + ", " + row[2].Text
					case s.ID == "fixings" && row[0].Text == "R2-P2":
						fixed = strings.Join(strings.Fields(row[1].Text), " ")
					}
				}
			}
		}
	}
	if !drawn {
		t.Error("no drawing shows the post on the stringer")
	}
	if want := `2 bolts of 1/2" through the stringer; upper 2 1/8" below its upper edge, square, lower 2 1/8" above its lower edge, square`; fixed != want {
		t.Errorf("fixed with %q, want %q", fixed, want)
	}
	for what, want := range map[string]string{
		"Square to the stringer's lower edge": `9 1/8", 2 1/8"`, "Square to the stringer's upper edge": `2 1/8", 9 1/8"`,
		"Along the post's centre line, up from the stringer's lower edge": `11 7/16", 2 11/16"`, "Plumb below the nosing line": `5/8", 9 3/8"`,
	} {
		if drill[what] != want {
			t.Errorf("%s: %q, want %q", what, drill[what], want)
		}
	}
}
