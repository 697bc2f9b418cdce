package pictures

func drawRailEnd(s *scene) {
	s.light = vec{-0.5, -0.6, 0.8}
	s.aim(vec{-26, -48, 24}, vec{-4.6, 0, -0.8}, 54)
	s.outdoors(0.7, 0.5)
	post := box(cedar, 2, vec{0, -1.75, -40}, vec{3.5, 1.75, 30}).with(func() {
		s.tag(insidePlane(0, -1.75, 0), 1.75, -6.2, 3, 1.7)
	})
	west := plane{vec{-0.2, 1.1, 0}, vec{0, -1, 0}, vec{0, 0, 1}}
	plate := box(black, 2, vec{-0.2, -1.1, -3}, vec{0, 1.1, 3}).with(func() {
		s.screw(west, 1.1, 2.5, 0.3)
		s.screw(west, 1.1, -2.5, 0.3)
	})
	cup := insidePlane(-2.4, -0.95, 0)
	side := box(black, 0, vec{-2.4, -0.95, -2.05}, vec{-0.2, -0.78, -0.2}).with(func() {
		s.screw(cup, 0.6, -1.1, 0.3)
		s.screw(cup, 1.6, -1.1, 0.3)
	})
	s.show(post)
	s.show(
		box(black, 2, vec{-6.4, -0.375, -40}, vec{-5.65, 0.375, -1.75}), box(black, 2, vec{-11.1, -0.375, -40}, vec{-10.35, 0.375, -1.75}),
		box(black, 2, vec{-15.8, -0.375, -40}, vec{-15.05, 0.375, -1.75}), box(black, 2, vec{-20.5, -0.375, -40}, vec{-19.75, 0.375, -1.75}),
		plate, side, box(black, 0, vec{-2.4, -0.95, -2.1}, vec{-0.2, 0.95, -1.78}),
		box(cedar, 0, vec{-60, -0.75, -1.75}, vec{-0.45, 0.75, 1.75}),
	)
	if s.p.Measure != "" {
		r := s.p.reading(`41 3/8"`)
		s.tape(tape{plane: insidePlane(0, -1.15, 0.35), at: 0, from: max(-r.inches, -40), to: 0, width: 1.05}, r)
		s.pointAt(s.see(vec{0, -1.15, 0.35}), s.frame.at(0.36, 0.14), centred, r)
	} else {
		s.note("rail end stands clear of the post", s.frame.at(0.36, 0.16), centred, s.see(vec{-0.3, -0.7, 1.7}))
	}
	s.note("connector", s.frame.at(0.62, 0.86), centred, s.see(vec{-1.2, -0.95, -1.8}))
}

func drawBalusterGap(s *scene) {
	s.light = vec{-0.5, -0.6, 0.8}
	s.aim(vec{-5, -46, 10}, vec{0.3, 0, 3}, 92)
	s.outdoors(0.72, 0.5)
	r := s.p.reading(`3 7/8"`)
	gap := r.held(1.5, 5.5)
	const wide = 0.75
	pitch := gap + wide
	parts := []solid{box(cedar, 0, vec{-30, -0.75, -3.5}, vec{30, 0.75, 0}), box(black, 0, vec{-30, -0.55, 0}, vec{30, 0.55, 0.16})}
	for i := -3; i < 3; i++ {
		left := gap/2 + float64(i)*pitch
		parts = append(parts,
			box(black, 2, vec{left, -wide / 2, 0.16}, vec{left + wide, wide / 2, 40}),
			box(black, 2, vec{left - 0.14, -0.52, 0.16}, vec{left + wide + 0.14, 0.52, 0.8}))
	}
	s.show(parts...)
	if s.p.Measure == "" {
		ball := s.see(vec{0, -2.6, 2})
		radius := s.see(vec{2, -2.6, 2}).sub(ball).len()
		s.fill([][]pt{s.blob(ball.add(pt{radius * 0.5, radius * 0.98}), radius*0.95, radius*0.16, 0.05)}, ink{col: hex(0x4f464c), alpha: 0.5, wash: true})
		s.sphere(ball, radius, hex(0xd9714f))
		s.note("ball gauge", s.frame.at(0.8, 0.3), centred, ball.add(pt{radius * 0.7, -radius * 0.6}))
		return
	}
	blade := tape{plane: insidePlane(-gap/2, -0.5, 3.4), at: gap, from: max(gap-r.inches, -3), to: 14, width: 1}
	s.tape(blade, r)
	s.pointAt(s.see(blade.plane.at(gap, 0)), s.frame.at(0.93, 0.82), fromRight, r)
	s.note("face to face", s.frame.at(0.44, 0.20), centred, s.see(vec{0, -0.5, 4.4}))
}

