package draw

import (
	"fmt"
	"math"
	"strings"

	"newelbook/checklist/layout"
)

// length dimensions a run on its outer side, further out where lettering or another run stands in the way, and over these only where
// nothing else helps.
func (v *planView) length(r layout.PlanRun) {
	for _, strict := range []bool{true, false} {
		for _, off := range []float64{planOffset, planOffset + 4, planOffset + 8, planOffset + 12, planOffset + 16, -planOffset, -planOffset - 4, -planOffset - 8} {
			if v.dimension(r, v.inner(r)*off, strict) { // the left of the way along is away from a deck on the right
				return
			}
		}
	}
}

// dimension draws the length of a run at an offset where its figure is free and, if strict, its lines keep off lettering and other runs.
func (v *planView) dimension(r layout.PlanRun, off float64, strict bool) bool {
	items := Dimension{A: v.at(r.Start), B: v.at(r.End), Offset: off, Text: r.Length().Format(v.o.Style)}.Items()
	for _, it := range items {
		switch d := it.(type) {
		case Text:
			if !v.free(d) {
				return false
			}
		case Line:
			if strict && v.strikes(d, r) {
				return false
			}
		}
	}
	v.put(items...)
	for _, it := range items {
		if l, ok := it.(Line); ok {
			v.obstacle(l.A, l.B, 0.2)
		}
	}
	_, right := ways(r)
	from := by(v.at(r.Start), Point{}, right, 0, -off)
	v.put(Circle{Centre: from, Radius: 0.9, Weight: Medium, Tone: Accent, Fill: Paper})
	return true
}

// strikes says whether a dimension's line runs through lettering, or across or along the line of a run that does not end at its own.
func (v *planView) strikes(l Line, own layout.PlanRun) bool {
	for _, it := range v.items {
		switch o := it.(type) {
		case Text:
			if _, _, met := textBox(o).cut(l.A, l.B); met {
				return true
			}
		case Outline:
			for i, a := range o.Points {
				if o.ID != "" && !strings.HasPrefix(o.ID, own.RunID) && crosses(l.A, l.B, a, o.Points[(i+1)%len(o.Points)]) {
					return true
				}
			}
		}
	}
	return false
}

// crosses says whether two strokes meet within both.
func crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// turn letters a turn that is not square, at the run's start.
func (v *planView) turn(r layout.PlanRun) {
	if r.Turn%90 != 0 {
		along, _ := ways(r)
		v.around(v.at(r.Start), Text{Body: fmt.Sprintf("%d°", int(math.Abs(float64(r.Turn)))), Size: wordType}, along)
	}
}

// name letters a run on its inner side.
func (v *planView) name(r layout.PlanRun) {
	body := r.Label
	if r.Kind == layout.Removable {
		body += ", lifts out"
	}
	long := math.Hypot(v.at(r.End).X-v.at(r.Start).X, v.at(r.End).Y-v.at(r.Start).Y)
	v.beside(r, Text{Body: body, Size: labelType, Bold: true}, v.inner(r), long, 0.5, 0.35, 0.65, 0.2, 0.8)
}

// beside letters a text at the side of a run, near it and on its inner side first, at the first of the shares of its length where it
// is free; smaller where nothing else helps.
func (v *planView) beside(r layout.PlanRun, t Text, side, long float64, shares ...float64) {
	along, right := ways(r)
	for _, size := range []float64{t.Size, wordType} {
		t.Size = size
		for _, off := range []float64{1.6, 3.4, 5.5, 8, 11, 15} {
			for _, s := range []float64{side, -side} {
				for _, share := range shares {
					t.At, t.Anchor = hung(by(v.at(r.Start), along, right, long*share, s*(off+mm(r.PostDepth)/v.den/4)), Point{right.X * s, right.Y * s}, t.Size)
					if v.label(t) {
						return
					}
				}
				if off < 3 {
					break // close on the inner side before anything else
				}
			}
		}
	}
}

// hung is where a level text stands so that it lies on the far side of a point, in a direction.
func hung(p, way Point, size float64) (Point, Anchor) {
	height := size * capHeight
	p.Y += height / 2 * (1 + way.Y)
	switch {
	case way.X > 0.4:
		return p, Start
	case way.X < -0.4:
		return p, End
	}
	return p, Middle
}

// around letters a text about a point, away from a direction first.
func (v *planView) around(p Point, t Text, along Point) {
	for _, off := range []float64{2.2, 3.6, 5} {
		for _, turn := range []float64{135, -135, 90, -90, 45, -45, 180, 0} {
			way := turned(along, turn)
			t.At, t.Anchor = hung(Point{p.X + way.X*off, p.Y + way.Y*off}, way, t.Size)
			if v.label(t) {
				return
			}
		}
	}
}

// labels letters the posts, those at the ends of runs first, so that thinning keeps them; those that find no room are named under the
// drawing.
func (v *planView) labels(runs []layout.PlanRun) {
	for _, ends := range []bool{true, false} {
		for _, r := range runs {
			for i, p := range r.Posts {
				if p.SharedAs != "" || (i == 0 || i == len(r.Posts)-1) != ends {
					continue
				}
				body := fmt.Sprintf("P%d", p.Number)
				if ends {
					body = p.Label
				}
				if !v.labelPost(r, p, body) {
					v.unlettered = append(v.unlettered, p.Label)
				}
			}
		}
	}
}

// labelPost letters a post close beside it, on the deck first, then further off.
func (v *planView) labelPost(r layout.PlanRun, p layout.PlanPost, body string) bool {
	along, _ := ways(r)
	c, t := v.at(p.At), Text{Body: body, Size: wordType}
	out := mm(r.PostDepth)/v.den/2 + 1.1
	for _, off := range []float64{out, out + 1.2, out + 2.6} {
		for _, turn := range []float64{90, -90, 0, 180, 45, 135, -45, -135} {
			way := turned(along, turn*float64(r.DeckOn))
			t.At, t.Anchor = hung(Point{c.X + way.X*off, c.Y + way.Y*off}, way, t.Size)
			if v.label(t) {
				return true
			}
		}
	}
	return false
}
