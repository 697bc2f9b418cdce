package draw

import (
	"math"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// height is one figure of the upright row.
type height struct {
	at   length.Length
	name string
	bold bool
}

// heights draws the heights beside the far end as running figures from their one reference, which is the decking or the
// nosing line.
func (e *elevation) heights() {
	h := e.l.Heights
	if h.Finished <= 0 {
		return
	}
	zero := "decking"
	if e.l.Stair != nil {
		zero = "nosing line"
	}
	all := []height{{0, zero, false}, {h.Finished, "finished top", true}}
	if h.Under != 0 {
		all = append(all, height{h.Under, "clear under", false})
	}
	if !e.o.Brief {
		all = append(all, height{h.BottomRailTop, "bottom rail", false}, height{h.TopRailTop - h.RailVertical, "under top rail", false})
		if h.TopRailTop != h.Finished {
			all = append(all, height{h.TopRailTop, "top rail", false})
		}
		if h.PostTop != h.TopRailTop && h.PostTop != h.Finished {
			all = append(all, height{h.PostTop, "post top", false})
		}
	}
	if st := e.l.Stair; st != nil && !e.o.Brief && e.o.Run.Handrail == layout.HandrailSeparate && st.HandrailAt > 0 {
		all = append(all, height{st.HandrailAt, "handrail", false})
	}
	for i := range all {
		if !all[i].bold {
			all[i].at = all[i].at.Round(e.l.Grid) // as it is marked; the finished top is shown as it is
		}
	}
	slices.SortFunc(all, func(a, b height) int { return int(math.Copysign(1, float64(a.at-b.at))) })
	_, right := e.edge()
	if e.l.Stair != nil {
		right = e.flightRight()
	}
	if e.wallAt(false) {
		right = mm(e.l.Length) + wallThickness
	}
	x := right + 4.5*e.den
	if e.slope > 0 {
		x += TextWidth(e.l.Label+"-P9", labelType*e.size, true) / 2 * e.den // past the label of the head post
	}
	size := figureType * e.size
	y := make([]float64, len(all))
	for i, one := range all {
		y[i] = e.at(x, e.ref(x)+mm(one.at)).Y
		from := right + extensionGap*e.den
		e.line(from, e.ref(from)+mm(one.at), x+extensionBeyond*e.den, e.ref(x+extensionBeyond*e.den)+mm(one.at), Hairline, Solid, Faint)
	}
	e.put(Line{A: Point{x / e.den, y[0]}, B: Point{x / e.den, y[len(y)-1]}, Weight: Hairline})
	spread := apart(y, size*1.12)
	for i, one := range all {
		tick := Point{x / e.den, y[i]}
		if one.at == 0 {
			e.put(Circle{Centre: tick, Radius: 0.9, Weight: Medium, Fill: Paper})
		} else {
			e.put(Line{A: Point{tick.X - slashHalf, tick.Y + slashHalf}, B: Point{tick.X + slashHalf, tick.Y - slashHalf}, Weight: Medium})
		}
		at := Point{tick.X + 5, spread[i] + capHeight*size/2}
		e.put(Line{A: Point{tick.X + extensionBeyond, y[i]}, B: Point{at.X - 0.7, spread[i]}, Weight: Hairline, Tone: Faint})
		body := e.figure(one.at)
		t := Text{At: at, Body: body, Size: size, Bold: one.bold}
		e.put(t)
		if e.wide() || one.at == 0 {
			name := Text{At: Point{at.X + TextWidth(body, size, one.bold) + 1.2, at.Y}, Body: one.name, Size: wordType * e.size, Tone: Faint}
			if e.thrift == sparse && i == 0 {
				name.At = Point{at.X, at.Y + size} // under the lowest figure it takes no width
			}
			e.put(name)
		}
	}
}

// apart moves places that ascend on paper from the last to the first so that each stands at least least from its
// neighbours, as little as that takes.
func apart(y []float64, least float64) []float64 {
	// Each cluster keeps its middle; neighbours that come too close join.
	type cluster struct {
		sum float64 // of the places, each brought to the cluster's first
		n   int
	}
	var all []cluster
	first := func(c cluster) float64 { return c.sum / float64(c.n) }
	for _, v := range y {
		all = append(all, cluster{sum: v, n: 1})
		for len(all) > 1 {
			a, b := all[len(all)-2], all[len(all)-1]
			if first(a)-first(b) >= float64(a.n)*least {
				break
			}
			all = append(all[:len(all)-2], cluster{sum: a.sum + b.sum + float64(a.n*b.n)*least, n: a.n + b.n})
		}
	}
	var out []float64
	for _, c := range all {
		for i := range c.n {
			out = append(out, first(c)-float64(i)*least)
		}
	}
	return out
}

// lift says how a removable length comes out.
func (e *elevation) lift() {
	if e.l.Lift == nil || e.l.Lift.Rise <= 0 || e.o.Brief {
		return
	}
	size := wordType * e.size
	at := Point{e.low/e.den + 1, e.all().y1 - 1.5}
	e.put(Line{A: at, B: Point{at.X, at.Y - 3.4}, Weight: Medium, Tone: Accent},
		Line{A: Point{at.X - 0.9, at.Y - 2.1}, B: Point{at.X, at.Y - 3.4}, Weight: Medium, Tone: Accent},
		Line{A: Point{at.X + 0.9, at.Y - 2.1}, B: Point{at.X, at.Y - 3.4}, Weight: Medium, Tone: Accent})
	e.label(Text{At: Point{at.X + 2.2, at.Y - 0.8}, Body: "lifts out, " + e.text(e.l.Lift.Rise) + " to clear its sleeves", Size: size, Tone: Accent})
}
