package pack

import (
	"bytes"
	"fmt"
	"strconv"
	"time"

	"newelbook/jobs"
)

// tables are the CSV files of a pack: readings, pieces, photographs, papers and events.
func tables(x jobs.Export) ([]Payload, error) {
	b := &builder{x: &x, style: x.Job.Units.Style(), loc: x.Job.Location()}
	var out []Payload
	for _, t := range []struct {
		name string
		head []string
		rows [][]string
	}{
		{"readings", []string{"stage", "place", "check", "reading", "typed", "answer", "unit", "taken_from", "comes_to", "tool", "out_by", "held_to", "verdict", "why", "by", "claimed", "received", "layout_version", "supersedes"}, b.readingRows()},
		{"pieces", []string{"run", "label", "what", "section", "length", "length_mm", "count", "cuts", "place", "version"}, b.pieceRows()},
		{"photos", []string{"number", "sha256", "bytes", "width", "height", "stage", "place", "caption", "claimed", "offset", "camera", "received", "by", "flags"}, b.photoRows()},
		{"papers", []string{"number", "sha256", "bytes", "type", "kind", "title", "issued_by", "dated", "place", "file", "received", "by", "withdrawn", "why"}, b.paperRows()},
		{"events", []string{"sequence", "at", "offset", "actor", "role", "type", "digest", "previous", "hash"}, b.eventRows()},
	} {
		var body bytes.Buffer
		if err := WriteCSV(&body, t.head, t.rows); err != nil {
			return nil, fmt.Errorf("table of %s: %w", t.name, err)
		}
		out = append(out, Bytes("data/csv/"+t.name+".csv", body.Bytes()))
	}
	return out, nil
}

// outBy is how far a length may be out by its tool; empty where that was not needed.
func (b *builder) outBy(r jobs.Reading) string {
	if r.Result.Doubt <= 0 {
		return ""
	}
	return b.text(r.Result.Doubt)
}

func (b *builder) readingRows() [][]string {
	var rows [][]string
	add := func(checks []jobs.ExportCheck) {
		for _, c := range checks {
			for _, r := range c.Readings {
				rows = append(rows, []string{string(c.Check.Stage), c.Check.Place.Label, c.Check.Title, r.ID, r.Typed, r.Answer.Show(b.style), string(b.x.Job.Units), string(r.Answer.From), b.comes(&r), string(r.Tool), b.outBy(r),
					r.Result.HeldTo, r.Result.Verdict.Word(), r.Result.Why, r.By.Name, stamp(r.Claimed), stamp(r.Received), strconv.Itoa(r.LayoutVersion), r.Supersedes})
			}
		}
	}
	for _, st := range b.x.Stages {
		add(st.Checks)
	}
	add(b.x.Retired)
	return rows
}

func (b *builder) pieceRows() [][]string {
	var rows [][]string
	for _, l := range b.x.Layouts {
		for _, p := range l.Pieces {
			rows = append(rows, []string{l.Label, p.Label, p.What, p.Section, b.text(p.Length), strconv.FormatFloat(p.Length.Millimetres(), 'f', 3, 64), strconv.Itoa(p.Count), p.Cuts, p.Place, p.Version})
		}
	}
	return rows
}

func (b *builder) photoRows() [][]string {
	var rows [][]string
	for _, p := range b.x.Photos {
		var flags string
		for i, f := range p.Flags {
			if i > 0 {
				flags += " "
			}
			flags += f.Sentence
		}
		local := ""
		if !p.Exif.Capture.Local.IsZero() {
			local = p.Exif.Capture.Local.String()
		}
		rows = append(rows, []string{strconv.Itoa(p.Number), p.Media.String(), strconv.FormatInt(p.Bytes, 10), strconv.Itoa(p.Width), strconv.Itoa(p.Height), string(p.Stage), p.Place.Label, p.Caption,
			local, p.Exif.Capture.Offset, spaced(p.Exif.Make, p.Exif.Model), stamp(p.Received), p.By.Name, flags})
	}
	return rows
}

func (b *builder) paperRows() [][]string {
	var rows [][]string
	for _, p := range b.x.Papers {
		withdrawn := ""
		if !p.Holds() {
			withdrawn = stamp(p.Withdrawn)
		}
		rows = append(rows, []string{strconv.Itoa(p.Number), p.Media.String(), strconv.FormatInt(p.Bytes, 10), string(p.File), string(p.Kind), p.Title, p.Issuer, p.On, p.Place.Label, p.Enclosed,
			stamp(p.Received), p.By.Name, withdrawn, p.Why})
	}
	return rows
}

func spaced(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}

func (b *builder) eventRows() [][]string {
	var rows [][]string
	for _, e := range b.x.Chain {
		rows = append(rows, []string{strconv.Itoa(e.Seq), stamp(e.At), e.Offset, e.Actor.Name, string(e.Actor.Role), e.Type, e.Digest, e.Prev, e.Hash})
	}
	return rows
}

func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }
