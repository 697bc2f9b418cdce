package views

import (
	"fmt"

	"newelbook/checklist"
	"newelbook/jobs"
)

// CheckShowPage is one check: its newest reading with the verdict, every reading before it, photographs, deviation, and the
// form that reads it again.
type CheckShowPage struct {
	Frame
	How, Why, Source string
	Joined           []Joined // photographs that it was typed from
	Now              *Measure // the current reading, or none yet
	Relaid           string
	Moved            string
	History          Table
	HistoryLabel     string
	Deviation        []Row
	Photos           []Row
	PhotoURL         string
	PhotoShows       string
	PhotoFor         string // that a photograph fills nothing here

	Gone    string // why it cannot be answered any more
	Form    Form
	URL     string
	Back    string
	Asked   *Asked
	First   bool // nothing is recorded yet: the form comes first
	Tool    *Field
	Witness *Field
	Paper   *Field // which attached paper the answer rests on
	// AttachURL attaches one; RestsOn is the one that the current reading names.
	AttachURL string
	RestsOn   []Row
	Ask       string // words of the heading over the form
	Save      string
	SameURL   string
	Same      []Option // places that the rest would answer
	SameID    string
	CheckID   string
	Except    []string
	SameAs    string
}

// sameLeft lists the checks that "the rest of this run is the same" would answer.
func sameLeft(sheet *jobs.Sheet, c *jobs.CheckState) []*jobs.CheckState {
	var out []*jobs.CheckState
	for i := range sheet.Checks {
		o := &sheet.Checks[i]
		if o.Check.Key == c.Check.Key && o.Check.Place.RunID == c.Check.Place.RunID && o.Current == nil {
			out = append(out, o)
		}
	}
	return out
}

// FindCheck is the state of a check, also of one that the layout no longer has; live says which.
func FindCheck(sheet *jobs.Sheet, id string) (c *jobs.CheckState, live, ok bool) {
	if c, ok := sheet.Check(id); ok {
		return c, true, true
	}
	for i := range sheet.Retired {
		if sheet.Retired[i].Check.ID == id {
			return &sheet.Retired[i], false, true
		}
	}
	return nil, false, false
}

// NewCheckShow is the page of a check. form is the form that reads it, sameID the id of the form for the rest of the run.
func NewCheckShow(f Frame, rec *jobs.Record, sheet *jobs.Sheet, c *jobs.CheckState, live bool, form Form, sameID string) CheckShowPage {
	job, check := rec.Job, c.Check
	f.Title, f.Place = check.Title, check.Place.Label
	p := CheckShowPage{
		How: howText(check), Why: check.Reason, Source: check.Source, Form: form, URL: JobURL(job.ID, "readings"), Back: CheckURL(job.ID, check.ID),
		CheckID: check.ID, Ask: "Read it again", Save: "Save the reading",
	}
	if c.Current != nil {
		m := ReadingMeasure(*c.Current, job, sheet.Style)
		p.Now, p.Relaid = &m, relaid(*c.Current, rec, sheet.Style)
		p.Joined = joinsOf(rec).large(rec, c.Current.ID)
	} else {
		p.Now = &Measure{Label: check.Title, Place: check.Place.Label, Held: heldTo(check, sheet.Style), Status: NewStatus(c.Verdict().Word())}
		p.Ask, p.First = "Read it", true
	}
	if check.Ask == checklist.AskPhoto && c.Current == nil {
		p.Now = nil
	}
	if c.Current != nil {
		if paper, ok := rec.Paper(c.Current.PaperID); ok {
			row := paperRow(rec, paper)
			if !paper.Holds() {
				row.Status = NewStatus("withdrawn", "retired")
			}
			p.RestsOn = []Row{row}
		}
	}
	if c.Moved {
		p.Moved = "The layout or the rules have changed since: this check is now held to " + movedText(check, sheet) + " The verdict stands as it was given; read it again for a new one."
	}
	p.history(c, rec, sheet)
	if d := c.Deviation; d != nil {
		p.Deviation = []Row{deviationRow(job.ID, *d)}
	}
	for _, ph := range c.Photos {
		p.Photos = append(p.Photos, Row{Place: ph.Place.Label, Label: fmt.Sprintf("Photograph %d", ph.Number), Note: join(ph.Caption, "received "+stamp(ph.Received, job.Location())), URL: JobURL(job.ID, "photos", ph.ID)})
	}
	if live {
		p.PhotoURL, p.PhotoShows = PhotoNewURL(job.ID, check.ID), check.PhotoShows
		if check.Witness {
			p.PhotoShows, p.PhotoFor = "", "A photograph is your own and the owner’s: the authority does not accept it here."
		}
		a := newAsked(f, job.ID, c, job.Units, form)
		a.Held, a.Last, a.PhotoURL = nil, "", ""
		p.Asked, p.Tool, p.Witness = &a, toolField(f, check, job, form), witnessField(f, []*jobs.CheckState{c}, form)
		p.Paper, p.AttachURL = paperField(f, check, rec, form), attachURL(check, job.ID)
		if check.Ask == checklist.AskPhoto {
			p.Ask, p.Save = "Without a photograph", "Save without a photograph"
		}
		p.same(c, sheet, job, sameID, form)
	} else {
		p.Gone = "The layout no longer has this check. Its readings stay in the record."
	}
	p.Frame = f
	return p
}

