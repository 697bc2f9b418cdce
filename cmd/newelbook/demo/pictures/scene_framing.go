package pictures

// Sizes in inches of the invented job's stock, actual not nominal.
const (
	postSide  = 3.5
	rimThick  = 1.5
	rimDeep   = 9.25
	boardWide = 5.5
	boardGap  = 0.1875
	deckThick = 1.0
)

// Flat places that face a viewer on the deck and one outside, for letters and heads.
func insidePlane(x, y, z float64) plane  { return plane{vec{x, y, z}, vec{1, 0, 0}, vec{0, 0, 1}} }
func outsidePlane(x, y, z float64) plane { return plane{vec{x, y, z}, vec{-1, 0, 0}, vec{0, 0, 1}} }

// postAt is a post inside the rim with its middle at x.
func postAt(x, low, high float64) solid {
	return box(cedar, 2, vec{x - postSide/2, -rimThick - postSide, low}, vec{x + postSide/2, -rimThick, high})
}

func rim(from, to float64) solid {
	return box(treated, 0, vec{from, -rimThick, -rimDeep}, vec{to, 0, 0})
}

// joist runs from y = inner to the rim, with its left face at x.
func joist(x, inner float64) solid {
	return box(treated, 1, vec{x, inner, -rimDeep}, vec{x + 1.5, -rimThick, 0})
}

// block stands between joists.
func block(x0, x1, y0, y1 float64) solid {
	grain := 0
	if y1-y0 > x1-x0 {
		grain = 1
	}
	return box(treated, grain, vec{x0, y0, -rimDeep}, vec{x1, y1, 0})
}

// decked lays boards along the run from y = inner outwards, as long as they end short of outer.
func decked(from, to, inner, outer float64) []solid {
	var out []solid
	for y := inner; y+boardWide <= outer+1e-9; y += boardWide + boardGap {
		out = append(out, box(decking, 0, vec{from, y, 0}, vec{to, y + boardWide, deckThick}))
	}
	return out
}

func drawWide(s *scene) {
	s.aim(vec{-62, -150, 84}, vec{34, -16, 8}, 8.6)
	s.outdoors(0.34, 0.34)
	parts := []solid{rim(-80, 170)}
	for x := -72.0; x < 170; x += 16 {
		parts = append(parts, joist(x, -130))
	}
	for _, x := range []float64{-46, 2, 50, 98, 146} {
		parts = append(parts, block(x-postSide/2-1.5, x-postSide/2, -24, -rimThick), block(x+postSide/2, x+postSide/2+1.5, -24, -rimThick))
		post := postAt(x, -rimDeep, 43)
		if x == 2 {
			post = post.with(func() {
				s.tag(insidePlane(2, -rimThick-postSide, 0), 0, 27, 9.5, 5.4)
			})
		}
		parts = append(parts, post)
	}
	s.gravelBelow(vec{-80, -0.7, -2}, vec{170, -0.7, -2})
	s.show(append(parts, decked(-80, 170, -130, -42)...)...)
	s.note("rim", s.frame.at(0.86, 0.62), fromLeft, s.see(vec{92, -0.7, 0}))
	s.note("decking stops here until the framing is recorded", s.frame.at(0.04, 0.95), fromLeft, s.see(vec{-6, -44, deckThick}))
}

func drawInsideFace(s *scene) {
	s.light = vec{0.45, -0.6, 0.8}
	s.aim(vec{34, -70, 46}, vec{0.5, -5, -2}, 31)
	s.gravel()
	const left, inside = -postSide / 2, -rimThick - postSide
	face := insidePlane(0, inside, 0)
	carrier := block(left-1.5, left, -40, -rimThick).with(func() {
		p := plane{vec{left, inside, 0}, vec{0, 1, 0}, vec{0, 0, 1}}
		plate := s.seeAll(p.box(-11, -3.6, 11, 2.5))
		s.fill([][]pt{shifted(plate, 4, 7)}, ink{col: hex(0x5c5055), alpha: 0.4, wash: true})
		s.disc(plate, steel.col, 0.1)
		for i := range 5 {
			s.screw(p, -10.2+float64(i)*1.75, -1.75-0.9*float64(i%2), 0.34)
		}
	})
	post := postAt(0, -rimDeep, 60).with(func() {
		s.shadow(face.at(-1.75, 0), face.at(-1.1, 0), face.at(-1.1, -rimDeep), face.at(-1.75, -rimDeep))
		s.nut(face, 0.55, -7.2, 0.5)
		s.tag(face, 0, 7.6, 3.1, 1.7)
	})
	seat := box(steel, 0, vec{left, inside - 0.9, -3.9}, vec{1.5, inside, -0.9}).with(func() {
		s.nut(insidePlane(0, inside-0.9, 0), 0.45, -2.4, 0.52)
	})
	s.show(
		rim(-60, 60),
		joist(-17.5, -40), carrier, joist(15, -40),
		block(-16, left-1.5, -3, -rimThick), block(postSide/2, 15, -3, -rimThick),
		post, seat,
	)
	s.note("blocking", s.frame.at(0.80, 0.26), centred, s.see(vec{8, -2.2, 0}))
	s.note("blocking", s.frame.at(0.13, 0.2), centred, s.see(vec{-9, -2.2, 0}))
	s.note("hold-down", s.frame.at(0.12, 0.68), centred, s.see(vec{left, -12, -2.4}))
	s.note("two bolts", s.frame.at(0.75, 0.80), centred, s.see(vec{1.2, inside - 0.4, -7.4}))
}

