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

	proof  proof
	known  int64 // a bound on the cost known otherwise
	look   int   // steps at which new patterns are looked for
	solved bool
	table  *table // by which patterns are found first; nil where they are not
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
			r.sizeRow[i] = r.addRow(leftOut)
		}
	}
	r.sizes = r.rows
	for c, class := range p.class {
		r.classRow[c] = -1
		r.dearest = max(r.dearest, class.cost)
		if class.count > 0 && class.count != unlimited {
			r.classRow[c] = r.addRow(spare)
		}
	}
	if p.most != unlimited {
		r.mostRow = r.addRow(spare)
	}
	for _, class := range p.class {
		r.cost = append(r.cost, mulDiv(class.cost, scale, r.dearest))
	}
	return r
}

// addRow adds a row with its first basis column.
func (r *relaxation) addRow(kind columnKind) int {
	r.basis = append(r.basis, column{kind, r.rows})
	r.rows++
	return r.rows - 1
}

// begin makes the inverse of the first basis, which is that of every row alone.
func (r *relaxation) begin() {
	r.inverse = make([]float64, r.rows*r.rows)
	r.y = make([]float64, r.rows)
	r.x = r.right()
	for i, b := range r.basis {
		r.inverse[i*r.rows+i] = 1
		r.y[i] = r.price(b)
	}
	r.find()
}

// right is the right-hand sides: pieces needed, boards there are. The pieces are increased by different tiny amounts, or
// equal counts would make steps that change nothing. The boards are increased by more than the sum of those, or they
// could run out.
func (r *relaxation) right() []float64 {
	const boardsOver = 0.01
	b := make([]float64, r.rows)
	for i, row := range r.sizeRow {
		if n := r.p.need[i]; row >= 0 && n > 0 {
			b[row] = float64(n) + float64(float64(1+i*7919%101)*1e-7)
		}
	}
	for c, row := range r.classRow {
		if row >= 0 {
			b[row] = float64(r.p.class[c].count) + boardsOver
		}
	}
	if r.mostRow >= 0 {
		b[r.mostRow] = float64(r.p.most) + boardsOver
	}
	return b
}

// find lists the patterns of the pool that fit the problem.
func (r *relaxation) find() {
	r.open = nil
	for i, pt := range *r.pool {
		if r.p.fits(pt) > 0 {
			r.open = append(r.open, i)
		}
	}
	r.steps.spend(len(*r.pool) / 16)
}

