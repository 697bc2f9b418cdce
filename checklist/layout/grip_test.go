package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"newelbook/checklist/layout"
)

// The grips of IRC 2018 R311.7.8.3 (secondary text; the width over a recess from memory): Type I round 1 1/4 to 2 in, or not round 4 to
// 6 1/4 in around and at most 2 1/4 in across; Type II over 6 1/4 in around with a recess that starts within 3/4 in of the top, is
// 5/16 in deep within 7/8 in of the widest part, and keeps that over 3/8 in.
func TestGrips(t *testing.T) {
	const recess = `"handrail_recess": "%s"`
	for _, c := range []struct {
		name, fields, shape string
		inside              bool
		says                string
	}{
		{"round", `"handrail_size": "1 1/2"`, layout.GripRound, true, "inside the figures"},
		{"round, at the figure", `"handrail_size": 2`, layout.GripRound, true, "inside the figures"},
		{"round, too thick", `"handrail_size": "2 1/16"`, layout.GripRound, false, "outside the figures"},
		{"not round", `"handrail_size": "1 1/2", "handrail_shape": "not round", "handrail_deep": "1 1/2"`, layout.GripPlain, true, "6\" around"},
		{"not round, around as measured", `"handrail_size": "2", "handrail_shape": "not round", "handrail_deep": "2", "handrail_around": "6 1/4"`, layout.GripPlain, true, "6 1/4\" around"},
		{"not round, too much around", `"handrail_size": "2", "handrail_shape": "not round", "handrail_deep": "2"`, layout.GripPlain, false, "unless it has a finger recess"},
		{"recessed", `"handrail_size": "2 3/4", "handrail_shape": "finger recess", "handrail_deep": "3 1/2", "handrail_around": 12, ` + fmt.Sprintf(recess, "3/4, 5/16, 7/8, 3/8"), layout.GripRecessed, true, "inside the figures"},
		{"recess starts too low", `"handrail_size": "2 3/4", "handrail_shape": "finger recess", "handrail_deep": "3 1/2", "handrail_around": 12, ` + fmt.Sprintf(recess, "13/16, 5/16, 7/8, 3/8"), layout.GripRecessed, false, "with a finger recess"},
		{"recess too shallow", `"handrail_size": "2 3/4", "handrail_shape": "finger recess", "handrail_deep": "3 1/2", "handrail_around": 12, ` + fmt.Sprintf(recess, "3/4, 1/4, 7/8, 3/8"), layout.GripRecessed, false, "with a finger recess"},
		{"too wide above the recess", `"handrail_size": "2 13/16", "handrail_shape": "finger recess", "handrail_deep": "3 1/2", "handrail_around": 12, ` + fmt.Sprintf(recess, "3/4, 5/16, 7/8, 3/8"), layout.GripRecessed, false, "with a finger recess"},
		{"small enough to need no recess", `"handrail_size": "1 1/2", "handrail_shape": "finger recess", "handrail_deep": "1 3/4", "handrail_around": "6", ` + fmt.Sprintf(recess, "1, 1/8, 1, 1/8"), layout.GripRecessed, true, "6\" around"},
	} {
		job, faults := layout.ReadJob(strings.NewReader(`{"rules": "irc-2018", "units": "in", "runs": [{"label": "R1", "kind": "rake", "start": "stair head", "end": "stair foot",
			"total_rise": 42, "risers": 6, "tread": 10, "handrail": "separate", "handrail_height": 36, ` + c.fields + `}]}`))
		if len(faults) > 0 {
			t.Fatalf("%s: %v", c.name, faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		st := layouts[0].Stair
		if st == nil || st.GripShape == nil || st.GripShape.Shape != c.shape || st.GripShape.Inside != c.inside || st.Graspable != c.inside || !strings.Contains(st.Grip, c.says) {
			t.Errorf("%s: %+v, %q", c.name, st.GripShape, st.Grip)
		}
	}
}
