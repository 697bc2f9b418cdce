package cutting

import "math"

const (
	// scale is the whole number that prices count the dearest board as.
	scale = 1 << 32
	// maxRows is the most rows of a relaxation: its inverse is held in full.
	maxRows = 500
	// small is the reduced cost, in dearest boards, below which a column is not worth entering.
	small = 1e-8
	// worthwhile is a little more than that in whole prices, which a new pattern must be worth beyond its cost.
	worthwhile = 64
	// priceTries is the most steps of one knapsack.
	priceTries = 400_000
)

// relaxation is the cutting-pattern relaxation of Gilmore and Gomory: the cheapest cover of the pieces by patterns, each
// cut a number of times that need not be whole. It is solved by the revised simplex method with columns made as needed.
//
// The floating-point numbers in it only guide. What is concluded is a proof, from whole prices and an exact knapsack. Each
// product is converted before it is added, which forbids a fused multiply-add: the numbers are the same on every machine.
type relaxation struct {
	p     *problem
	steps *budget
	pool  *[]pattern // patterns made so far, shared by all relaxations of one search
	open  []int      // those of the pool that suit this problem

	rows     int
	sizes    int   // rows of sizes; they come first
	sizeRow  []int // row of each size, -1 when none is needed
	classRow []int // row of each class, -1 when it never runs out or is empty
	mostRow  int   // row of the number of boards, -1 when it is not limited
	cost     []int64
	dearest  int64 // cost of the dearest class; cost holds scale times each class's share of it

	inverse []float64 // rows x rows, of the basis
	x, y    []float64 // what the basis is worth, and the price of each row
	basis   []column

	proof proof
}

// column is what can be in the basis: a pattern of the pool, or the spare of a row, or what a row leaves out.
type column struct {
	kind  columnKind
	index int // in the pool, or the row
}

type columnKind int

const (
	leftOut columnKind = iota // pieces not cut, at a high price
	spare                     // pieces over, or boards left
	cutting                   // a pattern
)

// entry is one number of a column.
type entry struct {
	row int
	n   float64
}

// newRelaxation sets out with every piece left out.
func newRelaxation(p *problem, pool *[]pattern, steps *budget) *relaxation {
	r := &relaxation{p: p, steps: steps, pool: pool, mostRow: -1, sizeRow: make([]int, len(p.size)), classRow: make([]int, len(p.class))}
	for i, n := range p.need {
		r.sizeRow[i] = -1
		if n > 0 {
			// The pieces are increased by different tiny amounts, or equal counts would make steps that change nothing.
			r.addRow(leftOut, &r.sizeRow[i], float64(n)+float64(1+i*7919%101)*1e-8)
		}
	}
	r.sizes = r.rows
	for c := range p.class {
		r.classRow[c] = -1
		r.dearest = max(r.dearest, p.class[c].cost)
		if n := p.class[c].count; n > 0 && n != unlimited {
			r.addRow(spare, &r.classRow[c], float64(n))
		}
	}
	if p.most != unlimited {
		r.addRow(spare, &r.mostRow, float64(p.most))
	}
	for c := range p.class {
		r.cost = append(r.cost, mulDiv(p.class[c].cost, scale, r.dearest))
	}
	for i, pt := range *pool {
		if p.fits(pt) > 0 {
			r.open = append(r.open, i)
		}
	}
	return r
}

// invert makes the inverse of the first basis, which is that of every row alone, and its prices.
func (r *relaxation) invert() {
	r.inverse = make([]float64, r.rows*r.rows)
	r.y = make([]float64, r.rows)
	for i, b := range r.basis {
		r.inverse[i*r.rows+i] = 1
		r.y[i] = r.price(b)
	}
}

// addRow adds a row with its first basis column and its right-hand side.
func (r *relaxation) addRow(kind columnKind, at *int, b float64) {
	*at = r.rows
	r.basis = append(r.basis, column{kind, r.rows})
	r.x = append(r.x, b)
	r.rows++
}

// price is the cost of a column in dearest boards.
func (r *relaxation) price(c column) float64 {
	switch c.kind {
	case cutting:
		return float64(r.cost[(*r.pool)[c.index].class]) / scale
	case leftOut:
		return r.penalty()
	}
	return 0
}

