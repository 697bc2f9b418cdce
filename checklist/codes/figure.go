package codes

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"newelbook/checklist/length"
)

// Standing says how far a figure can be trusted: where it was seen.
type Standing string

// The standings. CommonPractice appears in the reference figures only, Authority in amended figures only.
const (
	OfficialText   Standing = "official text"              // seen in the text itself, or in a mirror of it
	SecondaryText  Standing = "secondary text"             // seen quoted elsewhere
	Memory         Standing = "memory"                     // recalled, not seen: confirm before relying on it
	CommonPractice Standing = "common practice, no source" // a habit of the trade, nobody's rule
	Authority      Standing = "said by the authority"      // the job's own figure
)

// Kind is what a figure counts.
type Kind string

// The kinds of figure, with the spelling of their values in the data and in amendments.
const (
	KindLength         Kind = "length"           // 36 in, 1070 mm
	KindCount          Kind = "count"            // 4
	KindRatio          Kind = "ratio"            // 1 in 2: rise in run
	KindForce          Kind = "force"            // 200 lb, 1.0 kN
	KindForcePerLength Kind = "force per length" // 50 lb/ft, 0.5 kN/m
	KindForcePerArea   Kind = "force per area"   // 40 lb/sq ft, 1.0 kN/m2
	KindArea           Kind = "area"             // 1 sq ft, 0.09 m2
	KindAngle          Kind = "angle"            // 42 degrees above level
	KindText           Kind = "text"             // a rule in words
)

// units lists what a number of each kind may be counted in; the empty unit is a bare number.
func (k Kind) units() []string {
	switch k {
	case KindCount:
		return []string{""}
	case KindForce:
		return []string{"lb", "kN"}
	case KindForcePerLength:
		return []string{"lb/ft", "kN/m"}
	case KindForcePerArea:
		return []string{"lb/sq ft", "kN/m2"}
	case KindArea:
		return []string{"sq ft", "m2"}
	case KindAngle:
		return []string{"degrees"}
	}
	return nil
}

// Figure is one limit of a code with its source.
type Figure struct {
	Key   string `json:"key"`
	Title string `json:"title"`
	Kind  Kind   `json:"kind"`
	// Value is the figure of KindLength, and zero for every other kind.
	Value length.Length `json:"value"`
	// Number and Unit are the figure of the other kinds, text apart. A ratio's Number is Rise divided by Run, and its
	// exact form is Rise and Run.
	Number float64 `json:"number"`
	Unit   string  `json:"unit"`
	Rise   int64   `json:"rise"`
	Run    int64   `json:"run"`
	// Text is the value as the data or the authority wrote it.
	Text     string   `json:"text"`
	Bound    Bound    `json:"bound"` // empty for KindText
	Clause   string   `json:"clause"`
	Edition  string   `json:"edition"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// Show returns the value for people: a length in the style, anything else as it was written. A length that is written in feet
// stays in feet where the style is inches: nobody reads 300 ft off as 3600 in.
func (f Figure) Show(style length.Style) string {
	if f.Kind != KindLength {
		return f.Text
	}
	if style == length.InchFraction && strings.Contains(f.Text, "ft") {
		style = length.FeetInches
	}
	return f.Value.FormatFigure(style)
}

// Source returns where the figure comes from in one line: clause, edition and standing.
func (f Figure) Source() string {
	return fmt.Sprintf("%s, %s, %s", f.Clause, f.Edition, f.Standing)
}

var (
	countedNumber = regexp.MustCompile(`^(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)(?:\s+(\S.*))?$`)
	riseInRun     = regexp.MustCompile(`^(\d{1,6}) in (\d{1,6})$`)
)

// withValue returns the figure with its value read from text by its kind, or an error wrapping ErrValue. Bare lengths take
// the unit bare. Every value but text must be greater than zero.
func (f Figure) withValue(text string, bare length.Unit) (Figure, error) {
	text = strings.TrimSpace(text)
	f.Text, f.Value, f.Number, f.Unit, f.Rise, f.Run = text, 0, 0, "", 0, 0
	switch f.Kind {
	case KindText:
		if text == "" {
			return Figure{}, fmt.Errorf("%w: no words", ErrValue)
		}
		return f, nil
	case KindLength:
		value, err := length.Parse(text, bare)
		if err != nil {
			return Figure{}, fmt.Errorf("%w: %w", ErrValue, err)
		}
		if value <= 0 {
			return Figure{}, fmt.Errorf("%w: %q is not above zero", ErrValue, text)
		}
		f.Value = value
		return f, nil
	case KindRatio:
		m := riseInRun.FindStringSubmatch(text)
		if m == nil {
			return Figure{}, fmt.Errorf("%w: %q is not a rise in a run, such as 1 in 2", ErrValue, text)
		}
		rise, riseErr := strconv.ParseInt(m[1], 10, 64)
		run, runErr := strconv.ParseInt(m[2], 10, 64)
		if riseErr != nil || runErr != nil || rise == 0 || run == 0 {
			return Figure{}, fmt.Errorf("%w: %q has a zero", ErrValue, text)
		}
		f.Rise, f.Run = rise, run
		f.Number = float64(f.Rise) / float64(f.Run)
		return f, nil
	}
	return f.withNumber(text)
}

// withNumber reads a number and its unit.
func (f Figure) withNumber(text string) (Figure, error) {
	m := countedNumber.FindStringSubmatch(text)
	if m == nil {
		return Figure{}, fmt.Errorf("%w: %q is not a number", ErrValue, text)
	}
	if !slices.Contains(f.Kind.units(), m[2]) {
		return Figure{}, fmt.Errorf("%w: %q is not counted in %s", ErrValue, text, strings.Join(f.Kind.units(), " or "))
	}
	number, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", ""), 64)
	if err != nil || number <= 0 {
		return Figure{}, fmt.Errorf("%w: %q is not a number above zero", ErrValue, text)
	}
	if f.Kind == KindCount && strings.Contains(m[1], ".") {
		return Figure{}, fmt.Errorf("%w: %q is not a whole number", ErrValue, text)
	}
	f.Number, f.Unit = number, m[2]
	return f, nil
}
