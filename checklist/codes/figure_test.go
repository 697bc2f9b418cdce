package codes_test

import (
	"encoding/csv"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// checkRow fails the test unless the shared check values have a row of that id.
func checkRow(t *testing.T, id string) {
	t.Helper()
	file, err := os.Open("../../testdata/check-values.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row[0] == id {
			return
		}
	}
	t.Errorf("check-values.csv has no row %s", id)
}

// Every length figure, typed a second time from the code's text, with its strictness.
func TestLengthFigures(t *testing.T) {
	for _, tt := range []struct {
		id, key string
		bound   codes.Bound
		want    length.Length
		clause  string
	}{
		// Section 1.1: guards.
		{"irc-2018", codes.GuardTriggerDrop, codes.Over, 30 * in, "R312.1.1"},
		{"irc-2018", codes.GuardTriggerZone, codes.AtMost, 36 * in, "R312.1.1"},
		{"irc-2018", codes.GuardHeightLevel, codes.AtLeast, 36 * in, "R312.1.2"},
		{"irc-2018", codes.GuardHeightStair, codes.AtLeast, 34 * in, "R312.1.2 exc. 1"},
		{"irc-2018", codes.GuardHandrailTopMin, codes.AtLeast, 34 * in, "R312.1.2 exc. 2"},
		{"irc-2018", codes.GuardHandrailTopMax, codes.AtMost, 38 * in, "R312.1.2 exc. 2"},
		{"irc-2018", codes.OpeningLevel, codes.Under, 4 * in, "R312.1.3"},
		{"irc-2018", codes.OpeningStair, codes.Under, 4*in + 3*in/8, "R312.1.3 exc. 2"},
		{"irc-2018", codes.OpeningTriangle, codes.Under, 6 * in, "R312.1.3 exc. 1"},
		{"irc-2018", codes.OpeningUnderRail, codes.Under, 4 * in, "R312.1.3"},
		// Section 1.2: stairs and handrails.
		{"irc-2018", codes.StairRiserMax, codes.AtMost, 7*in + 3*in/4, "R311.7.5.1"},
		{"irc-2018", codes.StairTreadMin, codes.AtLeast, 10 * in, "R311.7.5.2"},
		{"irc-2018", codes.StairRiserUniform, codes.AtMost, 3 * in / 8, "R311.7.5.1"},
		{"irc-2018", codes.StairTreadUniform, codes.AtMost, 3 * in / 8, "R311.7.5.2"},
		{"irc-2018", codes.HandrailHeightMin, codes.AtLeast, 34 * in, "R311.7.8.1"},
		{"irc-2018", codes.HandrailHeightMax, codes.AtMost, 38 * in, "R311.7.8.1"},
		// Section 4: Ontario.
		{"ontario-9.8", codes.GuardTriggerDrop, codes.Over, 600 * mm, "9.8.8.1"},
		{"ontario-9.8", codes.GuardTriggerZone, codes.AtMost, 1200 * mm, "9.8.8.1"},
		{"ontario-9.8", codes.GuardHeightLevel, codes.AtLeast, 1070 * mm, "9.8.8.3.(1)"},
		{"ontario-9.8", codes.GuardHeightLevelLow, codes.AtLeast, 900 * mm, "9.8.8.3.(3)"},
		{"ontario-9.8", codes.GuardHeightLevelLowDrop, codes.AtMost, 1800 * mm, "9.8.8.3.(3)"},
		{"ontario-9.8", codes.GuardHeightStair, codes.AtLeast, 900 * mm, "9.8.8.3.(4)"},
		{"ontario-9.8", codes.OpeningLevel, codes.AtMost, 100 * mm, "9.8.8.5"},
		{"ontario-9.8", codes.OpeningStair, codes.AtMost, 100 * mm, "9.8.8.5"},
		{"ontario-9.8", codes.OpeningTriangle, codes.AtMost, 100 * mm, "9.8.8.5"},
		{"ontario-9.8", codes.OpeningUnderRail, codes.AtMost, 100 * mm, "9.8.8.5"},
		{"ontario-9.8", codes.ClimbZoneLow, codes.Under, 140 * mm, "9.8.8.6"},
		{"ontario-9.8", codes.ClimbZoneHigh, codes.Over, 900 * mm, "9.8.8.6"},
		{"ontario-9.8", codes.StairRiserMax, codes.AtMost, 200 * mm, "Table 9.8.4.1"},
		{"ontario-9.8", codes.StairRiserMin, codes.AtLeast, 125 * mm, "Table 9.8.4.1"},
		{"ontario-9.8", codes.StairTreadMin, codes.AtLeast, 255 * mm, "Table 9.8.4.1"},
		{"ontario-9.8", codes.StairTreadMax, codes.AtMost, 355 * mm, "Table 9.8.4.1"},
		{"ontario-9.8", codes.StairRiserUniform, codes.AtMost, 10 * mm, "9.8.4.4"},
		{"ontario-9.8", codes.StairRiserUniformAdjacent, codes.AtMost, 5 * mm, "9.8.4.4"},
		{"ontario-9.8", codes.StairTreadUniform, codes.AtMost, 10 * mm, "9.8.4.4"},
	} {
		f := figure(t, applied(t, tt.id), tt.key)
		if f.Value != tt.want || f.Bound != tt.bound || f.Clause != tt.clause {
			t.Errorf("%s %s = %s %v, %s, want %s %v, %s", tt.id, tt.key, f.Bound, f.Value, f.Clause, tt.bound, tt.want, tt.clause)
		}
	}
	for _, tt := range []struct {
		key   string
		bound codes.Bound
		want  length.Length
	}{
		{codes.BoltEdgeMin, codes.AtLeast, 2 * in},
		{codes.BoltDiameterMin, codes.AtLeast, in / 2},
		{codes.PostCentresMax, codes.AtMost, 72 * in},
		{codes.PostSpacingMax, codes.AtMost, 84 * in},
	} {
		f, _ := codes.Reference().Figure(tt.key)
		if f.Value != tt.want || f.Bound != tt.bound {
			t.Errorf("reference %s = %s %v, want %s %v", tt.key, f.Bound, f.Value, tt.bound, tt.want)
		}
	}
}

