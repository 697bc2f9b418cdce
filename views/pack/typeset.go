package pack

import (
	"math"
	"strings"

	"newelbook/views/draw"
)

// ink is a colour in parts of one.
type ink [3]float64

// style is how a stretch of text is set.
type style struct {
	size, lead float64 // points; lead is the distance between baselines
	bold       bool
	figures    bool // figures of one width
	ink        ink
}

// seg is glyphs of one face and size on one height.
type seg struct {
	face   *face
	size   float64
	rise   float64
	ink    ink
	glyphs []glyph
	after  float64 // points added behind the last glyph
}

func (s seg) width() float64 {
	n := 0
	for i, g := range s.glyphs {
		n += g.width
		if i > 0 {
			n += s.face.kern(s.glyphs[i-1], g)
		}
	}
	return float64(n)*s.size/1000 + s.after
}

// piece is what stays together inside a word. says, where set, is the text that the glyphs stand for but don't show one by
// one: it is what is copied, spoken and searched. mark, where set, is the mark of a tone, drawn and without text.
type piece struct {
	segs  []seg
	width float64
	says  string
	mark  Tone
	size  float64 // of the mark
	ink   ink     // of the mark
}

// word is what a line isn't broken within. to is the anchor that it links to.
type word struct {
	pieces []piece
	width  float64
	space  seg // the blank behind it, drawn so that copied words stay apart
	to     string
	glued  bool // no blank follows, and the next word stays on the line
	ends   bool // a line feed stood behind it
}

func (w *word) add(p piece) {
	w.pieces = append(w.pieces, p)
	w.width += p.width
}

// line is one line of set text; width leaves out the last blank.
type line struct {
	words []word
	width float64
}

// part is a stretch of text that is either plain or one number with a fraction, such as 15/16 or 3 15/16.
type part struct {
	text     string // what is copied, spoken and searched
	whole    string // "" for a bare fraction
	num, den string // "" when the part is plain
}

// parts splits text at its fractions, in the same places as the drawings do.
func parts(text string) []part {
	var out []part
	whole := ""
	for _, r := range draw.Runs(text) {
		switch r.Kind {
		case draw.Whole:
			whole = r.Body
		case draw.Fraction:
			num, den, _ := strings.Cut(r.Body, "/")
			out = append(out, part{text: whole + r.Body, whole: strings.TrimSpace(whole), num: num, den: den})
			whole = ""
		default:
			out = append(out, part{text: r.Body})
		}
	}
	return out
}

// setter sets text with the faces of one document.
type setter struct{ fonts *fontSet }

// units are what may stand behind a figure and is not parted from it by the end of a line.
const units = " in ft mm cm m yd lb kg kN psi deg ° % "

// run sets text as words, separated by blanks and line feeds.
func (t *setter) run(text string, st style, to string) []word {
	var words []word
	for i, row := range strings.Split(clean(text), "\n") {
		if i > 0 {
			if len(words) == 0 {
				words = append(words, t.blank(st))
			}
			words[len(words)-1].ends = true
		}
		words = append(words, t.row(row, st, to)...)
	}
	return words
}

// clean takes out of a text what has no place on paper: other controls than a line feed become blanks, and marks that only
// turn or join what stands around them go.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r < ' ' || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029:
			return ' '
		case r == 0xad || r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2060 && r <= 0x206f || r == 0xfeff:
			return -1
		}
		return r
	}, text)
}

// row sets text that holds no line feed. A number with its fraction and its unit is one word.
func (t *setter) row(text string, st style, to string) []word {
	var words []word
	open, number := false, false // a word is open; it ends with a figure
	start := func() *word {
		if !open {
			words = append(words, word{to: to, space: t.blankSeg(st)})
			open = true
		}
		return &words[len(words)-1]
	}
	for _, p := range parts(text) {
		if p.num != "" {
			start().add(t.fraction(p, st))
			number = true
			continue
		}
		for i, f := range strings.Split(p.text, " ") {
			if i > 0 {
				if number && f != "" && strings.Contains(units, " "+strings.TrimRight(f, ".,;:)")+" ") {
					w := start()
					w.add(t.plain(" ", st))
				} else {
					open = false
				}
			}
			if f == "" {
				continue
			}
			start().add(t.plain(f, st))
			last := f[len(f)-1]
			number = last >= '0' && last <= '9'
		}
	}
	return words
}

func (t *setter) blankSeg(st style) seg {
	f := t.fonts.face(st.bold, ' ')
	return seg{face: f, size: st.size, ink: st.ink, glyphs: []glyph{f.glyph(' ')}}
}

// marked puts the mark of a tone before the first word, so that no line ends between the two.
func (t *setter) marked(words []word, tone Tone, st style) []word {
	if tone == Plain || len(words) == 0 {
		return words
	}
	m := piece{mark: tone, size: st.size, ink: st.ink, width: 1.22 * st.size}
	words[0].pieces = append([]piece{m}, words[0].pieces...)
	words[0].width += m.width
	return words
}

// blank is an empty word, which an empty line is made of.
func (t *setter) blank(st style) word { return word{space: t.blankSeg(st)} }

// unknown stands in print for characters that no face has. An archive's PDF may not show a font's empty box (ISO 19005-3, 6.2.11.8).
const unknown = "[?]"

// shown is the text in characters that the faces have: a stretch that none of them has is unknown, once.
func (t *setter) shown(text string, bold bool) string {
	var b strings.Builder
	lost := false
	for _, r := range text {
		if has := t.fonts.face(bold, r).has(r); has {
			b.WriteRune(r)
			lost = false
		} else if !lost {
			b.WriteString(unknown)
			lost = true
		}
	}
	return b.String()
}

