package views

import (
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// Asked is one check as a form asks it: the fields that fit how it is answered, and what the answer will be held to. Nothing
// is filled in but what was typed when the form came back.
type Asked struct {
	Place  string
	Head   string // the place again, where the page asks several
	Title  string // where it differs from the page's question
	How    string // where it differs from the page's
	Held   []Against
	Last   string // what was read before, with its verdict
	LastAs *Status
	URL    string // the check's own page

	Entry, Count, Gauge, Seen *Field // what answers it
	From                      *Field // what a length is taken from, where there is more than one way
	Skip, Reason, Note        *Field // why there is no answer, and a note
	More                      string // words over Skip, Reason and Note
	Open                      bool   // they are shown opened
	Row                       bool   // a line of the page's table of readings, its notes apart
	PhotoURL                  string // where a photograph is filed to it
	PhotoShows                string
	PhotoCount                string
	Hidden                    []Button // what was asked about the text once, and what was said to stand as typed
}

// Form field names of an answer; what follows the colon is the check's id.
const (
	FieldText   = "text:"
	FieldSeen   = "seen:"
	FieldGauge  = "gauge:"
	FieldReason = "reason:"
	FieldNote   = "note:"
	FieldFrom   = "from:"
	FieldTool   = "tool:"
	FieldPaper  = "paper"  // the attached paper that the answers rest on: where jobs.PaperFor says so
	FieldAll    = "all"    // yes, or the gauge stopped, at every place asked that is not answered otherwise: no measurement
	FieldTake   = "take:"  // the button that takes what was perhaps meant, which is its value
	FieldKeep   = "keep:"  // the button that keeps what was typed
	FieldKept   = "kept:"  // the text that was kept before
	FieldDoubt  = "doubt:" // the text that was asked about: sent again unchanged, it stands
)

// newAsked asks one check.
func newAsked(f Frame, jobID string, c *jobs.CheckState, units length.Unit, form Form) Asked {
	style, check := units.Style(), c.Check
	a := Asked{Place: check.Place.Label, Held: heldTo(check, style), URL: CheckURL(jobID, check.ID)}
	label := check.Place.Label
	text := func(prefix, label, hint string) *Field {
		v := newField(f, prefix+check.ID, label)
		v.Hint, v.Value, v.Complete = hint, form.Text(prefix+check.ID, ""), "off"
		return &v
	}
	switch check.Ask {
	case checklist.AskLength, checklist.AskSigned, checklist.AskGap:
		a.Entry = text(FieldText, "Reading at "+label, "")
		a.settle(f, check, form)
		a.Entry.Unit, a.Entry.Signed = unitMark(units), check.Ask == checklist.AskSigned
		a.From = fromField(f, check, form)
	case checklist.AskCount:
		a.Count = text(FieldText, "Count at "+label, "A whole number.")
		a.Count.Size, a.Count.Mode = "short", "numeric"
	}
	if check.Ask == checklist.AskMoist {
		a.Count = text(FieldText, "Moisture at "+label, "")
		a.Count.Size, a.Count.Mode, a.Count.Unit = "short", "decimal", "%"
	}
	if size, ok := check.Gauge(); ok {
		a.Gauge = text(FieldGauge, "Or a gauge of "+size.Value.FormatSet(style)+" at "+label, "")
		a.Gauge.Inline, a.Gauge.Options = true, []Option{{Value: string(checklist.GaugeStopped), Label: "Stopped"}, {Value: string(checklist.GaugePassed), Label: "Passed"}, {Label: "Not used"}}
	}
	answered := text(FieldSeen, "Is it so at "+label+"?", "")
	answered.Inline = true
	if check.Witness {
		answered.Label = "Is it so at " + label + ", as you both saw it?"
	}
	a.Reason = text(FieldReason, "Why it does not apply at "+label, "")
	a.Note = text(FieldNote, "Note on "+label, "")
	none := Option{Value: string(checklist.SeenNA), Label: "Not applicable"}
	switch check.Ask {
	case checklist.AskSeen:
		a.Seen, a.More = answered, "Note, or why it does not apply"
		a.Seen.Options = []Option{{Value: string(checklist.SeenYes), Label: "Yes"}, {Value: string(checklist.SeenNo), Label: "No"}, none}
	case checklist.AskPhoto:
		a.Skip, a.More = answered, "It cannot be taken"
		a.Skip.Label, a.Reason.Label, none.Label = "Without a photograph of "+label, "Why it cannot be taken at "+label, "It cannot be taken"
		a.Skip.Options = []Option{none}
	default:
		a.Skip, a.More = answered, "Note, or no reading here"
		a.Skip.Label, a.Skip.Options = "Without a reading at "+label, []Option{none}
	}
	a.Open = a.Reason.Value+a.Note.Value+a.Reason.Error != "" || a.Skip != nil && a.Skip.Value+a.Skip.Error != ""
	if check.Photo != checklist.PhotoNone {
		a.PhotoURL, a.PhotoShows, a.PhotoCount = PhotoNewURL(jobID, check.ID), check.PhotoShows, some(len(c.Photos), " filed")
	}
	if check.Witness {
		a.PhotoShows = "" // the question says what is to be seen
	}
	if c.Current != nil {
		a.Last, a.LastAs = ReadingText(*c.Current, style), NewStatus(c.Verdict().Word())
	}
	return a
}

// fromField asks what a length is taken from. The check's own reference is picked beforehand: it is what the question says, and no reading.
func fromField(f Frame, c checklist.Check, form Form) *Field {
	if len(c.Others) == 0 {
		return nil
	}
	v := newField(f, FieldFrom+c.ID, "Taken at "+c.Place.Label+" from")
	v.Inline, v.Value = true, form.Text(FieldFrom+c.ID, string(c.Reference))
	add := func(r checklist.Reference) {
		v.Options = append(v.Options, Option{Value: string(r), Label: upperFirst(strings.TrimPrefix(string(r), "the "))})
	}
	add(c.Reference)
	for _, o := range c.Others {
		add(o.From)
	}
	return &v
}

// settle offers what was perhaps meant beside what was typed, and remembers what was asked and what was said.
func (a *Asked) settle(f Frame, c checklist.Check, form Form) {
	typed := a.Entry.Value
	if typed == "" {
		return
	}
	if form.Text(FieldKeep+c.ID, "") != "" || form.Text(FieldKept+c.ID, "") == typed {
		a.Hidden = append(a.Hidden, Button{Name: FieldKept + c.ID, Value: typed})
	}
	i := slices.IndexFunc(f.Errors, func(e FieldError) bool { return e.Field == FieldText+c.ID && e.Meant != "" })
	if i < 0 {
		return
	}
	e := f.Errors[i]
	a.Entry.Settle = []Button{{Name: FieldTake + c.ID, Value: e.Meant, Label: "Take " + e.Meant}}
	if e.Typed {
		a.Entry.Settle = append(a.Entry.Settle, Button{Name: FieldKeep + c.ID, Value: "yes", Label: "Keep " + typed})
		a.Hidden = append(a.Hidden, Button{Name: FieldDoubt + c.ID, Value: typed})
	}
}

// AnswerField is the form field that a fault of a check's answer is told beside.
func AnswerField(c checklist.Check) string {
	if c.Ask == checklist.AskSeen || c.Ask == checklist.AskPhoto {
		return FieldSeen + c.ID
	}
	return FieldText + c.ID
}

// witnessField asks once who saw what a form asks, where its checks want a witness; nil where they do not.
func witnessField(f Frame, checks []*jobs.CheckState, form Form) *Field {
	if !slices.ContainsFunc(checks, func(c *jobs.CheckState) bool { return c.Check.Witness }) {
		return nil
	}
	v := newField(f, jobs.WitnessField, "Who saw it with you")
	v.Hint, v.Value, v.Complete = "Name and office, as they gave them. The pack prints it.", form.Text(jobs.WitnessField, ""), "off"
	return &v
}

// paperField asks which attached paper an observation rests on; nil where none does, or none is attached.
func paperField(f Frame, c checklist.Check, rec *jobs.Record, form Form) *Field {
	holding := rec.PapersInForce()
	if jobs.PaperFor(c) == "" || len(holding) == 0 {
		return nil
	}
	v := newField(f, FieldPaper, "The paper that says so")
	v.Hint, v.Value, v.Options = "Kept with a yes, and printed beside it.", form.Text(FieldPaper, ""), []Option{{Label: "None is attached"}}
	for _, p := range holding {
		v.Options = append(v.Options, Option{Value: p.ID, Label: p.Label() + ", " + string(p.Kind) + ": " + p.Title})
	}
	return &v
}

// attachURL is where a paper is attached that an observation could rest on, empty where none could.
func attachURL(c checklist.Check, jobID string) string {
	if jobs.PaperFor(c) == "" {
		return ""
	}
	return JobURL(jobID, "papers", "new")
}

// toolField asks what a question is read with. Leaving it takes the usual tool.
func toolField(f Frame, c checklist.Check, job jobs.Job, form Form) *Field {
	if c.Ask == checklist.AskPhoto || c.Ask == checklist.AskCount || c.Ask == checklist.AskMoist {
		return nil
	}
	v := newField(f, "tool", "Read with")
	v.Size, v.Value = "medium", form.Text("tool", "")
	usual := checklist.UsualTool(c, checklist.Answer{})
	v.Options = []Option{{Label: upperFirst(usual.Words(job.Units.Style())) + ", as usual"}}
	for _, t := range checklist.Tools() {
		if t != usual {
			v.Options = append(v.Options, Option{Value: string(t), Label: upperFirst(t.Words(job.Units.Style()))})
		}
	}
	if job.Spec.TapeDoubt > 0 {
		v.Options = append(v.Options, Option{Value: string(checklist.ToolOwn), Label: upperFirst(checklist.OwnTape(job.Spec.TapeDoubt).Words(job.Units.Style()))})
	}
	return &v
}
