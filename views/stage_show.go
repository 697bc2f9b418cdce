package views

import (
	"cmp"
	"fmt"
	"slices"

	"newelbook/checklist"
	"newelbook/jobs"
)

// StageShowPage is one stage: what was just recorded, what is left in order, what needs another look, and closing it.
type StageShowPage struct {
	Frame
	Form        Form
	State       *Status
	Sum         string
	Taken       []Taken
	TakenGood   Table // the good ones, where many were taken at once
	Next        Fact
	Left, Look  []Row
	LeftLabel   string // heading over Left
	Done        []Table
	DoneLabel   string
	Retired     []Row
	Covers      []Row
	Owed        []Row
	Version     string
	CloseURL    string // empty when closed
	CloseNote   string
	Closed      string // who closed it and when
	ClosedOver  []Row
	ReopenURL   string // empty for whoever may not
	Reason      string
	OtherStages []Row
	Reopened    string
	OwedLabel   string
}

// mostTaken is how many readings just saved are each shown in full; of more, the good ones are lines of a table.
const mostTaken = 3

// Taken is a reading that has just been saved.
type Taken struct {
	Measure Measure
	Relaid  string // what it made of its bay
	Ended   string // the deviation that it put right
	Good    bool
	URL     string // the check's own page
	Links   []Fact
}

// NewStageShow is the page of a stage. taken are the ids of the readings just saved, shown first; builder says whether the stage
// may be opened again.
func NewStageShow(f Frame, rec *jobs.Record, st *jobs.StageSheet, form Form, taken []string, builder bool) (StageShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return StageShowPage{}, err
	}
	job := rec.Job
	f.Title = upperFirst(string(st.Stage))
	p := StageShowPage{
		Frame: f, Form: form, State: StageStatus(sheet, st.Stage), Sum: fmt.Sprintf("%d of %d answered", st.Answered, st.Total), Taken: takenOf(rec, sheet, taken),
		Version: form.Version(st.State.Version), Reason: form.Text("reason", ""),
	}
	if len(p.Taken) == 1 {
		p.Place = p.Taken[0].Measure.Place
	}
	if len(p.Taken) > mostTaken {
		p.shorten()
	}
	from := joinsOf(rec)
	for _, q := range questions(st) {
		if left := q.left(); len(left) > 0 {
			row := q.row(job.ID)
			if p.Next.URL == "" {
				p.Next = Fact{Label: q.title, Note: orElse(row.Note, row.Place), URL: row.URL}
			}
			p.Left = append(p.Left, row)
		}
		if t, ok := q.table(job, sheet, from); ok {
			p.Done = append(p.Done, t)
		}
	}
	p.LeftLabel = "Left to check"
	if st.State.Closed {
		p.LeftLabel, p.Next = "Closed without an answer", Fact{}
		if next := NextStage(sheet); !next.State.Closed {
			p.Next = Fact{Label: upperFirst(string(next.Stage)), URL: StageURL(job.ID, next.Stage)}
		}
	}
	answered := 0
	for _, c := range st.Checks {
		switch c.Verdict() {
		case checklist.FailsLimit, checklist.TooClose, checklist.OffLayout:
			p.Look = append(p.Look, checkRow(job.ID, c, sheet))
		}
		if c.Current != nil && c.Check.TakenElsewhere(c.Current.Answer) {
			p.Look = append(p.Look, checkRow(job.ID, c, sheet))
		}
		if c.Moved {
			p.Look = append(p.Look, Row{Place: c.Check.Place.Label, Label: c.Check.Title, URL: CheckURL(job.ID, c.Check.ID), Note: "judged against another figure than the layout or the rules have now; the verdict stands as it was given"})
		}
		if c.Current != nil {
			answered++
		}
	}
	p.Look = append(p.Look, mixedRows(job.ID, sheet, st.Stage)...)
	p.DoneLabel = "Readings so far, " + itoa(answered)
	for i := range sheet.Retired {
		if c := &sheet.Retired[i]; c.Check.Stage == st.Stage {
			p.Retired = append(p.Retired, checkRow(job.ID, c, sheet))
		}
	}
	if st.Stage == checklist.Framing {
		p.Covers = covers(rec)
	}
	p.closing(rec, sheet, st, builder)
	for _, other := range sheet.Stages {
		if other.Stage != st.Stage {
			p.OtherStages = append(p.OtherStages, Row{
				Label: upperFirst(string(other.Stage)), URL: StageURL(job.ID, other.Stage), Note: fmt.Sprintf("%d of %d answered", other.Answered, other.Total), Status: StageStatus(sheet, other.Stage),
			})
		}
	}
	return p, nil
}

