package draw

import (
	"fmt"
	"math"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Sizes of the marks of a stair post on paper, in millimetres.
const (
	postMarksHigh = 95.0 // at most, for the post
	postMarksStub = 16.0 // of rail beside the post
)

// PostMarks draws a post of a flight with what is marked on its two faces, plumb above the surface that it stands over: a raked rail
// meets them at different heights, so that each is named by the way the flight goes. The datum is at the left, as in the elevation. Any
// other post has none: its sheet is empty.
func PostMarks(l layout.Layout, p layout.Post, o DetailOptions) Sheet {
	s := Sheet{Title: "Marks on " + p.Label}
	if p.Stand == nil || l.Stair == nil || l.Stair.Tread <= 0 {
		return s
	}
	m := &postMarks{l: l, p: p, o: o, scale: scale{style: o.Style, size: 1}}
	for _, den := range scales(o.Style) {
		m.den = den
		if (mm(max(p.TopCut.Uphill, p.Stand.Uphill.Top))+mm(p.Stand.Below)+180)/den <= postMarksHigh {
			break
		}
	}
	m.draw()
	s.Scale, s.Alt = m.name(), m.alt()
	return m.trim(s)
}

// postMarks is that drawing in the making: x in real millimetres from the post's left face, z up from the surface.
type postMarks struct {
	pad
	scale
	l layout.Layout
	p layout.Post
	o DetailOptions
}

// face is one face of the post: where it is drawn, what it is called and what is marked on it.
type face struct {
	x, out float64 // out is the way out of the post: -1 to the left
	name   string
	marks  layout.FaceMarks
	top    length.Length // of the post
}

func (m *postMarks) at(x, z float64) Point { return Point{x / m.den, -z / m.den} }

// faces are the left one and the right one.
func (m *postMarks) faces() [2]face {
	left := face{x: 0, out: -1, name: "downhill face", marks: m.p.Stand.Downhill, top: m.p.TopCut.Downhill}
	right := face{x: mm(m.p.Width), out: 1, name: "uphill face", marks: m.p.Stand.Uphill, top: m.p.TopCut.Uphill}
	if m.o.Run.Down() {
		left.name, left.marks, left.top, right.name, right.marks, right.top = right.name, right.marks, right.top, left.name, left.marks, left.top
	}
	return [2]face{left, right}
}

func (m *postMarks) draw() {
	faces, wide := m.faces(), mm(m.p.Width)
	left, right := mm(faces[0].top), mm(faces[1].top)
	below := mm(m.p.Stand.Below)
	switch {
	case m.p.Stringer():
		m.stringer()
	case m.p.StandOff > 0:
		m.put(Outline{Points: []Point{m.at(0, 0), m.at(wide, 0), m.at(wide, mm(m.p.StandOff)), m.at(0, mm(m.p.StandOff))}, Weight: Light, Tone: Accent})
	case below > 0:
		m.put(Outline{Points: []Point{m.at(0, -below), m.at(wide, -below), m.at(wide, 0), m.at(0, 0)}, Weight: Light, Dash: Hidden})
	}
	stub := postMarksStub * m.den
	from, to := -stub-4*m.den, wide+stub+4*m.den // of the surface, short on the side where bolts are dimensioned
	switch {
	case m.p.Stringer() && m.o.Run.Down():
		from = -postMarksBoard * m.den
	case m.p.Stringer():
		to = wide + postMarksBoard*m.den
	}
	m.put(Line{A: m.at(from, 0), B: m.at(to, 0), Weight: Medium, Tone: Faint})
	foot := mm(m.p.StandOff)
	m.put(Line{A: m.at(0, foot), B: m.at(0, left), Weight: Heavy}, Line{A: m.at(wide, right), B: m.at(wide, foot), Weight: Heavy})
	m.top(left, right, wide)
	for _, f := range faces {
		m.face(f, faces, stub)
	}
	head := m.at(wide/2, math.Max(math.Max(left, right), math.Max(mm(faces[0].marks.Top), mm(faces[1].marks.Top))))
	m.put(Text{At: Point{head.X, head.Y - 12}, Body: m.p.Label, Size: labelType, Anchor: Middle, Bold: true})
	on := m.at(wide/2, -math.Max(below, 0))
	if on.Y += 5; m.p.Stringer() {
		on.Y = m.bottom() + 4
	}
	m.put(Text{At: on, Body: "above " + m.p.Stand.On, Size: wordType, Anchor: Middle, Tone: Faint})
	if m.p.Stringer() {
		m.boltWords(on.X, on.Y+wordType*1.6)
	}
	m.scaleBar(m.scale, m.all().x1+2, m.bottom()+6, math.Inf(1))
}

// top draws the top of the post between its faces.
func (m *postMarks) top(left, right, wide float64) {
	at := []Point{{0, left}, {wide, right}}
	if t := m.p.TopCut; t.Shape == layout.TopBoth {
		line := mm(t.Line) // from the downhill face, the left one of a flight that goes up
		if m.o.Run.Down() {
			line = wide - line
		}
		over, under := Point{line, mm(t.Uphill)}, Point{line, mm(t.Foot)}
		if at = []Point{at[0], under, over, at[1]}; m.o.Run.Down() {
			at[1], at[2] = over, under
		}
	}
	for i := 1; i < len(at); i++ {
		m.put(Line{A: m.at(at[i-1].X, at[i-1].Y), B: m.at(at[i].X, at[i].Y), Weight: Heavy})
	}
}

// face draws the rails and the nosing line beside one face, a tick at each mark, and its figures.
func (m *postMarks) face(f face, both [2]face, stub float64) {
	slope := (mm(both[1].marks.Line) - mm(both[0].marks.Line)) / mm(m.p.Width)
	deep := mm(m.l.Heights.RailVertical)
	rail := func(low float64) {
		far := f.x + f.out*stub
		drop := slope * (far - f.x)
		m.put(Outline{Points: []Point{m.at(f.x, low), m.at(far, low+drop), m.at(far, low+drop+deep), m.at(f.x, low+deep)}, Weight: Light, Fill: Paper})
	}
	under, topRail, line := mm(f.marks.Under), mm(f.marks.Top), mm(f.marks.Line)
	if m.meets(f) {
		rail(under)
		rail(topRail - deep)
	}
	m.put(Line{A: m.at(f.x, line), B: m.at(f.x+f.out*stub, line+slope*f.out*stub), Weight: Hairline, Dash: Centre})
	type mark struct {
		at   length.Length
		name string
		bold bool
	}
	marks := []mark{{f.marks.Line, "nosing line", false}, {f.marks.Under, "bottom rail, underside", false}, {f.marks.Top, "top rail, top", true}}
	grid := m.l.Grid
	switch {
	case f.top.Round(grid) == f.marks.Top.Round(grid):
		marks[2].name = "top rail and post, top"
	case f.top > f.marks.Top:
		marks = append(marks, mark{f.top, "post, top", true})
	default:
		marks = append(marks[:2:2], mark{f.top, "post, top", true}, marks[2])
	}
	if f.marks.Line == f.marks.Under {
		marks = marks[1:]
		marks[0].name = "underside, on the nosing line"
	}
	if f.marks.Under < f.marks.Line {
		marks[0], marks[1] = marks[1], marks[0] // from the lowest up
	}
	y := make([]float64, len(marks))
	for i, k := range marks {
		y[i] = m.at(0, mm(k.at)).Y
	}
	// Figure and name are two lines, so they want the room of both.
	spread := apart(y, 8)
	anchor := Start
	if f.out < 0 {
		anchor = End
	}
	x := m.at(f.x, 0).X + f.out*(postMarksStub+5)
	for i, k := range marks {
		tick := m.at(f.x, mm(k.at))
		m.put(Line{A: Point{tick.X - 1.4, tick.Y}, B: Point{tick.X + 1.4, tick.Y}, Weight: Heavy})
		m.put(Line{A: Point{tick.X, tick.Y}, B: Point{x - f.out*1.2, spread[i]}, Weight: Hairline, Tone: Faint})
		m.put(Text{At: Point{x, spread[i] + 0.4}, Body: k.at.Round(m.l.Grid).Format(m.style), Size: figureType, Anchor: anchor, Bold: k.bold})
		m.put(Text{At: Point{x, spread[i] + 3.6}, Body: k.name, Size: wordType, Anchor: anchor, Tone: Faint})
	}
	high := m.at(f.x, math.Max(math.Max(mm(both[0].top), mm(both[1].top)), math.Max(mm(both[0].marks.Top), mm(both[1].marks.Top))))
	m.put(Text{At: Point{x, math.Min(high.Y, spread[len(spread)-1]) - 7}, Body: f.name, Size: labelType, Anchor: anchor, Tone: Accent})
}

// meets says whether a rail comes to a face: an end post has none on its outer one.
func (m *postMarks) meets(f face) bool {
	return slices.ContainsFunc(m.l.Bays, func(b layout.Bay) bool {
		return f.out < 0 && b.ToPost == m.p.Number || f.out > 0 && b.FromPost == m.p.Number
	})
}

// alt says the marks in words.
func (m *postMarks) alt() string {
	text := fmt.Sprintf("Marks on %s, plumb above %s.", m.p.Label, m.p.Stand.On)
	for _, f := range m.faces() {
		at := func(l length.Length) string { return l.Round(m.l.Grid).Format(m.style) }
		text += fmt.Sprintf(" On its %s the nosing line is at %s, the underside of the bottom rail at %s, the top of the top rail at %s, the post's own top at %s.", f.name, at(f.marks.Line), at(f.marks.Under), at(f.marks.Top), at(f.top))
	}
	if m.p.Stringer() {
		for _, b := range m.p.Bolts {
			text += " The " + m.l.BoltPlace(m.p, b, m.style) + "."
		}
	}
	return text
}
