package draw_test

import (
	"fmt"
	"math"
	"strings"

	"newelbook/views/draw"
)

// drawnLine is a stroke of a sheet, an edge of an outline among them, with its place in the order of drawing.
type drawnLine struct {
	a, b  draw.Point
	order int
}

// strokes lists every stroke of a sheet but those of circles.
func strokes(s draw.Sheet) (all []drawnLine) {
	for i, it := range s.Items {
		switch v := it.(type) {
		case draw.Line:
			all = append(all, drawnLine{v.A, v.B, i})
		case draw.Outline:
			for n, a := range v.Points {
				all = append(all, drawnLine{a, v.Points[(n+1)%len(v.Points)], i})
			}
		}
	}
	return all
}

// within cuts a stroke to a room; none where it does not pass through.
func (l drawnLine) within(room [4]float64) (from, to draw.Point, ok bool) {
	low, high := 0.0, 1.0
	for _, side := range []struct{ at, by, min, max float64 }{{l.a.X, l.b.X - l.a.X, room[0], room[2]}, {l.a.Y, l.b.Y - l.a.Y, room[1], room[3]}} {
		if side.by == 0 {
			if side.at <= side.min || side.at >= side.max {
				return from, to, false
			}
			continue
		}
		k1, k2 := (side.min-side.at)/side.by, (side.max-side.at)/side.by
		low, high = math.Max(low, math.Min(k1, k2)), math.Min(high, math.Max(k1, k2))
	}
	if low >= high {
		return from, to, false
	}
	place := func(k float64) draw.Point { return draw.Point{X: l.a.X + k*(l.b.X-l.a.X), Y: l.a.Y + k*(l.b.Y-l.a.Y)} }
	return place(low), place(high), true
}

// graze is what the corner of a text may reach over a stroke, in millimetres: its room is that of the widest figures.
const graze = 0.3

// onLines names every text of a sheet that a stroke runs through. A stroke under paper that was laid over it later is not seen.
func onLines(s draw.Sheet) (all []string) {
	for _, it := range s.Items {
		t, ok := it.(draw.Text)
		if !ok {
			continue
		}
		room := textRoom(t)
		for n, by := range [4]float64{graze, graze, -graze, -graze} {
			room[n] += by
		}
		for _, it := range s.Items {
			o, ok := it.(draw.Outline)
			if !ok || o.Fill != draw.Hatch {
				continue
			}
			if x1, y1, x2, y2 := around(o); room[0] < x2 && x1 < room[2] && room[1] < y2 && y1 < room[3] {
				all = append(all, fmt.Sprintf("%q stands on hatching", t.Body))
			}
		}
		for _, l := range strokes(s) {
			from, to, meets := l.within(room)
			if !meets || hidden(s, l.order, draw.Point{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}) {
				continue
			}
			all = append(all, fmt.Sprintf("%q at %.1f, %.1f is struck by the line from %.1f, %.1f to %.1f, %.1f", strings.TrimSpace(t.Body), t.At.X, t.At.Y, l.a.X, l.a.Y, l.b.X, l.b.Y))
		}
	}
	return all
}

// hidden says whether paper laid over a place after an item was drawn hides it there: a level outline filled with paper.
func hidden(s draw.Sheet, order int, at draw.Point) bool {
	for _, it := range s.Items[order+1:] {
		if o, ok := it.(draw.Outline); ok && o.Fill == draw.Paper {
			if x1, y1, x2, y2 := around(o); x1 < at.X && at.X < x2 && y1 < at.Y && at.Y < y2 {
				return true
			}
		}
	}
	return false
}
