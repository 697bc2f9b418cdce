package cutting_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/cutting"
	"newelbook/checklist/length"
)

const (
	in = length.Inch
	mm = length.Millimetre
)

// pieces is an input of pieces of the given lengths, labelled a, b, c and so on.
func pieces(lengths ...length.Length) []cutting.Piece {
	var out []cutting.Piece
	for i, l := range lengths {
		out = append(out, cutting.Piece{Label: string(rune('a' + i)), Length: l, Count: 1})
	}
	return out
}

func TestKerfAndTrim(t *testing.T) {
	for _, tt := range []struct {
		name             string
		stock            length.Length
		kerf, trim       length.Length
		pieces           []length.Length
		boards           int
		from             []length.Length // on the first board
		dust, left, over length.Length   // of the first board: kerf, left, waste
	}{
		{"flush without kerf", 96 * in, 0, 0, []length.Length{48 * in, 48 * in}, 1, []length.Length{0, 48 * in}, 0, 0, 0},
		{"the kerf between two halves is too much", 96 * in, in / 8, 0, []length.Length{48 * in, 48 * in}, 2, []length.Length{0}, in / 8, 48*in - in/8, 48 * in},
		{"one kerf between, none behind a flush end", 96*in + in/8, in / 8, 0, []length.Length{48 * in, 48 * in}, 1, []length.Length{0, 48*in + in/8}, in / 8, 0, in / 8},
		{"less than a kerf left is dust", 96*in + in/8 + in/16, in / 8, 0, []length.Length{48 * in, 48 * in}, 1, []length.Length{0, 48*in + in/8}, in/8 + in/16, 0, in/8 + in/16},
		{"a piece is left behind the last cut", 100 * in, in / 8, 0, []length.Length{48 * in, 48 * in}, 1, []length.Length{0, 48*in + in/8}, in / 4, 4*in - in/4, 4 * in},
		{"both ends are trimmed", 98 * in, 0, in, []length.Length{48 * in, 48 * in}, 1, []length.Length{in, 49 * in}, 0, 0, 2 * in},
		{"one nanometre too long with trim", 98*in - 1, 0, in, []length.Length{48 * in, 48 * in}, 2, []length.Length{in}, 0, 48*in - 1, 50*in - 1},
		{"a whole board", 2400 * mm, 3 * mm, 0, []length.Length{2400 * mm}, 1, []length.Length{0}, 0, 0, 0},
		{"metric with both", 2400 * mm, 3 * mm, 10 * mm, []length.Length{1200 * mm, 1177 * mm}, 1, []length.Length{10 * mm, 1213 * mm}, 3 * mm, 0, 23 * mm},
	} {
		res := cutting.Plan(cutting.Input{Pieces: pieces(tt.pieces...), Stock: []cutting.Stock{{Length: tt.stock}}, Kerf: tt.kerf, EndTrim: tt.trim})
		if len(res.Boards) != tt.boards || !res.Optimal {
			t.Errorf("%s: %d boards, optimal %v, want %d", tt.name, len(res.Boards), res.Optimal, tt.boards)
			continue
		}
		b := res.Boards[0]
		if b.Kerf != tt.dust || b.Left != tt.left || b.Waste != tt.over {
			t.Errorf("%s: kerf %v, left %v, waste %v, want %v, %v, %v", tt.name, b.Kerf, b.Left, b.Waste, tt.dust, tt.left, tt.over)
		}
		for i, c := range b.Cuts {
			if c.From != tt.from[i] {
				t.Errorf("%s: cut %d from %v, want %v", tt.name, i, c.From, tt.from[i])
			}
		}
	}
}

