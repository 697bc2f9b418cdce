package layout

import (
	"regexp"
	"strconv"

	"newelbook/checklist/length"
)

// stockName is a piece of lumber as the yard calls it: 2x4, 5/4x6, 6 x 6.
var stockName = regexp.MustCompile(`^(5/4|[1-4]|6|8)\s*[xX×]\s*(2|3|4|6|8|10|12)$`)

// Dressed returns the dressed size of lumber by what the yard calls it, "2x4" or "5/4x6": thickness and width, dry (19 %
// moisture or less) or green (American Softwood Lumber Standard PS 20, secondary text). Pieces of 6 in and more both ways are
// timbers, which are dressed by 1/2 in, and by 3/4 in when they are dry and 8 in. False means that the name is not of the table;
// stock that is measured needs none.
func Dressed(name string, green bool) (thickness, width length.Length, ok bool) {
	m := stockName.FindStringSubmatch(name)
	if m == nil {
		return 0, 0, false
	}
	wide, err := strconv.Atoi(m[2])
	if err != nil {
		return 0, 0, false
	}
	const in = length.Inch
	switch m[1] {
	case "6", "8":
		thick, err := strconv.Atoi(m[1])
		if err != nil || wide < 6 || wide > 8 {
			return 0, 0, false
		}
		return timber(thick, green), timber(wide, green), true
	case "1":
		thickness = either(green, 25*in/32, 3*in/4)
	case "5/4":
		thickness = either(green, in+in/32, in)
	default: // 2, 3 and 4
		thick, err := strconv.Atoi(m[1])
		if err != nil {
			return 0, 0, false
		}
		thickness = dimension(thick, green)
	}
	return thickness, dimension(wide, green), true
}

// dimension is one side of dimension lumber of 2 in nominal and more.
func dimension(nominal int, green bool) length.Length {
	const in = length.Inch
	n := length.Length(nominal) * in
	switch {
	case nominal <= 4:
		return n - in/2 + either(green, in/16, 0)
	case nominal == 6:
		return n - in/2 + either(green, in/8, 0)
	}
	return n - 3*in/4 + either(green, in/4, 0)
}

// timber is one side of a timber of 6 or 8 in nominal.
func timber(nominal int, green bool) length.Length {
	const in = length.Inch
	n := length.Length(nominal) * in
	return n - either(nominal == 8 && !green, 3*in/4, in/2)
}

// stockSizes says where a size was entered as the name of the stock and not as what it measures: a 4x4 that is 4 in wide.
func (w *work) stockSizes() {
	for _, s := range []struct {
		field, what, name string
		sides             [2]length.Length
	}{
		{"post_width", "posts", w.spec.PostNominal, [2]length.Length{w.spec.PostWidth, w.spec.PostDepth}},
		{"rail_thickness", "rails", w.spec.RailNominal, [2]length.Length{w.spec.RailThickness, w.spec.RailWidth}},
	} {
		thick, wide, ok := Dressed(s.name, false)
		called, full := nominalSides(s.name)
		if !ok || !full {
			continue
		}
		for i, side := range s.sides {
			if dry := [2]length.Length{thick, wide}[i]; side == called[i] && side != dry {
				w.problem(w.run.Label, s.field, "The %s are entered as %s, which is what the yard calls a %s and not its size: dressed and dry it measures %s by %s (PS 20, secondary text). Measure the stock; only rough stock is as it is called.",
					s.what, w.text(side), s.name, w.text(thick), w.text(wide))
				break
			}
		}
	}
}

// nominalSides is a name of stock read as lengths, which it is not.
func nominalSides(name string) (sides [2]length.Length, ok bool) {
	m := stockName.FindStringSubmatch(name)
	if m == nil {
		return sides, false
	}
	for i, text := range m[1:] {
		l, err := length.Parse(text, length.Inches)
		if err != nil {
			return sides, false
		}
		sides[i] = l
	}
	return sides, true
}
