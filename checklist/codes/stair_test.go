package codes_test

import (
	"math"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func TestPitch(t *testing.T) {
	for _, tt := range []struct {
		id          string
		set         string
		kind        codes.StairKind // empty: the stair of a deck
		rise, going length.Length
		degrees     float64
		inside      bool
	}{
		{"D10", "england-k", "", 220 * mm, 220 * mm, 45, false},
		{"D10", "ireland-k", "", 220 * mm, 220 * mm, 45, false},
		{"D10", "england-k", "", 198 * mm, 220 * mm, 41.987, true},
		{"D10", "england-k", "", 199 * mm, 220 * mm, 42.131, false},
		{"D15", "new-zealand-f4-d1", "", 190 * mm, 280 * mm, 34.160, true},
		{"", "new-zealand-f4-d1", "", 200 * mm, 250 * mm, 38.660, false},
		{"", "new-zealand-f4-d1", codes.StairSecondary, 200 * mm, 250 * mm, 38.660, true},
		{"", "new-zealand-f4-d1", codes.StairSecondary, 220 * mm, 220 * mm, 45, false},
		{"", "new-zealand-f4-d1", codes.StairMinor, 220 * mm, 220 * mm, 45, true},
		{"", "new-zealand-f4-d1", codes.StairAccessible, 190 * mm, 280 * mm, 34.160, false},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		key := codes.StairPitchMax
		if tt.kind != "" {
			key = tt.kind.Key(key)
		}
		f := figure(t, applied(t, tt.set), key)
		got := codes.Pitch(tt.rise, tt.going)
		if math.Abs(got-tt.degrees) > 0.001 {
			t.Errorf("%s: Pitch(%v, %v) = %.4f, want %v", tt.id, tt.rise, tt.going, got, tt.degrees)
		}
		if inside := f.Bound.TestNumber(got, f.Number); inside != tt.inside {
			t.Errorf("%s %s: %.3f %s %s is %t, want %t", tt.id, key, got, f.Bound, f.Text, inside, tt.inside)
		}
	}
	// Exactly at the limit where the angle is a whole one, and no going at all.
	f := figure(t, applied(t, "england-k", codes.Amendment{Key: codes.StairPitchMax, Value: "45 degrees", SaidBy: "a sample official"}), codes.StairPitchMax)
	if got := codes.Pitch(220*mm, 220*mm); !f.Bound.TestNumber(got, f.Number) {
		t.Errorf("a pitch of %v is outside %s %s", got, f.Bound, f.Text)
	}
	if got := codes.Pitch(220*mm, 0); got != 90 {
		t.Errorf("Pitch without a going = %v, want 90", got)
	}
}

func TestStepRelation(t *testing.T) {
	const nm = length.Nanometre
	for _, tt := range []struct {
		id          string
		set         string
		rise, going length.Length
		sum         length.Length
		inside      bool
	}{
		{"D13", "england-k", 220 * mm, 300 * mm, 740 * mm, false},
		{"D13", "england-k", 150 * mm, 220 * mm, 520 * mm, false},
		{"D13", "england-k", 150 * mm, 250 * mm, 550 * mm, true},
		{"D13", "england-k", 150 * mm, 250*mm - nm, 550*mm - nm, false},
		{"D13", "england-k", 200 * mm, 300 * mm, 700 * mm, true},
		{"D13", "england-k", 200 * mm, 300*mm + nm, 700*mm + nm, false},
		{"D13", "ireland-k", 220 * mm, 300 * mm, 740 * mm, false},
		{"D13", "australia-ncc-2022", 150 * mm, 250 * mm, 550 * mm, true},
	} {
		checkRow(t, tt.id)
		rules := applied(t, tt.set)
		least, most := figure(t, rules, codes.StairRelationMin), figure(t, rules, codes.StairRelationMax)
		got := codes.StepRelation(tt.rise, tt.going)
		if got != tt.sum {
			t.Errorf("%s: StepRelation(%v, %v) = %v, want %v", tt.id, tt.rise, tt.going, got, tt.sum)
		}
		if inside := least.Bound.Test(got, least.Value) && most.Bound.Test(got, most.Value); inside != tt.inside {
			t.Errorf("%s %s: %v between %v and %v is %t, want %t", tt.id, tt.set, got, least.Value, most.Value, inside, tt.inside)
		}
	}
}

// The grip of a handrail: round by diameter, otherwise by perimeter, and a larger one only with a finger recess.
func TestHandrailGrip(t *testing.T) {
	checkRow(t, "D16")
	rules := applied(t, "irc-2018")
	test := func(key string, value length.Length) bool {
		f := figure(t, rules, key)
		return f.Bound.Test(value, f.Value)
	}
	round := func(d length.Length) bool {
		return test(codes.HandrailGripDiameterMin, d) && test(codes.HandrailGripDiameterMax, d)
	}
	other := func(perimeter, across length.Length) bool {
		return test(codes.HandrailGripPerimeterMin, perimeter) && test(codes.HandrailGripPerimeterMax, perimeter) && test(codes.HandrailGripSectionMax, across)
	}
	recessed := func(perimeter, start, depth, within, run length.Length) bool {
		return test(codes.HandrailRecessPerimeter, perimeter) && test(codes.HandrailRecessStartMax, start) && test(codes.HandrailRecessDepthMin, depth) &&
			test(codes.HandrailRecessWithinMax, within) && test(codes.HandrailRecessRunMin, run)
	}
	for _, tt := range []struct {
		id        string
		name      string
		graspable bool
		want      bool
	}{
		{"D16", "round, 1-1/2 in", round(in + in/2), true},
		{"D16", "2x4, perimeter 10 in, no recess: too large around", other(10*in, 3*in+in/2), false},
		{"D16", "2x4, perimeter 10 in, no recess: no recess", recessed(10*in, 0, 0, 0, 0), false},
		{"", "round, 1-1/4 in", round(in + in/4), true},
		{"", "round, 2 in", round(2 * in), true},
		{"", "round, 2-1/16 in", round(2*in + in/16), false},
		{"", "round, 1-3/16 in", round(in + 3*in/16), false},
		{"", "2 in square, perimeter 8 in", other(8*in, 2*in), false},
		{"", "flat, perimeter 6-1/4 in, 2-1/4 in across", other(6*in+in/4, 2*in+in/4), true},
		{"", "the same a little wider", other(6*in+in/4, 2*in+in/2), false},
		{"", "2x6 with a milled recess", recessed(14*in, 3*in/4, 5*in/16, 7*in/8, 3*in/8), true},
		{"", "the same with a shallow recess", recessed(14*in, 3*in/4, in/4, 7*in/8, 3*in/8), false},
		{"", "the same with a recess too far down", recessed(14*in, in, 5*in/16, 7*in/8, 3*in/8), false},
	} {
		if tt.graspable != tt.want {
			t.Errorf("%s %s: graspable = %t, want %t", tt.id, tt.name, tt.graspable, tt.want)
		}
	}
}
