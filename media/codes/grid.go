package codes

import (
	"math"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
)

// place is a place on a code, in modules from its upper left corner.
type place struct{ u, v float64 }

// fixed is a module that is dark or light in every code of this size.
type fixed struct {
	place
	dark bool
}

// middle is how many modules the middle of the small mark in the fourth corner lies from the left and the upper edge.
const middle = Modules - 6.5

// The fixed modules: the three marks with their light margin, the small mark in the fourth corner, and all with the two dotted lines
// between the marks.
var threeMarks, smallMark, allFixed = fixedModules()

func fixedModules() (marks, small, all []fixed) {
	mark := func(u, v int) {
		for dv := -1; dv <= 7; dv++ {
			for du := -1; du <= 7; du++ {
				ring := max(du-3, 3-du, dv-3, 3-dv)
				marks = append(marks, fixed{place{float64(u+du) + 0.5, float64(v+dv) + 0.5}, ring == 3 || ring < 2})
			}
		}
	}
	mark(0, 0)
	mark(Modules-7, 0)
	mark(0, Modules-7)
	for dv := -2; dv <= 2; dv++ {
		for du := -2; du <= 2; du++ {
			small = append(small, fixed{place{middle + float64(du), middle + float64(dv)}, max(du, -du, dv, -dv) != 1})
		}
	}
	all = append(append(all, marks...), small...)
	for i := 8; i < Modules-8; i++ {
		dark := i%2 == 0
		all = append(all, fixed{place{float64(i) + 0.5, 6.5}, dark}, fixed{place{6.5, float64(i) + 0.5}, dark})
	}
	return marks, small, all
}

// view is how a code lies in a picture: the perspective that takes a place on it to one in the picture,
// x = (v0 u + v1 v + v2) / (v6 u + v7 v + 1), y = (v3 u + v4 v + v5) / (the same).
type view [8]float64

func (w *view) at(p place) (x, y float64) {
	d := w[6]*p.u + w[7]*p.v + 1
	return (w[0]*p.u + w[1]*p.v + w[2]) / d, (w[3]*p.u + w[4]*p.v + w[5]) / d
}

// pixel is a place in a picture, in pixels from its upper left corner.
type pixel struct{ x, y float64 }

// viewOf is the perspective that takes four places to four pixels; false where three of either lie on a line.
func viewOf(from [4]place, to [4]pixel) (w view, ok bool) {
	var m [8][9]float64
	for i, p := range from {
		q := to[i]
		m[2*i] = [9]float64{p.u, p.v, 1, 0, 0, 0, -p.u * q.x, -p.v * q.x, q.x}
		m[2*i+1] = [9]float64{0, 0, 0, p.u, p.v, 1, -p.u * q.y, -p.v * q.y, q.y}
	}
	for c := range m {
		pivot := c
		for r := c + 1; r < len(m); r++ {
			if math.Abs(m[r][c]) > math.Abs(m[pivot][c]) {
				pivot = r
			}
		}
		m[c], m[pivot] = m[pivot], m[c]
		if math.Abs(m[c][c]) < 1e-9 {
			return view{}, false
		}
		for r := range m {
			if r == c {
				continue
			}
			if q := m[r][c] / m[c][c]; q != 0 {
				for k := c; k < 9; k++ {
					m[r][k] -= q * m[c][k]
				}
			}
		}
	}
	for i := range w {
		w[i] = m[i][8] / m[i][i]
	}
	return w, true
}

// fit is how well fixed modules show in the picture as they are: 1 all, 0 as chance has it, -1 none. contrast is by how many greys
// they differ from their surroundings where they are plain to see.
func (g *grey) fit(w *view, modules []fixed, contrast float64) float64 {
	sum := 0.0
	for i := range modules {
		x, y := w.at(modules[i].place)
		v, level, ok := g.between(x, y)
		if !ok {
			sum--
			continue
		}
		d := max(-1, min(1, (v-level)/contrast))
		if modules[i].dark {
			d = -d
		}
		sum += d
	}
	return sum / float64(len(modules))
}

// Fits below which a place is given up: the three marks in a first rough view, and all fixed modules in the best one before it is
// settled. The marks of real codes reached 0.35 and all modules 0.45 in the scenes of the tests.
const (
	leastMarks = 0.2
	leastAll   = 0.3
)

// faintest is the contrast, half of what light and dark differ by in greys, below which nothing is read.
const faintest = 4

// readAt reads the code that has its three marks at a corner.
func (g *grey) readAt(c corner) (string, bool) {
	const far = Modules - 3.5
	from := [4]place{{3.5, 3.5}, {far, 3.5}, {3.5, far}, {middle, middle}}
	right, down := pixel{(c.right.x - c.at.x) / apart, (c.right.y - c.at.y) / apart}, pixel{(c.below.x - c.at.x) / apart, (c.below.y - c.at.y) / apart}
	look := func(du, dv float64) (view, bool) {
		u, v := middle-3.5+du, middle-3.5+dv
		small := pixel{c.at.x + u*right.x + v*down.x, c.at.y + u*right.y + v*down.y}
		return viewOf(from, [4]pixel{{c.at.x, c.at.y}, {c.right.x, c.right.y}, {c.below.x, c.below.y}, small})
	}
	flat, ok := look(0, 0)
	if !ok {
		return "", false
	}
	mid, contrast := g.tones(&flat)
	if contrast < faintest || g.fit(&flat, threeMarks, contrast/2) < leastMarks {
		return "", false
	}
	best := g.slanted(look, flat, contrast/2)
	for _, w := range []view{best, flat} {
		if g.fit(&w, allFixed, contrast/2) < leastAll {
			continue
		}
		settled := g.settle(w, contrast/2)
		if text, ok := g.decode(&settled, mid); ok {
			return text, true
		}
		if best == flat {
			break
		}
	}
	return "", false
}

