package pictures

import (
	"math"

	"golang.org/x/image/font/sfnt"
)

// bolt draws a hexagon head over a washer on a plane; r is half the width of the head in inches.
func (s *scene) bolt(p plane, x, y, r float64) {
	s.fill([][]pt{shifted(s.seeAll(p.ring(x, y, r*1.72, 32)), 5, 7)}, ink{col: hex(0x5c5055), alpha: 0.5, wash: true})
	washer := s.seeAll(p.ring(x, y, r*1.65, 32))
	s.disc(washer, steel.col, 0)
	base, top := s.seeAll(p.ring(x, y, r, 6)), s.seeAll(p.raised(r*0.75).ring(x, y, r, 6))
	s.disc(hull(append(append([]pt{}, base...), top...)), hex(0x868e90), 0.25)
	s.disc(top, hex(0xc9d0d0), 0)
	face := s.seeAll(p.raised(r*0.75).ring(x, y, r*0.72, 28))
	s.loop(face, lead{graphite, 1.3, 0.4})
	s.line([]pt{face[15], face[17], face[19]}, lead{paper, 3, 0.9})
}

// screw draws a flat head with a cross.
func (s *scene) screw(p plane, x, y, r float64) {
	rim := s.seeAll(p.ring(x, y, r, 24))
	s.disc(rim, hex(0x9aa0a0), 0.1)
	for _, d := range []float64{0.6, 0.6 + math.Pi/2} {
		a := s.see(p.at(x+r*0.6*math.Cos(d), y+r*0.6*math.Sin(d)))
		b := s.see(p.at(x-r*0.6*math.Cos(d), y-r*0.6*math.Sin(d)))
		s.line([]pt{a, b}, lead{graphite, max(1.3, b.sub(a).len()*0.16), 0.8})
	}
}

// disc fills a metal shape and draws its rim; dark adds shade.
func (s *sheet) disc(shape []pt, col rgb, dark float64) {
	s.fill([][]pt{shape}, ink{col: paper, alpha: 1})
	s.wash(shape, col, 0.95)
	if dark > 0 {
		s.fill([][]pt{shape}, ink{col: hex(0x5c5560), alpha: dark, wash: true})
	}
	s.loop(shape, soft(2))
}

// nut draws a nut on the end of a bolt, with the thread standing out of it.
func (s *scene) nut(p plane, x, y, r float64) {
	s.bolt(p, x, y, r)
	end := p.raised(r * 0.8)
	base, top := s.seeAll(end.ring(x, y, r*0.5, 20)), s.seeAll(end.raised(r*0.8).ring(x, y, r*0.5, 20))
	s.disc(hull(append(append([]pt{}, base...), top...)), hex(0x9aa2a3), 0.2)
	for i := range 3 {
		turn := s.seeAll(end.raised(r*0.8*float64(i+1)/4).ring(x, y, r*0.5, 20))
		s.line(turn[:11], lead{graphite, 1.2, 0.4})
	}
	s.disc(top, hex(0xcfd5d5), 0)
}

// sphere draws a ball by its shade.
func (s *sheet) sphere(c pt, r float64, col rgb) {
	ball := circle(c, r)
	dark := col.to(hex(0x4a3038), 0.55)
	s.fill([][]pt{ball}, ink{col: dark, alpha: 1})
	const steps = 18
	for i := range steps {
		// Each round lies inside the one before, nearer to the light.
		k := float64(i+1) / steps
		off := r * 0.34 * k
		round := circle(pt{c.X - off*0.68, c.Y - off*0.73}, r*(1-0.5*k*k)-off)
		s.fill([][]pt{round}, ink{col: dark.to(col, k), alpha: 0.6, mottle: 0.1})
	}
	s.loop(ball, soft(3))
	s.fill([][]pt{s.blob(pt{c.X - r*0.36, c.Y - r*0.4}, r*0.16, r*0.1, 0.1)}, ink{col: paper, alpha: 0.8})
}

// letter sets a line on a plane, its baseline from (x, y) along u and its letters standing up along v; size in inches.
func (s *scene) letter(f *sfnt.Font, p plane, x, y, size, anchor float64, line string, k ink) float64 {
	t := set(f, 100, line)
	scale := size / 100
	s.fill(t.mapped(func(q pt) pt {
		return s.see(p.at(x+(q.X-anchor*t.width)*scale, y-q.Y*scale))
	}), k)
	return t.width * scale
}

// tag draws a card with the label of the place, held to a plane by a strip of tape; (x, y) is its middle.
func (s *scene) tag(p plane, x, y, w, h float64) {
	if s.p.Label == "" {
		return
	}
	s.fill([][]pt{shifted(s.seeAll(p.box(x-w/2, y-h/2, w, h)), 4, 6)}, ink{col: hex(0x5c5055), alpha: 0.4, wash: true})
	card := s.seeAll(p.box(x-w/2, y-h/2, w, h))
	s.fill([][]pt{card}, ink{col: hex(0xfffdf6), alpha: 1})
	s.outline(card, soft(2))
	t := set(s.faces.bold, 100, s.p.Label)
	size := min(h*0.62, w*0.86*100/max(t.width, 1))
	s.letter(s.faces.bold, p, x, y-size*0.36, size, centred, s.p.Label, ink{col: graphite, alpha: 0.95, tooth: 0.15})
	strip := s.seeAll(p.box(x-w*0.16, y+h*0.36, w*0.32, h*0.3))
	s.fill([][]pt{strip}, ink{col: hex(0xe8d9a8), alpha: 0.8})
	s.outline(strip, hard(1.2))
}

func shifted(shape []pt, dx, dy float64) []pt {
	out := make([]pt, len(shape))
	for i, p := range shape {
		out[i] = p.add(pt{dx, dy})
	}
	return out
}
