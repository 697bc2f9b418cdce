package layout

import "newelbook/checklist/length"

// LeastCount returns the fewest members that leave no equal gap wider than gap in a clear opening; a gap of exactly that
// width is within it. Zero members where the opening itself is no wider. Zero too when a length is not above zero.
func LeastCount(clear, member, gap length.Length) int {
	if clear <= gap || member <= 0 || gap <= 0 {
		return 0
	}
	return ceilDiv(clear-gap, member+gap)
}

// LeastCountUnder is LeastCount where the gap must be under the limit: a gap of exactly the limit is too wide.
func LeastCountUnder(clear, member, limit length.Length) int {
	n := LeastCount(clear, member, limit)
	if num, den := gapOf(clear, member, n); num == int64(limit)*den {
		n++
	}
	return n
}

// EqualGap returns the gap that n members leave in a clear opening, to the nearest nanometre; negative where they do not fit.
func EqualGap(clear, member length.Length, n int) length.Length {
	num, den := gapOf(clear, member, n)
	return ratio{num, den}.nearest()
}

// GapAtCentres returns the clear gap between members set at centres in plan, such as two to a tread.
func GapAtCentres(centres, member length.Length) length.Length { return centres - member }

// EqualSpacing returns a length divided into equal spaces, to the nearest nanometre; zero for no spaces.
func EqualSpacing(total length.Length, spaces int) length.Length {
	if spaces <= 0 {
		return 0
	}
	return ratio{int64(total), int64(spaces)}.nearest()
}

// gapOf is the exact gap of n members.
func gapOf(clear, member length.Length, n int) (num, den int64) {
	return int64(clear) - int64(n)*int64(member), int64(n) + 1
}

// equalCentres returns the exact centres of n members with equal gaps, from the datum-side end of the opening, in plan.
func equalCentres(clear, member length.Length, n int) []ratio {
	num, den := gapOf(clear, member, n)
	centres := make([]ratio, n)
	for i := range centres {
		k := int64(i + 1)
		centres[i] = ratio{2*k*num + (2*k-1)*int64(member)*den, 2 * den}
	}
	return centres
}

// fixedCentres returns the exact centres of n members at fixed centres about the middle of a length.
func fixedCentres(total, centres length.Length, n int) []ratio {
	all := make([]ratio, n)
	for i := range all {
		all[i] = ratio{int64(total) + int64(2*i+1-n)*int64(centres), 2}
	}
	return all
}
