package pack

import (
	"fmt"
	"strings"
	"testing"

	"github.com/carlos7ags/folio/content"
	"pgregory.net/rapid"

	"newelbook/views/fonts"
)

// placed is where a box came to stand.
type placed struct {
	box, page int
	top       float64
	head      bool
}

// Whatever the boxes are: each is drawn once and in order, none past the foot of its page, none parted from the one it is
// kept with unless the two can't stand on one page, and a head is drawn again where a page starts below it.
func TestFlowProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var got []placed
		f := &flow{paper: A4, frame: frame{left: 50, right: 50, top: 60, bottom: 60, foot: rapid.Float64Range(0, 300).Draw(t, "foot")}}
		f.newPage = func(w, h float64) *page { return &page{w: w, h: h, out: content.NewStream()} }
		n := rapid.IntRange(1, 60).Draw(t, "boxes")
		boxes := make([]box, n)
		for i := range boxes {
			b := &boxes[i]
			b.height = rapid.Float64Range(1, 300).Draw(t, "height")
			b.before = rapid.Float64Range(0, 30).Draw(t, "before")
			b.keep = rapid.IntRange(0, 3).Draw(t, "keep") == 0
			b.broad = rapid.IntRange(0, 20).Draw(t, "broad") == 0
			b.fresh = rapid.IntRange(0, 20).Draw(t, "fresh") == 0
			if rapid.Bool().Draw(t, "head") {
				b.head = &box{height: 15, draw: func(p *page, x, y float64) { got = append(got, placed{i, p.index, y, true}) }}
			}
			b.draw = func(p *page, x, y float64) { got = append(got, placed{i, p.index, y, false}) }
		}
		f.place(boxes)
		var at []placed
		for k, g := range got {
			if g.head {
				if k+1 == len(got) || got[k+1].box != g.box || g.top != f.frame.top {
					t.Fatalf("the head of box %d does not stand on it at the top of a page", g.box)
				}
				continue
			}
			first := len(at) == 0 || at[len(at)-1].page != g.page
			if headed := k > 0 && got[k-1].head && got[k-1].box == g.box; headed != (first && boxes[g.box].head != nil) {
				t.Fatalf("box %d: first of its page %v, head drawn %v", g.box, first, headed)
			}
			at = append(at, g)
		}
		if len(at) != n {
			t.Fatalf("%d of %d boxes were drawn", len(at), n)
		}
		for i, g := range at {
			if g.box != i {
				t.Fatalf("box %d was drawn in place %d", g.box, i)
			}
			p := f.pages[g.page]
			if end := g.top + boxes[i].height; end > f.limit(p)+0.02 && g.top > f.frame.top+15.01 {
				t.Fatalf("box %d ends at %.2f, past %.2f", i, end, f.limit(p))
			}
			if i == 0 {
				continue
			}
			if at[i-1].page == g.page && g.top < at[i-1].top+boxes[i-1].height-0.02 {
				t.Fatalf("box %d overlaps the one above it", i)
			}
			if boxes[i-1].keep && at[i-1].page != g.page && f.couldStand(boxes, i-1) {
				t.Fatalf("box %d was parted from the one it is kept with", i-1)
			}
		}
	})
}

// couldStand says whether the whole chain that box i belongs to fits a page of its own.
func (f *flow) couldStand(boxes []box, i int) bool {
	from, to := i, i
	for from > 0 && boxes[from-1].keep {
		from--
	}
	for to < len(boxes)-1 && boxes[to].keep {
		to++
	}
	need, broad := 0.0, false
	for k := from; k <= to; k++ {
		need += boxes[k].height + boxes[k].before
		broad = broad || boxes[k].broad
	}
	room := f.depth() - f.frame.foot
	if broad {
		room = f.broadDepth() - f.frame.foot
	}
	return need+15 <= room
}

func testSetter(t *testing.T) *setter {
	t.Helper()
	set, err := newFontSet(Fonts())
	if err != nil {
		t.Fatal(err)
	}
	return &setter{set}
}

