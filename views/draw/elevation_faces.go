package draw

import (
	"fmt"
	"math"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// faceTiers is how many lines a row of marks may take where those of neighbouring posts do not fit side by side.
const faceTiers = 3

// faceMarks are the marks on the faces of a flight's posts, by row.
var faceMarks = []struct {
	name string
	of   func(layout.FaceMarks) length.Length
}{
	{"top rail, top", func(m layout.FaceMarks) length.Length { return m.Top }},
	{"bottom rail, under", func(m layout.FaceMarks) length.Length { return m.Under }},
}

// hasFaces says whether a post has marks on its faces.
func hasFaces(p layout.Post) bool { return p.Stand != nil }

// facesHead names the faces in the order in which their marks are lettered: the left one first as drawn.
func (e *elevation) facesHead() Text {
	body := "on each post: downhill | uphill face"
	if e.o.Run.Down() {
		body = "on each post: uphill | downhill face"
	}
	return Text{Body: body, Size: wordType * e.size, Tone: Faint}
}

// facePair is one mark of a post on both faces.
func (e *elevation) facePair(p layout.Post, of func(layout.FaceMarks) length.Length) string {
	left, right := p.Stand.Downhill, p.Stand.Uphill
	if e.o.Run.Down() {
		left, right = right, left
	}
	return e.figure(of(left).Round(e.l.Grid)) + " | " + e.figure(of(right).Round(e.l.Grid))
}

// faceRows letters what is marked on the two faces of each post of a flight, plumb above the surface it stands over, in two rows under y,
// and returns where they end.
func (e *elevation) faceRows(y float64) float64 {
	if e.l.Stair == nil || e.thrift >= listed || e.o.Brief || !slices.ContainsFunc(e.l.Posts, hasFaces) {
		return y
	}
	head := e.facesHead()
	y += head.Size * 1.3
	head.At = Point{-1, y}
	e.put(head)
	for _, row := range faceMarks {
		y = e.faceRow(row.name, y, row.of)
	}
	return y
}

// faceRow letters one mark of every post under y, and names it.
func (e *elevation) faceRow(name string, y float64, of func(layout.FaceMarks) length.Length) float64 {
	size := wordType * e.size
	y += size * 1.3
	low := y
	for _, p := range e.endsFirst() {
		if !hasFaces(p) {
			continue
		}
		t := Text{At: Point{mm(p.Centre) / e.den, y}, Body: e.facePair(p, of), Size: size, Anchor: Middle}
		placed := false
		for range faceTiers {
			if placed = e.label(t); placed {
				break
			}
			t.At.Y += size * 1.2
		}
		low = math.Max(low, t.At.Y)
		e.missing = e.missing || !placed
	}
	// Further right where the figures of the last post reach under it.
	_, right := e.edge()
	named := false
	for dx := 4.5; !named && dx < 24; dx += 4.5 {
		named = e.label(Text{At: Point{right/e.den + dx, y}, Body: name, Size: size, Tone: Faint})
	}
	e.missing = e.missing || !named
	return low + size*textDescent
}

// faceList sets the same marks in a list, a line for each post and mark, where the drawing leaves room for it, or at its right.
func (e *elevation) faceList() {
	if e.thrift != listed || !slices.ContainsFunc(e.l.Posts, hasFaces) {
		return
	}
	size := wordType * e.size
	items, y := []Item{e.facesHead()}, size*1.45
	for _, p := range e.l.Posts {
		if !hasFaces(p) {
			continue
		}
		items = append(items, Text{At: Point{0, y}, Body: fmt.Sprintf("P%d", p.Number), Size: size, Bold: true})
		for _, row := range faceMarks {
			items = append(items, Text{At: Point{size * 2, y}, Body: row.name, Size: size, Tone: Faint}, Text{At: Point{size * 10.5, y}, Body: e.facePair(p, row.of), Size: size})
			y += size * 1.3
		}
	}
	list := blockOf(items)
	if at, ok := e.roomFor(list); ok {
		e.put(list.moved(at)...)
		return
	}
	room := e.all()
	e.put(list.moved(Point{room.x2 + 3 - list.room.x1, room.y1 - list.room.y1})...)
}
