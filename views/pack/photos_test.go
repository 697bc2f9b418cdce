package pack_test

import (
	"slices"
	"testing"

	"newelbook/views/pack"
)

// Photographs stand two abreast and as large as that allows; a wide one that something is to be read off has its row to itself and is
// larger; none is drawn out of its shape or off the page.
func TestPhotographsStandAtTheirSize(t *testing.T) {
	land, tall, broad := jpegOf(t, 1, 640, 480), jpegOf(t, 2, 480, 640), jpegOf(t, 4, 900, 300)
	read := photo(3, land, 640, 480)
	read.Read = true
	shapes := []float64{4.0 / 3, 3.0 / 4, 4.0 / 3, 3, 4.0 / 3}
	for _, paper := range []pack.Paper{pack.A4, pack.Letter} {
		d := pack.Document{Title: "x", Sections: []pack.Section{{Heading: "Photographs", Level: 1, Blocks: []pack.Block{
			photo(1, land, 640, 480), photo(2, tall, 480, 640), read, photo(4, broad, 900, 300), photo(5, land, 640, 480)}}}}
		a := examined(t, pdf(t, d, paper))
		var at [][]float64 // width, height, left, foot and page of each picture
		for i, ops := range a.contents {
			for k, op := range ops {
				if op.name == "Do" {
					m := ops[k-1]
					at = append(at, []float64{m.number(0), m.number(3), m.number(4), m.number(5), float64(i)})
				}
			}
		}
		if len(at) != len(shapes) {
			t.Fatalf("paper %d: %d pictures drawn, want %d", paper, len(at), len(shapes))
		}
		for i, p := range at {
			box := a.list(a.pages()[int(p[4])]["/MediaBox"])
			if ratio := p[0] / p[1] / shapes[i]; ratio < 0.995 || ratio > 1.005 {
				t.Errorf("paper %d: picture %d is %.1f x %.1f points", paper, i+1, p[0], p[1])
			}
			if p[2] < 0 || p[3] < 0 || p[2]+p[0] > box[2].(float64) || p[3]+p[1] > box[3].(float64) {
				t.Errorf("paper %d: picture %d stands off the page: %v", paper, i+1, p)
			}
		}
		beside := func(i, k int) bool {
			return at[i][4] == at[k][4] && at[i][3] == at[k][3] && at[i][2]+at[i][0] < at[k][2]
		}
		if !beside(0, 1) || !beside(3, 4) || slices.ContainsFunc([]int{0, 1, 3, 4}, func(i int) bool { return beside(2, i) || beside(i, 2) }) {
			t.Errorf("paper %d: not two abreast, with the one to be read alone: %v", paper, at)
		}
		if at[2][0] <= at[0][0] {
			t.Errorf("paper %d: what is to be read is %.0f points wide, what is only seen %.0f", paper, at[2][0], at[0][0])
		}
	}
}
