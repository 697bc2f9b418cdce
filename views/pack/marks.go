package pack

// The inks of the page: paper and ink, the green of weathered copper, red pencil for what fails. The page reads without
// them: weight, mark and word say the same.
var (
	black  = ink{0.10, 0.10, 0.09}
	faint  = ink{0.36, 0.36, 0.34} // 6.9:1 on white
	thread = ink{0.55, 0.55, 0.52} // hairlines
	copper = ink{0.184, 0.42, 0.369}
	pencil = ink{0.702, 0.149, 0.118}
	white  = ink{1, 1, 1}
)

// inkOf is the colour that agrees with a tone.
func inkOf(t Tone) ink {
	switch t {
	case Fails:
		return pencil
	case Good:
		return copper
	case Unchecked:
		return faint
	default:
		return black
	}
}

// mark draws the mark of a tone at the baseline (x, y) for type of the given size: a tick, an open triangle, a cross, an
// open ring. Their shapes differ, so that they tell apart without colour.
func (p *page) mark(t Tone, x, y, size float64, c ink) {
	o := p.out
	o.SaveState()
	p.pen(0.09*size, c)
	o.SetLineCap(1)
	o.SetLineJoin(1)
	at := func(u, v float64) (float64, float64) { return round(x + u*size), p.y(y - v*size) }
	path := func(points ...float64) {
		for i := 0; i < len(points); i += 2 {
			u, v := at(points[i], points[i+1])
			if i == 0 {
				o.MoveTo(u, v)
			} else {
				o.LineTo(u, v)
			}
		}
	}
	switch t {
	case Good:
		path(0.06, 0.30, 0.26, 0.08, 0.64, 0.62)
		o.Stroke()
	case Attention:
		path(0.36, 0.68, 0.68, 0.06, 0.04, 0.06)
		o.ClosePathStroke()
	case Fails:
		p.pen(0.13*size, c)
		path(0.08, 0.08, 0.62, 0.62)
		path(0.08, 0.62, 0.62, 0.08)
		o.Stroke()
	case Unchecked:
		u, v := at(0.35, 0.35)
		o.Circle(u, v, round(0.28*size))
		o.Stroke()
	}
	o.RestoreState()
}

// warning draws the triangle of a caution, with its stroke and point, of the given height above the baseline y.
func (p *page) warning(x, y, height float64, c ink) {
	p.artifact(func() {
		o := p.out
		o.SaveState()
		p.pen(0.07*height, c)
		o.SetLineJoin(1)
		o.SetLineCap(1)
		w := 1.12 * height
		o.MoveTo(round(x+w/2), p.y(y-height))
		o.LineTo(round(x+w), p.y(y))
		o.LineTo(round(x), p.y(y))
		o.ClosePathStroke()
		p.pen(0.1*height, c)
		o.MoveTo(round(x+w/2), p.y(y-0.66*height))
		o.LineTo(round(x+w/2), p.y(y-0.34*height))
		o.MoveTo(round(x+w/2), p.y(y-0.17*height))
		o.LineTo(round(x+w/2), p.y(y-0.165*height))
		o.Stroke()
		o.RestoreState()
	})
}

// hint draws the mark of a note, an i in a ring, of the given height above the baseline y.
func (p *page) hint(x, y, height float64, c ink) {
	p.artifact(func() {
		o := p.out
		o.SaveState()
		p.pen(0.07*height, c)
		o.SetLineCap(1)
		u := round(x + 0.56*height)
		o.Circle(u, p.y(y-height/2), round(0.46*height))
		o.Stroke()
		p.pen(0.1*height, c)
		o.MoveTo(u, p.y(y-0.24*height))
		o.LineTo(u, p.y(y-0.53*height))
		o.MoveTo(u, p.y(y-0.735*height))
		o.LineTo(u, p.y(y-0.73*height))
		o.Stroke()
		o.RestoreState()
	})
}

// qr draws a code with its quiet zone in a square of the given side.
func (p *page) qr(e *element, q *QR, x, y, side float64) {
	unit := side / float64(q.Side+8)
	e.box = &[4]float64{round(x), p.y(y + side), round(x + side), p.y(y)}
	p.tagged(e, func() {
		o := p.out
		o.SaveState()
		o.SetFillColorRGB(0, 0, 0)
		for row := range q.Side {
			for col := 0; col < q.Side; col++ {
				run := 0
				for col+run < q.Side && q.Black[row*q.Side+col+run] {
					run++
				}
				if run > 0 {
					o.Rectangle(round(x+float64(col+4)*unit), p.y(y+float64(row+5)*unit), round(float64(run)*unit), round(unit))
					col += run
				}
			}
		}
		o.Fill()
		o.RestoreState()
	})
}
