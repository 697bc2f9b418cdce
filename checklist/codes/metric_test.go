package codes_test

import (
	"math"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// The load along the top of a guard and its conversion, by the rows of the check values.
func TestMetric(t *testing.T) {
	for _, tt := range []struct {
		id   string
		f    codes.Figure
		want float64
		unit string
	}{
		{"E30", codes.Figure{Number: 200, Unit: "lb"}, 0.8896, "kN"},
		{"E31", codes.Figure{Number: 50, Unit: "lb/ft"}, 0.7297, "kN/m"},
		{"E31", codes.Figure{Number: 50.71, Unit: "lb/ft"}, 0.74, "kN/m"},
		{"E31", codes.Figure{Number: 34.26, Unit: "lb/ft"}, 0.5, "kN/m"},
		{"E31", figure(t, applied(t, "england-k"), codes.LoadGuardLine).Figure, 0.74, "kN/m"},
		{"E31", figure(t, applied(t, "ontario-9.8"), codes.LoadGuardLine).Figure, 0.5, "kN/m"},
		{"E31", figure(t, applied(t, "ibc-2021"), codes.LoadGuardLine).Figure, 0.7297, "kN/m"},
		{"", codes.Figure{Number: 40, Unit: "lb/sq ft"}, 1.9152, "kN/m2"},
		{"", codes.Figure{Number: 1, Unit: "sq ft"}, 0.0929, "m2"},
		{"", codes.Figure{Number: 42, Unit: "degrees"}, 42, "degrees"},
		{"", codes.Figure{Number: 4}, 4, ""},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		if got, unit := tt.f.Metric(); math.Abs(got-tt.want) > 1e-4 || unit != tt.unit {
			t.Errorf("%s: %v %s = %.5f %s, want %v %s", tt.id, tt.f.Number, tt.f.Unit, got, unit, tt.want, tt.unit)
		}
	}
}

// The load along the top gathers on each post; over a wide bay it is more than the concentrated load.
func TestLineLoadOnPosts(t *testing.T) {
	rules := applied(t, "ibc-2021")
	line, point := figure(t, rules, codes.LoadGuardLine), figure(t, rules, codes.LoadGuardPoint)
	for _, tt := range []struct {
		id      string
		centres length.Length
		pounds  float64
		governs bool
	}{
		{"E12", 4 * length.Foot, 200, false},
		{"E13", 6 * length.Foot, 300, true},
		{"E13", 8 * length.Foot, 400, true},
	} {
		checkRow(t, tt.id)
		got := line.Number * tt.centres.Inches() / 12
		if got != tt.pounds || got > point.Number != tt.governs {
			t.Errorf("%s: posts %v apart carry %v lb against %v lb, want %v, governing %t", tt.id, tt.centres, got, point.Number, tt.pounds, tt.governs)
		}
	}
}