func TestMixedStock(t *testing.T) {
	const ft = 12 * in
	for _, tt := range []struct {
		name   string
		pieces []length.Length
		stock  []cutting.Stock
		want   []length.Length
	}{
		{"the shortest that holds it", []length.Length{5 * ft}, []cutting.Stock{{Length: 16 * ft}, {Length: 6 * ft}, {Length: 8 * ft}}, []length.Length{6 * ft}},
		{"fewest boards before least stock", []length.Length{6 * ft, 6 * ft}, []cutting.Stock{{Length: 16 * ft}, {Length: 6 * ft}}, []length.Length{16 * ft}},
		{"least stock at equal boards", []length.Length{9 * ft, 7 * ft, 4 * ft}, []cutting.Stock{{Length: 12 * ft}, {Length: 8 * ft}}, []length.Length{12 * ft, 12 * ft}},
		{"a regrouping saves stock", []length.Length{7 * ft, 5 * ft, 5 * ft, 3 * ft}, []cutting.Stock{{Length: 14 * ft}, {Length: 12 * ft}, {Length: 8 * ft}}, []length.Length{12 * ft, 8 * ft}},
		{"long boards run out", []length.Length{8 * ft, 8 * ft, 8 * ft, 8 * ft}, []cutting.Stock{{Length: 16 * ft, Count: 1}, {Length: 8 * ft}}, []length.Length{16 * ft, 8 * ft, 8 * ft}},
		{"equal entries add up", []length.Length{8 * ft, 8 * ft}, []cutting.Stock{{Length: 8 * ft, Count: 1}, {Length: 8 * ft, Count: 1}}, []length.Length{8 * ft, 8 * ft}},
		{"a negative count is none", []length.Length{4 * ft}, []cutting.Stock{{Length: 4 * ft, Count: -1}, {Length: 8 * ft}}, []length.Length{8 * ft}},
	} {
		res := cutting.Plan(cutting.Input{Pieces: pieces(tt.pieces...), Stock: tt.stock})
		var got []length.Length
		for _, b := range res.Boards {
			got = append(got, b.Stock)
		}
		if len(got) != len(tt.want) || !res.Optimal || !res.LeastStock || res.StockBound != res.Stock {
			t.Errorf("%s: boards %v, optimal %v, least stock %v (%v of %v), want %v", tt.name, got, res.Optimal, res.LeastStock, res.StockBound, res.Stock, tt.want)
			continue
		}
		for i := range got {
			if got[i] != tt.want[i] {
				t.Errorf("%s: boards %v, want %v", tt.name, got, tt.want)
				break
			}
		}
	}
}

// What is on hand is used before anything is bought, however many boards that makes, and of what is on hand the shortest
// that serves.
func TestOnHandComesFirst(t *testing.T) {
	const ft = 12 * in
	for _, tt := range []struct {
		name   string
		pieces []length.Length
		stock  []cutting.Stock
		onHand []length.Length
		bought []length.Length
		why    string
	}{
		{"before a new board of the same length", []length.Length{50 * in, 50 * in, 50 * in}, []cutting.Stock{{Length: 60 * in}, {Length: 60 * in, Count: 2, OnHand: true}},
			[]length.Length{60 * in, 60 * in}, []length.Length{60 * in}, "1 board to buy, with 2 on hand; 1 is the least possible."},
		{"three on hand rather than one bought", []length.Length{4 * ft, 4 * ft, 4 * ft}, []cutting.Stock{{Length: 16 * ft}, {Length: 5 * ft, Count: 3, OnHand: true}},
			[]length.Length{5 * ft, 5 * ft, 5 * ft}, nil, "3 boards on hand and none to buy."},
		{"the shortest on hand that serves", []length.Length{4 * ft}, []cutting.Stock{{Length: 16 * ft}, {Length: 12 * ft, Count: 1, OnHand: true}, {Length: 5 * ft, Count: 1, OnHand: true}},
			[]length.Length{5 * ft}, nil, "1 board on hand and none to buy."},
		{"the rest of the stock bought short", []length.Length{8 * ft, 6 * ft, 5 * ft}, []cutting.Stock{{Length: 16 * ft}, {Length: 12 * ft}, {Length: 8 * ft, Count: 1, OnHand: true}},
			[]length.Length{8 * ft}, []length.Length{12 * ft}, "1 board to buy, with 1 on hand; 1 is the least possible."},
		{"too short to be of use", []length.Length{6 * ft}, []cutting.Stock{{Length: 8 * ft}, {Length: 5 * ft, Count: 4, OnHand: true}},
			nil, []length.Length{8 * ft}, "1 board; 1 is the least possible."},
		{"nothing to be had but what is on hand", []length.Length{6 * ft, 6 * ft}, []cutting.Stock{{Length: 8 * ft, Count: 1, OnHand: true}},
			[]length.Length{8 * ft}, nil, "1 board on hand and none to buy; the stock given cannot hold every piece; 1 piece not placed."},
		{"none of it without a count", []length.Length{6 * ft}, []cutting.Stock{{Length: 8 * ft}, {Length: 8 * ft, OnHand: true}},
			nil, []length.Length{8 * ft}, "1 board; 1 is the least possible."},
	} {
		input := cutting.Input{Pieces: pieces(tt.pieces...), Stock: tt.stock}
		res := cutting.Plan(input)
		check(t, input, res)
		var onHand, bought []length.Length
		for _, b := range res.Boards {
			if b.OnHand {
				onHand = append(onHand, b.Stock)
			} else {
				bought = append(bought, b.Stock)
			}
		}
		if !slices.Equal(onHand, tt.onHand) || !slices.Equal(bought, tt.bought) || res.Why != tt.why {
			t.Errorf("%s: on hand %v, bought %v, %q; want %v, %v, %q", tt.name, onHand, bought, res.Why, tt.onHand, tt.bought, tt.why)
		}
	}
}