// penalty is the price of leaving out a piece. Where boards are limited a piece may be worth several boards; where they
// are not it is never worth more than one.
func (r *relaxation) penalty() float64 {
	if r.rows > r.sizes {
		return maxPrice / scale
	}
	return 2
}

// maxPrice is the highest whole price of a piece.
const maxPrice = 1024 * scale

// entries are the numbers of a column by row.
func (r *relaxation) entries(c column, into []entry) []entry {
	into = into[:0]
	if c.kind != cutting {
		n := 1.0
		if c.kind == spare && c.index < r.sizes {
			n = -1
		}
		return append(into, entry{c.index, n})
	}
	pt := (*r.pool)[c.index]
	for _, u := range pt.uses {
		into = append(into, entry{r.sizeRow[u.size], float64(u.n)})
	}
	if row := r.classRow[pt.class]; row >= 0 {
		into = append(into, entry{row, 1})
	}
	if r.mostRow >= 0 {
		into = append(into, entry{r.mostRow, 1})
	}
	return into
}

// reduced is the reduced cost of a column.
func (r *relaxation) reduced(c column, entries []entry) float64 {
	cost := r.price(c)
	for _, e := range entries {
		cost -= float64(r.y[e.row] * e.n)
	}
	return cost
}

// value is the cost of the relaxation as it stands, in the problem's cost.
func (r *relaxation) value() float64 {
	total := 0.0
	for i, b := range r.basis {
		total += float64(r.price(b) * r.x[i])
	}
	return total * float64(r.dearest)
}

// solve improves the relaxation until it is solved, until its proof reaches the goal or the rounded-up value, beyond
// which nothing can be learned, or until the steps run out.
func (r *relaxation) solve(goal int64) {
	for !r.steps.out() {
		c, ok := r.entering()
		if !ok {
			more := r.makeColumns()
			b := r.proof.bound(r.p)
			if !more || b >= goal || float64(b) >= r.value()-1e-6*float64(r.dearest) {
				return
			}
			if c, ok = r.entering(); !ok {
				return
			}
		}
		if !r.pivot(c) {
			return
		}
	}
}

// entering is the known column of the least reduced cost, if that is less than nothing.
func (r *relaxation) entering() (best column, ok bool) {
	least := -small
	for row, y := range r.y {
		cost := -y
		if row < r.sizes {
			cost = y
		}
		if cost < least {
			least, best, ok = cost, column{spare, row}, true
		}
	}
	var buffer [64]entry
	for _, i := range r.open {
		c := column{cutting, i}
		if cost := r.reduced(c, r.entries(c, buffer[:0])); cost < least {
			least, best, ok = cost, c, true
		}
	}
	return best, ok
}

// pivot brings a column into the basis. It reports whether that was possible.
func (r *relaxation) pivot(c column) bool {
	m := r.rows
	r.steps.spend(1 + m*m/64)
	entries := r.entries(c, nil)
	change := make([]float64, m)
	for i := range change {
		for _, e := range entries {
			change[i] += float64(r.inverse[i*m+e.row] * e.n)
		}
	}
	out, least := -1, math.Inf(1)
	for i, d := range change {
		if d <= 1e-9 {
			continue
		}
		ratio := max(0, r.x[i]) / d
		if ratio < least-1e-12 || ratio <= least+1e-12 && d > change[out] {
			out, least = i, ratio
		}
	}
	if out < 0 {
		return false
	}
	reduced := r.reduced(c, entries)
	leaving := r.inverse[out*m : out*m+m]
	for j := range leaving {
		leaving[j] /= change[out]
	}
	for i := range r.basis {
		if i == out || change[i] == 0 {
			continue
		}
		row := r.inverse[i*m : i*m+m]
		for j, v := range leaving {
			row[j] -= float64(change[i] * v)
		}
		r.x[i] -= float64(change[i] * least)
	}
	for j, v := range leaving {
		r.y[j] += float64(reduced * v)
	}
	r.x[out], r.basis[out] = least, c
	return true
}
