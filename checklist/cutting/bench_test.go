package cutting_test

import (
	"fmt"
	"testing"

	"newelbook/checklist/cutting"
	"newelbook/checklist/length"
)

// guard is the pieces of an invented job of so many bays: two rails and thirteen balusters a bay, in 26 lengths of rail
// and four of baluster.
func guard(bays int) []cutting.Piece {
	var out []cutting.Piece
	for b := range bays {
		rail := 60*in + length.Length(b*7%13)*in/2
		name := fmt.Sprintf("R1-B%d", b+1)
		out = append(out,
			cutting.Piece{Label: name + " top", Length: rail, Count: 1},
			cutting.Piece{Label: name + " bottom", Length: rail - in/4, Count: 1},
			cutting.Piece{Label: name + " balusters", Length: 32*in + in/4 + length.Length(b%4)*in, Count: 13})
	}
	return out
}

// guardInput is that job on one stock length, or on five.
func guardInput(bays int, mixed bool) cutting.Input {
	const ft = 12 * in
	input := cutting.Input{Pieces: guard(bays), Stock: []cutting.Stock{{Length: 16 * ft}}, Kerf: in / 8, EndTrim: in / 4}
	if mixed {
		input.Stock = []cutting.Stock{{Length: 8 * ft}, {Length: 10 * ft}, {Length: 12 * ft}, {Length: 14 * ft}, {Length: 16 * ft}}
	}
	return input
}

func TestManyBays(t *testing.T) {
	for _, mixed := range []bool{false, true} {
		for _, bays := range []int{1, 10, 100, 1_000, 10_000} {
			input := guardInput(bays, mixed)
			res := cutting.Plan(input)
			check(t, input, res)
			if !res.Optimal || !res.LeastStock {
				t.Errorf("%d bays, mixed stock %v: optimal %v, least stock %v: %s", bays, mixed, res.Optimal, res.LeastStock, res.Why)
			}
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	for _, bays := range []int{10, 100, 1_000, 10_000} {
		for _, mixed := range []bool{false, true} {
			b.Run(fmt.Sprintf("bays=%d/mixed=%v", bays, mixed), func(b *testing.B) {
				input := guardInput(bays, mixed)
				b.ReportAllocs()
				for b.Loop() {
					cutting.Plan(input)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(bays), "ns/bay")
			})
		}
	}
}

func BenchmarkTriplets(b *testing.B) {
	for _, boards := range []int{20, 40, 83, 167} {
		b.Run(fmt.Sprintf("pieces=%d", 3*boards), func(b *testing.B) {
			input := triplets(boards, 1)
			for b.Loop() {
				cutting.Plan(input)
			}
		})
	}
}
