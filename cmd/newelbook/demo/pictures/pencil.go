package pictures

import "math"

// lead is one pencil: its colour, width in pixels, and how hard it is pressed.
type lead struct {
	col   rgb
	width float64
	press float64
}

func soft(width float64) lead { return lead{graphite, width, 0.85} }
func hard(width float64) lead { return lead{graphite, width, 0.45} }
func red(width float64) lead  { return lead{redLead, width, 0.9} }

func (l lead) ink() ink { return ink{col: l.col, alpha: l.press * 0.9, tooth: 0.26} }

// line draws a line by hand through the points.
func (s *sheet) line(points []pt, l lead) {
	s.fill([][]pt{s.ribbon(points, l.width, 0.9)}, l.ink())
}

// edge draws the outline of an edge as a draughtsman does: a little too long, now and then twice.
func (s *sheet) edge(a, b pt, l lead) {
	d := b.sub(a)
	over := min(5, d.len()*0.05)
	u := d.unit()
	from, to := a.sub(u.mul(over*s.between(0.2, 1))), b.add(u.mul(over*s.between(0.2, 1)))
	s.line([]pt{from, to}, l)
	if d.len() > 60 && s.rng.Float64() < 0.45 {
		n := u.left().mul(s.spread(2.2))
		s.line([]pt{a.to(b, s.between(0, 0.25)).add(n), b.to(a, s.between(0, 0.2)).sub(n)}, lead{l.col, l.width * 0.6, l.press * 0.5})
	}
}

// outline draws the edges of a closed shape.
func (s *sheet) outline(shape []pt, l lead) {
	for i, p := range shape {
		s.edge(p, shape[(i+1)%len(shape)], l)
	}
}

// loop draws a closed curve in one line.
func (s *sheet) loop(shape []pt, l lead) {
	if len(shape) > 2 {
		s.line(append(append([]pt{}, shape...), shape[0], shape[1]), l)
	}
}

// ribbon is the outline of a line of uneven width along the points; wobble is how far it strays, in pixels.
func (s *sheet) ribbon(points []pt, width, wobble float64) []pt {
	walk := resample(points, 9)
	if len(walk) < 2 {
		return nil
	}
	p1, p2, p3 := s.between(0, 6.3), s.between(0, 6.3), s.between(0, 6.3)
	f1, f2 := s.between(0.02, 0.035), s.between(0.006, 0.012)
	wobble = min(wobble, 0.012*float64(len(walk))*9)
	left, right := make([]pt, 0, 2*len(walk)), make([]pt, 0, len(walk))
	for i, p := range walk {
		along := float64(i) * 9
		n := walk[min(i+1, len(walk)-1)].sub(walk[max(i-1, 0)]).unit().left()
		p = p.add(n.mul(wobble * (0.5*math.Sin(along*f1+p1) + 0.8*math.Sin(along*f2+p2))))
		half := width / 2 * (0.85 + 0.25*math.Sin(along*f1*0.7+p3))
		if end := min(i, len(walk)-1-i); end == 0 {
			half *= 0.55
		}
		left = append(left, p.add(n.mul(half)))
		right = append(right, p.sub(n.mul(half)))
	}
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	return left
}

// resample walks along the points in steps of about step pixels.
func resample(points []pt, step float64) []pt {
	var out []pt
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := max(1, int(b.sub(a).len()/step))
		if n > 4000 {
			return nil
		}
		for j := range n {
			out = append(out, a.to(b, float64(j)/float64(n)))
		}
	}
	if len(points) > 0 {
		out = append(out, points[len(points)-1])
	}
	return out
}

// hatch shades a shape with parallel strokes at an angle in degrees.
func (s *sheet) hatch(shape []pt, degrees, gap float64, l lead) {
	dir := pt{math.Cos(degrees * math.Pi / 180), math.Sin(degrees * math.Pi / 180)}
	n := dir.left()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range shape {
		d := p.X*n.X + p.Y*n.Y
		lo, hi = min(lo, d), max(hi, d)
	}
	if !(hi-lo < 5000) {
		return
	}
	var strokes [][]pt
	for d := lo + gap*s.between(0.3, 0.9); d < hi; d += gap * s.between(0.75, 1.25) {
		var cuts []float64
		for i, a := range shape {
			b := shape[(i+1)%len(shape)]
			da, db := a.X*n.X+a.Y*n.Y-d, b.X*n.X+b.Y*n.Y-d
			if (da < 0) != (db < 0) {
				p := a.to(b, da/(da-db))
				cuts = append(cuts, p.X*dir.X+p.Y*dir.Y)
			}
		}
		if len(cuts) != 2 {
			continue
		}
		a, b := min(cuts[0], cuts[1]), max(cuts[0], cuts[1])
		a, b = a+s.between(0, 3), b-s.between(0, (b-a)*0.08+3)
		if b-a > 4 {
			base := n.mul(d)
			strokes = append(strokes, s.ribbon([]pt{base.add(dir.mul(a)), base.add(dir.mul(b))}, l.width, 0.7))
		}
	}
	s.fill(strokes, l.ink())
}

// blob is an uneven round shape.
func (s *sheet) blob(c pt, rx, ry, rough float64) []pt {
	const n = 56
	var phase [5]float64
	for i := range phase {
		phase[i] = s.between(0, 2*math.Pi)
	}
	out := make([]pt, n)
	for i := range out {
		t := 2 * math.Pi * float64(i) / n
		k := 1.0
		for j, p := range phase {
			k += rough * math.Sin(t*float64(j+2)+p) / float64(j+2)
		}
		out[i] = pt{c.X + rx*k*math.Cos(t), c.Y + ry*k*math.Sin(t)}
	}
	return out
}

// wash lays watercolour in a shape, darker along its edge where the pigment dries.
func (s *sheet) wash(shape []pt, col rgb, alpha float64) {
	s.fill([][]pt{shape}, ink{col: col, alpha: alpha, wash: true, mottle: 0.45})
	if len(shape) > 2 {
		closed := append(append([]pt{}, shape...), shape[0])
		s.fill([][]pt{s.ribbon(closed, 2.4, 0)}, ink{col: col, alpha: alpha * 0.5, wash: true, mottle: 0.9})
	}
}

// circle is a round shape in the picture.
func circle(c pt, r float64) []pt {
	out := make([]pt, 72)
	for i := range out {
		t := 2 * math.Pi * float64(i) / float64(len(out))
		out[i] = pt{c.X + r*math.Cos(t), c.Y + r*math.Sin(t)}
	}
	return out
}
