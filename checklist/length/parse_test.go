package length_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/length"
)

const (
	in = length.Inch
	ft = length.Foot
	mm = length.Millimetre
	th = length.SixtyFourth
)

func TestParseAccepts(t *testing.T) {
	for _, tt := range []struct {
		text string
		bare length.Unit
		want length.Length
	}{
		// Fractions of an inch, as read off a tape.
		{`3 15/16`, length.Inches, 3*in + 60*th},
		{`3-15/16"`, length.Inches, 3*in + 60*th},
		{`3 - 15/16"`, length.Inches, 3*in + 60*th},
		{`76 1/2`, length.Inches, 76*in + in/2},
		{`41 3/8`, length.Inches, 41*in + 24*th},
		{`41 3 / 8`, length.Inches, 41*in + 24*th},
		{`1/2`, length.Inches, in / 2},
		{`1/64`, length.Inches, th},
		{`2/128`, length.Inches, th},
		{`3/10"`, length.Inches, 7_620_000},
		{`95`, length.Inches, 95 * in},
		{`0`, length.Inches, 0},
		{`36"`, "", 36 * in},
		{`36 in.`, "", 36 * in},
		{`36 Inches`, "", 36 * in},
		{`1,940 in`, "", 1940 * in},
		{`  41   3/8  `, length.Inches, 41*in + 24*th},
		// Feet and inches.
		{`3'-4 1/2"`, "", 40*in + in/2},
		{`6' 4 1/2"`, length.Inches, 76*in + in/2},
		{`6'4-1/2"`, length.Inches, 76*in + in/2},
		{`6' 4 1/2`, length.Millimetres, 76*in + in/2},
		{`6 ft 4 in`, "", 76 * in},
		{`6ft-4in`, "", 76 * in},
		{`6' 0"`, "", 6 * ft},
		{`6' 11.5"`, "", 83*in + in/2},
		{`3' 1/2"`, "", 3*ft + in/2},
		{`2 ft`, "", 2 * ft},
		{`2'`, "", 2 * ft},
		{`2 1/2 ft`, "", 30 * in},
		{`1/3 ft`, "", 4 * in},
		{`2.5 feet`, "", 30 * in},
		// Decimals, exact.
		{`7.625`, length.Inches, 7*in + 40*th},
		{`7.625 in`, "", 7*in + 40*th},
		{`0.1 in`, "", 2_540_000},
		{`.5 in`, "", in / 2},
		{`36. in`, "", 36 * in},
		{`0.00000001 in`, "", 0},
		{`0.00000002 in`, "", 1},
		{`0.0000005 mm`, "", 1},
		{`0.0000004999 mm`, "", 0},
		{`-0.0000005 mm`, "", -1},
		// Metric.
		{`1940 mm`, length.Inches, 1940 * mm},
		{`1,940 mm`, "", 1940 * mm},
		{`1940`, length.Millimetres, 1940 * mm},
		{`95`, length.Millimetres, 95 * mm},
		{`1.94 m`, "", 1940 * mm},
		{`9.5 cm`, "", 95 * mm},
		{`9.5CM`, "", 95 * mm},
		{`1/2 mm`, "", mm / 2},
		{`2 metres`, "", 2000 * mm},
		{`100.5 millimeters`, "", 100*mm + mm/2},
		// Typographic characters.
		{`3½`, length.Inches, 3*in + in/2},
		{`½`, length.Inches, in / 2},
		{`41⅜″`, "", 41*in + 24*th},
		{`6′ 4½″`, "", 76*in + in/2},
		{`6’-4 ½”`, "", 76*in + in/2},
		{`6' 4''`, "", 76 * in},
		{"3 15\u204416", length.Inches, 3*in + 60*th},
		{"3\u20137/8", length.Inches, 3*in + 56*th},
		{"1940\u00a0mm", "", 1940 * mm},
		// Signed, for plumb readings.
		{`-1/8`, length.Inches, -8 * th},
		{"\u22121/8", length.Inches, -8 * th},
		{`- 3-15/16"`, "", -3*in - 60*th},
		{`-3'-4"`, "", -40 * in},
		{`+1/8`, length.Inches, 8 * th},
		{`-2.5`, length.Millimetres, -2*mm - mm/2},
		{`-0`, length.Inches, 0},
		// The ends of the range.
		{`1000 m`, "", 1_000_000 * mm},
		{`-1,000 m`, "", -1_000_000 * mm},
	} {
		got, err := length.Parse(tt.text, tt.bare)
		if err != nil || got != tt.want {
			t.Errorf("Parse(%q, %q) = %d, %v, want %d", tt.text, tt.bare, got, err, tt.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, tt := range []struct {
		text string
		bare length.Unit
		want error
	}{
		{``, length.Inches, length.ErrEmpty},
		{"  \u00a0 ", length.Inches, length.ErrEmpty},
		// No unit where the caller names none.
		{`36`, "", length.ErrUnit},
		{`36 1/2`, "", length.ErrUnit},
		// Finer than 1/64, or not whole nanometres.
		{`3 1/128`, length.Inches, length.ErrTooFine},
		{`127/128`, length.Inches, length.ErrTooFine},
		{`1/100`, length.Inches, length.ErrTooFine},
		{`1/3`, length.Inches, length.ErrTooFine},
		{`3⅓"`, "", length.ErrTooFine},
		{`1/3 mm`, "", length.ErrTooFine},
		{`1/127`, length.Inches, length.ErrTooFine},
		// Out of range, by a nanometre too.
		{`1001 m`, "", length.ErrRange},
		{`1000.000000001 m`, "", length.ErrRange},
		{`-1000.000000001 m`, "", length.ErrRange},
		{`99999999999999999999999 in`, "", length.ErrRange},
		// A fraction of one or more is most often a whole number that lost its space.
		{`413/8`, length.Inches, length.ErrSyntax},
		{`3 16/16`, length.Inches, length.ErrSyntax},
		{`8/8`, length.Inches, length.ErrSyntax},
		{`1/0`, length.Inches, length.ErrSyntax},
		{`0/0`, length.Inches, length.ErrSyntax},
		// Twelve inches after feet are a slip.
		{`6' 12"`, "", length.ErrSyntax},
		{`6.5' 4"`, "", length.ErrSyntax},
		{`6' 4 mm`, "", length.ErrSyntax},
		// A comma groups thousands; it is never a decimal comma.
		{`1,94`, length.Inches, length.ErrSyntax},
		{`9,5 cm`, "", length.ErrSyntax},
		{`,940`, length.Inches, length.ErrSyntax},
		// Not lengths.
		{`3-4`, length.Inches, length.ErrSyntax},
		{`3 4`, length.Inches, length.ErrSyntax},
		{`3.5 1/2`, length.Inches, length.ErrSyntax},
		{`1/2.5`, length.Inches, length.ErrSyntax},
		{`1.2.3`, length.Inches, length.ErrSyntax},
		{`½½`, length.Inches, length.ErrSyntax},
		{`--3`, length.Inches, length.ErrSyntax},
		{`-`, length.Inches, length.ErrSyntax},
		{`.`, length.Inches, length.ErrSyntax},
		{`in`, length.Inches, length.ErrSyntax},
		{`1e3`, length.Inches, length.ErrSyntax},
		{`0x10`, length.Inches, length.ErrSyntax},
		{`3 yd`, length.Inches, length.ErrSyntax},
		{`NaN`, length.Inches, length.ErrSyntax},
		{`3 15/16 x`, length.Inches, length.ErrSyntax},
		{"3\n4", length.Inches, length.ErrSyntax},
		{"\xff3", length.Inches, length.ErrSyntax},
		{`3`, "furlong", length.ErrSyntax},
		{strings.Repeat("0", 65), length.Inches, length.ErrSyntax},
	} {
		got, err := length.Parse(tt.text, tt.bare)
		if !errors.Is(err, tt.want) || got != 0 {
			t.Errorf("Parse(%q, %q) = %d, %v, want 0, %v", tt.text, tt.bare, got, err, tt.want)
		}
		var refused *length.Error
		if !errors.As(err, &refused) || refused.Input != tt.text || refused.Bare != tt.bare {
			t.Errorf("Parse(%q, %q) error %#v does not carry the input", tt.text, tt.bare, err)
		}
	}
}

func TestErrorSentences(t *testing.T) {
	for _, tt := range []struct {
		text string
		bare length.Unit
		want string
	}{
		{`abc`, length.Inches, `Enter a length such as 41 3/8 or 3' 5 3/8".`},
		{``, length.Inches, `Enter a length such as 41 3/8 or 3' 5 3/8".`},
		{`abc`, length.Millimetres, `Enter a length such as 1940 or 1940 mm.`},
		{`2000 m`, length.Inches, `Enter a length no longer than 3,280 ft.`},
		{`2000 m`, length.Millimetres, `Enter a length no longer than 1000000 mm (1,000 m).`},
		{`1/128`, length.Inches, `Enter a fraction in halves, quarters, eighths, sixteenths, thirty-seconds or sixty-fourths, such as 41 3/8.`},
		{`1/3`, length.Millimetres, `Enter a decimal such as 41.5, or a fraction no finer than 1/64.`},
		{`36`, "", `Enter a length with its unit, such as 41 3/8 in or 1040 mm.`},
	} {
		_, err := length.Parse(tt.text, tt.bare)
		var refused *length.Error
		if !errors.As(err, &refused) {
			t.Errorf("Parse(%q, %q) error = %v, want *length.Error", tt.text, tt.bare, err)
			continue
		}
		if got := refused.Sentence(); got != tt.want {
			t.Errorf("sentence for %q = %q, want %q", tt.text, got, tt.want)
		}
	}
}

func TestErrorForLogs(t *testing.T) {
	_, err := length.Parse("abc", length.Inches)
	if got, want := err.Error(), `parse length "abc": not a length`; got != want {
		t.Errorf("Error() = %q, want %q", got, want)
	}
}

func TestUnitStyle(t *testing.T) {
	for unit, want := range map[length.Unit]length.Style{
		length.Inches: length.InchFraction, length.Millimetres: length.Metric, "": "", "furlong": "",
	} {
		if got := unit.Style(); got != want {
			t.Errorf("Unit(%q).Style() = %q, want %q", unit, got, want)
		}
	}
}

// What the formatters write on the grid of a style parses back to the same length, with and without the unit mark.
func TestParseReversesFormat(t *testing.T) {
	for _, tt := range []struct {
		style length.Style
		bare  length.Unit
		grid  length.Length
	}{
		{length.FeetInches, length.Inches, length.SixtyFourth},
		{length.InchFraction, length.Inches, length.SixtyFourth},
		{length.Metric, length.Millimetres, length.Millimetre / 100},
	} {
		t.Run(string(tt.style), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				want := anyLength().Draw(t, "length").RoundDown(tt.grid)
				if got, err := length.Parse(want.Format(tt.style), ""); err != nil || got != want {
					t.Fatalf("Parse(%q) = %v, %v, want %v", want.Format(tt.style), got, err, want)
				}
				if got, err := length.Parse(want.FormatBare(tt.style), tt.bare); err != nil || got != want {
					t.Fatalf("Parse(%q) = %v, %v, want %v", want.FormatBare(tt.style), got, err, want)
				}
			})
		})
	}
}

func TestParseReversesString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyLength().Draw(t, "length")
		if got, err := length.Parse(want.String(), ""); err != nil || got != want {
			t.Fatalf("Parse(%q) = %d, %v, want %d", want.String(), got, err, want)
		}
	})
}

// No text makes Parse panic; a refusal gives the zero value and a sentence; an acceptance lies in the range and survives
// String.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		`3 15/16`, `3'-4 1/2"`, `6′ 4½″`, `1,940 mm`, `1.94 m`, `-1/8`, "\u22123 15\u204416", `413/8`, ``, `1/128`, "\xff", `''`,
		`99999999999999999999 m`, `2 ft`, `7.625`, `1000 m`,
	} {
		f.Add(seed, true)
		f.Add(seed, false)
	}
	f.Fuzz(func(t *testing.T, text string, inches bool) {
		bare := length.Millimetres
		if inches {
			bare = length.Inches
		}
		got, err := length.Parse(text, bare)
		if err != nil {
			var refused *length.Error
			if got != 0 || !errors.As(err, &refused) || !strings.HasSuffix(refused.Sentence(), ".") {
				t.Fatalf("Parse(%q, %q) = %d, %v: want the zero value and a sentence", text, bare, got, err)
			}
			return
		}
		if got.Abs() > 1_000_000*length.Millimetre {
			t.Fatalf("Parse(%q, %q) = %v, out of range", text, bare, got)
		}
		if again, err := length.Parse(got.String(), ""); err != nil || again != got {
			t.Fatalf("Parse(%q) = %d, %v, want %d", got.String(), again, err, got)
		}
	})
}
