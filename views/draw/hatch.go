package draw

import "math"

// HatchSpacing is the distance between section lines in millimetres.
const HatchSpacing = 1.2

// circleSides is the number of sides of the polygon that stands for a circle when it is hatched.
const circleSides = 36

// HatchLines are the 45 degree section lines within a convex outline, spacing millimetres apart, rising to the right.
// They are placed by the sheet, not by the outline, so that the hatches of pieces that meet run on. An outline of
// fewer than three points has none.
func HatchLines(points []Point, spacing float64) []Line {
	if len(points) < 3 || !(spacing > 0) {
		return nil
	}
	// Along a rising 45 degree line x+y is the same, so the lines are the levels of that sum.
	step := spacing * math.Sqrt2
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = math.Min(low, p.X+p.Y), math.Max(high, p.X+p.Y)
	}
	var lines []Line
	for k := math.Floor(low/step) + 1; k*step < high; k++ {
		if l, ok := cut(points, k*step); ok {
			lines = append(lines, l)
		}
	}
	return lines
}

// cut is the part within the outline of the line on which x+y is level.
func cut(points []Point, level float64) (Line, bool) {
	var hits []Point
	for i, a := range points {
		b := points[(i+1)%len(points)]
		sa, sb := a.X+a.Y-level, b.X+b.Y-level
		if (sa < 0) == (sb < 0) {
			continue
		}
		t := sa / (sa - sb)
		hits = append(hits, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
	}
	if len(hits) < 2 {
		return Line{}, false
	}
	a, b := hits[0], hits[1]
	if a.X > b.X {
		a, b = b, a
	}
	return Line{A: a, B: b, Weight: Hairline}, true
}

// circlePoints are the corners of a polygon within the circle.
func circlePoints(c Circle) []Point {
	points := make([]Point, circleSides)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / circleSides)
		points[i] = Point{c.Centre.X + c.Radius*cos, c.Centre.Y + c.Radius*sin}
	}
	return points
}
