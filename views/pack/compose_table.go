package pack

import (
	"math"
	"strings"
)

// The room around the text of a table's cells, in points.
const (
	gutter   = 9.0
	rowPad   = 3.1
	headPad  = 3.0
	barWidth = 1.5
)

// column is one column as laid out.
type column struct {
	x, width float64
	align    Align
}

// table queues a table: its caption and its head stay with the first row, the head is drawn again where a page starts
// within the table, and the last row doesn't stand alone.
func (c *composer) table(t Table) {
	e := c.within.child("Table")
	cells := make([][][]word, len(t.Rows))
	for i, row := range t.Rows {
		cells[i] = make([][]word, len(t.Columns))
		for j := range t.Columns {
			if j < len(row) {
				st := cellStyle
				if t.Columns[j].Measure && strings.ContainsAny(row[j].Text, "0123456789") {
					st = measureStyle
				}
				cells[i][j] = c.cell(row[j], st)
			}
		}
	}
	headStyle := style{size: 7.8, lead: 9.8, bold: true, ink: black}
	titles := make([][]word, len(t.Columns))
	for j, col := range t.Columns {
		titles[j] = c.set.run(col.Head, headStyle, "")
	}
	cols := columns(t.Columns, titles, cells, c.flow.width())

	if t.Caption != "" {
		caption := e.child("Caption")
		st := bodyStyle.heavy()
		for i, l := range lines(c.set.run(t.Caption, st, ""), c.flow.width()) {
			b := box{height: st.lead, keep: true, draw: func(p *page, x, y float64) {
				p.line(caption, l, x, y+st.baseline(), false)
			}}
			if i == 0 {
				b.before = 11
			}
			c.add(b)
		}
	}
	head, again := c.tableHead(e, cols, titles, headStyle)
	if t.Caption == "" {
		head.before = 9
	}
	c.add(head)
	body, from := e.child("TBody"), len(c.boxes)
	for i, row := range t.Rows {
		fails := false
		for _, cell := range row {
			fails = fails || cell.Tone == Fails
		}
		boxes := c.row(body, cols, cells[i], func(j int) style {
			if t.Columns[j].Measure {
				return measureStyle
			}
			return cellStyle
		}, fails)
		for k := range boxes {
			boxes[k].head = again
			boxes[k].keep = i == len(t.Rows)-2 && len(t.Rows) > 2 && k == len(boxes)-1
			c.add(boxes[k])
		}
	}
	c.whole(c.boxes[from:], c.flow.depth()/3)
}

// cell sets the text of a cell with its mark.
func (c *composer) cell(cell Cell, st style) []word {
	st.bold = st.bold || cell.Bold || cell.Tone == Fails
	if cell.Tone != Plain {
		st.ink = inkOf(cell.Tone)
	}
	return c.set.marked(c.set.run(cell.Text, st, cell.To), cell.Tone, st)
}

// columns shares the width out by weight, but gives no column less than its widest word while there is room elsewhere.
func columns(defs []Column, titles [][]word, cells [][][]word, width float64) []column {
	n := len(defs)
	if n == 0 {
		return nil
	}
	room := width - gutter*float64(n-1)
	least, share, sum := make([]float64, n), make([]float64, n), 0.0
	for j, d := range defs {
		share[j] = d.Weight
		if share[j] <= 0 {
			share[j] = 1
		}
		sum += share[j]
		for _, w := range titles[j] {
			least[j] = math.Max(least[j], w.width)
		}
		for _, row := range cells {
			for _, w := range row[j] {
				least[j] = math.Max(least[j], w.width)
			}
		}
		least[j] = math.Min(least[j]+0.1, room/2)
	}
	fixed := make([]bool, n)
	for again := true; again; {
		again = false
		for j := range share {
			if !fixed[j] && room*share[j]/sum < least[j] && room-least[j] > 0 {
				fixed[j], again = true, true
				room -= least[j]
				sum -= share[j]
			}
		}
	}
	out, x := make([]column, n), 0.0
	for j := range out {
		w := least[j]
		if !fixed[j] {
			w = room * share[j] / sum
		}
		out[j] = column{x: x, width: w, align: defs[j].Align}
		x += w + gutter
	}
	if over := x - gutter - width; over > 0 {
		for j := range out {
			out[j].x *= width / (width + over)
			out[j].width *= width / (width + over)
		}
	}
	return out
}

