package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// drawingWidth is the width that drawings are made for, in millimetres: the text width of the narrower sheet.
const drawingWidth = 170

// built says what was built: a table of the runs, then each run with its drawing, rails, marks and heights, planned and
// as built.
func (b *builder) built() []Section {
	s := Section{ID: "built", Heading: "Runs and drawings", Level: 1}
	t := Table{Caption: "The runs", Columns: []Column{
		{Head: "Run", Weight: 0.7}, {Head: "Kind", Weight: 1}, {Head: "Length in plan", Weight: 1.2, Align: Right, Measure: true}, {Head: "Posts", Weight: 0.6, Align: Right}, {Head: "Bays", Weight: 0.6, Align: Right},
		{Head: "Finished top", Weight: 1.2, Align: Right, Measure: true}, {Head: "Is a guard asked for here?", Weight: 3}, {Head: "Covered", Weight: 1.3}}}
	for _, l := range b.x.Layouts {
		covered := Cell{Text: "not recorded", Tone: Missing}
		for _, c := range b.x.Covered {
			if c.RunID == l.RunID {
				covered = Cell{Text: b.day(c.On) + ", " + c.By.Name}
			}
		}
		t.Rows = append(t.Rows, []Cell{{Text: l.Label, Bold: true, To: "run-" + l.RunID}, {Text: string(l.Kind)}, {Text: b.text(l.Length)}, {Text: fmt.Sprint(len(l.Posts))}, {Text: fmt.Sprint(len(l.Bays))},
			{Text: b.text(l.Heights.Finished)}, {Text: l.Required.Why}, covered})
	}
	s.Blocks = append(s.Blocks, b.plan(), t)
	for _, p := range b.joined().Problems {
		s.Blocks = append(s.Blocks, Note{Label: "At odds", Runs: []Run{{Text: strings.TrimSpace(p.Place + ". " + p.Sentence)}}})
	}
	out := []Section{s}
	for i, l := range b.x.Layouts {
		out = append(out, b.run(i+2, l))
	}
	return out
}

// joined is the runs in plan.
func (b *builder) joined() layout.Plan {
	return layout.NewPlan(jobs.PlainRuns(b.x.Runs), b.x.Layouts, b.x.Job.Spec, b.x.Job.Units)
}

// plan is the drawing of the runs from above.
func (b *builder) plan() Drawing {
	plan := b.joined()
	return Drawing{
		Number: "Drawing 1", Caption: strings.Join(append([]string{"Plan of the runs, seen from above."}, plan.Notes...), " "),
		Sheet: draw.Plan(plan, draw.PlanOptions{Width: drawingWidth, Style: b.style}),
	}
}

func (b *builder) run(number int, l layout.Layout) Section {
	s := Section{ID: "run-" + l.RunID, Heading: fmt.Sprintf("%s, %s", l.Label, l.Kind), Level: 2}
	s.Blocks = append(s.Blocks, Drawing{
		Number: fmt.Sprintf("Drawing %d", number), Caption: fmt.Sprintf("%s, layout version %d. %s", l.Label, l.Version, l.Basis),
		Sheet: draw.Elevation(l, b.elevation(l.RunID)),
	})
	s.Blocks = append(s.Blocks, b.framing(number, l)...)
	if l.Stair != nil {
		s.Blocks = append(s.Blocks, b.stair(number, l)...)
	}
	for _, m := range l.Meets {
		s.Blocks = append(s.Blocks, Note{Label: "Shared post", Runs: []Run{{Text: m.Sentence}}})
	}
	s.Blocks = append(s.Blocks, b.bays(l))
	for _, e := range l.Walls {
		s.Blocks = append(s.Blocks, Note{Label: "At the wall", Runs: []Run{{Text: e.Says + " " + layout.WallFixing}}})
	}
	s.Blocks = append(s.Blocks, b.marks(number, l)...)
	s.Blocks = append(s.Blocks, KeyValues{Facts: []Fact{
		{Key: "Heights are marked from", Value: Cell{Text: l.Heights.Datum}},
		{Key: "Finished top", Value: Cell{Text: b.text(l.Heights.Finished)}},
		{Key: "Clear under the bottom rail", Value: Cell{Text: b.text(l.Heights.Under)}},
	}})
	if lift := l.Lift; lift != nil {
		s.Blocks = append(s.Blocks, KeyValues{Facts: []Fact{
			{Key: "Why it is removable", Value: recorded(lift.Why)}, {Key: "Where it stands while out", Value: recorded(lift.Store)},
			{Key: "Weight to carry", Value: Cell{Text: lift.Weighs(b.style)}}, {Key: "How it lifts", Value: recorded(lift.Note)},
		}})
	}
	for _, p := range l.Problems {
		s.Blocks = append(s.Blocks, Note{Label: "At odds", Runs: []Run{{Text: strings.TrimSpace(p.Place + " " + p.Sentence)}}})
	}
	return s
}