// reads is the text of a line as it is copied.
func reads(l line) string {
	var b strings.Builder
	for i, w := range l.words {
		for _, p := range w.pieces {
			if p.says != "" {
				b.WriteString(p.says)
				continue
			}
			for _, s := range p.segs {
				for _, g := range s.glyphs {
					b.WriteRune(g.r)
				}
			}
		}
		if i < len(l.words)-1 && !w.glued {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// A number stays with its fraction and its unit at the end of a line, at any width.
func TestLinesKeepMeasuresWhole(t *testing.T) {
	set := testSetter(t)
	const text = "The gap at R1-B2 is 3 15/16 in, its limit 4 in (R312.1.3); the rail is 95 mm high and 71 3/8 in long."
	for width := 60.0; width < 500; width += 7 {
		var all []string
		for _, l := range lines(set.run(text, bodyStyle, ""), width) {
			if l.width > width+0.02 {
				t.Errorf("at %.0f points: a line of %.2f: %q", width, l.width, reads(l))
			}
			all = append(all, reads(l))
		}
		if got := strings.Join(all, " "); got != text {
			t.Errorf("at %.0f points the text reads %q", width, got)
		}
		for _, whole := range []string{"3 15/16 in", "4 in", "95 mm", "71 3/8 in"} {
			found := false
			for _, l := range all {
				found = found || strings.Contains(l, whole)
			}
			if !found {
				t.Errorf("at %.0f points %q is broken: %q", width, whole, all)
			}
		}
	}
}

// A word wider than the line, such as a hash, is cut and nothing of it is lost.
func TestLinesCutLongWords(t *testing.T) {
	set := testSetter(t)
	hash := strings.Repeat("0123456789abcdef", 4)
	var got strings.Builder
	for _, l := range lines(set.run("sum "+hash+" end", bodyStyle, ""), 90) {
		if l.width > 90.02 {
			t.Errorf("a line of %.2f points", l.width)
		}
		got.WriteString(strings.ReplaceAll(reads(l), " ", ""))
	}
	if got.String() != "sum"+hash+"end" {
		t.Errorf("reads %q", got.String())
	}
}

// What has no place on paper neither shows as an empty box nor changes the order of reading.
func TestRunCleansControls(t *testing.T) {
	set := testSetter(t)
	got := lines(set.run("a\tb\u202ec\u200bd\x00e\nf", bodyStyle, ""), 400)
	if len(got) != 2 || reads(got[0]) != "a bcd e" || reads(got[1]) != "f" {
		t.Errorf("reads %q", []string{reads(got[0]), reads(got[len(got)-1])})
	}
}

// A letter that no font has shows as the empty box, and is still copied as itself.
func TestRunKeepsUnknownLetters(t *testing.T) {
	set := testSetter(t)
	words := set.run("\u4e2d\u6587", bodyStyle, "")
	if len(words) != 1 || words[0].pieces[0].says != "\u4e2d\u6587" {
		t.Errorf("%+v", words)
	}
}

// The figures of a fraction are the font's own small ones, and each still stands for its digit.
func TestFractionUsesTheFontsFigures(t *testing.T) {
	set := testSetter(t)
	p := set.fraction(part{text: "3 15/16", whole: "3", num: "15", den: "16"}, bodyStyle)
	var runes []rune
	for _, s := range p.segs {
		for _, g := range s.glyphs {
			runes = append(runes, g.r)
		}
	}
	if string(runes) != "3 15/16" || p.says != "3 15/16" {
		t.Errorf("glyph by glyph it reads %q, as a whole %q", string(runes), p.says)
	}
	num, den := p.segs[2], p.segs[4]
	if plain := num.face.glyph('1'); num.glyphs[0].gid == plain.gid || num.glyphs[0].gid == den.glyphs[0].gid {
		t.Errorf("numerator glyph %d, denominator glyph %d, plain glyph %d: want three", num.glyphs[0].gid, den.glyphs[0].gid, plain.gid)
	}
	if p.segs[3].face.parsed.GlyphIndex('⁄') != p.segs[3].glyphs[0].gid {
		t.Error("the stroke is not the fraction stroke")
	}
}

// A font without figures of its own gets smaller ones, raised.
func TestFractionWithoutFigures(t *testing.T) {
	set, err := newFontSet(Fonts()[1:])
	if err != nil {
		t.Fatal(err)
	}
	p := (&setter{set}).fraction(part{text: "1/2", num: "1", den: "2"}, heroStyle)
	if p.segs[0].size >= heroStyle.size || p.segs[0].rise <= 0 || p.segs[2].rise != 0 {
		t.Errorf("numerator of size %.1f raised by %.1f, denominator by %.1f", p.segs[0].size, p.segs[0].rise, p.segs[2].rise)
	}
}

// Damage to a font's table never makes the reading fail or run away.
func TestAlternatesOnDamagedFonts(t *testing.T) {
	whole := fonts.Regular()
	if n := len(alternates(whole, "numr")["numr"]); n < 10 {
		t.Fatalf("%d raised figures in the sound font", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		b := append([]byte(nil), whole[:rapid.IntRange(0, len(whole)).Draw(t, "length")]...)
		for range rapid.IntRange(0, 20).Draw(t, "changes") {
			if len(b) > 0 {
				b[rapid.IntRange(0, len(b)-1).Draw(t, "at")] = rapid.Byte().Draw(t, "byte")
			}
		}
		for tag, subs := range alternates(b, "numr", "tnum") {
			if len(subs) > 1<<16 {
				t.Fatalf("%s: %d substitutions", tag, len(subs))
			}
		}
	})
}

func TestColumnsFillTheWidth(t *testing.T) {
	set := testSetter(t)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "columns")
		defs, titles := make([]Column, n), make([][]word, n)
		for j := range defs {
			defs[j] = Column{Weight: rapid.Float64Range(0, 5).Draw(t, "weight")}
			titles[j] = set.run(strings.Repeat("m", rapid.IntRange(1, 30).Draw(t, "letters")), cellStyle, "")
		}
		const width = 480
		cols := columns(defs, titles, nil, width)
		end := 0.0
		for j, c := range cols {
			if c.width <= 0 || c.x < end-0.01 {
				t.Fatalf("column %d of %v", j, fmt.Sprint(cols))
			}
			end = c.x + c.width
		}
		if end > width+0.01 {
			t.Fatalf("the columns end at %.2f of %d", end, width)
		}
	})
}

