package layout_test

import (
	"testing"

	"newelbook/checklist/layout"
)

func TestSeries(t *testing.T) {
	for _, tt := range []struct {
		labels []string
		want   string
	}{
		{nil, ""},
		{[]string{"R1"}, "R1"},
		{[]string{"R1", "R2"}, "R1, R2"},
		{[]string{"R1", "R2", "R3", "R5"}, "R1 to R3, R5"},
		{[]string{"R8", "R9", "R10", "R11"}, "R8 to R11"},
		{[]string{"R1-B1", "R1-B2", "R1-B3", "R2-B4", "R2-B5"}, "R1-B1 to R1-B3, R2-B4, R2-B5"},
		{[]string{"R1-B1 top", "R1-B2 top", "R1-B3 top"}, "R1-B1 top, R1-B2 top, R1-B3 top"}, // no number ends them
		{[]string{"R3", "R2", "R1"}, "R3, R2, R1"},
		{[]string{"R1", "R1", "R1"}, "R1, R1, R1"},
		{[]string{"A", "B", "C"}, "A, B, C"},
		{[]string{"R1-P1", "R1-P2", "R1-P", "R1-P3"}, "R1-P1, R1-P2, R1-P, R1-P3"},
	} {
		if got := layout.Series(tt.labels); got != tt.want {
			t.Errorf("Series(%q) = %q, want %q", tt.labels, got, tt.want)
		}
	}
}
