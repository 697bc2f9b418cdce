package pack

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// cover queues the first page: for whom it is, the title, the cautions and the contents; the title block stands at its foot
// as on a drawing sheet.
func (c *composer) cover() {
	d := c.doc
	c.part = d.Edition
	foot := c.titleBlock()
	c.flow.frame.foot = foot.height + 14
	edition := style{size: 10.5, lead: 14, bold: true, ink: copper}
	e := c.top.child("P")
	c.add(box{height: 24, keep: true, draw: func(p *page, x, y float64) {
		foot.draw(p, x, p.h-c.flow.frame.bottom-foot.height)
		p.fill(x, y, 54, 3.4, copper)
		p.text(e, lines(c.set.run(d.Edition, edition, ""), c.flow.width()), x, y+22, c.flow.width(), Left, edition.lead)
	}})
	titleStyle := style{size: 30, lead: 34, bold: true, ink: black}
	h := c.top.child("H1")
	for i, l := range lines(c.set.run(d.Title, titleStyle, ""), c.flow.width()) {
		b := box{height: titleStyle.lead, keep: true, draw: func(p *page, x, y float64) {
			p.line(h, l, x-1, y+titleStyle.baseline(), false)
		}}
		if i == 0 {
			b.before = 4
		}
		c.add(b)
	}
	if d.Subtitle != "" {
		c.para([]Run{{Text: d.Subtitle}}, style{size: 12.4, lead: 17, ink: faint}, 0, c.flow.width())
	}
	c.add(box{height: 6, draw: func(*page, float64, float64) {}})
	for _, text := range d.Cautions {
		c.note(Note{Label: "Caution", Caution: true, Runs: []Run{{Text: text}}})
	}
	c.contents()
}

// contents queues the list of sections with room for their page numbers, which are known only when all stands.
func (c *composer) contents() {
	for _, s := range c.doc.Sections {
		c.titles = append(c.titles, &title{level: min(max(s.Level, 1), len(heads)-1), heading: s.Heading, id: s.ID})
	}
	if len(c.titles) == 0 || c.doc.OnePage {
		return
	}
	st := style{size: 12.6, lead: 17, bold: true, ink: black}
	h := c.top.child("H2")
	c.add(box{height: st.lead + 5, before: 18, keep: true, draw: func(p *page, x, y float64) {
		p.text(h, lines(c.set.run("Contents", st, ""), c.flow.width()), x, y+st.baseline(), c.flow.width(), Left, st.lead)
	}})
	toc := c.top.child("TOC")
	var listed []int
	for i, t := range c.titles {
		if t.level <= 2 {
			listed = append(listed, i)
		}
	}
	if len(listed) <= inOneColumn {
		for k, i := range listed {
			height, draw := c.entry(toc, i, c.flow.width())
			c.add(box{height: height, keep: k == 0, draw: draw})
		}
		return
	}
	for chunk := range slices.Chunk(listed, inTwoColumns) {
		c.columnsOf(toc, chunk)
	}
}

// How many entries of the contents stand under one another before they stand in two columns, and how many of those a page takes.
const (
	inOneColumn  = 14
	inTwoColumns = 72
)

// columnsOf queues entries in two columns as one stretch of rows, read down the left one first.
func (c *composer) columnsOf(toc *element, entries []int) {
	const apart = 24
	width := (c.flow.width() - apart) / 2
	half := (len(entries) + 1) / 2
	type placed struct {
		height float64
		draw   func(p *page, x, y float64)
	}
	set := make([]placed, len(entries))
	depth := [2]float64{}
	for k, i := range entries { // in their order, which is that in which they are read out
		set[k].height, set[k].draw = c.entry(toc, i, width)
		depth[k/half] += set[k].height
	}
	c.add(box{height: math.Max(depth[0], depth[1]), draw: func(p *page, x, y float64) {
		at := y
		for k, e := range set {
			if k == half {
				x, at = x+width+apart, y
			}
			e.draw(p, x, at)
			at += e.height
		}
	}})
}

// entry is one line of the contents in a column of the given width: how deep it is with the room above, and what draws it.
func (c *composer) entry(toc *element, i int, width float64) (depth float64, draw func(p *page, x, y float64)) {
	t := c.titles[i]
	st, indent, before := style{size: 10, lead: 13.6, bold: true, ink: black, figures: true}, 0.0, 2.4
	if t.level > 1 {
		st.bold, st.size, st.lead, indent, before = false, 9.4, 12.4, 14, 0
	}
	item := toc.child("TOCI")
	set := lines(c.set.run(t.heading, st, ""), width-indent-40)
	to := c.anchorOf(i)
	height := float64(len(set)) * st.lead
	return before + height, func(p *page, x, y float64) {
		y += before
		last := y + height - st.lead + st.baseline()
		p.linked(item, to, [4]float64{x + indent, y, x + width, y + height}, func(a *element) {
			p.text(a, set, x+indent, y+st.baseline(), width, Left, st.lead)
			t.number = func(text string) {
				n := lines(c.set.run(text, st, ""), 40)
				p.text(a, n, x, last, width, Right, st.lead)
				from := x + indent + set[len(set)-1].width + 6
				p.rule(from, last, x+width-n[0].width-5, last, 0.3, thread)
			}
		})
	}
}

