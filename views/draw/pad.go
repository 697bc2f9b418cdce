package draw

import (
	"math"
	"slices"
)

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
