package cutting_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"newelbook/checklist/cutting"
	"newelbook/checklist/length"
)

// largeJobs are numbers of pieces.
func largeJobs() []int {
	if testing.Short() {
		return []int{1_000, 5_000}
	}
	return []int{1_000, 5_000, 20_000}
}

// largeBudget is what the materials page spends on a section of so many pieces.
func largeBudget(pieces int) int { return pageBudget + 100*pieces }

// forcedJob is boards of 16 ft cut full, and as many boards on hand of as many lengths: the pieces and their kerfs fill every board, so
// that no plan buys fewer. Each board is one of so many different ones, of about so many pieces each.
type forcedJob struct {
	pieces, to, lengths int // pieces in all, to a board, lengths that boards are cut to
	onHand              int
	stock               []length.Length // beside 16 ft
}

func (j forcedJob) boards() int { return j.pieces / j.to }

func (j forcedJob) input(seed uint64) cutting.Input {
	const longest, kerf, trim, grid = 192 * in, in / 8, in / 2, in / 16
	rng := rand.New(rand.NewPCG(seed, uint64(j.pieces*j.lengths)))
	out := cutting.Input{Kerf: kerf, EndTrim: trim, Budget: largeBudget(j.pieces), Stock: []cutting.Stock{{Length: longest}}}
	for _, l := range j.stock {
		out.Stock = append(out.Stock, cutting.Stock{Length: l})
	}
	mean := (longest - 2*trim) / length.Length(j.to)
	least, most := (mean * 6 / 10).RoundUp(grid), mean*14/10
	lengths := make([]length.Length, j.lengths)
	for i := range lengths {
		lengths[i] = least + grid*length.Length(rng.Int64N(int64((most-least)/grid)))
	}
	var order []length.Length
	count := map[length.Length]int{}
	add := func(pieces []length.Length) {
		for _, l := range pieces {
			if count[l]++; count[l] == 1 {
				order = append(order, l)
			}
		}
	}
	full := func(stock length.Length) (pieces []length.Length) {
		left := stock - 2*trim
		for left > least+most {
			l := lengths[rng.IntN(len(lengths))]
			if left-l-kerf < least {
				break
			}
			pieces = append(pieces, l)
			left -= l + kerf
		}
		return append(pieces, left)
	}
	different := make([][]length.Length, max(2, j.lengths/2))
	for i := range different {
		different[i] = full(longest)
	}
	for range j.boards() {
		add(different[rng.IntN(len(different))])
	}
	for range j.onHand {
		stock := (least + most).RoundUp(grid) + grid*length.Length(rng.Int64N(int64((longest-least-most)/grid)))
		out.Stock = append(out.Stock, cutting.Stock{Length: stock, Count: 1, OnHand: true})
		add(full(stock))
	}
	for i, l := range order {
		out.Pieces = append(out.Pieces, cutting.Piece{Label: fmt.Sprint(i), Length: l, Count: count[l]})
	}
	return out
}

// TestLargeForced wants what is proved to be exactly what was cut, and the plan within one board of it for a thousand pieces and within three
// beyond.
func TestLargeForced(t *testing.T) {
	const ft = 12 * in
	for _, pieces := range largeJobs() {
		for _, to := range []int{3, 6} {
			for _, lengths := range []int{10, 150, 3_000} {
				for _, onHand := range []int{0, 30} {
					j := forcedJob{pieces: pieces, to: to, lengths: lengths, onHand: onHand, stock: []length.Length{8 * ft, 10 * ft, 12 * ft}}
					input := j.input(1)
					res := cutting.Plan(input)
					check(t, input, res)
					over := 1
					if pieces > 1_000 {
						over = 3
					}
					t.Logf("%+v: %s", j, res.Why)
					if res.Bound != j.boards() || res.New > j.boards()+over {
						t.Errorf("%+v: %s", j, res.Why)
					}
				}
			}
		}
	}
}

