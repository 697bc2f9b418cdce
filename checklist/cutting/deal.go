package cutting

import (
	"cmp"
	"slices"

	"newelbook/checklist/length"
)

// problem is the order in plain numbers, its cost the stock's length when stock is counted and 1 a board when boards are.
// To count boards, stock shorter than one that never runs out is left aside: a longer board always does as well.
func (o *order) problem(stock bool) *problem {
	p := &problem{most: unlimited}
	for _, b := range o.pieces {
		p.size = append(p.size, int64(b.length+o.in.Kerf))
		p.need = append(p.need, b.count)
	}
	total := p.pieces()
	for _, k := range o.kinds {
		c := class{room: int64(o.usable(k.length) + o.in.Kerf), cost: 1, count: k.count}
		if stock {
			c.cost = int64(k.length / o.unit())
		}
		if c.count >= total {
			c.count = unlimited // one board a piece is always enough
		}
		p.class = append(p.class, c)
		if c.count == unlimited && !stock {
			break
		}
	}
	return p
}

// total is the length of all the pieces.
func (o *order) total() int64 {
	var total int64
	for _, b := range o.pieces {
		total += int64(b.length) * int64(b.count)
	}
	return total
}

// deal turns a plan into boards and gives each piece its label; what the plan leaves out it lists as unplaced.
func (o *order) deal(res *Result, plan []repeat) {
	hands := make([]hand, len(o.pieces))
	for i, b := range o.pieces {
		hands[i] = hand{asked: b.asked}
	}
	boards := 0
	for _, r := range plan {
		boards += r.times
	}
	res.Boards = make([]Board, 0, boards)
	for _, r := range plan {
		k := o.kinds[r.class]
		for range r.times {
			b := o.board(k.length, r.uses, hands)
			b.OnHand = k.onHand
			if !k.onHand {
				res.New++
				res.Bought += b.Stock
			}
			res.Boards = append(res.Boards, b)
			res.Stock += b.Stock
			res.Waste += b.Waste
		}
	}
	for i := range hands {
		for p, ok := hands[i].rest(); ok; p, ok = hands[i].rest() {
			res.Unplaced = append(res.Unplaced, Unplaced{p, "No board of the stock given is left that holds this piece."})
		}
	}
	slices.SortStableFunc(res.Unplaced, func(a, b Unplaced) int {
		return cmp.Or(cmp.Compare(b.Length, a.Length), cmp.Compare(a.Label, b.Label))
	})
}

// board lays the pieces of a pattern out on a board.
func (o *order) board(stock length.Length, uses []use, hands []hand) Board {
	n := 0
	for _, u := range uses {
		n += u.n
	}
	b := Board{Stock: stock, Cuts: make([]Cut, 0, n)}
	at := o.in.EndTrim
	end := stock - o.in.EndTrim
	b.Waste = stock
	for _, u := range uses {
		l := o.pieces[u.size].length
		for range u.n {
			b.Cuts = append(b.Cuts, Cut{Label: hands[u.size].next(), Length: l, From: at})
			b.Waste -= l
			at += l
			dust := min(o.in.Kerf, end-at)
			b.Kerf += dust
			at += dust
		}
	}
	b.Left = end - at
	return b
}

// hand is the pieces of one length that are still to be dealt.
type hand struct {
	asked []Piece
	dealt int // of the first
}

// next deals one piece and returns its label.
func (h *hand) next() string {
	label := h.asked[0].Label
	if h.dealt++; h.dealt == h.asked[0].Count {
		h.asked, h.dealt = h.asked[1:], 0
	}
	return label
}

// rest deals what is left of one entry.
func (h *hand) rest() (Piece, bool) {
	if len(h.asked) == 0 {
		return Piece{}, false
	}
	p := h.asked[0]
	p.Count -= h.dealt
	h.asked, h.dealt = h.asked[1:], 0
	return p, true
}
