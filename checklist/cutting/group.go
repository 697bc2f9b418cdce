package cutting

import (
	"math"
	"slices"
)

const (
	manyRows    = 350   // rows of a relaxation of the whole that is seldom solved
	boundGroups = 120   // groups for a bound
	mixGroups   = 80    // groups for a plan
	mixTries    = 500   // steps on one board of that plan
	mixEnd      = 500   // pieces that are no longer planned in groups
	mixOver     = 4_000 // a board is full when no more than this part of it is over
)

// groups are sizes taken together, by the index where each group starts, with about as many pieces in each (linear grouping,
// Fernandez de la Vega and Lueker, "Bin packing can be solved within 1 + epsilon in linear time", Combinatorica 1, 1981).
type groups struct {
	p     *problem
	first []int // and, last, the number of sizes
}

// group divides the sizes of a problem into so many groups, at most.
func group(p *problem, most int) groups {
	g := groups{p: p}
	total, seen := p.pieces(), 0
	for i, n := range p.need {
		if seen*most >= len(g.first)*total {
			g.first = append(g.first, i)
		}
		seen += n
	}
	g.first = append(g.first, len(p.size))
	return g
}

// problem is the problem with all pieces of a group of one length, which like gives for the sizes from first to end.
func (g groups) problem(like func(first, end int) int64) *problem {
	q := &problem{class: slices.Clone(g.p.class), most: g.p.most}
	for i := range len(g.first) - 1 {
		first, end := g.span(i)
		need := 0
		for _, n := range g.p.need[first:end] {
			need += n
		}
		q.size, q.need = append(q.size, like(first, end)), append(q.need, need)
	}
	return q
}

// span is the sizes of a group, from first to before end.
func (g groups) span(i int) (first, end int) { return g.first[i], g.first[i+1] }

// shortest is the length of the shortest of a group: a bound for such pieces holds for the real ones.
func (g groups) shortest(_, end int) int64 { return g.p.size[end-1] }

// mean is the mean length of a group.
func (g groups) mean(first, end int) int64 {
	var sum, n int64
	for i := first; i < end; i++ {
		sum += int64(g.p.need[i]) * g.p.size[i]
		n += int64(g.p.need[i])
	}
	if n == 0 {
		return g.p.size[first]
	}
	return sum / n
}

// relaxed is the relaxation of a problem of groups, solved within a percentage of the steps that are left.
func (s *search) relaxed(q *problem, percent int) *relaxation {
	start := newSearch(s.steps)
	boards, rest := greedy(q, decreasing)
	start.record(q, nil, boards, rest)
	r := newRelaxation(q, &start.pool, s.steps)
	r.begin()
	r.solve(math.MaxInt64, percent)
	return r
}

// boundByGroups finds a bound by way of groups, where sizes are too many for a relaxation of the whole.
func (s *search) boundByGroups(p *problem) {
	if len(p.size)+len(p.class) <= manyRows || len(p.class) > maxRows || s.done() {
		return
	}
	g := group(p, boundGroups)
	short := g.problem(g.shortest)
	s.raise(p, s.relaxed(short, 20).proof.bound(short))
}

// mix finds a plan by way of groups, where boards are too many to be completed or exchanged as a whole: which kinds of piece go
// together on how many boards is found for pieces of mean length, and of the real ones each such board takes those that fill it. What
// that leaves is of all kinds, as the whole was, and goes the same way until it is little.
func (s *search) mix(p *problem) {
	if len(p.size) <= fewRows || !many(p) || s.done() {
		return
	}
	rest := p.clone()
	var plan []repeat
	for loose := false; mixEnd < rest.pieces() && !s.steps.out(); {
		before := rest.pieces()
		plan = append(plan, s.deal(rest, loose)...)
		if before-rest.pieces() < before/10 {
			if loose {
				break
			}
			loose = true
		}
	}
	ends, rest := greedy(rest, fullest(manyTries, s.steps))
	if plan = append(plan, ends...); rest.pieces() == 0 && p.cost(plan) < s.cost {
		s.cost, s.best = p.cost(plan), plan
	}
}