// A section that is to be whole stands on one page wherever the text before it ends, and starts no page that it needn't.
func TestWholeSection(t *testing.T) {
	set := testSetter(t)
	line := Para{Runs: []Run{{Text: "One line."}}}
	pages := map[int]bool{}
	for n := range 70 {
		d := Document{Title: "T", Number: "Pack 1", Sections: []Section{
			{ID: "a", Heading: "Before", Level: 1},
			{ID: "b", Heading: "Whole", Level: 1, Whole: true, Blocks: []Block{line, line, line, Integrity{Facts: []Fact{{Key: "k", Value: Cell{Text: "v"}}, {Key: "l", Value: Cell{Text: "w"}}}}}},
		}}
		for range n {
			d.Sections[0].Blocks = append(d.Sections[0].Blocks, line)
		}
		c := compose(&d, Letter, set.fonts)
		on := map[*page]bool{}
		var walk func(e *element)
		walk = func(e *element) {
			for _, k := range e.kids {
				if k.element != nil {
					walk(k.element)
				} else {
					on[k.page] = true
				}
			}
		}
		sections := c.top.kids[len(c.top.kids)-1].element
		walk(sections)
		if len(on) != 1 {
			t.Fatalf("after %d lines the section stands on %d pages", n, len(on))
		}
		for p := range on {
			pages[p.index] = true
		}
	}
	if len(pages) < 2 {
		t.Errorf("it always stood on the same page, so that nothing was tried: %v", pages)
	}
}
