package draw

// Signature draws the strokes of a signature, points in a field high units high, at a size of width millimetres for a field of wide units.
// alt says whose it is. No strokes give an empty sheet.
func Signature(strokes [][][2]int, wide, high int, width float64, alt string) Sheet {
	s := Sheet{Width: width, Height: width * float64(high) / float64(wide), Title: alt, Alt: alt}
	if len(strokes) == 0 {
		return s
	}
	at := func(p [2]int) Point {
		return Point{float64(p[0]) * width / float64(wide), float64(p[1]) * width / float64(wide)}
	}
	for _, stroke := range strokes {
		if len(stroke) == 1 {
			s.Items = append(s.Items, Circle{Centre: at(stroke[0]), Radius: 0.25, Weight: Medium})
		}
		for i := 1; i < len(stroke); i++ {
			s.Items = append(s.Items, Line{A: at(stroke[i-1]), B: at(stroke[i]), Weight: Medium})
		}
	}
	line := s.Height - 2
	s.Items = append(s.Items, Line{A: Point{0, line}, B: Point{width, line}, Weight: Hairline, Tone: Faint})
	return s
}
