package cutting_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/cutting"
	"newelbook/checklist/length"
)

// check holds a result against its input by the promises of the package comment, with arithmetic of its own.
func check(t interface {
	Helper()
	Errorf(string, ...any)
}, in cutting.Input, res cutting.Result) {
	t.Helper()
	type what struct {
		label string
		l     length.Length
	}
	asked := map[what]int{}
	for _, p := range in.Pieces {
		if p.Count > 0 {
			asked[what{p.Label, p.Length}] += p.Count
		}
	}
	used := map[length.Length]int{}
	onHand := map[length.Length]int{}
	bought := 0
	var stock, waste, new length.Length
	for i, b := range res.Boards {
		used[b.Stock]++
		if b.OnHand {
			onHand[b.Stock]++
		} else {
			bought++
			new += b.Stock
		}
		stock, waste = stock+b.Stock, waste+b.Waste
		if len(b.Cuts) == 0 {
			t.Errorf("board %d has no pieces", i)
		}
		at, sum := in.EndTrim, length.Length(0)
		for j, c := range b.Cuts {
			if c.From != at {
				t.Errorf("board %d: cut %d from %v, want %v", i, j, c.From, at)
			}
			at = c.From + c.Length + in.Kerf
			sum += c.Length
			asked[what{c.Label, c.Length}]--
		}
		end := at - in.Kerf
		if end > b.Stock-in.EndTrim {
			t.Errorf("board %d: cut to %v, usable to %v", i, end, b.Stock-in.EndTrim)
		}
		if b.Waste != b.Stock-sum || b.Waste != b.Kerf+b.Left+2*in.EndTrim || b.Left < 0 || b.Left != max(0, b.Stock-in.EndTrim-at) {
			t.Errorf("board %d: stock %v, pieces %v, waste %v, kerf %v, left %v do not add up", i, b.Stock, sum, b.Waste, b.Kerf, b.Left)
		}
	}
	for _, u := range res.Unplaced {
		asked[what{u.Label, u.Length}] -= u.Count
		if u.Reason == "" || u.Count <= 0 {
			t.Errorf("unplaced %+v has no reason or no count", u)
		}
	}
	for w, n := range asked {
		if n != 0 {
			t.Errorf("%d of piece %v %v are missing", n, w.label, w.l)
		}
	}
	for l, n := range used {
		have, left := 0, 0
		for _, s := range in.Stock {
			if s.Length != l || s.Count < 0 {
				continue
			}
			count := min(s.Count, math.MaxInt32)
			if s.OnHand {
				left += count
			} else if count == 0 {
				count = math.MaxInt32
			}
			have += count
		}
		if n > have || onHand[l] != min(n, left) {
			t.Errorf("%d boards of %v used, %d of them on hand; there are %d and %d", n, l, onHand[l], have, left)
		}
	}
	if res.Stock != stock || res.Waste != waste || res.Bought != new || res.New != bought {
		t.Errorf("stock %v, waste %v, %d bought of %v, want %v, %v, %d and %v", res.Stock, res.Waste, res.New, res.Bought, stock, waste, bought, new)
	}
	if res.Optimal && res.New != res.Bound || res.New < res.Bound && res.StockBound > 0 {
		t.Errorf("%d boards bought, bound %d, optimal %v", res.New, res.Bound, res.Optimal)
	}
	if res.StockBound > res.Bought || res.LeastStock && len(res.Boards) > 0 && res.StockBound != res.Bought {
		t.Errorf("bought %v, bound %v, least %v", res.Bought, res.StockBound, res.LeastStock)
	}
}

