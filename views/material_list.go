package views

import (
	"fmt"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/checklist/materials"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// boardWidth is the width of the longest board on paper in millimetres.
const boardWidth = 182

// MaterialListPage is what the runs of a job take, to be printed: the order first, then each board with its cuts, then every piece.
type MaterialListPage struct {
	Frame
	Summary  string // empty where there is nothing to order
	Orders   Table
	Counted  Table
	Hardware []Row
	Missing  []string
	Spares   string
	Stocks   []MaterialStock
	Notes    []string
	Cautions []layout.Caution
}

// MaterialStock is the pieces of one section, and how they come out of boards.
type MaterialStock struct {
	Name, Why string
	Boards    []Drawing
	Unplaced  []Row
	Pieces    Table
}

// NewMaterialList is that page; builder says whether the specification may be changed.
func NewMaterialList(f Frame, rec *jobs.Record, builder bool) (MaterialListPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return MaterialListPage{}, err
	}
	p := MaterialListPage{Frame: f}
	var runs []materials.Run
	var from []string
	for _, run := range rec.Live() {
		v, ok := rec.Layout(run.ID)
		if !ok {
			return p, fmt.Errorf("layout of run %s: %w", run.ID, jobs.ErrNotFound)
		}
		spec, _ := rec.Job.Spec.With(run.Overrides, rec.Job.Units) // faults were refused when the run was saved
		runs = append(runs, materials.Run{Layout: v.Layout, Spec: spec})
		from = append(from, fmt.Sprintf("%s (layout v%d)", run.Label, v.Version))
	}
	if len(runs) == 0 {
		return p, nil
	}
	list := materials.Make(runs, sheet.Style)
	m := materialWords{sheet.Style, list}
	p.Summary = "For " + strings.Join(from, ", ") + "."
	p.Orders, p.Counted, p.Hardware = m.orders(), m.counted(), m.hardware()
	p.Missing, p.Spares, p.Notes, p.Cautions = list.Missing, list.Notes[0], list.Notes[1:], list.Cautions
	specURL := ""
	if builder {
		specURL = JobURL(rec.Job.ID, "specification") + "#" + FieldID("stock_lengths")
	}
	for _, s := range list.Stocks {
		p.Stocks = append(p.Stocks, m.stock(s, specURL))
	}
	return p, nil
}

// materialWords puts a list into the words of its page.
type materialWords struct {
	style length.Style
	list  materials.List
}

func (m materialWords) text(l length.Length) string { return l.Format(m.style) }

// ends is how the ends are cut, with the length from point to point where that is more than the cut length.
func (m materialWords) ends(cuts string, takes, cut length.Length) Cell {
	c := Cell{Text: cuts}
	if takes != cut {
		c.Note = m.text(takes) + " from point to point"
	}
	return c
}

func (m materialWords) orders() Table {
	t := Table{Caption: "Boards", Heads: []Head{{Label: "Section"}, {Label: "Boards", Number: true}, {Label: "Length", Number: true}, {Label: "Wood"}}, Empty: "no board: see what is not planned below"}
	for _, o := range m.list.Orders {
		t.Rows = append(t.Rows, []Cell{{Text: o.Section}, {Text: itoa(o.Count)}, {Text: materials.BoardText(o.Length, m.style)}, {Text: orElse(o.Species, "not known to the layout")}})
	}
	return t
}

func (m materialWords) counted() Table {
	t := Table{Caption: "By count", Heads: []Head{{Label: "Piece"}, {Label: "Count", Number: true}, {Label: "Cut length", Number: true}, {Label: "Ends"}, {Label: "For"}}, Empty: "none"}
	for _, c := range m.list.Counted {
		t.Rows = append(t.Rows, []Cell{{Text: upperFirst(c.What), Note: c.Section}, {Text: itoa(c.Count)}, {Text: m.text(c.Length)}, m.ends(c.Cuts, c.Takes, c.Length), {Text: strings.Join(c.Places, ", ")}})
	}
	return t
}

func (m materialWords) hardware() []Row {
	var rows []Row
	for _, h := range m.list.Hardware {
		row := Row{Label: h.What, Note: strings.TrimPrefix(h.Note, "Not counted. ")}
		if h.Known {
			row.Figure = itoa(h.Count)
			row.Note += " (" + upperFirst(h.Source) + ".)"
		} else {
			row.Status = NewStatus("not counted", "not checked")
		}
		rows = append(rows, row)
	}
	return rows
}

// stock is one section with its boards drawn to the scale of the longest of the job.
func (m materialWords) stock(s materials.Stock, specURL string) MaterialStock {
	var longest length.Length
	for _, o := range m.list.Orders {
		longest = max(longest, o.Length)
	}
	out := MaterialStock{Name: s.Section, Why: s.Why}
	if len(m.list.Stocks) > 1 {
		out.Name += " for " + strings.Join(s.Runs, ", ")
	}
	if s.Bought > 0 {
		out.Why += fmt.Sprintf(" Of %s bought, %s is trim, kerf and offcut.", materials.BoardText(s.Bought, m.style), materials.BoardText(s.Waste, m.style))
	}
	for _, b := range s.Boards {
		o := draw.BoardOptions{
			Title: fmt.Sprintf("Board %d of %s", b.Number, out.Name), Width: boardWidth, Longest: longest, Stock: b.Length, Trim: s.EndTrim, Left: b.Left, Style: m.style,
		}
		for _, c := range b.Cuts {
			o.Cuts = append(o.Cuts, draw.BoardCut{Label: c.Label, Length: c.Length, Takes: c.Takes, From: c.From})
		}
		out.Boards = append(out.Boards, Drawing{Sheet: draw.Board(o), Caption: fmt.Sprintf("Board %d, %s; %s left.", b.Number, materials.BoardText(b.Length, m.style), m.text(b.Left))})
	}
	for _, u := range s.Unplaced {
		out.Unplaced = append(out.Unplaced, Row{Place: u.Label, Label: u.Reason, Note: fmt.Sprintf("%s. List longer stock, or divide the length.", counted(u.Count, "piece")), URL: specURL, Status: NewStatus("not planned", "fails the limit")})
	}
	out.Pieces = Table{Caption: "Pieces of " + out.Name, Heads: []Head{{Label: "Piece"}, {Label: "Count", Number: true}, {Label: "Cut length", Number: true}, {Label: "Ends"}, {Label: "Lies"}, {Label: "From"}}}
	for _, p := range s.Pieces {
		piece := p.Piece
		out.Pieces.Rows = append(out.Pieces.Rows, []Cell{{Text: piece.Label, Note: piece.What}, {Text: itoa(piece.Count)}, {Text: m.text(piece.Length)},
			m.ends(piece.Cuts, p.Takes, piece.Length), {Text: piece.Place}, {Text: piece.Version}})
	}
	return out
}
