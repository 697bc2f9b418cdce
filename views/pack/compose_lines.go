package pack

import "math"

// numbers queues figures set large, up to five beside each other.
func (c *composer) numbers(n Numbers) {
	const abreast = 5
	e := c.within.child("Div")
	for from := 0; from < len(n.Items); from += abreast {
		c.numberRow(e, n.Items[from:min(len(n.Items), from+abreast)])
	}
}

func (c *composer) numberRow(e *element, items []Number) {
	across := float64(max(3, len(items)))
	width := (c.flow.width() - gutter*2*(across-1)) / across
	type figure struct {
		value, label, source []line
		p                    *element
		tone                 Tone
	}
	labelStyle := style{size: 9, lead: 11.6, ink: black, bold: true}
	figures, height := make([]figure, len(items)), 0.0
	for i, n := range items {
		hero := heroStyle
		if n.Tone != Plain {
			hero = hero.in(inkOf(n.Tone))
		}
		set := func() []line { return lines(c.set.marked(c.set.run(n.Value, hero, ""), n.Tone, hero), width) }
		value := set()
		for len(value) > 1 && hero.size > 13 {
			hero.size--
			value = set()
		}
		f := figure{
			value:  value,
			label:  lines(c.set.run(n.Label, labelStyle, ""), width),
			source: lines(c.set.run(n.Source, tinyStyle, ""), width),
			p:      e.child("P"),
			tone:   n.Tone,
		}
		figures[i] = f
		height = math.Max(height, float64(len(f.value))*heroStyle.lead+float64(len(f.label))*labelStyle.lead+
			float64(len(f.source))*tinyStyle.lead)
	}
	c.add(box{height: height + 10, before: 13, draw: func(p *page, x, y float64) {
		for i, f := range figures {
			left := x + float64(i)*(width+2*gutter)
			weight, tone := hair, thread
			if f.tone == Fails {
				weight, tone = 1.6, pencil
			}
			p.rule(left, y, left+width, y, weight, tone)
			at := p.text(f.p, f.value, left, y+4+heroStyle.baseline(), width, Left, heroStyle.lead) - heroStyle.baseline()
			at = p.text(f.p, f.label, left, at+labelStyle.baseline(), width, Left, labelStyle.lead) - labelStyle.baseline()
			p.text(f.p, f.source, left, at+tinyStyle.baseline(), width, Left, tinyStyle.lead)
		}
	}})
}

// signOff queues lines to sign: what the signature stands for, boxes to tick and rules to write on where there are any, and rules for
// name, office, date and signature. What is given stands on its rule already.
func (c *composer) signOff(s SignOff) {
	for _, l := range s.Lines {
		e := c.within.child("Div")
		c.says(e, l)
		c.signatures(e, l)
	}
}

// says queues what a line to sign stands for, with its boxes and its room; it is kept with what follows.
func (c *composer) says(e *element, l SignLine) {
	const boxSide, apart, writing = 9.0, 7.0, 20.0
	says := e.child("P")
	set := lines(c.set.run(l.Says, bodyStyle.heavy(), ""), c.flow.width())
	type choice struct {
		set []line
		at  float64
		p   *element
	}
	var choices []choice
	across := (c.flow.width() - gutter*float64(len(l.Choices)-1)) / math.Max(float64(len(l.Choices)), 1)
	deepest := 0
	for i, text := range l.Choices {
		ch := choice{lines(c.set.run(text, bodyStyle, ""), across-boxSide-apart), float64(i) * (across + gutter), e.child("P")}
		choices, deepest = append(choices, ch), max(deepest, len(ch.set))
	}
	height := float64(len(set))*bodyStyle.lead + float64(l.Room)*writing
	if deepest > 0 {
		height += float64(deepest)*bodyStyle.lead + 4
	}
	c.add(box{height: height, before: 12, keep: true, draw: func(p *page, x, y float64) {
		y = p.text(says, set, x, y+bodyStyle.baseline(), c.flow.width(), Left, bodyStyle.lead) - bodyStyle.baseline()
		if deepest > 0 {
			y += 4
			for _, ch := range choices {
				p.artifact(func() { p.outline(x+ch.at, y+2.4, boxSide, boxSide, 0.7, black) })
				p.text(ch.p, ch.set, x+ch.at+boxSide+apart, y+bodyStyle.baseline(), across, Left, bodyStyle.lead)
			}
			y += float64(deepest) * bodyStyle.lead
		}
		for range l.Room {
			y += writing
			p.rule(x, y, x+c.flow.width(), y, hair, thread)
		}
	}})
}

// signatures queues the rules for name, office, date and signature.
func (c *composer) signatures(e *element, l SignLine) {
	value := cellStyle.heavy()
	fields := []struct {
		label, value string
		share        float64
	}{
		{"Name", l.Name, 0.27}, {"Office", l.Office, 0.24}, {"Date", l.Date, 0.17}, {"Signature", "", 0.32},
	}
	room := c.flow.width() - 3*gutter
	cells, deepest := make([][]line, len(fields)), 1
	ps := make([]*element, len(fields))
	for i, f := range fields {
		cells[i] = lines(c.set.run(f.value, value, ""), room*f.share)
		deepest = max(deepest, len(cells[i]))
		ps[i] = e.child("P")
	}
	ruleAt := 18 + float64(deepest)*value.lead
	c.add(box{height: ruleAt + tinyStyle.lead + 2, draw: func(p *page, x, y float64) {
		left := x
		for i, f := range fields {
			w := room * f.share
			p.rule(left, y+ruleAt, left+w, y+ruleAt, 0.6, black)
			p.text(ps[i], lines(c.set.run(f.label, tinyStyle, ""), w), left, y+ruleAt+tinyStyle.baseline(), w, Left, tinyStyle.lead)
			first := y + ruleAt - 2 - float64(len(cells[i]))*value.lead
			p.text(ps[i], cells[i], left, first+value.baseline(), w, Left, value.lead)
			left += w + gutter
		}
	}})
}
