package pictures

import "math"

func drawLabels(s *scene) {
	s.light = vec{-0.5, -0.6, 0.8}
	s.aim(vec{-13, -38, 25}, vec{0.4, -1.8, 1.3}, 64)
	s.bench(-40, 5.6)
	s.shadow(vec{4.2, -2, 0}, vec{8.6, 0.2, 0}, vec{8.6, 4, 0}, vec{4.2, 2.5, 0})
	carton := material{col: hex(0xd9b98a), grain: hex(0x9a7a4c)}
	s.show(box(carton, 0, vec{-4.2, -2, 0}, vec{4.2, 2.5, 5.2}).with(func() {
		front := insidePlane(-4.2, -2, 0)
		s.cartonLabel(front)
		west := plane{vec{-4.2, 2.5, 0}, vec{0, -1, 0}, vec{0, 0, 1}}
		s.letter(s.faces.bold, west, 2.25, 2.4, 0.95, centred, "3 in", ink{col: graphite, alpha: 0.9})
		seam := plane{vec{-4.2, -2, 5.2}, vec{1, 0, 0}, vec{0, 1, 0}}
		s.fill([][]pt{s.seeAll(seam.box(0, 1.85, 8.4, 0.8))}, ink{col: hex(0xb8935c), alpha: 0.45, wash: true})
		s.line(s.seeAll([]vec{seam.at(0, 2.25), seam.at(8.4, 2.25)}), soft(2.2))
	}))
	for _, f := range []struct{ x, y, turn float64 }{
		{-3.4, -4.6, 12}, {1.4, -5.4, -24}, {5.4, -3.4, 48}, {-7.4, -3.2, 70}, {4.4, -7, 8}, {-2.4, -7.4, -14},
	} {
		s.loose(f.x, f.y, f.turn)
	}
	s.note("keep the label", s.frame.at(0.86, 0.45), centred, s.see(vec{3.7, -2, 2}))
}

// cartonLabel sets the invented words of the box.
func (s *scene) cartonLabel(p plane) {
	white := s.seeAll(p.box(0.6, 0.55, 7.2, 4.1))
	s.fill([][]pt{white}, ink{col: hex(0xfffdf6), alpha: 1})
	s.wash(s.seeAll(p.box(0.6, 3.45, 7.2, 1.2)), verdigr, 0.95)
	s.outline(white, soft(2))
	dark := ink{col: graphite, alpha: 0.95}
	s.letter(s.faces.bold, p, 4.2, 3.8, 0.74, centred, "STAINLESS SCREWS", ink{col: paper, alpha: 1})
	s.letter(s.faces.bold, p, 1.0, 1.35, 2.3, fromLeft, "3 in", dark)
	s.letter(s.faces.plain, p, 4.7, 2.6, 0.5, fromLeft, "flat head", dark)
	s.letter(s.faces.plain, p, 4.7, 1.95, 0.5, fromLeft, "exterior wood", dark)
	s.letter(s.faces.plain, p, 4.7, 1.3, 0.5, fromLeft, "100 pieces", dark)
}

// loose draws a screw that lies on the bench, three inches long.
func (s *scene) loose(x, y, degrees float64) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	p := plane{vec{x, y, 0.12}, vec{cos, sin, 0}, vec{-sin, cos, 0}}
	body := []vec{p.at(0, -0.3), p.at(0.28, -0.11), p.at(2.6, -0.1), p.at(3, 0), p.at(2.6, 0.1), p.at(0.28, 0.11), p.at(0, 0.3)}
	shape := s.seeAll(body)
	s.fill([][]pt{shifted(shape, 4, 8)}, ink{col: hex(0x5c5055), alpha: 0.5, wash: true})
	s.disc(shape, hex(0xbfc6c6), 0)
	for i := range 11 {
		u := 1.15 + float64(i)*0.145
		s.line(s.seeAll([]vec{p.at(u, -0.17), p.at(u+0.1, 0.17)}), lead{graphite, 2, 0.75})
	}
	s.line(s.seeAll([]vec{p.at(0.3, 0.03), p.at(1.1, 0.03)}), lead{paper, 2.4, 0.8})
}

