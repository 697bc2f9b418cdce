package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// lifted lays out an invented removable length beside a fixed run, R1, and returns its layout. Extra is put into the job's
// specification, how says how it joins R1.
func lifted(t *testing.T, extra, how string) layout.Layout {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(fmt.Sprintf(`{"units": "in", "rules": "irc-2018",
		"spec": {"connector_top": "1/4", "connector_bottom": "1/4", "cap_overhang": "1"%s},
		"runs": [{"label": "R1", "length": 60, "end": "free", "deck_height": 40, "first_joist": 8},
			{"label": "R2", "kind": "removable", "length": 48, "deck_height": 40, "first_joist": 8, "removable_why": "a kiln comes in", "removable_store": "under the deck",
				"side_clearance": "1/2", "overrides": {"post_mount": "sleeve"}%s}]}`, extra, how)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return layouts[1]
}

// The caps of two ends that face each other reach 1 in each past their posts; a corner of 90 degrees with each 3 1/2 in post set
// back 4 in leaves twice the cosine of 45 degrees of 2 1/4 in, less twice its sine of 1 3/4 in.
func TestLiftClearances(t *testing.T) {
	for _, tt := range []struct {
		name, how string
		clear     length.Length
		known     bool
		problem   string // part of it, empty for none
	}{
		{"beyond an opening", `, "start_at": "R1", "join": "opening", "join_by": "3"`, length.Inch, true, ""},
		{"too near", `, "start_at": "R1", "join": "opening", "join_by": "2 1/4"`, length.Inch / 4, true, `Clear to R1 at the datum end: 1/4". It is to be 1/2" or more.`},
		{"a doubled corner", `, "start_at": "R1", "start": "corner", "turn": 90, "join": "doubled", "join_by": "4"`, 17_960_512, true, ""},
		{"a shared post", `, "start_at": "R1", "start": "corner", "turn": 90`, 0, false, "R2 would hang on a fixed post, R1-P2"},
		{"at a wall", `, "start": "wall"`, 0, false, "its rails would hang on the wall"},
		{"alone", ``, 0, false, ""},
	} {
		l := lifted(t, "", tt.how)
		end := l.Lift.Ends[0]
		if end.Known != tt.known || end.Clear != tt.clear || !strings.HasSuffix(end.Says, ".") {
			t.Errorf("%s: %+v, want %v clear", tt.name, end, tt.clear)
		}
		found := ""
		for _, p := range l.Problems {
			if p.Field == "side_clearance" || p.Field == "join" || p.Field == "start" {
				found += p.Sentence
			}
		}
		if (tt.problem == "") != (found == "") || !strings.Contains(found, tt.problem) {
			t.Errorf("%s: problem %q, want %q", tt.name, found, tt.problem)
		}
	}
}

// One gram more than the limit is for two.
func TestLiftCarried(t *testing.T) {
	l := lifted(t, "", "")
	if l.Lift.Weight < 5 || l.Lift.Weight > 60 {
		t.Fatalf("four feet of guard weighs %.1f kg", l.Lift.Weight)
	}
	if limit := l.Lift.Limit; limit != 20.41165665 || l.Lift.Two != (l.Lift.Weight > limit) {
		t.Errorf("the limit is %v kg and two carry %.1f kg: %v", limit, l.Lift.Weight, l.Lift.Two)
	}
	for _, grams := range []int{-1, 1} {
		l := lifted(t, fmt.Sprintf(`, "carry_alone": "%.3f kg"`, l.Lift.Weight+float64(grams)/1000), "")
		if l.Lift.Two != (grams < 0) || l.Lift.Two != strings.Contains(l.Lift.Note, "Two people carry it") {
			t.Errorf("with a limit %d g off its weight two carry it: %v, %q", grams, l.Lift.Two, l.Lift.Note)
		}
	}
	// Lifted out of 10 1/4 in of framing and decking, its cap or post tops stand that much higher.
	if top := max(l.Heights.Finished, l.Heights.PostTop); l.Lift.Rise != 10*length.Inch+length.Inch/4 || l.Lift.Reach != l.Lift.Rise+top {
		t.Errorf("it lifts %v and reaches %v with its top at %v", l.Lift.Rise, l.Lift.Reach, top)
	}
}

// Pounds and kilograms both, that of the job first, rounded up: 45 lb is 20.41 kg, and a gram over it reads as 46 lb. The limit itself is
// to a tenth.
func TestLiftWeighs(t *testing.T) {
	const pound = 0.45359237
	for _, tt := range []struct {
		lift     layout.Lift
		inches   string
		metric   string
		carrying string // in inches
	}{
		{layout.Lift{Weight: 45 * pound, Limit: 45 * pound}, "It weighs about 45 lb (21 kg) by its species and pieces, hardware not included.",
			"It weighs about 21 kg (45 lb) by its species and pieces, hardware not included.", "45 lb (20.4 kg)"},
		{layout.Lift{Weight: 45*pound + 0.001, Limit: 20}, "It weighs about 46 lb (21 kg) by its species and pieces, hardware not included.",
			"It weighs about 21 kg (46 lb) by its species and pieces, hardware not included.", "44.1 lb (20 kg)"},
		{layout.Lift{Weight: 10, Limit: 22.5, Without: layout.FillCables}, "It weighs about 23 lb (10 kg) by its species and pieces, cables and hardware not included.",
			"It weighs about 10 kg (23 lb) by its species and pieces, cables and hardware not included.", "49.6 lb (22.5 kg)"},
		{layout.Lift{Limit: 20}, "Its weight is not known: its species is not given.", "Its weight is not known: its species is not given.", "44.1 lb (20 kg)"},
	} {
		if got := tt.lift.Weighs(length.InchFraction); got != tt.inches || tt.lift.Weighs(length.FeetInches) != got {
			t.Errorf("in inches: %q, want %q", got, tt.inches)
		}
		if got := tt.lift.Weighs(length.Metric); got != tt.metric {
			t.Errorf("in millimetres: %q, want %q", got, tt.metric)
		}
		if got := tt.lift.Alone(length.FeetInches); got != tt.carrying {
			t.Errorf("one carries %q, want %q", got, tt.carrying)
		}
	}
}
