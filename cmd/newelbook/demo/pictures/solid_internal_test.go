package pictures

import "testing"

func TestInFront(t *testing.T) {
	s := &scene{}
	s.aim(vec{-10, -50, 30}, vec{0, 0, 0}, 10)
	cube := func(x, y, z float64) solid { return box(cedar, 0, vec{x, y, z}, vec{x + 2, y + 2, z + 2}) }
	for _, tt := range []struct {
		name string
		a, b solid
		want bool
	}{
		{"nearer", cube(0, -5, 0), cube(0, 5, 0), true},
		{"farther", cube(0, 5, 0), cube(0, -5, 0), false},
		{"above, seen from above", cube(0, 0, 5), cube(0, 0, 0), true},
		{"below, seen from above", cube(0, 0, 0), cube(0, 0, 5), false},
		{"touching and nearer", cube(0, -2, 0), cube(0, 0, 0), true},
		{"nearer but below", cube(0, -5, 0), cube(0, 5, 5), false},
		{"itself", cube(0, 0, 0), cube(0, 0, 0), false},
	} {
		if got := s.inFront(tt.a, tt.b); got != tt.want {
			t.Errorf("%s: inFront = %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestOrder(t *testing.T) {
	s := &scene{}
	s.aim(vec{0, -50, 0}, vec{0, 0, 0}, 1)
	near := box(cedar, 0, vec{-1, -3, -1}, vec{1, -2, 1})
	mid := box(cedar, 0, vec{-1, 0, -1}, vec{1, 1, 1})
	far := box(cedar, 0, vec{-1, 3, -1}, vec{1, 4, 1})
	var order []string
	for _, given := range [][]int{{0, 1, 2}, {2, 1, 0}, {1, 2, 0}} {
		all := []struct {
			name string
			solid
		}{{"near", near}, {"mid", mid}, {"far", far}}
		var parts []solid
		for _, i := range given {
			parts = append(parts, all[i].solid)
		}
		order = order[:0]
		for _, i := range s.order(parts) {
			order = append(order, all[given[i]].name)
		}
		if len(order) != 3 || order[0] != "far" || order[1] != "mid" || order[2] != "near" {
			t.Errorf("given %v the order is %v, want far, mid, near", given, order)
		}
	}
}
