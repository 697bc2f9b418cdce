package cutting_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
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

// many draws an input of so many different lengths that pieces are moved between boards, some of which may be on hand.
func many(t *rapid.T) cutting.Input {
	in := cutting.Input{Kerf: length.Length(rapid.IntRange(0, 5).Draw(t, "kerf")), EndTrim: length.Length(rapid.IntRange(0, 20).Draw(t, "trim")), Budget: 400_000}
	in.Stock = []cutting.Stock{{Length: 1040}}
	for range rapid.IntRange(0, 3).Draw(t, "kinds on hand") {
		in.Stock = append(in.Stock, cutting.Stock{
			Length: length.Length(rapid.IntRange(200, 1200).Draw(t, "on hand")), Count: rapid.IntRange(1, 12).Draw(t, "boards"), OnHand: true,
		})
	}
	lo := rapid.IntRange(50, 300).Draw(t, "shortest")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
	for range rapid.IntRange(80, 160).Draw(t, "pieces") {
		in.Pieces = append(in.Pieces, cutting.Piece{Label: "a", Length: length.Length(lo + rng.IntN(400)), Count: 1})
	}
	return in
}

// firstFit counts the boards of first-fit decreasing: each piece, longest first, goes on the first board with room. Boards on hand
// come before bought ones, the longest first. It counts those that are bought.
func firstFit(in cutting.Input) int {
	var left []length.Length
	slices.SortFunc(in.Stock, func(a, b cutting.Stock) int { return cmp.Compare(b.Length, a.Length) })
	for _, s := range in.Stock {
		if s.OnHand {
			left = append(left, slices.Repeat([]length.Length{s.Length - 2*in.EndTrim + in.Kerf}, s.Count)...)
		}
	}
	onHand := len(left)
	slices.SortFunc(in.Pieces, func(a, b cutting.Piece) int { return cmp.Compare(b.Length, a.Length) })
	for _, p := range in.Pieces {
		need := p.Length + in.Kerf
		i := slices.IndexFunc(left, func(room length.Length) bool { return room >= need })
		if i < 0 {
			i, left = len(left), append(left, 1040-2*in.EndTrim+in.Kerf)
		}
		left[i] -= need
	}
	return len(left) - onHand
}

// TestManyLengthsKeepThePromises holds the plans of such inputs, which are the same in any order, against first-fit decreasing.
func TestManyLengthsKeepThePromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := many(t)
		res := cutting.Plan(in)
		check(t, in, res)
		slices.Reverse(in.Pieces)
		slices.Reverse(in.Stock)
		if again := cutting.Plan(in); !reflect.DeepEqual(again, res) {
			t.Errorf("Plan of the reversed input = %s, want %s", again.Why, res.Why)
		}
		if first := firstFit(in); res.New > first {
			t.Errorf("%s; first-fit decreasing buys %d", res.Why, first)
		}
	})
}

// FuzzPlan reads kerf, trim, three kinds of stock and then pieces out of bytes.
func FuzzPlan(f *testing.F) {
	f.Add([]byte{3, 2, 200, 0, 90, 2, 120, 3, 50, 60, 70, 80, 90, 33, 44, 55})
	f.Add([]byte{0, 0, 100, 1, 100, 1, 100, 1, 50, 50, 50, 50, 50, 50})
	f.Add([]byte{255, 255, 255, 255, 255, 255, 255, 255, 255})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 8 {
			return
		}
		in := cutting.Input{Kerf: length.Length(data[0]), EndTrim: length.Length(data[1]) - 1, Budget: 50_000}
		for i := 2; i < 8; i += 2 {
			in.Stock = append(in.Stock, cutting.Stock{Length: length.Length(data[i]), Count: int(data[i+1]/2) - 1, OnHand: data[i+1]%2 == 1})
		}
		for _, l := range data[8:min(len(data), 300)] {
			in.Pieces = append(in.Pieces, cutting.Piece{Label: "a", Length: length.Length(l), Count: 1})
		}
		check(t, in, cutting.Plan(in))
	})
}
