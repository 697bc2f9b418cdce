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

// mostNamed is how many runs are named with their layouts under the heading of the page.
const mostNamed = 6

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
	Patterns  []MaterialPattern
	Unplaced  []Row
}

// MaterialPattern is a board of the plan, or several that are cut alike, drawn once.
type MaterialPattern struct {
	Drawing Drawing
	Alike   string // words for where their pieces stand, where there are several
	Open    bool   // a form among them came back
	Boards  []MaterialBoard
}

// MaterialBoard is one board of the plan, and the form that records that it was cut. Row is empty for one that is drawn by itself.
type MaterialBoard struct {
	Row  Row
	Form BoardForm
}

// NewMaterialList is that page; builder says whether the specification may be changed. The pieces are folded away but those that at
// names, by the id of one of them or of their run.
func NewMaterialList(f Frame, rec *jobs.Record, form Form, builder bool, at string) (MaterialListPage, error) {
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
	m := materialWords{sheet.Style, list, JobURL(rec.Job.ID, "materials", "boards")}
	p.Summary = "For " + strings.Join(from, ", ") + "."
	var made []string
	if len(from) > mostNamed {
		var labels []string
		for _, run := range rec.Live() {
			labels = append(labels, run.Label)
		}
		made, p.Summary = []string{"Made from " + strings.Join(from, ", ") + "."}, fmt.Sprintf("For %d runs as they are laid out now: %s.", len(from), layout.Series(labels))
	}
	p.CSV = JobURL(rec.Job.ID, "materials", "order.csv")
	p.Orders, p.Counted, p.Hardware = m.orders(), m.counted(), m.hardware()
	p.Missing, p.Spares, p.Notes, p.Cautions = list.Missing, list.Spares, append(made, list.Notes...), list.Cautions
	specURL := ""
	if builder {
		p.Spec = JobURL(rec.Job.ID, "specification") + "#" + FieldID("spare_boards")
		specURL = JobURL(rec.Job.ID, "specification") + "#" + FieldID("stock_lengths")
	}
	for _, s := range list.Stocks {
		p.Stocks = append(p.Stocks, m.stock(s, specURL, form))
	}
	p.work(rec, sheet.Style, list, pieces, at)
	p.Add = p.add(rec)
	return p, nil
}

// work fills in the pieces with their ticks and the stock on hand.
func (p *MaterialListPage) work(rec *jobs.Record, style length.Style, list materials.List, pieces []jobs.PieceState, at string) {
	w := &pieceWords{job: rec.Job, style: style, board: map[string]string{}}
	byID := map[string]jobs.PieceState{}
	for _, s := range pieces {
		byID[s.ID] = s
		if s.Changed() || s.Gone {
			p.Changed = append(p.Changed, w.row(s))
		}
	}
	group := func(name string, states []jobs.PieceState) {
		g := PieceGroup{Name: name, Done: doneOf(states)}
		byRun := map[string][]jobs.PieceState{}
		for _, s := range states {
			byRun[s.RunID] = append(byRun[s.RunID], s)
		}
		for _, run := range rec.Live() {
			if len(byRun[run.ID]) > 0 {
				g.Parts = append(g.Parts, w.part(run, byRun[run.ID], at))
			}
		}
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
	style    length.Style
	list     materials.List
	boardURL string // that takes a board as cut
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
		t.Rows = append(t.Rows, []Cell{{Text: upperFirst(c.What), Note: c.Section}, spared(c.Count, c.Spare), {Text: m.text(c.Length)}, m.ends(c.Cuts, c.Takes, c.Length), {Text: layout.Series(c.Places)}})
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
		out.Name += " for " + layout.Series(s.Runs)
	}
	if s.Taken > 0 {
		out.Why += fmt.Sprintf(" Of %s cut into, %s is trim, kerf and offcut.", materials.BoardText(s.Taken, m.style), materials.BoardText(s.Waste, m.style))
	}
	for _, alike := range patterns(s.Boards) {
		out.Patterns = append(out.Patterns, m.pattern(s, out.Name, alike, longest, form))
	}
	out.Unplaced = unplaced(s.Unplaced, specURL)
	return out
}

