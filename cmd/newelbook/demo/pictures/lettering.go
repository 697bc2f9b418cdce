package pictures

import (
	"fmt"
	"math"
	"regexp"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"newelbook/views/fonts"
)

// lettering is the project's own type: plain, bold for labels, italic for what is pencilled in.
type lettering struct{ plain, bold, pencilled *sfnt.Font }

func newLettering() (lettering, error) {
	var l lettering
	for _, f := range []struct {
		to   **sfnt.Font
		data []byte
	}{{&l.plain, fonts.Regular()}, {&l.bold, fonts.SemiBold()}, {&l.pencilled, fonts.Italic()}} {
		parsed, err := opentype.Parse(f.data)
		if err != nil {
			return lettering{}, fmt.Errorf("parse font: %w", err)
		}
		*f.to = parsed
	}
	return l, nil
}

// fraction finds vulgar fractions, which are set small about a slash.
var fraction = regexp.MustCompile(`\d+/\d+`)

// text is a line of text as shapes with its baseline from (0, 0) to (width, 0).
type text struct {
	paths [][]pt
	width float64
}

// set sets a line at a size in pixels.
func set(f *sfnt.Font, size float64, line string) text {
	var t text
	last := 0
	for _, span := range fraction.FindAllStringIndex(line, -1) {
		before := line[last:span[0]]
		t.run(f, size, 0, before)
		slash := span[0]
		for line[slash] != '/' {
			slash++
		}
		t.run(f, size*0.62, -size*0.27, line[span[0]:slash])
		t.run(f, size*0.92, 0, "\u2044")
		t.run(f, size*0.62, 0, line[slash+1:span[1]])
		last = span[1]
	}
	t.run(f, size, 0, line[last:])
	return t
}

// run appends letters at the end of the line, raised by -dy.
func (t *text) run(f *sfnt.Font, size, dy float64, letters string) {
	var buf sfnt.Buffer
	ppem := fixed.I(256) // outlines are taken at one fine size and scaled, so that every size has the same shape
	k := size / 256
	var before sfnt.GlyphIndex
	for i, r := range letters {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if kern, err := f.Kern(&buf, before, g, ppem, font.HintingNone); err == nil {
				t.width += float64(kern) / 64 * k
			}
		}
		before = g
		segments, err := f.LoadGlyph(&buf, g, ppem, nil)
		if err != nil {
			continue
		}
		t.paths = append(t.paths, flatten(segments, func(p fixed.Point26_6) pt {
			return pt{t.width + float64(p.X)/64*k, dy + float64(p.Y)/64*k}
		})...)
		if advance, err := f.GlyphAdvance(&buf, g, ppem, font.HintingNone); err == nil {
			t.width += float64(advance) / 64 * k
		}
	}
}

// flatten turns outlines into polygons.
func flatten(segments sfnt.Segments, at func(fixed.Point26_6) pt) [][]pt {
	var out [][]pt
	var cur []pt
	for _, seg := range segments {
		switch seg.Op {
		case sfnt.SegmentOpMoveTo:
			if len(cur) > 2 {
				out = append(out, cur)
			}
			cur = []pt{at(seg.Args[0])}
		case sfnt.SegmentOpLineTo:
			cur = append(cur, at(seg.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := cur[len(cur)-1], at(seg.Args[0]), at(seg.Args[1])
			for i := 1; i <= 6; i++ {
				u := float64(i) / 6
				cur = append(cur, a.to(b, u).to(b.to(c, u), u))
			}
		case sfnt.SegmentOpCubeTo:
			a, b, c, d := cur[len(cur)-1], at(seg.Args[0]), at(seg.Args[1]), at(seg.Args[2])
			for i := 1; i <= 8; i++ {
				u := float64(i) / 8
				ab, bc, cd := a.to(b, u), b.to(c, u), c.to(d, u)
				cur = append(cur, ab.to(bc, u).to(bc.to(cd, u), u))
			}
		}
	}
	if len(cur) > 2 {
		out = append(out, cur)
	}
	return out
}

// mapped is the text with every point moved by f.
func (t text) mapped(f func(pt) pt) [][]pt {
	out := make([][]pt, len(t.paths))
	for i, path := range t.paths {
		out[i] = make([]pt, len(path))
		for j, p := range path {
			out[i][j] = f(p)
		}
	}
	return out
}

// Where a line stands to its point.
const (
	fromLeft  = 0.0
	centred   = 0.5
	fromRight = 1.0
)

// write sets a line at a point, turned by degrees.
func (s *sheet) write(f *sfnt.Font, size float64, at pt, anchor, degrees float64, line string, k ink) text {
	t := set(f, size, line)
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	s.fill(t.mapped(func(p pt) pt {
		x := p.X - anchor*t.width
		return pt{at.X + x*cos - p.Y*sin, at.Y + x*sin + p.Y*cos}
	}), k)
	return t
}

// fit is the greatest size up to size at which the line is no wider than width.
func fit(f *sfnt.Font, size, width float64, line string) float64 {
	if t := set(f, size, line); t.width > width {
		return size * width / t.width
	}
	return size
}

// note pencils a remark with a line to what it speaks of.
func (s *sheet) note(line string, at pt, anchor float64, target pt) {
	const size = 30
	t := set(s.faces.pencilled, size, line)
	x := at.X - anchor*t.width
	pad := rect(x-7, at.Y-size*0.86, t.width+14, size*1.2)
	s.fill([][]pt{pad}, ink{col: paper, alpha: 0.82})
	s.write(s.faces.pencilled, size, at, anchor, s.spread(0.8), line, ink{col: graphite, alpha: 0.95, tooth: 0.25})
	// The leader leaves from the side of the text that is nearer to its target.
	from := pt{x + t.width/2, at.Y + 12}
	switch {
	case target.X > x+t.width+30:
		from = pt{x + t.width + 10, at.Y - size*0.3}
	case target.X < x-30:
		from = pt{x - 10, at.Y - size*0.3}
	case target.Y < at.Y:
		from = pt{x + t.width/2, at.Y - size - 2}
	}
	bend := from.to(target, 0.5).add(target.sub(from).left().mul(0.09))
	curve := make([]pt, 0, 13)
	for i := 0; i <= 12; i++ {
		u := float64(i) / 12
		curve = append(curve, from.to(bend, u).to(bend.to(target, u), u))
	}
	s.fill([][]pt{s.ribbon(curve, 5.5, 0)}, ink{col: paper, alpha: 0.4})
	s.line(curve, soft(2.7))
	s.fill([][]pt{circle(target, 7)}, ink{col: paper, alpha: 0.7})
	s.fill([][]pt{circle(target, 4.6)}, soft(1).ink())
}
