package length_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/length"
)

func TestFormat(t *testing.T) {
	const nm = length.Nanometre
	for _, tt := range []struct {
		l          length.Length
		style      length.Style
		text, bare string
	}{
		{76*in + in/2, length.FeetInches, `6' 4 1/2"`, `6' 4 1/2`},
		{76*in + in/2, length.InchFraction, `76 1/2"`, `76 1/2`},
		{1940 * mm, length.Metric, `1940 mm`, `1940`},
		{76*in + in/2, length.Metric, `1943.1 mm`, `1943.1`},
		{100*mm + mm/2, length.Metric, `100.5 mm`, `100.5`},
		// On the 1/64 grid, in lowest terms.
		{th, length.InchFraction, `1/64"`, `1/64`},
		{60 * th, length.InchFraction, `15/16"`, `15/16`},
		{63 * th, length.InchFraction, `63/64"`, `63/64`},
		{3 * in, length.InchFraction, `3"`, `3`},
		{0, length.InchFraction, `0"`, `0`},
		{0, length.FeetInches, `0"`, `0`},
		{0, length.Metric, `0 mm`, `0`},
		{4*in + in/2, length.FeetInches, `4 1/2"`, `4 1/2`},
		{6 * ft, length.FeetInches, `6' 0"`, `6' 0`},
		{6*ft + in/2, length.FeetInches, `6' 1/2"`, `6' 1/2`},
		// Off the grid: nearest 1/64, nearest 0.01 mm, halves away from zero.
		{100 * mm, length.InchFraction, `3 15/16"`, `3 15/16`},
		{4*in + th/2, length.InchFraction, `4"`, `4`},
		{4*in + th/2 + 1, length.InchFraction, `4 1/64"`, `4 1/64`},
		{12*in - nm, length.FeetInches, `1' 0"`, `1' 0`},
		{24 * th, length.Metric, `9.53 mm`, `9.53`},
		{5_000 * nm, length.Metric, `0.01 mm`, `0.01`},
		{4_999 * nm, length.Metric, `0 mm`, `0`},
		// Signed; nothing is ever minus zero.
		{-8 * th, length.InchFraction, `-1/8"`, `-1/8`},
		{-76*in - in/2, length.FeetInches, `-6' 4 1/2"`, `-6' 4 1/2`},
		{-2*mm - mm/2, length.Metric, `-2.5 mm`, `-2.5`},
		{-nm, length.InchFraction, `0"`, `0`},
		{-nm, length.Metric, `0 mm`, `0`},
		{-5_000 * nm, length.Metric, `-0.01 mm`, `-0.01`},
		// Another style shows the exact millimetres.
		{nm, "", `0.000001 mm`, `0.000001`},
	} {
		if got := tt.l.Format(tt.style); got != tt.text {
			t.Errorf("Format(%v, %q) = %q, want %q", tt.l, tt.style, got, tt.text)
		}
		if got := tt.l.FormatBare(tt.style); got != tt.bare {
			t.Errorf("FormatBare(%v, %q) = %q, want %q", tt.l, tt.style, got, tt.bare)
		}
	}
}

func TestString(t *testing.T) {
	for _, tt := range []struct {
		l    length.Length
		want string
	}{
		{0, "0 mm"}, {1, "0.000001 mm"}, {-th, "-0.396875 mm"}, {1940 * mm, "1940 mm"},
		{math.MaxInt64, "9223372036854.775807 mm"}, {math.MinInt64 + 1, "-9223372036854.775807 mm"},
	} {
		if got := tt.l.String(); got != tt.want {
			t.Errorf("String(%d) = %q, want %q", int64(tt.l), got, tt.want)
		}
	}
}

func TestFormatFine(t *testing.T) {
	for _, tt := range []struct {
		l     length.Length
		style length.Style
		want  string
	}{
		{3*in + 60*th, length.InchFraction, `3.938"`},
		{4 * in, length.InchFraction, `4.000"`},
		{100 * mm, length.InchFraction, `3.937"`},
		{76*in + in/2, length.FeetInches, `6' 4.500"`},
		{4*in + in/2, length.FeetInches, `4.500"`},
		{12*in - 1, length.FeetInches, `1' 0.000"`},
		{-76*in - in/2, length.FeetInches, `-6' 4.500"`},
		{-1, length.FeetInches, `0.000"`},
		{100 * mm, length.Metric, `100.00 mm`},
		{24 * th, length.Metric, `9.53 mm`},
		{1, "", `0.000001 mm`},
	} {
		if got := tt.l.FormatFine(tt.style); got != tt.want {
			t.Errorf("FormatFine(%v, %q) = %q, want %q", tt.l, tt.style, got, tt.want)
		}
	}
}

