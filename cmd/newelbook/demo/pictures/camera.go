package pictures

import "math"

// vec is a point on the job in inches: x along the run, y outwards from the house, z up. The outside face of the rim is
// y = 0 and the top of the framing z = 0, unless a scene says otherwise.
type vec struct{ X, Y, Z float64 }

func (a vec) add(b vec) vec       { return vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a vec) sub(b vec) vec       { return vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a vec) mul(k float64) vec   { return vec{a.X * k, a.Y * k, a.Z * k} }
func (a vec) dot(b vec) float64   { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a vec) len() float64        { return math.Sqrt(a.dot(a)) }
func (a vec) cross(b vec) vec     { return vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X} }
func (a vec) unit() vec           { return a.mul(1 / a.len()) }
func (a vec) along(i int) float64 { return [3]float64{a.X, a.Y, a.Z}[i] }

// axis is k inches along x, y or z, numbered 0 to 2.
func axis(i int, k float64) vec {
	var a [3]float64
	a[i] = k
	return vec{a[0], a[1], a[2]}
}

// camera is a viewer of the job.
type camera struct {
	eye, right, up, ahead vec
	focal                 float64
	centre                pt
}

// look makes a camera at eye that sees target in the middle of the frame; zoom is the pixels of one inch there.
func look(eye, target vec, zoom float64, centre pt) camera {
	ahead := target.sub(eye).unit()
	up := vec{0, 0, 1}
	if math.Abs(ahead.Z) > 0.97 {
		up = vec{0, 1, 0}
	}
	right := ahead.cross(up).unit()
	return camera{eye, right, right.cross(ahead), ahead, zoom * target.sub(eye).len(), centre}
}

// see projects a point. What lies behind the eye is held just in front of it.
func (c camera) see(p vec) pt {
	d := p.sub(c.eye)
	depth := max(d.dot(c.ahead), 1)
	return pt{c.centre.X + c.focal*d.dot(c.right)/depth, c.centre.Y - c.focal*d.dot(c.up)/depth}
}

func (c camera) seeAll(points []vec) []pt {
	out := make([]pt, len(points))
	for i, p := range points {
		out[i] = c.see(p)
	}
	return out
}

// plane is a flat place on the job with its own two directions, each one inch long.
type plane struct{ o, u, v vec }

// at is the point x along u and y along v.
func (p plane) at(x, y float64) vec { return p.o.add(p.u.mul(x)).add(p.v.mul(y)) }

// normal points to the side from which u and v turn like a clock's hands run backwards.
func (p plane) normal() vec { return p.u.cross(p.v).unit() }

// ring is a round on the plane, drawn in n corners.
func (p plane) ring(x, y, r float64, n int) []vec {
	out := make([]vec, n)
	for i := range out {
		t := 2*math.Pi*float64(i)/float64(n) + 0.26
		out[i] = p.at(x+r*math.Cos(t), y+r*math.Sin(t))
	}
	return out
}

// box is a rectangle on the plane.
func (p plane) box(x, y, w, h float64) []vec {
	return []vec{p.at(x, y), p.at(x+w, y), p.at(x+w, y+h), p.at(x, y+h)}
}

// raised is the plane moved out by k inches.
func (p plane) raised(k float64) plane { return plane{p.o.add(p.normal().mul(k)), p.u, p.v} }

// hull is the convex outline of points in the picture.
func hull(points []pt) []pt {
	sorted := append([]pt{}, points...)
	for i := 1; i < len(sorted); i++ {
		for j := i; j > 0 && (sorted[j].X < sorted[j-1].X || sorted[j].X == sorted[j-1].X && sorted[j].Y < sorted[j-1].Y); j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	turn := func(a, b, c pt) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	half := func(order []pt) []pt {
		var h []pt
		for _, p := range order {
			for len(h) > 1 && turn(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:max(0, len(h)-1)]
	}
	low := half(sorted)
	for i, j := 0, len(sorted)-1; i < j; i, j = i+1, j-1 {
		sorted[i], sorted[j] = sorted[j], sorted[i]
	}
	return append(low, half(sorted)...)
}
