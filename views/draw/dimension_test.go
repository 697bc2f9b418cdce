package draw_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"newelbook/views/draw"
)

// parts sorts the items of a dimension.
func parts(items []draw.Item) (lines []draw.Line, texts []draw.Text) {
	for _, it := range items {
		switch v := it.(type) {
		case draw.Line:
			lines = append(lines, v)
		case draw.Text:
			texts = append(texts, v)
		}
	}
	return lines, texts
}

func TestDimensionReads(t *testing.T) {
	p := func(x, y float64) draw.Point { return draw.Point{X: x, Y: y} }
	for _, c := range []struct {
		name         string
		a, b         draw.Point
		offset       float64
		line         float64 // where the dimension line stands
		upright      bool    // line is an x, not a y
		angle        float64
		above, below float64 // the text's baseline lies between these, on the line's axis
	}{
		{"above", p(0, 50), p(60, 50), 10, 40, false, 0, 36, 40},
		{"below", p(0, 50), p(60, 50), -10, 60, false, 0, 56, 60},
		{"above, right to left", p(60, 50), p(0, 50), -10, 40, false, 0, 36, 40},
		{"left, downwards", p(50, 0), p(50, 60), -10, 40, true, 90, 36, 40},
		{"right, downwards", p(50, 0), p(50, 60), 10, 60, true, 90, 56, 60},
		{"right, upwards", p(50, 60), p(50, 0), -10, 60, true, 90, 56, 60},
	} {
		lines, texts := parts(draw.Dimension{A: c.a, B: c.b, Offset: c.offset, Text: `41 3/8"`}.Items())
		if len(texts) != 1 || len(lines) != 5 {
			t.Fatalf("%s: %d texts and %d lines, want 1 and 5", c.name, len(texts), len(lines))
		}
		text, dim := texts[0], lines[2]
		axis := func(q draw.Point) float64 {
			if c.upright {
				return q.X
			}
			return q.Y
		}
		if axis(dim.A) != c.line || axis(dim.B) != c.line {
			t.Errorf("%s: the dimension line runs from %v to %v, want it at %v", c.name, dim.A, dim.B, c.line)
		}
		if math.Abs(text.Angle-c.angle) > 1e-9 {
			t.Errorf("%s: text at %v degrees, want %v", c.name, text.Angle, c.angle)
		}
		if v := axis(text.At); v < c.above || v >= c.below {
			t.Errorf("%s: text at %v, want it on the reader's side of the line at %v", c.name, v, c.line)
		}
		for _, slash := range lines[3:] {
			if dx, dy := slash.B.X-slash.A.X, slash.B.Y-slash.A.Y; math.Abs(math.Abs(dx)-math.Abs(dy)) > 1e-9 {
				t.Errorf("%s: slash %v is not at 45 degrees", c.name, slash)
			}
		}
	}
}

func TestDimensionOfNothing(t *testing.T) {
	if n := len(draw.Dimension{A: draw.Point{X: 3, Y: 3}, B: draw.Point{X: 3, Y: 3}, Offset: 5, Text: "0"}.Items()); n != 0 {
		t.Errorf("%d items between a point and itself", n)
	}
	if n := len(draw.Chain{Points: []draw.Point{{X: 1, Y: 1}}}.Items()); n != 0 {
		t.Errorf("%d items for one point", n)
	}
}

func TestWideTextsStayInTheFirstTier(t *testing.T) {
	_, texts := parts(draw.Chain{Points: []draw.Point{{X: 0}, {X: 40}, {X: 80}}, Texts: []string{`41 3/8"`, `42"`}, Offset: 8}.Items())
	if len(texts) != 2 || texts[0].At.Y != texts[1].At.Y {
		t.Errorf("texts %v, want two at one height", texts)
	}
}

// However narrow the parts, on whichever side and in whichever direction, no two texts overlap, none stands on the
// dimension line or on the thing, and each keeps its place over its own part.
func TestChainTextsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := draw.Chain{Offset: rapid.SampledFrom([]float64{8, -8}).Draw(t, "offset"), Size: rapid.SampledFrom([]float64{0, 2.5, 5}).Draw(t, "size"), Points: []draw.Point{{}}}
		upright := rapid.Bool().Draw(t, "upright")
		along := 0.0
		for range rapid.IntRange(1, 12).Draw(t, "parts") {
			along += rapid.Float64Range(0.5, 25).Draw(t, "part")
			p := draw.Point{X: along}
			if upright {
				p = draw.Point{Y: along}
			}
			c.Points = append(c.Points, p)
			c.Texts = append(c.Texts, rapid.SampledFrom([]string{`1/2"`, `3 15/16"`, `6' 4 1/2"`, "1,806 mm"}).Draw(t, "text"))
		}
		size := c.Size
		if size == 0 {
			size = 3
		}
		_, texts := parts(c.Items())
		if len(texts) != len(c.Texts) {
			t.Fatalf("%d texts, want %d", len(texts), len(c.Texts))
		}
		type box struct{ x1, y1, x2, y2 float64 }
		var boxes []box
		for i, text := range texts {
			half := draw.TextWidth(text.Body, size, false) / 2
			b := box{text.At.X - half, text.At.Y - 0.72*size, text.At.X + half, text.At.Y}
			mid := text.At.X
			if upright {
				b = box{text.At.X - 0.72*size, text.At.Y - half, text.At.X, text.At.Y + half}
				mid = text.At.Y
			}
			from, to := c.Points[i].X+c.Points[i].Y, c.Points[i+1].X+c.Points[i+1].Y
			if mid < from || mid > to {
				t.Fatalf("text %d at %v stands outside its part, %v to %v", i, mid, from, to)
			}
			for j, o := range boxes {
				if b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 {
					t.Fatalf("texts %d and %d overlap: %v and %v", j, i, o, b)
				}
			}
			boxes = append(boxes, b)
			line, low, high := -c.Offset, b.y1, b.y2
			if upright {
				line, low, high = c.Offset, b.x1, b.x2
			}
			if low < line && high > line {
				t.Fatalf("text %d, %v, stands on the dimension line at %v", i, b, line)
			}
		}
	})
}
