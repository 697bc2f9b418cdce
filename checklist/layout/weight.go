package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"newelbook/checklist/length"
)

// Weight is a weight in micrograms, so that a pound (453.59237 g, by definition) and a kilogram are both whole.
type Weight int64

// Units of weight.
const (
	Pound    Weight = 453_592_370
	Kilogram Weight = 1_000_000_000
)

// mostWeight bounds a typed weight.
const mostWeight = 1000 * Kilogram

// CarryDefault is the weight above which a removable length is said to be carried by two, for jobs in the unit and where the
// specification gives none: 45 lb or 20 kg (common practice, no source).
func CarryDefault(unit length.Unit) Weight {
	if unit == length.Millimetres {
		return 20 * Kilogram
	}
	return 45 * Pound
}

// weightOf is a weight in kilograms, to the microgram.
func weightOf(kilograms float64) Weight { return Weight(math.Round(kilograms * float64(Kilogram))) }

// unitOfWeight is pounds for work in inches, else kilograms.
func unitOfWeight(style length.Style) (Weight, string) {
	if style == length.Metric {
		return Kilogram, "kg"
	}
	return Pound, "lb"
}

// Text shows the weight in pounds for work in inches, else in kilograms, to a tenth.
func (g Weight) Text(style length.Style) string {
	unit, name := unitOfWeight(style)
	return strconv.FormatFloat(math.Round(float64(g)/float64(unit)*10)/10, 'f', -1, 64) + " " + name
}

// upText shows the weight in the same units, rounded up to a whole one.
func (g Weight) upText(style length.Style) string {
	unit, name := unitOfWeight(style)
	return fmt.Sprintf("%d %s", (g+unit-1)/unit, name)
}

// both shows the weight as the text function does, in the unit of the style first and then in the other: "45 lb (20.4 kg)".
func (g Weight) both(style length.Style, text func(Weight, length.Style) string) string {
	other := length.Metric
	if style == length.Metric {
		other = length.InchFraction
	}
	return text(g, style) + " (" + text(g, other) + ")"
}

// exactWeight shows a weight so that parseWeight reads it back, in pounds or kilograms, whichever is the shorter.
func exactWeight(g Weight, style length.Style) string {
	if text := g.Text(style); readsBack(text, g) {
		return text
	}
	for _, other := range []length.Style{length.InchFraction, length.Metric} {
		if text := g.Text(other); readsBack(text, g) {
			return text
		}
	}
	return strconv.FormatFloat(float64(g)/float64(Kilogram), 'f', 9, 64) + " kg"
}

func readsBack(text string, g Weight) bool {
	back, err := parseWeight(text, length.Inches)
	return err == nil && back == g
}

// parseWeight reads "45 lb", "20 kg" or a bare number, which is in pounds for work in inches and in kilograms otherwise.
func parseWeight(text string, unit length.Unit) (Weight, error) {
	each := Pound
	if unit == length.Millimetres {
		each = Kilogram
	}
	text = strings.ToLower(strings.TrimSpace(text))
	for _, named := range []struct {
		name string
		each Weight
	}{{"lbs", Pound}, {"lb", Pound}, {"kg", Kilogram}} {
		if number, ok := strings.CutSuffix(text, named.name); ok {
			text, each = strings.TrimSpace(number), named.each
			break
		}
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(n) || strings.ContainsAny(text, "xpein_") {
		return 0, fmt.Errorf("%q is no weight", text)
	}
	g := math.Round(n * float64(each))
	if g <= 0 || g > float64(mostWeight) {
		return 0, fmt.Errorf("%q is out of range", text)
	}
	return Weight(g), nil
}
