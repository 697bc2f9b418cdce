package pack

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// summary leads with what needs attention, then says what the record holds.
func (b *builder) summary() []Section {
	counts := map[checklist.Verdict]int{}
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if c.Check.Ask != checklist.AskPhoto {
				counts[c.Verdict]++
			}
		}
	}
	at := Section{ID: "attention", Heading: "What needs attention", Level: 1}
	at.Blocks = append(at.Blocks, Numbers{Items: []Number{
		{Value: fmt.Sprint(counts[checklist.FailsLimit]), Label: "fail a limit", Tone: countTone(counts[checklist.FailsLimit], Fails)},
		{Value: fmt.Sprint(counts[checklist.TooClose]), Label: "too close to call", Tone: countTone(counts[checklist.TooClose], TooClose)},
		{Value: fmt.Sprint(counts[checklist.OffLayout]), Label: "off the layout", Tone: countTone(counts[checklist.OffLayout], OffLayout)},
		{Value: fmt.Sprint(counts[checklist.NotChecked]), Label: "not checked", Tone: countTone(counts[checklist.NotChecked], Unchecked)},
		{Value: fmt.Sprint(counts[checklist.Good]), Label: "good", Tone: countTone(counts[checklist.Good], Good)},
	}})
	if t, any := b.attention(); any {
		at.Blocks = append(at.Blocks, t)
	} else {
		at.Blocks = append(at.Blocks, para("No reading fails a limit, leaves the layout or is too close to call."))
	}
	at.Blocks = append(at.Blocks, b.unusual()...)
	open := Section{ID: "open", Heading: "Missing or open when this pack was issued", Level: 2}
	if len(b.x.Open) == 0 {
		open.Blocks = append(open.Blocks, para("Nothing was missing or open."))
	} else {
		t := Table{Caption: "Missing or open", Columns: []Column{{Head: "What", Weight: 1}}}
		for _, line := range b.x.Open {
			t.Rows = append(t.Rows, []Cell{{Text: line, Tone: Attention}})
		}
		open.Blocks = append(open.Blocks, t)
	}
	return []Section{at, open}
}

func countTone(n int, tone Tone) Tone {
	if n == 0 {
		return Plain
	}
	return tone
}

// attention lists the readings that are not good, the worst first.
func (b *builder) attention() (Table, bool) {
	t := Table{Caption: "Readings that are not good, the worst first", Columns: []Column{
		{Head: "Where", Weight: 1.2}, {Head: "Check", Weight: 2}, {Head: "Measured", Weight: 1.2, Align: Right, Measure: true}, {Head: "Verdict and reason", Weight: 4}}}
	for _, v := range []checklist.Verdict{checklist.FailsLimit, checklist.TooClose, checklist.OffLayout} {
		for _, st := range b.x.Stages {
			for _, c := range st.Checks {
				if r := current(c); c.Verdict == v && r != nil {
					t.Rows = append(t.Rows, []Cell{{Text: c.Check.Place.Label, Bold: true}, {Text: c.Check.Title}, {Text: r.Answer.Show(b.style)},
						{Text: v.Word() + ": " + r.Result.Why, Tone: toneOf(v)}})
				}
			}
		}
	}
	return t, len(t.Rows) > 0
}

// unusual names what a reader would not expect: removable lengths, what was accepted or referred, amended figures.
func (b *builder) unusual() []Block {
	var out []Block
	for _, run := range b.live() {
		if run.Kind == layout.Removable {
			out = append(out, caution(fmt.Sprintf("%s is a removable length, because: %s A removable length is not accepted as a required guard in most places. While it is out the edge is open: keep people away and cover the sleeves.", run.Label, finished(run.RemovableWhy))))
		}
	}
	for _, d := range b.x.Deviations {
		if d.State == jobs.DevAccepted || d.State == jobs.DevReferred {
			out = append(out, Note{Label: fmt.Sprintf("Deviation D%d, %s", d.Number, d.State), Runs: []Run{{Text: fmt.Sprintf("%s %s: %s", placeFirst(d), d.Name, finished(d.Reason))}}})
		}
	}
	for _, a := range b.x.Job.Amendments {
		if f, ok := b.figure(a.Key); ok {
			out = append(out, Note{Label: "The authority's own figure", Runs: []Run{{Text: fmt.Sprintf("%s: %s %s, %s.", f.Title, f.Bound, f.Show(b.style), f.Source())}}})
		}
	}
	switch b.x.Job.Photo {
	case checklist.PhotosRefused:
		out = append(out, Note{Label: "Photographs", Runs: []Run{{Text: b.refusedText()}}})
	case checklist.PermitInFrame:
		out = append(out, Note{Label: "Photographs", Runs: []Run{{Text: b.permitText()}}})
	}
	return out
}

// refusedText says what stands for photographs where the authority accepts none.
func (b *builder) refusedText() string {
	seen, asked := 0, 0
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if c.Check.Witness {
				asked++
			}
			if r := current(c); c.Check.Witness && r != nil && r.Answer.Witness != "" {
				seen++
			}
		}
	}
	return fmt.Sprintf("This authority does not accept photographs as proof. What decking hides is to be seen with a witness instead: one is named for %d of %s. Photographs in this pack are the builder's and the owner's own.", seen, plural(asked, "hold point"))
}

// permitText says of how many photographs somebody said that the permit is in view.
func (b *builder) permitText() string {
	shown := 0
	for _, p := range b.x.Photos {
		if slices.Contains(p.Shows, jobs.ShowsPermit) {
			shown++
		}
	}
	return fmt.Sprintf("This authority asks for the permit in every photograph. Permit %s is said to be in view in %d of %s; of the others nobody said so.", orText(b.x.Job.Permit, "(number not recorded)"), shown, plural(len(b.x.Photos), "photograph"))
}

// placeFirst is what a deviation says, with its place in front where it does not begin with it.
func placeFirst(d jobs.Deviation) string {
	if strings.HasPrefix(d.What, d.Place.Label) {
		return d.What
	}
	return d.Place.Label + " " + d.What
}

// figure is a figure of the rule set in force.
func (b *builder) figure(key string) (codes.AppliedFigure, bool) {
	i := slices.IndexFunc(b.x.Rules.Figures, func(f codes.AppliedFigure) bool { return f.Key == key })
	if i < 0 {
		return codes.AppliedFigure{}, false
	}
	return b.x.Rules.Figures[i], true
}

// live lists the runs that are part of the job, in order.
func (b *builder) live() []jobs.Run {
	return slices.DeleteFunc(slices.Clone(b.x.Runs), func(r jobs.Run) bool { return r.Retired })
}

func finished(text string) string {
	if text == "" {
		return "not recorded."
	}
	if text[len(text)-1] == '.' {
		return text
	}
	return text + "."
}
