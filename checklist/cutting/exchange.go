package cutting

import (
	"cmp"
	"slices"
	"sort"
)

const (
	heapMost  = 60        // different lengths on the heap up to which they are put on boards in twos
	packTries = 2_000     // steps of one attempt to cut the heap from the last two boards
	runMost   = 1_000_000 // steps of one run: what more would find is rarer than what else can be done with them
	spell     = 150       // moves after which boards are let alone for longer or shorter
)

// exchange looks for a plan on boards that are given, by moving pieces between them and a heap of pieces that are on none:
// the consistent neighbourhood search of Buljubašić and Vasquez (Computers & Operations Research 76, 2016; from memory).
// All boards but two are kept as full as they go; once the heap can be cut from those two, the plan is found. A move
// takes up to two pieces off a board and puts one or two of the heap on it. Of all moves the one is made that leaves the
// least on the heap, even where that is more than before, and the board of it is then let alone for a number of moves.
// That number rises and falls as the search goes on: small ones suit tight fits, large ones get it out of a rut.
//
// It proves nothing, and it makes no use of chance: the same problem gives the same plan.
type exchange struct {
	heap   *problem // need is what is on the heap; class what boards are left, the last two
	boards []laid
	last   [2]int // classes of the last two boards
	ones   []pick // of the heap, the longest first
	twos   []pick
	volume int64 // of the heap
	moves  int
	alone  int // boards of a thousand that are let alone
	steps  *budget
}

// laid is a board with pieces on it.
type laid struct {
	pattern
	room  int64
	until int // the move up to which it is let alone
}

// pick is up to two pieces by their sizes, the longer first, and their length together.
type pick struct {
	n    int
	size [2]int
	sum  int64
}

// newExchange lays the pieces on the boards of the problem, which must be limited in number and at least three; it
// changes the problem.
func newExchange(p *problem, steps *budget) *exchange {
	e := &exchange{steps: steps}
	for i := range e.last {
		c := slices.IndexFunc(p.class, func(c class) bool { return c.count > 0 })
		e.last[i] = c
		p.class[c].count--
		p.most--
	}
	plan, rest := greedy(p, decreasing)
	for _, r := range plan {
		for range r.times {
			b := laid{pattern: pattern{r.class, slices.Clone(r.uses)}}
			b.room = p.class[r.class].room - p.length(r.pattern)
			e.boards = append(e.boards, b)
		}
	}
	for c, class := range rest.class {
		for range min(class.count, rest.most) {
			e.boards = append(e.boards, laid{pattern: pattern{class: c}, room: class.room})
			rest.most--
		}
	}
	e.heap, e.volume = rest, rest.volume()
	return e
}

// search moves pieces until it finds a plan or the steps are spent.
func (e *exchange) search() (plan []repeat, ok bool) {
	for !e.steps.out() {
		if e.moves%spell == 0 {
			e.alone = 50 + 850*(e.moves/spell*5%8)/7
		}
		if plan, ok := e.pack(); ok {
			return plan, true
		}
		e.moves++
		e.list()
		if m, ok := e.best(); ok {
			e.make(m)
		}
	}
	return nil, false
}

// swaps moves pieces between the boards of one plan after another, for as long as that makes better ones.
type swaps struct {
	*search
	p      *problem
	narrow func(*problem, int64) *problem
	goal   int64
	at     *exchange // for the goal, as far as it has come; nil where the boards are not given or too many
}

// run spends a percentage of the steps on plans that cost no more than given, within runMost.
func (w *swaps) run(percent int, most int64) {
	w.steps.share(percent, func() {
		w.steps.limit = min(w.steps.limit, w.steps.used+runMost)
		for !w.done() {
			w.aim(min(w.search.goal(), w.p.dearestPlan(), most))
			if w.at == nil {
				return
			}
			plan, ok := w.at.search()
			if !ok {
				return
			}
			w.record(w.p, nil, plan, &problem{})
		}
	})
}

// aim sets out for a goal, unless that is the one already aimed at.
func (w *swaps) aim(goal int64) {
	if goal == w.goal {
		return
	}
	w.goal, w.at = goal, nil
	q := w.narrow(w.p, goal)
	if q.dearestPlan() <= goal && q.most > len(w.at.last) && q.most <= completeMost {
		w.at = newExchange(q, w.steps)
	}
}

// list lists what one or two pieces of the heap there are.
func (e *exchange) list() {
	e.ones, e.twos = e.ones[:0], e.twos[:0]
	size, need := e.heap.size, e.heap.need
	for i, n := range need {
		if n > 0 {
			e.ones = append(e.ones, pick{1, [2]int{i}, size[i]})
		}
	}
	if len(e.ones) > heapMost {
		return
	}
	for k, a := range e.ones {
		i := a.size[0]
		if need[i] > 1 {
			e.twos = append(e.twos, pick{2, [2]int{i, i}, 2 * a.sum})
		}
		for _, b := range e.ones[k+1:] {
			e.twos = append(e.twos, pick{2, [2]int{i, b.size[0]}, a.sum + b.sum})
		}
	}
	slices.SortFunc(e.twos, func(a, b pick) int {
		return cmp.Or(cmp.Compare(b.sum, a.sum), cmp.Compare(a.size[0], b.size[0]))
	})
}

