// Package cutting plans which pieces come out of which board: one-dimensional cutting of stock with a saw kerf and an
// end trim, the fewest boards to buy first and the least length of them second; boards on hand are used before any is bought.
//
// Callers give Plan an Input and read the Result. What the plan promises:
//
//   - Result.Bound is a proved lower bound on the boards: it comes from whole-number arithmetic alone. Result.Optimal
//     says that the plan reaches it, and only then does Result.Why call the number the least possible.
//   - The effort is a count of search steps, never a clock, and every tie is broken by order. The same input gives the
//     same plan on every machine, and so does the same input in another order.
//   - Work is done on distinct lengths with counts, so that a job of ten thousand equal bays costs little more than one.
//
// Kerf and trim: EndTrim comes off each end of every board. The first piece begins at the trimmed end, and each piece is
// followed by one cut of one kerf, so that the next piece begins a kerf later. The last piece needs no cut when it ends
// flush with the usable end; when less than a kerf is left behind it, the blade takes that. Hence n pieces fit a board
// when the sum of the pieces and n-1 kerfs is at most the stock length less two trims.
//
// The method, by its published parts: the bound L2 (Martello and Toth, "Lower bounds and reduction procedures for the bin
// packing problem", Discrete Applied Mathematics 28, 1990); first-fit decreasing and fullest-board-first (minimal bin slack, Gupta
// and Ho, Production Planning & Control 10, 1999); the cutting-pattern relaxation with columns made as needed (Gilmore and
// Gomory, Operations Research 9, 1961, and 11, 1963), whose dual prices are rounded to whole numbers and checked by an exact
// knapsack before anything is concluded from them; pieces moved between boards (Buljubašić and Vasquez, "Consistent
// neighborhood search for one-dimensional bin packing and two-dimensional vector packing", Computers & Operations Research 76,
// 2016); plans dived out of that relaxation; and completion of one board at a time with dominance (Korf, "A new algorithm for
// optimal bin packing", AAAI 2002). Citations from memory.
//
// With more than about five hundred boards a plan is begun in groups of lengths (Fernandez de la Vega and Lueker, 1981), whose mean lengths
// say which pieces go together. With more than about 160 its emptiest boards are planned anew together with some full ones (large
// neighbourhoods, Shaw, CP 1998), and of many lengths what the boards have left is gathered on few of them before that. The patterns of more
// than a thousand pieces are found by dynamic programming, many at a time, and the relaxation of the whole is begun from the best plan and
// rounded down.
//
// Nothing guarantees an optimum within the budget, nor a plan within one board of the bound, though PlanWithin came to one on every job tried
// of up to a thousand pieces and on most of thousands: Result.Why says how many boards may be too many. On the instances of the published
// families in families_test.go a tenth of DefaultBudget ended within one board of the bound every time; DEVELOPERS.md counts how many were
// proved, and how far plans of thousands of pieces are over it (large_test.go).
//
// It deliberately knows nothing of sections, species or grades: call it once for each kind of stock. It does not choose
// which offcuts are worth keeping as stock on hand. Test it with: go test ./checklist/cutting
package cutting

import "newelbook/checklist/length"

// DefaultBudget is the number of search steps that Plan spends at most when Input.Budget is zero. A step is the work of a
// few dozen machine operations; the whole of it takes about a second.
const DefaultBudget = 20_000_000

// Ranges of an Input. Pieces beyond MaxPieces, and pieces or stock longer than MaxLength, are not planned.
const (
	MaxPieces = 1_000_000
	MaxLength = 1_000_000 * length.Millimetre // 1,000 m, as far as a length is read
)

// Input is what to cut and what to cut it from. All of it is of one section and kind.
type Input struct {
	Pieces []Piece
	Stock  []Stock
	// Kerf is the width of wood that one cut turns to dust, 0 to MaxLength. 1/8 in is a usual blade (common practice, no
	// source).
	Kerf length.Length
	// EndTrim is taken off each end of each board before anything is cut from it, the kerf of that cut included; 0 to
	// MaxLength.
	EndTrim length.Length
	// Budget is the most search steps to spend; zero or less means DefaultBudget. The count is checked between strides
	// of the search, so that Result.Nodes can pass it by one stride.
	Budget int
	// Style is how lengths are written in the sentences of the Result.
	Style length.Style
}

// Piece asks for Count pieces of one length; a count of zero or less asks for none. Two entries may bear the same label.
type Piece struct {
	Label  string
	Length length.Length
	Count  int
}

// Stock is boards of one length to cut from. Count is how many there are, 0 meaning as many as wanted; a negative count
// means none. OnHand marks boards that are there already, offcuts among them: they cost nothing, so that a plan uses them
// before any board is bought. Of boards on hand there are as many as counted: 0 means none.
type Stock struct {
	Length length.Length
	Count  int
	OnHand bool
}