func drawOverhang(s *scene) {
	s.light = vec{-0.5, 0.4, 0.8}
	s.aim(vec{-36, 10, 12}, vec{0, -0.9, -1.1}, 112)
	s.outdoors(0.72, 0.5)
	r := s.p.reading(`1 1/4"`)
	over := r.held(0.5, 3)
	const half = 0.75
	s.show(
		box(cedar, 0, vec{0, -half, -3.5}, vec{60, half, 0}),
		box(cedar, 0, vec{0, -half - over, 0}, vec{60, half + over, 1}),
		box(black, 2, vec{3, -0.375, -30}, vec{3.75, 0.375, -3.5}), box(black, 2, vec{7.7, -0.375, -30}, vec{8.45, 0.375, -3.5}),
	)
	s.shadow(vec{0, -half, 0}, vec{0, half, 0}, vec{0, half, -0.55}, vec{0, -half, -0.55})
	blade := tape{plane: plane{vec{-0.1, -half, -0.12}, vec{0, -1, 0}, vec{0, 0, -1}}, at: over, from: max(over-r.inches, -half), to: 9, width: 1}
	s.tape(blade, r)
	edge := s.see(blade.plane.at(over, 0))
	s.dashed(red(2.6), vec{-0.1, -half - over, 0.5}, vec{-0.1, -half - over, -0.9})
	s.pointAt(edge, s.frame.at(0.93, 0.80), fromRight, r)
	s.note("cap rail", s.frame.at(0.13, 0.09), centred, s.see(vec{3, 0.5, 1}))
	s.note("top rail", s.frame.at(0.16, 0.8), centred, s.see(vec{0, 0.3, -2.4}))
}

// rakeBar draws a member with plumb ends along a stair, from x0 to x1 with its underside at z0 rising slope to one.
func (s *scene) rakeBar(mat material, x0, x1, y0, y1, z0, high, slope float64) {
	along := vec{1, 0, slope}
	length := along.mul(x1 - x0).len()
	u := along.unit()
	up := vec{0, 0, 1}
	s.quad(mat, 1, vec{-1, 0, 0}, plane{vec{x0, y1, z0}, vec{0, -1, 0}, up}, y1-y0, high)
	s.quad(mat, 0, vec{-slope, 0, 1}.unit(), plane{vec{x0, y0, z0 + high}, u, vec{0, 1, 0}}, length, y1-y0)
	s.quad(mat, 0, vec{0, -1, 0}, plane{vec{x0, y0, z0}, u, up}, length, high)
}