// price is the cost of a column in dearest boards. A pattern that does not fit the problem is as dear as what is left out.
func (r *relaxation) price(c column) float64 {
	switch c.kind {
	case cutting:
		if pt := (*r.pool)[c.index]; r.p.fits(pt) > 0 {
			return float64(r.cost[pt.class]) / scale
		}
		return r.penalty()
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
const maxPrice = 64 * scale

// entries are the numbers of a column by row.
func (r *relaxation) entries(c column) []entry {
	if c.kind != cutting {
		n := 1.0
		if c.kind == spare && c.index < r.sizes {
			n = -1
		}
		return []entry{{c.index, n}}
	}
	var into []entry
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
func (r *relaxation) reduced(c column) float64 {
	switch {
	case c.kind == cutting:
		return r.reducedCost(&(*r.pool)[c.index])
	case c.kind == leftOut:
		return r.penalty() - r.y[c.index]
	case c.index < r.sizes:
		return r.y[c.index]
	}
	return -r.y[c.index]
}

// reducedCost is the reduced cost of a pattern.
func (r *relaxation) reducedCost(pt *pattern) float64 {
	return float64(r.cost[pt.class])/scale - r.across(r.y, pt)
}

// across is the product of one number for each row with the column of a pattern.
func (r *relaxation) across(row []float64, pt *pattern) float64 {
	total := 0.0
	for _, u := range pt.uses {
		total += float64(row[r.sizeRow[u.size]] * float64(u.n))
	}
	if c := r.classRow[pt.class]; c >= 0 {
		total += row[c]
	}
	if r.mostRow >= 0 {
		total += row[r.mostRow]
	}
	return total
}

// value is the cost of the relaxation as it stands, in the problem's cost, without the tiny increases of the pieces: the
// worth of all rows at their prices.
func (r *relaxation) value() float64 {
	total := 0.0
	for i, row := range r.sizeRow {
		if row >= 0 {
			total += float64(r.y[row] * float64(r.p.need[i]))
		}
	}
	for c, row := range r.classRow {
		if row >= 0 {
			total += float64(r.y[row] * float64(r.p.class[c].count))
		}
	}
	if r.mostRow >= 0 {
		total += float64(r.y[r.mostRow] * float64(r.p.most))
	}
	return float64(total * float64(r.dearest))
}

// solve improves the relaxation until it is solved, until its proof or the known bound reaches the goal or the rounded-up value,
// beyond which nothing can be learned, or until it has spent the given percentage of the steps that are left.
func (r *relaxation) solve(goal int64, percent int) {
	r.steps.share(percent, func() {
		for !r.solved && !r.steps.out() {
			r.solved = r.advance(goal)
		}
	})
}

// advance takes one step and says whether it was the last. New patterns are looked for when no known one helps, and before that
// once the steps with known ones have cost twice the last look: where a look is cheap, a better pattern saves many of them. By a table as
// many are found at a time as there are sizes, which are used up first.
func (r *relaxation) advance(goal int64) bool {
	c, ok := r.entering()
	if !ok || r.table == nil && r.steps.used >= r.look {
		before := r.steps.used
		more := r.makeColumns(!ok)
		r.look = r.steps.used + 2*(r.steps.used-before)
		b := max(r.known, r.proof.bound(r.p))
		if !more && !ok || b >= goal || float64(b) >= r.value()-float64(1e-6*float64(r.dearest)) {
			return true
		}
		if c, ok = r.entering(); !ok {
			return true
		}
	}
	return !r.pivot(c)
}

// entering is the known column of the least reduced cost, if that is less than nothing.
func (r *relaxation) entering() (best column, ok bool) {
	least := -small
	for row := range r.y {
		c := column{spare, row}
		if cost := r.reduced(c); cost < least {
			least, best, ok = cost, c, true
		}
	}
	for _, i := range r.open {
		if cost := r.reducedCost(&(*r.pool)[i]); cost < least {
			least, best, ok = cost, column{cutting, i}, true
		}
	}
	return best, ok
}

// pivot brings a column into the basis. It reports whether that was possible.
func (r *relaxation) pivot(c column) bool {
	change := r.change(c)
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
	r.exchange(c, out, change, least)
	return true
}

// change is what one of a column takes from each basis column.
func (r *relaxation) change(c column) []float64 {
	m := r.rows
	entries := r.entries(c)
	change := make([]float64, m)
	for i := range change {
		for _, e := range entries {
			change[i] += float64(r.inverse[i*m+e.row] * e.n)
		}
	}
	return change
}

// exchange puts a column, so many times, in the place of the basis column out.
func (r *relaxation) exchange(c column, out int, change []float64, times float64) {
	m := r.rows
	reduced := r.reduced(c)
	leaving := r.inverse[out*m : out*m+m]
	var used []int
	for j := range leaving {
		if leaving[j] != 0 {
			leaving[j] /= change[out]
			used = append(used, j)
		}
	}
	work := 16 * len(r.open)
	for i := range r.basis {
		if i == out || change[i] == 0 {
			continue
		}
		work += len(used)
		row := r.inverse[i*m : i*m+m]
		for _, j := range used {
			row[j] -= float64(change[i] * leaving[j])
		}
		r.x[i] -= float64(change[i] * times)
	}
	for _, j := range used {
		r.y[j] += float64(reduced * leaving[j])
	}
	r.x[out], r.basis[out] = times, c
	r.steps.spend(1 + work/64)
}
