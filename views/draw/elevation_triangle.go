package draw

import (
	"fmt"
	"math"
)

// triangleStep is how far apart the places are at which the triangle of a rake is tried, in millimetres of paper.
const triangleStep = 2.0

// rake draws the triangle that the rake of a flight comes from, with its angle, the length of its rails and what found no room beside its
// steps, where the drawing leaves room: with all its words, or else with the angle alone, or without it. Where there is none in the drawing
// it may stand over it.
func (e *elevation) rake(more string) {
	st := e.l.Stair
	if st == nil || st.Tread <= 0 || e.o.Brief {
		return
	}
	words := e.rakeWords(more)
	for n := len(words); n >= 1; n-- {
		t := e.triangle(words[:n])
		if at, ok := e.roomFor(t); ok {
			e.put(t.moved(at)...)
			return
		}
		if e.thrift == allWords {
			break
		}
	}
	if e.thrift == allWords {
		t, room := e.triangle(words), e.all()
		at := Point{room.x1 - t.room.x1, room.y1 - t.room.y2 - 1}
		if e.o.Run.Down() {
			at.X = room.x2 - t.room.x2
		}
		e.put(t.moved(at)...)
	}
}

// rakeWords are the lines under the triangle, the angle first.
func (e *elevation) rakeWords(more string) []Text {
	st := e.l.Stair
	words := []Text{
		{Body: fmt.Sprintf("%.1f° above level", st.Angle), Size: figureType * e.size, Bold: true},
		{Body: fmt.Sprintf("%d risers, %d treads", st.Risers, st.Treads), Size: wordType * e.size, Tone: Faint},
	}
	for _, body := range []string{e.railWords(), more} {
		if body != "" {
			words = append(words, Text{Body: body, Size: wordType * e.size, Tone: Faint})
		}
	}
	return words
}

// itemBlock is items that are placed together, about an origin of their own, and the room that they take.
type itemBlock struct {
	items []Item
	room  box
}

// blockOf is items with the room that they take.
func blockOf(items []Item) itemBlock {
	b := itemBlock{items: items, room: itemBox(items[0])}
	for _, it := range items[1:] {
		b.room = b.room.with(itemBox(it))
	}
	return b
}

// moved are its items with the origin at a place.
func (b itemBlock) moved(at Point) []Item {
	var items []Item
	for _, it := range b.items {
		items = append(items, moved(it, at.X, at.Y))
	}
	return items
}

// triangle is the triangle with riser, tread and its words, its level leg ending at the origin.
func (e *elevation) triangle(words []Text) itemBlock {
	st, size := e.l.Stair, figureType*e.size
	leg := 4.2 * size
	rise := leg * math.Abs(e.slope)
	a, b, high := Point{0, 0}, Point{leg, 0}, Point{leg, -rise}
	riser := Text{At: Point{leg + 1.2, -rise/2 + capHeight*size/2}, Body: e.figure(st.Riser), Size: size}
	upright, low := b, a
	if e.o.Run.Down() {
		high.X, upright, low = 0, a, b
		riser.At.X, riser.Anchor = -1.2, End
	}
	items := []Item{Line{A: a, B: b, Weight: Hairline}, Line{A: upright, B: high, Weight: Hairline}, Line{A: low, B: high, Weight: Medium},
		riser, Text{At: Point{leg / 2, size}, Body: e.figure(st.Tread), Size: size, Anchor: Middle}}
	y := size * 2.4
	for _, t := range words {
		t.At, t.Anchor = Point{leg / 2, y}, Middle
		items = append(items, t)
		y += t.Size * 1.3
	}
	return blockOf(items)
}

// roomFor finds a place within the drawing where a block stands clear of all that is drawn, over the guard or under the flight, the lower
// end's side and the top first.
func (e *elevation) roomFor(b itemBlock) (Point, bool) {
	all := e.all()
	wide, high := all.x2-all.x1-(b.room.x2-b.room.x1), all.y2-all.y1-(b.room.y2-b.room.y1)
	if wide < 0 || high < 0 {
		return Point{}, false
	}
	for _, over := range []bool{true, false} {
		for dx := 0.0; dx <= wide; dx += triangleStep {
			for dy := 0.0; dy <= high; dy += triangleStep {
				at := Point{all.x1 + dx - b.room.x1, all.y1 + dy - b.room.y1}
				if e.o.Run.Down() == over {
					at.X = all.x2 - dx - b.room.x2
				}
				room := box{b.room.x1 + at.X - textMargin, b.room.y1 + at.Y - textMargin, b.room.x2 + at.X + textMargin, b.room.y2 + at.Y + textMargin}
				if e.outside(room, over) && e.empty(room) {
					return at, true
				}
			}
		}
	}
	return Point{}, false
}

// outside says whether a room on paper lies over the guard, or under the steps, for the whole of its width.
func (e *elevation) outside(room box, over bool) bool {
	if over {
		middle := (room.x1 + room.x2) / 2 * e.den
		return room.y2 < e.crown(middle, (room.x2-room.x1)/2)
	}
	return room.y1 > -math.Min(e.step(room.x1*e.den), e.step(room.x2*e.den))/e.den
}

// scaleInside sets the scale bar of a flight where the drawing leaves room for it, and says whether it did.
func (e *elevation) scaleInside() bool {
	var bar pad
	bar.scaleBar(e.scale(), 0, 0, math.Inf(1))
	b := blockOf(bar.items)
	at, ok := e.roomFor(b)
	if ok {
		e.put(b.moved(at)...)
	}
	return ok
}

// railWords says how long the top rails are along the rake, where all are alike.
func (e *elevation) railWords() string {
	var cut string
	for _, b := range e.bays {
		p := b.Used()
		if p == nil || cut != "" && cut != e.text(p.Top.Cut) {
			return ""
		}
		cut = e.text(p.Top.Cut)
	}
	if cut == "" {
		return ""
	}
	return "top rails " + cut + " along the rake"
}
