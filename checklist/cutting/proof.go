package cutting

import (
	"math"
	"math/big"
	"math/bits"
)

// proof is a lower bound on the cost of a problem in whole numbers, the dual of the relaxation. Every piece has a price, no
// board of a class can hold pieces worth more than the class's cost + limit[class] + most, and cost is counted as scale for the
// dearest. Then the pieces needed, less limit for each board there is and most for each board allowed, are worth no
// more than any plan costs. It holds for fewer pieces and fewer boards too, which is how the search uses it.
type proof struct {
	price   []int64 // of each size
	limit   []int64 // of each class; zero for one that never runs out
	most    int64
	dearest int64
}

// worth is the bound for what is left of the problem, in scaled cost.
func (f *proof) worth(p *problem) int64 {
	var total int64
	for i, n := range p.need {
		total += int64(n) * f.price[i]
	}
	for c, l := range f.limit {
		if l > 0 {
			total -= int64(p.class[c].count) * l
		}
	}
	if f.most > 0 {
		total -= int64(p.most) * f.most
	}
	return total
}

// bound is the bound in the problem's cost, rounded up; zero where there is no proof.
func (f *proof) bound(p *problem) int64 {
	if f.price == nil {
		return 0
	}
	worth := f.worth(p)
	if worth <= 0 {
		return 0
	}
	cost := new(big.Int).Mul(big.NewInt(worth), big.NewInt(f.dearest))
	cost.Add(cost, big.NewInt(scale-1)).Rsh(cost, 32)
	if !cost.IsInt64() {
		return math.MaxInt64
	}
	return cost.Int64()
}

// prices are the whole prices of the rows as they stand.
func (r *relaxation) prices() proof {
	f := proof{price: make([]int64, len(r.p.size)), limit: make([]int64, len(r.p.class)), dearest: r.dearest}
	whole := func(y float64) int64 { return int64(min(max(0, y*scale), maxPrice)) }
	for i, row := range r.sizeRow {
		if row >= 0 {
			f.price[i] = whole(r.y[row])
		}
	}
	for c, row := range r.classRow {
		if row >= 0 {
			f.limit[c] = whole(-r.y[row])
		}
	}
	if r.mostRow >= 0 {
		f.most = whole(-r.y[r.mostRow])
	}
	return f
}

// makeColumns looks for patterns that are worth more than they cost at the prices as they stand, adds them to the pool,
// all of them or the best of each class, or by the table where there is one, and keeps the proof that the prices give if it is the best yet. It reports whether it
// found any.
func (r *relaxation) makeColumns(all bool) bool {
	if r.table != nil {
		return r.byTable()
	}
	f := r.prices()
	s := newShop(r.p, f.price, r.steps)
	worth := make([]int64, len(r.p.class)) // more than which no board of the class holds
	var found []pattern
	last, lastWorth := int64(0), int64(0) // the length of the best pattern so far when it is known to be the best
	for c, class := range r.p.class {
		if class.count == 0 {
			continue
		}
		floor := r.cost[c] + f.limit[c] + f.most + worthwhile
		if last > 0 && last <= class.room {
			worth[c] = max(floor, lastWorth)
			if lastWorth > floor {
				best := found[len(found)-1]
				found = append(found, pattern{c, best.uses})
			}
			continue
		}
		made, atMost := s.best(c, class.room, floor, priceTries)
		if !all {
			made = made[max(0, len(made)-1):]
		}
		found, worth[c], last = append(found, made...), atMost, 0
		if len(made) > 0 && !s.cut {
			last, lastWorth = r.p.length(made[len(made)-1]), atMost
		}
	}
	r.keep(f, worth)
	r.add(found)
	return len(found) > 0
}

// add adds patterns to the pool.
func (r *relaxation) add(found []pattern) {
	for _, pt := range found {
		r.open = append(r.open, len(*r.pool))
		*r.pool = append(*r.pool, pt)
	}
}

// keep makes a proof of prices and of what boards are worth at most at them, and keeps it if it is the best yet.
func (r *relaxation) keep(f proof, worth []int64) {
	if r.mostRow >= 0 {
		for c, class := range r.p.class {
			if class.count == unlimited {
				f.most = max(f.most, worth[c]-r.cost[c])
			}
		}
	} else {
		num, den := int64(1), int64(1)
		for c, class := range r.p.class {
			if class.count == unlimited && float64(worth[c])/float64(r.cost[c]) > float64(den)/float64(num) {
				num, den = r.cost[c], worth[c]
			}
		}
		shrink(f.price, num, den)
		shrink(worth, num, den)
		for c, class := range r.p.class {
			if class.count == unlimited && worth[c] > r.cost[c] {
				return
			}
		}
	}
	sum := f.most
	for c, class := range r.p.class {
		f.limit[c] = 0
		if class.count != unlimited && class.count > 0 {
			f.limit[c] = max(0, worth[c]-r.cost[c]-f.most)
		}
		// Each count is at most MaxPieces, so that the sums of worth stay within the type.
		if sum += f.limit[c]; sum > 1<<40 {
			return
		}
	}
	if r.proof.price == nil || f.worth(r.p) > r.proof.worth(r.p) {
		r.proof = f
	}
}

// shrink multiplies whole numbers by num/den, at most 1, rounding down.
func shrink(values []int64, num, den int64) {
	if num == den {
		return
	}
	for i, v := range values {
		values[i] = mulDiv(v, num, den)
	}
}

// mulDiv is a x num / den rounded down, for numbers of zero and more whose result fits.
func mulDiv(a, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(num))
	q, _ := bits.Div64(hi, lo, uint64(den))
	return int64(q)
}

// mulDivUp is the same rounded up.
func mulDivUp(a, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(num))
	q, rest := bits.Div64(hi, lo, uint64(den))
	if rest > 0 {
		q++
	}
	return int64(q)
}
