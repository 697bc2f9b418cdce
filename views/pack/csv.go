package pack

import (
	"fmt"
	"io"
	"strings"
)

// WriteCSV writes a table as RFC 4180 does: fields between commas, rows ended by CR LF, quotes only where they are needed
// and doubled inside. The text is UTF-8 without a byte-order mark. Every row must have as many fields as the head. Known
// weakness: a field that begins like a formula is written as it is, so a spreadsheet should import it as text.
func WriteCSV(w io.Writer, head []string, rows [][]string) error {
	var b strings.Builder
	row := func(fields []string) {
		for i, f := range fields {
			if i > 0 {
				b.WriteByte(',')
			}
			if strings.ContainsAny(f, ",\"\r\n") || f != strings.TrimSpace(f) || f == "" && len(fields) == 1 {
				f = `"` + strings.ReplaceAll(f, `"`, `""`) + `"`
			}
			b.WriteString(f)
		}
		b.WriteString("\r\n")
	}
	row(head)
	for i, r := range rows {
		if len(r) != len(head) {
			return fmt.Errorf("write CSV: row %d has %d fields, the head %d", i+1, len(r), len(head))
		}
		row(r)
	}
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("write CSV: %w", err)
	}
	return nil
}
