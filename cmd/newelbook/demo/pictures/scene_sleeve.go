package pictures

// tube is a square steel sleeve, open at its top.
type tube struct {
	x, y         float64 // the middle
	inside, wall float64
	low, top     float64
}

// wallInside is the inner face of one wall: u to the right of a viewer who looks at it, v up.
func (t tube) wallInside(i int) side {
	h, d := t.inside/2, t.top-t.low
	f := []side{
		{plane: plane{vec{t.x - h, t.y + h, t.low}, vec{1, 0, 0}, vec{0, 0, 1}}, normal: vec{0, -1, 0}},
		{plane: plane{vec{t.x + h, t.y + h, t.low}, vec{0, -1, 0}, vec{0, 0, 1}}, normal: vec{-1, 0, 0}},
		{plane: plane{vec{t.x + h, t.y - h, t.low}, vec{-1, 0, 0}, vec{0, 0, 1}}, normal: vec{0, 1, 0}},
		{plane: plane{vec{t.x - h, t.y - h, t.low}, vec{0, 1, 0}, vec{0, 0, 1}}, normal: vec{1, 0, 0}},
	}[i]
	f.w, f.h = t.inside, d
	return f
}

// sleeve draws a tube seen from above on the deck's side: the inside, then what is in it, then the near wall.
func (s *scene) sleeve(t tube, within func()) {
	h, o := t.inside/2, t.inside/2+t.wall
	floor := plane{vec{t.x - h, t.y - h, t.low}, vec{1, 0, 0}, vec{0, 1, 0}}
	s.quad(steel, 0, vec{0, 0, 1}, floor, t.inside, t.inside)
	drain := s.seeAll(floor.ring(h, h, 0.55, 28))
	s.fill([][]pt{drain}, ink{col: hex(0x2b2826), alpha: 0.95})
	s.loop(drain, soft(2.4))
	for i := range 4 {
		f := t.wallInside(i)
		if s.eye.sub(f.o).dot(f.normal) <= 0 {
			continue
		}
		s.quad(steel, 0, f.normal, f.plane, f.w, f.h)
		for k := range 14 {
			deep := s.seeAll(f.box(0, 0, f.w, f.h*float64(k+1)/16))
			s.fill([][]pt{deep}, ink{col: hex(0x514a52), alpha: 0.055, wash: true})
		}
	}
	deep := s.seeAll(floor.box(0, 0, t.inside, t.inside))
	s.fill([][]pt{deep}, ink{col: hex(0x514a52), alpha: 0.3, wash: true})
	bar := func(x0, y0, x1, y1 float64) solid {
		return box(steel, 0, vec{t.x + x0, t.y + y0, t.top - 0.02}, vec{t.x + x1, t.y + y1, t.top})
	}
	s.draw(bar(-o, h, o, o))
	s.draw(bar(-o, -h, -h, h))
	s.draw(bar(h, -h, o, h))
	if within != nil {
		within()
	}
	s.draw(box(steel, 2, vec{t.x - o, t.y - o, t.low}, vec{t.x + o, t.y - h, t.top}))
	if s.eye.X < t.x-o {
		s.quad(steel, 0, vec{-1, 0, 0}, plane{vec{t.x - o, t.y + o, t.low}, vec{0, -1, 0}, vec{0, 0, 1}}, 2*o, t.top-t.low)
	}
	if s.eye.X > t.x+o {
		s.quad(steel, 0, vec{1, 0, 0}, plane{vec{t.x + o, t.y - o, t.low}, vec{0, 1, 0}, vec{0, 0, 1}}, 2*o, t.top-t.low)
	}
}

// under is framing at the level that carries decking whose top is z = 0.
func under(x0, y0, x1, y1 float64) solid {
	b := block(x0, x1, y0, y1)
	b.lo.Z -= deckThick
	b.hi.Z -= deckThick
	return b
}

