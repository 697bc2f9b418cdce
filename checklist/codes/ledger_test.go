package codes_test

import (
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func TestLedgerSpacing(t *testing.T) {
	const (
		ft  = length.Foot
		nm  = length.Nanometre
		set = "wisconsin-sps-325"
	)
	for _, tt := range []struct {
		id        string
		set       string
		span      length.Length
		lag, bolt length.Length // zero: no figure
	}{
		{"E33", set, 12 * ft, 15 * in, 29 * in},
		{"E33", set, 12*ft + nm, 13 * in, 24 * in},
		{"E33", set, 12*ft - nm, 15 * in, 29 * in},
		{"", set, 4 * ft, 30 * in, 36 * in},
		{"", set, 6 * ft, 30 * in, 36 * in},
		{"", set, 8 * ft, 23 * in, 36 * in},
		{"", set, 10 * ft, 18 * in, 34 * in},
		{"", set, 14 * ft, 13 * in, 24 * in},
		{"", set, 16 * ft, 11 * in, 21 * in},
		{"", set, 18 * ft, 10 * in, 19 * in},
		{"", set, 18*ft + nm, 0, 0},
		{"", "irc-2018", 12 * ft, 0, 0},
	} {
		if tt.id != "" {
			checkRow(t, tt.id)
		}
		for fastener, want := range map[string]length.Length{codes.LedgerLagSpacing: tt.lag, codes.LedgerBoltSpacing: tt.bolt} {
			f, ok := codes.LedgerSpacing(applied(t, tt.set), fastener, tt.span)
			if ok != (want > 0) || f.Value != want {
				t.Errorf("%s %s: LedgerSpacing(%s, %v) = %v, %t, want %v", tt.id, tt.set, fastener, tt.span, f.Value, ok, want)
			}
			if ok && (f.Bound != codes.AtMost || f.Clause != "Section 9 Table 6" || f.Standing != codes.OfficialText) {
				t.Errorf("%s %s at %v: %s, %s", tt.set, fastener, tt.span, f.Bound, f.Source())
			}
		}
	}
}

// A longer joist span never allows a wider spacing.
func TestLedgerSpacingFalls(t *testing.T) {
	rules := applied(t, "wisconsin-sps-325")
	for _, fastener := range []string{codes.LedgerLagSpacing, codes.LedgerBoltSpacing} {
		last := length.Length(0)
		for i, feet := range codes.LedgerSpans() {
			f := figure(t, rules, codes.LedgerKey(fastener, feet))
			if i > 0 && f.Value > last {
				t.Errorf("%s at %d ft is %v, more than %v of the shorter span", fastener, feet, f.Value, last)
			}
			last = f.Value
		}
	}
}
