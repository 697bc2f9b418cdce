package views

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// DeviationListPage lists the deviations, open ones first.
type DeviationListPage struct {
	Frame
	Open, Ended []Row
	Mixed       []Row // what was taken from different references: no deviation, and to be looked at
	NewURL      string
}

// NewDeviationList is the list.
func NewDeviationList(f Frame, rec *jobs.Record) (DeviationListPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return DeviationListPage{}, err
	}
	p := DeviationListPage{NewURL: JobURL(rec.Job.ID, "deviations", "new"), Mixed: mixedRows(rec.Job.ID, sheet)}
	for _, d := range rec.Deviations {
		row := deviationRow(rec.Job.ID, d)
		if d.State == jobs.DevOpen {
			row.Note = join(row.Note, "Opened "+stamp(d.Opened, rec.Job.Location())+".")
			p.Open = append(p.Open, row)
			continue
		}
		row.Note = join(row.Note, sayFull(string(d.State)+" "+stamp(d.Ended, rec.Job.Location())+between(", ", d.Name, "")))
		p.Ended = append(p.Ended, row)
	}
	p.Frame = f
	return p, nil
}

// DeviationShowPage is one deviation: what it is, the reading that opened it, what became of it, and the form that ends it.
type DeviationShowPage struct {
	Frame
	Form         Form
	URL, Version string
	State        *Status
	What         string
	Opened       []Fact
	Missing      []string
	Readings     []Measure // that opened it, those since, and the one that ended it
	Ended        []Fact
	AgainURL     string // where the check is read again
	AgainLabel   string
	Stands       []Fact
	Choose       *Field // accepted or referred; nil for whoever may not end it
	Name, Reason Field
	Ways         string // how it can end
	Crew         string // what stands in place of the form for whoever may not end it
}

// NewDeviationShow is the page of a deviation. builder says whether it may be accepted or referred.
func NewDeviationShow(f Frame, rec *jobs.Record, d jobs.Deviation, form Form, builder bool) (DeviationShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return DeviationShowPage{}, err
	}
	job := rec.Job
	f.Title, f.Place = fmt.Sprintf("Deviation D%d", d.Number), d.Place.Label
	p := DeviationShowPage{
		Form: form, URL: DeviationURL(job.ID, d.ID), Version: form.Version(d.Version), State: NewStatus(string(d.State)), What: sayFull(d.What), Missing: d.Missing,
		Opened: []Fact{
			{Label: "Opened", Value: stamp(d.Opened, job.Location()), Note: "by " + d.OpenedBy.Name},
			{Label: "Because", Value: deviationCause(d.Kind)},
			{Label: "Place", Value: d.Place.Label},
			{Label: "Stage", Value: upperFirst(string(d.Stage)), URL: StageURL(job.ID, d.Stage)},
		},
	}
	if d.State != jobs.DevOpen {
		p.Ended = []Fact{{Label: upperFirst(string(d.State)), Value: stamp(d.Ended, job.Location()), Note: "entered by " + d.EndedBy.Name}}
		switch d.State {
		case jobs.DevAccepted:
			p.Ended = append(p.Ended, Fact{Label: "Accepted by", Value: d.Name})
		case jobs.DevReferred:
			p.Ended = append(p.Ended, Fact{Label: "Referred to", Value: d.Name})
		}
		p.Ended = append(p.Ended, Fact{Label: "Reason", Value: d.Reason})
	}
	p.readings(rec, sheet, d)
	if c, ok := sheet.Check(d.CheckID); ok && d.State == jobs.DevOpen {
		p.AgainURL, p.AgainLabel = AskURL(job.ID, c.Check.Stage, c.Check.Key, c.Check.Place.ID), "Measure again"
		switch c.Check.Ask {
		case checklist.AskPhoto:
			p.AgainURL, p.AgainLabel = PhotoNewURL(job.ID, c.Check.ID), "File the photograph"
		case checklist.AskSeen:
			p.AgainLabel = "Look again"
		}
	}
	if d.State == jobs.DevOpen || d.State == jobs.DevReferred || form.Stale {
		p.ending(f, d, rec.Awaits(d), form, builder)
	}
	p.Frame = f
	return p, nil
}

