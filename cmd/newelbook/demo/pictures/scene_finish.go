package pictures

import "math"

func drawPostCap(s *scene) {
	s.light = vec{-0.6, -0.45, 0.8}
	s.aim(vec{-22, -42, 21}, vec{0, 0, -2.6}, 72)
	s.outdoors(0.7, 0.45)
	post := box(cedar, 2, vec{-1.75, -1.75, -40}, vec{1.75, 1.75, 0}).with(func() {
		s.shadow(vec{-1.75, -1.75, -0.05}, vec{1.75, -1.75, -0.05}, vec{1.75, -1.75, -1.3}, vec{-1.75, -1.75, -1})
		s.shadow(vec{-1.75, -1.75, -0.05}, vec{-1.75, 1.75, -0.05}, vec{-1.75, 1.75, -0.8}, vec{-1.75, -1.75, -1})
		s.tag(insidePlane(0, -1.75, 0), 0, -5.2, 3, 1.7)
	})
	s.show(
		post,
		box(cedar, 0, vec{-2.2, -2.2, 0}, vec{2.2, 2.2, 0.5}),
		box(cedar, 0, vec{-2.75, -2.75, 0.5}, vec{2.75, 2.75, 1.25}),
		box(cedar, 0, vec{1.75, -0.75, -9}, vec{40, 0.75, -5.5}), box(cedar, 0, vec{1.75, -2.4, -5.5}, vec{40, 2.4, -4.5}),
		box(black, 2, vec{5, -0.375, -40}, vec{5.75, 0.375, -9}), box(black, 2, vec{9.7, -0.375, -40}, vec{10.45, 0.375, -9}),
	)
	s.pyramid(vec{0, 0, 1.25}, 2.45, 1.95)
	s.note("cap sheds the rain", s.frame.at(0.30, 0.08), centred, s.see(vec{0.5, -0.9, 2.4}))
	s.note("drip edge stands out all round", s.frame.at(0.34, 0.88), centred, s.see(vec{-2.7, -2.7, 0.7}))
}

// pyramid draws the faces of a low cap that the eye sees.
func (s *scene) pyramid(foot vec, half, high float64) {
	apex := foot.add(vec{0, 0, high})
	for _, f := range []struct{ a, b, n vec }{
		{vec{half, half, 0}, vec{half, -half, 0}, vec{high, 0, half}},
		{vec{-half, half, 0}, vec{half, half, 0}, vec{0, high, half}},
		{vec{-half, half, 0}, vec{-half, -half, 0}, vec{-high, 0, half}},
		{vec{-half, -half, 0}, vec{half, -half, 0}, vec{0, -high, half}},
	} {
		if s.eye.sub(apex).dot(f.n) <= 0 {
			continue
		}
		f.a, f.b = f.a.add(foot), f.b.add(foot)
		shape := s.seeAll([]vec{f.a, f.b, apex})
		s.fill([][]pt{shape}, ink{col: paper, alpha: 1})
		s.wash(shape, cedar.col, 0.95)
		s.shade(shape, f.n.unit())
		n := int(shape[1].sub(shape[0]).len() / 26)
		var lines [][]pt
		for i := range n {
			k := (float64(i) + s.between(0.2, 0.8)) / float64(n)
			foot := f.a.add(f.b.sub(f.a).mul(k))
			reach := 1 - math.Abs(2*k-1)
			up := foot.add(apex.sub(f.a.add(f.b).mul(0.5)).mul(reach * s.between(0.5, 0.96)))
			lines = append(lines, s.ribbon(s.seeAll([]vec{foot, up}), 1.6, 0.6))
		}
		s.fill(lines, ink{col: cedar.grain, alpha: 0.36, wash: true, tooth: 0.4})
		s.outline(shape, soft(2.8))
	}
}