func TestUnplaced(t *testing.T) {
	stock := []cutting.Stock{{Length: 96 * in}}
	for _, tt := range []struct {
		name   string
		in     cutting.Input
		count  int
		reason string
		why    string
	}{
		{"longer than the stock", cutting.Input{Pieces: pieces(97*in, 40*in), Stock: stock},
			1, `The piece is 97" long and the longest stock is 96".`, "1 board; 1 is the least possible; 1 piece not placed."},
		{"longer than the trimmed stock", cutting.Input{Pieces: pieces(96 * in), Stock: stock, EndTrim: in / 4},
			1, `The piece is 96" long; the longest stock is 96" and gives 95 1/2" once 1/4" is trimmed off each end.`, "No board is cut; 1 piece not placed."},
		{"longer by what rounding hides", cutting.Input{Pieces: pieces(96*in + 1), Stock: stock},
			1, `The piece is 96.00000004" long and the longest stock is 96.00000000".`, "No board is cut; 1 piece not placed."},
		{"no length", cutting.Input{Pieces: pieces(0), Stock: stock},
			1, "Enter a length greater than zero for this piece.", "No board is cut; 1 piece not placed."},
		{"no stock", cutting.Input{Pieces: pieces(10 * in)},
			1, "No stock is given that is longer than its two end trims.", "No board is cut; 1 piece not placed."},
		{"stock shorter than its trims", cutting.Input{Pieces: pieces(10 * in), Stock: []cutting.Stock{{Length: 4 * in}}, EndTrim: 2 * in},
			1, "No stock is given that is longer than its two end trims.", "No board is cut; 1 piece not placed."},
		{"negative kerf", cutting.Input{Pieces: pieces(10 * in), Stock: stock, Kerf: -1},
			1, "Enter a saw kerf of zero or more.", "No board is cut; 1 piece not placed."},
		{"negative trim", cutting.Input{Pieces: pieces(10 * in), Stock: stock, EndTrim: -1},
			1, "Enter an end trim of zero or more.", "No board is cut; 1 piece not placed."},
		{"stock used up", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 50 * in, Count: 5}}, Stock: []cutting.Stock{{Length: 96 * in, Count: 3}}},
			2, "No board of the stock given is left that holds this piece.", "3 boards; the stock given cannot hold every piece; 2 pieces not placed."},
		{"too many pieces", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 90 * in, Count: cutting.MaxPieces + 7}}, Stock: stock},
			7, "A plan holds at most 1,000,000 pieces.", "1,000,000 boards; 1,000,000 is the least possible; 7 pieces not placed."},
	} {
		tt.in.Style = length.InchFraction
		res := cutting.Plan(tt.in)
		if len(res.Unplaced) != 1 || res.Unplaced[0].Count != tt.count || res.Unplaced[0].Reason != tt.reason {
			t.Errorf("%s: unplaced %+v, want %d: %s", tt.name, res.Unplaced, tt.count, tt.reason)
		}
		if res.Why != tt.why {
			t.Errorf("%s: why %q, want %q", tt.name, res.Why, tt.why)
		}
	}
}

func TestNothingToCut(t *testing.T) {
	res := cutting.Plan(cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 10 * in}, {Label: "b", Length: 10 * in, Count: -3}}, Stock: []cutting.Stock{{Length: 96 * in}}})
	if len(res.Boards) != 0 || len(res.Unplaced) != 0 || res.Bound != 0 || !res.Optimal || res.Why != "Nothing to cut." {
		t.Errorf("Plan of nothing = %+v", res)
	}
}

