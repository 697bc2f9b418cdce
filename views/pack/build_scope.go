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

// scope says what the record is about, and what this builder neither built nor checked.
func (b *builder) scope() Section {
	s := Section{ID: "scope", Heading: "Scope: what this record is and is not about", Level: 1, Blocks: []Block{
		para("This record is about the guard: its posts and what fixes them, rails, infill and caps, with the framing only where a post stands on it, as far as a check below asks for it."),
		Note{Label: "Neither built nor checked in this record", Runs: []Run{{Text: "The frame of the deck, its ledger and the ledger's fasteners, beams, columns and footings, the stair's own structure, and what stood there before. A guard is no better than what it stands on: nothing here says anything of them."}}},
	}}
	said := Cell{Text: "not recorded", Tone: Missing}
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if r := current(c); c.Check.Key == "handover.scope" && r != nil {
				said = Cell{Text: r.Answer.Show(b.style) + "; " + b.who(r)}
			}
		}
	}
	s.Blocks = append(s.Blocks, KeyValues{Facts: []Fact{{Key: "The owner was told so", Value: said}}})
	return s
}

// drops is the survey of drops, run by run: where each was measured, how far out from the edge, and whether it asks for the guard.
func (b *builder) drops() Section {
	s := Section{ID: "drops", Heading: "Drops along the edge", Level: 1}
	if zone, ok := b.figure(codes.GuardTriggerZone); ok {
		s.Blocks = append(s.Blocks, para(fmt.Sprintf("A drop counts where it lies %s %s out from the edge (%s). A guard that is not required stands here as voluntary: it still stops falls and carries load.", zone.Bound, zone.Show(b.style), zone.Source())))
	}
	t := Table{Caption: "Drops at each run, from the finished deck to the finished grade, as entered with the run", Columns: []Column{
		{Head: "Run", Weight: 0.6}, {Head: "Drop", Weight: 0.9, Align: Right, Measure: true}, {Head: "Where", Weight: 2}, {Head: "The guard is", Weight: 0.9}, {Head: "Because", Weight: 3.4}}}
	for i, l := range b.x.Layouts {
		t.Rows = append(t.Rows, b.governing(i))
		for _, spot := range b.described(l.RunID).Drops {
			t.Rows = append(t.Rows, []Cell{{}, {Text: b.text(spot.Drop)}, {Text: b.spot(spot)}, {}, {}})
		}
	}
	s.Blocks = append(s.Blocks, t)
	return s
}

// governing is the survey's row of a run as a whole: its greatest drop, and whether that asks for the guard.
func (b *builder) governing(i int) []Cell {
	l := b.x.Layouts[i]
	run := b.described(l.RunID)
	drop, where := Cell{Text: "not recorded", Tone: Missing}, "along "+l.Label+"; the spot was not recorded"
	if d := run.Drop(l.Stair); d > 0 {
		drop = Cell{Text: b.text(d), Bold: len(run.Drops) > 0}
	}
	switch {
	case len(run.Drops) == 1:
		where = "the greatest; measured at one spot:"
	case len(run.Drops) > 1:
		where = fmt.Sprintf("the greatest; measured at %d spots:", len(run.Drops))
	case run.DeckHeight == 0 && l.Stair != nil:
		where = "at the head of the stair: its total rise"
	}
	state := Cell{Text: "voluntary"}
	switch {
	case drop.Tone == Missing:
		state = Cell{Text: "not known", Tone: Attention}
	case l.Required.Required:
		state = Cell{Text: "required", Bold: true}
	}
	return []Cell{{Text: l.Label, Bold: true}, drop, {Text: where}, state, {Text: l.Required.Why}}
}

// described is a run as it was described at the freeze.
func (b *builder) described(id string) jobs.Run {
	i := slices.IndexFunc(b.x.Runs, func(r jobs.Run) bool { return r.ID == id })
	if i < 0 {
		return jobs.Run{}
	}
	return b.x.Runs[i]
}

// spot says where a drop was measured.
func (b *builder) spot(s layout.DropSpot) string {
	text := s.Words(b.style)
	if zone, ok := b.figure(codes.GuardTriggerZone); ok && !zone.Bound.Test(s.Out, zone.Value) {
		text += ": beyond where a drop counts"
	}
	return text
}

// observed is an observation with whoever made it.
func (b *builder) observed(r *jobs.Reading) Cell {
	c := b.answer(r)
	c.Text += "\n" + b.who(r)
	return c
}

const concealedHeading = "Concealed work"

// concealed says what decking hides, when it was covered, what was inspected before that, and which photographs show it.
func (b *builder) concealed() Section {
	s := Section{ID: "concealed", Heading: concealedHeading, Level: 1, Blocks: []Block{
		para("What is listed here can no longer be seen without taking the deck up, once its run is covered. A photograph is a record of what was seen; it is not an inspection."),
	}}
	t := Table{Caption: "When each run was covered", Columns: []Column{{Head: "Run", Weight: 0.7}, {Head: "Covered", Weight: 2.5}, {Head: "Over", Weight: 2.5}}}
	for _, l := range b.x.Layouts {
		covered, over := Cell{Text: "not covered when this pack was issued"}, Cell{}
		for _, c := range b.x.Covered {
			if c.RunID != l.RunID {
				continue
			}
			covered = Cell{Text: strings.TrimSpace(fmt.Sprintf("%s, by %s. %s", b.day(c.On), c.By.Name, c.Note))}
			over = Cell{Text: "nothing outstanding"}
			if names := b.deviationNames(c.Deviations); names != "" {
				over = Cell{Text: "deviation " + names, Tone: Attention, To: "deviations"}
			}
		}
		t.Rows = append(t.Rows, []Cell{{Text: l.Label, Bold: true}, covered, over})
	}
	s.Blocks = append(s.Blocks, t)
	seen := false
	for _, a := range b.x.Answers {
		if a.Kind == jobs.AnswerOutcome && a.Stage == checklist.Framing {
			seen = true
			s.Blocks = append(s.Blocks, Note{Label: "Inspected before it was covered, as claimed", Runs: []Run{{Text: finished(fmt.Sprintf("%s, %s: %s", a.Name, orText(a.Office, "office not recorded"), answerText(a)))}}})
		}
	}
	if !seen {
		s.Blocks = append(s.Blocks, Note{Label: "Not recorded", Runs: []Run{{Text: "No outcome of an inspection of the framing is recorded."}}})
	}
	var photos []jobs.ExportCheck
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if st.Stage == checklist.Framing && (c.Check.Ask == checklist.AskPhoto || c.Check.Witness) {
				photos = append(photos, c)
			}
		}
	}
	if len(photos) > 0 {
		caption := "What the photographs must show, place by place"
		if b.x.Job.Photo == checklist.PhotosRefused {
			caption = "What was seen with a witness, place by place"
		}
		s.Blocks = append(s.Blocks, b.evidence(caption, photos))
	}
	return s
}