func drawOutsideFace(s *scene) {
	s.light = vec{0.5, 0.5, 0.8}
	s.aim(vec{20, 58, 30}, vec{0, -1, 0.6}, 44)
	s.gravel()
	face := outsidePlane(0, 0, 0)
	outer := rim(-40, 40).with(func() {
		s.bolt(face, 0, -2, 0.55)
		s.bolt(face, 0, -7.25, 0.55)
	})
	post := postAt(0, -rimDeep, 60).with(func() {
		s.tag(outsidePlane(0, -rimThick, 0), 0, 6.4, 3.1, 1.7)
	})
	s.show(
		outer, post, joist(-13, -30), joist(11.5, -30),
		block(-11.5, -postSide/2, -3.2, -rimThick), block(postSide/2, 11.5, -3.2, -rimThick),
	)
	s.note("post not notched", s.frame.at(0.24, 0.34), centred, s.see(vec{1.6, -rimThick, 2.6}))
	s.note("bolt heads on washers", s.frame.at(0.75, 0.9), centred, s.see(vec{-0.6, 0.3, -7.5}))
}

func drawBoltTape(s *scene) {
	s.light = vec{0.5, 0.6, 0.7}
	s.aim(vec{4, 60, 13}, vec{-0.5, 0, -2.4}, 76)
	s.outdoors(0.42, 0.4)
	s.gravelBelow(vec{30, -0.7, -rimDeep}, vec{-30, -0.7, -rimDeep})
	r := s.p.reading(`2 1/8"`)
	down := r.held(1.1, 5.2)
	face := outsidePlane(0, 0, 0)
	outer := rim(-20, 20).with(func() {
		s.bolt(face, -1.55, -down, 0.56)
		s.bolt(face, -1.55, -7.25, 0.56)
	})
	s.show(
		outer,
		box(cedar, 2, vec{-0.25, -rimThick - postSide, -rimDeep}, vec{3.25, -rimThick, 30}),
		block(3.25, 30, -3.2, -rimThick), block(-30, -0.25, -3.2, -rimThick),
	)
	// The hook is over the top edge of the rim; the marks run down the edge of the blade that is beside the bolt.
	t := tape{plane: plane{vec{-0.35, 0.06, 0}, vec{0, 0, -1}, vec{-1, 0, 0}}, at: down, from: max(down-r.inches, -3), to: 14, width: 1.05, standing: true}
	s.tape(t, r)
	mark := s.see(t.plane.at(down, 0))
	s.dashed(red(2.6), face.at(-1.55, -down), t.plane.at(down, 0))
	s.pointAt(mark, s.frame.at(0.93, 0.42), fromRight, r)
	s.note("edge of the rim", s.frame.at(0.78, 0.20), centred, s.see(vec{-3.6, -0.4, 0}))
}

func drawJoistBays(s *scene) {
	s.light = vec{0.5, -0.3, 0.8}
	s.aim(vec{24, -150, 92}, vec{14, -28, -6}, 9.4)
	s.outdoors(0.14, 0.14)
	s.gravelBelow(vec{-110, -0.7, -2}, vec{140, -0.7, -2})
	parts := []solid{rim(-110, 140)}
	for i := range 16 {
		x := -106 + 16*float64(i)
		parts = append(parts, joist(x, -128))
		row := -52.0
		if i%2 == 1 {
			row = -56
		}
		parts = append(parts, block(x+1.5, x+16, row, row+1.5))
	}
	for _, x := range []float64{-66, -18, 30, 78, 126} {
		parts = append(parts, postAt(x, -rimDeep, 43), block(x+2.2, x+7.2, -3.2, -rimThick), block(x-5.8, x-2.2, -3.2, -rimThick))
	}
	s.show(parts...)
	s.note("blocking between the joists", s.frame.at(0.70, 0.90), centred, s.see(vec{30, -53, 0}))
	s.note("joists", s.frame.at(0.15, 0.62), centred, s.see(vec{-24, -70, 0}))
}