func TestOtherFigures(t *testing.T) {
	sets := map[string]codes.RuleSet{"reference": codes.Reference()}
	for _, set := range codes.All() {
		sets[set.ID] = set
	}
	for _, tt := range []struct {
		id, key string
		kind    codes.Kind
		number  float64
		unit    string
		bound   codes.Bound
	}{
		{"irc-2018", codes.StairHandrailRisers, codes.KindCount, 4, "", codes.AtLeast},
		{"irc-2018", codes.LoadGuardPoint, codes.KindForce, 200, "lb", codes.AtLeast},
		{"irc-2018", codes.LoadInfillPoint, codes.KindForce, 50, "lb", codes.AtLeast},
		{"irc-2018", codes.LoadInfillArea, codes.KindArea, 1, "sq ft", codes.AtMost},
		{"ontario-9.8", codes.GuardTriggerSlope, codes.KindRatio, 0.5, "", codes.Over},
		{"ontario-9.8", codes.LoadGuardPoint, codes.KindForce, 1, "kN", codes.AtLeast},
		{"ontario-9.8", codes.LoadGuardLine, codes.KindForcePerLength, 0.5, "kN/m", codes.AtLeast},
		{"ontario-9.8", codes.LoadInfillPoint, codes.KindForce, 0.5, "kN", codes.AtLeast},
		{"ontario-9.8", codes.LoadInfillArea, codes.KindArea, 0.09, "m2", codes.AtMost},
		{"irc-2018", codes.LoadTreadPoint, codes.KindForce, 300, "lb", codes.AtLeast},
		{"irc-2018", codes.LoadDeckLive, codes.KindForcePerArea, 40, "lb/sq ft", codes.AtLeast},
		{"irc-2018", codes.LoadGlassFactor, codes.KindCount, 4, "", codes.AtLeast},
		{"ibc-2021", codes.LoadGuardLine, codes.KindForcePerLength, 50, "lb/ft", codes.AtLeast},
		{"ibc-2021", codes.LoadGuardLineRestricted, codes.KindForcePerLength, 20, "lb/ft", codes.AtLeast},
		{"ibc-2021", codes.LoadGuardPoint, codes.KindForce, 200, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.LoadGuardPoint, codes.KindForce, 200, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.LoadInfillPoint, codes.KindForce, 50, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.HoldDownCapacity, codes.KindForce, 1800, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.TieFourCapacity, codes.KindForce, 750, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.TieTwoCapacity, codes.KindForce, 1500, "lb", codes.AtLeast},
		{"wisconsin-sps-325", codes.SphereTestForce, codes.KindForce, 4, "lb", codes.AtLeast},
		{"existing-condition", codes.StairHandrailRisers, codes.KindCount, 4, "", codes.Over},
		{"ontario-9.8", codes.LoadGuardLineOther, codes.KindForcePerLength, 0.75, "kN/m", codes.AtLeast},
		{"ontario-9.8", codes.LoadGuardVertical, codes.KindForcePerLength, 1.5, "kN/m", codes.AtLeast},
		{"ontario-9.8", codes.LoadHandrailPoint, codes.KindForce, 0.9, "kN", codes.AtLeast},
		{"ontario-9.8", codes.StairTreadSlopeMax, codes.KindRatio, 0.02, "", codes.AtMost},
		{"england-k", codes.LoadGuardLine, codes.KindForcePerLength, 0.74, "kN/m", codes.AtLeast},
		{"england-k", codes.LoadInfillUniform, codes.KindForcePerArea, 1, "kN/m2", codes.AtLeast},
		{"england-k", codes.LoadInfillPoint, codes.KindForce, 0.5, "kN", codes.AtLeast},
		{"england-k", codes.LoadGuardLineInside, codes.KindForcePerLength, 0.36, "kN/m", codes.AtLeast},
		{"england-k", codes.LoadInfillUniformInside, codes.KindForcePerArea, 0.5, "kN/m2", codes.AtLeast},
		{"england-k", codes.LoadInfillPointInside, codes.KindForce, 0.25, "kN", codes.AtLeast},
		{"england-k", codes.StairPitchMax, codes.KindAngle, 42, "degrees", codes.AtMost},
		{"australia-ncc-2022", codes.GuardRampSlope, codes.KindRatio, 0.05, "", codes.AtLeast},
		{"australia-ncc-2022", codes.StairFlightRisersMax, codes.KindCount, 18, "", codes.AtMost},
		{"australia-ncc-2022", codes.LoadGuardPoint, codes.KindForce, 0.6, "kN", codes.AtLeast},
		{"new-zealand-f4-d1", codes.StairPitchMax, codes.KindAngle, 37, "degrees", codes.AtMost},
		{"new-zealand-f4-d1", codes.StairMinor.Key(codes.StairPitchMax), codes.KindAngle, 47, "degrees", codes.AtMost},
		{"new-zealand-f4-d1", codes.StairAccessible.Key(codes.StairPitchMax), codes.KindAngle, 32, "degrees", codes.AtMost},
		{"reference", codes.HoldDownCapacity, codes.KindForce, 1800, "lb", codes.AtLeast},
		{"reference", codes.LoadPostTest, codes.KindForce, 500, "lb", codes.AtLeast},
		{"reference", codes.SphereTestForce, codes.KindForce, 4, "lb", codes.AtLeast},
		{"reference", codes.PostSizeMin, codes.KindText, 0, "", ""},
	} {
		f, ok := sets[tt.id].Figure(tt.key)
		if !ok || f.Kind != tt.kind || f.Number != tt.number || f.Unit != tt.unit || f.Bound != tt.bound {
			t.Errorf("%s %s = %s %s %v %q, want %s %s %v %q", tt.id, tt.key, f.Kind, f.Bound, f.Number, f.Unit, tt.kind, tt.bound, tt.number, tt.unit)
		}
	}
}

