package pack

import (
	"errors"
	"fmt"
	"sync"

	"github.com/carlos7ags/folio/font"

	"newelbook/views/fonts"
)

// Font is one TrueType file, read once. Many documents may be set in it at once: it is not changed by that.
type Font struct {
	parsed  font.Face
	figures map[string]map[uint16]uint16 // alternates by feature
	cap     int                          // height of a capital, thousandths of the em
}

// ReadFont reads a TrueType file.
func ReadFont(file []byte) (*Font, error) {
	parsed, err := font.ParseTTF(file)
	if err != nil {
		return nil, fmt.Errorf("read font: %w", err)
	}
	if parsed.UnitsPerEm() <= 0 {
		return nil, errors.New("read font: no units in the em")
	}
	f := &Font{parsed: parsed, figures: alternates(file, "numr", "dnom", "tnum")}
	if f.cap = parsed.CapHeight() * 1000 / parsed.UnitsPerEm(); f.cap == 0 {
		f.cap = 700
	}
	return f, nil
}

// Family is the two weights of one family of type, Bold being whatever weight stands out in print.
type Family struct{ Regular, Bold *Font }

// Fonts is the product's own family, then the one for the characters that it lacks. They are read once, when first asked for.
var Fonts = sync.OnceValue(func() []Family {
	read := func(file []byte) *Font {
		f, err := ReadFont(file)
		if err != nil {
			panic(err) // the files are part of the program
		}
		return f
	}
	return []Family{{read(fonts.Regular()), read(fonts.SemiBold())}, {read(fonts.Wide()), read(fonts.WideSemiBold())}}
})

// face is one font as one document uses it: metrics in thousandths of the em, as the PDF itself states widths.
type face struct {
	*Font
	name  string // resource name in the PDF
	cache map[rune]glyph
	used  map[uint16]glyph // what was shown
}

// glyph is one character as drawn: the glyph, its advance in thousandths of the em and the character that it stands for.
type glyph struct {
	gid   uint16
	r     rune
	width int
}

// has says whether the face has a glyph for r.
func (f *face) has(r rune) bool { return f.parsed.GlyphIndex(r) != 0 }

// glyph returns the glyph of r, which is the empty box where the face has none.
func (f *face) glyph(r rune) glyph {
	g, ok := f.cache[r]
	if !ok {
		g = f.sized(f.parsed.GlyphIndex(r), r)
		f.cache[r] = g
	}
	return g
}

// alternate returns the glyph of r in the given feature; ok is false where the face has none of its own.
func (f *face) alternate(r rune, feature string) (g glyph, ok bool) {
	gid, ok := f.figures[feature][f.parsed.GlyphIndex(r)]
	if !ok {
		return f.glyph(r), false
	}
	return f.sized(gid, r), true
}

// sized rounds the advance as the widths in the file are rounded, so that what is measured is what is shown.
func (f *face) sized(gid uint16, r rune) glyph {
	return glyph{gid: gid, r: r, width: f.parsed.GlyphAdvance(gid) * 1000 / f.parsed.UnitsPerEm()}
}

// kern is the correction between two glyphs in thousandths of the em, negative to bring them together.
func (f *face) kern(a, b glyph) int {
	return f.parsed.Kern(a.gid, b.gid) * 1000 / f.parsed.UnitsPerEm()
}

// encode gives the bytes that show the glyph, and has the font embed it. A glyph that stands for two characters, such as a
// hyphen with two codes, is read as the first that was shown.
func (f *face) encode(g glyph) []byte {
	if _, done := f.used[g.gid]; !done {
		f.used[g.gid] = g
	}
	return []byte{byte(g.gid >> 8), byte(g.gid)}
}

// fontSet is the faces of one document: weights[0] are the regular ones, weights[1] the bold, each with the family first and
// then those asked for the characters that it lacks.
type fontSet struct{ weights [2][]*face }

func newFontSet(families []Family) (*fontSet, error) {
	if len(families) == 0 {
		return nil, errors.New("no font given")
	}
	var s fontSet
	for i, family := range families {
		for w, read := range []*Font{family.Regular, family.Bold} {
			f := &face{Font: read, name: fmt.Sprintf("F%d", 2*i+w+1), cache: map[rune]glyph{}, used: map[uint16]glyph{}}
			s.weights[w] = append(s.weights[w], f)
		}
	}
	return &s, nil
}

// all lists the faces in the order of their names.
func (s *fontSet) all() []*face {
	var out []*face
	for i := range s.weights[0] {
		out = append(out, s.weights[0][i], s.weights[1][i])
	}
	return out
}

// face picks the face for r: the first of the weight that has it, else the family's own, which then shows an empty box.
func (s *fontSet) face(bold bool, r rune) *face {
	weight := s.weights[0]
	if bold {
		weight = s.weights[1]
	}
	for _, f := range weight {
		if f.has(r) {
			return f
		}
	}
	return weight[0]
}
