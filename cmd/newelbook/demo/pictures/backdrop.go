package pictures

import "math"

// outdoors lays sky, trees and lawn in the whole frame: the lawn begins at line, the trees stand high above it, both as
// parts of the frame's height. They are kept pale, for what is built stands before them.
func (s *scene) outdoors(line, high float64) {
	f := s.frame
	sky := rect(f.x, f.y, f.w, f.h*line)
	s.fill([][]pt{sky}, ink{col: hex(0xeaf1f0), alpha: 1})
	s.fill([][]pt{sky}, ink{col: hex(0xa4cbe2), alpha: 0.62, mottle: 1.2})
	for i := range 26 {
		s.fill([][]pt{rect(f.x, f.y, f.w, f.h*line*float64(26-i)/40)}, ink{col: hex(0x97c2de), alpha: 0.035})
	}
	s.trees(line-high*0.42, line, high*0.58, 0.16, hex(0xc9d9c4))
	s.trees(line-high*0.24, line, high*0.44, 0.12, hex(0xb9cf9f))
	s.trees(line-high*0.06, line+0.02, high*0.30, 0.09, hex(0xa3c088))
	s.lawn(line)
}

// trees draws one row of crowns: their tops wave about the height top, and their foot is at foot.
func (s *scene) trees(top, foot, high, wide float64, col rgb) {
	f := s.frame
	var crown []pt
	var arcs [][]pt
	for x := -0.08; x < 1.06; {
		w := wide * s.between(0.7, 1.35)
		rise := high * s.between(0.45, 1)
		for x1 := x; x1 < x+w-1e-9; {
			// A crown is a few rounded tufts on a larger round.
			tuft := min(w*s.between(0.22, 0.42), x+w-x1)
			var arc []pt
			for i := range 9 {
				t := float64(i) / 8
				at := x1 + tuft*t
				whole := math.Sin(math.Pi * min(1, max(0, (at-x)/w)))
				y := top - rise*0.72*math.Sqrt(whole) - high*0.16*math.Sin(math.Pi*t)
				arc = append(arc, f.at(at, y))
			}
			crown = append(crown, arc...)
			if s.rng.Float64() < 0.75 {
				arcs = append(arcs, arc)
			}
			x1 += tuft
		}
		x += w * 0.93
	}
	crown = append(crown, f.at(1.1, foot), f.at(-0.1, foot))
	s.fill([][]pt{crown}, ink{col: col, alpha: 1})
	s.fill([][]pt{crown}, ink{col: col, alpha: 0.45, wash: true, mottle: 1.1})
	s.fill([][]pt{{f.at(0, foot-high*0.35), f.at(1, foot-high*0.25), f.at(1, foot), f.at(0, foot)}}, ink{col: col, alpha: 0.3, wash: true, mottle: 1})
	for _, arc := range arcs {
		s.line(arc, lead{col.to(graphite, 0.6), 1.7, 0.5})
	}
	var leaves [][]pt
	for range 16 {
		c := f.at(s.between(0, 1), top-high*s.between(-0.5, 0.42))
		for range 5 {
			p := c.add(pt{s.spread(20), s.spread(13)})
			leaf := turned([]pt{{-5, 0}, {-1, -2.6}, {5, 0}, {-1, 2.6}}, p, s.between(-50, 50))
			leaves = append(leaves, leaf)
		}
	}
	s.fill(leaves, ink{col: col.to(hex(0x4d6b3c), 0.55), alpha: 0.4})
}

// lawn lays grass from a line down to the foot of the frame.
func (s *scene) lawn(line float64) {
	f := s.frame
	field := []pt{f.at(-0.1, line), f.at(0.3, line-0.01), f.at(0.7, line+0.008), f.at(1.1, line), f.at(1.1, 1.1), f.at(-0.1, 1.1)}
	s.fill([][]pt{field}, ink{col: hex(0xd5e0b2), alpha: 1})
	s.fill([][]pt{field}, ink{col: hex(0xc4d49a), alpha: 0.6, wash: true, mottle: 1})
	var blades [][]pt
	for range int(130 * (1.1 - line)) {
		c := f.at(s.between(0, 1), s.between(line+0.02, 1.02))
		for i := range 3 {
			foot := c.add(pt{float64(i)*4 - 4, s.spread(1)})
			blades = append(blades, s.stripe(foot, foot.add(pt{float64(i-1)*3 + s.spread(2), -s.between(7, 14)}), 1.6))
		}
	}
	s.fill(blades, ink{col: hex(0x6c8a4b), alpha: 0.5, wash: true})
}

