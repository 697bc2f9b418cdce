package cutting

import (
	"math"
	"slices"
)

const (
	fullestTries = 2_000 // steps on one board of the fullest-board plan at the start
	endPieces    = 75    // pieces at which a dive is finished by completing boards
	endTries     = 50_000 // steps of that
	completeMost = 500   // boards of a plan up to which completion of the whole is tried
)

// search is the hunt for the cheapest plan of one problem, and what is proved of it so far.
type search struct {
	steps *budget
	pool  []pattern
	best  []repeat
	cost  int64 // of best; math.MaxInt64 when no plan places every piece
	lower int64 // proved: no plan costs less; math.MaxInt64 when none places every piece

	partial []repeat // the plan that leaves the least length out, while there is no best
	left    int64    // that length
}

// outcome is what came of a search.
type outcome struct {
	plan     []repeat
	complete bool // every piece is placed
	proved   bool // no plan costs less, or none is complete
	bound    int64
}

// newSearch knows nothing yet.
func newSearch(steps *budget) *search {
	return &search{steps: steps, cost: math.MaxInt64, left: math.MaxInt64}
}

// done says that there is nothing left to find, or no steps.
func (s *search) done() bool { return s.cost <= s.lower || s.steps.out() }

// record keeps a plan if it is the best yet: fixed and then more, which leave the rest.
func (s *search) record(p *problem, fixed, more []repeat, rest *problem) {
	if left := rest.volume(); left > 0 {
		if s.best == nil && left < s.left {
			s.left, s.partial = left, slices.Concat(fixed, more)
		}
		return
	}
	if cost := p.cost(fixed) + p.cost(more); cost < s.cost {
		s.cost, s.best = cost, slices.Concat(fixed, more)
	}
}

// outcome sums up.
func (s *search) outcome() outcome {
	o := outcome{plan: s.best, complete: s.cost < math.MaxInt64, proved: s.cost <= s.lower, bound: s.lower}
	if !o.complete {
		o.plan = s.partial
	}
	o.plan = joined(o.plan)
	return o
}

// fewest finds the plan of the fewest boards.
func fewest(o *order, steps *budget) outcome {
	p := o.problem(false)
	s := newSearch(steps)
	simple := simpleBound(p)
	s.lower = simple
	for _, f := range []fill{decreasing, fullest(fullestTries, steps)} {
		plan, rest := greedy(p, f)
		if s.record(p, nil, plan, rest); s.done() {
			break
		}
	}
	s.improve(p, narrowed)
	out := s.outcome()
	if !out.complete {
		out.bound = simple
	}
	return out
}

// narrowed is the problem with the goal's number of boards, the longest there are: when any boards will do, those will.
func narrowed(p *problem, goal int64) *problem {
	q := p.clone()
	q.most = min(p.most, int(goal))
	left := q.most
	for c := range q.class {
		q.class[c].count = min(q.class[c].count, left)
		left -= q.class[c].count
	}
	return q
}

// leastStock finds the plan of the least stock among those of no more boards than the given plan.
func leastStock(o *order, plan []repeat, steps *budget) outcome {
	p := o.problem(true)
	p.most = 0
	for _, r := range plan {
		p.most += r.times
	}
	s := newSearch(steps)
	s.lower = over(o.total(), int64(o.unit()))
	s.best = shortened(p, plan)
	s.cost = p.cost(s.best)
	for _, r := range s.best {
		s.pool = append(s.pool, r.pattern)
	}
	s.improve(p, func(p *problem, _ int64) *problem { return p.clone() })
	return s.outcome()
}

// shortened puts each board of a plan on the shortest stock that holds it. The fullest boards choose first: what holds
// them holds any other, so that they never take from another the only board it could use.
func shortened(p *problem, plan []repeat) []repeat {
	plan = slices.Clone(plan)
	slices.SortStableFunc(plan, func(a, b repeat) int {
		switch la, lb := p.length(a.pattern), p.length(b.pattern); {
		case la > lb:
			return -1
		case la < lb:
			return 1
		}
		return 0
	})
	count := make([]int, len(p.class))
	for c := range count {
		count[c] = p.class[c].count
	}
	var out []repeat
	for _, r := range plan {
		length := p.length(r.pattern)
		for c := len(p.class) - 1; c >= 0 && r.times > 0; c-- {
			if p.class[c].room < length || count[c] == 0 {
				continue
			}
			times := min(r.times, count[c])
			if count[c] != unlimited {
				count[c] -= times
			}
			r.times -= times
			out = append(out, repeat{pattern{c, r.uses}, times})
		}
	}
	return out
}

