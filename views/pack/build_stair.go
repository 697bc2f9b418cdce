package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// stair says how a flight was laid out, what it was held to, what was left to be measured on site, and where its posts are marked.
func (b *builder) stair(number int, l layout.Layout) []Block {
	st := l.Stair
	facts := []Fact{
		{Key: "Risers and treads", Value: Cell{Text: fmt.Sprintf("%d risers of %s, treads of %s", st.Risers, b.text(st.Riser), b.text(st.Tread))}},
		{Key: "Rake", Value: Cell{Text: fmt.Sprintf("%.1f degrees above level", st.Angle)}},
	}
	ball := Cell{Text: "Not screened. " + st.NotScreened, Tone: Attention}
	if st.Screened {
		ball = Cell{Text: st.Sphere.FormatUp(b.style) + ", rounded up"}
	}
	facts = append(facts, Fact{Key: "Largest ball through the triangle of riser, tread and bottom rail", Value: ball})
	for _, f := range []struct{ key, text string }{{"Handrail", st.Handrail}, {"Grip", st.Grip}, {"A separate handrail", st.HandrailAdvice}} {
		if f.text != "" {
			facts = append(facts, Fact{Key: f.key, Value: Cell{Text: f.text}})
		}
	}
	for i, ask := range st.Asks {
		fact := Fact{Value: Cell{Text: ask}}
		if i == 0 {
			fact.Key = "Left to be measured or said on site"
		}
		facts = append(facts, fact)
	}
	blocks := []Block{KeyValues{Facts: facts}}
	if g := st.GripShape; g != nil {
		blocks = append(blocks, Drawing{Number: fmt.Sprintf("Drawing %d, grip", number), Sheet: draw.Grip(*g, drawingWidth, b.style),
			Caption: fmt.Sprintf("%s: section of %s, as entered, against the figures of the rule set. How it runs unbroken along the flight is in the elevation.", l.Label, g.Name)})
	}
	if len(st.Tested) > 0 {
		t := Table{Caption: l.Label + ": the flight against the rule set, by the layout", Columns: []Column{
			{Head: "What", Weight: 2.2}, {Head: "Is", Weight: 1, Align: Right, Measure: true}, {Head: "Figure", Weight: 1.5, Align: Right, Measure: true}, {Head: "", Weight: 0.9}, {Head: "Clause", Weight: 2.4}}}
		for _, x := range st.Tested {
			state := Cell{Text: "inside"}
			if !x.Inside {
				state = Cell{Text: "outside", Tone: Attention}
			}
			t.Rows = append(t.Rows, []Cell{{Text: x.Name()}, {Text: x.Value}, {Text: x.Figure}, state, {Text: x.Source}})
		}
		blocks = append(blocks, t)
	}
	if len(l.Posts) == 0 || l.Posts[0].Stand == nil {
		return blocks
	}
	t := Table{Caption: l.Label + ": marks on the posts, plumb above the surface each stands over", Columns: []Column{
		{Head: "Post", Weight: 0.8}, {Head: "Stands", Weight: 3}, {Head: "Face", Weight: 0.9}, {Head: "Nosing line", Weight: 1, Align: Right, Measure: true}, {Head: "Top rail, top", Weight: 1, Align: Right, Measure: true}}}
	for _, p := range l.Posts {
		t.Rows = append(t.Rows,
			[]Cell{{Text: p.Label, Bold: true}, {Text: p.Joist}, {Text: "downhill"}, {Text: b.text(p.Stand.Downhill.Line.Round(l.Grid))}, {Text: b.text(p.Stand.Downhill.Top.Round(l.Grid))}},
			[]Cell{{}, {Text: p.Stand.Fixed + " " + p.TopCut.Says}, {Text: "uphill"}, {Text: b.text(p.Stand.Uphill.Line.Round(l.Grid))}, {Text: b.text(p.Stand.Uphill.Top.Round(l.Grid))}})
	}
	blocks = append(blocks, t)
	posts, rows := l.Drill()
	if len(rows) == 0 {
		return blocks
	}
	drill := Table{Caption: l.Label + ": bolts through the stringer, to their centres: " + strings.Join(posts, ", "), Columns: []Column{
		{Head: "Measured", Weight: 3}, {Head: "Upper", Weight: 1, Align: Right, Measure: true}, {Head: "Lower", Weight: 1, Align: Right, Measure: true}}}
	known := func(l length.Length) Cell {
		if l == 0 {
			return Cell{Text: "not known"}
		}
		return Cell{Text: b.text(l)}
	}
	for _, r := range rows {
		drill.Rows = append(drill.Rows, []Cell{{Text: r.What}, known(r.Upper), known(r.Lower)})
	}
	return append(blocks, drill)
}
