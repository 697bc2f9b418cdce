package draw

import "math"

// textDescent is how far a comma or a tail hangs below the baseline, in type sizes.
const textDescent = 0.2

// box is the room that something takes on paper.
type box struct{ x1, y1, x2, y2 float64 }

func (b box) overlaps(o box) bool { return b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 }

func (b box) with(o box) box {
	return box{math.Min(b.x1, o.x1), math.Min(b.y1, o.y1), math.Max(b.x2, o.x2), math.Max(b.y2, o.y2)}
}

// cut is the part of a stroke within the box; there is none where it only touches an edge.
func (b box) cut(from, to Point) (Point, Point, bool) {
	low, high := 0.0, 1.0
	for _, side := range []struct{ at, by, least, most float64 }{{from.X, to.X - from.X, b.x1, b.x2}, {from.Y, to.Y - from.Y, b.y1, b.y2}} {
		if side.by == 0 {
			if side.at <= side.least || side.at >= side.most {
				return from, to, false
			}
			continue
		}
		enters, leaves := (side.least-side.at)/side.by, (side.most-side.at)/side.by
		low, high = math.Max(low, math.Min(enters, leaves)), math.Min(high, math.Max(enters, leaves))
	}
	place := func(k float64) Point { return Point{from.X + k*(to.X-from.X), from.Y + k*(to.Y-from.Y)} }
	return place(low), place(high), low < high
}

// textBox is the room that a text takes: its width by the metrics, from its tails to the top of its figures.
func textBox(t Text) box {
	w := TextWidth(t.Body, t.Size, t.Bold)
	from := 0.0
	switch t.Anchor {
	case Middle:
		from = -w / 2
	case End:
		from = -w
	}
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	all := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, along := range []float64{from, from + w} {
		for _, up := range []float64{-textDescent * t.Size, capHeight * t.Size} {
			x, y := t.At.X+along*cos-up*sin, t.At.Y-along*sin-up*cos
			all = all.with(box{x, y, x, y})
		}
	}
	return all
}

// itemBox is the room that an item takes, its pen left out.
func itemBox(it Item) box {
	all := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	point := func(p Point) { all = all.with(box{p.X, p.Y, p.X, p.Y}) }
	switch v := it.(type) {
	case Line:
		point(v.A)
		point(v.B)
	case Outline:
		for _, p := range v.Points {
			point(p)
		}
	case Circle:
		point(Point{v.Centre.X - v.Radius, v.Centre.Y - v.Radius})
		point(Point{v.Centre.X + v.Radius, v.Centre.Y + v.Radius})
	case Text:
		return textBox(v)
	case Modules:
		point(v.At)
		point(Point{v.At.X + v.Size, v.At.Y + v.Size})
	}
	return all
}

// moved is an item shifted on the paper.
func moved(it Item, dx, dy float64) Item {
	shift := func(p Point) Point { return Point{p.X + dx, p.Y + dy} }
	switch v := it.(type) {
	case Line:
		v.A, v.B = shift(v.A), shift(v.B)
		return v
	case Outline:
		points := make([]Point, len(v.Points))
		for i, p := range v.Points {
			points[i] = shift(p)
		}
		v.Points = points
		return v
	case Circle:
		v.Centre = shift(v.Centre)
		return v
	case Text:
		v.At = shift(v.At)
		return v
	case Modules:
		v.At = shift(v.At)
		return v
	}
	return it
}

// at is a place on paper.
func (e *elevation) at(x, z float64) Point { return Point{x / e.den, -z / e.den} }

// ref is the height of the decking or the nosing line at x.
func (e *elevation) ref(x float64) float64 { return e.at0 + e.slope*x }

// rect is an upright rectangle between real places.
func (e *elevation) rect(x1, z1, x2, z2 float64) []Point {
	return []Point{e.at(x1, z1), e.at(x2, z1), e.at(x2, z2), e.at(x1, z2)}
}

// along is a piece that follows the reference line, between two heights above it, its ends plumb.
func (e *elevation) along(x1, x2, low, high float64) []Point {
	return []Point{e.at(x1, e.ref(x1)+low), e.at(x2, e.ref(x2)+low), e.at(x2, e.ref(x2)+high), e.at(x1, e.ref(x1)+high)}
}

func (e *elevation) line(x1, z1, x2, z2 float64, w Weight, d Dash, t Tone) {
	e.put(Line{A: e.at(x1, z1), B: e.at(x2, z2), Weight: w, Dash: d, Tone: t})
}
