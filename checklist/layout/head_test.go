package layout_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
)

// TestHeadTop: the top of the post that a level guard and a flight share, and where both caps end, tell one story in both runs. The flight is 6
// by 8 (rake 0.75, 1.25 along it to one of run), its top nosing 4 1/4 in in front of the post's centre, so that the faces of the 3 1/2 in post
// stand 2 1/2 and 6 in behind it. Caps of 1 in by 5 1/2 (1.25 plumb on the rake) lie 1 in past the posts; the level one is 36 in high unless said.
func TestHeadTop(t *testing.T) {
	through := func(s *layout.Spec) { s.PostsAtCap, s.PostAbove = layout.PostsThroughCap, inch(2) }
	for _, c := range []struct {
		name             string
		rake, level      float64 // finished heights
		turn             int
		spec             func(*layout.Spec)
		shape, carries   string
		downhill, uphill float64 // of the top, above the decking
		line, foot       float64
		jog              float64
		levelCap         float64 // length of the level cap; its run is 72 in, its other end 2 3/4 in past that post's centre
		rakeCap          float64 // of the raked one; in plan 44 1/4 in, and 2 3/4 past the foot post's centre
		says             []string
	}{
		// The raked cap's underside is at 36 - 1.25 + 0.75 x 2.5 and x 6; it is lower than the level cap's top, 36, up to 1.667 in behind the nosing. The level cap
		// begins at 1.5 in, and so a corner of it is notched, as long as the raked cap overhangs the post.
		{"the raked one is the higher", 36, 36, 90, nil, layout.TopRaked, "R2", 36.625, 39.25, 0, 0, -1.875, 72 + 2.75 - 1.75, (44.25 + 5.5) * 1.25,
			[]string{`to the rake, 36.9 degrees off square, 36 5/8" at its downhill face and 39 1/4" at its uphill one, above the decking`, `It carries the raked cap`, `against the post under the raked cap, its downhill corner notched in plan, 1" along and 3/16" across, for that cap`}},
		// High above the level cap it goes to the post under the raked one.
		{"far higher", 40, 36, 90, nil, layout.TopRaked, "R2", 40.625, 43.25, 0, 0, -5.875, 72 + 2.75 - 1.75, (44.25 + 5.5) * 1.25, []string{`against the post under the raked cap`}},
		// In line it comes to the uphill face, where the raked cap is 1 in past it and stands at 39.25.
		{"in line, the raked one is the higher", 36, 36, 0, nil, layout.TopRaked, "R2", 36.625, 39.25, 0, 0, -1.875, 72 + 2.75 - 1.75, (44.25 + 5.5) * 1.25, []string{`against the post under the raked cap`}},
		// The tops meet 2 / 0.75 = 2.667 in behind the nosing, 0.167 behind the downhill face; the raked underside there is 36 - 1.25.
		{"no jog", 34, 36, 90, nil, layout.TopBoth, "R1, R2", 34.625, 35, 1.0 / 6, 34.75, 0, 72 + 5.5, (44.25 + 2.75 + 1.0/6 - 1.75) * 1.25,
			[]string{`square at 35" as far as a line 3/16" from its downhill face`, `34 3/4" at the line and 34 5/8" at the face`, `The raked cap, 5 1/2" wide, comes to the level one, 5 1/2" wide, from its side: notch the level cap in plan, 5 1/2" along its downhill edge from its end and 1 3/16" across`}},
		{"no jog, in line", 34, 36, 0, nil, layout.TopBoth, "R1, R2", 34.625, 35, 1.0 / 6, 34.75, 0, 72 + 2.75 + 1.75 - 1.0/6, (44.25 + 2.75 + 1.0/6 - 1.75) * 1.25,
			[]string{`they meet in a line across its top, 3/16" from its downhill face`}},
		{"the level one is the higher", 34, 40, 90, nil, layout.TopSquare, "R1", 39, 39, 0, 0, 40 - 34 - 1.875, 72 + 5.5, (44.25 + 2.75 - 1.75) * 1.25,
			[]string{`square, 39" above the decking`, `It carries the level cap`, `the raked cap is cut plumb (36.9 degrees off square), against the post under the level cap`}},
		{"through the caps", 36, 36, 90, through, layout.TopSquare, "", 39.875, 39.875, 0, 0, -1.875, 72 - 3.5, (44.25 - 3.5) * 1.25, []string{`square, 39 7/8" above the decking`, "end against its faces"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			level, rake := headJob(t, false, func(a, b *layout.Run, s *layout.Spec) {
				s.LevelHeight, s.StairHeight, s.JoistDepth, s.StockLengths = inch(c.level), inch(c.rake), inch(9.25), nil
				if b.NosingFrom, b.Turn = inch(4.25), c.turn; c.spec != nil {
					c.spec(s)
				}
			})
			post, twin := level.Posts[1], rake.Posts[0]
			if len(level.Meets) != 1 || len(rake.Meets) != 1 || twin.TopCut == nil {
				t.Fatalf("they do not meet: %v, %v, %v", level.Meets, rake.Meets, twin.TopCut)
			}
			top := twin.TopCut
			if top.Shape != c.shape || c.shape != layout.TopSquare && (post.TopCut == nil || post.TopCut.Shape != c.shape || post.TopCut.Downhill != top.Downhill || post.TopCut.Uphill != top.Uphill) {
				t.Errorf("the flight says %+v, the level run %+v", top, post.TopCut)
			}
			near(t, "downhill", top.Downhill.Inches(), c.downhill, 1e-6)
			near(t, "uphill", top.Uphill.Inches(), c.uphill, 1e-6)
			near(t, "line", top.Line.Inches(), c.line, 1e-6)
			near(t, "foot", top.Foot.Inches(), c.foot, 1e-6)
			near(t, "post top", post.Top.Inches(), c.uphill, 1e-6)
			near(t, "post cut", post.Cut.Inches(), c.uphill+1+9.25, 1.0/16)
			near(t, "level cap", level.Cap[0].Length.Inches(), c.levelCap, 1.0/16)
			near(t, "raked cap", rake.Cap[0].Length.Inches(), c.rakeCap, 1.0/16)
			a, b := level.Meets[0], rake.Meets[0]
			near(t, "jog", a.Jog.Inches(), c.jog, 1e-6)
			if a.Carries != c.carries || b.Carries != c.carries || strings.Replace(a.Sentence, "with R2", "with R1", 1) != b.Sentence {
				t.Errorf("they carry %q and %q, and say\n%s\n%s", a.Carries, b.Carries, a.Sentence, b.Sentence)
			}
			for _, words := range c.says {
				if !strings.Contains(a.Sentence, words) {
					t.Errorf("it does not say %q: %s", words, a.Sentence)
				}
			}
			for _, p := range level.Pieces {
				if p.Label == post.Label && (p.Length != max(post.Cut, post.Rough) || (p.Cuts == "square") != (c.shape == layout.TopSquare)) {
					t.Errorf("the piece is %v, %s", p.Length, p.Cuts)
				}
			}
			if a.CapCut != "" && (!strings.HasSuffix(level.Cap[0].Cuts, a.CapCut) || !strings.HasPrefix(rake.Cap[0].Cuts, "datum end "+b.CapCut+";") && !strings.HasPrefix(rake.Cap[0].Cuts, "both ends "+b.CapCut)) {
				t.Errorf("the caps are cut %q and %q", level.Cap[0].Cuts, rake.Cap[0].Cuts)
			}
		})
	}
}
