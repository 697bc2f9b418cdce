package cutting

import (
	"math"
	"slices"
)

const (
	fullestTries = 2_000 // steps on one board of the fullest-board plan at the start
	manyTries    = 300   // the same where boards are many
	completeMost = 500   // boards of a plan up to which completion of the whole is tried
	fewRows      = 60    // rows of a relaxation that is solved before all else
	deep         = 8     // pieces on a board beyond which the search for a pattern is slower than a table
)

// search is the hunt for the cheapest plan of one problem, and what is proved of it so far.
type search struct {
	steps *budget
	pool  []pattern
	best  []repeat
	cost  int64 // of best; math.MaxInt64 when no plan places every piece
	lower int64 // proved: no plan costs less; math.MaxInt64 when none places every piece

	// Costs that differ by less than a unit of cost are as good as one another: of a plan of so many units, and of no more than
	// slack beyond them, only the units are to be bettered.
	unit, slack int64

	resumed bool // what an earlier search found is taken over

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
	return &search{steps: steps, cost: math.MaxInt64, left: math.MaxInt64, unit: 1}
}

// done says that there is nothing left to find, or no steps.
func (s *search) done() bool { return s.proved() || s.steps.out() }

// proved says that no plan is better, or that none places every piece.
func (s *search) proved() bool { return s.cost-s.cost%s.unit <= s.lower }

// goal is the most that a better plan may cost.
func (s *search) goal() int64 { return s.cost - s.cost%s.unit - 1 }

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
		for _, r := range s.best {
			s.pool = append(s.pool, r.pattern)
		}
	}
}

// outcome sums up.
func (s *search) outcome() outcome {
	o := outcome{plan: s.best, complete: s.cost < math.MaxInt64, proved: s.proved(), bound: s.lower}
	if !o.complete {
		o.plan = s.partial
	}
	o.plan = joined(o.plan)
	return o
}

// resume takes what has been found before, whose bound counts in units as given.
func (s *search) resume(p *problem, before outcome, unit int64) {
	if s.resumed = before.complete; s.resumed {
		s.raise(p, before.bound*unit)
		s.record(p, nil, before.plan, &problem{})
	}
}

// fewest finds the plan of the fewest boards.
func fewest(o *order, before outcome, steps *budget) outcome {
	p := o.problem(false)
	s := newSearch(steps)
	simple := simpleBound(p)
	s.raise(p, simple)
	for _, f := range []fill{decreasing, fullest(tries(p), steps)} {
		plan, rest := greedy(p, f)
		if s.record(p, nil, plan, rest); s.done() {
			break
		}
	}
	s.resume(p, before, 1)
	s.boundByGroups(p)
	s.mix(p)
	s.relaxWhole(p, narrowed)
	s.improve(p, narrowed)
	out := s.outcome()
	if !out.complete {
		out.bound = simple
	}
	return out
}

// boardsOf is about how many boards a plan has.
func boardsOf(p *problem) int64 { return over(p.volume(), p.class[0].room) }

// many says that they are more than are completed or exchanged as a whole.
func many(p *problem) bool { return boardsOf(p) > completeMost }

// tries are the steps on one board of the fullest-board plan.
func tries(p *problem) int {
	if many(p) {
		return manyTries
	}
	return fullestTries
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
	s.record(p, nil, shortened(p, plan), &problem{})
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

// improve spends the steps on a better plan and a better bound. To complete boards and to move pieces between them it sees
// the problem narrowed to what plans of a goal's cost can use.
func (s *search) improve(p *problem, narrow func(*problem, int64) *problem) {
	var root proof
	w := swaps{search: s, p: p, narrow: narrow}
	if r := newRelaxation(p, &s.pool, s.steps); !s.done() && r.rows <= maxRows {
		r.begin()
		if r.rows > fewRows || boardsOf(p)*deep < int64(p.pieces()) {
			r.table = newTable(p)
		}
		if r.rows > fewRows {
			s.approach(r, &w)
		}
		s.relaxFurther(r, 50)
		s.steps.share(60, func() { s.dives(r, p) })
		root = r.proof
	}
	w.run(60, math.MaxInt64)
	s.rework(p, narrow)
	s.complete(p, narrow, root)
}

// planRest plans by a search of its own what some boards leave of a problem, and takes both together.
func (s *search) planRest(p *problem, fixed []repeat, rest *problem, own *search, narrow func(*problem, int64) *problem) {
	boards, left := greedy(rest, decreasing)
	own.record(rest, nil, boards, left)
	s.steps.share(60, func() {
		own.mix(rest)
		own.improve(rest, narrow)
	})
	if own.best != nil {
		s.record(p, fixed, own.best, &problem{})
	}
}

// approach moves pieces between boards while the relaxation is not solved, which takes long where it has many rows. That soon comes
// within a unit of a bound that is any good; where it does not, the bound is worked on first.
func (s *search) approach(r *relaxation, w *swaps) {
	r.known = s.lower
	s.relaxFurther(r, 10)
	w.run(20, s.near())
	if s.goal() >= s.near() {
		s.relaxFurther(r, 60)
	}
	w.run(40, s.near())
	r.known, r.solved = 0, false
}

// near is the most that a plan of the proved bound, or of one unit more, may cost.
func (s *search) near() int64 { return s.lower + 2*s.unit - 1 }

// relaxFurther spends a percentage of the steps on the relaxation and takes its bound.
func (s *search) relaxFurther(r *relaxation, percent int) {
	if !s.done() {
		r.solve(s.goal()+1, percent)
		s.raise(r.p, r.proof.bound(r.p))
	}
}

// complete looks for better plans by completing one board after another until there are none.
func (s *search) complete(p *problem, narrow func(*problem, int64) *problem, root proof) {
	for !s.done() {
		goal := min(s.goal(), p.dearestPlan())
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
			s.lower = s.goal() + 1
		}
	}
}

// raise takes a proved bound. One beyond what all the stock costs says that no plan is complete. What it is beyond whole units
// is more than the slack only where a further unit is needed.
func (s *search) raise(p *problem, bound int64) {
	if bound > p.dearestPlan() {
		bound = math.MaxInt64
	} else if over := bound % s.unit; over > s.slack {
		bound += s.unit - over
	} else {
		bound -= over
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
