package views

import (
	"fmt"
	"net/url"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// GuestURL is the path of a link, or of what lies under it.
func GuestURL(token string, parts ...string) string {
	p := "/g/" + url.PathEscape(token)
	for _, part := range parts {
		p += "/" + url.PathEscape(part)
	}
	return p
}

// GuestShowPage is what a link opens: one issued pack, with no account, and the form that answers it.
type GuestShowPage struct {
	Frame
	Form           Form
	URL            string // takes the answer
	Offers         []Fact // what to read, to print and to keep, the reader's own edition first
	Papers         []Row  // attached papers that the reader may want to save
	Sum            []Row  // what the pack's readings came to
	Open           []string
	Later          string // that a later pack was issued
	Cautions       []string
	Facts          []Fact
	Answers        []Row
	Ask            string
	Kind           Field
	Outcome, Stage *Field // an inspector's
	On, Office     *Field
	At, Text, Name Field
	Signature      Field
	Places         []Drawing // the runs as they were issued, each post and bay leading to the answer form
}

// guestFrame is the frame of a guest's pages.
func guestFrame(g jobs.Guest, token, title string) Frame {
	job := g.Record.Job
	f := Frame{Title: title, Home: GuestURL(token), Sheet: &TitleBlock{Job: job.Ref, Site: job.Site, Sheet: fmt.Sprintf("Pack %d", g.Pack.Number), Date: g.Pack.Issued.In(job.Location()).Format("2 Jan 2006")}}
	if job.Permit != "" {
		f.Sheet.More = append(f.Sheet.More, Fact{Label: "Permit", Value: job.Permit})
	}
	return f
}

// Frozen is what the page shows of a pack's own record, as it was frozen: small, where the record may be megabytes.
type Frozen struct {
	Name, Builder, Contact, Rules string
	Sum                           []Row // what its readings came to
	Open                          []string
	Places                        []Drawing // plan and runs; a place leads to the answer form with its label filled in
	Papers                        []jobs.ExportPaper
}

// NewFrozen picks it out of the record.
func NewFrozen(x jobs.Export) Frozen {
	return Frozen{Name: x.Job.Name, Builder: x.Job.Builder, Contact: x.Job.Contact, Rules: x.Rules.Name, Sum: exportSum(x), Open: x.Open, Places: frozenPlaces(x), Papers: x.Papers}
}

// mostPointed bounds the runs that a guest's page draws one by one; beyond it the plan alone is there to point at, and the field.
const mostPointed = 12

// frozenPlaces draws the runs of a frozen record for pointing at: the plan, then each run.
func frozenPlaces(x jobs.Export) []Drawing {
	var live []jobs.Run
	for _, run := range x.Runs {
		if !run.Retired {
			live = append(live, run)
		}
	}
	if len(x.Layouts) == 0 {
		return nil
	}
	to := func(label string) draw.Link {
		return draw.Link{URL: "?place=" + url.QueryEscape(label) + "#answer", Label: "Say something of " + label}
	}
	links := map[string]draw.Link{}
	for _, l := range x.Layouts {
		links[l.RunID] = to(l.Label)
		for _, p := range l.Posts {
			links[fmt.Sprintf("%s/P%d", l.RunID, p.Number)] = to(p.Label)
		}
		for _, b := range l.Bays {
			links[fmt.Sprintf("%s/B%d", l.RunID, b.Number)] = to(b.Label)
		}
	}
	style := x.Job.Units.Style()
	plan := layout.NewPlan(jobs.PlainRuns(live), x.Layouts, x.Job.Spec, x.Job.Units)
	out := []Drawing{{Sheet: draw.Plan(plan, draw.PlanOptions{Width: showWidth, Height: showHeight, Style: style}), Links: links}}
	if len(x.Layouts) > mostPointed {
		return out
	}
	for _, l := range x.Layouts {
		o := draw.ElevationOptions{Width: stayWidth, Height: stayHeight, Style: style, Brief: true}
		for _, run := range live {
			if run.ID == l.RunID {
				o.Run = run.Run
				o.Spec, _ = x.Job.Spec.With(run.Overrides, x.Job.Units) // faults were refused when the run was saved
			}
		}
		out = append(out, Drawing{Sheet: draw.Elevation(l, o), Links: links})
	}
	return out
}

// NewGuestShow is that page; place is the label of a place that was pointed at, or empty.
func NewGuestShow(g jobs.Guest, token string, x Frozen, place string, form Form, faults []FieldError) GuestShowPage {
	rec := g.Record
	f := guestFrame(g, token, packTitle(g.Pack))
	f.Heading, f.Errors = x.Name, faults
	f.Lead = fmt.Sprintf("%s, issued by %s. You need no account to read it and to answer.", packTitle(g.Pack), x.Builder)
	p := GuestShowPage{
		Form: form, URL: GuestURL(token, "answers"), Offers: packOffers(g.Pack, editionFor(g.Link.For), func(file string) string { return GuestURL(token) + "/" + file }),
		Sum: x.Sum, Open: x.Open, Places: x.Places,
		Cautions: []string{
			"A guard stops falls. The adopted code and its local amendments govern; this pack says what was measured against which figure, and approves nothing.",
			"While a guard or a removable length of it is out, the edge is open: keep people away from it.",
		},
		Facts: append([]Fact{
			{Label: "Issued", Value: momentText(g.Pack.Issued, rec.Job.Location()), Note: "by " + g.Pack.By.Name},
			{Label: "Builder", Value: x.Builder, Note: x.Contact}, {Label: "Rules applied", Value: x.Rules},
			{Label: "This link", Value: "open until " + momentText(g.Link.Expires, rec.Job.Location()), Note: "made for " + g.Link.Name},
		}, packFacts(g.Pack)...),
	}
	for _, x := range x.Papers {
		if x.Enclosed != "" && (g.Link.For == jobs.RoleInspector || x.Kind.ForOwner()) {
			p.Papers = append(p.Papers, Row{Label: x.Title, Note: sayFull(upperFirst(string(x.Kind)) + ", " + x.Issuer + ", " + paperDay(x.Paper)), Figure: fileWord(x.File), URL: GuestURL(token, "pack") + "/" + x.Enclosed})
		}
	}
	if n := len(rec.Packs); n > 0 && rec.Packs[n-1].Number > g.Pack.Number {
		last := rec.Packs[n-1]
		p.Later = fmt.Sprintf("A later pack, number %d, was issued on %s. This link opens pack %d alone; ask the builder for a link to the later one.", last.Number, last.Issued.In(rec.Job.Location()).Format("2 Jan 2006"), g.Pack.Number)
	}
	for _, a := range rec.Answers {
		if a.PackHash == g.Pack.Hash && a.From == g.Link.For {
			row := answerRow(rec, a)
			if a.LinkID == g.Link.ID {
				row.URL = GuestURL(token, "receipts", a.ID)
			}
			p.Answers = append(p.Answers, row)
		}
	}
	p.ask(f, g, place, form)
	p.Frame = f
	return p
}

// editionFor is the edition that a guest's page leads with.
func editionFor(r jobs.Role) string {
	if r == jobs.RoleInspector {
		return jobs.EditionInspector
	}
	return jobs.EditionOwner
}

// ask fills in the form for an owner or an inspector.
func (p *GuestShowPage) ask(f Frame, g jobs.Guest, place string, form Form) {
	box := func(name, label, hint, saved string) Field {
		v := newField(f, name, label)
		v.Hint, v.Value = hint, form.Text(name, saved)
		return v
	}
	p.Kind = box("kind", "What do you want to record?", "", "")
	p.Ask = "Your answer"
	p.Text = box("text", "In your words", "A question, a remark, or what stands in the way.", "")
	if g.Link.For == jobs.RoleInspector {
		p.Kind.Options = []Option{{Value: string(jobs.AnswerOutcome), Label: "The outcome of an inspection"}, {Value: string(jobs.AnswerRemark), Label: "A remark, with no outcome"}}
		outcome := box("outcome", "Outcome", "Where you record one.", "")
		outcome.Options = []Option{{Value: jobs.OutcomeAccepted, Label: "Accepted"}, {Value: jobs.OutcomeCorrect, Label: "Correct and call again"}, {Value: jobs.OutcomeNotInspected, Label: "Not inspected"}}
		stage := box("stage", "What was inspected", "", "")
		stage.Options, stage.Size = stageOptions("The whole job"), "medium"
		on := box("on", "Date of the inspection", "As 2026-05-04.", "")
		on.Size = "medium"
		office := box("office", "Office", "", "")
		p.Outcome, p.Stage, p.On, p.Office = &outcome, &stage, &on, &office
		p.Text.Hint = "A remark, or what is to be corrected."
	} else {
		p.Kind.Options = []Option{{Value: string(jobs.AnswerAccept), Label: "I accept the work as the pack shows it", Hint: acknowledging(g)}, {Value: string(jobs.AnswerDecline), Label: "I do not accept it yet"}, {Value: string(jobs.AnswerRemark), Label: "I have a question or a remark"}}
	}
	p.Text.Rows = 4
	p.At = box("place", "Where, if it is about one place", "As the pack names it, such as R1-B2; or pick it on a drawing above.", place)
	p.At.Size, p.At.Complete = "medium", "off"
	p.Name = box("name", "Your name", "It is kept with your answer as you write it.", "")
	p.Name.Complete = "name"
	p.Signature = box("signature", "Signature, if you want to draw one", "Your name serves as well.", "")
}

// acknowledging says what accepting the pack acknowledges besides: the lengths of guard that lift out.
func acknowledging(g jobs.Guest) string {
	var lengths []string
	for _, d := range g.Record.Acknowledges(g.Pack) {
		lengths = append(lengths, d.Place.Label)
	}
	if len(lengths) == 0 {
		return ""
	}
	return fmt.Sprintf("With this you acknowledge in writing that the guard can be lifted out at %s, and that the open edge is a fall hazard while it is.", strings.Join(lengths, ", "))
}

// exportSum is what the readings of a frozen record came to, the worst first.
func exportSum(x jobs.Export) []Row {
	counts := map[checklist.Verdict]int{}
	for _, st := range x.Stages {
		for _, c := range st.Checks {
			if c.Check.Ask != checklist.AskPhoto {
				counts[c.Verdict]++
			}
		}
	}
	var out []Row
	for _, v := range []struct {
		verdict checklist.Verdict
		label   string
	}{
		{checklist.FailsLimit, "Readings outside a limit"}, {checklist.TooClose, "Inside a limit by less than the tape can tell"}, {checklist.OffLayout, "Outside the workmanship tolerance, inside the limits"},
		{checklist.NotChecked, "Not read"}, {checklist.Good, "Inside tolerance and limits"},
	} {
		row := Row{Label: v.label, Figure: itoa(counts[v.verdict])}
		if counts[v.verdict] > 0 {
			row.Status = NewStatus(v.verdict.Word())
		}
		out = append(out, row)
	}
	open := 0
	for _, d := range x.Deviations {
		if d.State == jobs.DevOpen {
			open++
		}
	}
	return append(out, Row{Label: "Deviations", Note: orElse(some(open, " of them open"), "none open"), Figure: itoa(len(x.Deviations))}, Row{Label: "Photographs", Figure: itoa(len(x.Photos))})
}

// GuestReceiptPage is what a guest recorded, to be printed.
type GuestReceiptPage struct {
	Frame
	Said  []Fact
	About []Fact
	Back  string
	// Signature is what was drawn beside the name; nil where nothing was.
	Signature *Drawing
}

// signature is the drawn signature of an answer; nil where there is none.
func signature(a jobs.Answer) *Drawing {
	strokes, err := jobs.ParseStrokes(a.Signature)
	if err != nil || strokes == nil {
		return nil // it was refused when it came in
	}
	says := "Signature of " + a.Name + ", as drawn"
	return &Drawing{Sheet: draw.Signature(strokes, jobs.SignatureWide, jobs.SignatureHigh, 80, says), Caption: says + "."}
}

// NewGuestReceipt is the receipt of an answer.
func NewGuestReceipt(g jobs.Guest, token string, a jobs.Answer) GuestReceiptPage {
	loc := g.Record.Job.Location()
	f := guestFrame(g, token, "Receipt")
	f.Heading, f.Lead = "Your answer is recorded", "Print this page or keep it. A mistake is put right by a new answer; both stay."
	p := GuestReceiptPage{Back: GuestURL(token)}
	p.Said = []Fact{{Label: "Answer", Value: upperFirst(answerText(a))}}
	for _, x := range []Fact{{Label: "Date of the inspection", Value: jobs.DayText(a.On)}, {Label: "Where", Value: a.Place}, {Label: "In your words", Value: a.Text}} {
		if x.Value != "" {
			p.Said = append(p.Said, x)
		}
	}
	p.Said = append(p.Said, Fact{Label: "Name", Value: a.Name, Note: "as it was given; nobody checked it"})
	if a.Office != "" {
		p.Said = append(p.Said, Fact{Label: "Office", Value: a.Office})
	}
	p.Signature = signature(a)
	p.About = []Fact{
		{Label: "Recorded", Value: momentText(a.At, loc)}, {Label: "Pack", Value: packTitle(g.Pack), Note: "issued " + momentText(g.Pack.Issued, loc)},
		{Label: "Hash of the pack", Value: groupsOf(a.PackHash, 8)}, {Label: "Number of the answer", Value: a.ID},
	}
	p.Frame = f
	return p
}

// GuestClosedPage says that a link no longer opens, and how to reach the builder.
type GuestClosedPage struct {
	Frame
	Facts []Fact
}

// NewGuestClosed is that page; it names nothing of the job but its reference.
func NewGuestClosed(g jobs.Guest, token string) GuestClosedPage {
	job := g.Record.Job
	f := Frame{Title: "This link no longer opens", Home: GuestURL(token)}
	f.Lead = fmt.Sprintf("It was open until %s. Ask the builder for a new one.", momentText(g.Link.Expires, job.Location()))
	if g.Link.Revoked != nil && g.Link.Revoked.Before(g.Link.Expires) {
		f.Lead = "The builder has taken it back. Ask for a new one if you need it."
	}
	return GuestClosedPage{Frame: f, Facts: []Fact{{Label: "Builder", Value: job.Builder}, {Label: "To be reached at", Value: job.Contact}, {Label: "Job", Value: job.Ref}}}
}