// Readings against figures, at the exact limit and a nanometre to either side where the row names only the limit.
func TestReadingsAgainstFigures(t *testing.T) {
	const nm = length.Nanometre
	california := codes.Amendment{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "a sample official"}
	for _, tt := range []struct {
		id      string // row of check-values.csv
		name    string
		set     string
		amended []codes.Amendment
		key     string
		value   length.Length
		inside  bool
	}{
		{"A09", "level guard 36.0 in", "irc-2018", nil, codes.GuardHeightLevel, 36 * in, true},
		{"A09", "level guard 35.9 in", "irc-2018", nil, codes.GuardHeightLevel, 359 * in / 10, false},
		{"A09", "level guard a nanometre low", "irc-2018", nil, codes.GuardHeightLevel, 36*in - nm, false},
		{"A10", "stair guard 34.0 in", "irc-2018", nil, codes.GuardHeightStair, 34 * in, true},
		{"A10", "stair guard 33.9 in", "irc-2018", nil, codes.GuardHeightStair, 339 * in / 10, false},
		{"A12", "36 in where the authority asks for 42", "irc-2018", []codes.Amendment{california}, codes.GuardHeightLevel, 36 * in, false},
		{"A12", "42 in where the authority asks for 42", "irc-2018", []codes.Amendment{california}, codes.GuardHeightLevel, 42 * in, true},
		{"A12", "36 in in California", "california-residential", nil, codes.GuardHeightLevel, 36 * in, false},
		{"A12", "42 in in California", "california-residential", nil, codes.GuardHeightLevel, 42 * in, true},
		{"A12", "34 in on a stair in California", "california-residential", nil, codes.GuardHeightStair, 34 * in, true},
		{"A13", "deck of no dwelling, 36 in", "ibc-2021", nil, codes.GuardHeightLevel, 36 * in, false},
		{"A13", "deck of no dwelling, 42 in", "ibc-2021", nil, codes.GuardHeightLevel, 42 * in, true},
		{"A13", "deck of a dwelling, 36 in", "ibc-2021", nil, codes.GuardHeightDwelling, 36 * in, true},
		{"A17", "stair in Australia, 865 mm", "australia-ncc-2022", nil, codes.GuardHeightStair, 865 * mm, true},
		{"A17", "stair in Australia, a nanometre low", "australia-ncc-2022", nil, codes.GuardHeightStair, 865*mm - nm, false},
		{"B05", "New Zealand, 100.0 mm", "new-zealand-f4-d1", nil, codes.OpeningLevel, 100 * mm, false},
		{"B05", "New Zealand, a nanometre under", "new-zealand-f4-d1", nil, codes.OpeningLevel, 100*mm - nm, true},
		{"B07", "Australia, 124 mm", "australia-ncc-2022", nil, codes.OpeningLevel, 124 * mm, true},
		{"B07", "Australia, 126 mm", "australia-ncc-2022", nil, codes.OpeningLevel, 126 * mm, false},
		{"B07", "Australia, 125 mm, the sphere itself", "australia-ncc-2022", nil, codes.OpeningLevel, 125 * mm, false},
		{"B08", "Wisconsin, ropes 3.6 in apart", "wisconsin-sps-325", nil, codes.OpeningRope, 36 * in / 10, false},
		{"B08", "Wisconsin, ropes 3-1/2 in apart", "wisconsin-sps-325", nil, codes.OpeningRope, 3*in + in/2, true},
		{"B08", "Wisconsin, supports 4.5 ft apart", "wisconsin-sps-325", nil, codes.OpeningRopeSupport, 54 * in, false},
		{"B08", "Wisconsin, supports 4 ft apart", "wisconsin-sps-325", nil, codes.OpeningRopeSupport, 48 * in, true},
		{"B01", "level gap 3.99 in", "irc-2018", nil, codes.OpeningLevel, 399 * in / 100, true},
		{"B01", "level gap 4.00 in", "irc-2018", nil, codes.OpeningLevel, 4 * in, false},
		{"B01", "level gap a nanometre under", "irc-2018", nil, codes.OpeningLevel, 4*in - nm, true},
		{"B03", "level gap 4.25 in", "irc-2018", nil, codes.OpeningLevel, 4*in + in/4, false},
		{"C19", "gap 4.25 in on the open side of a stair", "irc-2018", nil, codes.OpeningStair, 4*in + in/4, true},
		{"C19", "gap 4-3/8 in on the open side of a stair", "irc-2018", nil, codes.OpeningStair, 4*in + 3*in/8, false},
		{"D06", "spread of risers 3/8 in", "irc-2018", nil, codes.StairRiserUniform, 3 * in / 8, true},
		{"D07", "spread of risers 0.39 in", "irc-2018", nil, codes.StairRiserUniform, 39 * in / 100, false},
		{"D04", "riser 7.75 in", "irc-2018", nil, codes.StairRiserMax, 7*in + 3*in/4, true},
		{"D04", "riser a nanometre over", "irc-2018", nil, codes.StairRiserMax, 7*in + 3*in/4 + nm, false},
		{"D09", "handrail 34.0 in", "irc-2018", nil, codes.HandrailHeightMin, 34 * in, true},
		{"D09", "handrail 38.0 in", "irc-2018", nil, codes.HandrailHeightMax, 38 * in, true},
		{"D09", "handrail 33.75 in", "irc-2018", nil, codes.HandrailHeightMin, 33*in + 3*in/4, false},
		{"D09", "handrail a nanometre over 38 in", "irc-2018", nil, codes.HandrailHeightMax, 38*in + nm, false},
		// Section 0.1: Ontario stops a sphere of more than 100 mm, so 100 mm itself is inside.
		{"", "Ontario gap 100.0 mm", "ontario-9.8", nil, codes.OpeningLevel, 100 * mm, true},
		{"", "Ontario gap a nanometre over", "ontario-9.8", nil, codes.OpeningLevel, 100*mm + nm, false},
		{"", "the national code's gap of 100.0 mm", "nbc-2020", nil, codes.OpeningLevel, 100 * mm, false},
		{"", "England's gap of 100.0 mm", "england-k", nil, codes.OpeningLevel, 100 * mm, false},
		{"", "Ontario gap of 4 in", "ontario-9.8", nil, codes.OpeningLevel, 4 * in, false},
		{"", "triangle that just lets 6 in through", "irc-2018", nil, codes.OpeningTriangle, 6 * in, false},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		f := figure(t, applied(t, tt.set, tt.amended...), tt.key)
		if got := f.Bound.Test(tt.value, f.Value); got != tt.inside {
			t.Errorf("%s %s: %v %s %v is %t, want %t", tt.id, tt.name, tt.value, f.Bound, f.Value, got, tt.inside)
		}
	}
}

