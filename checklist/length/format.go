package length

import (
	"fmt"
	"strconv"
	"strings"
)

// Style is a way to show a length to people, stored as a word.
type Style string

// The styles. The zero value and any other word show the exact millimetres of String.
const (
	FeetInches   Style = "feet-inches" // 6' 4 1/2", and 4 1/2" under a foot
	InchFraction Style = "inches"      // 76 1/2"
	Metric       Style = "millimetres" // 1940 mm, 1943.1 mm
)

const (
	inchDecimals   = 3 // of FormatFine
	metricDecimals = 2 // of Format and FormatFine
	// exactInches and exactMetric are the decimals at which two unequal lengths always read differently: one nanometre
	// is 0.000001 mm and about 0.00000004 in.
	exactInches = 8
	exactMetric = 6
)

// ParseStyle returns the style that the word names, or an error wrapping ErrStyle.
func ParseStyle(word string) (Style, error) {
	switch s := Style(word); s {
	case FeetInches, InchFraction, Metric:
		return s, nil
	}
	return "", fmt.Errorf("%w %q", ErrStyle, word)
}

// String returns the exact length in millimetres for logs and tests, such as 1943.1 mm. Parse reads it back exactly.
func (l Length) String() string { return trimZeros(l.decimal(Millimetre, exactMetric)) + " mm" }

// Format shows the length with its unit mark: inches to the nearest 1/64 in lowest terms, millimetres to the nearest 0.01
// without trailing zeros. Halves are rounded away from zero. Where the rounding could hide a failure use FormatAgainst.
func (l Length) Format(style Style) string {
	switch style {
	case FeetInches, InchFraction:
		return l.FormatBare(style) + `"`
	case Metric:
		return l.FormatBare(style) + " mm"
	}
	return l.String()
}

// FormatBare is Format without the last unit mark: 76 1/2, 1940, and 6' 4 1/2 for feet and inches. Parse reads it back in
// the style's unit.
func (l Length) FormatBare(style Style) string {
	switch style {
	case FeetInches, InchFraction:
		return l.fraction(style == FeetInches)
	case Metric:
		return trimZeros(l.decimal(Millimetre, metricDecimals))
	}
	return trimZeros(l.decimal(Millimetre, exactMetric))
}

// FormatFine shows the length in decimals with its unit mark: inches to 0.001 and millimetres to 0.01, trailing zeros
// kept so that the fineness shows.
func (l Length) FormatFine(style Style) string {
	switch style {
	case FeetInches, InchFraction:
		return l.fine(style, inchDecimals)
	case Metric:
		return l.fine(style, metricDecimals)
	}
	return l.String()
}

// FormatUp is Format with the length rounded up in size: what is worse the larger it is, such as the ball that an opening lets
// through, then never reads as less than it is.
func (l Length) FormatUp(style Style) string {
	if style == Metric {
		return l.RoundUp(Millimetre / 100).Format(style)
	}
	return l.RoundUp(Inch / 64).Format(style)
}

// FormatSet shows a figure that somebody else set, such as a gauge's size, in the style where that holds it exactly, and otherwise in the
// other unit where that does: 100 mm.
func (l Length) FormatSet(style Style) string {
	own, grid, other := Metric, SixtyFourth, Millimetre/100
	if style == Metric {
		own, grid, other = InchFraction, other, grid
	}
	if l%grid != 0 && l%other == 0 {
		return l.Format(own)
	}
	return l.Format(style)
}

// FormatFigure shows a figure that somebody else set, such as a code's limit, so that a rounded text never stands for it alone:
// where FormatSet has it in the other unit, both are given, 100 mm, about 3 15/16".
func (l Length) FormatFigure(style Style) string { return l.beside(l.Format(style), style) }

// beside puts the figure as it was set before a text of it, where that is rounded.
func (l Length) beside(text string, style Style) string {
	if set := l.FormatSet(style); set != l.Format(style) {
		return set + ", about " + text
	}
	return text
}

