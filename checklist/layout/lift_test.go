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

// The caps of two ends that face each other reach 1 in each past their posts, and end clear of each other at a corner of two posts: each is there at
// 1 3/4 and 1 in from its post's centre and half of 5 1/2 in across, so that they touch 5 1/2 in back. 6 in back leaves 1/2 in both ways, times the
// root of two, and the least on the grid that leaves 1/2 in is 5 7/8 in. A sleeve of 6 5/8 in beside a post of 3 1/2 in touches it 5 1/16 in back
// (plane geometry).
func TestLiftClearances(t *testing.T) {
	for _, tt := range []struct {
		name, how string
		clear     length.Length
		known     bool
		problem   string // part of it, empty for none
	}{
		{"beyond an opening", `, "start_at": "R1", "join": "opening", "join_by": "3"`, length.Inch, true, ""},
		{"too near", `, "start_at": "R1", "join": "opening", "join_by": "2 1/4"`, length.Inch / 4, true, `Clear to R1 at the datum end, caps and sleeves counted: 1/4". It is to be 1/2" or more: make the opening wider.`},
		{"a doubled corner", `, "start_at": "R1", "start": "corner", "turn": 90, "join": "doubled", "join_by": "6"`, 17_960_512, true, ""},
		{"by the least", `, "start_at": "R1", "start": "corner", "turn": 90, "join": "doubled"`, 13_470_384, true, ""},
		{"caps in one another", `, "start_at": "R1", "start": "corner", "turn": 90, "join": "doubled", "join_by": "5 1/4"`, -length.Inch / 4, true,
			`the two runs stand 1/4" in one another, caps and sleeves counted: nothing is clear to R1. It is to be 1/2" or more: set each post of the corner back by 5 7/8" or more`},
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

// TestCapsOfALengthThatLiftsOut: at a corner of two posts with a length that lifts out neither cap runs on to a mitre, which would hold it down: each ends 1 in past
// its own post of 3 1/2 in, so that caps over 60 in are 65 1/2 in long. Of two lengths that stay the caps meet over a block.
func TestCapsOfALengthThatLiftsOut(t *testing.T) {
	for _, kinds := range [][3]string{{"level", "removable", "clear"}, {"removable", "level", "clear"}, {"level", "level", "mitre"}} {
		_, layouts := planned(t, fmt.Sprintf(`{"label": "R1", "kind": %q, "end": "corner", "length": 60}, {"label": "R2", "kind": %q, "start": "corner", "start_at": "R1", "turn": 90, "join": "doubled", "length": 60}`, kinds[0], kinds[1]))
		for _, l := range layouts {
			cap := l.Cap[0]
			clear := strings.Contains(cap.Cuts, "1\" past the post, to stand clear of the cap round the corner")
			if clear != (kinds[2] == "clear") || strings.Contains(cap.Cuts, "put a block under it") == clear || clear && cap.Length != 65*length.Inch+length.Inch/2 {
				t.Errorf("%v: the cap of %s is %v, %s", kinds, l.Label, cap.Length, cap.Cuts)
			}
		}
	}
}

// TestSleeveInAPost: a sleeve of 6 5/8 in, 4 in back from the corner, reaches to 11/16 in from it and so 1 1/16 in into the post beyond, which takes 1 3/4 in
// of it; 5 1/16 in back they touch. Of two runs that stay where they are, that cures it.
func TestSleeveInAPost(t *testing.T) {
	for _, tt := range []struct{ first, second, by, want string }{
		{"bolted", "sleeve", "4", `the sleeve of this run stands 1 1/16" in the post of that one: set each post back by 5 1/16" or more.`},
		{"sleeve", "bolted", "4", `the post of this run stands 1 1/16" in the sleeve of that one: set each post back by 5 1/16" or more.`},
		{"sleeve", "sleeve", "4", `the sleeve of this run stands 2 5/8" in the sleeve of that one: set each post back by 6 5/8" or more.`},
		{"bolted", "sleeve", "5 1/16", ""},
		{"bolted", "sleeve", "", ""},
		{"bolted", "bolted", "4", ""},
	} {
		_, layouts := planned(t, fmt.Sprintf(`{"label": "R1", "end": "corner", "length": 60, "overrides": {"post_mount": %q}},
			{"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "join": "doubled", "join_by": %q, "length": 60, "overrides": {"post_mount": %q}}`, tt.first, tt.by, tt.second))
		got := told(layouts[1], "At the corner with R1")
		if len(got) != 0 != (tt.want != "") || tt.want != "" && (got[0].Field != "join_by" || !strings.HasSuffix(got[0].Sentence, tt.want)) {
			t.Errorf("%s beside %s, %s back: %v, want %q", tt.second, tt.first, tt.by, got, tt.want)
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