// shorten makes a table of the readings just taken that are good and changed nothing, so that the others are seen.
func (p *StageShowPage) shorten() {
	title, one := p.Taken[0].Measure.Label, true
	for _, t := range p.Taken {
		one = one && t.Measure.Label == title
	}
	p.TakenGood = Table{Heads: []Head{{Label: "Place"}, {Label: "Read", Number: true}, {Label: "Verdict"}}}
	p.Taken = slices.DeleteFunc(p.Taken, func(t Taken) bool {
		if !t.Good || t.Relaid+t.Ended != "" {
			return false
		}
		cell := Cell{Text: t.Measure.Place, URL: t.URL}
		if !one {
			cell.Note = t.Measure.Label
		}
		p.TakenGood.Rows = append(p.TakenGood.Rows, []Cell{cell, {Text: t.Measure.Value}, {Status: t.Measure.Status}})
		return true
	})
	p.TakenGood.Caption = upperFirst(counted(len(p.TakenGood.Rows), "good reading"))
	if one {
		p.TakenGood.Caption += ": " + lowerFirst(title)
	}
}

// closing fills in what belongs to closing the stage or opening it again.
func (p *StageShowPage) closing(rec *jobs.Record, sheet *jobs.Sheet, st *jobs.StageSheet, builder bool) {
	job, state := rec.Job, st.State
	if state.Closed {
		p.Closed = fmt.Sprintf("Closed by %s, %s.", state.By.Name, stamp(state.At, job.Location()))
		if st.Again != "" {
			p.Look = append(p.Look, Row{Label: "The whole stage", Note: st.Again})
		}
		for _, id := range state.Deviations {
			if d, ok := rec.Deviation(id); ok {
				p.ClosedOver = append(p.ClosedOver, deviationRow(job.ID, d))
			}
		}
		if builder {
			p.ReopenURL = StageURL(job.ID, st.Stage, "reopening")
		}
		return
	}
	if state.Version > 0 {
		p.Reopened = fmt.Sprintf("Opened again by %s, %s: %s", state.By.Name, stamp(state.At, job.Location()), sayFull(state.Reason))
	}
	p.CloseURL, p.Owed = StageURL(job.ID, st.Stage, "closing"), owedRows(job.ID, sheet, st.Outstanding)
	p.CloseNote = "Everything that the stage asks for is there."
	if n := len(st.Outstanding); n > 0 {
		p.CloseNote, p.OwedLabel = "", counted(n, "thing")+" outstanding"
	}
}

// takenOf finds the readings just saved, and what followed from them.
func takenOf(rec *jobs.Record, sheet *jobs.Sheet, ids []string) []Taken {
	var out []Taken
	for _, r := range rec.Readings {
		if !slices.Contains(ids, r.ID) {
			continue
		}
		t := Taken{Measure: ReadingMeasure(r, rec.Job, sheet.Style), Relaid: relaid(r, rec, sheet.Style), Good: r.Result.Verdict == checklist.Good, URL: CheckURL(rec.Job.ID, r.CheckID)}
		t.Links = append(t.Links, Fact{Label: "Measure again", URL: AskURL(rec.Job.ID, r.Check.Stage, r.Check.Key, r.Check.Place.ID)})
		if r.Check.Ask == checklist.AskSeen {
			t.Links[0].Label = "Answer again"
		}
		for _, d := range rec.Deviations {
			if d.EndedWith == r.ID {
				t.Ended = fmt.Sprintf("Deviation D%d is put right with it.", d.Number)
			}
		}
		c, live := sheet.Check(r.CheckID)
		if live && r.Answer.Seen == checklist.SeenYes && !r.Check.Witness && len(sameLeft(sheet, c)) > 0 {
			t.Links = append(t.Links, Fact{Label: "The rest of the run is the same", URL: CheckURL(rec.Job.ID, r.CheckID) + "#same"})
		}
		if live && r.Check.Photo != checklist.PhotoNone && len(c.Photos) == 0 {
			t.Links = append(t.Links, Fact{Label: "Photograph it", URL: PhotoNewURL(rec.Job.ID, r.CheckID)})
		}
		if live && c.Deviation != nil && c.Deviation.State == jobs.DevOpen {
			t.Links = append(t.Links, Fact{Label: fmt.Sprintf("Deviation D%d", c.Deviation.Number), URL: DeviationURL(rec.Job.ID, c.Deviation.ID)})
		}
		out = append(out, t)
	}
	return out
}

// table is the readings of a question, one place a row, each with what it was held to and the photograph that it was typed from.
func (q question) table(job jobs.Job, sheet *jobs.Sheet, from joins) (Table, bool) {
	t := Table{Caption: q.title, Heads: []Head{{Label: "Place"}, {Label: "Read", Number: true}, {Label: "Verdict"}, {Label: "Held to"}, {Label: "By"}}}
	for _, c := range q.checks {
		if c.Current == nil {
			continue
		}
		t.Rows = append(t.Rows, []Cell{
			{Text: c.Check.Place.Label, URL: CheckURL(job.ID, c.Check.ID)}, {Text: ReadingText(*c.Current, sheet.Style), Note: fromText(*c.Current), Shot: from.shot(job.ID, c.Current.ID)},
			{Status: NewStatus(c.Verdict().Word())}, {Text: orElse(c.Current.Result.HeldTo, "no figure")}, {Text: c.Current.By.Name, Note: join(between("with ", c.Current.Answer.Witness, ","), stamp(c.Current.Received, job.Location())+between(", ", c.Current.ReadWith(sheet.Style), ""))},
		})
	}
	return t, len(t.Rows) > 0
}

