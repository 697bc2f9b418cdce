package views

import (
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// StagePickPage asks at which places a question is to be answered. None is picked beforehand.
type StagePickPage struct {
	Frame
	URL, Key    string
	Left, Done  []Option
	LeftURL     string // asks all that are left
	LeftLabel   string
	BackURL     string
	Why, Source string
}

// StageAskPage asks one question of the places that were picked.
type StageAskPage struct {
	Frame
	Form       Form
	URL, Back  string
	Key        string
	How, Why   string
	Source     string
	Asked      []Asked
	Tool       *Field
	Witness    *Field // who saw it too, where the checks want a witness
	Paper      *Field // which attached paper the answers rest on
	AttachURL  string // attaches one
	Save       string
	PhotosOnly bool
	Settles    bool // a button within the form settles a question
	Several    bool
	Rows       bool      // the readings are a table, one box under the other
	Held       []Against // of all rows alike
	All        *Field    // yes at all of the named places
	PickURL    string
}

// Asking finds the checks that a question and picked places name, in the order of the stage. Places that do not owe the
// question are passed over. No place at all gives every check of the question. as is how the question is answered, where the
// key alone does not tell it; empty takes every one.
func Asking(st *jobs.StageSheet, key, as string, places []string) []*jobs.CheckState {
	var out []*jobs.CheckState
	for _, c := range st.Checks {
		if c.Check.Key == key && (as == "" || string(c.Check.Ask) == as) && (len(places) == 0 || slices.Contains(places, c.Check.Place.ID)) {
			out = append(out, c)
		}
	}
	return out
}

// NewStagePick is the page that picks places; checks are all of one question.
func NewStagePick(f Frame, rec *jobs.Record, sheet *jobs.Sheet, checks []*jobs.CheckState) StagePickPage {
	first := checks[0].Check
	f.Title, f.Lead = first.Title, howText(first)
	p := StagePickPage{Frame: f, URL: StageURL(rec.Job.ID, first.Stage, "ask"), Key: first.Key, BackURL: StageURL(rec.Job.ID, first.Stage), Why: first.Reason, Source: first.Source}
	if !sameHow(checks) {
		p.Lead = ""
	}
	var left []string
	for _, c := range checks {
		o := Option{Value: c.Check.Place.ID, Label: c.Check.Place.Label}
		if c.Check.Title != first.Title {
			o.Hint = c.Check.Title + "."
		}
		if !c.Answered() {
			left = append(left, c.Check.Place.ID)
			p.Left = append(p.Left, o)
			continue
		}
		o.Hint = join(o.Hint, answeredText(c, sheet))
		p.Done = append(p.Done, o)
	}
	if len(left) > 1 {
		p.LeftURL, p.LeftLabel = AskURL(rec.Job.ID, first.Stage, first.Key, left...), "All "+itoa(len(left))+" left"
	}
	return p
}

// answeredText says what a check has.
func answeredText(c *jobs.CheckState, sheet *jobs.Sheet) string {
	if c.Current == nil {
		return sayFull(counted(len(c.Photos), "photograph") + " filed")
	}
	return sayFull(ReadingText(*c.Current, sheet.Style) + ", " + c.Verdict().Word())
}

func sameHow(checks []*jobs.CheckState) bool {
	return !slices.ContainsFunc(checks, func(c *jobs.CheckState) bool { return c.Check.How != checks[0].Check.How })
}

// NewStageAsk is the page that asks one question of the checks; back is where it leads afterwards.
func NewStageAsk(f Frame, rec *jobs.Record, checks []*jobs.CheckState, form Form, back string) StageAskPage {
	first := checks[0].Check
	f.Title, f.Errors = first.Title, linked(f.Errors, append(answerFields(checks), jobs.WitnessField))
	p := StageAskPage{
		Form: form, URL: JobURL(rec.Job.ID, "readings"), Back: back, Key: first.Key, Why: first.Reason, Source: first.Source,
		Save: "Save the reading", PhotosOnly: true, PickURL: AskURL(rec.Job.ID, first.Stage, first.Key),
	}
	several := len(checks) > 1
	if !several {
		f.Place = first.Place.Label
	} else {
		f.Place, p.Save = counted(len(checks), "place"), "Save the readings"
	}
	same := sameHow(checks)
	if same {
		p.How = howText(first)
	}
	p.AttachURL = attachURL(first, rec.Job.ID)
	p.Frame, p.Several, p.Rows = f, several, several && inRows(checks)
	if several {
		p.All = allField(f, checks, rec.Job.Units.Style(), form)
	}
	if p.Rows && heldAlike(checks) {
		p.Held = heldTo(first, rec.Job.Units.Style())
	}
	for _, c := range checks {
		a := newAsked(f, rec.Job.ID, c, rec.Job.Units, form)
		if !same {
			a.How = howText(c.Check)
		}
		if several {
			a.Head = c.Check.Place.Label
		}
		if c.Check.Title != first.Title {
			a.Title = c.Check.Title
		}
		a.Row = p.Rows
		if len(p.Held) > 0 {
			a.Held = nil
		}
		if c.Check.Ask != checklist.AskPhoto {
			p.PhotosOnly = false
		}
		if p.Tool == nil {
			p.Tool = toolField(f, c.Check, rec.Job, form)
		}
		if p.Paper == nil {
			p.Paper = paperField(f, c.Check, rec, form)
		}
		p.Settles = p.Settles || a.Entry != nil && len(a.Entry.Settle) > 0
		p.Asked = append(p.Asked, a)
	}
	p.Witness = witnessField(f, checks, form)
	if p.PhotosOnly {
		p.Save = "Save without a photograph"
	}
	return p
}

// inRows says whether the answers are one number each, or what a gauge did, so that they make a table which is filled in from box to box.
func inRows(checks []*jobs.CheckState) bool {
	return !slices.ContainsFunc(checks, func(c *jobs.CheckState) bool {
		return c.Check.Ask == checklist.AskSeen || c.Check.Ask == checklist.AskPhoto
	})
}

// heldAlike says whether every check is held to the same figures.
func heldAlike(checks []*jobs.CheckState) bool {
	first := checks[0].Check
	return !slices.ContainsFunc(checks, func(c *jobs.CheckState) bool {
		k := c.Check
		return k.Built || first.Built || !slices.Equal(k.Limits, first.Limits) || k.HasTol != first.HasTol || k.Plus != first.Plus || k.Minus != first.Minus ||
			(k.Nominal == nil) != (first.Nominal == nil) || k.Nominal != nil && *k.Nominal != *first.Nominal ||
			(k.Moist == nil) != (first.Moist == nil) || k.Moist != nil && *k.Moist != *first.Moist ||
			(k.Count == nil) != (first.Count == nil) || k.Count != nil && *k.Count != *first.Count
	})
}

// allField answers every place at once, each named beside it: yes, or stopped by a gauge that is alike for all. A measurement has no such
// field: none is ever filled in.
func allField(f Frame, checks []*jobs.CheckState, style length.Style, form Form) *Field {
	var names []string
	first, gauge := checks[0].Check.Gauge()
	for _, c := range checks {
		names = append(names, c.Check.Place.Label)
		own, ok := c.Check.Gauge()
		gauge = gauge && ok && own.Value == first.Value
	}
	label, did := "Yes at all "+itoa(len(checks)), "I looked at each"
	switch {
	case gauge:
		label, did = "Stopped at all "+itoa(len(checks)), "I tried a gauge of "+first.Value.FormatSet(style)+" at each"
	case checks[0].Check.Ask != checklist.AskSeen:
		return nil
	}
	v := newField(f, FieldAll, label)
	v.Hint = did + ": " + strings.Join(names, ", ") + ". What is answered otherwise below stays so."
	v.Ticked = form.Text(FieldAll, "") != ""
	return &v
}

// ForAll is the answer of one tick for every place: yes to an observation, stopped by a gauge. A measurement is never filled in.
func ForAll(c checklist.Check) (seen, gauge string) {
	if c.Ask == checklist.AskSeen {
		return string(checklist.SeenYes), ""
	}
	if _, ok := c.Gauge(); ok {
		return "", string(checklist.GaugeStopped)
	}
	return "", ""
}

// answerFields are the names of the fields that answer the checks.
func answerFields(checks []*jobs.CheckState) []string {
	var names []string
	for _, c := range checks {
		names = append(names, AnswerField(c.Check))
	}
	return names
}
