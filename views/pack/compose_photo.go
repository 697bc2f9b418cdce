package pack

import "math"

// The shares and limits of a photograph on the page: the picture to the left, what is claimed and known of it to the
// right; three landscape pictures to a page.
const (
	pictureShare = 0.62
	pictureDepth = 226.0 // points at most, for a landscape picture
	uprightDepth = 300.0 // points at most, for an upright one
	pictureAbove = 13.0
)

// photo queues a photograph with its caption as one box, so that nothing parts them.
func (c *composer) photo(ph Photo) {
	fig := c.within.child("Figure")
	fig.alt = ph.Alt
	pic := &picture{photo: ph}
	w, h := c.flow.width()*pictureShare, math.Min(pictureDepth, (c.flow.depth()-2*pictureAbove)/3-2)
	if ph.H > ph.W {
		h = math.Min(uprightDepth, (c.flow.depth()-pictureAbove)/2-2)
	}
	if ph.W > 0 && ph.H > 0 {
		scale := math.Min(w/float64(ph.W), h/float64(ph.H))
		w, h = float64(ph.W)*scale, float64(ph.H)*scale
	}
	side := c.flow.width()*pictureShare + 15
	facts := c.photoFacts(ph, c.flow.width()-side)
	capt := fig.child("Caption")
	depth := 0.0
	for _, f := range facts {
		depth += f.before + float64(len(f.set))*f.st.lead
	}
	c.add(box{height: math.Max(h, depth) + 1, before: pictureAbove, draw: func(p *page, x, y float64) {
		if ph.ID != "" {
			c.anchors[ph.ID] = place{p, y - 6}
		}
		fig.box = &[4]float64{round(x), p.y(y + h), round(x + w), p.y(y)}
		p.tagged(fig, func() { p.image(pic, x, y, w, h) })
		p.artifact(func() { p.outline(x, y, w, h, hair, thread) })
		at := y
		p.rule(x+side, at+0.2, x+c.flow.width(), at+0.2, hair, thread)
		for _, f := range facts {
			at += f.before
			at = p.text(capt, f.set, x+side, at+f.st.baseline(), c.flow.width()-side, Left, f.st.lead) - f.st.baseline()
		}
	}})
}

// told is one paragraph beside a photograph.
type told struct {
	set    []line
	st     style
	before float64
}

func (c *composer) photoFacts(ph Photo, width float64) []told {
	var out []told
	say := func(text string, st style, before float64, tone Tone) {
		if text == "" {
			return
		}
		words := c.set.marked(c.set.run(text, st, ""), tone, st)
		out = append(out, told{lines(words, width), st, before})
	}
	number := style{size: 8.8, lead: 12, bold: true, ink: copper, figures: true}
	placeStyle := style{size: 15, lead: 18, bold: true, ink: black, figures: true}
	say(ph.Number, number, 3, Plain)
	say(ph.Place, placeStyle, 0, Plain)
	say(ph.Caption, cellStyle.in(black), 2, Plain)
	key := tinyStyle
	for i, f := range []struct{ key, value string }{
		{"Time claimed by the file", ph.Claimed}, {"Received", ph.Received}, {"Original, SHA-256 starts", ph.ShortHash},
	} {
		tone := Plain
		if f.value == "" {
			f.value, tone = "not recorded", Missing
		}
		before := 3.0
		if i == 0 {
			before = 6
		}
		say(f.key, key, before, Plain)
		say(f.value, style{size: 8.4, lead: 10.6, ink: black, figures: true}, 0, tone)
	}
	for i, flag := range ph.Flags {
		before := 2.0
		if i == 0 {
			before = 6
		}
		say(flag, style{size: 8.2, lead: 10.4, ink: black, bold: true}, before, Attention)
	}
	return out
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