// Result is the plan. Boards are in the order to cut them: the longest stock first, then the longest pieces.
type Result struct {
	Boards []Board
	// New is how many of the boards are to be bought: all that are not on hand.
	New int
	// Bound is a proved lower bound on the boards to be bought for the placed and placeable pieces: no plan has fewer. When
	// the stock runs out it is the number needed if there were enough of the longest stock, or 0 where boards are on hand.
	Bound int
	// Optimal says that every piece that fits some board is placed and that no plan buys fewer boards.
	Optimal bool
	// Stock is the total length of the boards, Bought that of those to be bought, and Waste what of Stock is not pieces:
	// trim, kerf and what is left over.
	Stock, Bought, Waste length.Length
	// StockBound is a proved lower bound on Bought among all plans that buy no more boards than this one; zero when the stock
	// runs out. LeastStock says that the plan reaches it: no plan of so few boards buys less.
	StockBound length.Length
	LeastStock bool
	// Nodes is the number of search steps spent.
	Nodes int
	// Unplaced lists what the plan leaves out, longest first.
	Unplaced []Unplaced
	// Why is a finished sentence on the number of boards and what is proved of it.
	Why string
}

// Board is one board of the plan. Its pieces are cut longest first, from one end to the other.
type Board struct {
	// Stock is the full length of the board.
	Stock length.Length
	// OnHand says that the board is there already.
	OnHand bool
	Cuts   []Cut
	// Kerf is the wood turned to dust between and behind the pieces.
	Kerf length.Length
	// Left is the length of the usable piece left behind the last cut, the end trim not counted; zero when there is none.
	Left length.Length
	// Waste is all of the board that is not pieces: both trims, Kerf and Left.
	Waste length.Length
}

// Cut is one piece in a board. From is the distance from the untrimmed end of the board to the start of the piece.
type Cut struct {
	Label  string
	Length length.Length
	From   length.Length
}

// Unplaced is pieces that the plan leaves out. Reason is a finished sentence.
type Unplaced struct {
	Piece
	Reason string
}

// PlanWithin is Plan, and where that ends more than one board over its bound it plans again, begun from that plan and bound, with more steps
// and with againAPiece for each piece beside. Few jobs need it: those of a thousand pieces and more.
func PlanWithin(in Input, more int) Result {
	res, found := plan(in, outcome{})
	if res.New <= res.Bound+1 || more <= in.Budget {
		return res
	}
	in.Budget = more
	for _, p := range in.Pieces {
		in.Budget = max(more, min(in.Budget+againAPiece*min(p.Count, MaxPieces), againMost))
	}
	res, _ = plan(in, found)
	return res
}

// Steps for each piece with which PlanWithin plans again, beside those it is given, and the most it comes to with them.
const (
	againAPiece = 8_000
	againMost   = 150_000_000
)

// Plan returns the cutting plan. It never fails: what cannot be planned is in Result.Unplaced with a reason.
func Plan(in Input) Result {
	res, _ := plan(in, outcome{})
	return res
}

// plan is Plan, begun from what has been found before of the same input, if that is complete, and with what is found now.
func plan(in Input, before outcome) (Result, outcome) {
	o := read(in)
	steps := &budget{limit: in.Budget}
	if in.Budget <= 0 {
		steps.limit = DefaultBudget
	}
	res := Result{Optimal: true, LeastStock: true, Unplaced: o.unplaced}
	boards := outcome{complete: true, proved: true}
	switch {
	case len(o.pieces) == 0:
	case o.onHand() > 0:
		boards = o.planOnHand(&res, before, steps)
	default:
		boards = fewest(o, before, steps)
		plan := boards.plan
		res.Bound, res.Optimal = int(boards.bound), boards.complete && boards.proved
		switch {
		case !boards.complete:
			res.LeastStock = false
		case len(o.kinds) == 1:
			res.StockBound, res.LeastStock = o.kinds[0].length*length.Length(res.Bound), res.Optimal
		default:
			stock := leastStock(o, plan, steps)
			plan, res.LeastStock = stock.plan, stock.proved
			res.StockBound = length.Length(stock.bound) * o.unit()
		}
		o.deal(&res, plan)
	}
	res.Nodes = steps.used
	res.Why = why(res, boards, steps)
	return res, boards
}

// budget counts search steps. It is the only clock of the search.
type budget struct{ used, limit int }

// spend counts n steps and says whether any are left.
func (b *budget) spend(n int) bool {
	b.used += n
	return b.used < b.limit
}

// out says that the limit is reached.
func (b *budget) out() bool { return b.used >= b.limit }

// share does some work with no more than the given percentage of the steps that are left.
func (b *budget) share(percent int, work func()) {
	b.within(max(0, b.limit-b.used)/100*percent, work)
}

// within does some work with no more than the given number of steps.
func (b *budget) within(steps int, work func()) {
	whole := b.limit
	b.limit = min(whole, b.used+steps)
	work()
	b.limit = whole
}
