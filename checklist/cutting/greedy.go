package cutting

import (
	"slices"
	"sort"
)

// fill chooses the pieces of one board out of those still needed.
type fill func(p *problem, class int) []use

// greedy fills one board after another, the longest first, and repeats each filling as often as it can. It returns what
// it cut and the problem that is left, which is empty when every piece is placed.
func greedy(p *problem, f fill) ([]repeat, *problem) {
	rest := p.clone()
	var plan []repeat
	for c := range rest.class {
		for rest.class[c].count > 0 && rest.most > 0 {
			uses := f(rest, c)
			if len(uses) == 0 {
				break
			}
			pt := pattern{c, uses}
			times := rest.fits(pt)
			rest.take(pt, times)
			plan = append(plan, repeat{pt, times})
		}
	}
	return plan, rest
}

// decreasing takes the longest piece that fits, again and again. Board by board this is first-fit decreasing: there too
// the first board ends with the pieces that, longest first, still fitted.
func decreasing(p *problem, c int) []use {
	room := p.class[c].room
	var uses []use
	for i := atMost(p.size, room, 0); i < len(p.size); i = atMost(p.size, room, i+1) {
		if n := min(int64(p.need[i]), room/p.size[i]); n > 0 {
			uses = append(uses, use{i, int(n)})
			room -= n * p.size[i]
		}
	}
	return uses
}

// fullest takes the longest piece and then those that fill the board best, as far as a number of tries finds out.
func fullest(tries int, steps *budget) fill {
	return func(p *problem, c int) []use {
		start := atMost(p.size, p.class[c].room, 0)
		for start < len(p.size) && p.need[start] == 0 {
			start++
		}
		if start == len(p.size) {
			return nil
		}
		s := slack{p: p, least: p.class[c].room, tries: tries, shortest: len(p.size) - 1}
		for p.need[s.shortest] == 0 {
			s.shortest--
		}
		s.now = append(s.now, use{start, 1})
		p.need[start]--
		s.search(start, p.class[c].room-p.size[start])
		p.need[start]++
		steps.spend(tries - s.tries)
		return s.best
	}
}

// slack is the search for the fullest board.
type slack struct {
	p         *problem
	now, best []use
	least     int64 // room left by best
	shortest  int   // the last size still needed
	tries     int
}

// search adds pieces from the given size on to a board with that room left.
func (s *slack) search(from int, room int64) {
	if room < s.least {
		s.least, s.best = room, slices.Clone(s.now)
	}
	for i := atMost(s.p.size, room, from); i <= s.shortest && s.least > 0 && s.tries > 0; i++ {
		s.tries--
		for n := int(min(int64(s.p.need[i]), room/s.p.size[i])); n > 0; n-- {
			s.with(i, n, func() { s.search(i+1, room-int64(n)*s.p.size[i]) })
		}
	}
}

// with tries more with n further pieces of a size on the board.
func (s *slack) with(size, n int, try func()) {
	if last := len(s.now) - 1; s.now[last].size == size {
		s.now[last].n += n
		try()
		s.now[last].n -= n
		return
	}
	s.now = append(s.now, use{size, n})
	try()
	s.now = s.now[:len(s.now)-1]
}

// atMost is the index of the first size from the given one on that is at most room; sizes fall.
func atMost(size []int64, room int64, from int) int {
	if from >= len(size) || size[from] <= room {
		return from
	}
	return from + sort.Search(len(size)-from, func(i int) bool { return size[from+i] <= room })
}
