package pack

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// changes says what came into the record since the pack before this one was frozen. It reads the chain of events itself, so that
// nothing can be left out by choice.
func (b *builder) changes() []Section {
	if len(b.x.Packs) == 0 {
		return nil
	}
	before := b.x.Packs[len(b.x.Packs)-1]
	s := Section{ID: "changes", Heading: fmt.Sprintf("Since pack %d", before.Number), Level: 1}
	c := changesOf(b.x.Chain, before.HeadSeq)
	if b.x.NoPositions { // the entries that say where photographs were taken are withheld
		for _, p := range b.x.Photos {
			if p.Received.After(before.Issued) && !slices.Contains(c.photos, p.Number) {
				c.photos = append(c.photos, p.Number)
			}
		}
	}
	t := Table{Caption: fmt.Sprintf("What came into the record since pack %d was frozen, %s", before.Number, b.moment(before.Issued)), Columns: []Column{{Head: "What", Weight: 1.3}, {Head: "Which", Weight: 4}}}
	row := func(what string, which ...string) {
		if len(which) > 0 {
			t.Rows = append(t.Rows, []Cell{{Text: what, Bold: true}, {Text: strings.Join(which, "\n")}})
		}
	}
	row("Particulars, rules or specification", c.job...)
	row("Runs and layouts", c.layouts...)
	row("Readings", b.newReadings(c.readings)...)
	row("Photographs", numbered("Photo ", c.photos)...)
	row("Stages", c.stages...)
	row("Covered", c.covered...)
	row("Deviations", c.deviations...)
	row("Site diary", c.days...)
	if c.ticks > 0 {
		row("Pieces", "ticked as cut or fitted, or a tick taken back: "+plural(c.ticks, "time"))
	}
	if c.stock > 0 {
		row("Stock on hand", "entered, changed or withdrawn: "+plural(c.stock, "time"))
	}
	row("Papers", c.papers...)
	row("Answers", c.answers...)
	if len(t.Rows) == 0 {
		s.Blocks = append(s.Blocks, para("Nothing was changed in the record but that packs were issued and links made."))
	} else {
		s.Blocks = append(s.Blocks, t)
	}
	if again := b.readAgain(c.readings); len(again.Rows) > 0 {
		s.Blocks = append(s.Blocks, again)
	}
	return []Section{s}
}

// changed is what the events of a stretch of the chain did, in their order, each thing once.
type changed struct {
	job, layouts, stages, covered, deviations, days, papers, answers []string
	photos                                                           []int
	readings                                                         []jobs.Reading
	ticks, stock                                                     int
}

// changesOf reads the events after a head. A payload that is withheld says nothing.
func changesOf(chain []jobs.Event, after int) changed {
	var out changed
	add := func(to *[]string, text string) {
		if !slices.Contains(*to, text) {
			*to = append(*to, text)
		}
	}
	for _, e := range chain {
		var c jobs.Change
		if e.Seq <= after || e.Payload == "" || json.Unmarshal([]byte(e.Payload), &c) != nil { // a broken chain is told by verify
			continue
		}
		switch {
		case c.Job != nil:
			add(&out.job, "changed by "+e.Actor.Name)
		case c.Run != nil && c.Run.Retired:
			add(&out.layouts, c.Run.Label+" was taken out")
		case c.Run != nil:
			add(&out.layouts, c.Run.Label+" was described, or described anew")
		case c.Tick != nil:
			out.ticks++
		case c.OnHand != nil:
			out.stock++
		case c.Layout != nil:
			text := fmt.Sprintf("%s, now layout version %d, the last because: %s", c.Layout.Layout.Label, c.Layout.Version, finished(c.Layout.Basis))
			out.layouts = slices.DeleteFunc(out.layouts, func(s string) bool { return strings.HasPrefix(s, c.Layout.Layout.Label+", now ") })
			out.layouts = append(out.layouts, text)
		case c.Reading != nil:
			out.readings = append(out.readings, *c.Reading)
		case c.Photo != nil && !slices.Contains(out.photos, c.Photo.Number):
			out.photos = append(out.photos, c.Photo.Number)
		case c.Stage != nil && c.Stage.Closed:
			add(&out.stages, fmt.Sprintf("%s closed by %s", c.Stage.Stage, e.Actor.Name))
		case c.Stage != nil:
			add(&out.stages, fmt.Sprintf("%s opened again by %s: %s", c.Stage.Stage, e.Actor.Name, finished(c.Stage.Reason)))
		case c.Covered != nil:
			add(&out.covered, fmt.Sprintf("%s on %s by %s", runLabel(chain, c.Covered.RunID), jobs.DayText(c.Covered.On), c.Covered.By.Name))
		case c.Deviation != nil:
			out.deviation(*c.Deviation)
		case c.Diary != nil:
			add(&out.days, jobs.DayText(c.Diary.Day))
		case c.Paper != nil && !c.Paper.Holds():
			add(&out.papers, fmt.Sprintf("%s, %s, was withdrawn: %s", c.Paper.Label(), c.Paper.Title, finished(c.Paper.Why)))
		case c.Paper != nil && e.Type == jobs.EvPaperAdded:
			add(&out.papers, fmt.Sprintf("%s attached: %s, %s", c.Paper.Label(), c.Paper.Title, c.Paper.Kind))
		case c.Paper != nil:
			add(&out.papers, fmt.Sprintf("%s described anew: %s, %s", c.Paper.Label(), c.Paper.Title, c.Paper.Kind))
		case c.Answer != nil:
			add(&out.answers, fmt.Sprintf("to pack %d by %s, %s: %s", c.Answer.Pack, c.Answer.Name, c.Answer.From, answerText(*c.Answer)))
		}
	}
	return out
}

