package pictures

import (
	"math"
	"strconv"
	"strings"

	"newelbook/checklist/length"
)

// reading is a measure as text and as a length in inches.
type reading struct {
	words  string
	inches float64
	metric bool
}

// reading is the measure that the picture was asked for, or the one given where there is none or it is no length.
func (p Params) reading(otherwise string) reading {
	words := p.Measure
	l, err := length.Parse(words, length.Inches)
	if err != nil || l <= 0 {
		words = otherwise
		if l, err = length.Parse(words, length.Inches); err != nil {
			return reading{words: words}
		}
	}
	return reading{words, l.Inches(), strings.HasSuffix(strings.TrimSpace(words), "m")}
}

// held is the reading's length as a scene can show it: at least lo and at most hi inches.
func (r reading) held(lo, hi float64) float64 { return min(max(r.inches, lo), hi) }

// tape is a steel tape laid on a plane: its blade runs along u, its marks stand on the edge at v = 0, its width is along
// v. The reading stands at x = at; from and to are the ends of the blade that show.
type tape struct {
	plane
	at, from, to, width float64
	// standing sets the figures upright across the blade, for a blade that runs up or down.
	standing bool
}

const tapeYellow = 0xf5cf52

// tape draws the blade with its marks, so that the reading stands where it belongs, and notes the reading in red.
func (s *scene) tape(t tape, r reading) {
	s.said = true
	blade := s.seeAll(t.box(t.from, 0, t.to-t.from, t.width))
	s.fill([][]pt{shifted(blade, 5, 7)}, ink{col: hex(0x5c5055), alpha: 0.4, wash: true, mottle: 0.3})
	s.fill([][]pt{blade}, ink{col: hex(0xfffbea), alpha: 1})
	s.wash(blade, hex(tapeYellow), 0.95)
	s.fill([][]pt{s.seeAll(t.box(t.from, t.width*0.78, t.to-t.from, t.width*0.22))}, ink{col: hex(0x8a6a2a), alpha: 0.22, wash: true})
	s.marks(t, r)
	for _, v := range []float64{0, t.width} {
		s.line([]pt{s.see(t.plane.at(t.from, v)), s.see(t.plane.at(t.to, v))}, soft(2.2))
	}
	zero := t.at - r.inches
	if zero >= t.from-0.01 && zero <= t.to {
		hook := s.seeAll(t.raised(0.02).box(zero-0.09, t.width*0.08, 0.5, t.width*0.84))
		s.disc(hook, hex(0xaab0b0), 0)
		for _, v := range []float64{0.32, 0.68} {
			s.loop(s.seeAll(t.raised(0.02).ring(zero+0.22, t.width*v, 0.07, 12)), soft(1.5))
		}
	}
}

// marks draws the divisions from the tape's own zero.
func (s *scene) marks(t tape, r reading) {
	zero := t.at - r.inches
	step, each := 1.0/16, 16
	if r.metric {
		step, each = 1/25.4, 10
	}
	px := s.see(t.plane.at(t.at+1, 0)).sub(s.see(t.plane.at(t.at, 0))).len()
	thick := min(1.5, px*step*float64(each)/23)
	skip := 1
	switch {
	case r.metric && px*step < 2.6:
		skip = 5
	case !r.metric:
		for px*step*float64(skip) < 4.2 && skip < each {
			skip *= 2
		}
	}
	// Where whole units stand closer than their figures have room, some of the figures are left out.
	every := 1
	for step*float64(each*every) < t.room(r.metric, int((t.to-zero)/step)/each) {
		every *= 2
	}
	first := int(math.Ceil((t.from - zero) / step))
	last := int(math.Floor((t.to - zero) / step))
	var thin, bold [][]pt
	for i := max(first, 0); i <= last; i++ {
		if i%skip != 0 {
			continue
		}
		x := zero + float64(i)*step
		long := tickLength(i, each)
		mark := [][]pt{s.stripe(s.see(t.plane.at(x, 0)), s.see(t.plane.at(x, t.width*long)), thick)}
		if i%each == 0 {
			bold = append(bold, mark...)
			if i/each%every == 0 {
				s.figure(t, r.metric, x, i/each)
			}
		} else {
			thin = append(thin, mark...)
		}
	}
	s.fill(thin, ink{col: hex(0x26221c), alpha: 0.85})
	s.fill(bold, ink{col: hex(0x26221c), alpha: 1})
}

