package cutting

import (
	"math"
	"slices"
)

const (
	tablePieces = 1_000      // pieces up to which patterns are found without a table
	tableMost   = 10_000_000 // numbers of a table, of two bytes each
)

// table is the most that pieces are worth in each room up to that of the longest board, at given prices: a knapsack with a limited
// count of each size by dynamic programming, in units of which every size that is needed is a whole number. All of it is whole numbers.
type table struct {
	p     *problem
	unit  int64
	size  []int      // in units
	worth []int64    // in each number of units
	uses  [][]uint16 // of each size that has a price, how many are in a room of so many units, of what those before it leave
	order []int      // sizes that have a price
}

// newTable makes a table of a problem. It returns nil where pieces are few, and where the sizes that are needed have no unit that is long
// enough.
func newTable(p *problem) *table {
	if p.pieces() <= tablePieces {
		return nil
	}
	t := &table{p: p}
	for i, n := range p.need {
		if n > 0 {
			t.unit = divisor(t.unit, p.size[i])
		}
	}
	if rooms := p.class[0].room / max(1, t.unit); rooms > math.MaxUint16 || rooms*int64(p.sizes()) > tableMost {
		return nil
	}
	for _, size := range p.size {
		t.size = append(t.size, t.units(size))
	}
	t.worth, t.uses = make([]int64, t.units(p.class[0].room)+1), make([][]uint16, len(p.size))
	return t
}

// of is the table for what is left of its problem; nil where there is none.
func (t *table) of(p *problem) *table {
	if t == nil {
		return nil
	}
	rest := *t
	rest.p, rest.order = p, nil
	return &rest
}

// divisor is the greatest common divisor.
func divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// units is how many whole units a length has.
func (t *table) units(length int64) int { return int(length / t.unit) }

// fill works the table out at the prices given.
func (t *table) fill(price []int64, steps *budget) {
	clear(t.worth)
	t.order = t.order[:0]
	work := len(t.worth)
	for i, n := range t.p.need {
		if n == 0 || price[i] == 0 || t.size[i] >= len(t.worth) {
			continue
		}
		t.order = append(t.order, i)
		if t.uses[i] == nil {
			t.uses[i] = make([]uint16, len(t.worth))
		}
		clear(t.uses[i])
		passes := 1
		if n >= (len(t.worth)-1)/t.size[i] {
			t.any(i, price[i])
		} else {
			passes = t.atMost(i, n, price[i])
		}
		work += passes * (len(t.worth) - t.size[i])
	}
	steps.spend(1 + work/32)
}

// any puts as many of a size on boards as they hold.
func (t *table) any(i int, price int64) {
	size, uses := t.size[i], t.uses[i]
	for w := size; w < len(t.worth); w++ {
		if worth := t.worth[w-size] + price; worth > t.worth[w] {
			t.worth[w], uses[w] = worth, uses[w-size]+1
		}
	}
}

// atMost puts up to n of a size on boards: one, two, four at a time and so on. It says how many times it went through the rooms.
func (t *table) atMost(i, n int, price int64) (passes int) {
	uses := t.uses[i]
	for k := 1; n > 0; k *= 2 {
		k = min(k, n)
		n -= k
		size, more := k*t.size[i], int64(k)*price
		for w := len(t.worth) - 1; w >= size; w-- {
			if worth := t.worth[w-size] + more; worth > t.worth[w] {
				t.worth[w], uses[w] = worth, uses[w-size]+uint16(k)
			}
		}
		passes++
	}
	return passes
}

// fullest is the pieces that are worth most in a room, together with one of a size unless that is -1.
func (t *table) fullest(room int64, with int) []use {
	left := t.units(room)
	if with >= 0 {
		left -= t.size[with]
	}
	var uses []use
	for k := len(t.order) - 1; k >= 0; k-- {
		i := t.order[k]
		n := int(t.uses[i][left])
		left -= n * t.size[i]
		if i == with {
			n++
		}
		if n > 0 {
			uses = append(uses, use{i, n})
		}
	}
	slices.Reverse(uses)
	return uses
}

// byTable looks for patterns as makeColumns does, by the table: one with each size for boards that never run out, and one for each other
// class.
func (r *relaxation) byTable() bool {
	f := r.prices()
	r.table.fill(f.price, r.steps)
	worth := make([]int64, len(r.p.class))
	var found []pattern
	for c, class := range r.p.class {
		if class.count > 0 {
			worth[c] = r.table.worth[r.table.units(class.room)]
			found = append(found, r.fullest(c)...)
		}
	}
	r.keep(f, worth)
	slices.SortFunc(found, compare)
	found = slices.CompactFunc(found, func(a, b pattern) bool { return compare(a, b) == 0 })
	r.add(found)
	return len(found) > 0
}

// fullest is the patterns of a class by the table that are worth entering.
func (r *relaxation) fullest(c int) (found []pattern) {
	room := r.p.class[c].room
	add := func(with int) {
		pt := pattern{c, r.table.fullest(room, with)}
		if r.reducedCost(&pt) < -small && r.p.fits(pt) > 0 {
			found = append(found, pt)
		}
		r.steps.spend(1 + len(r.table.order)/32)
	}
	add(-1)
	if r.p.class[c].count == unlimited {
		for _, i := range r.table.order {
			if r.p.size[i] <= room {
				add(i)
			}
		}
	}
	return found
}
