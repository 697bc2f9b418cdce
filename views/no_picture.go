package views

import (
	"fmt"
	"html"
	"strings"
)

// NoPictureCard is the picture shown where there is none, as SVG: which photograph, and why, in words. heic is true for an original
// that nobody can show here; otherwise its file is damaged.
func NoPictureCard(number, kind string, heic bool) []byte {
	lines := []string{number, "The file is damaged", "and can’t be shown.", "It is kept as it came."}
	if heic {
		lines = []string{number, strings.ToUpper(kind) + " original, kept whole.", "It can’t be shown here:", "open the original."}
	}
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 320 240" width="320" height="240" role="img"><rect width="320" height="240" fill="#f1eee5"/>` +
		`<rect x="6.5" y="6.5" width="307" height="227" fill="none" stroke="#cdc9bc"/><g fill="#181b19" text-anchor="middle" font-family="sans-serif">`)
	for i, line := range lines {
		size, weight := 19, 400
		if i == 0 {
			size, weight = 24, 600
		}
		fmt.Fprintf(&b, `<text x="160" y="%d" font-size="%d" font-weight="%d">%s</text>`, 80+34*i, size, weight, html.EscapeString(line))
	}
	b.WriteString("</g></svg>")
	return []byte(b.String())
}
