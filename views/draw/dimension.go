package draw

import "math"

// Sizes of dimensions in millimetres on paper.
const (
	dimensionType   = 3.0  // type size when none is given
	extensionGap    = 1.2  // between the thing and its extension line
	extensionBeyond = 1.6  // past the dimension line
	slashHalf       = 1.1  // half of a slash along each axis
	textLift        = 0.9  // between the dimension line and a text
	textMargin      = 1.2  // between two texts of a tier
	tierHeight      = 1.25 // of a tier, in type sizes
	capHeight       = 0.72 // of the figures, in type sizes
)

// Dimension is the length between two points, written along a line that stands off from them.
//
// Offset is the distance in millimetres from AB to the dimension line, to the left of the way from A to B: above for A
// left of B, and negative for below. Size is the type size, 3 mm when zero.
type Dimension struct {
	A, B   Point
	Offset float64
	Text   string
	Size   float64
	Tone   Tone
	Bold   bool
}

// Items draws the dimension: two extension lines, the dimension line with a 45 degree slash at each end, and the text above
// it, read from below or from the right. Points that coincide give nothing.
func (d Dimension) Items() []Item {
	return Chain{Points: []Point{d.A, d.B}, Texts: []string{d.Text}, Offset: d.Offset, Size: d.Size, Tone: d.Tone, Bold: d.Bold}.Items()
}

// Chain is a row of dimensions along one straight line of points, in order. Texts has one fewer than Points; an empty text
// leaves its part without lettering. A text too long for its part moves outwards to a second tier with a leader, and to
// a third if it must: texts never overlap. Offset, Size and the rest are those of Dimension.
type Chain struct {
	Points []Point
	Texts  []string
	Offset float64
	Size   float64
	Tone   Tone
	Bold   bool
}

// Items draws the chain. Fewer than two points, or a first and last that coincide, give nothing.
func (c Chain) Items() []Item {
	if len(c.Points) < 2 {
		return nil
	}
	f, ok := newFrame(c.Points[0], c.Points[len(c.Points)-1], c.Offset)
	if !ok {
		return nil
	}
	if c.Size == 0 {
		c.Size = dimensionType
	}
	var items []Item
	at := make([]float64, len(c.Points))
	for i, p := range c.Points {
		at[i] = f.along(p)
		items = append(items, f.extension(p, c.Tone)...)
	}
	items = append(items, f.line(at[0], at[len(at)-1], 0, 0, Hairline, c.Tone))
	for _, t := range at {
		items = append(items, f.slash(t, c.Tone))
	}
	placed := c.place(at)
	for _, l := range placed {
		items = append(items, f.leader(l, placed, c.Size, c.Tone)...)
	}
	for _, l := range placed {
		items = append(items, Text{At: f.on(l.mid, f.baseline(l.tier, c.Size)), Body: l.body, Size: c.Size, Anchor: Middle,
			Angle: f.angle, Bold: c.Bold, Tone: c.Tone})
	}
	return items
}

// lettering is one text of a chain: its middle and half its width along the line, and its tier.
type lettering struct {
	body      string
	mid, half float64
	tier      int
}

// place gives every text the lowest tier in which it is free; in the lowest it must also stand within its own part.
func (c Chain) place(at []float64) []lettering {
	var placed []lettering
	var ends []float64 // where the last text of each tier ends
	for i := 0; i+1 < len(at) && i < len(c.Texts); i++ {
		if c.Texts[i] == "" {
			continue
		}
		l := lettering{body: c.Texts[i], mid: (at[i] + at[i+1]) / 2, half: TextWidth(c.Texts[i], c.Size, c.Bold) / 2}
		if 2*l.half+textMargin > math.Abs(at[i+1]-at[i]) {
			l.tier = 1
		}
		for l.tier < len(ends) && l.mid-l.half < ends[l.tier]+textMargin {
			l.tier++
		}
		for len(ends) <= l.tier {
			ends = append(ends, math.Inf(-1))
		}
		ends[l.tier] = l.mid + l.half
		placed = append(placed, l)
	}
	return placed
}

// frame is the axes of a dimension line: u along it from A to B, out away from the thing, and the direction of its lettering.
type frame struct {
	origin   Point // of the line: A moved out by the offset
	u, out   Point // unit vectors
	read, up Point // of the lettering
	angle    float64
	offset   float64 // positive, along out
	inward   bool    // the lettering's top points to the thing
}

