package pack

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/carlos7ags/folio/content"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// StripFile is the marks of one rail at full size, to be written as a PDF. Job and Layout are words for every sheet: whose rail, and
// from which layout. Made, where it is not zero, is when that layout was made.
type StripFile struct {
	Strip       layout.Strip
	Units       length.Unit
	Paper       Paper
	Job, Layout string
	Made        time.Time
}

// StripError says why there is no strip: layout's own error, for callers that know packs and not layouts.
type StripError = layout.StripError

// ParsePaper reads the name of a paper, a4 or letter, letters large or small; an empty one is the paper that goes with the units. The
// error is a *StripError.
func ParsePaper(name string, units length.Unit) (Paper, error) {
	switch strings.ToLower(strings.TrimSpace(name)) {
	case "":
		return PaperFor(units), nil
	case "a4":
		return A4, nil
	case "letter":
		return Letter, nil
	}
	return 0, &StripError{Reason: fmt.Sprintf("There is no paper %q for a strip: choose a4 or letter.", name)}
}

// StripOf is the strip of a rail of a run as the record has it now, named as layout.FindStrip takes it. The error is jobs.ErrNotFound for a
// run without a layout, or a *StripError whose sentence says why that rail has no strip.
func StripOf(rec *jobs.Record, run jobs.Run, rail string, paper Paper) (StripFile, error) {
	v, ok := rec.Layout(run.ID)
	if !ok {
		return StripFile{}, fmt.Errorf("layout of run %s: %w", run.ID, jobs.ErrNotFound)
	}
	if run.Retired {
		return StripFile{}, &StripError{Reason: run.Label + " was taken out: mark and cut nothing for it."}
	}
	spec, _ := rec.Job.Spec.With(run.Overrides, rec.Job.Units) // faults were refused when the run was saved
	s, err := layout.FindStrip(v.Layout, run.Run, spec, rail)
	if err != nil {
		return StripFile{}, err
	}
	return StripFile{
		Strip: s, Units: rec.Job.Units, Paper: paper, Job: "Job " + rec.Job.Ref, Made: v.At,
		Layout: fmt.Sprintf("%s, layout v%d of %s, %s", run.Label, v.Version, v.At.In(rec.Job.Location()).Format("2 January 2006"), s.Version),
	}, nil
}

// Sheets draws the strip, a sheet of paper each.
func (s StripFile) Sheets() []draw.Sheet {
	o := draw.FullStripOptions{Paper: draw.FullLetter, Style: s.Units.Style(), Job: s.Job, Layout: s.Layout}
	if s.Paper == A4 {
		o.Paper = draw.FullA4
	}
	return draw.FullStrip(s.Strip, o)
}

// WriteStrip writes the strip as a tagged PDF 1.7, a page for each sheet, one millimetre of paper to a millimetre of rail; the file asks
// whoever prints it not to scale it. Fonts are those of Options. The same strip and fonts give the same bytes.
func WriteStrip(w io.Writer, s StripFile, fonts []Family) error {
	d := &Document{Title: s.Strip.Rail.Label + ", marks at full size", JobRef: s.Job, Edition: s.Layout, Lang: "en", Created: s.Made}
	if err := writeSheets(w, d, s.Paper, s.Sheets(), fonts); err != nil {
		return fmt.Errorf("write strip %s: %w", s.Strip.Rail.Label, err)
	}
	return nil
}

// writeSheets writes drawings at their true size, a page each; the file asks whoever prints it not to scale it.
func writeSheets(w io.Writer, d *Document, paper Paper, sheets []draw.Sheet, fonts []Family) error {
	set, err := newFontSet(fonts)
	if err != nil {
		return err
	}
	c := &composer{doc: d, set: &setter{set}, flow: &flow{paper: paper}, top: &element{tag: "Document"}}
	var all bytes.Buffer
	for i, sheet := range sheets {
		p := &page{w: round(sheet.Width * mm), h: round(sheet.Height * mm), out: content.NewStream(), index: i}
		c.flow.pages = append(c.flow.pages, p)
		fig := c.top.child("Figure")
		fig.alt, fig.box = sheet.Alt, &[4]float64{0, 0, p.w, p.h}
		p.tagged(fig, func() { c.sheet(p, sheet, 0, 0, mm) })
		all.Write(p.out.Bytes())
	}
	pdf := newFile(d, c, all.Bytes())
	pdf.unscaled = true
	if err := pdf.build(); err != nil {
		return err
	}
	_, err = pdf.writer.WriteToWithOptions(w, asStreams)
	return err
}
