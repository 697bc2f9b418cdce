package pack

import (
	"math"

	"newelbook/views/draw"
)

// mm is a millimetre in points.
const mm = 72 / 25.4

// drawing queues a drawing with its caption as one box.
func (c *composer) drawing(d Drawing) {
	fig := c.within.child("Figure")
	fig.alt = d.Sheet.Alt
	w, h := d.Sheet.Width*mm, d.Sheet.Height*mm
	const captionRoom = 44 // three lines of caption and the room around them
	factor, broad := 1.0, false
	switch {
	case w <= c.flow.width() && h <= c.flow.depth()-captionRoom:
	case w <= c.flow.broadWidth() && h <= c.flow.broadDepth()-captionRoom-30:
		broad = true
	default:
		upright := math.Min(c.flow.width()/w, (c.flow.depth()-captionRoom)/h)
		turned := math.Min(c.flow.broadWidth()/w, (c.flow.broadDepth()-captionRoom-30)/h)
		factor, broad = math.Max(upright, turned), turned > upright
	}
	measure := c.flow.width()
	if broad {
		measure = c.flow.broadWidth()
	}
	st := cellStyle
	words := c.set.run(d.Number, st.heavy(), "")
	words = append(words, c.set.run(d.Caption, st, "")...)
	scale := d.Sheet.Scale
	if factor < 1 {
		scale = "Reduced to fit the page and not to scale: go by the figures."
	} else if scale != "" {
		scale = "Scale " + scale + "."
	}
	words = append(words, c.set.run(scale, st.in(faint), "")...)
	set := lines(words, measure)
	capt := fig.child("Caption")
	c.add(box{height: h*factor + 7 + float64(len(set))*st.lead, before: 12, broad: broad, draw: func(p *page, x, y float64) {
		left := x + (measure-w*factor)/2
		fig.box = &[4]float64{round(left), p.y(y + h*factor), round(left + w*factor), p.y(y)}
		p.tagged(fig, func() { c.sheet(p, d.Sheet, left, y, mm*factor) })
		p.text(capt, set, x, y+h*factor+7+st.baseline(), measure, Left, st.lead)
	}})
}

// toneInk is the ink of a tone of the drawing model.
func toneInk(t draw.Tone) ink {
	switch t {
	case draw.Faint:
		return ink{0.58, 0.58, 0.56}
	case draw.Accent:
		return copper
	case draw.Red:
		return pencil
	default:
		return black
	}
}

// sheet draws a sheet with its top left corner at (x, y), k points to a millimetre of paper.
func (c *composer) sheet(p *page, s draw.Sheet, x, y, k float64) {
	at := func(q draw.Point) (float64, float64) { return round(x + q.X*k), p.y(y + q.Y*k) }
	p.out.SaveState()
	for _, item := range s.Items {
		switch i := item.(type) {
		case draw.Line:
			p.nib(i.Weight, i.Dash, i.Tone, k)
			p.out.MoveTo(at(i.A))
			p.out.LineTo(at(i.B))
			p.out.Stroke()
		case draw.Outline:
			p.figure(i, at, k)
		case draw.Circle:
			p.nib(i.Weight, i.Dash, i.Tone, k)
			u, v := at(i.Centre)
			p.out.Circle(u, v, round(i.Radius*k))
			p.paint(i.Fill, i.Tone)
		case draw.Text:
			c.lettering(p, i, at, k)
		case draw.Modules:
			p.out.SetFillColorRGB(0, 0, 0)
			i.Bars(func(u, v, width, module float64) {
				p.out.Rectangle(round(x+u*k), p.y(y+(v+module)*k), round(width*k), round(module*k))
			})
			p.out.Fill()
		}
	}
	p.out.RestoreState()
}

// nib sets weight, pattern and ink of the lines to come.
func (p *page) nib(w draw.Weight, d draw.Dash, t draw.Tone, k float64) {
	p.pen(w.Millimetres()*k, toneInk(t))
	switch d {
	case draw.Hidden:
		p.out.SetDashPattern([]float64{round(2 * k), round(1 * k)}, 0)
	case draw.Centre:
		p.out.SetDashPattern([]float64{round(6 * k), round(1 * k), round(1 * k), round(1 * k)}, 0)
	default:
		p.out.SetDashPattern(nil, 0)
	}
}

// figure draws an outline with its filling.
func (p *page) figure(o draw.Outline, at func(draw.Point) (float64, float64), k float64) {
	if len(o.Points) == 0 {
		return
	}
	p.nib(o.Weight, o.Dash, o.Tone, k)
	p.out.MoveTo(at(o.Points[0]))
	for _, q := range o.Points[1:] {
		p.out.LineTo(at(q))
	}
	p.out.ClosePath()
	p.paint(o.Fill, o.Tone)
	if o.Fill == draw.Hatch {
		p.nib(draw.Hairline, draw.Solid, o.Tone, k)
		for _, l := range draw.HatchLines(o.Points, draw.HatchSpacing) {
			p.out.MoveTo(at(l.A))
			p.out.LineTo(at(l.B))
		}
		p.out.Stroke()
	}
}

// paint fills and strokes the path in hand.
func (p *page) paint(f draw.Fill, t draw.Tone) {
	switch f {
	case draw.Paper, draw.Hatch:
		p.out.SetFillColorRGB(1, 1, 1)
		p.out.FillAndStroke()
	case draw.Wash:
		c := toneInk(t)
		const strength = 0.13
		p.out.SetFillColorRGB(tint(c[0], strength), tint(c[1], strength), tint(c[2], strength))
		p.out.FillAndStroke()
	default:
		p.out.Stroke()
	}
}

// tint thins a colour with paper.
func tint(v, strength float64) float64 { return math.Round((1-strength*(1-v))*1000) / 1000 }

// lettering shows a text of the sheet at its anchor and angle.
func (c *composer) lettering(p *page, t draw.Text, at func(draw.Point) (float64, float64), k float64) {
	tone := toneInk(t.Tone)
	if t.Tone == draw.Faint {
		tone = faint
	}
	words := c.set.row(t.Body, style{size: t.Size * k, bold: t.Bold, ink: tone}, "")
	if len(words) == 0 {
		return
	}
	width := 0.0
	for i := range words {
		width += words[i].width
		if i < len(words)-1 {
			width += words[i].gap()
		}
	}
	shift := 0.0
	switch t.Anchor {
	case draw.Middle:
		shift = -width / 2
	case draw.End:
		shift = -width
	}
	u, v := at(t.At)
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	exact := func(v float64) float64 { return math.Round(v*1e5) / 1e5 }
	p.out.SaveState()
	p.out.ConcatMatrix(exact(cos), exact(sin), exact(-sin), exact(cos), u, v)
	p.words(words, shift, p.h, true)
	p.out.RestoreState()
}
