package layout_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestRakedTops: the top of a post under a raked cap falls with the rake, and is called for at both faces; it is cut long first, and that is the
// length to order. On 6 by 8 (rake 0.75, 36.87 degrees) a guard of 36 in with a cap of 1 in, 1.25 plumb, has its post tops 34.75 over the nosing
// line; the second post's downhill face stands 1.25 behind the nosing of tread 3 as of any post 23 in up, its uphill one 3.5 x 0.75 higher.
func TestRakedTops(t *testing.T) {
	run := layout.Run{Riser: inch(6), Tread: inch(8), Risers: 6, Posts: []length.Length{inch(19)}, PostsOn: layout.OnTreads, FootOn: layout.OnPad}
	for _, c := range []struct {
		name                  string
		change                func(*layout.Spec)
		shape                 string
		downhill, uphill, cut float64
		says, piece           string
	}{
		{"under the cap", func(*layout.Spec) {}, layout.TopRaked, 34.75 + 0.9375, 34.75 + 3.5625, 38.3125,
			`to the rake, 36.9 degrees off square, 35 11/16" at its downhill face and 38 5/16" at its uphill one, above tread 3`, `36.9 degrees off square, 38 5/16" to its long point`},
		{"through the cap", func(s *layout.Spec) { s.PostsAtCap, s.PostAbove = layout.PostsThroughCap, inch(2) }, layout.TopSquare, 38 + 3.5625, 38 + 3.5625, 41.5625,
			`square, 41 9/16" above tread 3`, `top in place, square, at 41 9/16"`},
		{"no cap", func(s *layout.Spec) { s.CapThickness = 0 }, layout.TopSquare, 36 + 3.5625, 36 + 3.5625, 39.5625, `square, 39 9/16" above tread 3`, `top in place, square, at 39 9/16"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := rakeWith(t, "irc-2018", length.Inches, run, func(s *layout.Spec) {
				s.StairHeight, s.PostMaxCentres, s.CapThickness = inch(36), inch(72), inch(1)
				c.change(s)
			})
			p := l.Posts[1]
			if p.TopCut == nil || p.TopCut.Shape != c.shape || (p.TopCut.Bevel != 0) != (c.shape == layout.TopRaked) {
				t.Fatalf("%+v", p.TopCut)
			}
			near(t, "downhill", p.TopCut.Downhill.Inches(), c.downhill, 1e-6)
			near(t, "uphill", p.TopCut.Uphill.Inches(), c.uphill, 1e-6)
			near(t, "cut", p.Cut.Inches(), c.cut, 1e-6)
			near(t, "cut first to", p.Rough.Inches(), c.cut+2, 1e-6)
			if !strings.Contains(p.TopCut.Says, c.says) {
				t.Errorf("it says %q", p.TopCut.Says)
			}
			for _, piece := range l.Pieces {
				if piece.Label == p.Label && (piece.Length != p.Rough || !strings.Contains(piece.Cuts, c.piece)) {
					t.Errorf("the piece is %v, %s", piece.Length, piece.Cuts)
				}
			}
		})
	}
}
