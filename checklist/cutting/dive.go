package cutting

import (
	"math"
	"slices"
)

const (
	endPieces = 45     // pieces at which a dive is finished by completing boards
	endTries  = 20_000 // steps of that
	siblings  = 8      // patterns tried at one place of a dive
	diveSolve = 20     // percent of the steps left that one relaxation of a dive may spend
)

// dives repeats the dive with more and more departures from the relaxation's first choice. Root is the relaxation of p,
// or nil.
func (s *search) dives(root *relaxation, p *problem) {
	for departures := 0; departures < 64 && !s.done(); departures++ {
		s.dive(root, p, nil, 0, departures)
	}
}

// dive makes a plan out of the relaxation: it cuts the whole part of each pattern, or else one board of the pattern
// nearest to whole, and relaxes what is left, as long as that can beat the best plan. Above is the relaxation one place
// further up. A dive that cannot win at once is no departure, and reports false.
//
// The test for that uses the relaxation's floating-point value: a dive may miss a plan, and proves nothing.
func (s *search) dive(above *relaxation, p *problem, fixed []repeat, spent int64, departures int) (tried bool) {
	boards, rest := greedy(p, decreasing)
	if s.record(p, fixed, boards, rest); s.done() || rest.pieces() == p.pieces() {
		return true
	}
	r := s.relax(above, p)
	r.solve(s.goal()+1-spent, diveSolve)
	if r.solved && math.Ceil(r.value()-float64(1e-5*float64(r.dearest))) > float64(s.goal()-spent) {
		return false
	}
	if s.finish(p, fixed, spent, r.proof) || s.done() {
		return true
	}
	patterns, times := r.patterns()
	cut, rest := p.whole(patterns, times)
	if cut != nil {
		return s.dive(r, rest, slices.Concat(fixed, cut), spent+p.cost(cut), departures)
	}
	for i, pt := range patterns {
		if i >= siblings || departures < 0 || s.done() {
			break
		}
		if p.fits(pt) == 0 {
			continue
		}
		cut := []repeat{{pt, 1}}
		if s.dive(r, p.without(pt, 1), slices.Concat(fixed, cut), spent+p.cost(cut), departures) {
			tried = true
			departures--
		}
	}
	return tried
}

// relax is the relaxation of p, begun where the one above ended unless that has many more sizes.
func (s *search) relax(above *relaxation, p *problem) *relaxation {
	if above != nil && 2*p.sizes() > above.sizes {
		if r := above.after(p); r != nil {
			return r
		}
	}
	r := newRelaxation(p, &s.pool, s.steps)
	r.begin()
	return r
}

// finish completes a problem of few pieces board by board. It reports whether that settled it.
func (s *search) finish(p *problem, fixed []repeat, spent int64, f proof) bool {
	if p.pieces() > endPieces || s.cost == math.MaxInt64 {
		return false
	}
	for {
		c := newCompletion(p.clone(), s.goal()-spent, f, s.steps, endTries)
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