// covers says of each run whether it is covered, and leads to saying so.
func covers(rec *jobs.Record) []Row {
	var out []Row
	for _, run := range rec.Live() {
		row := Row{Place: run.Label, Label: "Not covered yet", URL: JobURL(rec.Job.ID, "runs", run.ID, "cover")}
		if c, ok := rec.CoveredRun(run.ID); ok {
			row.Label, row.Note, row.Status = "Decked over on "+jobs.DayText(c.On), c.By.Name, NewStatus("covered")
		}
		out = append(out, row)
	}
	return out
}

// owedRows lists what is outstanding: one line for what is owed alike at several places, leading to where it is asked.
func owedRows(jobID string, sheet *jobs.Sheet, owed []jobs.Outstanding) []Row {
	type kind struct {
		sentence string
		hold     bool
		ask      checklist.Ask
	}
	var order []kind
	at := map[kind][]*jobs.CheckState{}
	for _, o := range owed {
		c, live := sheet.Check(o.CheckID)
		k := kind{sentence: o.Sentence, hold: o.Hold}
		if live {
			k.ask = c.Check.Ask
		}
		if _, seen := at[k]; !seen {
			order, at[k] = append(order, k), nil
		}
		if live {
			at[k] = append(at[k], c)
		}
	}
	var out []Row
	for _, k := range order {
		row, checks := Row{Label: k.sentence}, at[k]
		switch len(checks) {
		case 0:
		case 1:
			row.Place, row.URL = checks[0].Check.Place.Label, CheckURL(jobID, checks[0].Check.ID)
		default:
			row.Note, row.Figure, row.URL = "at "+labels(checks), itoa(len(checks)), AskURL(jobID, checks[0].Check.Stage, checks[0].Check.Key)+asParam(k.ask)
		}
		if k.hold {
			row.Status = NewStatus("hold point")
		}
		out = append(out, row)
	}
	return out
}

// mixedRows points out what was taken from different references at a stage; every stage where none is given.
func mixedRows(jobID string, sheet *jobs.Sheet, stages ...checklist.Stage) []Row {
	var out []Row
	for _, m := range sheet.Mixed {
		if len(stages) > 0 && !slices.Contains(stages, m.Stage) {
			continue
		}
		fewest := slices.MinFunc(m.Taken, func(a, b jobs.TakenFrom) int { return cmp.Compare(len(a.Checks), len(b.Checks)) })
		out = append(out, Row{Place: m.Run.Label, Label: m.Question, Note: m.Sentence, URL: CheckURL(jobID, fewest.Checks[0])})
	}
	return out
}

func deviationRow(jobID string, d jobs.Deviation) Row {
	return Row{Place: d.Place.Label, Label: fmt.Sprintf("D%d", d.Number), Note: d.What, URL: DeviationURL(jobID, d.ID), Status: NewStatus(string(d.State))}
}

// StageBlockedPage lists what keeps a stage from closing, with a box for the reason to close it over a deviation.
type StageBlockedPage struct {
	Frame
	Form         Form
	Owed         []Row
	URL, Version string
	BackURL      string
	Builder      bool
	Reason       string
	Holds        string
}

// NewStageBlocked is that page. builder says whether the reason box is offered.
func NewStageBlocked(f Frame, rec *jobs.Record, sheet *jobs.Sheet, st *jobs.StageSheet, blocked *jobs.BlockedError, form Form, builder bool) StageBlockedPage {
	p := StageBlockedPage{
		Frame: f, Form: form, Owed: owedRows(rec.Job.ID, sheet, blocked.Outstanding), URL: StageURL(rec.Job.ID, st.Stage, "closing"), Version: form.Version(st.State.Version),
		BackURL: StageURL(rec.Job.ID, st.Stage), Builder: builder, Reason: form.Text("reason", ""),
	}
	p.Title = upperFirst(blocked.What) + " is not ready to close"
	p.Lead = counted(len(blocked.Outstanding), "thing") + " outstanding."
	p.Holds = holdSentence(blocked.Outstanding)
	return p
}

// holdSentence warns of what decking hides.
func holdSentence(owed []jobs.Outstanding) string {
	n := 0
	for _, o := range owed {
		if o.Hold {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s of it cannot be seen again once the deck is down. Closing over it does not put it right: the pack prints what was missing.", upperFirst(counted(n, "hold point")))
}
