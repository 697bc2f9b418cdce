package cutting

import "slices"

// groupsMost is the number of groups that a problem of too many sizes for a relaxation is reduced to.
const groupsMost = 120

// groups are sizes taken together, by the index where each group starts, with about as many pieces in each (linear grouping,
// Fernandez de la Vega and Lueker, "Bin packing can be solved within 1 + epsilon in linear time", Combinatorica 1, 1981).
type groups struct {
	p     *problem
	first []int
}

// group divides the sizes of a problem.
func group(p *problem) groups {
	g := groups{p: p}
	total, seen := p.pieces(), 0
	for i, n := range p.need {
		if seen*groupsMost >= len(g.first)*total {
			g.first = append(g.first, i)
		}
		seen += n
	}
	return g
}

// problem is the problem with every piece as long as the longest of its group, or as the shortest. A plan for the first
// serves the real pieces; a bound for the second holds for them.
func (g groups) problem(longest bool) *problem {
	q := &problem{class: slices.Clone(g.p.class), most: g.p.most}
	for i, first := range g.first {
		end := len(g.p.size)
		if i+1 < len(g.first) {
			end = g.first[i+1]
		}
		size := g.p.size[end-1]
		if longest {
			size = g.p.size[first]
		}
		need := 0
		for _, n := range g.p.need[first:end] {
			need += n
		}
		q.size, q.need = append(q.size, size), append(q.need, need)
	}
	return q
}

// plan turns a plan of groups into one of the real pieces, dealing those of each group in turn.
func (g groups) plan(plan []repeat) []repeat {
	need, next := slices.Clone(g.p.need), slices.Clone(g.first)
	var out []repeat
	for _, r := range plan {
		for range r.times {
			pt := pattern{class: r.class}
			for _, u := range r.uses {
				for left := u.n; left > 0; {
					i := next[u.size]
					n := min(left, need[i])
					if n > 0 {
						pt.uses = append(pt.uses, use{i, n})
					}
					if left, need[i] = left-n, need[i]-n; need[i] == 0 {
						next[u.size]++
					}
				}
			}
			out = append(out, repeat{pt, 1})
		}
	}
	return joined(out)
}

// improveByGroups finds a bound and a plan by way of groups.
func (s *search) improveByGroups(p *problem) {
	g := group(p)
	short := g.problem(false)
	start := newSearch(s.steps)
	boards, rest := greedy(short, decreasing)
	start.record(short, nil, boards, rest)
	r := newRelaxation(short, &start.pool, s.steps)
	r.begin()
	r.solve(s.cost, 40)
	s.raise(p, r.proof.bound(short))
	long := newSearch(s.steps)
	long.lower = s.lower
	q := g.problem(true)
	boards, rest = greedy(q, decreasing)
	long.record(q, nil, boards, rest)
	s.steps.share(60, func() { long.dives(nil, q) })
	if long.best != nil {
		s.record(p, nil, g.plan(long.best), &problem{})
	}
}
