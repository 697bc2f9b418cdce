package pack

import "strings"

// The styles of the page, in points.
var (
	bodyStyle    = style{size: 9.8, lead: 13.6, ink: black}
	smallStyle   = style{size: 8.2, lead: 11, ink: faint}
	tinyStyle    = style{size: 7.2, lead: 9.6, ink: faint}
	cellStyle    = style{size: 8.8, lead: 11.4, ink: black, figures: true}
	measureStyle = style{size: 11.6, lead: 13.4, ink: black, figures: true}
	heroStyle    = style{size: 25, lead: 28, ink: black, bold: true}
)

// heads are the styles of headings by level, and the room above them.
var heads = [...]struct {
	style
	before float64
}{
	1: {style{size: 18, lead: 23, bold: true, ink: black}, 30},
	2: {style{size: 12.6, lead: 16.5, bold: true, ink: black}, 17},
	3: {style{size: 10.6, lead: 14, bold: true, ink: copper}, 12},
}

// place is where an anchor came to stand.
type place struct {
	page *page
	y    float64
}

// composer turns a document into boxes.
type composer struct {
	doc     *Document
	set     *setter
	flow    *flow
	top     *element
	within  *element // what blocks are added under
	nest    []nested // the open sections
	boxes   []box
	part    string
	fresh   bool
	anchors map[string]place
	titles  []*title
}

// nested is an open section and its level.
type nested struct {
	level   int
	element *element
}

// title is one section as the contents and the bookmarks list it.
type title struct {
	level   int
	heading string
	id      string
	at      place
	number  func(text string) // writes its page number into the contents; nil when it isn't listed
}

// add queues a box as part of the current section.
func (c *composer) add(b box) {
	b.part = c.part
	if c.fresh {
		b.fresh, c.fresh = true, false
	}
	c.boxes = append(c.boxes, b)
}

// baseline is where text of a style stands in a row of its lead.
func (s style) baseline() float64 { return (s.lead + 0.7*s.size) / 2 }

// in is the style in another colour, heavy the same in bold.
func (s style) in(c ink) style { s.ink = c; return s }
func (s style) heavy() style   { s.bold = true; return s }

// runs sets runs one after another.
func (c *composer) runs(runs []Run, st style) []word {
	var words []word
	tight := false // the text before ended without a blank
	for _, r := range runs {
		if r.Text == "" {
			continue
		}
		look := st
		look.bold = st.bold || r.Bold || r.Tone == Fails
		if r.Tone != Plain {
			look.ink = inkOf(r.Tone)
		}
		next := c.set.marked(c.set.run(r.Text, look, r.To), r.Tone, look)
		if tight && len(next) > 0 && !strings.HasPrefix(r.Text, " ") {
			last := &words[len(words)-1]
			last.glued, last.space = true, seg{}
		}
		words = append(words, next...)
		tight = !strings.HasSuffix(r.Text, " ") && !strings.HasSuffix(r.Text, "\n") && len(words) > 0
	}
	return words
}

// section queues the i-th section: its heading, which never ends a page, and its blocks.
func (c *composer) section(i int, s Section) {
	level := min(max(s.Level, 1), len(heads)-1)
	for len(c.nest) > 0 && c.nest[len(c.nest)-1].level >= level {
		c.nest = c.nest[:len(c.nest)-1]
	}
	parent := c.top
	if len(c.nest) > 0 {
		parent = c.nest[len(c.nest)-1].element
	}
	sect := parent.child("Sect")
	c.nest = append(c.nest, nested{level, sect})
	c.within = sect
	if level == 1 {
		c.part = s.Heading
	}
	t := c.titles[i]
	from := len(c.boxes)
	st := heads[level]
	h := sect.child([...]string{1: "H2", 2: "H3", 3: "H4"}[level])
	for i, l := range lines(c.set.run(s.Heading, st.style, ""), c.flow.width()) {
		b := box{height: st.lead, keep: true, draw: func(p *page, x, y float64) {
			if i == 0 {
				t.at = place{p, y - 8}
				if s.ID != "" {
					c.anchors[s.ID] = t.at
				}
				if level == 1 {
					c.partRule(p, x, y)
				}
			}
			p.line(h, l, x, y+st.baseline(), false)
		}}
		if i == 0 {
			b.before = st.before
			if level == 1 {
				b.height += 8
				draw := b.draw
				b.draw = func(p *page, x, y float64) { draw(p, x, y+8) }
			}
		}
		c.add(b)
	}
	c.add(box{height: [...]float64{1: 7, 2: 3.5, 3: 2}[level], keep: true, draw: func(*page, float64, float64) {}})
	for i := 0; i < len(s.Blocks); i++ {
		var photos []Photo
		for ; i < len(s.Blocks); i++ {
			ph, ok := s.Blocks[i].(Photo)
			if !ok {
				break
			}
			photos = append(photos, ph)
		}
		c.photos(photos)
		if i < len(s.Blocks) {
			c.block(s.Blocks[i], i+1 < len(s.Blocks) && leads(s.Blocks[i+1]))
		}
	}
	if s.Whole {
		c.whole(c.boxes[from:], c.flow.depth())
	}
}

