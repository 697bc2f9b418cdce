package pack

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// stages says, stage by stage, what was required, what was measured, with what, by whom, when, and the verdict.
func (b *builder) stages() []Section {
	out := []Section{{ID: "stages", Heading: "Stage by stage", Level: 1, Blocks: []Block{
		para("Every check that layout, specification and rule set ask for, with the reading that stands and, under it, any reading before it. A check with no reading is not checked, and never counts as passed."),
	}}}
	for _, st := range b.x.Stages {
		out = append(out, b.stage(st))
	}
	if len(b.x.Retired) > 0 {
		s := Section{ID: "retired", Heading: "Readings at places that the layout no longer has", Level: 2}
		s.Blocks = append(s.Blocks, b.checks("Readings kept from earlier layouts", b.x.Retired))
		out = append(out, s)
	}
	return out
}

func (b *builder) stage(st jobs.ExportStage) Section {
	s := Section{ID: "stage-" + strings.ReplaceAll(string(st.Stage), " ", "-"), Heading: upperFirst(string(st.Stage)), Level: 2}
	switch {
	case st.Closed && len(st.Deviations) > 0:
		s.Blocks = append(s.Blocks, Note{Label: "Closed over a deviation", Runs: []Run{{Text: fmt.Sprintf("Closed %s by %s over %s.", b.moment(st.At), st.By.Name, b.deviationNames(st.Deviations)), To: "deviations"}}})
	case st.Closed:
		s.Blocks = append(s.Blocks, para(fmt.Sprintf("Closed %s by %s.", b.moment(st.At), st.By.Name)))
	case st.Reason != "":
		s.Blocks = append(s.Blocks, Note{Label: "Open", Runs: []Run{{Text: fmt.Sprintf("Opened again %s by %s: %s", b.moment(st.At), st.By.Name, finished(st.Reason))}}})
	default:
		s.Blocks = append(s.Blocks, Note{Label: "Open", Runs: []Run{{Text: "This stage was not closed when the pack was issued."}}})
	}
	for _, m := range b.x.Mixed {
		if m.Stage == st.Stage {
			s.Blocks = append(s.Blocks, Note{Label: "Not from one reference", Runs: []Run{{Text: m.Sentence}}})
		}
	}
	var measured, photos []jobs.ExportCheck
	for _, c := range st.Checks {
		if c.Check.Ask == checklist.AskPhoto || c.Check.Witness {
			photos = append(photos, c)
		} else {
			measured = append(measured, c)
		}
	}
	if len(measured) > 0 {
		s.Blocks = append(s.Blocks, b.checks(upperFirst(string(st.Stage))+": required and measured", measured))
	}
	if st.Stage == checklist.Framing && len(photos) > 0 {
		s.Blocks = append(s.Blocks, Para{Runs: []Run{{Text: "What decking hides, and the evidence for it, stands under "}, {Text: concealedHeading, To: "concealed"}, {Text: "."}}})
	} else if len(photos) > 0 {
		s.Blocks = append(s.Blocks, b.evidence(upperFirst(string(st.Stage))+": photographs asked for", photos))
	}
	return s
}

