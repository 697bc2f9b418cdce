package draw

import (
	"math"

	"newelbook/checklist/length"
)

// postMarksBoard is how much of the stringer is drawn to each side of a post that is bolted to it, in millimetres of paper.
const postMarksBoard = 4.5

// stringer draws a post's lower part over the stringer that it is bolted to: both edges of the wood that counts, the bolts on the post's centre line and
// their places up that line from the stringer's lower edge. What is not given is left out.
func (m *postMarks) stringer() {
	st, wide, below := m.l.Stair.Stringer, mm(m.p.Width), mm(m.p.Stand.Below)
	m.put(Outline{Points: []Point{m.at(0, -below), m.at(wide, -below), m.at(wide, 0), m.at(0, 0)}, Weight: Light, Fill: Paper})
	if st.Below == 0 {
		return
	}
	faces := m.faces()
	slope := (mm(faces[1].marks.Line) - mm(faces[0].marks.Line)) / wide
	line := (mm(faces[0].marks.Line) + mm(faces[1].marks.Line)) / 2 // of the nosings, at the post's centre
	out := postMarksBoard * m.den
	edge := func(z float64, w Weight, d Dash) {
		at := func(x float64) Point { return m.at(x, z+slope*(x-wide/2)) }
		m.put(Line{A: at(-out), B: at(0), Weight: w, Dash: d}, Line{A: at(0), B: at(wide), Weight: Hairline, Dash: Hidden}, Line{A: at(wide), B: at(wide + out), Weight: w, Dash: d})
	}
	low := line - mm(st.Below)
	edge(low, Medium, Solid)
	switch up := low + mm(st.Depth)*math.Hypot(1, slope); {
	case st.Depth == 0:
	case st.Notched:
		edge(up, Hairline, Centre)
	default:
		edge(up, Medium, Solid)
	}
	// The places stand on the uphill side, where the nosing line and the rails rise away from them.
	side, offset := m.at(wide+out, 0).X, -2.5
	if m.o.Run.Down() {
		side, offset = m.at(-out, 0).X, 2.5
	}
	heights, texts, last := []Point{{side, m.at(0, low).Y}}, []string{}, length.Length(0)
	for i := len(st.Marks) - 1; i >= 0; i-- {
		k := st.Marks[i]
		z := line - mm(k.BelowLine)
		if k.BelowLine == 0 || z < -below {
			continue // not known, or under the end of a post that stands on the ground: a problem of the layout
		}
		bolt := m.at(wide/2, z)
		m.put(Circle{Centre: bolt, Radius: math.Max(mm(m.o.Spec.BoltDiameter)/2/m.den, 0.45), Weight: Light, Fill: Paper},
			Line{A: Point{bolt.X - 1.6, bolt.Y}, B: Point{bolt.X + 1.6, bolt.Y}, Weight: Hairline})
		up := k.Up.Round(m.l.Grid)
		heights, texts, last = append(heights, Point{side, bolt.Y}), append(texts, (up-last).Format(m.style)), up
	}
	foot, top := m.at(wide/2, low), heights[len(heights)-1].Y
	m.put(Line{A: Point{foot.X, foot.Y + 1.6}, B: Point{foot.X, top - 2.4}, Weight: Hairline, Dash: Centre})
	m.put(Chain{Points: heights, Texts: texts, Offset: offset}.Items()...)
}

// boltWords letters under the drawing how the bolts stand square to the stringer's edges.
func (m *postMarks) boltWords(x, y float64) {
	upper := "its upper edge"
	if m.l.Stair.Stringer.Notched {
		upper = "the inner corners of its notches"
	}
	words := []string{
		"bolts, square to the stringer:",
		"upper " + m.p.Bolts[0].FromTop.Format(m.style) + " below " + upper,
		"lower " + m.p.Bolts[1].FromBottom.Format(m.style) + " above its lower edge",
	}
	if m.l.Stair.Stringer.Below > 0 {
		words = append(words, "beside the post: up its centre line from that edge")
	}
	for i, body := range words {
		m.put(Text{At: Point{x, y + float64(i)*wordType*1.3}, Body: body, Size: wordType, Anchor: Middle})
	}
}
