package cutting

// wholeRows is what the cube of the rows of a relaxation is divided by for the least steps that it may take, about.
const wholeRows = 50

// relaxWhole relaxes a problem of many pieces as a whole, begun from the best plan, where that is more than a unit over its bound and there
// are steps enough. Few rows are relaxed without that to begin with, and by the table once that has not come to a proof: a length that is nearly
// all of the pieces makes the knapsack long to search. It takes the bound, and where that proves nothing the whole boards of each pattern as a new plan, with what they leave
// planned by itself.
func (s *search) relaxWhole(p *problem, narrow func(*problem, int64) *problem) {
	r := newRelaxation(p, &s.pool, s.steps)
	if s.done() || s.goal() < s.near() || r.rows <= fewRows && !s.resumed || r.rows*r.rows/wholeRows*r.rows > s.steps.limit-s.steps.used {
		return
	}
	if r.table = newTable(p); r.table == nil {
		return
	}
	for _, b := range s.best {
		s.pool = append(s.pool, b.pattern)
	}
	r.begin()
	if s.relaxFurther(r, 80); !s.done() && r.solved {
		s.roundDown(r, narrow)
	}
}

// roundDown takes the whole boards of each pattern of a relaxation, and plans what is left by itself.
func (s *search) roundDown(r *relaxation, narrow func(*problem, int64) *problem) {
	cut, rest := r.p.whole(r.patterns())
	cost := r.p.cost(cut)
	b := newSearch(s.steps)
	b.unit, b.slack, b.lower = s.unit, s.slack, s.lower-cost+cost%s.unit
	s.planRest(r.p, cut, rest, b, narrow)
}

// whole cuts the whole boards of patterns that are cut a number of times which need not be whole, and gives what is left.
func (p *problem) whole(patterns []pattern, times []float64) (cut []repeat, rest *problem) {
	rest = p.clone()
	for i, pt := range patterns {
		if n := min(int(times[i]+1e-3), rest.fits(pt)); n > 0 {
			rest.take(pt, n)
			cut = append(cut, repeat{pt, n})
		}
	}
	return cut, rest
}
