package pack

import (
	"math"
	"path"
	"slices"
	"strings"
)

// The limits of photographs on the page, in points: two rows of two to a page.
const (
	pictureShare = 0.62  // of the width, for a picture alone in its row: its caption stands beside it
	pictureDepth = 240.0 // of one that shares its row
	aloneDepth   = 300.0
	pictureAbove = 13.0
	pictureApart = 16.0
	captionLeast = 186.0 // the width of a picture's column at least
)

// photos queues photographs that follow one another, two abreast, each with its caption under it. A wide one that something is to be
// read off, such as a tape, has its row to itself and more of the page.
func (c *composer) photos(all []Photo) {
	alone := func(ph Photo) bool { return ph.Read && ph.aspect() > 1 }
	for len(all) > 0 {
		if len(all) == 1 || alone(all[0]) || alone(all[1]) {
			c.photo(all[0])
			all = all[1:]
			continue
		}
		c.photoRow(all[:2])
		all = all[2:]
	}
}

// aspect is a picture's width over its height.
func (ph Photo) aspect() float64 {
	if ph.W <= 0 || ph.H <= 0 {
		return 4.0 / 3
	}
	return float64(ph.W) / float64(ph.H)
}

// photoRow queues two photographs of one height beside each other as one box, so that nothing parts them from their captions.
func (c *composer) photoRow(pair []Photo) {
	room := c.flow.width() - pictureApart
	first := room * pair[0].aspect() / (pair[0].aspect() + pair[1].aspect())
	first = math.Min(math.Max(first, captionLeast), room-captionLeast)
	cols := []column{{x: 0, width: first}, {x: first + pictureApart, width: room - first}}
	h := pictureDepth
	for i, ph := range pair {
		h = math.Min(h, cols[i].width/ph.aspect())
	}
	draws, depth := make([]func(p *page, x, y float64), len(pair)), 0.0
	for i, ph := range pair {
		shown, under := c.pictured(ph, cols[i].width, h*ph.aspect(), h)
		draws[i], depth = shown, math.Max(depth, under)
	}
	c.add(box{height: h + 4 + depth, before: pictureAbove, draw: func(p *page, x, y float64) {
		for i := range draws {
			draws[i](p, x+cols[i].x, y)
		}
	}})
}

// pictured makes the figure of a photograph with its caption under it, in a column of the given width; depth is that of the caption.
func (c *composer) pictured(ph Photo, width, w, h float64) (draw func(p *page, x, y float64), depth float64) {
	fig := c.within.child("Figure")
	fig.alt = ph.Alt
	pic := &picture{photo: ph}
	facts, capt := c.photoFacts(ph, width), fig.child("Caption")
	for _, f := range facts {
		depth += f.before + float64(len(f.set))*f.st.lead
	}
	return func(p *page, x, y float64) {
		c.placed(p, fig, pic, x, y, w, h)
		c.tell(p, capt, facts, x, y+h+4, width)
	}, depth
}

// placed paints a photograph and notes where it stands.
func (c *composer) placed(p *page, fig *element, pic *picture, x, y, w, h float64) {
	if pic.photo.ID != "" {
		c.anchors[pic.photo.ID] = place{p, y - 6}
	}
	fig.box = &[4]float64{round(x), p.y(y + h), round(x + w), p.y(y)}
	p.tagged(fig, func() { p.image(pic, x, y, w, h) })
	p.artifact(func() { p.outline(x, y, w, h, hair, thread) })
}

// tell sets what is known of a photograph.
func (c *composer) tell(p *page, capt *element, facts []told, x, y, width float64) {
	for _, f := range facts {
		y += f.before
		y = p.text(capt, f.set, x, y+f.st.baseline(), width, Left, f.st.lead) - f.st.baseline()
	}
}

