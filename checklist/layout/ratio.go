package layout

import (
	"math/big"

	"newelbook/checklist/length"
)

// ratio is an exact quotient of nanometres; den is positive. Runs of 1,000 m with thousands of members stay far inside int64.
type ratio struct{ num, den int64 }

// round returns the quotient rounded to the grid, halves away from zero; a grid of zero or less rounds to the nanometre.
func (r ratio) round(grid length.Length) length.Length {
	if grid <= 0 {
		grid = length.Nanometre
	}
	return length.MulDiv(1, r.num, r.den*int64(grid)) * grid
}

// nearest returns the quotient to the nearest nanometre.
func (r ratio) nearest() length.Length { return r.round(length.Nanometre) }

// String returns the reduced quotient, "95250000/1".
func (r ratio) String() string { return big.NewRat(r.num, r.den).String() }

// ceilDiv returns the least whole number not under num/den, for den above zero.
func ceilDiv(num, den length.Length) int {
	q := num / den
	if num%den > 0 {
		q++
	}
	return int(q)
}

// floorDiv returns the greatest whole number not over num/den, for den above zero.
func floorDiv(num, den length.Length) int { return -ceilDiv(-num, den) }
