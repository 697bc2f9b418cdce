package pack

import (
	"testing"

	"newelbook/checklist/layout"
)

// Only posts that are held alike are told by one drawing; a shared one is told where it is its own run's.
func TestFramedAlike(t *testing.T) {
	block := func(counts ...int) (all []layout.Piece) {
		for _, n := range counts {
			all = append(all, layout.Piece{Count: n})
		}
		return all
	}
	bolts := make([]layout.Bolt, 2)
	posts := []layout.Post{
		{Number: 1, SharedAs: "R1-P3", Blocking: block(2), Bolts: bolts},
		{Number: 2, Blocking: block(2), Bolts: bolts},
		{Number: 3, Blocking: block(1, 1), Bolts: bolts},
		{Number: 4, Blocking: block(2), Bolts: bolts},
		{Number: 5, Blocking: block(2), Bolts: bolts, Corner: bolts},
		{Number: 6, Turned: 45},
	}
	var got [][]int
	for _, alike := range framedAlike(posts) {
		var numbers []int
		for _, p := range alike {
			numbers = append(numbers, p.Number)
		}
		got = append(got, numbers)
	}
	want := [][]int{{2, 4}, {3}, {5}, {6}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if len(got[i]) != len(want[i]) || got[i][0] != want[i][0] {
			t.Errorf("%v, want %v", got, want)
		}
	}
}
