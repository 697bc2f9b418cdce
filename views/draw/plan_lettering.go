package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
)

// length dimensions a run on its outer side, further out where other lettering stands in the way.
func (v *planView) length(r layout.PlanRun) {
	body := r.Length().Format(v.o.Style)
	along, right := ways(r)
	side := v.inner(r) // the left of the way along is away from a deck on the right
	for _, off := range []float64{planOffset, planOffset + 4, planOffset + 8, planOffset + 12, planOffset + 16, -planOffset, -planOffset - 4, -planOffset - 8} {
		items := Dimension{A: v.at(r.Start), B: v.at(r.End), Offset: side * off, Text: body}.Items()
		clear := true
		for _, it := range items {
			if t, ok := it.(Text); ok {
				clear = clear && v.free(t)
			}
		}
		if !clear {
			continue
		}
		v.put(items...)
		for _, it := range items {
			if l, ok := it.(Line); ok {
				v.obstacle(l.A, l.B, 0.2)
			}
		}
		from := by(v.at(r.Start), along, right, 0, -side*off)
		v.put(Circle{Centre: from, Radius: 0.9, Weight: Medium, Tone: Accent, Fill: Paper})
		return
	}
}

// name letters a run on its inner side, and a turn that is not square at its start.
func (v *planView) name(r layout.PlanRun) {
	along, _ := ways(r)
	body := r.Label
	if r.Kind == layout.Removable {
		body += ", lifts out"
	}
	long := math.Hypot(v.at(r.End).X-v.at(r.Start).X, v.at(r.End).Y-v.at(r.Start).Y)
	v.beside(r, Text{Body: body, Size: labelType, Bold: true}, v.inner(r), long, 0.5, 0.35, 0.65, 0.2, 0.8)
	if r.Turn%90 != 0 {
		t := Text{Body: fmt.Sprintf("%d°", int(math.Abs(float64(r.Turn)))), Size: wordType}
		v.around(v.at(r.Start), t, along)
	}
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