func drawPermitCard(s *scene) {
	f := s.frame
	s.siding(f.x, f.y, f.w, f.h, 118)
	c := f.at(0.5, 0.5)
	const wide, high, tilt = 590.0, 800.0, -1.6
	sleeve := turned(rect(-wide/2-22, -high/2-22, wide+44, high+44), c, tilt)
	s.fill([][]pt{shifted(sleeve, 10, 14)}, ink{col: hex(0x4f4a50), alpha: 0.5, wash: true, mottle: 0.3})
	s.fill([][]pt{sleeve}, ink{col: hex(0xeef3f2), alpha: 0.55})
	s.outline(sleeve, hard(2))
	card := turned(rect(-wide/2, -high/2, wide, high), c, tilt)
	s.fill([][]pt{card}, ink{col: hex(0xfffcf2), alpha: 1, mottle: 0.02})
	s.outline(card, soft(2.6))
	gleam := turned([]pt{{wide * 0.1, -high/2 - 20}, {wide * 0.27, -high/2 - 20}, {-wide * 0.3, high/2 + 20}, {-wide * 0.47, high/2 + 20}}, c, tilt)
	s.fill([][]pt{gleam}, ink{col: hex(0xffffff), alpha: 0.28})
	s.permitWords(c, wide, high, tilt)
	for _, at := range []pt{{-wide/2 - 10, -high/2 - 10}, {wide/2 + 10, -high/2 - 10}, {-wide/2 - 10, high/2 + 10}, {wide/2 + 10, high/2 + 10}} {
		head := turned([]pt{at}, c, tilt)[0]
		s.fill([][]pt{circle(head.add(pt{3, 5}), 11)}, ink{col: hex(0x4f4a50), alpha: 0.5, wash: true})
		s.disc(circle(head, 10), hex(0xb4bcbd), 0)
	}
}

// permitWords sets the card: a number, and rows for an inspector that nobody has filled in.
func (s *scene) permitWords(c pt, wide, high, tilt float64) {
	on := func(x, y float64) pt { return turned([]pt{{x, y}}, c, tilt)[0] }
	dark := ink{col: graphite, alpha: 0.95, tooth: 0.1}
	left, top := -wide/2+38, -high/2
	s.wash(turned(rect(-wide/2, top, wide, 118), c, tilt), verdigr, 0.96)
	s.write(s.faces.bold, 60, on(0, top+80), centred, tilt, "BUILDING PERMIT", ink{col: paper, alpha: 1})
	number := s.p.Permit
	if number == "" {
		number = "not recorded"
	}
	s.write(s.faces.plain, 28, on(left, top+172), fromLeft, tilt, "Number", dark)
	s.write(s.faces.bold, fit(s.faces.bold, 84, wide-76, number), on(left, top+252), fromLeft, tilt, number, dark)
	s.line([]pt{on(left, top+280), on(-left, top+280)}, soft(2))
	s.write(s.faces.plain, 34, on(left, top+332), fromLeft, tilt, "Work: deck guard", dark)
	s.write(s.faces.bold, 28, on(left, top+402), fromLeft, tilt, "Inspection", dark)
	s.write(s.faces.bold, 28, on(left+250, top+402), fromLeft, tilt, "Date", dark)
	s.write(s.faces.bold, 28, on(left+380, top+402), fromLeft, tilt, "Signed", dark)
	for i, row := range []string{"Footings", "Framing", "Guard", "Final"} {
		y := top + 418 + 72*float64(i)
		s.outline(turned([]pt{{left, y}, {-left, y}, {-left, y + 72}, {left, y + 72}}, c, tilt), hard(1.6))
		s.write(s.faces.plain, 34, on(left+14, y+47), fromLeft, tilt, row, dark)
	}
	for _, x := range []float64{left + 236, left + 366} {
		s.line([]pt{on(x, top+418), on(x, top+706)}, hard(1.8))
	}
	s.write(s.faces.pencilled, 24, on(0, top+762), centred, tilt, "Invented for the demonstration; no authority issued it", ink{col: redLead, alpha: 0.9, tooth: 0.2})
}