// history fills in every reading but the current one, newest first.
func (p *CheckShowPage) history(c *jobs.CheckState, rec *jobs.Record, sheet *jobs.Sheet) {
	job, from := rec.Job, joinsOf(rec)
	t := Table{Caption: "Every reading, newest first", Heads: []Head{{Label: "When"}, {Label: "Read", Number: true}, {Label: "Verdict"}, {Label: "Held to"}, {Label: "By"}}}
	for i := len(c.History) - 1; i >= 0; i-- {
		r := c.History[i]
		t.Rows = append(t.Rows, []Cell{
			{Text: stamp(r.Received, job.Location())}, {Text: ReadingText(r, sheet.Style), Note: fromText(r), Shot: from.shot(job.ID, r.ID)}, {Status: NewStatus(r.Result.Verdict.Word())},
			{Text: orElse(r.Result.HeldTo, "no figure"), Note: r.Note}, {Text: r.By.Name, Note: r.ReadWith(sheet.Style)},
		})
	}
	p.History = t
	if len(t.Rows) > 1 {
		p.HistoryLabel = "All readings, " + itoa(len(t.Rows))
	}
}

// same offers the rest of the run where an observation was answered with yes.
func (p *CheckShowPage) same(c *jobs.CheckState, sheet *jobs.Sheet, job jobs.Job, id string, form Form) {
	if c.Check.Ask != checklist.AskSeen || c.Check.Witness || c.Current == nil || c.Current.Answer.Seen != checklist.SeenYes {
		return
	}
	for _, o := range sameLeft(sheet, c) {
		p.Same = append(p.Same, Option{Value: o.Check.Place.ID, Label: o.Check.Place.Label})
	}
	if len(p.Same) > 0 {
		p.SameURL, p.SameID, p.Except = JobURL(job.ID, "same"), id, form.All("except")
		p.SameAs = counted(len(p.Same), "place") + " of this run not answered yet, less those picked here, get the same answer: seen by you, and said in the record to be the same as " + c.Check.Place.Label + "."
	}
}

// movedText is what a check is held to now, as a sentence.
func movedText(c checklist.Check, sheet *jobs.Sheet) string {
	var text string
	for _, h := range heldTo(c, sheet.Style) {
		text = join(text, h.Value+" ("+orElse(h.Source, "layout")+");")
	}
	if text == "" {
		return "no figure, and its place may stand elsewhere now."
	}
	return text[:len(text)-1] + "."
}
