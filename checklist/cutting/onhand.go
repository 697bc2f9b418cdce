package cutting

import (
	"cmp"
	"math"
	"slices"

	"newelbook/checklist/length"
)

// planOnHand plans with boards on hand: the fewest boards bought first, the least length bought second, and few of those on hand
// where that changes neither. It puts the plan and what is proved of it into the result.
//
// Both steps are one search over a cost that counts in that order: a board to be bought costs so much that no number of
// boards on hand, which cost 1 each, makes up for it.
func (o *order) planOnHand(res *Result, before outcome, steps *budget) outcome {
	hand := int64(o.onHand())
	bought := (hand + 1) * roundsUp
	p := o.priced(func(k kind) int64 { return bought }, true)
	s := newSearch(steps)
	s.unit, s.slack = bought, hand
	s.raise(p, bought*o.leastBought(p))
	for _, f := range []fill{decreasing, fullest(tries(p), steps)} {
		plan, rest := o.handFirst(p, f)
		if s.record(p, nil, plan, rest); s.done() {
			break
		}
	}
	s.resume(p, before, bought)
	s.boundByGroups(p)
	narrow := o.atMostBought(bought, hand)
	o.buyRest(s, p, narrow)
	s.relaxWhole(p, narrow)
	steps.share(60, func() { s.improve(p, narrow) })
	out := s.outcome()
	if !out.complete {
		res.Optimal, res.LeastStock, out.bound = false, false, 0
		o.deal(res, out.plan)
		return out
	}
	out.bound /= bought
	res.Bound, res.Optimal = int(out.bound), out.proved
	plan := o.settled(p, out.plan)
	if boards := s.cost / bought; boards > 0 {
		plan = o.leastBoughtLength(res, plan, boards, steps)
	}
	o.deal(res, plan)
	res.Optimal = res.New == res.Bound // the second step may have found fewer boards than the first
	return out
}

// buyRest fills the boards on hand and plans what is left as if there were none, where that is many boards: those on hand, each of a
// length of its own, then make nothing slow.
func (o *order) buyRest(s *search, p *problem, narrow func(*problem, int64) *problem) {
	plan, rest := o.onHandAlone(p, fullest(fullestTries, s.steps))
	if s.done() || boardsOf(rest) < 2*reworkBoards {
		return
	}
	b := newSearch(s.steps)
	b.unit, b.lower = s.unit, s.lower-s.lower%s.unit
	s.planRest(p, plan, rest, b, narrow)
}

// roundsUp is how many times dearer a bought board is than all those on hand: what a bound is beyond whole bought boards, if only by
// one in so many, then tells that one more must be bought.
const roundsUp = 1_000

// priced is the order as a problem in which a bought board costs as given and one on hand costs 1. With longest alone, stock to
// be bought that is shorter than some that never runs out is left aside: a longer board always does as well.
func (o *order) priced(cost func(kind) int64, longestAlone bool) *problem {
	p := o.problem(true)
	aside := false
	for c, k := range o.kinds {
		switch {
		case k.onHand:
			p.class[c].cost = 1
		case aside:
			p.class[c].cost, p.class[c].count = cost(k), 0
		default:
			p.class[c].cost = cost(k)
			aside = longestAlone && p.class[c].count == unlimited
		}
	}
	return p
}

// leastBought is a proved bound on the boards to buy: for what the boards on hand cannot hold even if they were filled.
func (o *order) leastBought(p *problem) int64 {
	left, room := p.volume(), int64(0)
	for c, k := range o.kinds {
		class := p.class[c]
		if !k.onHand {
			room = max(room, class.room)
		} else if int64(class.count) > left/class.room {
			return 0
		} else {
			left -= int64(class.count) * class.room
		}
	}
	if left <= 0 || room == 0 {
		return 0
	}
	return over(left, room)
}