func drawEndGrain(s *scene) {
	s.light = vec{-0.7, -0.2, 0.8}
	s.aim(vec{-40, -22, 19}, vec{1, -0.5, 2}, 62)
	s.bench(-22, 7.4)
	s.shadow(vec{-1.6, -4.6, 0}, vec{1, -6.2, 0}, vec{60, -6.2, 0}, vec{60, -4, 0}, vec{0, -4, 0})
	sealed := func(x, y, z, w, h, done float64) func() {
		return func() {
			p := plane{vec{x, y + w, z}, vec{0, -1, 0}, vec{0, 0, 1}}
			coat := p.box(0, 0, w*done, h)
			shape := s.seeAll(coat)
			if done < 1 {
				shape = s.seeAll([]vec{p.at(0, 0), p.at(w*done, 0), p.at(w*(done+0.1), h*0.3), p.at(w*(done-0.06), h*0.55), p.at(w*(done+0.07), h*0.8), p.at(w*done, h), p.at(0, h)})
			}
			s.fill([][]pt{shape}, ink{col: hex(0x9a6236), alpha: 0.62, wash: true, mottle: 0.5})
			for range 3 {
				x, v := w*s.between(0.1, 0.7)*done, h*s.between(0.3, 0.9)
				s.line(s.seeAll([]vec{p.at(x, v), p.at(x+w*0.16, v+h*0.03)}), lead{paper, 4, 0.55})
			}
		}
	}
	s.show(
		box(cedar, 0, vec{0, 0.2, 0}, vec{70, 3.7, 3.5}).with(sealed(0, 0.2, 0, 3.5, 3.5, 1)),
		box(cedar, 0, vec{0.6, -3.8, 0}, vec{70, -0.3, 3.5}).with(sealed(0.6, -3.8, 0, 3.5, 3.5, 1)),
		box(cedar, 0, vec{0.3, -1.9, 3.5}, vec{70, 1.6, 7}).with(sealed(0.3, -1.9, 3.5, 3.5, 3.5, 0.55)),
	)
	s.brushAndTin()
	s.note("end grain, sealed", s.frame.at(0.14, 0.20), centred, s.see(vec{0, 3, 2.9}))
	s.note("half still to coat", s.frame.at(0.60, 0.07), centred, s.see(vec{0.3, -1.3, 6}))
}

// brushAndTin draws what the ends are sealed with, in front of them.
func (s *scene) brushAndTin() {
	const x, y, r, h = -5.0, -6.9, 1.7, 2.7
	up := plane{vec{x, y, 0}, vec{1, 0, 0}, vec{0, 1, 0}}
	s.fill([][]pt{shifted(s.seeAll(up.ring(0, 0, r*1.1, 40)), 26, 8)}, ink{col: hex(0x5c5055), alpha: 0.45, wash: true})
	low, top := s.seeAll(up.ring(0, 0, r, 40)), s.seeAll(up.raised(h).ring(0, 0, r, 40))
	body := hull(append(append([]pt{}, low...), top...))
	s.disc(body, hex(0xb9c2c2), 0)
	var dark []pt
	for _, p := range body {
		if mid := s.see(vec{x, y, 0}).X; p.X > mid+12 {
			dark = append(dark, p)
		}
	}
	s.fill([][]pt{dark}, ink{col: hex(0x5c5560), alpha: 0.35, wash: true})
	s.hatch(dark, 80, 8, lead{graphite, 1.4, 0.35})
	s.disc(top, hex(0xc8cfcf), 0)
	in := s.seeAll(up.raised(h).ring(0, 0, r*0.86, 40))
	s.disc(in, hex(0x8a5a34), 0)
	s.line(in[4:14], lead{paper, 2.4, 0.5})
	// The brush lies across the tin.
	lie := plane{vec{x - 1.4, y + 0.5, h + 0.15}, vec{0.82, -0.57, 0}, vec{0.57, 0.82, 0}}
	handle := s.seeAll([]vec{lie.at(2.3, -0.2), lie.at(7.6, -0.28), lie.at(8, 0), lie.at(7.6, 0.28), lie.at(2.3, 0.2)})
	s.disc(handle, hex(0x4f9384), 0)
	s.disc(s.seeAll(lie.box(1.3, -0.62, 1.1, 1.24)), steel.col, 0)
	hair := s.seeAll([]vec{lie.at(-0.9, -0.6), lie.at(-1.1, -0.2), lie.at(-0.9, 0.2), lie.at(-1, 0.56), lie.at(1.3, 0.62), lie.at(1.3, -0.62)})
	s.disc(hair, hex(0xa57a4a), 0)
	s.hatch(hair, -12, 5, lead{graphite, 1.3, 0.5})
}