// deal takes boards out of a problem, planned in groups, one of each pattern in turn. A pattern ends where no pieces fill its board, or,
// loosely, as far as pieces of mean length would.
func (s *search) deal(rest *problem, loose bool) []repeat {
	g := group(rest, mixGroups)
	q := g.problem(g.mean)
	patterns, times := s.relaxed(q, 20).patterns()
	var plan []repeat
	for more := true; more; {
		more = false
		for k, pt := range patterns {
			if times[k] < 1-1e-3 || rest.fits(pattern{class: pt.class}) == 0 {
				continue
			}
			times[k]--
			room := q.class[pt.class].room
			over := room / mixOver
			if loose {
				over = max(over, room-q.length(pt))
			}
			d := g.dealer(rest, pt, over, len(plan))
			d.search(0, room)
			s.steps.spend(1 + (mixTries-d.tries)/4)
			if d.best == nil {
				times[k] = 0
				continue
			}
			made := pattern{pt.class, counted(d.best)}
			rest.take(made, 1)
			plan, more = append(plan, repeat{made, 1}), true
		}
	}
	return plan
}

// counted is single pieces, by their sizes, as the pieces of a board.
func counted(sizes []int) []use {
	slices.Sort(sizes)
	var uses []use
	for _, i := range sizes {
		if last := len(uses) - 1; last >= 0 && uses[last].size == i {
			uses[last].n++
			continue
		}
		uses = append(uses, use{i, 1})
	}
	return uses
}

// dealer chooses the pieces of one board, of a group given for each. Where it begins in a group moves on with the number of the board,
// so that all of a group goes alike.
type dealer struct {
	groups
	rest              *problem
	slots             []int   // groups of the pieces
	longest, shortest []int64 // that the slots from each on can be, together
	now, best         []int   // sizes
	least             int64   // room left by best, or what is too much
	tries, number     int
}

// dealer looks for a board of a pattern of groups which leaves no more than over.
func (g groups) dealer(rest *problem, pt pattern, over int64, number int) *dealer {
	d := &dealer{groups: g, rest: rest, least: over + 1, tries: mixTries, number: number}
	for _, u := range pt.uses {
		d.slots = append(d.slots, slices.Repeat([]int{u.size}, u.n)...)
	}
	d.longest, d.shortest = make([]int64, len(d.slots)+1), make([]int64, len(d.slots)+1)
	for k := len(d.slots) - 1; k >= 0; k-- {
		first, end := g.span(d.slots[k])
		d.longest[k] = d.longest[k+1] + rest.size[first]
		d.shortest[k] = d.shortest[k+1] + rest.size[end-1]
	}
	return d
}

// search fills the slots from one on, with that room left.
func (d *dealer) search(slot int, room int64) {
	if slot == len(d.slots) {
		if room < d.least {
			d.least, d.best = room, slices.Clone(d.now)
		}
		return
	}
	if room-d.longest[slot] >= d.least || room < d.shortest[slot] {
		return
	}
	first, end := d.span(d.slots[slot])
	longest := atMost(d.rest.size[:end], room, first)
	if slot == len(d.slots)-1 {
		for i := longest; i < end; i++ {
			if d.rest.need[i] > 0 {
				d.with(i, slot, room)
				return
			}
		}
		return
	}
	for k := range end - longest {
		i := longest + (k+d.number*7)%(end-longest)
		if d.rest.need[i] > 0 && d.least > 0 && d.tries > 0 {
			d.with(i, slot, room)
		}
	}
}

// with goes on with a piece in a slot.
func (d *dealer) with(size, slot int, room int64) {
	d.tries--
	d.rest.need[size]--
	d.now = append(d.now, size)
	d.search(slot+1, room-d.rest.size[size])
	d.now = d.now[:len(d.now)-1]
	d.rest.need[size]++
}
