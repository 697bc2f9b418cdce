package cutting

import (
	"cmp"
	"slices"
)

const (
	reworkBoards = 80      // boards planned anew together, half of them the emptiest
	reworkSteps  = 150_000 // steps of one attempt at that
	reworkIdle   = 20      // times in a row that no board is saved before it is given up
)

// rework plans the emptiest boards of the best plan anew, together with some of the others, again and again. Of many boards those that
// were filled last hold what the others had no use for, and a few of the others give them something to exchange it for. Of many
// lengths what the boards have left is gathered on few of them first.
// It does so where a cost gives the boards, which that of lengths of stock does not.
func (s *search) rework(p *problem, narrow func(*problem, int64) *problem) {
	boards := expanded(s.best)
	if s.done() || len(boards) < 2*reworkBoards || narrow(p, s.goal()).dearestPlan() > s.goal() {
		return
	}
	if len(p.size) > manyRows {
		boards = s.gathered(p, boards)
	}
	boards = s.turns(p, boards, narrow)
	s.best = s.best[:0:0]
	for _, b := range boards {
		s.best = append(s.best, repeat{b, 1})
	}
}

// turns plans some boards anew in each turn, until that has saved none for a while.
func (s *search) turns(p *problem, boards []pattern, narrow func(*problem, int64) *problem) []pattern {
	left := func(b pattern) int64 { return p.class[b.class].room - p.length(b) }
	for turn, idle := 0, 0; !s.done() && idle < reworkIdle; turn++ {
		slices.SortStableFunc(boards, func(a, b pattern) int { return cmp.Compare(left(b), left(a)) })
		s.steps.spend(len(boards) / 8)
		for i := reworkBoards / 2; i < reworkBoards; i++ {
			other := i + (turn*7919+i*104729)%(len(boards)-i)
			boards[i], boards[other] = boards[other], boards[i]
		}
		made, saved := s.anew(p, boards[:reworkBoards], boards[reworkBoards:], narrow)
		if idle++; saved > 0 {
			idle, boards = 0, append(boards[reworkBoards:], made...)
			s.cost -= saved
		}
	}
	return boards
}

// expanded is each board of a plan by itself.
func expanded(plan []repeat) []pattern {
	var out []pattern
	for _, r := range plan {
		out = append(out, slices.Repeat([]pattern{r.pattern}, r.times)...)
	}
	return out
}

// anew plans boards anew beside those that are kept, and says what that saves; nothing where it finds no better ones. It tries for half
// of what the bound leaves to be saved, and for less where that fails.
func (s *search) anew(p *problem, boards, kept []pattern, narrow func(*problem, int64) *problem) (made []pattern, saved int64) {
	q, names := p.beside(boards, kept)
	s.steps.spend(len(kept) / 16)
	numbers := make([]int, len(p.size))
	for i, name := range names {
		numbers[name] = i
	}
	sub := newSearch(s.steps)
	sub.unit, sub.slack = s.unit, s.slack
	for _, b := range boards {
		sub.best = append(sub.best, repeat{b.renamed(numbers), 1})
	}
	sub.cost = q.cost(sub.best)
	keptCost := int64(0)
	for _, b := range kept {
		keptCost += p.class[b.class].cost
	}
	sub.raise(q, max(volumeBound(q), s.lower-keptCost))
	was := sub.cost
	w := swaps{search: sub, p: q, narrow: narrow}
	for save := ((was-sub.lower)/s.unit + 1) / 2; save > 0; save /= 2 {
		for before := int64(0); before != sub.cost && sub.cost-save*s.unit >= sub.lower; {
			before = sub.cost
			s.steps.within(reworkSteps, func() { w.run(100, before-save*s.unit) })
		}
	}
	if sub.cost == was {
		return nil, 0
	}
	for _, b := range expanded(sub.best) {
		made = append(made, b.renamed(names))
	}
	return made, was - sub.cost
}

// beside is the problem of cutting the pieces of some boards from what stock others leave, and which size of this problem each of its
// sizes is.
func (p *problem) beside(boards, others []pattern) (q *problem, names []int) {
	need := make([]int, len(p.size))
	for _, b := range boards {
		for _, u := range b.uses {
			need[u.size] += u.n
		}
	}
	q = &problem{class: slices.Clone(p.class), most: p.most}
	for i, n := range need {
		if n > 0 {
			names = append(names, i)
			q.size, q.need = append(q.size, p.size[i]), append(q.need, n)
		}
	}
	for _, b := range others {
		q.take(pattern{class: b.class}, 1)
	}
	return q, names
}

// renamed is the pattern with its sizes under other numbers.
func (pt pattern) renamed(numbers []int) pattern {
	uses := make([]use, len(pt.uses))
	for i, u := range pt.uses {
		uses[i] = use{numbers[u.size], u.n}
	}
	return pattern{pt.class, uses}
}

// volumeBound is about the least cost: of the boards that the pieces would fill were they sand, the cheapest for their room first. Order
// by floating-point numbers is good enough to say what to try for, not for a proof.
func volumeBound(p *problem) int64 {
	order := make([]int, len(p.class))
	for c := range order {
		order[c] = c
	}
	rate := func(c int) float64 { return float64(p.class[c].cost) / float64(p.class[c].room) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(a), rate(b)) })
	left, cost := p.volume(), int64(0)
	for _, c := range order {
		class := p.class[c]
		if n := int64(class.count); n < over(left, class.room) {
			cost += n * class.cost
			left -= n * class.room
			continue
		}
		return cost + mulDivUp(left, class.cost, class.room)
	}
	return cost
}
