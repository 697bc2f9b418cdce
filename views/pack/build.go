package pack

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/media"
)

// Picture is a derived picture of an original that the pack shows.
type Picture struct {
	Payload
	W, H int
}

// Facts is what a pack is built from: the frozen record, the hash of its record.json, and the pictures that it shows.
type Facts struct {
	Record     jobs.Export
	RecordHash Hash
	Pictures   map[media.ID]Picture
	Marked     map[string]Picture // with marks drawn over them, by the photograph's id
}

// builder walks the facts. Everything that it writes follows from them.
type builder struct {
	Facts
	x     *jobs.Export
	style length.Style
	loc   *time.Location
}

// Edition is for whom, or for what, a document of the pack is made. It names the files: owner.pdf, html/owner.html.
type Edition string

// The editions. FramingRequest is one page that asks for the inspection before decking.
const (
	OwnerEdition     Edition = jobs.EditionOwner
	InspectorEdition Edition = jobs.EditionInspector
	FramingRequest   Edition = jobs.EditionFraming
)

// CalendarFile is the name of the calendar of care in a pack.
const CalendarFile = "care.ics"

// PDF is the name of an edition's file to print, below data/.
func (e Edition) PDF() string { return string(e) + ".pdf" }

// HTML is the name of an edition's page, below data/.
func (e Edition) HTML() string { return "html/" + string(e) + ".html" }

// Tree is all that a pack says, made once from one set of frozen facts: the head that every document of it shares, and parts by
// the ID of their first section. An Edition chooses among the parts and orders them; no edition has text of its own beside it.
type Tree struct {
	head  Document
	parts map[string][]Section
	asks  bool // the framing is still to be inspected
}

// editions says what stands in each edition and in which order, by the IDs of parts.
var editions = map[Edition]struct {
	name  string
	parts []string
}{
	OwnerEdition: {"Owner's edition", []string{"guard", "unusual", "care", "instructions", "never", "call", "changes", "signoffs", "integrity"}},
	InspectorEdition: {"Inspector's edition", []string{"attention", "changes", "scope", "drops", "papers", "fixings", "rules", "stages", "concealed",
		"photographs", "deviations", "built", "diary", "signoffs", "integrity"}},
	FramingRequest: {"Request for an inspection before decking", []string{"request"}},
}

// Build turns frozen facts into the tree. It is pure: the same facts give the same tree. What is missing stands as "not recorded".
func Build(f Facts) Tree {
	b := &builder{Facts: f, x: &f.Record, style: f.Record.Job.Units.Style(), loc: f.Record.Job.Location()}
	job := b.x.Job
	t := Tree{parts: map[string][]Section{}, asks: b.framingOpen()}
	t.head = Document{
		Title: job.Name, Subtitle: b.purpose(),
		JobRef: job.Ref, Site: job.Site, Number: fmt.Sprintf("Pack %d", b.x.Pack), Issued: b.x.Frozen.In(b.loc).Format("2 January 2006"),
		RuleSet: b.x.Rules.Name, Author: job.Builder, Lang: "en", Created: b.x.Frozen.In(b.loc), Source: "sha256:" + b.RecordHash.String(),
		Facts: []Fact{
			b.fact("Owner", job.Owner), b.fact("Builder", job.Builder), b.fact("Reach the builder", job.Contact), b.fact("Permit", job.Permit),
			b.fact("Authority", job.Authority), b.fact("Work began", b.day(job.Begun)), b.fact("Lengths", unitWords(job.Units)), b.fact("Time zone", job.Zone),
		},
		Cautions: Cautions(),
	}
	t.head.QR = b.name()
	t.head.Facts = append(t.head.Facts, b.fact("The code holds", t.head.QR.Says))
	for _, part := range [][]Section{
		{b.guard()}, b.unusualPart(), b.care(), b.instructions(), {b.never()}, {b.call()},
		b.summary(), {b.scope()}, {b.drops()}, {b.papers()}, {b.fixings()}, {b.rules()}, b.stages(), {b.concealed()}, {b.photographs()},
		{b.deviations()}, b.built(), {b.diary()}, b.changes(), {b.signOffs()}, {b.integrity()}, {b.request()},
	} {
		if len(part) > 0 {
			t.parts[part[0].ID] = part
		}
	}
	return t
}

// Editions lists the documents that the pack holds.
func (t Tree) Editions() []Edition {
	out := []Edition{OwnerEdition, InspectorEdition}
	if t.asks {
		out = append(out, FramingRequest)
	}
	return out
}

// Edition is one document of the tree. Links to what stands in another edition alone are text in this one.
func (t Tree) Edition(e Edition) Document {
	d := t.head
	d.Edition = editions[e].name
	if e == FramingRequest { // one page has room for what a desk needs to know the job, and one caution
		d.OnePage, d.Subtitle, d.Cautions, d.QR = true, "", d.Cautions[:1], nil
		d.Facts = slices.DeleteFunc(slices.Clone(d.Facts), func(f Fact) bool {
			return !slices.Contains([]string{"Builder", "Reach the builder", "Permit", "Authority"}, f.Key)
		})
	}
	for _, id := range editions[e].parts {
		d.Sections = append(d.Sections, t.parts[id]...)
	}
	return d.linkedWithin()
}

// Cautions are those that fit every pack and every printed layout.
func Cautions() []string {
	return []string{
		"A guard stops falls. This record says what was measured against which figure; it does not say that the work meets a code. The adopted code and its local amendments govern.",
		"Loads, and details that the tables do not cover, belong to a licensed professional. Pushing by hand is not a load test.",
	}
}

func (b *builder) purpose() string {
	if b.x.Purpose == "" {
		return "Handover record"
	}
	return b.x.Purpose
}

func (b *builder) fact(key, value string) Fact { return Fact{Key: key, Value: recorded(value)} }

// recorded is a cell that says so when there is nothing to put in it.
func recorded(text string) Cell {
	if strings.TrimSpace(text) == "" {
		return Cell{Text: "not recorded", Tone: Missing}
	}
	return Cell{Text: text}
}

func (b *builder) text(l length.Length) string { return l.Format(b.style) }

// moment is an instant in the job's zone, with its offset.
func (b *builder) moment(t time.Time) string {
	if t.IsZero() {
		return "not recorded"
	}
	return t.In(b.loc).Format("2 Jan 2006 15:04 -07:00")
}

func (b *builder) day(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 January 2006")
}

func unitWords(u length.Unit) string {
	if u == length.Millimetres {
		return "millimetres"
	}
	return "feet and inches"
}

func para(text string) Para { return Para{Runs: []Run{{Text: text}}} }

func caution(text string) Note {
	return Note{Label: "Caution", Caution: true, Runs: []Run{{Text: text}}}
}

// toneOf is how a verdict stands out.
func toneOf(v checklist.Verdict) Tone {
	switch v {
	case checklist.Good:
		return Good
	case checklist.TooClose:
		return TooClose
	case checklist.OffLayout:
		return OffLayout
	case checklist.FailsLimit:
		return Fails
	}
	return Unchecked
}

// current is the reading that stands for a check, nil when there is none.
func current(c jobs.ExportCheck) *jobs.Reading {
	for i := range c.Readings {
		if c.Readings[i].ID == c.Current {
			return &c.Readings[i]
		}
	}
	return nil
}