// tableHead makes the box of the head and the one that repeats it on later pages, as an ornament.
func (c *composer) tableHead(e *element, cols []column, titles [][]word, st style) (head box, again *box) {
	tr := e.child("THead").child("TR")
	set, height := make([][]line, len(cols)), 0.0
	ths := make([]*element, len(cols))
	for j, col := range cols {
		set[j] = lines(titles[j], col.width)
		height = math.Max(height, float64(len(set[j]))*st.lead)
		ths[j] = tr.child("TH")
		ths[j].scope = "Column"
	}
	height += 2 * headPad
	draw := func(p *page, x, y float64, text func(j int, y float64)) {
		for j := range cols {
			text(j, y+height-headPad-float64(len(set[j]))*st.lead+st.baseline())
		}
		p.rule(x, y+height, x+c.flow.width(), y+height, 0.9, black)
	}
	head = box{height: height, keep: true, before: 2, draw: func(p *page, x, y float64) {
		draw(p, x, y, func(j int, at float64) {
			p.text(ths[j], set[j], x+cols[j].x, at, cols[j].width, cols[j].align, st.lead)
		})
	}}
	again = &box{height: height, draw: func(p *page, x, y float64) {
		draw(p, x, y, func(j int, at float64) {
			p.ornament(set[j], x+cols[j].x, at, cols[j].width, cols[j].align, st.lead)
		})
	}}
	return head, again
}

// row makes the boxes of one row: one, or several for a row that is taller than a third of a page.
func (c *composer) row(body *element, cols []column, cells [][]word, look func(int) style, fails bool) []box {
	tr := body.child("TR")
	set, elems := make([][]line, len(cols)), make([]*element, len(cols))
	lead, deepest, most := 0.0, 0.0, 1
	for j, col := range cols {
		set[j] = lines(cells[j], col.width)
		lead = math.Max(lead, look(j).lead)
		deepest = math.Max(deepest, look(j).baseline())
		most = max(most, len(set[j]))
		tag := "TD"
		if j == 0 {
			tag = "TH"
		}
		elems[j] = tr.child(tag)
		if j == 0 {
			elems[j].scope = "Row"
		}
	}
	step := most
	if float64(most)*lead > c.flow.depth()/3 {
		step = max(1, int(c.flow.depth()/3/lead))
	}
	var boxes []box
	for from := 0; from < most; from += step {
		height := 0.0
		for j := range cols {
			n := min(len(set[j]), from+step) - from
			if n > 0 {
				height = math.Max(height, deepest-look(j).baseline()+float64(n)*look(j).lead)
			}
		}
		ends := from+step >= most
		if from == 0 {
			height += rowPad
		}
		if ends {
			height += rowPad
		}
		boxes = append(boxes, box{height: height, draw: func(p *page, x, y float64) {
			if fails {
				p.fill(x-6, y+1, barWidth, height-2, pencil)
			}
			top := y
			if from == 0 {
				top += rowPad
			}
			for j := range cols {
				if from < len(set[j]) {
					part := set[j][from:min(len(set[j]), from+step)]
					p.text(elems[j], part, x+cols[j].x, top+deepest, cols[j].width, cols[j].align, look(j).lead)
				} else if from == 0 {
					p.tagged(elems[j], func() {})
				}
			}
			if ends {
				p.rule(x, y+height, x+c.flow.width(), y+height, hair, thread)
			}
		}})
	}
	return boxes
}

// keyValues queues facts in two columns, the first of the given share of the width.
func (c *composer) keyValues(facts []Fact, share float64, value, key style) {
	body, from := c.within.child("Table").child("TBody"), len(c.boxes)
	w := c.flow.width()
	cols := []column{{width: w * share}, {x: w*share + gutter, width: w*(1-share) - gutter}}
	for i, f := range facts {
		cells := [][]word{c.set.run(f.Key, key, ""), c.cell(f.Value, value)}
		boxes := c.row(body, cols, cells, func(j int) style { return []style{key, value}[j] }, f.Value.Tone == Fails)
		if i == 0 {
			boxes[0].before = 6
		}
		for k := range boxes {
			boxes[k].keep = k == len(boxes)-1 && len(facts) > 2 && (i == 0 || i == len(facts)-2)
			c.add(boxes[k])
		}
	}
	c.whole(c.boxes[from:], c.flow.depth()/3)
}