func (b *builder) checks(caption string, checks []jobs.ExportCheck) Table {
	t := Table{Caption: caption, Columns: []Column{
		{Head: "Where", Weight: 0.8}, {Head: "Check", Weight: 2.3}, {Head: "Held to", Weight: 2.2}, {Head: "Measured", Weight: 1, Align: Right, Measure: true},
		{Head: "Verdict", Weight: 1.1}, {Head: "By, when, with", Weight: 2}}}
	if !slices.ContainsFunc(checks, func(c jobs.ExportCheck) bool { return len(c.Readings) > 0 }) {
		for i, weight := range []float64{0.8, 2.6, 2.2, 1.4, 1.4, 1} { // nobody is named: each "not recorded" and "not checked" has its line
			t.Columns[i].Weight = weight
		}
	}
	for _, c := range checks {
		r := current(c)
		row := []Cell{{Text: c.Check.Place.Label, Bold: true}, {Text: titled(c.Check)}, {Text: b.heldTo(c)}, {Text: "not recorded", Tone: Missing}, {Text: c.Verdict.Word(), Tone: toneOf(c.Verdict)}, {}}
		if r != nil {
			row[1].Text += b.elsewhere(r)
			row[3], row[5] = b.answer(r), Cell{Text: b.who(r)}
			if c.Moved {
				row[4].Text += "\nlayout or rules have changed since"
			}
		}
		t.Rows = append(t.Rows, row)
		for i := len(c.Readings) - 1; i >= 0; i-- {
			if before := &c.Readings[i]; r == nil || before.ID != r.ID {
				t.Rows = append(t.Rows, []Cell{{}, {Text: "before" + b.elsewhere(before)}, {Text: before.Result.HeldTo}, b.answer(before), {Text: before.Result.Verdict.Word(), Tone: toneOf(before.Result.Verdict)}, {Text: b.who(before)}})
			}
		}
	}
	return t
}

// titled is a check's title with what it is taken from, where there is more than one way, and what of it is a sample.
func titled(c checklist.Check) string {
	text := c.Title
	if from := "from " + string(c.Reference); c.Reference != "" && !strings.HasSuffix(text, from) {
		text += "\n" + from
	}
	if c.Sample != "" {
		text += "\na sample: " + c.Sample
	}
	return text
}

// heldTo is what the standing reading was judged against, or what a reading would be held to.
func (b *builder) heldTo(c jobs.ExportCheck) string {
	text := c.Check.HeldTo(b.style)
	if r := current(c); r != nil {
		text = r.Result.HeldTo
	}
	if c.Check.Built && c.Check.Was != nil {
		text += fmt.Sprintf("\nas built; planned %s", b.text(*c.Check.Was))
	}
	if text == "" {
		return "looked at"
	}
	return text
}

func (b *builder) answer(r *jobs.Reading) Cell {
	text := r.Answer.Show(b.style)
	if r.Answer.Reason != "" {
		text += "\n" + r.Answer.Reason
	}
	cell := Cell{Text: text, Tone: toneUnlessGood(r.Result.Verdict)}
	for _, p := range b.x.Photos {
		if p.ReadingID == r.ID {
			cell.Text += fmt.Sprintf("\nfrom Photo %d", p.Number)
			if cell.To == "" && b.pictured(p.ID) {
				cell.To = "photo-" + p.ID
			}
		}
	}
	return cell
}

// elsewhere says of a length that was taken from another reference which that was, and what it comes to from the check's own; it is empty for
// any other reading.
func (b *builder) elsewhere(r *jobs.Reading) string {
	if r.Answer.From == r.Check.Reference {
		return ""
	}
	text := "\nread from " + string(r.Answer.From)
	if comes := b.comes(r); comes != "" {
		text += fmt.Sprintf("; by the layout %s from %s", comes, r.Check.Reference)
	}
	return text
}

// comes is what a length that was taken from another reference comes to from the check's own; empty where it is not known.
func (b *builder) comes(r *jobs.Reading) string {
	if r.Result.Comes == nil {
		return ""
	}
	return b.text(*r.Result.Comes)
}

// toneUnlessGood leaves what is good plain, so that a page of good readings stays calm.
func toneUnlessGood(v checklist.Verdict) Tone {
	if v == checklist.Good {
		return Plain
	}
	return toneOf(v)
}

func (b *builder) who(r *jobs.Reading) string {
	text := fmt.Sprintf("%s\n%s, %s", r.By.Name, r.Claimed.In(b.loc).Format("2 Jan 15:04"), r.ReadWith(b.style))
	if r.Answer.Witness != "" {
		text += ", with " + r.Answer.Witness + " as witness"
	}
	if r.SameAs != "" {
		text += "\nsame as the rest of the run"
	}
	return text
}

