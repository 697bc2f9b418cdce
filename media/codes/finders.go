package codes

import (
	"cmp"
	"math"
	"slices"
)

// finder is what may be one of the three square marks in a code's corners: its middle, the side of one of its seven modules, in
// pixels, in how many rows it was seen, and how sure it is.
type finder struct {
	x, y, module float64
	rows, sure   int
}

// Bounds of what is looked at in one picture at one scale.
const (
	mostMarks   = 20000 // places where a mark may be
	mostFinders = 60
	mostCorners = 120
	mostGuesses = 60
)

// marks collects finders. near finds those around a place: by squares of cell pixels.
type marks struct {
	all  []finder
	near map[[2]int][]int
}

const cell = 16

// add takes in that a mark was seen at a place: another row of one that is known, or a new one.
func (m *marks) add(x, y, module float64) {
	at := [2]int{int(x) / cell, int(y) / cell}
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			for _, i := range m.near[[2]int{at[0] + dx, at[1] + dy}] {
				f := &m.all[i]
				if math.Abs(f.x-x) < 1.5*f.module && math.Abs(f.y-y) < 1.5*f.module && alike(f.module, module, 1.6) {
					n := float64(f.rows)
					f.x, f.y, f.module = (f.x*n+x)/(n+1), (f.y*n+y)/(n+1), (f.module*n+module)/(n+1)
					f.rows++
					return
				}
			}
		}
	}
	if len(m.all) < mostMarks {
		m.near[at] = append(m.near[at], len(m.all))
		m.all = append(m.all, finder{x, y, module, 1, 0})
	}
}

// alike says whether two positive figures are within a factor of one another.
func alike(a, b, factor float64) bool { return a <= factor*b && b <= factor*a }

// finders lists the likeliest marks: dark, light, dark, light, dark in the widths 1, 1, 3, 1, 1, across and down. Every second row is
// looked at, which meets the middle of a mark of 1.5 pixels a module twice.
func (g *grey) finders() []finder {
	m := marks{near: map[[2]int][]int{}}
	for y := 0; y < g.h; y += 2 {
		row := g.dark[y*g.w:][:g.w]
		var runs [5]int
		start := 0
		for x := 1; x <= g.w; x++ {
			if x < g.w && row[x] == row[x-1] {
				continue
			}
			runs[0], runs[1], runs[2], runs[3], runs[4] = runs[1], runs[2], runs[3], runs[4], x-start
			start = x
			if !row[x-1] || runs[0] == 0 {
				continue
			}
			if module, ok := square(runs); ok {
				g.look(&m, x-runs[4]-runs[3]-(runs[2]+1)/2, y, module)
			}
		}
	}
	found := slices.DeleteFunc(m.all, func(f finder) bool { return f.rows < 2 })
	for i := range found {
		found[i].sure = found[i].rows * (1 + g.diagonals(found[i]))
	}
	slices.SortStableFunc(found, func(a, b finder) int { return cmp.Compare(b.sure, a.sure) })
	return found[:min(len(found), mostFinders)]
}

// diagonals counts the slanting lines through the middle of a mark whose runs fit as well: of a real one every line does. Gravel and
// leaves have thousands of places that look like a mark across and down, and few of them along a third line.
func (g *grey) diagonals(f finder) (n int) {
	for _, dy := range [2]int{-1, 1} {
		if _, module, ok := g.through(int(f.x), int(f.y), 1, dy, int(4*f.module)+3); ok && alike(module*math.Sqrt2, f.module, 1.6) {
			n++
		}
	}
	return n
}

// square says whether five runs are those of a line through the middle of a mark, and how broad a module then is. Half a pixel is
// allowed for edges that fall between pixels.
func square(runs [5]int) (module float64, ok bool) {
	total := runs[0] + runs[1] + runs[2] + runs[3] + runs[4]
	if total < 7 {
		return 0, false
	}
	module = float64(total) / 7
	slack := module/2 + 0.5
	for i, n := range runs {
		want, slack := module, slack
		if i == 2 {
			want, slack = 3*module, 2*slack
		}
		if math.Abs(float64(n)-want) > slack {
			return 0, false
		}
	}
	return module, true
}

