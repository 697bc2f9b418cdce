package views

import (
	"fmt"
	"html/template"
	"strings"

	"newelbook/views/draw"
)

// Place is the label that a carpenter writes on the piece, such as R1-B2. URL is empty where it leads nowhere.
type Place struct{ Label, URL string }

// Fact is one pair of a list of facts. Value may hold fractions; Note says where it comes from.
type Fact struct{ Label, Value, Note, URL string }

// Against is one figure that a measurement was held to, with where it comes from.
type Against struct{ Label, Value, Source string }

// Measure is a measurement set large: what it is, its value, and what it was held to. An empty Value shows "not
// recorded".
type Measure struct {
	Label, Value string
	Place        string
	Held         []Against
	Status       *Status
	Note         string
}

// Row is one line of a ruled list: where, what, a figure and a state.
type Row struct {
	Place, Label, Note, URL string
	Figure                  string // a length or a count, set at the right
	Status                  *Status
}

// Table is a table of figures. The first cell of a row is its header.
type Table struct {
	Caption string
	Heads   []Head
	Rows    [][]Cell
	Empty   string // what stands instead of no rows
}

// bodyCell is a cell with what its column makes of it. It does not embed Cell, since templates are slow to find a field that
// was promoted.
type bodyCell struct {
	Text, URL, Note string
	Status          *Status
	Shot            *Shot
	Head, Number    bool
}

// Body is the rows, each cell with what its column makes of it: worked out once here, since a template asks for each cell at
// the price of several calls.
func (t Table) Body() ([][]bodyCell, error) {
	out := make([][]bodyCell, len(t.Rows))
	for i, row := range t.Rows {
		if len(row) > len(t.Heads) {
			return nil, fmt.Errorf("table %q: a row has %d cells under %d heads", t.Caption, len(row), len(t.Heads))
		}
		out[i] = make([]bodyCell, len(row))
		for n, c := range row {
			out[i][n] = bodyCell{Text: c.Text, URL: c.URL, Note: c.Note, Status: c.Status, Shot: c.Shot, Head: n == 0, Number: t.Heads[n].Number}
		}
	}
	return out, nil
}

// Head is the head of a column; Unit is set small behind the label. Number aligns the column at the right.
type Head struct {
	Label, Unit string
	Number      bool
}

// Cell is one cell: text, and where it leads or what state it shows.
type Cell struct {
	Text, URL, Note string
	Status          *Status
	Shot            *Shot
}

// Photo is a photograph as shown in a page. Claimed is what the file says of its capture, Received is when it came
// here; both are shown. Missing claims are said in words by whoever fills this in.
type Photo struct {
	ThumbURL, FullURL string
	Alt               string // what can be seen
	Number            string // figure number, may be empty
	Caption           string
	Place             string
	Claimed, Received string
	By                string
	Hash              string   // the first characters of the SHA-256 of the original
	Flags             []string // what does not fit, each a finished phrase
	Status            *Status
}

// Drawing is a drawing with its caption.
type Drawing struct {
	Sheet   draw.Sheet
	Caption string
	Links   map[string]draw.Link // by the place's id; a place without one is not linked
	Current string               // id of the place in hand
}

// SVG is the drawing as an inline SVG element.
func (d Drawing) SVG() (template.HTML, error) {
	var b strings.Builder
	if err := draw.SVGWith(&b, d.Sheet, draw.Options{Links: d.Links, Current: d.Current}); err != nil {
		return "", fmt.Errorf("drawing %q: %w", d.Sheet.Title, err)
	}
	return template.HTML(b.String()), nil
}

// partFuncs are the functions that make parts in a template.
func partFuncs() map[string]any {
	return map[string]any{
		"place": func(label string, url ...string) Place { return Place{Label: label, URL: strings.Join(url, "")} },
		"measure": func(label string, value any) (Measure, error) {
			text, err := plain(value)
			return Measure{Label: label, Value: text}, err
		},
		"at": func(place string, m Measure) Measure { m.Place = place; return m },
		"against": func(label string, value any, source string, m Measure) (Measure, error) {
			text, err := plain(value)
			m.Held = append(m.Held[:len(m.Held):len(m.Held)], Against{Label: label, Value: text, Source: source})
			return m, err
		},
		"verdict": func(word any, m Measure) (Measure, error) {
			s, err := newStatus(word)
			m.Status = &s
			return m, err
		},
		"note": func(note string, m Measure) Measure { m.Note = note; return m },
		"drawing": func(s draw.Sheet, caption string) Drawing {
			return Drawing{Sheet: s, Caption: caption}
		},
		"links":   func(l map[string]draw.Link, d Drawing) Drawing { d.Links = l; return d },
		"current": func(id string, d Drawing) Drawing { d.Current = id; return d },
	}
}
