package pictures

import "math"

// longGrain draws the lines of growth along a face, bending about a knot where there is one.
func (s *scene) longGrain(f side, mat material) {
	g := f.plane
	long, wide := f.w, f.h
	if f.grain == 1 {
		g = plane{f.o, f.v, f.u}
		long, wide = f.h, f.w
	}
	// Lines closer than about nine pixels would run into one another.
	a, b := s.see(g.at(long/2, 0)), s.see(g.at(long/2, wide))
	across := b.sub(a).len()
	length := s.see(g.at(long, wide/2)).sub(s.see(g.at(0, wide/2))).len()
	n := int(min(wide*mat.lines+1, across/9))
	if across < 45 {
		n = int(min(3, across/12))
	}
	if n < 1 || length < 14 {
		return
	}
	knots := s.knots(long, wide, across, length)
	strength := min(0.42, 0.16+across/900)
	for pass, width := range []float64{1.2, 2.1} {
		var strokes [][]pt
		for i := range n {
			if pass == 1 && i%3 != 0 {
				continue
			}
			v := (float64(i) + s.between(0.25, 0.75)) / float64(n) * wide
			from, to := 0.0, long
			if s.rng.Float64() < 0.55 {
				from = s.between(0, 0.6) * long
				to = min(long, from+s.between(0.15, 0.7)*long)
			}
			strokes = append(strokes, s.ribbon(s.grainLine(g, knots, v, from, to, long, wide), width, 0.5))
		}
		s.fill(strokes, ink{col: mat.grain, alpha: strength * (1 - 0.25*float64(pass)), wash: true})
	}
	for _, k := range knots {
		var rings [][]pt
		for i := range 3 {
			ring := s.seeAll(g.ring(k.u, k.v, 1, 24))
			c := s.see(g.at(k.u, k.v))
			size := k.r * (0.28 + 0.3*float64(i))
			for j, p := range ring {
				// A knot is longer along the grain.
				t := 2 * math.Pi * float64(j) / 24
				p = s.see(g.at(k.u+size*1.5*math.Cos(t), k.v+size*math.Sin(t)))
				ring[j] = p
			}
			if i == 0 {
				s.fill([][]pt{ring}, ink{col: mat.grain, alpha: 0.55, wash: true, tooth: 0.3})
			}
			if ring[0].sub(c).len() > 2.5 {
				rings = append(rings, s.ribbon(append(ring, ring[0], ring[1]), 1.3, 0.4))
			}
		}
		s.fill(rings, ink{col: mat.grain, alpha: strength, tooth: 0.4, wash: true})
	}
}

// knot is a place where a branch grew, along and across the face.
type knot struct{ u, v, r float64 }

func (s *scene) knots(long, wide, across, length float64) []knot {
	var out []knot
	if across < 36 || length < 120 {
		return nil
	}
	for range int(min(3, length/330)) + 1 {
		if s.rng.Float64() < 0.5 {
			out = append(out, knot{s.between(0.1, 0.9) * long, s.between(0.25, 0.75) * wide, s.between(0.09, 0.16) * min(wide, 5)})
		}
	}
	return out
}

// grainLine is one line of growth at v across the face.
func (s *scene) grainLine(g plane, knots []knot, v, from, to, long, wide float64) []pt {
	p1, p2 := s.between(0, 6.3), s.between(0, 6.3)
	sway := min(wide*0.035, 0.16)
	const n = 26
	out := make([]pt, 0, n+1)
	for i := range n + 1 {
		u := from + (to-from)*float64(i)/n
		w := v + sway*(math.Sin(u*0.21+p1)+0.5*math.Sin(u*0.53+p2))
		for _, k := range knots {
			d := (u - k.u) / (k.r * 2.6)
			gap := w - k.v
			push := k.r * 1.15 * math.Exp(-d*d) * math.Exp(-math.Abs(gap)/(k.r*2.2))
			if gap < 0 {
				push = -push
			}
			w += push
		}
		out = append(out, s.see(g.at(u, min(max(w, wide*0.01), wide*0.99))))
	}
	return out
}

// endGrain draws the rings of a cut end, about a heart that lies beside the face.
func (s *scene) endGrain(g plane, w, h float64, mat material) {
	a, b := s.see(g.at(0, 0)), s.see(g.at(w, h))
	size := b.sub(a).len()
	if size < 22 {
		return
	}
	heart := pt{w * s.between(0.1, 0.9), -h * s.between(0.15, 0.5)}
	gap := max(min(w, h)*0.075, math.Hypot(w, h)/size*8)
	var rings [][]pt
	for r := gap; r < math.Hypot(w, h)*1.6; r += gap * s.between(0.7, 1.35) {
		var arc []pt
		p1 := s.between(0, 6.3)
		for i := range 61 {
			t := math.Pi * 2 * float64(i) / 60
			k := r * (1 + 0.012*math.Sin(t*5+p1))
			x, y := heart.X+k*math.Cos(t), heart.Y+k*math.Sin(t)
			if x > w*0.02 && x < w*0.98 && y > h*0.02 && y < h*0.98 {
				arc = append(arc, s.see(g.at(x, y)))
				continue
			}
			if len(arc) > 2 {
				rings = append(rings, s.ribbon(arc, 1.5, 0.4))
			}
			arc = nil
		}
		if len(arc) > 2 {
			rings = append(rings, s.ribbon(arc, 1.5, 0.4))
		}
	}
	s.fill(rings, ink{col: mat.grain, alpha: 0.42, wash: true, tooth: 0.4})
	// A check runs from the heart.
	if size > 90 {
		x := w * s.between(0.3, 0.7)
		s.line([]pt{s.see(g.at(x, h*0.03)), s.see(g.at(x+w*0.05, h*0.35)), s.see(g.at(x+w*0.03, h*0.55))}, lead{mat.grain, 2, 0.6})
	}
}