// inputs draws an input of small whole numbers, in which ties and exact fits are frequent.
func inputs(t *rapid.T, mostPieces int) cutting.Input {
	small := func(from, to int, name string) length.Length {
		return length.Length(rapid.IntRange(from, to).Draw(t, name))
	}
	in := cutting.Input{Kerf: small(0, 3, "kerf"), EndTrim: small(0, 2, "trim"), Budget: 300_000}
	for range rapid.IntRange(1, 3).Draw(t, "kinds") {
		in.Stock = append(in.Stock, cutting.Stock{Length: small(10, 40, "stock"), Count: rapid.IntRange(0, 4).Draw(t, "boards"), OnHand: rapid.Bool().Draw(t, "on hand")})
	}
	for left := rapid.IntRange(1, mostPieces).Draw(t, "pieces"); left > 0; {
		n := rapid.IntRange(1, min(left, 4)).Draw(t, "count")
		in.Pieces = append(in.Pieces, cutting.Piece{Label: string(rune('a' + len(in.Pieces)%5)), Length: small(1, 30, "length"), Count: n})
		left -= n
	}
	return in
}

func TestPlanKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := inputs(t, 60)
		check(t, in, cutting.Plan(in))
	})
}

func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := inputs(t, 40)
		want := cutting.Plan(in)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		rng.Shuffle(len(in.Pieces), func(i, j int) { in.Pieces[i], in.Pieces[j] = in.Pieces[j], in.Pieces[i] })
		rng.Shuffle(len(in.Stock), func(i, j int) { in.Stock[i], in.Stock[j] = in.Stock[j], in.Stock[i] })
		if got := cutting.Plan(in); !reflect.DeepEqual(got, want) {
			t.Errorf("Plan of the shuffled input = %+v, want %+v", got, want)
		}
	})
}

// exhaustive finds the fewest boards to buy and then the least stock by trying every piece on every board, and every kind of
// stock for each further board. It shares no code with the package. It finds no plan when the pieces do not fit.
type exhaustive struct {
	in     cutting.Input
	pieces []length.Length
	boards []length.Length // open boards
	left   []length.Length // usable length left on each, behind the last kerf
	count  []int           // of each stock entry used

	found  bool
	best   int           // boards bought
	length length.Length // of them
}

func (e *exhaustive) place(i, bought int, total length.Length) {
	if e.found && (bought > e.best || bought == e.best && total >= e.length) {
		return
	}
	if i == len(e.pieces) {
		e.found, e.best, e.length = true, bought, total
		return
	}
	p := e.pieces[i]
	for b := range e.boards {
		if e.left[b] >= p {
			e.left[b] -= p + e.in.Kerf
			e.place(i+1, bought, total)
			e.left[b] += p + e.in.Kerf
		}
	}
	for k, s := range e.in.Stock {
		usable := s.Length - 2*e.in.EndTrim
		if usable < p || (s.Count > 0 || s.OnHand) && e.count[k] == s.Count {
			continue
		}
		e.count[k]++
		e.boards, e.left = append(e.boards, s.Length), append(e.left, usable-p-e.in.Kerf)
		if s.OnHand {
			e.place(i+1, bought, total)
		} else {
			e.place(i+1, bought+1, total+s.Length)
		}
		e.boards, e.left = e.boards[:len(e.boards)-1], e.left[:len(e.left)-1]
		e.count[k]--
	}
}

func TestAgainstExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := inputs(t, 7)
		e := exhaustive{in: in, count: make([]int, len(in.Stock))}
		for _, p := range in.Pieces {
			for _, s := range in.Stock {
				if p.Length <= s.Length-2*in.EndTrim && !(s.OnHand && s.Count == 0) {
					for range p.Count {
						e.pieces = append(e.pieces, p.Length)
					}
					break
				}
			}
		}
		if len(e.pieces) == 0 {
			t.Skip("no piece fits any board")
		}
		e.place(0, 0, 0)
		res := cutting.Plan(in)
		check(t, in, res)
		if !e.found {
			if res.Optimal || res.LeastStock || len(res.Unplaced) == 0 {
				t.Errorf("the pieces do not all fit, but Plan = %+v", res)
			}
			return
		}
		if res.New != e.best || !res.Optimal || res.Bought != e.length || !res.LeastStock {
			t.Errorf("%d boards bought (optimal %v), %v of stock (least %v), want %d and %v", res.New, res.Optimal, res.Bought, res.LeastStock, e.best, e.length)
		}
	})
}