func (b *builder) evidence(caption string, checks []jobs.ExportCheck) Table {
	t := Table{Caption: caption, Columns: []Column{{Head: "Where", Weight: 1}, {Head: "What it must show", Weight: 4}, {Head: "Photographs", Weight: 2}}}
	if slices.ContainsFunc(checks, func(c jobs.ExportCheck) bool { return c.Check.Witness }) {
		t.Columns[1].Head, t.Columns[2].Head = "What is to be seen", "Seen, with whom"
	}
	for _, c := range checks {
		held := b.photoNames(c.Photos)
		cell := Cell{Text: strings.Join(held, ", ")}
		if len(held) > 0 && b.pictured(c.Photos[0]) {
			cell.To = "photo-" + c.Photos[0]
		}
		switch r := current(c); {
		case c.Check.Witness:
			cell = b.witnessed(r, held)
		case len(held) > 0:
		case r != nil:
			cell = Cell{Text: "none: " + r.Answer.Reason, Tone: Attention}
		default:
			cell = Cell{Text: "not recorded", Tone: Missing}
		}
		t.Rows = append(t.Rows, []Cell{{Text: c.Check.Place.Label, Bold: true}, {Text: upperFirst(c.Check.Subject()) + ": " + c.Check.PhotoShows}, cell})
	}
	return t
}

// witnessed says who saw a hold point, where the authority accepts no photograph of it. A photograph of it is the builder's own.
func (b *builder) witnessed(r *jobs.Reading, held []string) Cell {
	cell := Cell{Text: "not recorded", Tone: Missing}
	if r != nil {
		cell = b.observed(r)
	}
	if len(held) > 0 {
		cell.Text += "\nThe builder's own: " + strings.Join(held, ", ")
	}
	return cell
}

// photoNames are the numbers of photographs as they are printed.
func (b *builder) photoNames(ids []string) []string {
	var names []string
	for _, id := range ids {
		for _, p := range b.x.Photos {
			if p.ID == id {
				names = append(names, fmt.Sprintf("Photo %d", p.Number))
			}
		}
	}
	return names
}

// pictured says whether a photograph can be shown.
func (b *builder) pictured(id string) bool {
	return slices.ContainsFunc(b.x.Photos, func(p jobs.ExportPhoto) bool {
		shown, _, _ := p.Shown()
		_, ok := b.Pictures[shown]
		return p.ID == id && ok
	})
}

func (b *builder) deviationNames(ids []string) string {
	var names []string
	for _, d := range b.x.Deviations {
		for _, id := range ids {
			if d.ID == id {
				names = append(names, fmt.Sprintf("D%d", d.Number))
			}
		}
	}
	return strings.Join(names, ", ")
}

// deviations lists every deviation and what became of it.
func (b *builder) deviations() Section {
	s := Section{ID: "deviations", Heading: "Deviations and what became of them", Level: 1}
	for _, m := range b.x.Mixed {
		s.Blocks = append(s.Blocks, Note{Label: "Not a deviation, pointed out", Runs: []Run{{Text: m.Sentence}}})
	}
	if len(b.x.Deviations) == 0 {
		s.Blocks = append(s.Blocks, para("None was opened."))
		return s
	}
	t := Table{Caption: "Deviations", Columns: []Column{{Head: "No.", Weight: 0.5}, {Head: "Where", Weight: 1}, {Head: "What", Weight: 3.4}, {Head: "What became of it", Weight: 3}}}
	for _, d := range b.x.Deviations {
		end := Cell{Text: "open", Tone: Attention}
		if d.State != jobs.DevOpen {
			parts := []string{string(d.State), b.moment(d.Ended) + " by " + d.EndedBy.Name}
			if d.Name != "" {
				parts = append(parts, "name: "+d.Name)
			}
			end = Cell{Text: strings.Join(append(parts, d.Reason), "\n")}
		}
		what := fmt.Sprintf("%s\nOpened %s by %s.", d.What, b.moment(d.Opened), d.OpenedBy.Name)
		for _, m := range d.Missing {
			what += "\n- " + m
		}
		t.Rows = append(t.Rows, []Cell{{Text: fmt.Sprintf("D%d", d.Number), Bold: true}, {Text: d.Place.Label}, {Text: what}, end})
	}
	s.Blocks = append(s.Blocks, t)
	return s
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
