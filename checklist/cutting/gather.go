package cutting

import (
	"cmp"
	"slices"
)

const (
	gatherDepth = 3     // boards that one step of gathering goes through at most
	gatherTries = 3_000 // boards looked at in one such step
)

// gathering makes boards quite full one after another, and leaves what they had left over on few of them, until that is whole boards. A
// piece or two of a board make way for one that is longer by just what is left of it, from a board that has more left. Where no such
// board holds that piece it comes from any other, which is then made as full as it was in the same way.
//
// Boards are never fewer for it, but those that are emptiest are then easily planned anew. It makes no use of chance.
type gathering struct {
	p      *problem
	boards []laid
	on     [][]int // boards that each size is on, rising
	spare  []bool  // classes whose boards are worth emptying
	tries  int     // that the step under way may still make
	steps  *budget
}

// gathered is the boards with what they have left gathered on few of those that cost a unit and more.
func (s *search) gathered(p *problem, boards []pattern) []pattern {
	g := gathering{p: p, on: make([][]int, len(p.size)), steps: s.steps}
	for _, c := range p.class {
		g.spare = append(g.spare, c.cost >= s.unit)
	}
	for k, b := range boards {
		g.boards = append(g.boards, laid{pattern: pattern{b.class, slices.Clone(b.uses)}, room: p.class[b.class].room - p.length(b)})
		for _, u := range b.uses {
			g.on[u.size] = append(g.on[u.size], k)
		}
	}
	for filled, of := 1, 1; filled*20 > of; {
		filled, of = g.pass()
	}
	made := make([]pattern, len(g.boards))
	for k, b := range g.boards {
		made[k] = b.pattern
	}
	return made
}

// pass goes through the boards that are not full, those with the least left first, and says how many of them it filled.
func (g *gathering) pass() (filled, of int) {
	var order []int
	for k, b := range g.boards {
		if b.room > 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(g.boards[a].room, g.boards[b].room) })
	g.steps.spend(len(g.boards) / 8)
	for _, k := range order {
		left := g.boards[k].room
		for depth := 1; depth <= gatherDepth && left > 0 && !g.steps.out(); depth++ {
			g.tries = gatherTries
			ok := g.fill(k, left, left, depth)
			g.steps.spend(1 + 2*(gatherTries-g.tries))
			if ok {
				filled++
				break
			}
		}
	}
	return filled, len(order)
}

// fill takes so much more onto a board, in the end from one that has at least so much left as given, by way of so many boards.
func (g *gathering) fill(k int, by, least int64, depth int) bool {
	uses := slices.Clone(g.boards[k].uses)
	for j, u := range uses {
		one := pick{1, [2]int{u.size}, g.p.size[u.size]}
		if g.replace(k, one, by, least, depth) {
			return true
		}
		for i, v := range uses[j:] {
			if i == 0 && u.n < 2 {
				continue
			}
			two := pick{2, [2]int{u.size, v.size}, one.sum + g.p.size[v.size]}
			if g.replace(k, two, by, least, depth) {
				return true
			}
		}
	}
	return false
}

// replace puts a piece that is longer by so much in the place of what is taken off a board.
func (g *gathering) replace(k int, out pick, by, least int64, depth int) bool {
	in := atMost(g.p.size, out.sum+by, 0)
	if in == len(g.p.size) || g.p.size[in] != out.sum+by {
		return false
	}
	if depth == 1 {
		from := g.emptiest(k, in, least)
		if from >= 0 {
			g.swap(k, from, out, in)
		}
		return from >= 0
	}
	for _, from := range slices.Clone(g.on[in]) {
		if g.tries--; g.tries < 0 {
			return false
		}
		if from == k {
			continue
		}
		g.swap(k, from, out, in)
		if g.fill(from, by, least, depth-1) {
			return true
		}
		g.restore(k, from, out, in)
	}
	return false
}

// emptiest is the board but k with that size on it which has the most left, and at least so much; -1 where there is none.
func (g *gathering) emptiest(k, size int, least int64) int {
	best := -1
	for _, from := range g.on[size] {
		b := &g.boards[from]
		if from != k && g.spare[b.class] && b.room >= least && (best < 0 || b.room > g.boards[best].room) {
			best = from
		}
	}
	g.tries -= len(g.on[size]) / 8
	return best
}

// swap takes pieces off one board onto another, and a piece of a size from there.
func (g *gathering) swap(k, from int, out pick, in int) {
	for _, i := range out.size[:out.n] {
		g.put(k, i, -1)
		g.put(from, i, 1)
	}
	g.put(from, in, -1)
	g.put(k, in, 1)
}

// restore undoes a swap.
func (g *gathering) restore(k, from int, out pick, in int) {
	g.put(k, in, -1)
	g.put(from, in, 1)
	for _, i := range out.size[:out.n] {
		g.put(from, i, -1)
		g.put(k, i, 1)
	}
}

// put puts n pieces of a size on a board; a negative number takes them off.
func (g *gathering) put(k, size, n int) {
	b := &g.boards[k]
	b.add(size, n)
	b.room -= int64(n) * g.p.size[size]
	i, there := slices.BinarySearch(g.on[size], k)
	_, holds := b.find(size)
	switch {
	case holds && !there:
		g.on[size] = slices.Insert(g.on[size], i, k)
	case there && !holds:
		g.on[size] = slices.Delete(g.on[size], i, i+1)
	}
}

// find is where a size is among the uses of the board, or would be.
func (b *laid) find(size int) (at int, there bool) {
	return slices.BinarySearchFunc(b.uses, size, func(u use, size int) int { return cmp.Compare(u.size, size) })
}
