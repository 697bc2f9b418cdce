package pack

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"newelbook/views/draw"
	"newelbook/views/fonts"
)

//go:embed html/pack.html
var htmlTemplates string

// htmlStyle is the style sheet of the HTML, for the page that opens from a folder as well as for a page of the server.
//
//go:embed html/pack.css
var htmlStyle []byte

// HTML are the options of WriteHTML and WriteBody. Style is where the page finds its style sheet, Picture where it finds
// the picture that a Photo names; nil leaves the name as it is. Untitled leaves the title out of WriteBody, for a page
// that has its own h1.
type HTML struct {
	Style    string
	Picture  func(name string) string
	Untitled bool
}

// at is where a page finds the picture of that name.
func (o HTML) at(name string) string {
	if o.Picture == nil {
		return name
	}
	return o.Picture(name)
}

// WriteHTML writes the document as one page that opens from a folder with no server: no script, no form, nothing from the
// network. The same document and options give the same bytes.
func WriteHTML(w io.Writer, d Document, o HTML) error { return writeHTML(w, "page", d, o) }

// WriteBody writes what stands within the page, for a page of the server that links the style sheet itself. Its headings
// follow an h1, its own or the page's.
func WriteBody(w io.Writer, d Document, o HTML) error { return writeHTML(w, "body", d, o) }

// Style is the style sheet that WriteHTML's page and WriteBody's part of one are made for.
func Style() []byte { return bytes.Clone(htmlStyle) }

func writeHTML(w io.Writer, name string, d Document, o HTML) error {
	if err := d.Check(); err != nil {
		return fmt.Errorf("write HTML of %s: %w", d.Number, err)
	}
	base, err := htmlSet()
	if err != nil {
		return fmt.Errorf("write HTML of %s: %w", d.Number, err)
	}
	t, err := base.Clone()
	if err != nil {
		return fmt.Errorf("write HTML of %s: %w", d.Number, err)
	}
	t.Funcs(template.FuncMap{
		"show": func(b Block) (template.HTML, error) {
			var out bytes.Buffer
			err := t.ExecuteTemplate(&out, reflect.TypeOf(b).Name(), b)
			return template.HTML(out.String()), err
		},
		"picture": func(p Photo) string { return o.at(p.Picture) },
		"plain":   func(p Photo) string { return o.at(p.Plain) },
	})
	var out bytes.Buffer
	if err := t.ExecuteTemplate(&out, name, newHTMLView(d, o, name == "page" || !o.Untitled)); err != nil {
		return fmt.Errorf("write HTML of %s: %w", d.Number, err)
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("write HTML of %s: %w", d.Number, err)
	}
	return nil
}

// htmlSet parses the templates once; nothing changes them afterwards.
var htmlSet = sync.OnceValues(func() (*template.Template, error) {
	return template.New("pack").Funcs(htmlFuncs()).Parse(htmlTemplates)
})

// htmlView is a document as the templates see it.
type htmlView struct {
	Document
	Style    string
	Headed   bool
	Block    []Fact
	Contents []Section
	Parts    []htmlPart
}

// htmlPart is a part of the pack: a section of level 1 and the deeper ones after it.
type htmlPart struct {
	ID       string
	Sections []Section
}

func newHTMLView(d Document, o HTML, headed bool) htmlView {
	v := htmlView{Document: d, Style: o.Style, Headed: headed, Block: d.titleBlock()}
	deepest := 0
	for i, s := range d.Sections {
		s.Level = min(max(s.Level, 1), 3, deepest+1)
		deepest = s.Level
		if s.ID == "" {
			s.ID = "section-" + strconv.Itoa(i+1)
		}
		if s.Level == 1 {
			v.Parts = append(v.Parts, htmlPart{ID: s.ID})
		}
		if s.Level <= 2 && !d.OnePage {
			v.Contents = append(v.Contents, s)
		}
		last := &v.Parts[len(v.Parts)-1]
		last.Sections = append(last.Sections, s)
	}
	return v
}