func TestHandrailTrigger(t *testing.T) {
	town := codes.Amendment{Key: codes.StairHandrailRisers, Value: "3", SaidBy: "a sample official", Office: "a sample town"}
	for _, tt := range []struct {
		id      string
		set     string
		amended []codes.Amendment
		risers  int
		want    bool
	}{
		{"D04", "irc-2018", nil, 3, false},
		{"D04", "irc-2018", nil, 4, true},
		{"D18", "irc-2018", nil, 3, false},
		{"D18", "irc-2018", []codes.Amendment{town}, 3, true},
		{"D18", "irc-2018", []codes.Amendment{town}, 2, false},
		{"D18", "irc-2024", []codes.Amendment{town}, 3, true},
		// Section 2.1: more than 4 risers where the deck stands already.
		{"", "existing-condition", nil, 4, false},
		{"", "existing-condition", nil, 5, true},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		f := figure(t, applied(t, tt.set, tt.amended...), codes.StairHandrailRisers)
		if got := f.Bound.TestNumber(float64(tt.risers), f.Number); got != tt.want {
			t.Errorf("%s: %d risers call for a handrail = %t, want %t", tt.id, tt.risers, got, tt.want)
		}
	}
}

func TestBound(t *testing.T) {
	for _, tt := range []struct {
		bound               codes.Bound
		known               bool
		under, equal, above bool
	}{
		{codes.AtLeast, true, false, true, true},
		{codes.AtMost, true, true, true, false},
		{codes.Under, true, true, false, false},
		{codes.Over, true, false, false, true},
		{"", false, false, false, false},
		{"about", false, false, false, false},
	} {
		limit := 4 * in
		for value, want := range map[length.Length]bool{limit - 1: tt.under, limit: tt.equal, limit + 1: tt.above} {
			if got := tt.bound.Test(value, limit); got != want {
				t.Errorf("%q.Test(%v, %v) = %t, want %t", tt.bound, value, limit, got, want)
			}
		}
		for value, want := range map[float64]bool{3: tt.under, 4: tt.equal, 5: tt.above, math.NaN(): false} {
			if got := tt.bound.TestNumber(value, 4); got != want {
				t.Errorf("%q.TestNumber(%v, 4) = %t, want %t", tt.bound, value, got, want)
			}
		}
		if tt.bound.TestNumber(4, math.NaN()) {
			t.Errorf("%q.TestNumber(4, NaN) is inside", tt.bound)
		}
		if got := tt.bound.Known(); got != tt.known {
			t.Errorf("%q.Known() = %t, want %t", tt.bound, got, tt.known)
		}
	}
}

// A wider gap never turns a failure into a pass, nor does a lower guard.
func TestBoundsAreMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := length.Length(rapid.Int64Range(1, 1e10).Draw(t, "limit"))
		value := length.Length(rapid.Int64Range(0, 2e10).Draw(t, "value"))
		more := length.Length(rapid.Int64Range(0, 1e10).Draw(t, "more"))
		for _, b := range []codes.Bound{codes.Under, codes.AtMost} {
			if !b.Test(value, limit) && b.Test(value+more, limit) {
				t.Fatalf("%v fails %s %v, but the wider %v passes", value, b, limit, value+more)
			}
		}
		for _, b := range []codes.Bound{codes.Over, codes.AtLeast} {
			if !b.Test(value, limit) && b.Test(value-more, limit) {
				t.Fatalf("%v fails %s %v, but the lower %v passes", value, b, limit, value-more)
			}
		}
	})
}
