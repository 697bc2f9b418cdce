package cutting

import (
	"cmp"
	"math"
	"slices"
)

// unlimited is the count of stock that never runs out.
const unlimited = math.MaxInt

// problem is a cutting problem in plain numbers. A kerf is added to each piece and one to each board, which makes n pieces
// and n-1 kerfs on a board the same as a plain sum against its room.
type problem struct {
	size  []int64 // nanometres with the kerf, falling
	need  []int   // pieces of each size
	class []class // boards, room falling
	most  int     // boards allowed in all
}

// class is boards of one length. Cost is 1 when boards are counted, and a number of units of length when stock is.
type class struct {
	room  int64 // nanometres between the trims, with one kerf
	cost  int64
	count int
}

// use is n pieces of the size with that index.
type use struct{ size, n int }

// pattern is how one board is cut: the class it is of and its pieces, longest first.
type pattern struct {
	class int
	uses  []use
}

// repeat is a pattern cut a number of times.
type repeat struct {
	pattern
	times int
}

// pieces is how many pieces are still needed.
func (p *problem) pieces() int {
	total := 0
	for _, n := range p.need {
		total += n
	}
	return total
}

// sizes is how many sizes are still needed.
func (p *problem) sizes() int {
	total := 0
	for _, n := range p.need {
		if n > 0 {
			total++
		}
	}
	return total
}

// volume is the sum of the sizes still needed. MaxPieces and MaxLength keep it within the type.
func (p *problem) volume() int64 {
	var total int64
	for i, n := range p.need {
		total += int64(n) * p.size[i]
	}
	return total
}

// fits is how often the pattern can be cut with what is needed and what stock there is.
func (p *problem) fits(pt pattern) int {
	times := min(p.class[pt.class].count, p.most)
	for _, u := range pt.uses {
		times = min(times, p.need[u.size]/u.n)
	}
	return times
}

// without returns what is left of the problem once the pattern is cut a number of times.
func (p *problem) without(pt pattern, times int) *problem {
	rest := p.clone()
	rest.take(pt, times)
	return rest
}

// clone returns a copy to take from.
func (p *problem) clone() *problem {
	return &problem{size: p.size, need: slices.Clone(p.need), class: slices.Clone(p.class), most: p.most}
}

// take cuts the pattern a number of times; a negative number undoes it.
func (p *problem) take(pt pattern, times int) {
	for _, u := range pt.uses {
		p.need[u.size] -= u.n * times
	}
	if c := &p.class[pt.class]; c.count != unlimited {
		c.count -= times
	}
	if p.most != unlimited {
		p.most -= times
	}
}

// cost is the total cost of a plan.
func (p *problem) cost(plan []repeat) int64 {
	var total int64
	for _, r := range plan {
		total += int64(r.times) * p.class[r.class].cost
	}
	return total
}

// length is the sum of the sizes of a pattern.
func (p *problem) length(pt pattern) int64 {
	var total int64
	for _, u := range pt.uses {
		total += int64(u.n) * p.size[u.size]
	}
	return total
}

// compare orders patterns: longer stock first, then those with more of the longer pieces.
func compare(a, b pattern) int {
	if c := cmp.Compare(a.class, b.class); c != 0 {
		return c
	}
	for i := range min(len(a.uses), len(b.uses)) {
		x, y := a.uses[i], b.uses[i]
		if c := cmp.Or(cmp.Compare(x.size, y.size), cmp.Compare(y.n, x.n)); c != 0 {
			return c
		}
	}
	return cmp.Compare(len(b.uses), len(a.uses))
}

// joined returns the plan sorted, equal patterns joined.
func joined(plan []repeat) []repeat {
	plan = slices.Clone(plan)
	slices.SortFunc(plan, func(a, b repeat) int { return compare(a.pattern, b.pattern) })
	var out []repeat
	for _, r := range plan {
		if last := len(out) - 1; last >= 0 && compare(out[last].pattern, r.pattern) == 0 {
			out[last].times += r.times
			continue
		}
		out = append(out, r)
	}
	return out
}
