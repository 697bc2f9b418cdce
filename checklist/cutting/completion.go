package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
)

const (
	completionsMost = 1_000   // ways to complete one board that are looked at
	failedMost      = 200_000 // states remembered to lead nowhere
)

// completion looks for a plan within a goal by completing one board after another, in the manner of Korf: the longest
// piece left goes into some board, and that board is completed in every way that no other way dominates. When it ends
// without a plan and was not cut, there is none.
type completion struct {
	p     *problem // what is left; changed and restored
	goal  int64
	proof proof
	steps *budget
	stop  int
	cut   bool // ended by the steps or the limit on completions

	plan   []repeat // one board each
	failed map[string]int64
}

// newCompletion sets out on p, which it changes, with at most so many steps.
func newCompletion(p *problem, goal int64, f proof, steps *budget, tries int) *completion {
	cheapest := p.class[0].cost
	for _, cl := range p.class {
		cheapest = min(cheapest, cl.cost)
	}
	p.most = int(min(int64(p.most), goal/cheapest))
	stop := steps.limit
	if tries < stop-steps.used {
		stop = steps.used + tries
	}
	return &completion{p: p, goal: goal, proof: f, steps: steps, stop: stop, failed: map[string]int64{}}
}

// search continues a plan that has cost so much. It reports whether it found a plan; p is then used up.
func (c *completion) search(spent int64) bool {
	longest := slices.IndexFunc(c.p.need, func(n int) bool { return n > 0 })
	if longest < 0 {
		return true
	}
	if c.steps.used += 2 * len(c.p.need); c.hopeless(spent) {
		return false
	}
	key := c.key()
	if before, ok := c.failed[key]; ok && before <= spent {
		return false
	}
	cut := c.cut
	c.cut = false
	for _, b := range c.boards(longest, spent) {
		c.p.take(b.pattern, 1)
		c.plan = append(c.plan, repeat{b.pattern, 1})
		if c.search(spent + c.p.class[b.class].cost) {
			return true
		}
		c.plan = c.plan[:len(c.plan)-1]
		c.p.take(b.pattern, -1)
		if c.steps.used >= c.stop {
			c.cut = true
			return false
		}
	}
	if !c.cut && len(c.failed) < failedMost {
		c.failed[key] = spent
	}
	c.cut = c.cut || cut
	return false
}

// hopeless says that what is left cannot be cut within the goal: by its volume, or by the proof.
func (c *completion) hopeless(spent int64) bool {
	volume := c.p.volume()
	left := c.p.most
	for _, cl := range c.p.class {
		if volume <= 0 || left == 0 {
			break
		}
		n := min(cl.count, left)
		if n == unlimited || int64(n) > volume/cl.room {
			volume = 0
			break
		}
		volume -= int64(n) * cl.room
		left -= n
	}
	if volume > 0 || spent > c.goal {
		return true
	}
	if c.proof.price == nil {
		return false
	}
	return c.proof.worth(c.p) > mulDiv(c.goal-spent, scale, c.proof.dearest)
}

// key names what is left.
func (c *completion) key() string {
	var b []byte
	for _, n := range c.p.need {
		b = binary.AppendUvarint(b, uint64(n))
	}
	for _, cl := range c.p.class {
		b = binary.AppendUvarint(b, uint64(cl.count))
	}
	return string(binary.AppendUvarint(b, uint64(c.p.most)))
}

// board is a way to complete a board and the room it leaves.
type board struct {
	pattern
	room int64
}

// boards lists the ways to complete a board with the longest piece on it, the fullest first.
func (c *completion) boards(longest int, spent int64) []board {
	if c.p.most == 0 {
		return nil
	}
	var out []board
	for i, cl := range c.p.class {
		if cl.room < c.p.size[longest] || cl.count == 0 || spent+cl.cost > c.goal {
			continue
		}
		e := enumeration{c: c, pattern: pattern{class: i}, most: len(out) + completionsMost}
		e.out = out
		c.p.need[longest]--
		e.pattern.uses = append(e.pattern.uses, use{longest, 1})
		e.extend(longest, cl.room-c.p.size[longest])
		c.p.need[longest]++
		out = e.out
	}
	slices.SortFunc(out, func(a, b board) int {
		return cmp.Or(cmp.Compare(a.room, b.room), compare(a.pattern, b.pattern))
	})
	return out
}

// enumeration lists the undominated ways to complete one board. While it runs, need is what is not on the board.
type enumeration struct {
	c       *completion
	pattern pattern
	out     []board
	most    int
}

// extend tries each number of each size from the given one on.
func (e *enumeration) extend(from int, room int64) {
	p := e.c.p
	if e.c.steps.used++; e.c.steps.used >= e.c.stop || len(e.out) >= e.most {
		e.c.cut = true
		return
	}
	i := atMost(p.size, room, from)
	for i < len(p.size) && p.need[i] == 0 {
		i++
	}
	if i >= len(p.size) {
		e.c.steps.used += 4 * len(e.pattern.uses)
		if !e.dominated(room) {
			out := pattern{e.pattern.class, slices.Clone(e.pattern.uses)}
			e.out = append(e.out, board{out, room})
		}
		return
	}
	for n := int(min(int64(p.need[i]), room/p.size[i])); n >= 0; n-- {
		e.add(i, n)
		e.extend(i+1, room-int64(n)*p.size[i])
		e.add(i, -n)
	}
}

// add puts n pieces of a size on the board, or takes them off when n is negative.
func (e *enumeration) add(size, n int) {
	e.c.p.need[size] -= n
	last := len(e.pattern.uses) - 1
	switch {
	case n == 0:
	case e.pattern.uses[last].size != size:
		e.pattern.uses = append(e.pattern.uses, use{size, n})
	case e.pattern.uses[last].n+n == 0:
		e.pattern.uses = e.pattern.uses[:last]
	default:
		e.pattern.uses[last].n += n
	}
}

// dominated says that another way to complete the board is at least as good (Martello and Toth): a piece that is left
// would fit beside those on the board, or in place of one or two of them that are together no longer than it. In any plan
// the two sides could change places. The longest piece itself stays.
func (e *enumeration) dominated(room int64) bool {
	if e.replaces(0, room) {
		return true
	}
	size := e.c.p.size
	for i, a := range e.pattern.uses {
		free := a.n
		if i == 0 {
			free--
		}
		if free == 0 {
			continue
		}
		if e.replaces(size[a.size]+1, size[a.size]+room) {
			return true
		}
		for j := i; j < len(e.pattern.uses); j++ {
			if j == i && free < 2 {
				continue
			}
			if both := size[a.size] + size[e.pattern.uses[j].size]; e.replaces(both, both+room) {
				return true
			}
		}
	}
	return false
}

// replaces says whether a piece that is left has a size between the two, both included.
func (e *enumeration) replaces(least, most int64) bool {
	p := e.c.p
	for i := atMost(p.size, most, 0); i < len(p.size) && p.size[i] >= least; i++ {
		if p.need[i] > 0 {
			return true
		}
	}
	return false
}