func drawSleeveDown(s *scene) {
	s.light = vec{-0.4, -0.5, 0.8}
	s.aim(vec{0.9, -3.4, 27}, vec{0, 0.1, -1}, 84)
	s.gravel()
	t := tube{inside: 4, wall: 0.25, low: -11, top: 0}
	const o = 2.25
	s.show(
		under(-30, o, 30, o+1.5), under(-o-1.5, -24, -o, o), under(o, -24, o+1.5, o),
		under(-30, -3.6, -o-1.5, -2.1), under(o+1.5, -3.6, 30, -2.1),
	)
	s.shadow(vec{o, o, -1}, vec{o + 0.9, o, -1}, vec{o + 0.9, -o - 0.6, -1}, vec{o, -o, -1})
	s.sleeve(t, func() {
		far := t.wallInside(0).plane
		s.bolt(far, 2, 8.6, 0.5)
		s.bolt(far, 2, 4.4, 0.5)
	})
	s.note("bolt heads", s.frame.at(0.2, 0.2), centred, s.see(vec{-0.5, 1.9, -2.2}))
	s.note("drain", s.frame.at(0.84, 0.78), centred, s.see(vec{0.3, -0.1, -11}))
	s.note("rim", s.frame.at(0.5, 0.08), centred, s.see(vec{1, o + 0.8, -1}))
}

func drawSleeveDepth(s *scene) {
	s.light = vec{-0.5, -0.6, 0.8}
	s.aim(vec{9, -44, 36}, vec{0, 0, 0.4}, 78)
	s.gravel()
	r := s.p.reading(`8 1/2"`)
	t := tube{inside: 4, wall: 0.25, low: -r.held(4, 16), top: 0}
	const o = 2.25
	s.show(
		under(-30, o, 30, o+1.5), under(-o-1.5, -24, -o, o), under(o, -24, o+1.5, o),
		under(-30, 0, -o-1.5, 1.5), under(o+1.5, 0, 30, 1.5),
	)
	s.sleeve(t, func() {
		blade := tape{plane: plane{vec{0.5, 1.92, 0}, vec{0, 0, 1}, vec{-1, 0, 0}}, at: 0, from: t.low, to: 9, width: 1, standing: true}
		s.tape(blade, r)
		low := s.seeAll(blade.box(t.low, 0, -t.low, 1))
		s.fill([][]pt{low}, ink{col: hex(0x514a52), alpha: 0.42, wash: true})
	})
	s.pointAt(s.see(vec{0.5, 1.92, 0}), s.frame.at(0.93, 0.30), fromRight, r)
	s.note("read at the top of the sleeve", s.frame.at(0.5, 0.92), centred, s.see(vec{-1, -2.1, 0}))
}

func drawSleeveTop(s *scene) {
	s.light = vec{-0.5, -0.5, 0.8}
	s.aim(vec{-20, -48, 31}, vec{3, -0.4, -1.6}, 47)
	s.gravel()
	const o = 2.25
	t := tube{inside: 4, wall: 0.25, low: -1 - rimDeep, top: 0}
	s.show(
		under(-40, o, 40, o+1.5), under(-24, 0.75, -o, o), under(o, -30, o+1.5, o), under(14, -30, 15.5, o),
	)
	s.sleeve(t, nil)
	s.show(box(offcut, 0, vec{o + 0.12, -3.6, -1}, vec{19, 1.9, 0}))
	level := box(material{col: hex(0x4f9384), grain: hex(0x1f4f45)}, 0, vec{-6.5, 1, 0}, vec{12, 1.9, 1.7}).with(func() {
		p := insidePlane(-6.5, 1, 0)
		vial := s.seeAll(p.box(8.0, 0.5, 2.6, 0.75))
		s.fill([][]pt{vial}, ink{col: hex(0xe6ee7a), alpha: 1})
		s.outline(vial, soft(2.2))
		bubble := s.seeAll(p.box(8.9, 0.62, 0.8, 0.5))
		s.fill([][]pt{s.blob(bubble[0].to(bubble[2], 0.5), bubble[1].sub(bubble[0]).len()*0.5, 10, 0.05)}, ink{col: paper, alpha: 0.9})
		for _, x := range []float64{8.85, 9.75} {
			s.line(s.seeAll([]vec{p.at(x, 0.5), p.at(x, 1.25)}), soft(2.2))
		}
	})
	s.shadow(vec{o + 0.2, 0.2, 0}, vec{12.5, 0.2, 0}, vec{12, 1, 0}, vec{o + 0.2, 1, 0})
	s.show(level)
	s.note("sleeve", s.frame.at(0.12, 0.62), centred, s.see(vec{-1.4, -o, -2.4}))
	s.note("offcut of the decking", s.frame.at(0.78, 0.86), centred, s.see(vec{12, -3.6, -0.5}))
	s.note("tops flush under the level", s.frame.at(0.22, 0.14), centred, s.see(vec{o + 0.06, -1.2, 0}))
}

