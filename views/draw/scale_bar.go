package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/length"
)

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

// scales lists the denominators of the usual scales, the largest drawing first.
func scales(style length.Style) []float64 {
	if style == length.Metric {
		return []float64{5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500, 1000, 2000, 5000}
	}
	return []float64{4, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 96, 128, 160, 192, 256, 320, 384, 768, 1536, 3072}
}

// scale is the scale of a drawing in the making: one to den, in the job's units, with type sizes multiplied by size.
type scale struct {
	den   float64
	style length.Style
	size  float64
	short bool // the name is the quotient alone
}

// name is the scale in words, such as 1:16, 3/4" to a foot.
func (s scale) name() string {
	name := fmt.Sprintf("1:%g", s.den)
	switch {
	case s.short:
		return name
	case s.style == length.Metric:
		return name + ", millimetres"
	case math.Mod(12*64, s.den) != 0:
		return name
	}
	return name + ", " + (length.Foot / length.Length(s.den)).Format(length.InchFraction) + " to a foot"
}

// scaleBar draws the bar with its left end at x and y, and the scale behind it, unless it would reach beyond right.
func (p *pad) scaleBar(s scale, x, y, right float64) bool { return p.scaleBarOf(2, s, x, y, right) }

// scaleBarOf is scaleBar with the given number of parts.
func (p *pad) scaleBarOf(parts int, s scale, x, y, right float64) bool {
	steps, unit, mark := []int{1, 2, 4, 8, 16, 32, 64, 128}, 304.8, "'"
	if s.style == length.Metric {
		steps, unit, mark = []int{100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000}, 1, ""
	}
	step := steps[0]
	for _, n := range steps {
		if step = n; float64(n)*unit/s.den >= 11 {
			break
		}
	}
	labels := []string{"0"}
	for i := range parts {
		labels = append(labels, fmt.Sprint((i+1)*step, mark))
	}
	if mark == "" {
		labels[parts] += " mm"
	}
	long := float64(step) * unit / s.den
	name := Text{At: Point{x + float64(parts)*long + 8, y + barHeight}, Body: s.name(), Size: wordType * s.size, Tone: Faint}
	bar := ScaleBar(Point{x, y}, long, labels)
	texts := []Text{name}
	for _, it := range bar {
		if t, ok := it.(Text); ok {
			texts = append(texts, t)
		}
	}
	if textBox(name).x2 > right || !math.IsInf(right, 1) && !p.free(texts...) {
		return false
	}
	p.put(bar...)
	p.label(name)
	return true
}