func newFrame(a, b Point, offset float64) (frame, bool) {
	size := math.Hypot(b.X-a.X, b.Y-a.Y)
	if size == 0 {
		return frame{}, false
	}
	f := frame{u: Point{(b.X - a.X) / size, (b.Y - a.Y) / size}, offset: math.Abs(offset)}
	f.out = Point{f.u.Y, -f.u.X}
	if offset < 0 {
		f.out = Point{-f.out.X, -f.out.Y}
	}
	f.origin = Point{a.X + f.out.X*f.offset, a.Y + f.out.Y*f.offset}
	f.read = f.u
	// Lettering is read from below, and on an upright line from the right.
	if f.read.X < -1e-9 || math.Abs(f.read.X) <= 1e-9 && f.read.Y > 0 {
		f.read = Point{-f.read.X, -f.read.Y}
	}
	f.up = Point{f.read.Y, -f.read.X}
	f.angle = math.Atan2(-f.read.Y, f.read.X) * 180 / math.Pi
	f.inward = f.up.X*f.out.X+f.up.Y*f.out.Y < 0
	return f, true
}

// on is the point t along the line and h further out.
func (f frame) on(t, h float64) Point {
	return Point{f.origin.X + f.u.X*t + f.out.X*h, f.origin.Y + f.u.Y*t + f.out.Y*h}
}

// along is where the foot of p stands on the line.
func (f frame) along(p Point) float64 {
	return (p.X-f.origin.X)*f.u.X + (p.Y-f.origin.Y)*f.u.Y
}

func (f frame) line(t1, t2, h1, h2 float64, w Weight, tone Tone) Line {
	return Line{A: f.on(t1, h1), B: f.on(t2, h2), Weight: w, Tone: tone}
}

// extension runs from near p to past the line; where p stands on the line there is none.
func (f frame) extension(p Point, tone Tone) []Item {
	t := f.along(p)
	depth := (p.X-f.origin.X)*f.out.X + (p.Y-f.origin.Y)*f.out.Y // how far out p stands, negative before the line
	if depth+extensionGap >= extensionBeyond {
		return nil
	}
	return []Item{f.line(t, t, depth+extensionGap, extensionBeyond, Hairline, tone)}
}

// slash is the tick at t, rising to the right of whoever reads the lettering.
func (f frame) slash(t float64, tone Tone) Line {
	p := f.on(t, 0)
	dx, dy := (f.read.X+f.up.X)*slashHalf, (f.read.Y+f.up.Y)*slashHalf
	return Line{A: Point{p.X - dx, p.Y - dy}, B: Point{p.X + dx, p.Y + dy}, Weight: Medium, Tone: tone}
}

// band is how far out the lettering of a tier begins. With the top of the lettering inward, the lowest tier stands on
// the near side of the line and the others begin beyond it.
func (f frame) band(tier int, size float64) float64 {
	if f.inward {
		if tier == 0 {
			return -textLift - capHeight*size
		}
		return extensionBeyond + textLift + float64(tier-1)*tierHeight*size
	}
	return textLift + float64(tier)*tierHeight*size
}

// baseline is how far out the foot of the lettering of a tier stands.
func (f frame) baseline(tier int, size float64) float64 {
	if f.inward {
		return f.band(tier, size) + capHeight*size
	}
	return f.band(tier, size)
}

// leader joins a text of a higher tier to its part of the line, broken where it would run through another text.
func (f frame) leader(l lettering, all []lettering, size float64, tone Tone) []Item {
	if l.tier == 0 {
		return nil
	}
	var items []Item
	from := 0.0
	for tier := 1; tier <= l.tier; tier++ {
		top := f.band(tier, size) - textLift*0.5
		crossed := tier == l.tier
		for _, o := range all {
			crossed = crossed || o.tier == tier && math.Abs(o.mid-l.mid) < o.half
		}
		if !crossed {
			continue
		}
		if top > from {
			items = append(items, f.line(l.mid, l.mid, from, top, Hairline, tone))
		}
		from = f.band(tier, size) + capHeight*size + textLift*0.4
	}
	return items
}
