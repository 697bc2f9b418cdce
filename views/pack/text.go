package pack

import (
	"fmt"
	"strings"
)

// Text is a plain dump of the tree, one line a thing, for golden tests and for review: it shows what moved, not which
// bytes. Equal trees give equal text.
func Text(d Document) string {
	var t dump
	t.line(0, "title: %s", d.Title)
	for _, f := range []struct{ name, value string }{
		{"subtitle", d.Subtitle}, {"edition", d.Edition}, {"job", d.JobRef}, {"site", d.Site}, {"number", d.Number},
		{"issued", d.Issued}, {"rules", d.RuleSet}, {"author", d.Author}, {"lang", d.Lang},
	} {
		if f.value != "" {
			t.line(0, "%s: %s", f.name, f.value)
		}
	}
	if !d.Created.IsZero() {
		t.line(0, "created: %s", d.Created.UTC().Format("2006-01-02T15:04:05Z"))
	}
	t.facts(0, d.Facts)
	if d.QR != nil {
		t.line(0, "qr: %s (%d modules)", d.QR.Says, d.QR.Side)
	}
	for _, c := range d.Cautions {
		t.line(0, "caution: %s", c)
	}
	for _, s := range d.Sections {
		t.line(0, "")
		t.line(0, "%s %s%s", strings.Repeat("#", s.Level), s.Heading, anchor(s.ID))
		for _, b := range s.Blocks {
			t.block(b)
		}
	}
	return t.String()
}

type dump struct{ strings.Builder }

func (t *dump) line(depth int, format string, args ...any) {
	s := strings.Repeat("  ", depth) + fmt.Sprintf(format, args...)
	t.WriteString(strings.TrimRight(s, " "))
	t.WriteByte('\n')
}

func (t *dump) facts(depth int, facts []Fact) {
	for _, f := range facts {
		t.line(depth, "%s = %s", f.Key, cellText(f.Value))
	}
}

func (t *dump) block(b Block) {
	switch b := b.(type) {
	case Para:
		t.line(1, "para: %s", runText(b.Runs))
	case Note:
		kind := "note"
		if b.Caution {
			kind = "caution"
		}
		t.line(1, "%s [%s]: %s", kind, b.Label, runText(b.Runs))
	case KeyValues:
		t.line(1, "facts:")
		t.facts(2, b.Facts)
	case Numbers:
		t.line(1, "numbers:")
		for _, n := range b.Items {
			t.line(2, "%s | %s | %s", toned(n.Tone, n.Value), n.Label, n.Source)
		}
	case Table:
		t.table(b)
	case Drawing:
		t.line(1, "drawing %s: %s (%s, %g x %g mm, %d items) alt: %s", b.Number, b.Caption, b.Sheet.Scale,
			b.Sheet.Width, b.Sheet.Height, len(b.Sheet.Items), b.Sheet.Alt)
	case Photo:
		t.line(1, "photo %s%s: %s", b.Number, anchor(b.ID), b.Caption)
		t.line(2, "place %s, claimed %s, received %s, hash %s, %d x %d px, %d bytes, picture %s", b.Place, b.Claimed,
			b.Received, b.ShortHash, b.W, b.H, b.Size, b.Picture)
		t.line(2, "alt: %s", b.Alt)
		if b.Read {
			t.line(2, "to be read off")
		}
		if b.Marks != "" {
			t.line(2, "marks: %s without them: %s", b.Marks, b.Plain)
		}
		if b.Typed != "" {
			t.line(2, "typed from it: %s", b.Typed)
		}
		for _, f := range b.Flags {
			t.line(2, "flag: %s", f)
		}
	case SignOff:
		t.line(1, "sign-off:")
		for _, l := range b.Lines {
			t.line(2, "%s | name %s | office %s | date %s", l.Says, l.Name, l.Office, l.Date)
			for _, choice := range l.Choices {
				t.line(3, "box: %s", choice)
			}
			if l.Room > 0 {
				t.line(3, "%d rules to write on", l.Room)
			}
		}
	case Integrity:
		t.line(1, "integrity:")
		t.facts(2, b.Facts)
	case PageBreak:
		t.line(1, "page break")
	}
}

func (t *dump) table(b Table) {
	t.line(1, "table: %s", b.Caption)
	heads := make([]string, len(b.Columns))
	for i, c := range b.Columns {
		heads[i] = c.Head
	}
	t.line(2, "%s", strings.Join(heads, " | "))
	for _, row := range b.Rows {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = cellText(c)
		}
		t.line(2, "%s", strings.Join(cells, " | "))
	}
}

func cellText(c Cell) string {
	if c.File != "" {
		return c.Text + "(->" + c.File + ")"
	}
	return runText([]Run{{Text: strings.ReplaceAll(c.Text, "\n", " / "), Bold: c.Bold, Tone: c.Tone, To: c.To}})
}

func runText(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		s := r.Text
		if r.Bold {
			s = "*" + s + "*"
		}
		if r.To != "" {
			s += "(#" + r.To + ")"
		}
		b.WriteString(toned(r.Tone, s))
	}
	return b.String()
}

func toned(t Tone, s string) string {
	if t == Plain {
		return s
	}
	return "<" + t.String() + "> " + s
}

func anchor(id string) string {
	if id == "" {
		return ""
	}
	return " {#" + id + "}"
}
