package fonts_test

import (
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"newelbook/views/draw"
	"newelbook/views/fonts"
)

func parse(t *testing.T, name string, ttf []byte) *sfnt.Font {
	t.Helper()
	f, err := sfnt.Parse(ttf)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return f
}

// has says whether the font can set the character.
func has(t *testing.T, f *sfnt.Font, r rune) bool {
	t.Helper()
	var buf sfnt.Buffer
	i, err := f.GlyphIndex(&buf, r)
	if err != nil {
		t.Fatal(err)
	}
	return i != 0
}

// advance is the advance width in units of the em, 1000 in these fonts.
func advance(t *testing.T, f *sfnt.Font, r rune) float64 {
	t.Helper()
	var buf sfnt.Buffer
	i, err := f.GlyphIndex(&buf, r)
	if err != nil {
		t.Fatal(err)
	}
	a, err := f.GlyphAdvance(&buf, i, fixed.I(int(f.UnitsPerEm())), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return float64(a) / 64
}

func TestBarlowHasTheSignsOfTheTrade(t *testing.T) {
	for name, ttf := range map[string][]byte{"Regular": fonts.Regular(), "SemiBold": fonts.SemiBold(), "Italic": fonts.Italic()} {
		f := parse(t, name, ttf)
		for _, r := range "0123456789AZaz′″×°½¼¾–—…≤≥±−⁄·•éñøß" {
			if !has(t, f, r) {
				t.Errorf("%s cannot set %q", name, r)
			}
		}
	}
}

func TestWideHasWhatBarlowLacks(t *testing.T) {
	barlow := parse(t, "Regular", fonts.Regular())
	for name, ttf := range map[string][]byte{"Wide": fonts.Wide(), "WideSemiBold": fonts.WideSemiBold()} {
		f := parse(t, name, ttf)
		for _, r := range "αωΩабЯїў→←↑↓⅓⅔Az09" {
			if !has(t, f, r) {
				t.Errorf("%s cannot set %q", name, r)
			}
		}
		if has(t, barlow, 'Ω') && has(t, barlow, 'Я') {
			t.Error("Barlow has Greek and Cyrillic after all: Wide is not needed")
		}
	}
}

// The minute mark came as wide as a capital: feet and inches fell apart.
func TestMinuteMarkIsNarrow(t *testing.T) {
	for name, ttf := range map[string][]byte{"Regular": fonts.Regular(), "SemiBold": fonts.SemiBold(), "Italic": fonts.Italic()} {
		f := parse(t, name, ttf)
		if minute, second := advance(t, f, '′'), advance(t, f, '″'); minute >= second {
			t.Errorf("%s: the minute mark is %v wide, the second mark %v", name, minute, second)
		}
	}
}

// The drawing model's widths are those of the shipped files.
func TestDrawingWidthsAreTheFonts(t *testing.T) {
	for _, c := range []struct {
		name string
		ttf  []byte
		bold bool
	}{{"Regular", fonts.Regular(), false}, {"SemiBold", fonts.SemiBold(), true}} {
		f := parse(t, c.name, c.ttf)
		for r := ' '; r < 127; r++ {
			if got, want := draw.TextWidth(string(r), 1000, c.bold), advance(t, f, r); math.Abs(got-want) > 0.5 {
				t.Errorf("%s: width of %q is %v in the drawing model, %v in the font", c.name, r, got, want)
			}
		}
	}
}

func TestCallersCannotChangeTheFont(t *testing.T) {
	fonts.Regular()[0] ^= 0xff
	parse(t, "Regular", fonts.Regular())
}
