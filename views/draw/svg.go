package draw

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"
	"strconv"
)

// Link is where a place on a drawing leads, and how it is called there.
type Link struct{ URL, Label string }

// Options say what a page adds to a drawing.
type Options struct {
	Links   map[string]Link // by Outline.ID; an outline without one is not linked
	Current string          // Outline.ID of the place in hand
}

// SVG writes the sheet as one inline SVG element without links.
func SVG(w io.Writer, s Sheet) error { return SVGWith(w, s, Options{}) }

// SVGWith writes the sheet as one inline SVG element for a page that uses the program's style sheet: classes carry weight,
// dash, tone and fill, so that no style attribute is needed. A drawing with links is a group whose links can be
// reached by keyboard; one without is an image named by its title. The same sheet and options give the same bytes.
func SVGWith(w io.Writer, s Sheet, o Options) error {
	if !(s.Width > 0) || !(s.Height > 0) {
		return fmt.Errorf("svg %q: the sheet has no size", s.Title)
	}
	b := &svgBuffer{links: o.Links, current: o.Current}
	role := "img"
	if len(o.Links) > 0 {
		role = "group"
	}
	name := s.Title
	if s.Scale != "" {
		name += ", scale " + s.Scale
	}
	b.put(`<svg class="draw" xmlns="http://www.w3.org/2000/svg" role="` + role + `" aria-label="` + attr(name) + `" width="` +
		num(s.Width) + `mm" height="` + num(s.Height) + `mm" viewBox="0 0 ` + num(s.Width) + ` ` + num(s.Height) + `">` + "\n")
	b.put(`<title>` + html.EscapeString(name) + "</title>\n<desc>" + html.EscapeString(s.Alt) + "</desc>\n")
	for i, item := range s.Items {
		if err := b.item(item); err != nil {
			return fmt.Errorf("svg %q, item %d: %w", s.Title, i, err)
		}
	}
	b.put("</svg>\n")
	_, err := b.WriteTo(w)
	return err
}

// svgBuffer collects the elements of one drawing.
type svgBuffer struct {
	bytes.Buffer
	links   map[string]Link
	current string
}

func (b *svgBuffer) put(s string) { b.WriteString(s) }

func (b *svgBuffer) item(item Item) error {
	switch it := item.(type) {
	case Line:
		b.line(it)
	case Outline:
		b.outline(it)
	case Circle:
		b.put(`<circle class="` + pen(it.Weight, it.Dash, it.Tone) + ` ` + fill(it.Fill) + `" cx="` + num(it.Centre.X) + `" cy="` +
			num(it.Centre.Y) + `" r="` + num(it.Radius) + "\"/>\n")
		if it.Fill == Hatch {
			b.hatch(HatchLines(circlePoints(it), HatchSpacing), it.Tone)
		}
	case Text:
		b.text(it)
	case Modules:
		b.put(`<rect class="d-code-ground" x="` + fine(it.At.X) + `" y="` + fine(it.At.Y) + `" width="` + fine(it.Size) + `" height="` + fine(it.Size) + `"/><path class="d-code" d="`)
		it.Bars(func(x, y, width, module float64) {
			b.put("M" + fine(x) + " " + fine(y) + "h" + fine(width) + "v" + fine(module) + "h-" + fine(width) + "z")
		})
		b.put("\"/>\n")
	default:
		return fmt.Errorf("a %T cannot be drawn", item)
	}
	return nil
}

func (b *svgBuffer) line(l Line) {
	b.put(`<line class="` + pen(l.Weight, l.Dash, l.Tone) + `" x1="` + num(l.A.X) + `" y1="` + num(l.A.Y) + `" x2="` + num(l.B.X) +
		`" y2="` + num(l.B.Y) + "\"/>\n")
}

func (b *svgBuffer) outline(o Outline) {
	link, linked := b.links[o.ID]
	if linked = linked && o.ID != ""; linked {
		b.put(`<a class="d-place" href="` + attr(link.URL) + `" aria-label="` + attr(link.Label) + `"`)
		if o.ID == b.current {
			b.put(` aria-current="true"`)
		}
		b.put(">")
	}
	b.put(`<polygon class="` + pen(o.Weight, o.Dash, o.Tone) + ` ` + fill(o.Fill))
	if o.ID != "" && o.ID == b.current {
		b.put(" d-current")
	}
	b.put(`"`)
	if o.ID != "" {
		b.put(` data-place="` + attr(o.ID) + `"`)
	}
	b.put(` points="`)
	for i, p := range o.Points {
		if i > 0 {
			b.put(" ")
		}
		b.put(num(p.X) + "," + num(p.Y))
	}
	b.put(`"/>`)
	if o.Fill == Hatch {
		b.hatch(HatchLines(o.Points, HatchSpacing), o.Tone)
	}
	if linked {
		b.put("</a>")
	}
	b.put("\n")
}

// hatch writes section lines as one path.
func (b *svgBuffer) hatch(lines []Line, tone Tone) {
	if len(lines) == 0 {
		return
	}
	b.put(`<path class="` + pen(Hairline, Solid, tone) + `" d="`)
	for _, l := range lines {
		b.put("M" + num(l.A.X) + " " + num(l.A.Y) + "L" + num(l.B.X) + " " + num(l.B.Y))
	}
	b.put(`"/>`)
}

func (b *svgBuffer) text(t Text) {
	b.put(`<text class="d-text ` + toneClass(t.Tone))
	if t.Bold {
		b.put(" d-bold")
	}
	b.put(`" x="` + num(t.At.X) + `" y="` + num(t.At.Y) + `" font-size="` + num(t.Size) + `"`)
	switch t.Anchor {
	case Middle:
		b.put(` text-anchor="middle"`)
	case End:
		b.put(` text-anchor="end"`)
	}
	if t.Angle != 0 {
		b.put(` transform="rotate(` + num(-t.Angle) + ` ` + num(t.At.X) + ` ` + num(t.At.Y) + `)"`)
	}
	b.put(">")
	for _, run := range Runs(t.Body) {
		body := html.EscapeString(run.Body)
		switch run.Kind {
		case Whole:
			body = `<tspan class="whole">` + body + `</tspan>`
		case Fraction:
			body = `<tspan class="fr">` + body + `</tspan>`
		}
		b.put(body)
	}
	b.put("</text>\n")
}

// pen is the classes of a stroke.
func pen(w Weight, d Dash, t Tone) string {
	class := "d-hair"
	switch w {
	case Heavy:
		class = "d-heavy"
	case Medium:
		class = "d-medium"
	case Light:
		class = "d-light"
	}
	switch d {
	case Hidden:
		class += " d-hidden"
	case Centre:
		class += " d-centre"
	}
	return class + " " + toneClass(t)
}

func toneClass(t Tone) string {
	switch t {
	case Faint:
		return "d-faint"
	case Accent:
		return "d-accent"
	case Red:
		return "d-red"
	}
	return "d-ink"
}

func fill(f Fill) string {
	switch f {
	case Paper, Hatch:
		return "d-paper"
	case Wash:
		return "d-wash"
	}
	return "d-empty"
}

// fine is a coordinate to 0.0001 mm: modules of a code must meet.
func fine(v float64) string { return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64) }

// num is a coordinate to 0.01 mm, finer than a pen.
func num(v float64) string {
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // a negative zero would be written with its sign
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// attr escapes an attribute's value.
func attr(s string) string { return html.EscapeString(s) }