// photo queues a photograph alone in its row with its caption beside it, as one box.
func (c *composer) photo(ph Photo) {
	fig := c.within.child("Figure")
	fig.alt = ph.Alt
	pic := &picture{photo: ph}
	w, h := c.flow.width()*pictureShare, math.Min(aloneDepth, c.flow.depth()/2-pictureAbove)
	if scaled := h * ph.aspect(); scaled < w {
		w = scaled
	} else {
		h = w / ph.aspect()
	}
	side := c.flow.width()*pictureShare + 15
	facts := c.photoFacts(ph, c.flow.width()-side)
	capt := fig.child("Caption")
	depth := 0.0
	for _, f := range facts {
		depth += f.before + float64(len(f.set))*f.st.lead
	}
	c.add(box{height: math.Max(h, depth) + 1, before: pictureAbove, draw: func(p *page, x, y float64) {
		c.placed(p, fig, pic, x, y, w, h)
		p.rule(x+side, y+0.2, x+c.flow.width(), y+0.2, hair, thread)
		c.tell(p, capt, facts, x+side, y+3, c.flow.width()-side)
	}})
}

// told is one paragraph of a photograph's caption.
type told struct {
	set    []line
	st     style
	before float64
}

func (c *composer) photoFacts(ph Photo, width float64) []told {
	var out []told
	say := func(words []word, st style, before float64) {
		if len(words) > 0 {
			out = append(out, told{lines(words, width), st, before})
		}
	}
	head := style{size: 10.4, lead: 13.4, bold: true, ink: black, figures: true}
	say(append(c.set.run(ph.Number, head.in(copper), ""), c.set.run(ph.Place, head, "")...), head, 0)
	say(c.set.run(ph.Caption, cellStyle.in(black), ""), cellStyle, 0)
	value := style{size: 8, lead: 10.2, ink: black, figures: true}
	key := value.in(faint)
	if ph.Marks != "" {
		say(c.set.run(ph.Marks+" Without marks, in the archive: "+ph.plainName(), value, ""), value, 2.4)
	}
	facts := []struct{ key, value string }{{"Time claimed by the file", ph.Claimed}, {"Received", ph.Received}, {"Original, SHA-256 starts", ph.ShortHash}}
	if ph.Typed != "" {
		facts = slices.Insert(facts, 0, struct{ key, value string }{"Reading typed from it", ph.Typed})
	}
	for i, f := range facts {
		tone, look, before := Plain, value, 0.0
		if f.value == "" {
			f.value, tone, look = "not recorded", Missing, key
		}
		if i == 0 {
			before = 2.4
		}
		say(append(c.set.run(f.key, key, ""), c.set.marked(c.set.run(f.value, look, ""), tone, look)...), value, before)
	}
	flag := style{size: 8.2, lead: 10.4, ink: black, bold: true}
	for i, text := range ph.Flags {
		before := 1.6
		if i == 0 {
			before = 3.4
		}
		say(c.set.marked(c.set.run(text, flag, ""), Attention, flag), flag, before)
	}
	return out
}

// plainName is the name of the picture without marks, its hash cut short: what is printed is looked for by eye.
func (ph Photo) plainName() string {
	const enough = 12
	name := path.Base(ph.Plain)
	if stem := strings.TrimSuffix(name, path.Ext(name)); len(stem) > enough {
		name = stem[:enough] + "…" + path.Ext(name)
	}
	return path.Base(path.Dir(ph.Plain)) + "/" + name
}

// image paints a picture over a rectangle given by its top left corner.
func (p *page) image(pic *picture, x, y, w, h float64) {
	name := pic.name(len(p.pictures))
	p.pictures = append(p.pictures, pic)
	p.out.SaveState()
	p.out.ConcatMatrix(round(w), 0, 0, round(h), round(x), p.y(y+h))
	p.out.Do(name)
	p.out.RestoreState()
}

// outline strokes a rectangle given by its top left corner.
func (p *page) outline(x, y, w, h, weight float64, c ink) {
	p.out.SaveState()
	p.pen(weight, c)
	p.out.Rectangle(round(x), p.y(y+h), round(w), round(h))
	p.out.Stroke()
	p.out.RestoreState()
}
