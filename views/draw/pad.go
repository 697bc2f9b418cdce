package draw

import (
	"math"
	"slices"
)

// strokeMargin is what lettering that keeps off strokes stands clear of them, in millimetres.
const strokeMargin = 0.4

// pad is a drawing in the making: its items in millimetres of paper, and the room that its texts take, so that no two meet.
type pad struct {
	items []Item
	boxes []box
}

// put draws items whatever stands there already; texts among them keep later labels away.
func (p *pad) put(items ...Item) {
	for _, it := range items {
		if t, ok := it.(Text); ok {
			p.boxes = append(p.boxes, textBox(t))
		}
	}
	p.items = append(p.items, items...)
}

// label draws a text where no other text stands, and says whether it did.
func (p *pad) label(t Text) bool {
	if !p.free(t) {
		return false
	}
	p.put(t)
	return true
}

// free says whether texts would stand clear of every other.
func (p *pad) free(texts ...Text) bool {
	for _, t := range texts {
		b := textBox(t)
		b = box{b.x1 - textMargin/2, b.y1, b.x2 + textMargin/2, b.y2}
		if slices.ContainsFunc(p.boxes, b.overlaps) {
			return false
		}
	}
	return true
}

// clear says whether a text would stand clear of every other, and of every stroke and hatching drawn so far but what paper laid over it hides.
func (p *pad) clear(t Text) bool {
	if !p.free(t) {
		return false
	}
	room := textBox(t)
	return p.unstruck(box{room.x1 - strokeMargin, room.y1 - strokeMargin, room.x2 + strokeMargin, room.y2 + strokeMargin})
}

// empty says whether nothing that is drawn or lettered reaches into a room.
func (p *pad) empty(room box) bool {
	return !slices.ContainsFunc(p.boxes, room.overlaps) && p.unstruck(room)
}

// unstruck says whether no stroke and no hatching drawn so far is seen within a room.
func (p *pad) unstruck(room box) bool {
	for i, it := range p.items {
		switch v := it.(type) {
		case Line:
			if p.struck(room, v.A, v.B, i) {
				return false
			}
		case Outline:
			for n, a := range v.Points {
				if p.struck(room, a, v.Points[(n+1)%len(v.Points)], i) {
					return false
				}
			}
			if v.Fill == Hatch && itemBox(v).overlaps(room) {
				return false
			}
		case Circle:
			if itemBox(v).overlaps(room) {
				return false
			}
		}
	}
	return true
}

// struck says whether the stroke from a to b, of the item at a place in the order of drawing, is seen within a room.
func (p *pad) struck(room box, a, b Point, order int) bool {
	from, to, ok := room.cut(a, b)
	if !ok {
		return false
	}
	middle := Point{(from.X + to.X) / 2, (from.Y + to.Y) / 2}
	return !slices.ContainsFunc(p.items[order+1:], func(it Item) bool {
		o, ok := it.(Outline)
		return ok && o.Fill == Paper && holds(o.Points, middle)
	})
}

// holds says whether a place lies within a convex polygon.
func holds(points []Point, at Point) bool {
	var sides [2]bool // of the edges that the place lies to the left and to the right of
	for i, a := range points {
		b := points[(i+1)%len(points)]
		side := (b.X-a.X)*(at.Y-a.Y) - (b.Y-a.Y)*(at.X-a.X)
		sides[0], sides[1] = sides[0] || side < 0, sides[1] || side > 0
	}
	return !sides[0] || !sides[1]
}

// all is the room taken so far.
func (p *pad) all() box {
	b := itemBox(p.items[0])
	for _, it := range p.items[1:] {
		b = b.with(itemBox(it))
	}
	return b
}

// bottomOf is the lowest place that boxes take; far above everything where there are none.
func bottomOf(boxes []box) float64 {
	low := math.Inf(-1)
	for _, b := range boxes {
		low = math.Max(low, b.y2)
	}
	return low
}

// bottom is the lowest place on paper taken so far.
func (p *pad) bottom() float64 { return p.all().y2 }

// trim moves the drawing into its sheet.
func (p *pad) trim(s Sheet) Sheet {
	b := p.all()
	for _, it := range p.items {
		s.Items = append(s.Items, moved(it, sheetMargin-b.x1, sheetMargin-b.y1))
	}
	s.Width, s.Height = b.x2-b.x1+2*sheetMargin, b.y2-b.y1+2*sheetMargin
	return s
}
