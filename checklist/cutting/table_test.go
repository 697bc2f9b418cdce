package cutting

import (
	"math/rand/v2"
	"testing"
)

// TestTable holds tables of random prices against trying all that goes on a board, for every room: their worth, and what they say is on it.
func TestTable(t *testing.T) {
	const unit, longest = 5, 40
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		// The first size fits no board, and makes the pieces many enough for a table.
		p := &problem{size: []int64{unit * (longest + 1)}, need: []int{tablePieces}, class: []class{{room: unit*longest + 3, cost: 1, count: unlimited}}}
		price := []int64{7}
		for size := int64(30); size > 0; size -= 1 + rng.Int64N(6) {
			p.size, p.need, price = append(p.size, unit*size), append(p.need, 1+rng.IntN(4)), append(price, rng.Int64N(100))
		}
		tab := newTable(p)
		tab.fill(price, &budget{limit: unlimited})
		for room := int64(0); room <= p.class[0].room; room += 1 + rng.Int64N(9) {
			want := dearest(p, price, 1, room)
			if got := tab.worth[tab.units(room)]; got != want {
				t.Fatalf("%v at %v, %v needed: %d is worth %d, want %d", p.size, price, p.need, room, got, want)
			}
			uses := tab.fullest(room, -1)
			worth := int64(0)
			for _, u := range uses {
				if worth += int64(u.n) * price[u.size]; u.n > p.need[u.size] {
					t.Errorf("%v of %v needed", uses, p.need)
				}
			}
			if worth != want || p.length(pattern{uses: uses}) > room {
				t.Errorf("%v in %d is worth %d, want %d", uses, room, worth, want)
			}
		}
	}
}

// dearest is the most that pieces from a size on are worth in a room.
func dearest(p *problem, price []int64, from int, room int64) int64 {
	if from == len(p.size) {
		return 0
	}
	best := int64(0)
	for n := range p.need[from] + 1 {
		if left := room - int64(n)*p.size[from]; left >= 0 {
			best = max(best, int64(n)*price[from]+dearest(p, price, from+1, left))
		}
	}
	return best
}