// unplaced are the pieces that come out of no board, those of one reason in one row.
func unplaced(list []materials.Unplaced, specURL string) []Row {
	var rows []Row
	labels, count := map[string][]string{}, map[string]int{}
	for _, u := range list {
		if count[u.Reason] == 0 {
			rows = append(rows, Row{Label: u.Reason, URL: specURL, Status: NewStatus("not planned", "fails the limit")})
		}
		labels[u.Reason] = append(labels[u.Reason], u.Label)
		count[u.Reason] += u.Count
	}
	for i, row := range rows {
		of := labels[row.Label]
		note := counted(count[row.Label], "piece")
		if len(of) == 1 {
			rows[i].Place = of[0]
		} else {
			note += ": " + layout.Series(of)
		}
		rows[i].Note = note + ". List longer stock, or divide the length."
	}
	return rows
}

// patterns gathers the boards that are cut alike, in order of the first of each.
func patterns(boards []materials.Board) [][]materials.Board {
	var out [][]materials.Board
	at := map[string]int{}
	for _, b := range boards {
		key := fmt.Sprint(b.Length, b.OnHand != "", b.Left)
		for _, c := range b.Cuts {
			key += fmt.Sprint(" ", c.Length, c.Takes, c.From)
		}
		i, ok := at[key]
		if !ok {
			i, out = len(out), append(out, nil)
			at[key] = i
		}
		out[i] = append(out[i], b)
	}
	return out
}

// pattern is boards that are cut alike: one has its pieces' labels in its drawing, several have them beside their numbers.
func (m materialWords) pattern(s materials.Stock, name string, alike []materials.Board, longest length.Length, form Form) MaterialPattern {
	b, one := alike[0], len(alike) == 1
	o := draw.BoardOptions{Title: fmt.Sprintf("Board %d of %s", b.Number, name), Width: boardWidth, Longest: longest, Stock: b.Length, Trim: s.EndTrim, Left: b.Left, Style: m.style}
	words := fmt.Sprintf("Board %d, %s", b.Number, materials.BoardText(b.Length, m.style))
	if !one {
		words = fmt.Sprintf("%d boards alike, %s each", len(alike), materials.BoardText(b.Length, m.style))
	}
	if b.OnHand != "" {
		words += ", on hand"
	}
	if !one {
		lengths := make([]string, len(b.Cuts))
		for i, c := range b.Cuts {
			lengths[i] = m.text(c.Length)
		}
		words += ": " + repeated(lengths)
	}
	words += fmt.Sprintf("; %s left", m.text(b.Left))
	if !one {
		words += " of each"
	}
	for _, c := range b.Cuts {
		cut := draw.BoardCut{Length: c.Length, Takes: c.Takes, From: c.From}
		if one {
			cut.Label = c.Label
		}
		o.Cuts = append(o.Cuts, cut)
	}
	p := MaterialPattern{Drawing: Drawing{Sheet: draw.Board(o), Caption: words + "."}}
	if !one {
		p.Alike = fmt.Sprintf("Pieces of these %d boards", len(alike))
	}
	for _, b := range alike {
		board := MaterialBoard{Form: m.boardForm(s, b, form)}
		if !one {
			labels := make([]string, len(b.Cuts))
			for i, c := range b.Cuts {
				labels[i] = c.Label
			}
			p.Open = p.Open || board.Form.Key == form.Text("board", "")
			board.Row = Row{Label: fmt.Sprintf("Board %d", b.Number), Note: repeated(labels)}
		}
		p.Boards = append(p.Boards, board)
	}
	return p
}

// repeated lists texts, those that stand several times in a row once with their number.
func repeated(texts []string) string {
	var out []string
	for i := 0; i < len(texts); {
		end := i + 1
		for end < len(texts) && texts[end] == texts[i] {
			end++
		}
		words := texts[i]
		if end-i > 1 {
			words = fmt.Sprintf("%d of %s", end-i, words)
		}
		out, i = append(out, words), end
	}
	return strings.Join(out, ", ")
}

// boardForm records that a board was cut; what is left of it is offered as an offcut where it is worth keeping.
func (m materialWords) boardForm(s materials.Stock, b materials.Board, form Form) BoardForm {
	f := BoardForm{URL: m.boardURL, Key: b.Cuts[0].ID + " " + itoa(b.Number), Name: fmt.Sprintf("Board %d of %s", b.Number, s.Section), OnHand: b.OnHand}
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
