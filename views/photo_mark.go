package views

import (
	"slices"
	"strconv"

	"newelbook/jobs"
	"newelbook/media"
)

// MarkKindField is the name of the field that says of which kind a photograph's i-th mark is, from 0.
func MarkKindField(i int) string { return "mark-" + strconv.Itoa(i) }

// spareMarks is how many empty lines for marks a form has.
const spareMarks = 3

// PhotoMarks is the form that says what a photograph shows and draws over copies of it.
type PhotoMarks struct {
	URL     string
	Shows   *Field // nil where nothing is listed for the stage
	Reading *Field // nil where nothing was measured at its place
	Lines   []MarkLine
	Most    string // that no more can be drawn, empty while more can
}

// MarkLine is the fields of one mark.
type MarkLine struct {
	Title                        string
	Kind                         *Field
	FromX, FromY, ToX, ToY, Text *Field
}

// newPhotoMarks is that form.
func newPhotoMarks(f Frame, rec *jobs.Record, sheet *jobs.Sheet, x jobs.Photo, form Form) PhotoMarks {
	p := PhotoMarks{URL: PhotoURL(rec.Job.ID, x.ID, "marks")}
	if form.Typed != nil && form.Typed[MarkKindField(0)] == nil {
		form = Form{ID: form.ID} // the other form of the page came back
	}
	if things := jobs.Showable(x.Stage, rec.Job.Photo); len(things) > 0 {
		p.Shows = filterField(f, "shows", "What it shows", nil, "")
		for _, thing := range things {
			p.Shows.Options = append(p.Shows.Options, Option{Value: thing, Label: upperFirst(thing)})
		}
		p.Shows.Values, p.Shows.Inline = form.All("shows", x.Shows...), true
	}
	p.Reading = readingField(f, rec, sheet, x, form)
	for i := range min(jobs.MostMarks, len(x.Marks)+spareMarks) {
		var m media.Mark
		if i < len(x.Marks) {
			m = x.Marks[i]
		}
		p.Lines = append(p.Lines, markLine(f, i, m, form))
	}
	if len(x.Marks) == jobs.MostMarks {
		p.Most = "No more than " + itoa(jobs.MostMarks) + " marks go over one photograph: take one out to draw another."
	}
	return p
}

func markLine(f Frame, i int, m media.Mark, form Form) MarkLine {
	kind := MarkKindField(i)
	l := MarkLine{Title: "Mark " + itoa(i+1)}
	l.Kind = filterField(f, kind, "Kind", []Option{{Label: "None"}, {Value: string(media.MarkArrow), Label: "Arrow"}, {Value: string(media.MarkCircle), Label: "Circle"}, {Value: string(media.MarkMeasure), Label: "Measured note"}}, form.Text(kind, string(m.Kind)))
	percent := func(part, label string, n int) *Field {
		v := filterField(f, jobs.MarkField(kind, part), label, nil, "")
		if m.Kind != "" {
			v.Value = strconv.FormatFloat(float64(n)/10, 'f', -1, 64)
		}
		v.Value, v.Unit, v.Mode, v.Size, v.Complete = form.Text(v.Name, v.Value), "%", "decimal", "short", "off"
		return v
	}
	l.FromX, l.FromY = percent("from_x", "From, across", m.FromX), percent("from_y", "From, down", m.FromY)
	l.ToX, l.ToY = percent("to_x", "To, across", m.ToX), percent("to_y", "To, down", m.ToY)
	l.Text = filterField(f, jobs.MarkField(kind, "text"), "Words", nil, form.Text(jobs.MarkField(kind, "text"), m.Text))
	l.Text.Complete = "off"
	return l
}

// readingField offers the measured readings at the photograph's place, newest first, and the one that it is joined to.
func readingField(f Frame, rec *jobs.Record, sheet *jobs.Sheet, x jobs.Photo, form Form) *Field {
	v := filterField(f, "reading", "Reading typed from it", []Option{{Label: "None"}}, form.Text("reading", x.ReadingID))
	v.Hint = "Where a tape in the picture was read, so that the two stay together."
	v.Size = ""
	for _, r := range slices.Backward(rec.Readings) {
		if r.Answer.Length != nil && (r.Check.Place.ID == x.Place.ID || r.ID == x.ReadingID) {
			v.Options = append(v.Options, Option{Value: r.ID, Label: r.Check.Place.Label + ", " + lowerFirst(r.Check.Title) + ": " + ReadingText(r, sheet.Style)})
		}
	}
	if len(v.Options) == 1 {
		return nil
	}
	return v
}