// readings shows the reading that opened a deviation and every one since.
func (p *DeviationShowPage) readings(rec *jobs.Record, sheet *jobs.Sheet, d jobs.Deviation) {
	since := false
	for _, r := range rec.Readings {
		since = since || r.ID == d.ReadingID
		if !since || r.CheckID != d.CheckID {
			continue
		}
		m := ReadingMeasure(r, rec.Job, sheet.Style)
		switch r.ID {
		case d.ReadingID:
			m.Label = "Opened it: " + lowerFirst(m.Label)
		case d.EndedWith:
			m.Label = "Ended it: " + lowerFirst(m.Label)
		}
		p.Readings = append(p.Readings, m)
	}
}

// ending fills in the form that accepts or refers a deviation, or says whose answers it waits for.
func (p *DeviationShowPage) ending(f Frame, d jobs.Deviation, awaits string, form Form, builder bool) {
	if awaits != "" {
		p.Ways, p.Crew = awaits, "Until then handover closes only over a deviation that names it. It never leaves the record."
		return
	}
	p.Ways = "It ends when it is accepted, or is referred, with a reason and a name."
	if d.ReadingID != "" {
		p.Ways = "Put it right and measure again: a good reading ends it. Otherwise it is accepted, or is referred, with a reason and a name."
	}
	p.Ways += " It never leaves the record."
	if !builder {
		p.Crew = "Accepting and referring are the builder’s to enter."
		return
	}
	choose := newField(f, "state", "How it ends")
	choose.Options = []Option{
		{Value: string(jobs.DevAccepted), Label: "It is accepted as it is", Hint: "By whoever may: the owner, the authority, an engineer."},
		{Value: string(jobs.DevReferred), Label: "It is referred", Hint: "To the authority or an engineer. It can be accepted when they have answered."},
	}
	choose.Value = form.Text("state", "")
	p.Choose = &choose
	p.Name = newField(f, "name", "Who accepted it, or whom it is referred to")
	p.Name.Value, p.Name.Complete = form.Text("name", ""), "off"
	p.Reason = newField(f, "reason", "Reason, or what was asked")
	p.Reason.Hint, p.Reason.Value, p.Reason.Rows = "It is printed in the pack.", form.Text("reason", ""), 3
	p.Stands = form.Stands([]Stand{{"state", "State", string(d.State)}, {"name", "Name", d.Name}, {"reason", "Reason", d.Reason}})
}

// deviationCause is what opened a deviation, in words.
func deviationCause(k jobs.DeviationKind) string {
	switch k {
	case jobs.DevReading:
		return "a reading was outside a limit or off the layout"
	case jobs.DevMissing:
		return "something was missing when the stage was closed or the run covered"
	case jobs.DevRemovable:
		return "a length of guard can be taken out"
	}
	return "opened by hand"
}

// DeviationNewPage opens a deviation by hand.
type DeviationNewPage struct {
	Frame
	Form      Form
	URL, Back string
	Stands    []Fact
	What      Field
	At, Stage Field
}

// NewDeviationNew is that page; place and stage may be given.
func NewDeviationNew(f Frame, rec *jobs.Record, placeID, stage string, form Form) DeviationNewPage {
	p := DeviationNewPage{Form: form, URL: JobURL(rec.Job.ID, "deviations", "new"), Back: JobURL(rec.Job.ID, "deviations")}
	f.Lead = "For what no check asks about. A reading outside a limit or off the layout opens one by itself."
	p.What = newField(f, "what", "What is not as it should be")
	p.What.Hint, p.What.Rows, p.What.Value = "One sentence.", 2, strings.TrimSpace(form.Text("what", ""))
	p.At = *filterField(f, "place", "Where", placeOptions(rec, "Choose the run, post or bay"), form.Text("place", placeID))
	p.Stage = *filterField(f, "stage", "Stage", stageOptions("Choose the stage"), form.Text("stage", stage))
	if made, ok := rec.Deviation(form.Made); ok {
		p.Stands = form.made(fmt.Sprintf("D%d, %s", made.Number, made.Place.Label), DeviationURL(rec.Job.ID, made.ID),
			[]Stand{{"what", "What is not as it should be", made.What}, {"stage", "Stage", string(made.Stage)}})
	}
	p.Frame = f
	return p
}