// improve spends the steps on a better plan and a better bound. To complete boards it sees the problem narrowed to what
// plans of a goal's cost can use.
func (s *search) improve(p *problem, narrow func(*problem, int64) *problem) {
	var root proof
	if !s.done() {
		if r := newRelaxation(p, &s.pool, s.steps); r.rows <= maxRows {
			r.invert()
			r.solve(s.cost)
			root = r.proof
			s.raise(p, root.bound(p))
			s.steps.share(60, func() { s.dives(p) })
		}
	}
	for !s.done() {
		goal := min(s.cost-1, p.dearestPlan())
		q := narrow(p, goal)
		if q.most > completeMost {
			return
		}
		c := newCompletion(q, goal, root, s.steps, unlimited)
		switch {
		case c.search(0):
			s.cost, s.best = p.cost(c.plan), slices.Clone(c.plan)
		case c.cut:
			return
		default:
			s.lower = s.cost
		}
	}
}

// raise takes a proved bound. One beyond what all the stock costs says that no plan is complete.
func (s *search) raise(p *problem, bound int64) {
	if bound > p.dearestPlan() {
		bound = math.MaxInt64
	}
	s.lower = max(s.lower, bound)
}

// dearestPlan is the cost of all the stock; math.MaxInt64 when it never runs out.
func (p *problem) dearestPlan() int64 {
	var total int64
	left := p.most
	for _, c := range p.class {
		n := min(c.count, left)
		if n == unlimited {
			return math.MaxInt64
		}
		total += int64(n) * c.cost
		if left != unlimited {
			left -= n
		}
	}
	return total
}

// dives repeats the dive with more and more departures from the relaxation's first choice.
func (s *search) dives(p *problem) {
	for departures := 0; departures < 64 && !s.done(); departures++ {
		s.dive(p, nil, 0, departures)
	}
}

// dive makes a plan out of the relaxation: it cuts the whole part of each pattern, or else one board of the pattern
// nearest to whole, and relaxes what is left, as long as that can beat the best plan. The test for that uses the
// relaxation's floating-point value: a dive may miss a plan, and proves nothing.
func (s *search) dive(p *problem, fixed []repeat, spent int64, departures int) {
	boards, rest := greedy(p, decreasing)
	if s.record(p, fixed, boards, rest); s.done() || p.pieces() == 0 {
		return
	}
	r := newRelaxation(p, &s.pool, s.steps)
	r.invert()
	r.solve(s.cost - spent)
	if math.Ceil(r.value()-1e-5*float64(r.dearest)) >= float64(s.cost-spent) {
		return
	}
	if s.finish(p, fixed, spent, r.proof) || s.done() {
		return
	}
	patterns, times := r.patterns()
	whole := p.clone()
	var cut []repeat
	for i, pt := range patterns {
		if n := min(int(times[i]+1e-3), whole.fits(pt)); n > 0 {
			whole.take(pt, n)
			cut = append(cut, repeat{pt, n})
		}
	}
	if cut != nil {
		s.dive(whole, slices.Concat(fixed, cut), spent+p.cost(cut), departures)
		return
	}
	for i, pt := range patterns {
		if i > departures || s.done() {
			return
		}
		cut := []repeat{{pt, 1}}
		s.dive(p.without(pt, 1), slices.Concat(fixed, cut), spent+p.cost(cut), departures-i)
	}
}

// finish completes a problem of few pieces board by board. It reports whether that settled it.
func (s *search) finish(p *problem, fixed []repeat, spent int64, f proof) bool {
	if p.pieces() > endPieces || s.cost == math.MaxInt64 {
		return false
	}
	for {
		c := newCompletion(p.clone(), s.cost-1-spent, f, s.steps, endTries)
		if !c.search(0) {
			return !c.cut
		}
		s.record(p, fixed, c.plan, c.p)
		if s.done() {
			return true
		}
	}
}

// patterns are the patterns of the relaxation and how often each is cut, the most whole first.
func (r *relaxation) patterns() (patterns []pattern, times []float64) {
	var rows []int
	for i, b := range r.basis {
		if b.kind == cutting && r.x[i] > 1e-6 {
			rows = append(rows, i)
		}
	}
	slices.SortFunc(rows, func(i, j int) int {
		switch fi, fj := r.x[i], r.x[j]; {
		case fi > fj+1e-6:
			return -1
		case fj > fi+1e-6:
			return 1
		}
		return r.basis[i].index - r.basis[j].index
	})
	for _, i := range rows {
		patterns, times = append(patterns, (*r.pool)[r.basis[i].index]), append(times, r.x[i])
	}
	return patterns, times
}
