package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// The sheet of a grip's section, in millimetres on paper.
const (
	gripMargin = 9.0
	gripLeft   = 24.0 // room for the depth's dimension
	gripBeside = 12.0 // between the section and what is said of it
	gripRow    = 5.0
	gripType   = 3.0
)

// Grip is the section of what a hand holds along a flight, at full size where it is no wider than half the sheet, with its sizes and the
// figure that each was held to beside it. The curves of a finger recess are drawn straight and its widest part at the top: only the sizes
// given are to scale.
func Grip(g layout.Grip, width float64, style length.Style) Sheet {
	wide, deep := mm(g.Wide), mm(g.Deep)
	if wide <= 0 || deep <= 0 {
		return Sheet{}
	}
	den := 1.0
	for wide/den > width/2-gripLeft || deep/den > 90 {
		den *= 2
	}
	wide, deep = wide/den, deep/den
	top := gripMargin + 8
	s := Sheet{Width: width, Scale: "1:1, full size", Title: "Grip of " + g.Name}
	if den > 1 {
		s.Scale = fmt.Sprintf("1:%g", den)
	}
	middle := gripLeft + wide/2
	s.Items = append(s.Items, gripSection(g, middle, top, 1/den)...)
	s.Items = append(s.Items, gripSizes(g, middle, top, 1/den, style)...)
	y := top
	at := gripLeft + wide + gripBeside + 12
	for _, t := range g.Tested {
		mark, tone := "inside", Ink
		if !t.Inside {
			mark, tone = "outside", Red
		}
		for i, row := range []string{t.What + ": " + t.Value, mark + ": " + t.Figure} {
			s.Items = append(s.Items, Text{At: Point{at, y + gripType}, Body: row, Size: gripType, Bold: i == 0, Tone: tone})
			y += gripRow * (0.84 + 0.3*float64(i))
		}
	}
	s.Height = math.Max(top+deep+2*gripMargin, y+2)
	s.Alt = "Section of " + g.Name + ", " + g.Shape + fmt.Sprintf(": %s across and %s from top to bottom.", g.Wide.Format(style), g.Deep.Format(style))
	for _, t := range g.Tested {
		s.Alt += " " + t.Sentence()
	}
	return s
}

// gripSection is the outline, k millimetres of paper to one of the section.
func gripSection(g layout.Grip, middle, top, k float64) []Item {
	half, deep := mm(g.Wide)*k/2, mm(g.Deep)*k
	cross := []Item{
		Line{A: Point{middle, top - 3}, B: Point{middle, top + deep + 3}, Weight: Hairline, Dash: Centre},
		Line{A: Point{middle - half - 3, top + deep/2}, B: Point{middle + half + 3, top + deep/2}, Weight: Hairline, Dash: Centre},
	}
	switch g.Shape {
	case layout.GripRound:
		return append([]Item{Circle{Centre: Point{middle, top + half}, Radius: half, Weight: Heavy, Fill: Wash}}, cross...)
	case layout.GripRecessed:
		from, within, run, in := mm(g.RecessFrom)*k, mm(g.RecessWithin)*k, mm(g.RecessRun)*k, mm(g.RecessDepth)*k
		reached := math.Min(math.Max(from, within), deep)
		end := math.Min(reached+run, deep)
		side := []Point{{half, 0}, {half, math.Min(from, deep)}, {half - in, reached}, {half - in, end}, {half - in, deep}}
		var points []Point
		for _, p := range side {
			points = append(points, Point{middle + p.X, top + p.Y})
		}
		for i := len(side) - 1; i >= 0; i-- {
			points = append(points, Point{middle - side[i].X, top + side[i].Y})
		}
		return append([]Item{Outline{Points: points, Weight: Heavy, Fill: Wash}}, cross[0])
	}
	return append([]Item{Outline{Points: []Point{{middle - half, top}, {middle + half, top}, {middle + half, top + deep}, {middle - half, top + deep}}, Weight: Heavy, Fill: Wash}}, cross...)
}

// gripSizes is the dimensions of the section.
func gripSizes(g layout.Grip, middle, top, k float64, style length.Style) []Item {
	half, deep := mm(g.Wide)*k/2, mm(g.Deep)*k
	items := Dimension{A: Point{middle - half, top}, B: Point{middle + half, top}, Offset: 6, Text: g.Wide.Format(style)}.Items()
	if g.Shape != layout.GripRound {
		items = append(items, Dimension{A: Point{middle - half, top + deep}, B: Point{middle - half, top}, Offset: 8, Text: g.Deep.Format(style)}.Items()...)
	}
	if g.Shape != layout.GripRecessed {
		return items
	}
	right, in := middle+half, mm(g.RecessDepth)*k
	reached := top + math.Min(math.Max(mm(g.RecessFrom), mm(g.RecessWithin))*k, deep)
	end := math.Min(reached+mm(g.RecessRun)*k, top+deep)
	items = append(items, Chain{Points: []Point{{right, top}, {right, top + mm(g.RecessFrom)*k}}, Offset: 5, Texts: []string{g.RecessFrom.Format(style)}}.Items()...)
	for _, y := range []float64{reached, end} {
		items = append(items, Line{A: Point{right - in + extensionGap, y}, B: Point{right + 2, y}, Weight: Hairline})
	}
	items = append(items, Text{At: Point{right + 3, (reached+end)/2 + capHeight*gripType/2}, Body: g.RecessRun.Format(style), Size: gripType})
	return append(items, Dimension{A: Point{right, top + deep}, B: Point{right - in, top + deep}, Offset: 6, Text: g.RecessDepth.Format(style)}.Items()...)
}
