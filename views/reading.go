package views

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// ReadingText is what a reading says, as short text: 41 3/8", 14, yes.
func ReadingText(r jobs.Reading, style length.Style) string {
	a := r.Answer
	switch {
	case a.Length != nil:
		return a.Length.Format(style)
	case a.Count != nil:
		return itoa(*a.Count)
	case a.Moisture != nil:
		return a.Moisture.String()
	case a.Gauge == checklist.GaugeStopped:
		return "gauge stopped"
	case a.Gauge == checklist.GaugePassed:
		return "gauge passed"
	}
	return string(a.Seen)
}

// ReadingMeasure is a reading set large: its value, the verdict as it was given, and what it was held to.
func ReadingMeasure(r jobs.Reading, job jobs.Job, style length.Style) Measure {
	m := Measure{
		Label: r.Check.Title, Value: ReadingText(r, style), Place: r.Check.Place.Label, Held: heldTo(r.Check, style),
		Status: NewStatus(r.Result.Verdict.Word()), Note: join(r.Result.Why, readBy(r, job)),
	}
	if r.Note != "" {
		m.Note += " Note: " + sayFull(r.Note)
	}
	return m
}

// readBy says who read it, when and with what.
func readBy(r jobs.Reading, job jobs.Job) string {
	text := r.By.Name + between(" with ", r.Answer.Witness, "") + ", " + stamp(r.Received, job.Location())
	if r.SameAs != "" {
		text += ", said to be the same as the rest of the run"
	} else if word := r.ReadWith(job.Units.Style()); word != "" {
		text += ", " + word
	}
	if r.Answer.From != "" {
		text += ", from " + string(r.Answer.From)
	}
	return sayFull(text)
}

// heldTo lists the figures that a check holds a reading to, limits first.
func heldTo(c checklist.Check, style length.Style) []Against {
	var out []Against
	for _, l := range c.Limits {
		source := strings.Trim(strings.Join([]string{l.Clause, l.Edition, l.Standing}, ", "), ", ")
		if l.Amended != "" {
			source = "said by " + l.Amended + "; " + source
		}
		out = append(out, Against{Label: "Limit", Value: bounded(string(l.Bound), l.Value.FormatFigure(style)), Source: source})
	}
	label := "Layout"
	if c.Built {
		label = "As built"
	}
	switch {
	case c.Moist != nil:
		held := Against{Label: "Job's own", Value: "at most " + c.Moist.Dry.String(), Source: "the stock was entered as dry"}
		if c.Moist.Wet {
			held.Value, held.Source = "over "+c.Moist.Dry.String(), "the stock was entered as wet"
		}
		out = append(out, held)
	case c.Count != nil:
		out = append(out, Against{Label: label, Value: itoa(*c.Count)})
	case c.Nominal != nil && c.HasTol:
		out = append(out, Against{Label: label, Value: c.Nominal.Format(style), Source: toleranceText(c, style)})
	}
	if c.Built && c.Was != nil && c.Nominal != nil && *c.Was != *c.Nominal {
		out = append(out, Against{Label: "Planned", Value: c.Was.Format(style)})
	}
	return out
}

// toleranceText is a check's workmanship tolerance in words.
func toleranceText(c checklist.Check, style length.Style) string {
	switch {
	case c.Plus == c.Minus:
		return "plus or minus " + c.Plus.Format(style)
	case c.Plus == 0:
		return "nothing over, " + c.Minus.Format(style) + " under"
	case c.Minus == 0:
		return c.Plus.Format(style) + " over, nothing under"
	}
	return c.Plus.Format(style) + " over, " + c.Minus.Format(style) + " under"
}

// howText is how a check is read, and what of it is a sample.
func howText(c checklist.Check) string {
	if c.Sample == "" {
		return c.How
	}
	return join(c.How, "A sample: "+c.Sample+".")
}

// fromText says what a reading was taken from, where that is not the check's own reference.
func fromText(r jobs.Reading) string {
	if r.Answer.From == r.Check.Reference || r.Answer.From == "" {
		return ""
	}
	return "from " + string(r.Answer.From)
}

// checkRow is one line for a check: its current reading and verdict.
func checkRow(jobID string, c *jobs.CheckState, sheet *jobs.Sheet) Row {
	r := Row{Place: c.Check.Place.Label, Label: c.Check.Title, URL: CheckURL(jobID, c.Check.ID), Status: NewStatus(c.Verdict().Word())}
	if c.Current != nil {
		r.Figure, r.Note = ReadingText(*c.Current, sheet.Style), c.Current.Result.Why
	}
	return r
}

// relaid says what a measured opening made of its bay: the rails and balusters now beside those planned. Empty where the reading
// laid nothing out again.
func relaid(r jobs.Reading, rec *jobs.Record, style length.Style) string {
	bay, ok := bayOf(r, rec)
	if !ok || bay.Built == nil || r.Answer.Length == nil {
		return ""
	}
	now := fmt.Sprintf("%s was laid out again from the measured %s: rails now %s", bay.Label, r.Answer.Length.Format(style), railsText(bay.Built, style))
	if bay.Planned == nil {
		return now + "."
	}
	now += ", planned " + railsText(bay.Planned, style)
	balusters, planned := infillText(bay.Built.Infill, style), infillText(bay.Planned.Infill, style)
	if balusters == planned {
		return now + "; " + balusters + ", as planned."
	}
	return now + "; now " + balusters + ", planned " + planned + "."
}

// bayOf is the bay of the newest layout that an opening was read at.
func bayOf(r jobs.Reading, rec *jobs.Record) (layout.Bay, bool) {
	if r.Check.Key != checklist.KeyOpeningBottom && r.Check.Key != checklist.KeyOpeningTop {
		return layout.Bay{}, false
	}
	v, _ := rec.Layout(r.Check.Place.RunID)
	for _, b := range v.Layout.Bays {
		if b.Number == r.Check.Place.Number {
			return b, true
		}
	}
	return layout.Bay{}, false
}

func railsText(p *layout.Parts, style length.Style) string {
	top, bottom := p.Top.Cut.Format(style), p.Bottom.Cut.Format(style)
	if top == bottom {
		return top
	}
	return top + " at the top and " + bottom + " at the bottom"
}

func infillText(i layout.Infill, style length.Style) string {
	return fmt.Sprintf("%s at most %s apart", i.Counted(), i.Widest().Format(style))
}