// framing is the run's own posts as they are framed, one of each that are held alike; on a stair the first that is bolted to the stringer: the others
// differ in what the stages say of them.
func (b *builder) framing(number int, l layout.Layout) []Block {
	e := b.elevation(l.RunID)
	o := draw.DetailOptions{Width: drawingWidth, Style: b.style, Run: e.Run, Spec: e.Spec}
	for _, p := range l.Posts {
		if p.Stringer() {
			return []Block{Drawing{Number: fmt.Sprintf("Drawing %d, detail", number), Sheet: draw.PostMarks(l, p, o),
				Caption: fmt.Sprintf("%s on the stringer, with its bolts and the marks on its faces, as planned; the bolts of the other posts on the stringer likewise.", p.Label)}}
		}
	}
	if l.Stair != nil {
		return nil
	}
	var blocks []Block
	for _, alike := range framedAlike(l.Posts) {
		sheet := draw.Detail(l, alike[0], o)
		if len(sheet.Items) == 0 {
			continue
		}
		caption := fmt.Sprintf("Framing at %s, as planned", alike[0].Label)
		if len(alike) > 1 {
			var others []string
			for _, p := range alike[1:] {
				others = append(others, p.Label)
			}
			caption += "; " + strings.Join(others, ", ") + " likewise, each at its own place among the joists"
		}
		of := fmt.Sprintf("Drawing %d, detail", number)
		if len(blocks) > 0 {
			of += fmt.Sprintf(" %d", len(blocks)+1)
		}
		blocks = append(blocks, Drawing{Number: of, Sheet: sheet, Caption: caption + "."})
	}
	return blocks
}

// framedAlike are the posts that are a run's own, those together that are held alike: by as much blocking in as many spaces, with as many bolts,
// and turned alike.
func framedAlike(posts []layout.Post) [][]layout.Post {
	type kind struct {
		blocking, pieces, spaces, bolts, corner int
		turned                                  float64
	}
	var groups [][]layout.Post
	place := map[kind]int{}
	for _, p := range posts {
		if p.SharedAs != "" {
			continue
		}
		k := kind{blocking: len(p.Blocking), spaces: len(p.Blocked), bolts: len(p.Bolts), corner: len(p.Corner), turned: p.Turned}
		for _, piece := range p.Blocking {
			k.pieces += piece.Count
		}
		at, known := place[k]
		if !known {
			at = len(groups)
			place[k], groups = at, append(groups, nil)
		}
		groups[at] = append(groups[at], p)
	}
	return groups
}

// marks is where the members of each bay stand on its rails, bays that are alike together.
func (b *builder) marks(number int, l layout.Layout) []Block {
	e := b.elevation(l.RunID)
	var blocks []Block
	for _, sheets := range draw.Strips(l, e.Run, e.Spec, draw.StripOptions{Width: drawingWidth, Style: b.style}) {
		for _, sheet := range sheets {
			blocks = append(blocks, Drawing{Number: fmt.Sprintf("Drawing %d, marks %d", number, len(blocks)+1), Caption: sheet.Title + ", in use at the freeze.", Sheet: sheet})
		}
	}
	return blocks
}

// elevation is how a run is drawn: as it and the job's specification are at the freeze.
func (b *builder) elevation(runID string) draw.ElevationOptions {
	o := draw.ElevationOptions{Width: drawingWidth, Style: b.style}
	for _, run := range b.x.Runs {
		if run.ID == runID {
			o.Run = run.Run
			o.Spec, _ = b.x.Job.Spec.With(run.Overrides, b.x.Job.Units) // faults were refused when the run was saved
		}
	}
	return o
}

// bays shows each bay's opening, rails and infill, planned and as built side by side.
func (b *builder) bays(l layout.Layout) Table {
	t := Table{Caption: l.Label + ": bays, planned and as built", Columns: []Column{
		{Head: "Bay", Weight: 1}, {Head: "", Weight: 1}, {Head: "Clear opening", Weight: 1.3, Align: Right, Measure: true}, {Head: "Top rail", Weight: 1.2, Align: Right, Measure: true},
		{Head: "Bottom rail", Weight: 1.2, Align: Right, Measure: true}, {Head: "Infill", Weight: 1.2, Align: Right}, {Head: "Widest gap by layout", Weight: 1.3, Align: Right, Measure: true}}}
	row := func(label, which string, p *layout.Parts) {
		t.Rows = append(t.Rows, []Cell{{Text: label, Bold: true}, {Text: which}, {Text: b.opening(p.ClearBottom, p.ClearTop)}, {Text: b.text(p.Top.Cut)}, {Text: b.text(p.Bottom.Cut)}, {Text: p.Infill.Counted()}, {Text: b.text(p.Infill.Widest())}})
	}
	for _, bay := range l.Bays {
		if bay.Planned == nil && bay.Built == nil {
			t.Rows = append(t.Rows, []Cell{{Text: bay.Label, Bold: true}, {Text: "no layout", Tone: Attention}})
			continue
		}
		label := bay.Label
		if bay.Planned != nil {
			row(label, "planned", bay.Planned)
			label = ""
		}
		if bay.Built != nil {
			row(label, "as built", bay.Built)
		}
	}
	return t
}

// opening is a clear opening: one figure where bottom and top agree.
func (b *builder) opening(bottom, top length.Length) string {
	if bottom == top {
		return b.text(bottom)
	}
	return fmt.Sprintf("%s bottom\n%s top", b.text(bottom), b.text(top))
}