// plain sets text without blanks to break at, changing the face only where a character is missing. What no face has is copied, spoken
// and searched as it was written.
func (t *setter) plain(text string, st style) piece {
	var p piece
	shown := t.shown(text, st.bold)
	if shown != text {
		p.says = text
	}
	for _, r := range shown {
		f := t.fonts.face(st.bold, r)
		g := f.glyph(r)
		if st.figures {
			g, _ = f.alternate(r, "tnum")
		}
		if n := len(p.segs); n == 0 || p.segs[n-1].face != f {
			p.segs = append(p.segs, seg{face: f, size: st.size, ink: st.ink})
		}
		s := &p.segs[len(p.segs)-1]
		s.glyphs = append(s.glyphs, g)
	}
	return p.measured()
}

func (p piece) measured() piece {
	p.width = 0
	for _, s := range p.segs {
		p.width += s.width()
	}
	p.width = math.Round(p.width*1000) / 1000
	return p
}

// smallFigure is the size of a made-up numerator or denominator, for a font that has none of its own.
const smallFigure = 0.62

// Below readable points a fraction is set enlarged by this much, or its figures would be too small for paper.
const (
	readable = 11.0
	enlarged = 1.16
)

// fraction sets a number with a raised numerator, a stroke and a denominator. The glyphs alone already read "3 15/16" to
// a program that copies them one by one; the piece says it besides, because raised figures mislead some.
func (t *setter) fraction(p part, st style) piece {
	f := t.fonts.face(st.bold, '1')
	out := piece{says: p.text}
	if p.whole != "" {
		whole := t.plain(p.whole, st)
		blank := t.blankSeg(st)
		blank.after = 0.08*st.size - blank.width()
		out.segs = append(append(out.segs, whole.segs...), blank)
	}
	if st.size < readable {
		st.size *= enlarged
	}
	small := func(figures, feature string, rise float64) seg {
		s := seg{face: f, size: st.size, ink: st.ink}
		for _, r := range figures {
			g, ok := f.alternate(r, feature)
			if !ok {
				s.size, s.rise = st.size*smallFigure, rise
			}
			s.glyphs = append(s.glyphs, g)
		}
		return s
	}
	height := float64(f.cap) * st.size / 1000
	stroke := seg{face: f, size: st.size, ink: st.ink}
	if f.has('⁄') {
		stroke.glyphs = []glyph{f.sized(f.parsed.GlyphIndex('⁄'), '/')}
	} else {
		stroke.glyphs = []glyph{f.glyph('/')}
		stroke.after = -0.06 * st.size
	}
	out.segs = append(out.segs, small(p.num, "numr", height*(1-smallFigure)), stroke, small(p.den, "dnom", 0))
	return out.measured()
}

// lines breaks words into lines no wider than width. A word wider than that is broken between its glyphs.
func lines(words []word, width float64) []line {
	var out []line
	var cur line
	for i, w := range words {
		if w.width > width {
			broken := w.broken(width)
			if len(cur.words) > 0 {
				out, cur = append(out, cur), line{}
			}
			for _, b := range broken[:len(broken)-1] {
				out = append(out, line{words: []word{b}, width: b.width})
			}
			w = broken[len(broken)-1]
		}
		gap := 0.0
		if n := len(cur.words); n > 0 {
			gap = cur.words[n-1].gap()
		}
		if n := len(cur.words); n > 0 && !cur.words[n-1].glued && cur.width+gap+together(w, words[i+1:]) > width+0.01 {
			out, cur, gap = append(out, cur), line{}, 0
		}
		cur.words = append(cur.words, w)
		cur.width += gap + w.width
		if w.ends && i < len(words)-1 {
			out, cur = append(out, cur), line{}
		}
	}
	if len(cur.words) > 0 {
		out = append(out, cur)
	}
	return out
}

// together is the width of a word with those glued to it.
func together(w word, rest []word) float64 {
	width := w.width
	for w.glued && len(rest) > 0 {
		w, rest = rest[0], rest[1:]
		width += w.width
	}
	return width
}

// gap is the room behind a word: none behind an empty one.
func (w *word) gap() float64 {
	if w.width == 0 || w.glued {
		return 0
	}
	return w.space.width()
}

// broken cuts a word that is too wide, such as a hash or an address, between its glyphs.
func (w word) broken(width float64) []word {
	part := func() word { return word{to: w.to} }
	out := []word{part()}
	for _, p := range w.pieces {
		if p.says != "" || p.mark != Plain {
			if cur := &out[len(out)-1]; cur.width+p.width > width && cur.width > 0 {
				out = append(out, part())
			}
			out[len(out)-1].add(p)
			continue
		}
		for _, s := range p.segs {
			for _, g := range s.glyphs {
				one := piece{segs: []seg{{face: s.face, size: s.size, rise: s.rise, ink: s.ink, glyphs: []glyph{g}}}}.measured()
				if cur := &out[len(out)-1]; cur.width+one.width > width && cur.width > 0 {
					out = append(out, part())
				}
				out[len(out)-1].join(one)
			}
		}
	}
	last := &out[len(out)-1]
	last.space, last.glued, last.ends = w.space, w.glued, w.ends
	return out
}

// join adds a one-glyph piece to the last one of the same look, so that a cut word is still one stretch of text.
func (w *word) join(p piece) {
	w.width += p.width
	if n := len(w.pieces); n > 0 && w.pieces[n-1].says == "" && w.pieces[n-1].mark == Plain {
		segs := w.pieces[n-1].segs
		if last, s := &segs[len(segs)-1], p.segs[0]; last.face == s.face && last.size == s.size && last.ink == s.ink {
			last.glyphs = append(last.glyphs, s.glyphs...)
			w.pieces[n-1].width += p.width
			return
		}
	}
	w.pieces = append(w.pieces, p)
}