// rails are two rails a bay, of bays from so many to so many inches, on the marking grid of inches or of millimetres, out of five or six
// lengths of stock; and as many boards on hand.
func rails(pieces, from, to int, metric bool, onHand int) cutting.Input {
	const ft, mm = 12 * in, length.Millimetre
	rng := rand.New(rand.NewPCG(1, uint64(pieces)))
	out := cutting.Input{Kerf: in / 8, EndTrim: in / 2, Budget: largeBudget(pieces)}
	inch, grid, stock := length.Length(in), length.Length(in/16), []length.Length{8 * ft, 10 * ft, 12 * ft, 14 * ft, 16 * ft}
	if metric {
		out.Kerf, out.EndTrim = 3*mm, 12*mm
		inch, grid, stock = 25*mm, mm, []length.Length{2400 * mm, 3000 * mm, 3600 * mm, 4200 * mm, 4800 * mm, 5400 * mm}
	}
	for _, l := range stock {
		out.Stock = append(out.Stock, cutting.Stock{Length: l})
	}
	steps := int64(length.Length(to-from) * inch / grid)
	for i := range pieces / 2 {
		l := length.Length(from)*inch + grid*length.Length(rng.Int64N(steps))
		out.Pieces = append(out.Pieces, cutting.Piece{Label: fmt.Sprint(i, " top"), Length: l, Count: 1}, cutting.Piece{Label: fmt.Sprint(i, " bottom"), Length: l - 4*grid, Count: 1})
	}
	for range onHand {
		out.Stock = append(out.Stock, cutting.Stock{Length: length.Length(from)*inch + grid*length.Length(rng.Int64N(2*steps)), Count: 1, OnHand: true})
	}
	return out
}

// TestLargeRails wants plans of random rails within one board of what is proved, but for the longest: of those three or four fill
// a board by no more than a hair, the bound is not that good, and one in thirty is allowed.
func TestLargeRails(t *testing.T) {
	for _, pieces := range largeJobs() {
		for _, bay := range [][2]int{{48, 72}, {30, 70}, {20, 40}} {
			for _, metric := range []bool{false, true} {
				for _, onHand := range []int{0, 30} {
					input := rails(pieces, bay[0], bay[1], metric, onHand)
					res := cutting.Plan(input)
					check(t, input, res)
					over := 1
					if bay[0] == 48 {
						over = res.Bound / 30
					}
					t.Logf("%d of %v, metric %v, %d on hand: %s", pieces, bay, metric, onHand, res.Why)
					if res.New > res.Bound+over {
						t.Errorf("%d of %v, metric %v, %d on hand: %s", pieces, bay, metric, onHand, res.Why)
					}
				}
			}
		}
	}
}

// TestLargeOrder wants the same plan of the same pieces and stock in the opposite order.
func TestLargeOrder(t *testing.T) {
	for _, onHand := range []int{0, 30} {
		input := rails(5_000, 48, 72, true, onHand)
		turned := input
		turned.Pieces, turned.Stock = slices.Clone(input.Pieces), slices.Clone(input.Stock)
		slices.Reverse(turned.Pieces)
		slices.Reverse(turned.Stock)
		if got, want := cutting.Plan(turned), cutting.Plan(input); !reflect.DeepEqual(got, want) {
			t.Errorf("%d on hand: %s the other way round: %s", onHand, want.Why, got.Why)
		}
		if got, want := cutting.PlanWithin(turned, cutting.DefaultBudget), cutting.PlanWithin(input, cutting.DefaultBudget); !reflect.DeepEqual(got, want) {
			t.Errorf("planned again, %d on hand: %s the other way round: %s", onHand, want.Why, got.Why)
		}
	}
}

