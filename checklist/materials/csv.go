package materials

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"newelbook/checklist/length"
)

// WriteCSV writes the order as a table for a spreadsheet: boards by section and length, pieces that come out of no board, what is bought by count, hardware and
// fasteners, what is not counted with an empty count. Rows end in CR LF (RFC 4180). A field that a spreadsheet would take for a
// formula begins with an apostrophe.
func WriteCSV(w io.Writer, list List, style length.Style) error {
	unit := "in"
	if style == length.Metric {
		unit = "mm"
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	row := func(fields ...string) {
		for i, f := range fields {
			if f != "" && strings.ContainsRune("=+-@\t\r", rune(f[0])) {
				fields[i] = "'" + f
			}
		}
		_ = out.Write(fields) // the writer keeps its first error
	}
	count := func(n, spare int) (needed, over, order string) {
		return strconv.Itoa(n), strconv.Itoa(spare), strconv.Itoa(n + spare)
	}
	row("kind", "item", "section", "wood", "length", "length "+unit, "needed", "spare", "order", "note")
	for _, o := range list.Orders {
		n, spare, order := count(o.Count, o.Spare)
		row("board", "board", o.Section, o.Species, BoardText(o.Length, style), decimal(o.Length, style), n, spare, order, "")
	}
	for _, b := range list.Beyond {
		n, spare, order := count(b.Count, 0)
		row("piece", "in no board", b.Section, b.Species, BoardText(b.Takes, style), decimal(b.Takes, style), n, spare, order, b.Words())
	}
	for _, c := range list.ToBuy() {
		n, spare, order := count(c.Count, c.Spare)
		note := c.Cuts
		if c.Takes != c.Length {
			note += "; " + c.Takes.Format(style) + " from point to point"
		}
		row("piece", c.What, c.Section, "", c.Length.Format(style), decimal(c.Length, style), n, spare, order, note)
	}
	for _, h := range list.Hardware {
		if !h.Known {
			row("hardware", h.What, "", "", "", "", "", "", "", h.Note)
			continue
		}
		n, spare, order := count(h.Count, h.Spare)
		row("hardware", h.What, "", "", "", "", n, spare, order, h.Note)
	}
	for _, sentence := range append([]string{list.Spares}, list.Missing...) {
		if sentence != "" {
			row("note", "", "", "", "", "", "", "", "", sentence)
		}
	}
	out.Flush()
	return out.Error()
}

// decimal is a length as a bare decimal number of the job's unit, to a thousandth.
func decimal(l length.Length, style length.Style) string {
	unit := length.Inch
	if style == length.Metric {
		unit = length.Millimetre
	}
	thousandths := length.MulDiv(l, 1000, int64(unit))
	whole, rest := int64(thousandths)/1000, int64(thousandths)%1000
	if rest == 0 {
		return strconv.FormatInt(whole, 10)
	}
	return strings.TrimRight(strconv.FormatInt(whole, 10)+"."+strconv.FormatInt(1000+rest, 10)[1:], "0")
}