// onHandAlone fills the boards on hand, and gives what is left to be cut from those to be bought alone.
func (o *order) onHandAlone(p *problem, f fill) ([]repeat, *problem) {
	q := p.clone()
	for c, k := range o.kinds {
		if !k.onHand {
			q.class[c].count = 0
		}
	}
	plan, rest := greedy(q, f)
	for c, k := range o.kinds {
		if k.onHand {
			rest.class[c].count = 0
		} else {
			rest.class[c].count = p.class[c].count
		}
	}
	return plan, rest
}

// handFirst fills the boards on hand and then those to be bought.
func (o *order) handFirst(p *problem, f fill) ([]repeat, *problem) {
	plan, rest := o.onHandAlone(p, f)
	more, rest := greedy(rest, f)
	return slices.Concat(plan, more), rest
}

// atMostBought narrows a problem to the boards that a goal's cost can buy, and those on hand.
func (o *order) atMostBought(bought, hand int64) func(*problem, int64) *problem {
	return func(p *problem, goal int64) *problem {
		q := p.clone()
		q.most = int(min(int64(p.most), goal/bought+hand))
		for c, k := range o.kinds {
			if !k.onHand {
				q.class[c].count = int(min(int64(q.class[c].count), goal/bought))
			}
		}
		return q
	}
}

// leastBoughtLength finds the plan that buys the least length among those that buy no more than so many boards.
func (o *order) leastBoughtLength(res *Result, plan []repeat, boards int64, steps *budget) []repeat {
	hand, unit := int64(o.onHand()), o.boughtUnit()
	long := int64(0)
	for _, k := range o.kinds {
		if !k.onHand {
			long = max(long, int64(k.length/unit))
		}
	}
	// A unit of length outweighs all the boards on hand, and a board all the length that so many boards can have.
	inUnit := hand + 1
	if boards > math.MaxInt32/inUnit/long {
		res.LeastStock = false // beyond what the numbers hold
		return plan
	}
	board := inUnit * (boards*long + 1)
	p := o.priced(func(k kind) int64 { return board + inUnit*int64(k.length/unit) }, false)
	s := newSearch(steps)
	s.unit, s.slack = inUnit, hand
	if res.Optimal {
		s.lower = boards * board
	}
	s.record(p, nil, o.settled(p, plan), &problem{})
	s.improve(p, o.atMostBought(board, hand))
	out := s.outcome()
	res.StockBound = length.Length(max(0, out.bound-s.cost/board*board)/inUnit) * unit
	res.LeastStock = out.proved
	return o.settled(p, out.plan)
}

// boughtUnit is the longest length that all the stock to be bought is a whole number of.
func (o *order) boughtUnit() length.Length {
	bought := order{kinds: slices.DeleteFunc(slices.Clone(o.kinds), func(k kind) bool { return k.onHand })}
	return bought.unit()
}

// settled puts each board of a plan on the cheapest stock that holds it, and of such as are on hand on the shortest. Those on
// hand choose first, then the fullest: what holds them holds any other.
func (o *order) settled(p *problem, plan []repeat) []repeat {
	plan = slices.Clone(plan)
	slices.SortStableFunc(plan, func(a, b repeat) int {
		if ha, hb := o.kinds[a.class].onHand, o.kinds[b.class].onHand; ha != hb {
			if ha {
				return -1
			}
			return 1
		}
		return cmp.Compare(p.length(b.pattern), p.length(a.pattern))
	})
	left := p.clone()
	var out []repeat
	for _, r := range plan {
		for r.times > 0 {
			best := -1
			for c, class := range left.class {
				if class.count > 0 && class.room >= p.length(r.pattern) && (best < 0 || class.cost <= left.class[best].cost) {
					best = c
				}
			}
			times := min(r.times, left.class[best].count)
			if left.class[best].count != unlimited {
				left.class[best].count -= times
			}
			r.times -= times
			out = append(out, repeat{pattern{best, r.uses}, times})
		}
	}
	return out
}