// gravel lays stones and soil in the whole frame, as seen in the shade under the framing.
func (s *scene) gravel() {
	f := s.frame
	s.stones([]pt{f.at(0, 0), f.at(1, 0), f.at(1, 1), f.at(0, 1)}, 150, 1)
}

// gravelBelow lays them below a line on the job, in a view where the garden stands beyond it.
func (s *scene) gravelBelow(from, to vec) {
	a, b := s.see(from), s.see(to)
	foot := s.frame.y + s.frame.h
	s.stones([]pt{a, b, {b.X, foot}, {a.X, foot}}, 130, 0.7)
}

func (s *scene) stones(ground []pt, n int, size float64) {
	s.fill([][]pt{ground}, ink{col: hex(0x857a6d), alpha: 1})
	s.fill([][]pt{ground}, ink{col: hex(0x6e655d), alpha: 0.55, wash: true, mottle: 1.1})
	lo, hi := ground[0], ground[0]
	for _, p := range ground {
		lo = pt{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = pt{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	for range n {
		c := pt{s.between(max(lo.X, 0), min(hi.X, float64(s.w))), s.between(lo.Y, hi.Y)}
		if !inside(ground, c) {
			continue
		}
		stone := s.blob(c, s.between(7, 17)*size, s.between(5, 11)*size, 0.2)
		s.fill([][]pt{shifted(stone, 2, 4)}, ink{col: hex(0x3c3633), alpha: 0.4})
		s.fill([][]pt{stone}, ink{col: hex(0xaba093), alpha: s.between(0.35, 0.8)})
		s.loop(stone, lead{graphite, 1.4, 0.6})
	}
}

// inside reports whether a point is in a shape.
func inside(shape []pt, p pt) bool {
	in := false
	for i, a := range shape {
		b := shape[(i+1)%len(shape)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// bench lays boards as a worktop in the whole view, with its top at z = 0. They begin at x = from, which must lie before
// the eye.
func (s *scene) bench(from, wide float64) {
	f := s.frame
	s.fill([][]pt{rect(f.x, f.y, f.w, f.h)}, ink{col: decking.grain, alpha: 0.9})
	var boards []solid
	for y := -10 * wide; y < 14*wide; y += wide {
		boards = append(boards, box(decking, 0, vec{from, y, -1.5}, vec{120, y + wide - 0.15, 0}))
	}
	s.show(boards...)
}

// siding lays the lapped boards of a house wall in a rectangle of the picture.
func (s *scene) siding(x, y, w, h, lap float64) {
	s.fill([][]pt{rect(x, y, w, h)}, ink{col: hex(0xdfe5dc), alpha: 1})
	s.fill([][]pt{rect(x, y, w, h)}, ink{col: hex(0xb9cbc0), alpha: 0.8, wash: true, mottle: 0.8})
	for top := y; top < y+h; top += lap {
		low := min(top+lap, y+h)
		s.fill([][]pt{rect(x, low-lap*0.13, w, lap*0.13)}, ink{col: hex(0x6a6a70), alpha: 0.42, wash: true, mottle: 0.3})
		s.edge(pt{x, low - lap*0.13}, pt{x + w, low - lap*0.13}, lead{graphite, 2.4, 0.6})
		var lines [][]pt
		for range 4 {
			v, from := s.between(top+lap*0.1, low-lap*0.25), x+s.between(0, w*0.7)
			lines = append(lines, s.ribbon([]pt{{from, v}, {from + s.between(80, 300), v + s.spread(2)}}, 1.4, 1.2))
		}
		s.fill(lines, ink{col: hex(0x5e7570), alpha: 0.3, wash: true, tooth: 0.4})
	}
}

// turned moves a shape to a place after turning it by degrees.
func turned(shape []pt, to pt, degrees float64) []pt {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	out := make([]pt, len(shape))
	for i, p := range shape {
		out[i] = pt{to.X + p.X*cos - p.Y*sin, to.Y + p.X*sin + p.Y*cos}
	}
	return out
}
