package materials

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"newelbook/checklist/length"
)

// BoardText shows the length of a board as the yard asks for it: in feet and inches for work in inches.
func BoardText(l length.Length, style length.Style) string {
	if style == length.InchFraction {
		style = length.FeetInches
	}
	return l.Format(style)
}

// WriteText writes the list so that it reads on a terminal: the order first, then the boards with their cuts, then what the
// list leaves out and how it was made.
func WriteText(w io.Writer, list List, style length.Style) error {
	s := &sheet{style: style}
	s.title("Materials")
	if len(list.Stocks) == 0 && len(list.Counted) == 0 {
		s.line("  Nothing is laid out: there is nothing to order.")
	} else {
		s.line("  %s", list.Spares)
	}
	s.order(list)
	for _, stock := range list.Stocks {
		s.stock(stock)
	}
	if len(list.Missing) > 0 {
		s.line("\n  Not in this list")
		s.all(list.Missing)
	}
	if len(list.Notes) > 0 {
		s.line("\n  How this list was made")
		s.all(list.Notes)
	}
	_, err := w.Write(s.buf.Bytes())
	return err
}

// sheet is text in the making.
type sheet struct {
	buf   bytes.Buffer
	style length.Style
}

func (s *sheet) line(format string, args ...any) { fmt.Fprintf(&s.buf, format+"\n", args...) }

func (s *sheet) title(words string) {
	s.line("\n%s\n%s", words, strings.Repeat("=", len([]rune(words))))
}

func (s *sheet) text(l length.Length) string { return l.Format(s.style) }

// all writes sentences, one a line.
func (s *sheet) all(sentences []string) {
	for _, words := range sentences {
		s.line("    %s", words)
	}
}

// table writes rows in columns, the first row the headings. A list without rows is left out.
func (s *sheet) table(heading string, rows [][]string) {
	if len(rows) < 2 {
		return
	}
	s.line("\n  %s", heading)
	t := tabwriter.NewWriter(&s.buf, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		fmt.Fprintln(t, strings.TrimRight("    "+strings.Join(row, "\t"), "\t"))
	}
	t.Flush()
}

// order writes what to order.
func (s *sheet) order(list List) {
	rows := [][]string{{"boards", "length", "section", "species"}}
	for _, o := range list.Orders {
		rows = append(rows, []string{counted(o.Count, o.Spare), BoardText(o.Length, s.style), o.Section, orNone(o.Species)})
	}
	for _, b := range list.Beyond {
		rows = append(rows, []string{fmt.Sprint(b.Count), s.text(b.Takes), b.Section, orNone(b.Species), "in no board"})
	}
	s.table("Boards to order", rows)
	for _, b := range list.Beyond {
		s.line("    %s of %s at %s. %s", plural(b.Count, "piece"), b.Section, s.text(b.Takes), b.Words())
	}
	rows = [][]string{{"count", "piece", "cut", "point to point", "section", "for"}}
	for _, c := range list.ToBuy() {
		rows = append(rows, []string{counted(c.Count, c.Spare), c.What, s.text(c.Length), s.text(c.Takes), c.Section, strings.Join(c.Places, ", ")})
	}
	s.table("By count", rows)
	rows = [][]string{{"count", "hardware", "note [source]"}}
	for _, h := range list.Hardware {
		count, note := "?", h.Note
		if h.Known {
			count, note = counted(h.Count, h.Spare), fmt.Sprintf("%s [%s]", h.Note, h.Source)
		}
		rows = append(rows, []string{count, h.What, note})
	}
	s.table("Hardware (? is not counted)", rows)
}

// counted is a count with its spares, "24 + 2".
func counted(n, spare int) string {
	if spare == 0 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d + %d", n, spare)
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// orNone names what the layout does not know.
func orNone(name string) string {
	if name == "" {
		return "not known to the layout"
	}
	return name
}

// stock writes the boards of one section.
func (s *sheet) stock(stock Stock) {
	s.line("\n  %s, %s, for %s", stock.Section, orNone(stock.Species), strings.Join(stock.Runs, ", "))
	s.line("    %s", stock.Why)
	for _, b := range stock.Boards {
		where := ""
		if b.OnHand != "" {
			where = ", on hand"
		}
		s.line("    Board %d, %s%s, left over %s", b.Number, BoardText(b.Length, s.style), where, s.text(b.Left))
		t := tabwriter.NewWriter(&s.buf, 0, 0, 2, ' ', 0)
		for _, c := range b.Cuts {
			row := fmt.Sprintf("      %s\t%s\tfrom %s", c.Label, s.text(c.Length), s.text(c.From))
			if c.Takes != c.Length {
				row += "\tpoint to point " + s.text(c.Takes)
			}
			fmt.Fprintln(t, row)
		}
		t.Flush()
	}
	for _, u := range stock.Unplaced {
		s.line("    Not planned: %d of %s, %s. %s", u.Count, u.Label, s.text(u.Length), u.Reason)
	}
}