// tickLength is how far a mark reaches across the blade.
func tickLength(i, each int) float64 {
	switch {
	case i%each == 0:
		return 0.72
	case i%(each/2) == 0:
		return 0.46
	case each == 16 && i%4 == 0:
		return 0.34
	case each == 16 && i%2 == 0:
		return 0.25
	}
	return 0.17
}

// figureSize is the height of the figures in inches.
func (t tape) figureSize(metric bool) float64 {
	switch {
	case metric && t.standing:
		return 0.34 * t.width
	case metric:
		return 0.28 * t.width
	}
	return 0.5 * t.width
}

// room is how much of the blade's length a figure up to most takes, in inches.
func (t tape) room(metric bool, most int) float64 {
	if t.standing {
		return 1.15 * t.figureSize(metric)
	}
	return 0.6*t.figureSize(metric)*float64(len(strconv.Itoa(most))) + 0.05*t.width
}

// figure sets the number of a whole inch or centimetre beside its mark.
func (s *scene) figure(t tape, metric bool, x float64, n int) {
	if n == 0 {
		return
	}
	size := t.figureSize(metric)
	k := ink{col: hex(0x26221c), alpha: 1}
	mark := t.plane.at(x, 0)
	if !t.standing {
		p, base := plane{mark, t.u, t.v}, 0.46*t.width
		if s.see(p.at(0, 1)).Y > s.see(mark).Y {
			p.v, base = t.v.mul(-1), -0.82*t.width
		}
		s.letter(s.faces.bold, p, -0.06*t.width, base, size, fromRight, strconv.Itoa(n), k)
		return
	}
	// The figure stands on its mark, upright in the picture whichever way the blade runs.
	p := plane{mark, t.v, t.u}
	middle := 0.68 * t.width
	if s.see(p.at(1, 0)).X < s.see(mark).X {
		p.u, middle = t.v.mul(-1), -middle
	}
	if s.see(p.at(0, 1)).Y > s.see(mark).Y {
		p.v = t.u.mul(-1)
	}
	s.letter(s.faces.bold, p, middle, 0.06*t.width, size, centred, strconv.Itoa(n), k)
}

// stripe is a straight bar of a width in pixels.
func (s *sheet) stripe(a, b pt, width float64) []pt {
	n := b.sub(a).unit().left().mul(width / 2)
	return []pt{a.add(n), b.add(n), b.sub(n), a.sub(n)}
}

// pointAt rings the reading in red and writes it beside.
func (s *scene) pointAt(target, words pt, anchor float64, r reading) {
	const size = 56
	s.loop(circle(target, 17), red(3))
	t := set(s.faces.bold, size, r.words)
	x := words.X - anchor*t.width
	s.fill([][]pt{rect(x-12, words.Y-size*0.88, t.width+24, size*1.16)}, ink{col: paper, alpha: 0.86})
	s.write(s.faces.bold, size, words, anchor, -1, r.words, ink{col: redLead, alpha: 0.95, tooth: 0.2})
	s.line([]pt{{x, words.Y + 11}, {x + t.width, words.Y + 9}}, red(2.6))
	from := pt{x + t.width + 14, words.Y - size*0.3}
	if target.X < x {
		from.X = x - 14
	}
	u := from.sub(target).unit()
	tip := target.add(u.mul(20))
	s.line([]pt{from, tip}, red(2.6))
	for _, side := range []float64{1, -1} {
		s.line([]pt{tip, tip.add(u.mul(15)).add(u.left().mul(7 * side))}, red(2.6))
	}
}
