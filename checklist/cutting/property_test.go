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
	offcuts := map[length.Length]int{}
	var stock, waste length.Length
	for i, b := range res.Boards {
		used[b.Stock]++
		if b.Offcut {
			offcuts[b.Stock]++
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
			if count == 0 {
				count = math.MaxInt32
			}
			have += count
			if s.Offcut {
				left += count
			}
		}
		if n > have || offcuts[l] != min(n, left) {
			t.Errorf("%d boards of %v used, %d of them offcuts; there are %d and %d", n, l, offcuts[l], have, left)
		}
	}
	if res.Stock != stock || res.Waste != waste {
		t.Errorf("stock %v and waste %v, want %v and %v", res.Stock, res.Waste, stock, waste)
	}
	if res.Optimal && len(res.Boards) != res.Bound || len(res.Boards) < res.Bound && res.StockBound > 0 {
		t.Errorf("%d boards, bound %d, optimal %v", len(res.Boards), res.Bound, res.Optimal)
	}
	if res.StockBound > res.Stock || res.LeastStock && len(res.Boards) > 0 && res.StockBound != res.Stock {
		t.Errorf("stock %v, bound %v, least %v", res.Stock, res.StockBound, res.LeastStock)
	}
}

// inputs draws an input of small whole numbers, in which ties and exact fits are frequent.
func inputs(t *rapid.T, mostPieces int) cutting.Input {
	small := func(from, to int, name string) length.Length {
		return length.Length(rapid.IntRange(from, to).Draw(t, name))
	}
	in := cutting.Input{Kerf: small(0, 3, "kerf"), EndTrim: small(0, 2, "trim"), Budget: 300_000}
	for range rapid.IntRange(1, 3).Draw(t, "kinds") {
		in.Stock = append(in.Stock, cutting.Stock{Length: small(10, 40, "stock"), Count: rapid.IntRange(0, 4).Draw(t, "boards"), Offcut: rapid.Bool().Draw(t, "offcut")})
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

// exhaustive finds the fewest boards and then the least stock by trying every piece on every board, and every kind of
// stock for each new board. It shares no code with the package. It returns no boards when the pieces do not fit.
type exhaustive struct {
	in     cutting.Input
	pieces []length.Length
	boards []length.Length // open boards
	left   []length.Length // usable length left on each, behind the last kerf
	count  []int           // of each stock entry used

	best   int
	length length.Length
}

func (e *exhaustive) place(i int, total length.Length) {
	if e.best > 0 && (len(e.boards) > e.best || len(e.boards) == e.best && total >= e.length) {
		return
	}
	if i == len(e.pieces) {
		e.best, e.length = len(e.boards), total
		return
	}
	p := e.pieces[i]
	for b := range e.boards {
		if e.left[b] >= p {
			e.left[b] -= p + e.in.Kerf
			e.place(i+1, total)
			e.left[b] += p + e.in.Kerf
		}
	}
	for k, s := range e.in.Stock {
		usable := s.Length - 2*e.in.EndTrim
		if usable < p || s.Count > 0 && e.count[k] == s.Count {
			continue
		}
		e.count[k]++
		e.boards, e.left = append(e.boards, s.Length), append(e.left, usable-p-e.in.Kerf)
		e.place(i+1, total+s.Length)
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
				if p.Length <= s.Length-2*in.EndTrim {
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
		e.place(0, 0)
		res := cutting.Plan(in)
		check(t, in, res)
		if e.best == 0 {
			if res.Optimal || res.LeastStock || len(res.Unplaced) == 0 {
				t.Errorf("the pieces do not all fit, but Plan = %+v", res)
			}
			return
		}
		if len(res.Boards) != e.best || !res.Optimal || res.Stock != e.length || !res.LeastStock {
			t.Errorf("%d boards (optimal %v), stock %v (least %v), want %d and %v", len(res.Boards), res.Optimal, res.Stock, res.LeastStock, e.best, e.length)
		}
	})
}