// FormatAgainst shows a value and the limit it is held against, as FormatFigure has it, in the same fineness. When the rounded texts
// of two unequal lengths would be the same, both are shown in decimals, as few as tell them apart.
func (l Length) FormatAgainst(limit Length, style Style) (value, lim string) {
	value, lim = l.Format(style), limit.Format(style)
	decimals, most := inchDecimals, exactInches
	if style == Metric {
		decimals, most = metricDecimals, exactMetric
	}
	for ; l != limit && value == lim && decimals <= most; decimals++ {
		value, lim = l.fine(style, decimals), limit.fine(style, decimals)
	}
	return value, limit.beside(lim, style)
}

// FormatUpAgainst is FormatAgainst with the length rounded up as FormatUp has it, so that both show one figure: in decimals, or as near as
// tells them apart, where rounding up would take it past a limit that it keeps to.
func (l Length) FormatUpAgainst(limit Length, style Style) (value, lim string) {
	steps := []Length{Inch / 64, Inch / 1000}
	if style == Metric {
		steps = []Length{Millimetre / 100}
	}
	for _, step := range steps {
		if up := l.RoundUp(step); l >= limit || up < limit {
			return up.FormatAgainst(limit, style)
		}
	}
	return l.FormatAgainst(limit, style)
}

// fine shows the length with the given decimals and a unit mark, in inches unless the style is Metric.
func (l Length) fine(style Style, decimals int) string {
	switch style {
	case FeetInches:
		// The feet are taken from the rounded length, or 11.9996" would read 12.000" and not 1' 0.000".
		unit := ratio(l, Inch, decimals)
		perFoot := 12 * pow10(decimals)
		feet := unit / perFoot
		if feet == 0 {
			return l.decimal(Inch, decimals) + `"`
		}
		return sign(l, unit) + strconv.FormatInt(feet, 10) + "' " + point(unit%perFoot, decimals) + `"`
	case Metric:
		return l.decimal(Millimetre, decimals) + " mm"
	}
	return l.decimal(Inch, decimals) + `"`
}

// fraction shows the length in inches and the nearest 1/64, with feet when asked and there are any.
func (l Length) fraction(feet bool) string {
	grid := int64(l.Abs().Round(SixtyFourth) / SixtyFourth)
	var parts []string
	if whole := grid / (64 * 12); feet && whole > 0 {
		parts = append(parts, strconv.FormatInt(whole, 10)+"'")
		grid %= 64 * 12
	}
	inches, over, under := grid/64, grid%64, int64(64)
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	if inches > 0 || over == 0 {
		parts = append(parts, strconv.FormatInt(inches, 10))
	}
	if over > 0 {
		parts = append(parts, fmt.Sprintf("%d/%d", over, under))
	}
	text := strings.Join(parts, " ")
	if l < 0 && text != "0" {
		return "-" + text
	}
	return text
}

// decimal shows the length counted in unit with a fixed number of decimals, halves away from zero.
func (l Length) decimal(unit Length, decimals int) string {
	scaled := ratio(l, unit, decimals)
	return sign(l, scaled) + point(scaled, decimals)
}

// ratio returns the size of l counted in unit, times ten to the decimals, rounded.
func ratio(l, unit Length, decimals int) int64 {
	return int64(MulDiv(l, pow10(decimals), int64(unit)).Abs())
}

// sign returns a minus for a negative length, unless it was rounded to nothing.
func sign(l Length, scaled int64) string {
	if l < 0 && scaled != 0 {
		return "-"
	}
	return ""
}

// point puts the decimal point into a scaled whole number.
func point(scaled int64, decimals int) string {
	return fmt.Sprintf("%d.%0*d", scaled/pow10(decimals), decimals, scaled%pow10(decimals))
}

// pow10 returns ten to the n, for the few decimals used here.
func pow10(n int) int64 {
	power := int64(1)
	for range n {
		power *= 10
	}
	return power
}

// trimZeros removes the trailing zeros of a decimal, and its point when nothing is left behind it.
func trimZeros(decimal string) string {
	return strings.TrimRight(strings.TrimRight(decimal, "0"), ".")
}