func drawStairRail(s *scene) {
	s.light = vec{-0.5, -0.5, 0.8}
	s.aim(vec{-78, -190, 88}, vec{24, 0, 36}, 9.6)
	s.outdoors(0.57, 0.4)
	const rise, run, n, thick = 7.25, 10.5, 6, 1.0
	const slope = rise / run
	s.show(box(material{col: hex(0xd3ddd2)}, 0, vec{-4, 41, 0}, vec{220, 44, 190}).with(func() {
		p := insidePlane(-4, 41, 0)
		for z := 3.0; z < 150; z += 6.5 {
			s.fill([][]pt{s.seeAll(p.box(0, z, 224, 0.8))}, ink{col: hex(0x6a6a70), alpha: 0.26, wash: true})
			s.line(s.seeAll([]vec{p.at(0, z), p.at(224, z)}), hard(1.8))
		}
	}))
	s.shadow(vec{-6, -2, 0}, vec{70, -2, 0}, vec{76, -14, 0}, vec{0, -10, 0})
	var treads []solid
	for i := range n {
		x, z := float64(i)*run, float64(i+1)*rise
		treads = append(treads,
			box(board, 0, vec{x, 1.5, z - rise}, vec{x + 0.7, 40, z - thick}),
			box(decking, 1, vec{x - 0.75, 1, z - thick}, vec{x + run - 0.05, 40.5, z}))
	}
	treads = append(treads, box(decking, 1, vec{n*run - 0.7, 1, (n+1)*rise - thick}, vec{n*run + 60, 40.5, (n + 1) * rise}),
		box(treated, 1, vec{n * run, 1.5, (n+1)*rise - thick - rimDeep}, vec{n*run + 1.5, 40, (n+1)*rise - thick}),
		box(treated, 0, vec{n*run + 1.5, 1.5, (n+1)*rise - thick - rimDeep}, vec{n*run + 60, 3, (n+1)*rise - thick}))
	s.show(treads...)
	// The nosing line passes the front edges of the treads; rails stand above it by the heights here.
	nosing := func(x float64) float64 { return rise + (x+0.75)*slope }
	s.stringer(nosing, n*run)
	high := s.p.reading(`36"`).held(30, 44)
	const y0, y1 = -2.2, -0.7
	foot, head := -5.0, n*run-2.0
	s.show(box(cedar, 2, vec{head, y0 - 1, (n+1)*rise - deckThick - rimDeep}, vec{head + 3.5, y1 + 1, nosing(head) + high + 5}))
	from, to := foot+3.5, head
	s.rakeBar(cedar, from, to, y0, y1, nosing(from)+3.5, 3.6, slope)
	for x := from + 3.9; x < to-1; x += 4.65 {
		s.show(box(black, 2, vec{x, -1.85, nosing(x) + 7.2}, vec{x + 0.75, -1.1, nosing(x) + high - 4.4}))
	}
	s.rakeBar(cedar, from, to, y0, y1, nosing(from)+high-5, 3.9, slope)
	s.rakeBar(cedar, from, to, y0-1.2, y1+1.2, nosing(from)+high-1.1, 1.1, slope)
	s.show(box(cedar, 2, vec{foot, y0 - 1, 0}, vec{foot + 3.5, y1 + 1, nosing(foot) + high + 5}).with(func() {
		s.tag(insidePlane(foot, y0-1, 0), 1.75, 24, 8.6, 4.8)
	}))
	if s.p.Measure != "" {
		r := s.p.reading(`36"`)
		x := 3*run - 0.75
		s.tape(tape{plane: plane{vec{x, -3.6, nosing(x)}, vec{0, 0, 1}, vec{-1, 0, 0}}, at: high, from: max(high-r.inches, -4), to: high + 5, width: 2.6, standing: true}, r)
		s.pointAt(s.see(vec{x, -3.6, nosing(x) + high}), s.frame.at(0.06, 0.16), fromLeft, r)
	} else {
		s.note("top rail on the rake", s.frame.at(0.28, 0.14), centred, s.see(vec{20, -2, nosing(20) + high}))
	}
	s.note("nosing line", s.frame.at(0.72, 0.84), centred, s.see(vec{2*run - 0.75, 0, nosing(2*run - 0.75)}))
	s.dashed(red(2.2), vec{-0.75, -0.2, nosing(-0.75)}, vec{n*run - 0.75, -0.2, nosing(n*run - 0.75)})
}

// stringer draws the cut side of a flight, from the ground to the landing at x = end.
func (s *scene) stringer(nosing func(float64) float64, end float64) {
	const deep = 12.5
	at := func(x, below float64) vec { return vec{x, 0, max(nosing(x)-below, 0)} }
	foot := -0.75
	for nosing(foot) < deep {
		foot += 0.25
	}
	shape := s.seeAll([]vec{at(-0.75, 99), at(foot, deep), at(end, deep), at(end, 0.6), at(-0.75, 0.6)})
	s.fill([][]pt{shape}, ink{col: paper, alpha: 1})
	s.wash(shape, treated.col, 0.92)
	s.shade(shape, vec{0, -1, 0})
	var lines [][]pt
	for i := range 9 {
		below := 1.4 + 1.25*float64(i) + s.spread(0.3)
		from := s.between(0, 0.4) * end
		for nosing(from) < below {
			from++
		}
		lines = append(lines, s.ribbon(s.seeAll([]vec{at(from, below), at(s.between(0.7, 1)*end, below)}), 1.7, 1.2))
	}
	s.fill(lines, ink{col: treated.grain, alpha: 0.36, wash: true, tooth: 0.4})
	s.outline(shape, soft(2.6))
}