// leads says whether a block is one that the words before it introduce.
func leads(next Block) bool {
	switch next.(type) {
	case Table, Drawing, KeyValues, Numbers, Photo, Integrity:
		return true
	}
	return false
}

// lead keeps words of n lines with the block that they introduce, where they are few.
func (c *composer) lead(led bool, n int) {
	const few = 4
	if led && n > 0 && n <= few {
		c.boxes[len(c.boxes)-1].keep = true
	}
}

// partRule is the line over a part of the pack: a hairline with a short heavy stroke, as on the edge of a drawing.
func (c *composer) partRule(p *page, x, y float64) {
	p.rule(x, y-6, x+c.flow.width(), y-6, hair, thread)
	p.fill(x, y-7.2, 34, 2.4, copper)
}

// block queues one block. One that is led to is kept with the words before it where these are few.
func (c *composer) block(b Block, led bool) {
	switch b := b.(type) {
	case Para:
		st := bodyStyle
		if b.Small {
			st = smallStyle.in(black)
		}
		c.lead(led, c.para(b.Runs, st, 0, c.flow.width()))
	case Note:
		c.lead(led, c.note(b))
	case KeyValues:
		c.keyValues(b.Facts, 0.3, cellStyle, smallStyle)
	case Integrity:
		fine := tinyStyle.in(black)
		fine.figures = true
		c.keyValues(b.Facts, 0.27, fine, tinyStyle)
	case Numbers:
		c.numbers(b)
	case Table:
		c.table(b)
	case Drawing:
		c.drawing(b)
	case SignOff:
		c.signOff(b)
	case PageBreak:
		c.fresh = true
	}
}

// para queues a paragraph line by line and says how many lines it has; neither its first nor its last stands alone on a page.
func (c *composer) para(runs []Run, st style, indent, width float64) int {
	e := c.within.child("P")
	set := lines(c.runs(runs, st), width-indent)
	for i, l := range set {
		b := box{height: st.lead, draw: func(p *page, x, y float64) {
			p.line(e, l, x+indent, y+st.baseline(), i == len(set)-1)
		}}
		b.keep = i == 0 && len(set) > 1 || i == len(set)-2
		if i == 0 {
			b.before = 5
		}
		c.add(b)
	}
	return len(set)
}

// whole keeps boxes together where they take up no more than the depth, so that what is short is seen at once.
func (c *composer) whole(boxes []box, depth float64) {
	height := 0.0
	for _, b := range boxes {
		height += b.before + b.height
	}
	if height > depth {
		return
	}
	for i := range boxes[:max(0, len(boxes)-1)] {
		boxes[i].keep = true
	}
}

// note queues a note between hairlines, its mark in the margin of its own, and says how many lines it has.
func (c *composer) note(n Note) int {
	const indent, pad = 26, 5.5
	e := c.within.child("Note")
	label := bodyStyle.heavy()
	if n.Caution {
		label = label.in(pencil)
	}
	var words []word
	if n.Label != "" {
		words = c.set.run(strings.TrimRight(n.Label, ". ")+".", label, "")
	}
	words = append(words, c.runs(n.Runs, bodyStyle)...)
	set := lines(words, c.flow.width()-indent)
	from := len(c.boxes)
	for i, l := range set {
		first, last := i == 0, i == len(set)-1
		b := box{height: bodyStyle.lead, keep: first && !last || i == len(set)-2}
		if first {
			b.before = 8
			b.height += pad
		}
		if last {
			b.height += pad + 4
		}
		b.draw = func(p *page, x, y float64) {
			if first {
				p.rule(x, y, x+c.flow.width(), y, hair, thread)
				y += pad
				if n.Caution {
					p.warning(x+2, y+bodyStyle.baseline()+0.8, 11.5, pencil)
				} else {
					p.hint(x+2, y+bodyStyle.baseline()+0.8, 11.5, copper)
				}
			}
			p.line(e, l, x+indent, y+bodyStyle.baseline(), last)
			if last {
				y += bodyStyle.lead + pad
				p.rule(x, y, x+c.flow.width(), y, hair, thread)
			}
		}
		c.add(b)
	}
	c.whole(c.boxes[from:], c.flow.depth()/3)
	return len(set)
}