// move takes out of a board and puts in.
type move struct {
	board   int
	out, in pick
}

// gain is what a move takes off the heap.
func (m move) gain() int64 { return m.in.sum - m.out.sum }

// best is the move that leaves the least on the heap, if there is any. Of equals the first is taken, and where the
// looking begins moves on.
func (e *exchange) best() (best move, ok bool) {
	tries := len(e.heap.need)/16 + len(e.twos)
	try := func(b int, out pick) {
		tries++
		room := e.boards[b].room + out.sum
		for _, picks := range [][]pick{e.twos, e.ones} {
			i := sort.Search(len(picks), func(i int) bool { return picks[i].sum <= room })
			for i < len(picks) && picks[i] == out {
				i++
			}
			if i == len(picks) {
				continue
			}
			if m := (move{b, out, picks[i]}); !ok || m.gain() > best.gain() {
				best, ok = m, true
			}
		}
	}
	for k := range e.boards {
		b := (k + e.moves) % len(e.boards)
		if e.boards[b].until < e.moves {
			e.outs(b, try)
		}
	}
	e.steps.spend(1 + tries/2)
	return best, ok
}

// outs calls try with all that can be taken off a board, nothing among it.
func (e *exchange) outs(b int, try func(int, pick)) {
	try(b, pick{})
	size, uses := e.heap.size, e.boards[b].uses
	for k, u := range uses {
		try(b, pick{1, [2]int{u.size}, size[u.size]})
		if u.n > 1 {
			try(b, pick{2, [2]int{u.size, u.size}, 2 * size[u.size]})
		}
		for _, v := range uses[k+1:] {
			try(b, pick{2, [2]int{u.size, v.size}, size[u.size] + size[v.size]})
		}
	}
}

// make makes a move.
func (e *exchange) make(m move) {
	b := &e.boards[m.board]
	b.room -= m.gain()
	e.volume -= m.gain()
	for _, i := range m.out.size[:m.out.n] {
		b.add(i, -1)
		e.heap.need[i]++
	}
	for _, i := range m.in.size[:m.in.n] {
		b.add(i, 1)
		e.heap.need[i]--
	}
	n := len(e.boards)
	b.until = e.moves + 1 + e.alone*n/1000 + e.moves*7%(3+n/6)
}

// add puts n pieces of a size on the board; a negative number takes them off.
func (b *laid) add(size, n int) {
	i, there := b.find(size)
	if !there {
		b.uses = slices.Insert(b.uses, i, use{size, 0})
	}
	if b.uses[i].n += n; b.uses[i].n == 0 {
		b.uses = slices.Delete(b.uses, i, i+1)
	}
}

// pack tries to cut the heap from the last two boards. It gives the whole plan when that is done.
func (e *exchange) pack() (plan []repeat, ok bool) {
	rooms := [2]int64{e.heap.class[e.last[0]].room, e.heap.class[e.last[1]].room}
	if e.volume > rooms[0]+rooms[1] {
		return nil, false
	}
	s := split{p: e.heap, least: e.volume - rooms[1], tries: packTries}
	ok = s.search(0, rooms[0], 0)
	e.steps.spend(1 + (packTries-s.tries)/4)
	if !ok {
		return nil, false
	}
	rest := e.heap.without(pattern{e.last[0], s.first}, 1)
	var second []use
	for i, n := range rest.need {
		if n > 0 {
			second = append(second, use{i, n})
		}
	}
	e.boards = append(e.boards, laid{pattern: pattern{e.last[0], s.first}}, laid{pattern: pattern{e.last[1], second}})
	for _, b := range e.boards {
		if len(b.uses) > 0 {
			plan = append(plan, repeat{b.pattern, 1})
		}
	}
	return plan, true
}

// split looks for pieces that fill one board at least so far that another takes the rest.
type split struct {
	p     *problem
	least int64
	first []use
	tries int
}

// search adds pieces from the given size on to what has that length and leaves that room.
func (s *split) search(from int, room, length int64) bool {
	if length >= s.least {
		return true
	}
	for i := atMost(s.p.size, room, from); i < len(s.p.size) && s.tries > 0; i++ {
		if s.p.need[i] == 0 {
			continue
		}
		s.tries--
		for n := int(min(int64(s.p.need[i]), room/s.p.size[i])); n > 0; n-- {
			s.first = append(s.first, use{i, n})
			long := int64(n) * s.p.size[i]
			if s.search(i+1, room-long, length+long) {
				return true
			}
			s.first = s.first[:len(s.first)-1]
		}
	}
	return false
}
