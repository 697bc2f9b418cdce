package draw

// barHeight is the height of a scale bar in millimetres.
const barHeight = 1.6

// ScaleBar draws a scale bar whose left end stands at the point: one part for each label after the first, each step
// millimetres of paper long, filled in turn. Labels stand over the ends of the parts (0, 1', 2'), so a drawing that was
// enlarged or reduced with its page can still be scaled. Fewer than two labels give nothing.
func ScaleBar(at Point, step float64, labels []string) []Item {
	if len(labels) < 2 || !(step > 0) {
		return nil
	}
	var items []Item
	for i := range labels[1:] {
		x := at.X + float64(i)*step
		o := Outline{Points: []Point{{x, at.Y}, {x + step, at.Y}, {x + step, at.Y + barHeight}, {x, at.Y + barHeight}}, Weight: Hairline}
		if i%2 == 0 {
			o.Fill = Hatch
		}
		items = append(items, o)
	}
	for i, body := range labels {
		items = append(items, Text{At: Point{at.X + float64(i)*step, at.Y - textLift}, Body: body, Size: 2.6, Anchor: Middle})
	}
	return items
}
