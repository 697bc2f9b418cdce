package pack

import (
	"fmt"
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
}

// builder walks the facts. Everything that it writes follows from them.
type builder struct {
	Facts
	x     *jobs.Export
	style length.Style
	loc   *time.Location
}

// Build turns frozen facts into the document tree: summary and anything unusual first, what was built, the rules applied,
// stage by stage what was required and measured, deviations, photographs, care and cautions, sign-offs, integrity. It is
// pure: the same facts give the same tree. What is missing stands as "not recorded".
func Build(f Facts) Document {
	b := &builder{Facts: f, x: &f.Record, style: f.Record.Job.Units.Style(), loc: f.Record.Job.Location()}
	job := b.x.Job
	d := Document{
		Title: job.Name, Subtitle: b.purpose(), Edition: "Record of the guard, for owner and inspector",
		JobRef: job.Ref, Site: job.Site, Number: fmt.Sprintf("Pack %d", b.x.Pack), Issued: b.x.Frozen.In(b.loc).Format("2 January 2006"),
		RuleSet: b.x.Rules.Name, Author: job.Builder, Lang: "en", Created: b.x.Frozen.In(b.loc), Source: "sha256:" + b.RecordHash.String(),
		Facts: []Fact{
			b.fact("Owner", job.Owner), b.fact("Builder", job.Builder), b.fact("Reach the builder", job.Contact), b.fact("Permit", job.Permit),
			b.fact("Authority", job.Authority), b.fact("Work began", b.day(job.Begun)), b.fact("Lengths", unitWords(job.Units)), b.fact("Time zone", job.Zone),
		},
		Cautions: Cautions(),
	}
	d.Sections = append(d.Sections, b.summary()...)
	d.Sections = append(d.Sections, b.built()...)
	d.Sections = append(d.Sections, b.rules())
	d.Sections = append(d.Sections, b.stages()...)
	d.Sections = append(d.Sections, b.deviations())
	d.Sections = append(d.Sections, b.diary())
	d.Sections = append(d.Sections, b.photographs())
	d.Sections = append(d.Sections, b.care()...)
	d.Sections = append(d.Sections, b.signOffs(), b.integrity())
	return d
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
