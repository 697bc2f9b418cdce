package length

import (
	"math/big"
	"regexp"
	"strings"
)

// Unit is the unit that a bare number takes, and the unit a job is worked in.
type Unit string

// The two units of work. The zero value means that no unit is named: Parse then demands one in the text.
const (
	Inches      Unit = "in"
	Millimetres Unit = "mm"
)

// Style returns the style that readings in this unit are shown in: InchFraction or Metric; empty for an unknown unit.
func (u Unit) Style() Style {
	switch u {
	case Inches:
		return InchFraction
	case Millimetres:
		return Metric
	}
	return ""
}

const (
	// farthest is the largest length accepted, either way.
	farthest = 1_000_000 * Millimetre
	// longestText bounds the work of parsing; the longest honest spelling is about 25 bytes.
	longestText = 64
	// finestDenominator: 1/64 is the finest fraction marked on any tape and the finest exact one in inches.
	finestDenominator = 64
)

// The grammar, after plain has replaced the typographic characters. A fraction must be less than one: 413/8 is far
// more likely 41 3/8 without its space than 51 5/8. Groups: whole, numerator, denominator, decimal, then the unit.
const (
	wholeNumber = `\d{1,3}(?:,\d{3})+|\d+`
	quantity    = `(?:(?:(` + wholeNumber + `)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)|((?:` + wholeNumber + `)(?:\.\d*)?|\.\d+))`
)

var (
	single     = regexp.MustCompile(`^` + quantity + `\s*('|"|[a-z]+\.?)?$`)
	feetInches = regexp.MustCompile(`^(` + wholeNumber + `)\s*(?:'|ft\.?|foot|feet)\s*-?\s*` + quantity + `\s*(?:"|in\.?|inch|inches)?$`)
)

// Parse reads a length as people write it: 3 15/16, 3-15/16", 3'-4 1/2", 6 ft 4 in, 7.625, 1,940 mm, 1.94 m, 9.5 cm,
// with typographic fractions, primes, minus and fraction slash, and stray spaces. A leading minus is kept (plumb
// readings are signed). A number without a unit takes bare, or inches after feet. Commas group thousands only.
//
// Fractions must be exact: no finer than 1/64 and a whole number of nanometres. Decimals are rounded to the nanometre,
// halves away from zero. Inches after feet must be under 12. The range is 1,000 m either way, inclusive.
//
// A refused text gives an *Error and the zero Length.
func Parse(text string, bare Unit) (Length, error) {
	refuse := func(cause error) (Length, error) { return 0, &Error{Input: text, Cause: cause, Bare: bare} }
	if len(text) > longestText {
		return refuse(ErrSyntax)
	}
	s, negative := plain(text), false
	if s == "" {
		return refuse(ErrEmpty)
	}
	if s[0] == '-' || s[0] == '+' {
		negative = s[0] == '-'
		s = strings.TrimSpace(s[1:])
	}
	nm, cause := magnitudeOf(s, bare)
	if cause != nil {
		return refuse(cause)
	}
	if nm.Cmp(farthest.Rat()) > 0 {
		return refuse(ErrRange)
	}
	l := nearest(nm)
	if negative {
		l = -l
	}
	return l, nil
}

// magnitudeOf reads an unsigned length of plain characters, in nanometres.
func magnitudeOf(s string, bare Unit) (*big.Rat, error) {
	if m := feetInches.FindStringSubmatch(s); m != nil {
		inches, err := nanometres(m[2:6], Inch)
		if err != nil {
			return nil, err
		}
		if inches.Cmp(Foot.Rat()) >= 0 {
			return nil, ErrSyntax
		}
		feet := new(big.Rat).Mul(number(m[1]), Foot.Rat())
		return feet.Add(feet, inches), nil
	}
	m := single.FindStringSubmatch(s)
	if m == nil {
		return nil, ErrSyntax
	}
	unit, err := unitLength(m[5], bare)
	if err != nil {
		return nil, err
	}
	return nanometres(m[1:5], unit)
}

// nanometres turns the four groups of a quantity, counted in unit, into nanometres.
func nanometres(groups []string, unit Length) (*big.Rat, error) {
	whole, over, under, decimal := groups[0], groups[1], groups[2], groups[3]
	if decimal != "" {
		value := number(decimal)
		return value.Mul(value, unit.Rat()), nil
	}
	denominator := number(under)
	if denominator.Sign() == 0 {
		return nil, ErrSyntax
	}
	value := number(over)
	if value.Cmp(denominator) >= 0 {
		return nil, ErrSyntax
	}
	value.Quo(value, denominator)
	if value.Denom().Cmp(big.NewInt(finestDenominator)) > 0 {
		return nil, ErrTooFine
	}
	if whole != "" {
		value.Add(value, number(whole))
	}
	value.Mul(value, unit.Rat())
	if !value.IsInt() {
		return nil, ErrTooFine
	}
	return value, nil
}

// number reads digits with optional thousands commas and decimal point, which the grammar has already vouched for.
func number(digits string) *big.Rat {
	value, ok := new(big.Rat).SetString(strings.ReplaceAll(digits, ",", ""))
	if !ok {
		panic("length: the grammar let through " + digits)
	}
	return value
}

// unitLength returns the length of one of the named unit.
func unitLength(name string, bare Unit) (Length, error) {
	if name == "" {
		name = string(bare)
	}
	switch strings.TrimSuffix(name, ".") {
	case "":
		return 0, ErrUnit
	case `"`, "in", "inch", "inches":
		return Inch, nil
	case "'", "ft", "foot", "feet":
		return Foot, nil
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return 10 * Millimetre, nil
	case "m", "metre", "metres", "meter", "meters":
		return 1000 * Millimetre, nil
	}
	return 0, ErrSyntax
}

// nearest rounds a rational number of nanometres that is not negative and within range, halves up.
func nearest(nm *big.Rat) Length {
	twice := new(big.Int).Lsh(nm.Num(), 1)
	twice.Add(twice, nm.Denom())
	return Length(twice.Div(twice, new(big.Int).Lsh(nm.Denom(), 1)).Int64())
}

// plainer spells typographic characters in ASCII. Vulgar fractions gain a space in front, so that 3½ reads 3 1/2.
var plainer = strings.NewReplacer(
	"½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4", "⅕", " 1/5", "⅖", " 2/5", "⅗", " 3/5", "⅘", " 4/5",
	"⅙", " 1/6", "⅚", " 5/6", "⅐", " 1/7", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅑", " 1/9", "⅒", " 1/10",
	"⅟", " 1/",
	"\u2044", "/", "\u2215", "/", // fraction slash, division slash
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", // minus, hyphens, figure and en dash
	"\u2032", "'", "\u2019", "'", "\u2018", "'", "\u00b4", "'", "`", "'",
	"\u2033", `"`, "\u201d", `"`, "\u201c", `"`,
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", // no-break, narrow, thin and figure spaces
)

// plain lowers the case, replaces typographic characters and trims.
func plain(text string) string {
	s := plainer.Replace(strings.ToLower(text))
	return strings.TrimSpace(strings.ReplaceAll(s, "''", `"`))
}