// corner is the finished guard about the corner of a deck whose outer sides are x = 0 and y = 0.
func (s *scene) corner() []solid {
	parts := decked(-150, 1.2, -150, 1.2)
	capped := func(x, y float64) []solid {
		return []solid{
			box(cedar, 2, vec{x - 1.75, y - 1.75, 1}, vec{x + 1.75, y + 1.75, 43}),
			box(cedar, 0, vec{x - 2.5, y - 2.5, 43}, vec{x + 2.5, y + 2.5, 44}).with(func() {
				s.pyramid(vec{x, y, 44}, 2.4, 1.9)
			}),
		}
	}
	for _, at := range []float64{-3.25, -55, -107} {
		parts = append(parts, capped(at, -3.25)...)
		if at != -3.25 {
			parts = append(parts, capped(-3.25, at)...)
		}
	}
	for _, at := range []float64{-5, -56.75} {
		along := guardAlongX(at-48.25, at, -4, 5)
		parts = append(parts, along...)
		for _, b := range along {
			// The other side is the same length turned about the corner.
			round := box(b.mat, b.grain, vec{b.lo.Y, b.lo.X, b.lo.Z}, vec{b.hi.Y, b.hi.X, b.hi.Z})
			if b.grain == 0 {
				round.grain = 1
			}
			parts = append(parts, round)
		}
	}
	return parts
}

func drawFinished(s *scene) {
	s.light = vec{0.5, -0.55, 0.8}
	s.aim(vec{-140, -176, 96}, vec{-36, -32, 20}, 9.3)
	s.outdoors(0.42, 0.4)
	s.show(s.corner()...)
	for _, at := range []float64{-5, -56.75} {
		s.floorShadow(at-48.25, at)
	}
}

// floorShadow lays the broken shadow of a guard on the decking inside it.
func (s *scene) floorShadow(x0, x1 float64) {
	var bars [][]pt
	for i := range 9 {
		x := x0 + 4.9 + float64(i)*4.9
		bars = append(bars, s.seeAll([]vec{{x, -6.5, 1}, {x + 0.9, -6.5, 1}, {x - 9, -24, 1}, {x - 9.9, -24, 1}}))
	}
	s.fill(bars, ink{col: hex(0x6a5c66), alpha: 0.36, wash: true, mottle: 0.5})
	rail := s.seeAll([]vec{{x0 - 9, -24, 1}, {x1 - 9, -24, 1}, {x1 - 11, -28, 1}, {x0 - 11, -28, 1}})
	s.fill([][]pt{rail}, ink{col: hex(0x6a5c66), alpha: 0.3, wash: true, mottle: 0.5})
}

func drawCovered(s *scene) {
	s.light = vec{-0.5, -0.5, 0.8}
	s.aim(vec{-46, -120, 86}, vec{8, -20, 4}, 11)
	s.outdoors(0.24, 0.24)
	var parts []solid
	for _, b := range decked(-120, 150, -118, 1.2) {
		top := insideTop(b)
		parts = append(parts, b.with(func() {
			for x := -104.0; x < 150; x += 16 {
				for _, v := range []float64{1.2, boardWide - 1.2} {
					if head := s.see(top.at(x, v)); head.X > s.frame.x && head.X < s.frame.x+s.frame.w && head.Y < s.frame.y+s.frame.h {
						s.fill([][]pt{s.seeAll(top.ring(x, v, 0.3, 10))}, ink{col: hex(0x4a423c), alpha: 0.8})
					}
				}
			}
		}))
	}
	s.show(parts...)
	for _, x := range []float64{-40, 8, 56, 104} {
		s.shadow(vec{x + 1.75, -5, 1}, vec{x + 16, -14, 1}, vec{x + 19.5, -12, 1}, vec{x + 1.75, -1.5, 1})
		s.show(box(cedar, 2, vec{x - 1.75, -5, 1}, vec{x + 1.75, -1.5, 43}))
	}
	s.tag(insidePlane(8, -5, 1), 0, 22, 8, 4.6)
	for _, x := range []float64{8 - 1.75 - 1.5, 8 + 1.75} {
		hidden := s.seeAll([]vec{{x, -5, 1}, {x, -30, 1}, {x + 1.5, -30, 1}, {x + 1.5, -5, 1}})
		s.fill([][]pt{hidden}, ink{col: verdigr, alpha: 0.45, mottle: 0.2})
		s.outline(hidden, lead{verdigr, 2.6, 0.95})
	}
	s.note("blocking is under here now", s.frame.at(0.24, 0.84), centred, s.see(vec{8 - 2.4, -26, 1}))
	s.note("decking down", s.frame.at(0.78, 0.72), centred, s.see(vec{44, -50, 1}))
}

// insideTop is the upper face of a board laid along the run, with x as on the job.
func insideTop(b solid) plane {
	return plane{vec{0, b.lo.Y, b.hi.Z}, vec{1, 0, 0}, vec{0, 1, 0}}
}
