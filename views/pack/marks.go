package pack

// The inks of the page: paper and ink, the green of weathered copper, red pencil for what fails. The page reads without
// them: weight, mark and word say the same.
var (
	black  = ink{0.10, 0.10, 0.09}
	faint  = ink{0.36, 0.36, 0.34} // 6.9:1 on white
	thread = ink{0.55, 0.55, 0.52} // hairlines
	copper = ink{0.184, 0.42, 0.369}
	pencil = ink{0.702, 0.149, 0.118}
)

// inkOf is the colour that agrees with a tone.
func inkOf(t Tone) ink {
	switch t {
	case Fails:
		return pencil
	case Good:
		return copper
	case Unchecked, Missing:
		return faint
	default:
		return black
	}
}

// stroke is one line of a mark in a square of 16, y downwards: corner points or, with curve set, a start and then cubic
// Bézier curves of three points each. A radius alone is a ring about the middle.
type stroke struct {
	points []float64
	curve  bool
	closed bool
	dash   []float64
	radius float64
}

// printPen is the width of a mark's stroke in its square of 16. The page's style sheet has a wider one; the finer one keeps
// the shape open at the sizes of print.
const printPen = 1.5

// strokes are the marks of the tones, the same on paper and on the page. Their shapes differ, so that they tell apart
// without colour.
func strokes(t Tone) []stroke {
	switch t {
	case Good: // a tick
		return []stroke{{curve: true, points: []float64{2.4, 8.9, 3.6, 9.9, 4.6, 11.3, 5.4, 12.9, 7.4, 8.6, 10, 5, 13.8, 2.6}}}
	case Attention: // a diamond with a point
		return []stroke{{closed: true, points: []float64{8, 1.6, 14.4, 8, 8, 14.4, 1.6, 8}}, {points: []float64{8, 5, 8, 8.6}}, {points: []float64{8, 10.9, 8, 11.1}}}
	case Fails: // a cross
		return []stroke{{curve: true, points: []float64{2.6, 3.2, 6, 6, 9.6, 9.8, 13, 13.2}}, {curve: true, points: []float64{13.2, 2.6, 9.7, 5.8, 6.2, 9.4, 3, 13.4}}}
	case Unchecked: // a broken ring
		return []stroke{{radius: 5.6, dash: []float64{2.93, 2.93}}}
	case TooClose: // two points closing on a line
		return []stroke{{points: []float64{8, 1.8, 8, 14.2}}, {points: []float64{1.2, 8, 5.5, 8}}, {points: []float64{3.6, 5.9, 5.7, 8, 3.6, 10.1}},
			{points: []float64{14.8, 8, 10.5, 8}}, {points: []float64{12.4, 5.9, 10.3, 8, 12.4, 10.1}}}
	case OffLayout: // a carpenter's crow's foot beside the line it should be on
		return []stroke{{points: []float64{2, 2.6, 5.2, 13.4, 8.4, 2.6}}, {points: []float64{12.6, 1.8, 12.6, 14.2}, dash: []float64{2.2, 1.7}}}
	case Missing: // a dash
		return []stroke{{points: []float64{3, 8, 13, 8}}}
	}
	return nil
}

// mark draws the mark of a tone at the baseline (x, y) for type of the given size.
func (p *page) mark(t Tone, x, y, size float64, c ink) {
	o, unit := p.out, size/16
	top := y - 0.35*size - 8*unit
	o.SaveState()
	o.SetLineJoin(1)
	p.pen(printPen*unit, c)
	for _, s := range strokes(t) {
		at := func(i int) (float64, float64) { return round(x + s.points[i]*unit), p.y(top + s.points[i+1]*unit) }
		dash := make([]float64, len(s.dash))
		for i, d := range s.dash {
			dash[i] = round(d * unit)
		}
		o.SetDashPattern(dash, 0)
		o.SetLineCap(1)
		if len(dash) > 0 {
			o.SetLineCap(0)
		}
		switch {
		case s.radius > 0:
			o.Circle(round(x+8*unit), p.y(top+8*unit), round(s.radius*unit))
		case s.curve:
			o.MoveTo(at(0))
			for i := 2; i+5 < len(s.points); i += 6 {
				a, b := at(i)
				c, d := at(i + 2)
				e, f := at(i + 4)
				o.CurveTo(a, b, c, d, e, f)
			}
		default:
			o.MoveTo(at(0))
			for i := 2; i < len(s.points); i += 2 {
				o.LineTo(at(i))
			}
		}
		if s.closed {
			o.ClosePath()
		}
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