func drawRemovableOut(s *scene) {
	s.light = vec{-0.5, -0.4, 0.8}
	s.aim(vec{-34, -170, 104}, vec{1, -34, 9}, 7.6)
	s.outdoors(0.2, 0.2)
	parts := decked(-130, 140, -148, 1.2)
	s.show(parts...)
	for _, x := range []float64{-26, 26} {
		const o = 2.25
		hole := s.seeAll([]vec{{x - o, -1.5 - 2*o, 1}, {x + o, -1.5 - 2*o, 1}, {x + o, -1.5, 1}, {x - o, -1.5, 1}})
		s.disc(hole, steel.col, 0)
		in := s.seeAll([]vec{{x - 1.75, -1.5 - 4, 1}, {x + 1.75, -1.5 - 4, 1}, {x + 1.75, -2, 1}, {x - 1.75, -2, 1}})
		s.fill([][]pt{in}, ink{col: hex(0x2f2b2a), alpha: 0.92, mottle: 0.2})
		s.outline(in, soft(2))
	}
	var fixed []solid
	for _, x := range []float64{-34, 34} {
		fixed = append(fixed, box(cedar, 2, vec{x - 1.75, -5, 1}, vec{x + 1.75, -1.5, 43}))
	}
	fixed = append(fixed, guardAlongX(-110, -35.75, -4, 5)...)
	fixed = append(fixed, guardAlongX(35.75, 110, -4, 5)...)
	s.show(fixed...)
	// A temporary barrier is clamped across before anything is lifted out.
	for _, z := range []float64{20, 38.5} {
		s.show(box(offcut, 0, vec{-38, -6.5, z}, vec{38, -5, z + 3.5}).with(func() {
			for i := range 8 {
				p := insidePlane(-36+9.6*float64(i), -6.5, z)
				s.fill([][]pt{s.seeAll([]vec{p.at(0, 0), p.at(2.6, 0), p.at(4.6, 3.5), p.at(2, 3.5)})}, ink{col: hex(0xc9503a), alpha: 0.8, wash: true, mottle: 0.3})
			}
		}))
	}
	// The panel lies on the decking: its posts, rails and balusters flat.
	var panel []solid
	for _, x := range []float64{-26, 26} {
		s.shadow(vec{x + 1.75, -86, 1}, vec{x + 4.5, -84, 1}, vec{x + 4.5, -32, 1}, vec{x + 1.75, -34, 1})
		panel = append(panel, box(cedar, 1, vec{x - 1.75, -86, 1}, vec{x + 1.75, -34, 4.5}))
	}
	for _, y := range []float64{-78, -46} {
		s.shadow(vec{-24, y - 2.4, 1}, vec{24, y - 2.4, 1}, vec{24, y, 1}, vec{-24, y, 1})
		panel = append(panel, box(cedar, 0, vec{-24.25, y, 1.9}, vec{24.25, y + 3.5, 3.4}))
	}
	for i := range 10 {
		x := -20.7 + 4.6*float64(i)
		panel = append(panel, box(black, 1, vec{x - 0.4, -74.5, 2.2}, vec{x + 0.4, -46, 3}))
	}
	s.show(panel...)
	s.note("open sleeves", s.frame.at(0.15, 0.62), centred, s.see(vec{-25.5, -3, 1}))
	s.note("temporary barrier", s.frame.at(0.47, 0.345), centred, s.see(vec{4, -6.5, 21.5}))
}

// guardAlongX is a length of guard: rails, balusters and a cap rail, on decking at z = 1.
func guardAlongX(x0, x1, y, pitch float64) []solid {
	out := []solid{
		box(cedar, 0, vec{x0, y, 4}, vec{x1, y + 1.5, 7.5}),
		box(cedar, 0, vec{x0, y, 35.5}, vec{x1, y + 1.5, 39}),
		box(cedar, 0, vec{x0, y - 2, 39}, vec{x1, y + 3.5, 40}),
	}
	n := int((x1 - x0) / pitch)
	gap := ((x1 - x0) - float64(n)*0.75) / float64(n+1)
	for i := range n {
		x := x0 + gap + float64(i)*(gap+0.75)
		out = append(out, box(black, 2, vec{x, y + 0.375, 7.5}, vec{x + 0.75, y + 1.125, 35.5}))
	}
	return out
}
