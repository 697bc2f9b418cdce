// Package length holds exact lengths in nanometres: 1/64 in (396,875 nm) and 1 mm (1,000,000 nm) are both whole
// numbers of the base unit, so inch work and metric work are stored, compared and added without loss.
//
// Callers start with Parse and Length.Format. This is the only place where text becomes a length and a length
// becomes text; nothing else in the program formats inches or millimetres.
//
// Invariants: a length parsed from text lies within -1,000 m to +1,000 m; rounding is half away from zero and the same
// for both signs; text shown to people is rounded, but comparisons use the exact value. What the formatters
// write (on the 1/64 in or 0.01 mm grid) parses back to the same length.
//
// It deliberately knows nothing of limits, tolerances, angles or areas. Float conversions exist for drawing and
// trigonometry only. Test it with: go test ./checklist/length
package length

import (
	"math"
	"math/big"
	"math/bits"
)

// Length is a signed length in whole nanometres. In JSON and in the database it is that integer. The type could
// hold about 9.2 million kilometres; Parse accepts up to 1,000 m either way.
type Length int64

// Exact lengths to multiply by, in the manner of time.Second: 36*length.Inch, 1070*length.Millimetre. To count whole
// units in a length, divide. The inch is 25.4 mm exactly (international inch, 1959).
const (
	Nanometre   Length = 1
	Millimetre         = 1_000_000 * Nanometre
	Inch               = 25_400_000 * Nanometre
	Foot               = 12 * Inch
	SixtyFourth        = Inch / 64 // 396,875 nm; the finest inch fraction, since 1/128 in is not a whole nanometre
)

// Abs returns the length without its sign; the most negative length, which has no opposite, gives the largest.
func (l Length) Abs() Length {
	switch {
	case l == math.MinInt64:
		return math.MaxInt64
	case l < 0:
		return -l
	}
	return l
}

// Round returns l rounded to the nearest multiple of grid, halves away from zero, so that Round(-l) is -Round(l). A
// grid of zero or less returns l unchanged.
func (l Length) Round(grid Length) Length {
	if grid <= 0 {
		return l
	}
	rest := (l % grid).Abs()
	if rest >= grid-rest {
		return l.RoundUp(grid)
	}
	return l.RoundDown(grid)
}

// RoundDown returns l rounded to a multiple of grid towards zero: the size never grows, and RoundDown(-l) is
// -RoundDown(l). A grid of zero or less returns l unchanged.
func (l Length) RoundDown(grid Length) Length {
	if grid <= 0 {
		return l
	}
	return l - l%grid
}

// RoundUp returns l rounded to a multiple of grid away from zero: the size never shrinks, and RoundUp(-l) is
// -RoundUp(l). A grid of zero or less returns l unchanged.
func (l Length) RoundUp(grid Length) Length {
	if grid <= 0 {
		return l
	}
	switch rest := l % grid; {
	case rest > 0:
		return l - rest + grid
	case rest < 0:
		return l - rest - grid
	}
	return l
}

// Inches returns the length in inches for drawing and trigonometry. Never compare two of these: compare the lengths.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Millimetres returns the length in millimetres for drawing and trigonometry. Never compare two of these: compare
// the lengths.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// FromInches returns the length nearest to the inches in, for the result of trigonometry. Values beyond the type
// stop at its ends, and not-a-number gives zero.
func FromInches(in float64) Length {
	nm := math.Round(in * float64(Inch))
	switch {
	case math.IsNaN(nm):
		return 0
	case nm >= math.MaxInt64:
		return math.MaxInt64
	case nm <= math.MinInt64:
		return math.MinInt64
	}
	return Length(nm)
}

// Rat returns the length in nanometres as a new rational number, for exact intermediate work.
func (l Length) Rat() *big.Rat { return new(big.Rat).SetInt64(int64(l)) }

// MulDiv returns l x num / den, the product held in 128 bits and the quotient rounded to the nearest nanometre,
// halves away from zero. A result beyond the type stops at its ends. It panics when den is zero, as division does.
func MulDiv(l Length, num, den int64) Length {
	if den == 0 {
		panic("length: MulDiv by zero")
	}
	negative := (l < 0) != (num < 0) != (den < 0)
	hi, lo := bits.Mul64(magnitude(int64(l)), magnitude(num))
	divisor := magnitude(den)
	if hi >= divisor {
		return saturate(math.MaxUint64, negative)
	}
	quotient, rest := bits.Div64(hi, lo, divisor)
	if rest >= divisor-rest && quotient < math.MaxUint64 {
		quotient++
	}
	return saturate(quotient, negative)
}

// magnitude is the absolute value, right for the most negative number too.
func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// saturate joins a size and a sign, stopping at the ends of the type.
func saturate(size uint64, negative bool) Length {
	switch {
	case negative && size >= 1<<63:
		return math.MinInt64
	case negative:
		return -Length(size)
	case size > math.MaxInt64:
		return math.MaxInt64
	}
	return Length(size)
}