// tones is the grey halfway between the dark and the light modules of the three marks, and half of what they differ by.
func (g *grey) tones(w *view) (mid, contrast float64) {
	var sum, n [2]float64
	for _, f := range threeMarks {
		x, y := w.at(f.place)
		if v, _, ok := g.between(x, y); ok {
			i := 0
			if f.dark {
				i = 1
			}
			sum[i] += v
			n[i]++
		}
	}
	if n[0] == 0 || n[1] == 0 {
		return 0, 0
	}
	light, dark := sum[0]/n[0], sum[1]/n[1]
	return (light + dark) / 2, (light - dark) / 2
}

// slanted looks for the small mark around where it would be in a view square on, which tells how much the code slants: up to four
// modules away, in steps of one and then of a half.
func (g *grey) slanted(look func(du, dv float64) (view, bool), flat view, contrast float64) view {
	best, score := flat, -2.0
	var bu, bv float64
	try := func(du, dv float64) {
		w, ok := look(du, dv)
		if !ok {
			return
		}
		if s := g.fit(&w, smallMark, contrast) - 0.01*math.Hypot(du, dv); s > score {
			best, score, bu, bv = w, s, du, dv
		}
	}
	for dv := -4.0; dv <= 4; dv++ {
		for du := -4.0; du <= 4; du++ {
			try(du, dv)
		}
	}
	cu, cv := bu, bv
	for dv := -0.5; dv <= 0.5; dv += 0.5 {
		for du := -0.5; du <= 0.5; du += 0.5 {
			try(cu+du, cv+dv)
		}
	}
	return best
}

// settle moves the four corners of a view, by less and less, as long as the fixed modules fit better.
func (g *grey) settle(w view, contrast float64) view {
	from := [4]place{{0, 0}, {Modules, 0}, {0, Modules}, {Modules, Modules}}
	var to [4]pixel
	for i, p := range from {
		to[i].x, to[i].y = w.at(p)
	}
	module := math.Hypot(to[1].x-to[0].x, to[1].y-to[0].y) / Modules
	fit := g.fit(&w, allFixed, contrast)
	for _, share := range [3]float64{0.5, 0.25, 0.125} {
		for i := range to {
			for _, d := range [4]pixel{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				before := to[i]
				to[i] = pixel{before.x + d.x*share*module, before.y + d.y*share*module}
				if next, ok := viewOf(from, to); ok {
					if f := g.fit(&next, allFixed, contrast); f > fit {
						w, fit = next, f
						continue
					}
				}
				to[i] = before
			}
		}
	}
	return w
}

// decode reads the modules of a view and makes text of them. Each is held against those around it, and where that makes no sense
// against mid: shadows lie over codes, and large dark patches are in them.
func (g *grey) decode(w *view, mid float64) (string, bool) {
	var v [Modules * Modules]float64
	for j := range Modules {
		for i := range Modules {
			sum, n := 0.0, 0.0
			for _, d := range [5]place{{0.5, 0.5}, {0.3, 0.5}, {0.7, 0.5}, {0.5, 0.3}, {0.5, 0.7}} {
				x, y := w.at(place{float64(i) + d.u, float64(j) + d.v})
				if q, _, ok := g.between(x, y); ok {
					sum, n = sum+q, n+1
				}
			}
			if n == 0 {
				return "", false
			}
			v[j*Modules+i] = sum / n
		}
	}
	for _, reach := range [3]int{4, 0, 2} {
		if text, ok := textOf(&v, reach, mid); ok {
			return text, true
		}
	}
	return "", false
}

// textOf decodes the greys of modules. Dark is what is darker than those up to reach modules away: than the middle between their mean
// and the middle of their extremes; with no reach, than mid.
func textOf(v *[Modules * Modules]float64, reach int, mid float64) (text string, ok bool) {
	defer func() {
		if recover() != nil { // the decoder's, over bits that are no code
			text, ok = "", false
		}
	}()
	bits, err := gozxing.NewSquareBitMatrix(Modules)
	if err != nil {
		return "", false
	}
	for j := range Modules {
		for i := range Modules {
			limit := mid
			if reach > 0 {
				limit = amid(v, i, j, reach)
			}
			if v[j*Modules+i] < limit {
				bits.Set(i, j)
			}
		}
	}
	read, err := decoder.NewDecoder().DecodeWithoutHint(bits)
	if err != nil {
		return "", false
	}
	return read.GetText(), true
}

// amid is the middle between mean and middle of extremes of the modules up to reach away.
func amid(v *[Modules * Modules]float64, i, j, reach int) float64 {
	low, high, sum, n := 255.0, 0.0, 0.0, 0.0
	for y := max(0, j-reach); y <= min(Modules-1, j+reach); y++ {
		for _, q := range v[y*Modules+max(0, i-reach) : y*Modules+min(Modules-1, i+reach)+1] {
			low, high, sum, n = min(low, q), max(high, q), sum+q, n+1
		}
	}
	return (sum/n + (low+high)/2) / 2
}