// A length rounded up reads as itself or as more, by less than the finest step that is shown.
func TestFormatUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := length.Length(rapid.Int64Range(0, int64(20*length.Foot)).Draw(t, "nanometres"))
		for style, step := range map[length.Style]length.Length{length.FeetInches: length.Inch / 64, length.InchFraction: length.Inch / 64, length.Metric: length.Millimetre / 100} {
			unit := length.Inches
			if style == length.Metric {
				unit = length.Millimetres
			}
			shown, err := length.Parse(l.FormatUp(style), unit)
			if err != nil {
				t.Fatalf("%v, %q: %v", l, style, err)
			}
			if shown < l || shown >= l+step {
				t.Errorf("%v reads %q, %v", l, l.FormatUp(style), shown)
			}
		}
	})
}

func TestFormatAgainst(t *testing.T) {
	for _, tt := range []struct {
		name       string
		l, limit   length.Length
		style      length.Style
		value, lim string
	}{
		{"equal lengths stay short", 4 * in, 4 * in, length.InchFraction, `4"`, `4"`},
		{"texts that differ stay short", 4*in + th, 4 * in, length.InchFraction, `4 1/64"`, `4"`},
		{"a hidden excess shows in decimals", 4*in + in/200, 4 * in, length.InchFraction, `4.005"`, `4.000"`},
		{"finer still when needed", 4*in + in/10_000, 4 * in, length.InchFraction, `4.0001"`, `4.0000"`},
		{"a nanometre shows in inches", 4*in + 1, 4 * in, length.InchFraction, `4.00000004"`, `4.00000000"`},
		{"with feet", 36*in - in/1000, 36 * in, length.FeetInches, `2' 11.999"`, `3' 0.000"`},
		{"a nanometre shows in millimetres", 100*mm + 1, 100 * mm, length.Metric, `100.000001 mm`, `100.000000 mm`},
		{"a limit set in millimetres says so", 5 * in, 100 * mm, length.InchFraction, `5"`, `100 mm, about 3 15/16"`},
		{"as it was set and as fine as the value", 4*in - in/16, 100 * mm, length.InchFraction, `3.938"`, `100 mm, about 3.937"`},
		{"a limit set in inches is exact in millimetres", 102 * mm, 4 * in, length.Metric, `102 mm`, `101.6 mm`},
		{"or says that it is not", 5 * mm, 3 * in / 16, length.Metric, `5 mm`, `3/16", about 4.76 mm`},
		{"what neither unit holds is rounded", 3 * in, in / 7, length.InchFraction, `3"`, `9/64"`},
		{"metric, few decimals", 100*mm + mm/1000, 100 * mm, length.Metric, `100.001 mm`, `100.000 mm`},
	} {
		value, lim := tt.l.FormatAgainst(tt.limit, tt.style)
		if value != tt.value || lim != tt.lim {
			t.Errorf("%s: FormatAgainst(%v, %v) = %q, %q, want %q, %q", tt.name, tt.l, tt.limit, value, lim, tt.value, tt.lim)
		}
	}
}

// Two unequal lengths never read the same when held against each other.
func TestFormatAgainstNeverHidesADifference(t *testing.T) {
	styles := rapid.SampledFrom([]length.Style{length.FeetInches, length.InchFraction, length.Metric, ""})
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength().Draw(t, "length")
		limit := l + length.Length(rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "excess"))
		style := styles.Draw(t, "style")
		value, lim := l.FormatAgainst(limit, style)
		if _, about, found := strings.Cut(lim, ", about "); found {
			lim = about
		}
		if (value == lim) != (l == limit) {
			t.Fatalf("FormatAgainst(%v, %v, %q) = %q, %q", l, limit, style, value, lim)
		}
	})
}

// The rounded text is within half a grid of the length it shows.
func TestFormatIsNearest(t *testing.T) {
	for style, grid := range map[length.Style]length.Length{
		length.FeetInches: th, length.InchFraction: th, length.Metric: mm / 100,
	} {
		t.Run(string(style), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				l := length.Length(rapid.Int64Range(-9e11, 9e11).Draw(t, "nm"))
				shown, err := length.Parse(l.Format(style), "")
				if err != nil || 2*(shown-l).Abs() > grid {
					t.Fatalf("Format(%v) = %q, read as %v, %v", l, l.Format(style), shown, err)
				}
			})
		})
	}
}

func TestParseStyle(t *testing.T) {
	for _, style := range []length.Style{length.FeetInches, length.InchFraction, length.Metric} {
		if got, err := length.ParseStyle(string(style)); err != nil || got != style {
			t.Errorf("ParseStyle(%q) = %q, %v", style, got, err)
		}
	}
	for _, word := range []string{"", "furlongs", "Inches"} {
		if got, err := length.ParseStyle(word); !errors.Is(err, length.ErrStyle) || got != "" {
			t.Errorf("ParseStyle(%q) = %q, %v, want ErrStyle", word, got, err)
		}
	}
}