// TestPlanWithin: a thousand rails of the family whose bound is weakest, with boards on hand, are within one board of it once they are planned
// again; what is within one board at once is not planned again.
func TestPlanWithin(t *testing.T) {
	input := rails(1_000, 48, 72, true, 30)
	first := cutting.Plan(input)
	if first.New <= first.Bound+1 {
		t.Fatalf("this job shows nothing: %s", first.Why)
	}
	res := cutting.PlanWithin(input, cutting.DefaultBudget)
	check(t, input, res)
	if res.New > res.Bound+1 || res.New > first.New {
		t.Errorf("%s, and at first %s", res.Why, first.Why)
	}
	for _, pieces := range []int{150, 400, 700, 1_000} {
		for _, onHand := range []int{0, 10} {
			res := cutting.PlanWithin(rails(pieces, 48, 72, true, onHand), cutting.DefaultBudget)
			if res.New > res.Bound+1 {
				t.Errorf("%d pieces, %d boards on hand: %s", pieces, onHand, res.Why)
			}
		}
	}
	if easy := rails(1_000, 20, 40, true, 0); !reflect.DeepEqual(cutting.PlanWithin(easy, cutting.DefaultBudget), cutting.Plan(easy)) {
		t.Error("a plan within one board came out otherwise")
	}
}

// hardJobs are the kinds of job of so many pieces that take the most to come within one board of the bound.
func hardJobs(pieces, onHand int) map[string]cutting.Input {
	const ft = 12 * in
	forced := forcedJob{pieces: pieces, to: 3, lengths: 3_000, onHand: onHand, stock: []length.Length{8 * ft, 10 * ft, 12 * ft}}
	return map[string]cutting.Input{
		"boards cut full":       forced.input(2),
		"36 to 50 in":           rails(pieces, 36, 50, false, onHand),
		"48 to 72 in":           rails(pieces, 48, 72, false, onHand),
		"60 to 96 in":           rails(pieces, 60, 96, false, onHand),
		"48 to 72 times 25 mm":  rails(pieces, 48, 72, true, onHand),
		"70 to 110 times 25 mm": rails(pieces, 70, 110, true, onHand),
	}
}

// TestPlanWithinLarge wants the hard jobs within one board of the bound once they are planned again, where that is needed.
func TestPlanWithinLarge(t *testing.T) {
	for _, pieces := range largeJobs()[1:] {
		for _, onHand := range []int{0, 30} {
			for name, input := range hardJobs(pieces, onHand) {
				res := cutting.PlanWithin(input, cutting.DefaultBudget)
				check(t, input, res)
				t.Logf("%d of %s, %d on hand: %s", pieces, name, onHand, res.Why)
				if res.New > res.Bound+1 {
					t.Errorf("%d of %s, %d on hand: %s", pieces, name, onHand, res.Why)
				}
			}
		}
	}
}

// TestPlanWithinOfOneLength: blocking of a long deck, nearly all of one length: 13 of 14 1/2 in fill a board of 16 ft, and 12 of them and what takes
// 15 5/8 with its kerfs fill one too. Were all else cut so, the boards would be (19,628 + 7,800.25 / 15.625) / 13, over 1,548; the plan is proved
// least. Worked by hand, as the dual of the relaxation.
func TestPlanWithinOfOneLength(t *testing.T) {
	input := cutting.Input{Kerf: in / 8, EndTrim: in / 2, Budget: pageBudget, Stock: []cutting.Stock{{Length: 192 * in}, {Length: 144 * in}, {Length: 120 * in}, {Length: 96 * in}}}
	for halves, count := range map[int]int{1: 14, 2: 14, 3: 14, 4: 14, 5: 12, 6: 12, 7: 28, 8: 28, 9: 28, 10: 28, 11: 28, 12: 28, 13: 24, 14: 24, 15: 28, 16: 28, 17: 28,
		18: 42, 19: 28, 20: 42, 21: 24, 22: 36, 23: 44, 24: 42, 25: 42, 26: 42, 27: 42, 28: 28, 29: 19_628, 30: 24, 31: 42} {
		input.Pieces = append(input.Pieces, cutting.Piece{Label: fmt.Sprint(halves), Length: in / 2 * length.Length(halves), Count: count})
	}
	res := cutting.PlanWithin(input, cutting.DefaultBudget)
	check(t, input, res)
	if res.New > 1_550 || res.Bound < 1_549 || !res.Optimal {
		t.Error(res.Why)
	}
}