// look takes a mark in whose runs fit down and across as well. Where dirt lies on the middle, a line beside it will do.
func (g *grey) look(m *marks, x, y int, module float64) {
	aside := int(module*0.9 + 0.5)
	furthest := int(5*module) + 3
	for _, dx := range [3]int{0, -aside, aside} {
		down, tall, ok := g.through(x+dx, y, 0, 1, furthest)
		if !ok || !alike(tall, module, 2.5) {
			continue
		}
		for _, dy := range [3]int{0, -aside, aside} {
			across, broad, ok := g.through(x, y+int(math.Round(down))+dy, 1, 0, furthest)
			if !ok {
				continue
			}
			m.add(float64(x)+across+0.5, float64(y)+down+0.5, (broad+tall)/2)
			return
		}
		return
	}
}

// through measures the runs through a dark pixel in a direction, none longer than furthest: how far from it their middle lies,
// and how broad a module is.
func (g *grey) through(x, y, dx, dy, furthest int) (middle, module float64, ok bool) {
	if x < 0 || y < 0 || x >= g.w || y >= g.h || !g.dark[y*g.w+x] {
		return 0, 0, false
	}
	walk := func(step int) (n [3]int) {
		u, v := x+step*dx, y+step*dy
		for k := range n {
			for n[k] < furthest && u >= 0 && v >= 0 && u < g.w && v < g.h && g.dark[v*g.w+u] == (k != 1) {
				n[k]++
				u, v = u+step*dx, v+step*dy
			}
		}
		return n
	}
	back, on := walk(-1), walk(1)
	module, ok = square([5]int{back[2], back[1], back[0] + 1 + on[0], on[1], on[2]})
	return float64(on[0]+on[1]+on[2]-back[0]-back[1]-back[2]) / 2, module, ok
}

// corner is three marks that may be those of one code: that between the two others, and going clockwise from the right-hand one to
// the one below. off is how little they look like it.
type corner struct {
	at, right, below finder
	off              float64
}

// apart is how many modules lie between the middles of two marks along a side.
const apart = Modules - 7

// corners lists the likeliest threes of marks, the likeliest first. A slanting view makes one side shorter and the angle other than
// a right one.
func corners(found []finder) []corner {
	var out []corner
	for i, at := range found {
		for k, right := range found {
			ru, rv, long, okay := side(at, right)
			if k == i || !okay {
				continue
			}
			for l, below := range found {
				bu, bv, deep, okay := side(at, below)
				if l == i || l == k || !okay || ru*bv-rv*bu <= 0 || !alike(long, deep, 3) {
					continue
				}
				slant := math.Abs(ru*bu+rv*bv) / long / deep
				if slant > 0.75 {
					continue
				}
				off := slant + math.Abs(math.Log(long/deep)) + math.Abs(math.Log(long/(at.module+right.module)*2/apart))/2 + math.Abs(math.Log(deep/(at.module+below.module)*2/apart))/2
				out = append(out, corner{at, right, below, off})
			}
		}
	}
	return likeliest(out, mostCorners)
}

// side is the way from one mark to another along a code's side and its length, in pixels; false where their size does not fit that.
func side(a, b finder) (u, v, length float64, ok bool) {
	u, v = b.x-a.x, b.y-a.y
	length = math.Hypot(u, v)
	modules := length / (a.module + b.module) * 2
	return u, v, length, alike(a.module, b.module, 2) && modules > 0.5*apart && modules < 1.6*apart
}

func likeliest(of []corner, most int) []corner {
	slices.SortStableFunc(of, func(a, b corner) int { return cmp.Compare(a.off, b.off) })
	return of[:min(len(of), most)]
}

// guessed lists corners of which one mark is not seen, for dirt on it: where it would be in a view square on.
func guessed(found []finder) []corner {
	var out []corner
	for i, a := range found {
		for k, b := range found {
			if i == k || !alike(a.module, b.module, 1.5) {
				continue
			}
			u, v := b.x-a.x, b.y-a.y
			modules := math.Hypot(u, v) / (a.module + b.module) * 2
			unseen := a
			if off := math.Abs(math.Log(modules / apart)); off < 0.4 { // along a side
				unseen.x, unseen.y = a.x-v, a.y+u
				out = append(out, corner{a, b, unseen, off})
				unseen.x, unseen.y = a.x+v, a.y-u
				out = append(out, corner{a, unseen, b, off})
			}
			if off := math.Abs(math.Log(modules / apart / math.Sqrt2)); off < 0.4 { // across
				unseen.x, unseen.y = (a.x+b.x+v)/2, (a.y+b.y-u)/2
				out = append(out, corner{unseen, a, b, off})
			}
		}
	}
	return likeliest(out, mostGuesses)
}
