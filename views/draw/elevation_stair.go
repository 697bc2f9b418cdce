package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
)

// flight is where a place up the flight from its lowest nosing stands, in millimetres from the datum.
func (e *elevation) flight(up float64) float64 {
	from := mm(e.l.Stair.NosingFrom)
	if e.o.Run.Down() {
		return mm(e.l.Stair.Run) + from - up
	}
	return from + up
}

// ball draws the largest ball that passes the triangle of riser, tread and bottom rail, and dashed the one of the limit, at the step where
// it is worst, and names them under the steps. It returns the words where there was no room for them.
func (e *elevation) ball() string {
	st := e.l.Stair
	if st == nil || !st.Screened || st.Sphere <= 0 || st.Treads < 1 || st.Riser <= 0 || e.o.Brief {
		return ""
	}
	at := (st.Treads + 1) / 2 // the tread that it stands on
	if st.SphereAt > 1 && st.SphereAt <= st.Risers {
		at = st.SphereAt - 1
	}
	r, t := mm(st.Riser), mm(st.Tread)
	corner, tread := float64(at)*t+mm(st.Nosing), float64(at)*r
	round := func(d float64) Circle {
		return Circle{Centre: e.at(e.flight(corner-d/2), tread+d/2), Radius: d / 2 / e.den, Weight: Light}
	}
	big := mm(st.Sphere)
	words := "ball " + st.Sphere.FormatUp(e.o.Style)
	e.put(round(big))
	if st.RailMost != 0 {
		// The ball grows with the height of the rail as the triangle does.
		limit := big + mm(st.RailMost-e.l.Heights.Under)*(1+t/r-math.Hypot(r, t)/r)
		c := round(limit)
		c.Weight, c.Dash, c.Tone = Hairline, Hidden, Accent
		if limit <= big {
			c.Tone = Red
		}
		e.put(c)
		words += ", dashed: the limit"
	}
	size := wordType * e.size
	for drop := size * 1.6; drop < tread/e.den-1; drop += size {
		p := e.at(e.flight(corner-big/2), tread)
		// It runs to the side where there is nothing under the steps.
		text := Text{At: Point{p.X + 0.8, p.Y + drop}, Body: words, Size: size}
		if e.o.Run.Down() {
			text.At.X, text.Anchor = p.X-0.8, End
		}
		// On scarce paper it widens nothing.
		if room := textBox(text); e.thrift != allWords && (room.x1 < e.all().x1 || room.x2 > e.all().x2) {
			return words
		}
		if e.clear(text) && e.label(text) {
			e.put(Line{A: Point{p.X, p.Y - big/2/e.den}, B: Point{p.X, p.Y + drop}, Weight: Hairline})
			return ""
		}
	}
	return words
}

// steps letters each riser as measured, under the steps, where every riser was and they differ.
func (e *elevation) steps() {
	st := e.l.Stair
	if st == nil || e.o.Brief || st.RiserUneven.Spread == 0 || len(e.o.Run.RisersMeasured) != st.Risers {
		return
	}
	for i, riser := range e.o.Run.RisersMeasured {
		p := e.at(e.flight(float64(i)*mm(st.Tread)+mm(st.Nosing)), (float64(i)+0.5)*mm(st.Riser))
		t := Text{At: Point{p.X + 1, p.Y + wordType*0.35}, Body: fmt.Sprintf("%d: %s", i+1, e.figure(riser)), Size: wordType * e.size, Tone: Faint}
		if n := i + 1; n == st.RiserUneven.High || n == st.RiserUneven.Low {
			t.Tone, t.Bold = Ink, true
		}
		out := 1.0
		if e.o.Run.Down() {
			t.At.X, t.Anchor, out = p.X-1, End, -1
		}
		// Further under the flight where a post goes down behind it.
		for by := 0.0; by <= 24; by++ {
			aside := t
			if aside.At.X += out * by; e.clear(aside) && e.label(aside) {
				break
			}
		}
	}
}

// handrail draws a separate handrail along the rake, dashed, between the end posts.
func (e *elevation) handrail() {
	st := e.l.Stair
	if st == nil || st.HandrailAt <= 0 || e.o.Run.Handrail != layout.HandrailSeparate || len(e.l.Posts) == 0 {
		return
	}
	first, last := e.l.Posts[0], e.l.Posts[len(e.l.Posts)-1]
	deep := math.Max(mm(e.o.Run.HandrailSize), 25) / math.Cos(math.Atan(e.slope))
	e.put(Outline{Points: e.along(mm(first.Centre), mm(last.Centre), mm(st.HandrailAt)-deep, mm(st.HandrailAt)), Weight: Medium, Dash: Hidden, Tone: Accent})
}
