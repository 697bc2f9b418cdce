package codes

import (
	"fmt"

	"newelbook/checklist/length"
)

// LedgerSpans lists the joist spans of the columns of the table of ledger fasteners, in feet, rising (Wis. Admin. Code SPS 325
// Appendix B Table 6, official text).
func LedgerSpans() []int { return []int{6, 8, 10, 12, 14, 16, 18} }

// LedgerKey returns the key of one column of the table: LedgerKey(LedgerLagSpacing, 6) is ledger.lag_spacing_06ft.
func LedgerKey(fastener string, feet int) string { return fmt.Sprintf("%s_%02dft", fastener, feet) }

// LedgerSpacing returns the greatest spacing of ledger fasteners, LedgerLagSpacing or LedgerBoltSpacing, for a joist span:
// that of the first column which the span does not exceed. False means that there is no figure in this rule set, as for a
// span beyond the last column.
func LedgerSpacing(rules Applied, fastener string, joistSpan length.Length) (AppliedFigure, bool) {
	for _, feet := range LedgerSpans() {
		if joistSpan <= length.Length(feet)*length.Foot {
			return rules.Figure(LedgerKey(fastener, feet))
		}
	}
	return AppliedFigure{}, false
}
