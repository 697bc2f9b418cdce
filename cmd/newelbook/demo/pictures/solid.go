package pictures

// material is what a solid is made of.
type material struct {
	col, grain rgb
	// lines is the count of grain lines to an inch of width; none for metal.
	lines float64
	metal bool
}

var (
	cedar   = material{hex(0xe3ab6b), hex(0x8a5426), 2.6, false}
	treated = material{hex(0xd6c28a), hex(0x7d6a34), 2.2, false}
	decking = material{hex(0xc98f5d), hex(0x74451f), 2.2, false}
	offcut  = material{hex(0xd59a62), hex(0x74451f), 2.6, false}
	steel   = material{hex(0xb4bcbd), hex(0x5c6466), 0, true}
	black   = material{hex(0x5b5a57), hex(0x2a2928), 0, true}
	board   = material{hex(0xf3ead6), hex(0xb9a988), 0, false}
)

// solid is a box with its sides along the axes.
type solid struct {
	lo, hi vec
	mat    material
	// grain is the axis along which the wood grew: 0, 1 or 2.
	grain int
	// then draws what lies on the faces, right after the solid.
	then func()
}

func box(mat material, grain int, lo, hi vec) solid {
	return solid{lo: lo, hi: hi, mat: mat, grain: grain}
}

// with is the solid with something drawn on it.
func (b solid) with(then func()) solid {
	b.then = then
	return b
}

// scene is a view of solids.
type scene struct {
	*sheet
	camera
	kind  Kind
	p     Params
	frame frame
	light vec
	// said is true once the measure stands on a drawn tape.
	said bool
}

// show draws solids, the far ones first.
func (s *scene) show(solids ...solid) {
	for _, i := range s.order(solids) {
		s.draw(solids[i])
	}
}

// order lists the solids by number so that none comes before one that it may hide. Solids that hide one
// another in a ring have no such order; the ring is then broken where it was entered.
func (s *scene) order(solids []solid) []int {
	n := len(solids)
	behind := make([][]int, n)
	for i := range n {
		for j := range n {
			if i != j && s.inFront(solids[i], solids[j]) {
				behind[i] = append(behind[i], j)
			}
		}
	}
	out := make([]int, 0, n)
	seen := make([]bool, n)
	var visit func(i int)
	visit = func(i int) {
		if seen[i] {
			return
		}
		seen[i] = true
		for _, j := range behind[i] {
			visit(j)
		}
		out = append(out, i)
	}
	for i := range n {
		visit(i)
	}
	return out
}

// inFront reports whether a may hide b: the eye is on a's side of every plane along the axes that parts them.
func (s *scene) inFront(a, b solid) bool {
	const eps = 1e-6
	front := false
	for i := range 3 {
		eye := s.eye.along(i)
		switch {
		case a.hi.along(i) <= b.lo.along(i)+eps:
			if eye < a.hi.along(i)-eps {
				front = true
			} else if eye > b.lo.along(i)+eps {
				return false
			}
		case b.hi.along(i) <= a.lo.along(i)+eps:
			if eye > a.lo.along(i)+eps {
				front = true
			} else if eye < b.hi.along(i)-eps {
				return false
			}
		}
	}
	return front
}

// side is one visible face of a solid.
type side struct {
	plane
	w, h   float64
	grain  int // 0 along u, 1 along v, 2 end grain
	normal vec
}

// sides are the faces of a box that the eye can see.
func (s *scene) sides(b solid) []side {
	var out []side
	size := b.hi.sub(b.lo)
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		face := side{w: size.along(j), h: size.along(k)}
		face.u, face.v = axis(j, 1), axis(k, 1)
		switch b.grain {
		case i:
			face.grain = 2
		case j:
			face.grain = 0
		case k:
			face.grain = 1
		}
		switch {
		case s.eye.along(i) < b.lo.along(i):
			face.o, face.normal = b.lo, axis(i, -1)
		case s.eye.along(i) > b.hi.along(i):
			face.o, face.normal = b.lo.add(axis(i, size.along(i))), axis(i, 1)
		default:
			continue
		}
		out = append(out, face)
	}
	return out
}

// draw draws one solid and what lies on it.
func (s *scene) draw(b solid) {
	sides := s.sides(b)
	var corners []pt
	for _, f := range sides {
		corners = append(corners, s.seeAll(f.box(0, 0, f.w, f.h))...)
	}
	if !s.near(corners) {
		return
	}
	for _, f := range sides {
		s.face(f, b.mat)
	}
	for _, f := range sides {
		shape := s.seeAll(f.box(0, 0, f.w, f.h))
		if thinness(shape) < 7 {
			continue // the lines would run into one
		}
		for i := range 4 {
			s.edge(shape[i], shape[(i+1)%4], hard(2.2))
		}
	}
	rim := hull(corners)
	for i, p := range rim {
		q := rim[(i+1)%len(rim)]
		if q.sub(p).len() > 3 {
			s.edge(p, q, soft(3.1))
		}
	}
	if b.then != nil {
		b.then()
	}
}