// TestBudget holds that the search stops at its limit and says so, with a plan and a bound all the same.
func TestBudget(t *testing.T) {
	hard := triplets(40, 1)
	hard.Budget = 2_000
	res := cutting.Plan(hard)
	check(t, hard, res)
	if res.Optimal || res.Bound != 40 || len(res.Boards) <= 40 {
		t.Fatalf("%d boards, bound %d, optimal %v: want a plan short of the bound of 40", len(res.Boards), res.Bound, res.Optimal)
	}
	if !strings.HasSuffix(res.Why, " boards; at least 40 are needed, so this is at most 1 too many; the search stopped at its limit of 2,000 steps.") {
		t.Errorf("why = %q", res.Why)
	}
	if res.Nodes < hard.Budget || res.Nodes > 10*hard.Budget {
		t.Errorf("%d steps spent of %d", res.Nodes, hard.Budget)
	}
}

// TestExtremes holds that lengths and counts at the ends of their types are planned or refused without overflow.
func TestExtremes(t *testing.T) {
	const huge = 1 << 62
	for _, tt := range []struct {
		name   string
		in     cutting.Input
		boards int
	}{
		{"a million specks on the longest stock", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 1, Count: cutting.MaxPieces}}, Stock: []cutting.Stock{{Length: cutting.MaxLength}}}, 1},
		{"a million of the longest", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: cutting.MaxLength, Count: cutting.MaxPieces}}, Stock: []cutting.Stock{{Length: cutting.MaxLength}}}, cutting.MaxPieces},
		{"the widest kerf", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 4, Count: 10}}, Stock: []cutting.Stock{{Length: 10}}, Kerf: cutting.MaxLength}, 10},
		{"stock and pieces out of range", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: huge, Count: 2}, {Label: "a", Length: -huge, Count: 2}}, Stock: []cutting.Stock{{Length: huge}, {Length: 10}}}, 0},
		{"counts that add up beyond the type", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 5, Count: 10}}, Stock: []cutting.Stock{{Length: 10, Count: huge}, {Length: 10, Count: huge}}}, 5},
		{"a trim out of range", cutting.Input{Pieces: []cutting.Piece{{Label: "a", Length: 5, Count: 1}}, Stock: []cutting.Stock{{Length: 10}}, EndTrim: huge}, 0},
	} {
		res := cutting.Plan(tt.in)
		check(t, tt.in, res)
		if len(res.Boards) != tt.boards {
			t.Errorf("%s: %d boards, want %d", tt.name, len(res.Boards), tt.boards)
		}
	}
}

// TestManyLengths holds a plan of two thousand different lengths, which are taken in groups, within one in a hundred of
// its bound.
func TestManyLengths(t *testing.T) {
	input := cutting.Input{Stock: []cutting.Stock{{Length: 192 * in}}, Kerf: in / 8}
	for i := range 2_000 {
		input.Pieces = append(input.Pieces, cutting.Piece{Label: "a", Length: 50*in + length.Length(i*1_237%2_880)*in/64, Count: 1})
	}
	res := cutting.Plan(input)
	check(t, input, res)
	if got := len(res.Boards); got*100 > res.Bound*101 {
		t.Errorf("%s", res.Why)
	} else {
		t.Log(res.Why)
	}
}

// TestLabels holds that pieces of one length are dealt in the order of their labels.
func TestLabels(t *testing.T) {
	res := cutting.Plan(cutting.Input{
		Pieces: []cutting.Piece{{Label: "R1-B2 top", Length: 60 * in, Count: 1}, {Label: "R1-B1 top", Length: 60 * in, Count: 2}, {Label: "R1-B1 bottom", Length: 30 * in, Count: 1}},
		Stock:  []cutting.Stock{{Length: 96 * in}},
	})
	var got []string
	for _, b := range res.Boards {
		for _, c := range b.Cuts {
			got = append(got, c.Label)
		}
	}
	if want := "R1-B1 top, R1-B1 bottom, R1-B1 top, R1-B2 top"; strings.Join(got, ", ") != want {
		t.Errorf("labels = %s, want %s", strings.Join(got, ", "), want)
	}
}
