package pack

import (
	"math"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/core"
)

// page is one page while it is drawn on. Coordinates of its methods are points from the top left, y downwards; the page
// turns them over for the file.
type page struct {
	w, h     float64
	out      *content.Stream
	index    int
	mcids    int
	pictures []*picture
	links    []*link
	section  string // the part of the pack that the page stands in
	ref      *core.PdfIndirectReference
}

// link leads from a rectangle of a page to an anchor.
type link struct {
	box    [4]float64 // from the bottom left, as in the file
	to     string
	number int
	ref    *core.PdfIndirectReference
}

// round keeps coordinates to a hundredth of a point, so that the last bits of the arithmetic never reach the file.
func round(v float64) float64 { return math.Round(v*100) / 100 }

// number writes a measure in the file.
func number(v float64) core.PdfObject {
	if v = round(v); v == math.Trunc(v) {
		return core.NewPdfInteger(int(v))
	}
	return core.NewPdfReal(v)
}

// y turns a height from the top into one from the bottom.
func (p *page) y(y float64) float64 { return round(p.h - y) }

// tagged draws what f draws as content of e.
func (p *page) tagged(e *element, f func()) {
	p.out.BeginMarkedContentWithID(e.tag, p.mcids)
	e.kids = append(e.kids, kid{page: p, mcid: p.mcids})
	p.mcids++
	f()
	p.out.EndMarkedContent()
}

// artifact draws what f draws as an ornament that no reader speaks: rules, marks, running heads.
func (p *page) artifact(f func()) {
	p.out.BeginMarkedContent("Artifact")
	f()
	p.out.EndMarkedContent()
}

// hair is the weight of a hairline in points, about a tenth of a millimetre more than a printer's thinnest.
const hair = 0.4

// rule draws a straight line as an ornament.
func (p *page) rule(x1, y1, x2, y2, weight float64, c ink) {
	p.artifact(func() { p.stroke(x1, y1, x2, y2, weight, c) })
}

func (p *page) stroke(x1, y1, x2, y2, weight float64, c ink) {
	p.out.SaveState()
	p.pen(weight, c)
	p.out.MoveTo(round(x1), p.y(y1))
	p.out.LineTo(round(x2), p.y(y2))
	p.out.Stroke()
	p.out.RestoreState()
}

func (p *page) pen(weight float64, c ink) {
	p.out.SetLineWidth(round(weight))
	p.out.SetStrokeColorRGB(c[0], c[1], c[2])
}

// fill draws a filled rectangle as an ornament.
func (p *page) fill(x, y, w, h float64, c ink) {
	p.artifact(func() {
		p.out.SaveState()
		p.out.SetFillColorRGB(c[0], c[1], c[2])
		p.out.Rectangle(round(x), p.y(y+h), round(w), round(h))
		p.out.Fill()
		p.out.RestoreState()
	})
}

// text shows lines one under another, the first baseline at y, and returns the baseline after the last. Words that lead
// somewhere become links of e.
func (p *page) text(e *element, set []line, x, y, width float64, align Align, lead float64) float64 {
	for i, l := range set {
		at := x
		switch align {
		case Right:
			at = x + width - l.width
		case Middle:
			at = x + (width-l.width)/2
		}
		p.line(e, l, at, y, i == len(set)-1)
		y += lead
	}
	return y
}

// ornament shows lines as text does, but as nothing that is read out: heads repeated, running heads.
func (p *page) ornament(set []line, x, y, width float64, align Align, lead float64) {
	p.artifact(func() {
		for _, l := range set {
			at := x
			switch align {
			case Right:
				at = x + width - l.width
			case Middle:
				at = x + (width-l.width)/2
			}
			p.words(l.words, at, y, true)
			y += lead
		}
	})
}

// line shows one line of words. What is linked is content of a Link element within e.
func (p *page) line(e *element, l line, x, y float64, last bool) {
	for i := 0; i < len(l.words); {
		j := i
		for j < len(l.words) && l.words[j].to == l.words[i].to {
			j++
		}
		group := l.words[i:j]
		width := 0.0
		for k := range group {
			width += group[k].width
			if k < len(group)-1 {
				width += group[k].gap()
			}
		}
		p.marks(group, x, y)
		if to := group[0].to; to != "" {
			size := group[0].size()
			p.linked(e, to, [4]float64{x, y - 0.8*size, x + width, y + 0.25*size}, func(a *element) {
				p.tagged(a, func() { p.words(group, x, y, last && j == len(l.words)) })
			})
		} else {
			p.tagged(e, func() { p.words(group, x, y, last && j == len(l.words)) })
		}
		x += width + group[len(group)-1].gap()
		i = j
	}
}