// thinness is the lesser distance in pixels between the opposite sides of a face.
func thinness(q []pt) float64 {
	return min(q[0].to(q[1], 0.5).sub(q[3].to(q[2], 0.5)).len(), q[0].to(q[3], 0.5).sub(q[1].to(q[2], 0.5)).len())
}

// near reports whether any of the shape may be inside the picture.
func (s *scene) near(shape []pt) bool {
	lo, hi := pt{1e9, 1e9}, pt{-1e9, -1e9}
	for _, p := range shape {
		lo = pt{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = pt{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return len(shape) > 0 && hi.X > 0 && lo.X < float64(s.w) && hi.Y > 0 && lo.Y < float64(s.h)
}

// face lays paper, colour, shade and grain on one face.
func (s *scene) face(f side, mat material) {
	shape := s.seeAll(f.box(0, 0, f.w, f.h))
	s.fill([][]pt{shape}, ink{col: paper, alpha: 1})
	// The wash does not quite meet the outline, but a sliver must not miss it.
	loose := make([]pt, len(shape))
	stray := 1.6
	if thinness(shape) < 8 {
		stray = 0
	}
	for i, p := range shape {
		loose[i] = p.add(pt{s.spread(stray), s.spread(stray)})
	}
	col := mat.col
	if f.grain == 2 && !mat.metal {
		col = col.to(mat.grain, 0.16)
	}
	s.wash(loose, col.to(paper, s.between(-0.06, 0.1)), 0.92)
	// The pigment runs to one end.
	for i := range 7 {
		k := 0.5 - 0.065*float64(i)
		pool := f.box(f.w*(1-k), 0, f.w*k, f.h)
		if f.grain == 1 {
			pool = f.box(0, 0, f.w, f.h*k)
		}
		s.fill([][]pt{s.seeAll(pool)}, ink{col: col, alpha: 0.05, wash: true, mottle: 0.8})
	}
	if mat.metal {
		s.gleam(f)
	}
	s.shade(shape, f.normal)
	if mat.lines > 0 {
		if f.grain == 2 {
			s.endGrain(f.plane, f.w, f.h, mat)
		} else {
			s.longGrain(f, mat)
		}
	}
}

// shade darkens a shape by how far its face is turned from the light.
func (s *scene) shade(shape []pt, normal vec) {
	lit := normal.dot(s.light.unit())
	dark := 0.30 - 0.42*lit
	if dark <= 0.02 {
		return
	}
	s.fill([][]pt{shape}, ink{col: hex(0x6f5f63), alpha: min(dark, 0.62), wash: true, mottle: 0.3})
	if lit < 0.08 {
		s.hatch(shape, 58, 9, lead{graphite, 1.4, 0.3})
	}
}

// shadow lays a cast shadow on a flat place, given its corners.
func (s *scene) shadow(corners ...vec) {
	shape := s.seeAll(corners)
	s.fill([][]pt{shape}, ink{col: hex(0x6a5c66), alpha: 0.42, wash: true, mottle: 0.5})
	s.hatch(shape, 58, 8, lead{graphite, 1.4, 0.34})
}

// quad draws one flat face that belongs to no box.
func (s *scene) quad(mat material, grain int, normal vec, p plane, w, h float64) {
	s.face(side{p, w, h, grain, normal}, mat)
	shape := s.seeAll(p.box(0, 0, w, h))
	s.outline(shape, soft(2.6))
}

// aim places the camera so that the target stands in the middle of the frame, zoom pixels to the inch.
func (s *scene) aim(eye, target vec, zoom float64) {
	s.camera = look(eye, target, zoom, s.frame.middle())
}

// dashed draws hidden edges between points on the job.
func (s *scene) dashed(l lead, points ...vec) {
	walk := resample(s.seeAll(points), 4)
	for i := 0; i+4 < len(walk); i += 7 {
		s.line(walk[i:i+5], l)
	}
}

// gleam draws the light along a metal face.
func (s *scene) gleam(f side) {
	a, b, c, d := f.at(f.w*0.1, f.h*0.28), f.at(f.w*0.8, f.h*0.28), f.at(f.w*0.3, f.h*0.1), f.at(f.w*0.3, f.h*0.8)
	if f.h > f.w {
		a, b = c, d
	}
	p, q := s.see(a), s.see(b)
	if n := q.sub(p).len(); n > 24 && n < 3000 {
		s.line([]pt{p, q}, lead{paper, 2.6, 0.5})
	}
}