// deviation adds a state to what is said of a deviation.
func (c *changed) deviation(d jobs.Deviation) {
	name, state := fmt.Sprintf("D%d: ", d.Number), string(d.State)
	if d.State == jobs.DevOpen {
		state = "opened"
	}
	i := slices.IndexFunc(c.deviations, func(s string) bool { return strings.HasPrefix(s, name) })
	switch {
	case i < 0:
		c.deviations = append(c.deviations, name+state)
	case !strings.HasSuffix(c.deviations[i], state):
		c.deviations[i] += ", then " + state
	}
}

// runLabel is the label that a run last had in the chain.
func runLabel(chain []jobs.Event, id string) string {
	label := id
	for _, e := range chain {
		var c jobs.Change
		if e.Type == jobs.EvRunSaved && json.Unmarshal([]byte(e.Payload), &c) == nil && c.Run != nil && c.Run.ID == id {
			label = c.Run.Label
		}
	}
	return label
}

// numbered joins numbers into stretches: 3 to 7, 9.
func numbered(noun string, n []int) []string {
	n = slices.Clone(n)
	slices.Sort(n)
	var parts []string
	for i := 0; i < len(n); {
		j := i
		for j+1 < len(n) && n[j+1] == n[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, fmt.Sprintf("%s%d", noun, n[i]))
		default:
			parts = append(parts, fmt.Sprintf("%s%d to %d", noun, n[i], n[j]))
		}
		i = j + 1
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{strings.Join(parts, ", ")}
}

// newReadings counts readings by stage.
func (b *builder) newReadings(rs []jobs.Reading) []string {
	var out []string
	for _, st := range checklist.Stages() {
		n, not := 0, 0
		for _, r := range rs {
			if r.Check.Stage == st {
				n++
				if r.Result.Verdict != checklist.Good {
					not++
				}
			}
		}
		switch {
		case n > 0 && not > 0:
			out = append(out, fmt.Sprintf("%s: %s, %d not good", st, plural(n, "reading"), not))
		case n > 0:
			out = append(out, fmt.Sprintf("%s: %s", st, plural(n, "reading")))
		}
	}
	return out
}

// readAgain sets readings that took the place of earlier ones beside those.
func (b *builder) readAgain(rs []jobs.Reading) Table {
	t := Table{Caption: "Read again since then", Columns: []Column{{Head: "Where", Weight: 1}, {Head: "Check", Weight: 2.4}, {Head: "Before", Weight: 1.2, Align: Right, Measure: true}, {Head: "Then", Weight: 1.3},
		{Head: "Now", Weight: 1.2, Align: Right, Measure: true}, {Head: "Verdict", Weight: 1.3}}}
	old := map[string]*jobs.Reading{}
	for i := range b.x.Stages {
		for k := range b.x.Stages[i].Checks {
			for m := range b.x.Stages[i].Checks[k].Readings {
				r := &b.x.Stages[i].Checks[k].Readings[m]
				old[r.ID] = r
			}
		}
	}
	for _, r := range rs {
		was := old[r.Supersedes]
		if was == nil {
			continue
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.Check.Place.Label, Bold: true}, {Text: r.Check.Title}, {Text: was.Answer.Show(b.style)}, {Text: was.Result.Verdict.Word()},
			{Text: r.Answer.Show(b.style)}, {Text: r.Result.Verdict.Word(), Tone: toneOf(r.Result.Verdict)}})
	}
	return t
}
