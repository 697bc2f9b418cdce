package views

import (
	"bytes"
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

// MaterialListPage is what the runs of a job take, through the job: what was cut and no longer fits, the order, the stock on hand,
// each board with its cuts, and every piece with its ticks.
type MaterialListPage struct {
	Frame
	Form     Form
	Summary  string // empty where there is nothing to order
	CSV      string // where the order is as a table
	Spec     string // where the spares are set; empty for whoever may not
	Changed  []PieceRow
	Orders   Table
	Counted  Table
	Hardware []Row
	Missing  []string
	Spares   string
	OnHand   []HandRow
	Used     []HandRow
	Add      *MaterialAdd // nil where there is no section to add to
	Stocks   []MaterialStock
	Pieces   []PieceGroup
	BoardURL string
	Notes    []string
	Cautions []layout.Caution
}

// MaterialAdd is the form for stock on hand. Open shows it opened.
type MaterialAdd struct {
	URL                                string
	Open                               bool
	Stock, Length, Count, From, Offcut Field
}

// MaterialStock is the pieces of one section, and how they come out of boards.
type MaterialStock struct {
	Name, Why string
	Boards    []MaterialBoard
	Unplaced  []Row
}

// MaterialBoard is one board of the plan, and the form that records that it was cut.
type MaterialBoard struct {
	Drawing Drawing
	Form    BoardForm
}

// NewMaterialList is that page; builder says whether the specification may be changed.
func NewMaterialList(f Frame, rec *jobs.Record, form Form, builder bool) (MaterialListPage, error) {
	f.Errors = linked(f.Errors, []string{"stock", "length", "count", "from"})
	p := MaterialListPage{Frame: f, Form: form}
	sheet, err := rec.Sheet()
	if err != nil {
		return p, err
	}
	runs, from, err := materialRuns(rec)
	if err != nil || len(runs) == 0 {
		return p, err
	}
	pieces := rec.Pieces()
	list := materials.Make(runs, siteOf(rec, pieces), sheet.Style)
	m := materialWords{sheet.Style, list}
	p.Summary = "For " + strings.Join(from, ", ") + "."
	p.CSV, p.BoardURL = JobURL(rec.Job.ID, "materials", "order.csv"), JobURL(rec.Job.ID, "materials", "boards")
	p.Orders, p.Counted, p.Hardware = m.orders(), m.counted(), m.hardware()
	p.Missing, p.Spares, p.Notes, p.Cautions = list.Missing, list.Spares, list.Notes, list.Cautions
	specURL := ""
	if builder {
		p.Spec = JobURL(rec.Job.ID, "specification") + "#" + FieldID("spare_boards")
		specURL = JobURL(rec.Job.ID, "specification") + "#" + FieldID("stock_lengths")
	}
	for _, s := range list.Stocks {
		p.Stocks = append(p.Stocks, m.stock(s, specURL, form))
	}
	p.work(rec, sheet.Style, list, pieces)
	p.Add = p.add(rec)
	return p, nil
}

// work fills in the pieces with their ticks and the stock on hand.
func (p *MaterialListPage) work(rec *jobs.Record, style length.Style, list materials.List, pieces []jobs.PieceState) {
	w := &pieceWords{job: rec.Job, style: style, board: map[string]string{}}
	byID := map[string]jobs.PieceState{}
	for _, s := range pieces {
		byID[s.ID] = s
		if s.Changed() || s.Gone {
			p.Changed = append(p.Changed, w.row(s))
		}
	}
	group := func(name string, states []jobs.PieceState) {
		g := PieceGroup{Name: name}
		cut, fitted := 0, 0
		for _, s := range states {
			g.Rows = append(g.Rows, w.row(s))
			if s.Serves() == s.Count {
				cut++
			}
			if s.FittedNow() >= s.Count {
				fitted++
			}
		}
		g.Done = fmt.Sprintf("%d of %d cut, %d fitted", cut, len(states), fitted)
		p.Pieces = append(p.Pieces, g)
	}
	for i, s := range list.Stocks {
		var states []jobs.PieceState
		for _, m := range s.Pieces {
			if m.Takes != m.Piece.Length {
				w.board[m.ID] = w.text(m.Takes) + " from point to point"
			}
			states = append(states, byID[m.ID])
		}
		group(p.Stocks[i].Name, states)
	}
	var counted []jobs.PieceState
	for _, s := range pieces {
		if !s.Boarded && !s.Gone {
			counted = append(counted, s)
		}
	}
	if len(counted) > 0 {
		group("Bought by count", counted)
	}
	unused := map[string]int{}
	for _, o := range list.Unused {
		unused[o.ID] = o.Count
	}
	p.OnHand, p.Used = w.hand(rec.OnHand, unused)
}

// add is the form for stock on hand.
func (p *MaterialListPage) add(rec *jobs.Record) *MaterialAdd {
	kinds := rec.StockKinds()
	if len(kinds) == 0 {
		return nil
	}
	field := func(name, label, hint string) Field {
		f := newField(p, name, label)
		f.Hint, f.Value, f.Complete = hint, p.Form.Text(name, ""), "off"
		return f
	}
	a := &MaterialAdd{
		URL: JobURL(rec.Job.ID, "materials", "on-hand"), Stock: field("stock", "Section", ""), Length: field("length", "Length of one", "To its ends: the plan trims it."),
		Count: field("count", "How many", "Empty is one."), From: field("from", "Where from, or where it lies", "May be left empty."), Offcut: field("offcut", "It is an offcut", ""),
	}
	a.Open = p.Form.Typed["stock"] != nil
	a.Length.Unit, a.Length.Size, a.Count.Size = unitMark(rec.Job.Units), "short", "short"
	a.Offcut.Ticked = a.Offcut.Value == "yes"
	for _, k := range kinds {
		a.Stock.Options = append(a.Stock.Options, Option{Value: k.Key(), Label: k.Section + ", " + orElse(k.Species, "wood not known to the layout")})
	}
	return a
}

// MaterialCSV is the order of a job's materials as a table for a spreadsheet.
func MaterialCSV(rec *jobs.Record) ([]byte, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return nil, err
	}
	runs, _, err := materialRuns(rec)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = materials.WriteCSV(&b, materials.Make(runs, siteOf(rec, rec.Pieces()), sheet.Style), sheet.Style)
	return b.Bytes(), err
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

// spared is how many to order, with the spares among them.
func spared(n, spare int) Cell {
	c := Cell{Text: itoa(n + spare)}
	if spare > 0 {
		c.Note = fmt.Sprintf("%d over", spare)
	}
	return c
}

func (m materialWords) orders() Table {
	t := Table{Caption: "Boards", Heads: []Head{{Label: "Section"}, {Label: "Boards", Number: true}, {Label: "Length", Number: true}, {Label: "Wood"}}, Empty: "no board"}
	for _, o := range m.list.Orders {
		t.Rows = append(t.Rows, []Cell{{Text: o.Section}, spared(o.Count, o.Spare), {Text: materials.BoardText(o.Length, m.style)}, {Text: orElse(o.Species, "not known to the layout")}})
	}
	for _, b := range m.list.Beyond {
		t.Rows = append(t.Rows, []Cell{{Text: b.Section, Note: b.Words()}, {Text: itoa(b.Count), Note: "in no board"}, {Text: m.text(b.Takes)}, {Text: orElse(b.Species, "not known to the layout")}})
	}
	return t
}

func (m materialWords) counted() Table {
	t := Table{Caption: "By count", Heads: []Head{{Label: "Piece"}, {Label: "Count", Number: true}, {Label: "Cut length", Number: true}, {Label: "Ends"}, {Label: "For"}}, Empty: "none"}
	for _, c := range m.list.ToBuy() {
		t.Rows = append(t.Rows, []Cell{{Text: upperFirst(c.What), Note: c.Section}, spared(c.Count, c.Spare), {Text: m.text(c.Length)}, m.ends(c.Cuts, c.Takes, c.Length), {Text: strings.Join(c.Places, ", ")}})
	}
	return t
}

func (m materialWords) hardware() []Row {
	var rows []Row
	for _, h := range m.list.Hardware {
		row := Row{Label: h.What, Note: strings.TrimPrefix(h.Note, "Not counted. ")}
		if h.Known {
			row.Figure = itoa(h.Count + h.Spare)
			if h.Spare > 0 {
				row.Note = join(fmt.Sprintf("%d of them over.", h.Spare), row.Note)
			}
			row.Note += " (" + upperFirst(h.Source) + ".)"
		} else {
			row.Status = NewStatus("not counted", "not checked")
		}
		rows = append(rows, row)
	}
	return rows
}

// stock is one section with its boards drawn to the scale of the longest of the job.
func (m materialWords) stock(s materials.Stock, specURL string, form Form) MaterialStock {
	var longest length.Length
	for _, other := range m.list.Stocks {
		for _, b := range other.Boards {
			longest = max(longest, b.Length)
		}
	}
	out := MaterialStock{Name: s.Section, Why: s.Why}
	if len(m.list.Stocks) > 1 {
		out.Name += " for " + strings.Join(s.Runs, ", ")
	}
	if s.Taken > 0 {
		out.Why += fmt.Sprintf(" Of %s cut into, %s is trim, kerf and offcut.", materials.BoardText(s.Taken, m.style), materials.BoardText(s.Waste, m.style))
	}
	for _, b := range s.Boards {
		o := draw.BoardOptions{
			Title: fmt.Sprintf("Board %d of %s", b.Number, out.Name), Width: boardWidth, Longest: longest, Stock: b.Length, Trim: s.EndTrim, Left: b.Left, Style: m.style,
		}
		for _, c := range b.Cuts {
			o.Cuts = append(o.Cuts, draw.BoardCut{Label: c.Label, Length: c.Length, Takes: c.Takes, From: c.From})
		}
		where := ""
		if b.OnHand != "" {
			where = ", on hand"
		}
		out.Boards = append(out.Boards, MaterialBoard{
			Drawing: Drawing{Sheet: draw.Board(o), Caption: fmt.Sprintf("Board %d, %s%s; %s left.", b.Number, materials.BoardText(b.Length, m.style), where, m.text(b.Left))},
			Form:    m.boardForm(s, b, form),
		})
	}
	for _, u := range s.Unplaced {
		out.Unplaced = append(out.Unplaced, Row{Place: u.Label, Label: u.Reason, Note: fmt.Sprintf("%s. List longer stock, or divide the length.", counted(u.Count, "piece")), URL: specURL, Status: NewStatus("not planned", "fails the limit")})
	}
	return out
}

// boardForm records that a board was cut; what is left of it is offered as an offcut where it is worth keeping.
func (m materialWords) boardForm(s materials.Stock, b materials.Board, form Form) BoardForm {
	f := BoardForm{Key: b.Cuts[0].ID + " " + itoa(b.Number), Name: fmt.Sprintf("Board %d of %s", b.Number, s.Section), OnHand: b.OnHand}
	for _, c := range b.Cuts {
		f.Pieces = append(f.Pieces, c.ID)
	}
	if rest := s.Rest(b); rest > 0 {
		f.Rest = &Field{Name: "rest", Label: "Keep", Value: m.text(rest)}
		if form.Text("board", "") == f.Key {
			f.Rest.Value = form.Text("rest", "")
		}
	}
	return f
}