// anchorOf is the anchor of the i-th section, made up where it has none of its own.
func (c *composer) anchorOf(i int) string {
	if t := c.titles[i]; t.id != "" {
		return t.id
	}
	return "\x00section " + strconv.Itoa(i)
}

// numberContents fills in the page numbers of the contents.
func (c *composer) numberContents() {
	for i, t := range c.titles {
		c.anchors[c.anchorOf(i)] = t.at
		if t.number != nil {
			t.number(strconv.Itoa(t.at.page.index + 1))
		}
	}
}

// running draws the head and the foot of a page, which are ornaments to whoever has the pages read out.
func (c *composer) running(p *page) {
	d := c.doc
	x, w := c.flow.frame.left, p.w-c.flow.frame.left-c.flow.frame.right
	st := style{size: 7.8, lead: 10, ink: faint, figures: true}
	ref := st.heavy().in(black)
	show := func(words []word, at, y float64, align Align) float64 {
		set := lines(words, w)
		if len(set) == 0 {
			return 0
		}
		p.ornament(set[:1], at, y, w, align, st.lead)
		return set[0].width
	}
	top := c.flow.frame.top - 22
	n := show(c.set.run(d.JobRef, ref, ""), x, top, Left)
	part := show(c.set.run(p.section, st, ""), x, top, Right)
	name := c.set.run(d.Title, st, "")
	if set := lines(name, math.Max(w-n-part-40, 1)); len(set) == 1 {
		p.ornament(set, x+n+9, top, w, Left, st.lead)
	}
	p.rule(x, top+4.5, x+w, top+4.5, hair, thread)
	bottom := p.h - c.flow.frame.bottom + 22
	p.rule(x, bottom-9.5, x+w, bottom-9.5, hair, thread)
	of := c.set.run("page "+strconv.Itoa(p.index+1)+" of "+strconv.Itoa(len(c.flow.pages)), ref, "")
	num := show(of, x, bottom, Right)
	var said []string
	for _, s := range []string{d.Number, d.Issued, d.RuleSet} {
		if s != "" {
			said = append(said, s)
		}
	}
	if set := lines(c.set.run(strings.Join(said, "  ·  "), st, ""), w-num-20); len(set) > 0 {
		p.ornament(set[:1], x, bottom, w, Left, st.lead)
	}
}

// titleBlock lists the cells of the title block.
func (d *Document) titleBlock() []Fact {
	var facts []Fact
	for _, f := range []Fact{
		{"Job", Cell{Text: d.JobRef, Bold: true}}, {"Pack", Cell{Text: d.Number, Bold: true}}, {"Issued", Cell{Text: d.Issued, Bold: true}},
		{"Site", Cell{Text: d.Site}}, {"Rules applied", Cell{Text: d.RuleSet}},
	} {
		if f.Value.Text != "" {
			facts = append(facts, f)
		}
	}
	return append(facts, d.Facts...)
}

// titleBlock makes the box of the facts at the foot of the first page, with the code beside them.
func (c *composer) titleBlock() box {
	d, facts := c.doc, c.doc.titleBlock()
	const abreast, pad, code = 3, 5.0, 96.0
	e := c.top.child("Div")
	width := c.flow.width()
	if d.QR != nil {
		width -= code
	}
	cell := width / abreast
	value := style{size: 9.4, lead: 11.8, ink: black, figures: true}
	type entry struct {
		key, value []line
		p          *element
	}
	entries := make([]entry, len(facts))
	var rows []float64
	for i, f := range facts {
		entries[i] = entry{lines(c.set.run(f.Key, tinyStyle, ""), cell-2*pad), lines(c.cell(f.Value, value), cell-2*pad), e.child("P")}
		if i%abreast == 0 {
			rows = append(rows, 0)
		}
		depth := float64(len(entries[i].key))*tinyStyle.lead + float64(len(entries[i].value))*value.lead + pad + 3
		rows[i/abreast] = math.Max(rows[i/abreast], depth)
	}
	height := 0.0
	for _, r := range rows {
		height += r
	}
	if d.QR != nil && height < code {
		for i := range rows {
			rows[i] += (code - height) / float64(len(rows))
		}
		height = code
	}
	var fig *element
	if d.QR != nil {
		fig = e.child("Figure")
		fig.alt = "Code that holds the text: " + d.QR.Says
	}
	return box{height: height, draw: func(p *page, x, y float64) {
		at := y
		for r, depth := range rows {
			for k := 0; k < abreast && r*abreast+k < len(entries); k++ {
				en, left := entries[r*abreast+k], x+float64(k)*cell
				p.text(en.p, en.key, left+pad, at+3+tinyStyle.baseline(), cell, Left, tinyStyle.lead)
				p.text(en.p, en.value, left+pad, at+3+float64(len(en.key))*tinyStyle.lead+value.baseline(), cell, Left, value.lead)
				if k > 0 {
					p.rule(left, at, left, at+depth, hair, thread)
				}
			}
			at += depth
			if r < len(rows)-1 {
				p.rule(x, at, x+width, at, hair, thread)
			}
		}
		if d.QR != nil {
			p.rule(x+width, y, x+width, y+height, hair, thread)
			p.qr(fig, d.QR, x+width+2, y+(height-code)/2+2, code-4)
		}
		p.artifact(func() { p.outline(x, y, c.flow.width(), height, 0.9, black) })
	}}
}