// htmlFuncs shape text; none of them decides anything. Those that need the options are replaced for each page.
func htmlFuncs() template.FuncMap {
	return template.FuncMap{
		"show":    func(Block) template.HTML { return "" },
		"picture": func(Photo) string { return "" },
		"plain":   func(Photo) string { return "" },
		"fr":      fractions,
		"runs":    htmlRuns,
		"cell":    htmlCell,
		"mark":    htmlMark,
		"class":   toneClass,
		"warning": func() template.HTML {
			return `<svg class="pack-mark" viewBox="0 0 16 16" aria-hidden="true" focusable="false"><path d="M8 1.6 15 14H1zM8 6v4M8 12.2v.1"/></svg>`
		},
		"full": func(s string) string { return strings.TrimRight(s, ". ") + "." },
		"align": func(a Align) string {
			return [...]string{Left: "is-left", Right: "is-right", Middle: "is-middle"}[a]
		},
		"at": func(row []Cell, i int) template.HTML {
			if i >= len(row) {
				return ""
			}
			return htmlCell(row[i])
		},
		"failing": func(row []Cell) bool {
			for _, c := range row {
				if c.Tone == Fails {
					return true
				}
			}
			return false
		},
		"said":      func(s string) template.HTML { return orElse(s, "not recorded") },
		"signed":    func(s string) template.HTML { return orElse(s, "not signed here") },
		"attention": func(s string) template.HTML { return htmlCell(Cell{Text: s, Bold: true, Tone: Attention}) },
		"svg": func(s draw.Sheet) (template.HTML, error) {
			var b strings.Builder
			err := draw.SVG(&b, s)
			return template.HTML(b.String()), err
		},
		"qrSide": func(q *QR) int { return q.Side + 8 },
		"qrPath": qrPath,
	}
}

func orElse(s, none string) template.HTML {
	if s == "" {
		return htmlCell(Cell{Text: none, Tone: Missing})
	}
	return fractions(s)
}

// fractions escapes text and wraps its fractions, which stay text: copied, spoken or searched they read 3 15/16.
func fractions(text string) template.HTML {
	var b strings.Builder
	for _, r := range draw.Runs(text) {
		s := strings.ReplaceAll(template.HTMLEscapeString(r.Body), "\n", "<br>")
		switch r.Kind {
		case draw.Whole:
			s = `<span class="whole">` + s + `</span>`
		case draw.Fraction:
			s = `<span class="fr">` + s + `</span>`
		}
		b.WriteString(s)
	}
	return template.HTML(b.String())
}

func htmlCell(c Cell) template.HTML {
	if c.File != "" { // pages stand in a folder beside it
		return template.HTML(`<a href="../` + template.HTMLEscapeString(c.File) + `">` + string(fractions(c.Text)) + "</a>")
	}
	return htmlRuns([]Run{{Text: c.Text, Bold: c.Bold, Tone: c.Tone, To: c.To}})
}

func htmlRuns(runs []Run) template.HTML {
	var b strings.Builder
	for _, r := range runs {
		s := string(fractions(r.Text))
		if r.Bold {
			s = "<b>" + s + "</b>"
		}
		if r.To != "" {
			s = `<a href="#` + template.HTMLEscapeString(r.To) + `">` + s + "</a>"
		}
		if r.Tone != Plain {
			s = `<span class="` + toneClass(r.Tone) + `">` + string(htmlMark(r.Tone)) + s + "</span>"
		}
		b.WriteString(s)
	}
	return template.HTML(b.String())
}

func toneClass(t Tone) string { return "pack-tone is-" + strings.ReplaceAll(t.String(), " ", "-") }

// htmlMark is the mark of a tone, the same strokes as in print; the word beside it says the same, so it is not spoken.
func htmlMark(t Tone) template.HTML {
	if t == Plain {
		return ""
	}
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	var b strings.Builder
	b.WriteString(`<svg class="pack-mark" viewBox="0 0 16 16" aria-hidden="true" focusable="false">`)
	for _, s := range strokes(t) {
		dash := ""
		if len(s.dash) > 0 {
			dash = ` stroke-dasharray="` + num(s.dash[0]) + " " + num(s.dash[1]) + `"`
		}
		if s.radius > 0 {
			b.WriteString(`<circle cx="8" cy="8" r="` + num(s.radius) + `"` + dash + `/>`)
			continue
		}
		d := "M"
		for i, v := range s.points {
			switch {
			case i == 2 && s.curve:
				d += "C"
			case i == 2:
				d += "L"
			case i > 0:
				d += " "
			}
			d += num(v)
		}
		if s.closed {
			d += "z"
		}
		b.WriteString(`<path d="` + d + `"` + dash + `/>`)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// qrPath draws the black modules, row by row, behind the quiet zone.
func qrPath(q *QR) string {
	var b strings.Builder
	for row := range q.Side {
		for col := 0; col < q.Side; col++ {
			run := 0
			for col+run < q.Side && q.Black[row*q.Side+col+run] {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", col+4, row+4, run, run)
				col += run
			}
		}
	}
	return b.String()
}

// HTMLFiles are what WriteHTML's page needs beside it, in the given folder of the pack: the style sheet, which Style must
// name pack.css, and the fonts.
func HTMLFiles(folder string) []Payload {
	return []Payload{
		Bytes(folder+"/pack.css", htmlStyle),
		Bytes(folder+"/fonts/Barlow-Regular.ttf", fonts.Regular()),
		Bytes(folder+"/fonts/Barlow-SemiBold.ttf", fonts.SemiBold()),
	}
}
