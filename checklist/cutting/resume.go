package cutting

import (
	"math"
	"slices"
)

// after is the relaxation of what is left of the problem, p, once some boards are cut, begun where this one ended. Prices
// still suit: only the amounts have changed, and where one has fallen below nothing the dual simplex method repairs it.
// Patterns that no longer fit what is left are then priced out. It returns nil where that does not work.
func (r *relaxation) after(p *problem) *relaxation {
	n := *r
	n.p, n.proof, n.solved = p, proof{}, false
	n.inverse, n.y, n.basis = slices.Clone(r.inverse), slices.Clone(r.y), slices.Clone(r.basis)
	n.table = r.table.of(p)
	n.amounts()
	n.find()
	for limit := 4 * n.rows; ; limit-- {
		out, least := -1, -1e-7
		for i, x := range n.x {
			if x < least {
				out, least = i, x
			}
		}
		if out < 0 {
			break
		}
		if limit == 0 || n.steps.out() || !n.repair(out) {
			return nil
		}
	}
	n.reprice()
	return &n
}

// amounts works out what the basis columns are worth for the problem as it is.
func (r *relaxation) amounts() {
	b := r.right()
	r.x = make([]float64, r.rows)
	for i := range r.x {
		row := r.inverse[i*r.rows : (i+1)*r.rows]
		for j, v := range row {
			r.x[i] += float64(v * b[j])
		}
	}
	r.steps.spend(1 + r.rows*r.rows/64)
}

// repair puts the column whose price suffers least in the place of one whose amount is below nothing.
func (r *relaxation) repair(out int) bool {
	row := r.inverse[out*r.rows : (out+1)*r.rows]
	var best column
	bestRate, found := math.Inf(1), false
	try := func(c column, n float64) {
		if n > -1e-9 {
			return
		}
		if rate := max(0, r.reduced(c)) / -n; rate < bestRate {
			best, bestRate, found = c, rate, true
		}
	}
	for i, v := range row {
		if i < r.sizes {
			try(column{leftOut, i}, v)
			v = -v
		}
		try(column{spare, i}, v)
	}
	for _, i := range r.open {
		try(column{cutting, i}, r.across(row, &(*r.pool)[i]))
	}
	if !found {
		return false
	}
	change := r.change(best)
	if change[out] > -1e-9 {
		return false
	}
	r.exchange(best, out, change, r.x[out]/change[out])
	return true
}

// reprice works the prices out anew, with those patterns dear that no longer fit.
func (r *relaxation) reprice() {
	clear(r.y)
	for i, b := range r.basis {
		cost := r.price(b)
		if cost == 0 {
			continue
		}
		for j, v := range r.inverse[i*r.rows : (i+1)*r.rows] {
			r.y[j] += float64(cost * v)
		}
	}
	r.steps.spend(1 + r.rows*r.rows/64)
}