// linked makes a Link element under e, has f draw its content and lays the annotation over box (x1, y1, x2, y2 from the
// top left).
func (p *page) linked(e *element, to string, box [4]float64, f func(*element)) {
	a := e.child("Link")
	f(a)
	l := &link{to: to, box: [4]float64{round(box[0]), p.y(box[3]), round(box[2]), p.y(box[1])}}
	p.links = append(p.links, l)
	a.kids = append(a.kids, kid{page: p, link: l})
}

func (w *word) size() float64 {
	for _, p := range w.pieces {
		for _, s := range p.segs {
			return s.size
		}
	}
	return 0
}

// marks draws the marks among the words, as ornaments: the words beside them say the same.
func (p *page) marks(words []word, x, y float64) {
	for i := range words {
		at := x
		for _, pc := range words[i].pieces {
			if pc.mark != Plain {
				p.artifact(func() { p.mark(pc.mark, at, y, pc.size, pc.ink) })
			}
			at += pc.width
		}
		x += words[i].width + words[i].gap()
	}
}

// words shows words as one text object, blanks between them included, and one behind the last unless the text ends there.
func (p *page) words(words []word, x, y float64, last bool) {
	o := p.out
	o.BeginText()
	w := textWriter{out: o}
	for i := range words {
		for _, pc := range words[i].pieces {
			if pc.mark != Plain {
				if w.placed {
					w.skip(pc.width)
				} else {
					x += pc.width
				}
				continue
			}
			if !w.placed {
				o.SetTextMatrix(1, 0, 0, 1, round(x), p.y(y))
				w.placed = true
			}
			w.piece(pc)
		}
		if blank := words[i].space; blank.face != nil && w.placed && (i < len(words)-1 || !last) {
			w.piece(piece{segs: []seg{blank}})
		}
	}
	w.flush()
	if w.current.rise != 0 {
		o.SetTextRise(0)
	}
	o.EndText()
}

// textWriter shows glyphs with as few operators as the looks allow.
type textWriter struct {
	out     *content.Stream
	placed  bool
	current seg
	pending []content.TextArrayElement
	last    *glyph
}

func (t *textWriter) piece(p piece) {
	if p.says != "" {
		t.flush()
		t.out.BeginMarkedContentActualText(p.says)
	}
	for _, s := range p.segs {
		t.seg(s)
	}
	if p.says != "" {
		t.flush()
		t.out.EndMarkedContent()
	}
}

func (t *textWriter) seg(s seg) {
	c := &t.current
	if c.face != s.face || c.size != s.size {
		t.flush()
		t.out.SetFont(s.face.name, round(s.size))
	}
	if c.rise != s.rise {
		t.flush()
		t.out.SetTextRise(round(s.rise))
	}
	if c.face == nil || c.ink != s.ink {
		t.flush()
		t.out.SetFillColorRGB(s.ink[0], s.ink[1], s.ink[2])
	}
	*c = s
	t.last = nil
	for i := range s.glyphs {
		g := s.glyphs[i]
		if t.last != nil {
			t.adjust(float64(-s.face.kern(*t.last, g)))
		}
		t.show(s.face.encode(g))
		t.last = &g
	}
	t.adjust(-s.after * 1000 / s.size)
}

// skip leaves room, in points, within the line.
func (t *textWriter) skip(width float64) {
	t.adjust(-width * 1000 / t.current.size)
	t.last = nil
}

func (t *textWriter) show(code []byte) {
	if n := len(t.pending); n > 0 && !t.pending[n-1].IsAdjustment {
		t.pending[n-1].HexData = append(t.pending[n-1].HexData, code...)
		return
	}
	t.pending = append(t.pending, content.TextArrayElement{HexData: code})
}

func (t *textWriter) adjust(by float64) {
	if by = math.Round(by); by != 0 {
		t.pending = append(t.pending, content.TextArrayElement{Adjustment: by, IsAdjustment: true})
	}
}

func (t *textWriter) flush() {
	if len(t.pending) > 0 {
		t.out.ShowTextArrayHex(t.pending)
		t.pending = nil
	}
}
