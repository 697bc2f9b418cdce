package layout_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// onStringer is a flight of 6 steps of 7 1/2 by 10 in whose posts are bolted to the stringer; 7 1/2, 10 and 12 1/2 make a right triangle, so that a
// length along the rake is 1.25 times that in plan, and a step cuts 7 1/2 x 10 / 12 1/2 = 6 in deep.
func onStringer(change func(*layout.Run)) layout.Run {
	run := layout.Run{Riser: inch(7.5), Tread: inch(10), Risers: 6, Nosing: inch(1), Start: layout.EndStairFoot, End: layout.EndStairHead, PostsOn: layout.OnStringer, FootOn: layout.OnPad,
		Posts: []length.Length{inch(30)}, Stringer: layout.StringerClosed, StringerDepth: inch(11.25), StringerThickness: inch(1.5), StringerBelow: inch(12)}
	if change != nil {
		change(&run)
	}
	return run
}

// stringerPost is the post at 30 in, and what it is bolted to.
func stringerPost(t rapid.TB, l layout.Layout) (layout.Post, layout.Stringer) {
	t.Helper()
	for _, p := range l.Posts {
		if p.Centre == inch(30) {
			if !p.Stringer() || l.Stair.Stringer == nil || len(p.Bolts) != 2 {
				t.Fatalf("%s is not bolted to a stringer: %+v, %+v", p.Label, p.Stand, p.Bolts)
			}
			return p, *l.Stair.Stringer
		}
	}
	t.Fatal("no post at 30 in")
	return layout.Post{}, layout.Stringer{}
}

// Bolts stand from the edges of the stringer, square to them, whatever the joists are: 2 1/8 in from either edge of a closed one of 11 1/4 in, so 9 1/8 and
// 2 1/8 in from its lower edge, 11.40625 and 2.65625 in along the plumb centre line. Of a cut one 11 1/4 - 6 = 5 1/4 in count.
func TestBoltsOnStringer(t *testing.T) {
	for _, c := range []struct {
		name                 string
		change               func(*layout.Run)
		notched              bool
		depth                float64
		upTop, upLow, across float64 // of the upper bolt: from the upper edge, from the lower edge, up the centre line
	}{
		{"closed", nil, false, 11.25, 2.125, 9.125, 11.40625},
		{"cut, worked out", func(r *layout.Run) { r.Stringer = layout.StringerCut }, true, 5.25, 2.125, 3.125, 3.90625},
		{"not said to be closed", func(r *layout.Run) { r.Stringer = "" }, true, 5.25, 2.125, 3.125, 3.90625},
		{"cut, as measured", func(r *layout.Run) { r.Stringer, r.StringerThroat = layout.StringerCut, inch(6.5) }, true, 6.5, 2.125, 4.375, 5.46875},
		{"cut, as measured alone", func(r *layout.Run) { r.Stringer, r.StringerThroat, r.StringerDepth = layout.StringerCut, inch(6.5), 0 }, true, 6.5, 2.125, 4.375, 5.46875},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := rakeWith(t, "irc-2018", length.Inches, onStringer(c.change), func(s *layout.Spec) { s.JoistDepth = inch(7.25) })
			p, s := stringerPost(t, l)
			if s.Notched != c.notched {
				t.Errorf("notched %v", s.Notched)
			}
			near(t, "depth", s.Depth.Inches(), c.depth, 1e-6)
			near(t, "upper below the upper edge", p.Bolts[0].FromTop.Inches(), c.upTop, 1e-6)
			near(t, "upper above the lower edge", p.Bolts[0].FromBottom.Inches(), c.upLow, 1e-6)
			near(t, "lower above the lower edge", p.Bolts[1].FromBottom.Inches(), 2.125, 1e-6)
			near(t, "lower below the upper edge", p.Bolts[1].FromTop.Inches(), c.depth-2.125, 1e-6)
			near(t, "upper, up the centre line", s.Marks[0].Up.Inches(), c.across, 1e-6)
			near(t, "lower, up the centre line", s.Marks[1].Up.Inches(), 2.65625, 1e-6)
			near(t, "lower, below the nosing line", s.Marks[1].BelowLine.Inches(), 12-2.65625, 1e-6)
			// Nothing else is said of how far down posts reach: to the lower edge of the stringer.
			near(t, "lower, from the post's end", s.Marks[1].FromEnd.Inches(), 2.65625, 1e-6)
		})
	}
}

// The table to drill by has every way to measure both bolts, on the grid.
func TestDrill(t *testing.T) {
	l := rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.PostReach = inch(14) }), nil)
	posts, rows := l.Drill()
	want := []layout.DrillRow{
		{What: "Square to the stringer's lower edge", Upper: inch(9.125), Lower: inch(2.125)},
		{What: "Square to the stringer's upper edge", Upper: inch(2.125), Lower: inch(9.125)},
		{What: "Along the post's centre line, up from the stringer's lower edge", Upper: inch(11.4375), Lower: inch(2.6875)},
		{What: "Along the post's centre line, up from the post's lower end", Upper: inch(13.4375), Lower: inch(4.6875)},
		{What: "Plumb below the nosing line", Upper: inch(0.625), Lower: inch(9.375)},
	}
	if !slices.Equal(posts, []string{"R1-P2"}) || !slices.Equal(rows, want) {
		t.Errorf("%v are drilled by %v, want %v", posts, rows, want)
	}
}

// Up or down from the datum, the bolts stand alike.
func TestBoltsOnStringerBothWays(t *testing.T) {
	up := rakeWith(t, "irc-2018", length.Inches, onStringer(nil), nil)
	down := rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.Start, r.End, r.Posts = r.End, r.Start, []length.Length{inch(20), inch(30)} }), nil)
	_, a := stringerPost(t, up)
	_, b := stringerPost(t, down)
	if !slices.Equal(a.Marks, b.Marks) {
		t.Errorf("marks up %v, down %v", a.Marks, b.Marks)
	}
}

// The lower end of a post on the stringer stands as far below the nosing line as is said, else at the stringer's lower edge, else as deep as decking and
// joists: its cut is that, and its top above that line at its uphill face, 1 3/4 in x 0.75 higher than at its centre.
func TestPostOnStringerCut(t *testing.T) {
	plain := func(s *layout.Spec) {
		s.CapThickness, s.StairHeight, s.Decking, s.JoistDepth = 0, inch(36), inch(1), inch(9.25)
	}
	for _, c := range []struct {
		name         string
		reach, below float64
		want         float64
	}{{"as given", 14, 12, 14}, {"to the lower edge", 0, 12, 12}, {"as the framing", 0, 0, 10.25}} {
		l := rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.PostReach, r.StringerBelow = inch(c.reach), inch(c.below) }), plain)
		p, s := stringerPost(t, l)
		near(t, c.name, p.Cut.Inches(), 36+1.75*0.75+c.want, 1.0/16)
		near(t, c.name+": reach", s.Reach.Inches(), c.want, 1e-6)
		if c.below > 0 {
			near(t, c.name+": lower bolt from the end", s.Marks[1].FromEnd.Inches(), 2.65625+c.want-12, 1e-6)
		}
	}
}

// A post at the foot goes no deeper than the ground, or the pad on it: 2 in up the flight they lie 7 1/2 + 1 1/2 in below the nosing line.
func TestPostOnStringerEndsOnTheGround(t *testing.T) {
	plain := func(s *layout.Spec) { s.CapThickness, s.StairHeight = 0, inch(36) }
	for pad, want := range map[float64]float64{0: 9, 1.5: 7.5} {
		l := rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.FootOn, r.NosingFrom, r.LandingHeight = "", inch(-2), inch(pad) }), plain)
		near(t, "cut", l.Posts[0].Cut.Inches(), 36+1.75*0.75+want, 1.0/16)
		// Its bolts are not where those of the other post are from its end.
		if posts, rows := l.Drill(); len(posts) != 2 || len(rows) != 4 || slices.ContainsFunc(rows, func(r layout.DrillRow) bool { return strings.Contains(r.What, "lower end") }) {
			t.Errorf("%v are drilled by %v", posts, rows)
		}
		if fixed := l.Posts[0].Stand.Fixed; !strings.Contains(fixed, "It ends on the ground") {
			t.Errorf("nothing says that the post ends on the ground: %s", fixed)
		}
	}
}

// A bolt reaches through post and stringer: 3 1/2 in, 2 1/2 in and two diameters of 1/2 in are 7 in; without a thickness that of the joists counts.
func TestBoltLengthOnStringer(t *testing.T) {
	for thick, want := range map[float64]float64{2.5: 7, 0: 6} {
		p, _ := stringerPost(t, rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.StringerThickness = inch(thick) }), nil))
		for _, b := range p.Bolts {
			near(t, "bolt length", b.Length.Inches(), want, 1e-6)
		}
	}
}

// What is not given, and what does not fit, is said in words that lead to its field.
func TestStringerSays(t *testing.T) {
	for _, c := range []struct {
		name, field string
		change      func(*layout.Run)
		spec        func(*layout.Spec)
		want        string // empty: no problem of that field
	}{
		{"all there", "stringer_depth", nil, nil, ""},
		{"all there", "posts", nil, nil, ""},
		{"all there", "post_reach", nil, nil, ""},
		{"no depth", "stringer_depth", func(r *layout.Run) { r.StringerDepth = 0 }, nil, "Stringer depth is not given"},
		{"no depth, a closed one", "stringer_depth", func(r *layout.Run) { r.StringerDepth = 0 }, nil, "measure it square from edge to edge"},
		{"no depth, a cut one", "stringer_depth", func(r *layout.Run) { r.StringerDepth, r.Stringer = 0, layout.StringerCut }, nil, "what is left under the notches"},
		{"cut through", "stringer_depth", func(r *layout.Run) { r.StringerDepth, r.Stringer = inch(5.5), layout.StringerCut }, nil, "has no wood left under notches"},
		{"too shallow", "stringer_depth", func(r *layout.Run) { r.StringerDepth = inch(4) }, nil, "Two bolts do not fit in a closed stringer 4\" deep"},
		{"too close", "stringer_depth", func(r *layout.Run) { r.StringerDepth = inch(5) }, nil, "a washer and a spanner want 1 1/2\""}, // 3/4 in square, 15/16 in plumb
		{"at its edge", "stringer_depth", nil, func(s *layout.Spec) { s.BoltTop = inch(1.75) }, "The upper bolt stands 1 3/4\" from the edge of the stringer; the figure is at least 2\""},
		{"crossed", "stringer_depth", func(r *layout.Run) { r.StringerDepth = inch(6) }, func(s *layout.Spec) { s.BoltTop, s.BoltBottom = inch(2), inch(4.5) }, "Two bolts do not fit"},
		{"at its other edge", "stringer_depth", func(r *layout.Run) { r.StringerDepth = inch(8) }, func(s *layout.Spec) { s.BoltTop, s.BoltBottom, s.BoltAccess = inch(6.5), inch(0.25), inch(1) }, "The upper bolt stands 1 1/2\" from the edge of the stringer"},
		{"more throat than board", "stringer_throat", func(r *layout.Run) { r.Stringer, r.StringerThroat = layout.StringerCut, inch(12) }, nil, "is more than the stringer's depth of 11 1/4\""},
		{"the post ends too soon", "post_reach", func(r *layout.Run) { r.PostReach = inch(11) }, nil, "stands 1 21/32\" from the lower end of the posts"},
		{"cut off at the ground", "posts", func(r *layout.Run) { r.FootOn, r.NosingFrom = "", inch(-2) }, nil, "the lower bolt stands 11/32\" below that"}, // ground 7 1/2 + 1 1/2 in under the nosing line, bolt 9.34375
		{"near the ground", "posts", func(r *layout.Run) { r.FootOn, r.NosingFrom = "", inch(-4) }, nil, "the lower bolt stands 1 5/32\" above that"},
		{"a pad over the ground", "posts", func(r *layout.Run) { r.FootOn, r.NosingFrom, r.LandingHeight = "", inch(-4), inch(1) }, nil, "the lower bolt stands 5/32\" above that"},
		{"at the head", "posts", func(r *layout.Run) { r.NosingFrom, r.Length = inch(0.5), inch(50) }, nil, "The stringer ends at the top riser, and the bolts stand 1 1/2\" from that"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := rakeWith(t, "irc-2018", length.Inches, onStringer(c.change), c.spec)
			got := problemAt(l, c.field)
			if !strings.Contains(got, c.want) || c.want == "" && got != "" {
				t.Errorf("%s: %q, want %q; all: %v", c.field, got, c.want, l.Problems)
			}
		})
	}
	asks := func(change func(*layout.Run)) string {
		return strings.Join(rakeWith(t, "irc-2018", length.Inches, onStringer(change), nil).Stair.Asks, " ")
	}
	if says := asks(func(r *layout.Run) { r.StringerBelow = 0 }); !strings.Contains(says, "lower edge stands below the nosing line") {
		t.Errorf("nothing asks for the lower edge: %s", says)
	}
	if says := asks(func(r *layout.Run) { r.Stringer = layout.StringerCut }); !strings.Contains(says, "5 1/4\" is worked out") {
		t.Errorf("nothing asks to measure what was worked out: %s", says)
	}
}

// The upper bolt's pull is screened with the bolts as they are marked: 200 lb at 36 in above the nosing line, 9 3/8 in more down to the lower bolt, over
// 11 7/16 - 2 11/16 in, is 1,037.1 lb. In a cut stringer it is over the hold-down's 1,800 lb, and an engineer is to be asked.
func TestBoltScreenOnStringer(t *testing.T) {
	for _, c := range []struct {
		kind string
		want float64
		asks bool
	}{{layout.StringerClosed, 200 * (36 + 9.375) / 8.75, false}, {layout.StringerCut, 200 * (36 + 9.375) / 1.25, true}} {
		l := rakeWith(t, "irc-2018", length.Inches, onStringer(func(r *layout.Run) { r.Stringer = c.kind }), func(s *layout.Spec) { s.StairHeight = inch(36) })
		i := slices.IndexFunc(l.Screens, func(s layout.Screen) bool { return s.What == "upper bolt tension" })
		if i < 0 || !l.Screens[i].Screened {
			t.Fatalf("%s: not screened: %v", c.kind, l.Screens)
		}
		near(t, c.kind, l.Screens[i].Value, c.want, 0.1)
		if got := slices.ContainsFunc(l.Stair.Asks, func(ask string) bool { return strings.Contains(ask, "ask an engineer") }); got != c.asks {
			t.Errorf("%s: an engineer is asked for: %v", c.kind, got)
		}
	}
}

// Whatever the steps, a bolt in a cut stringer has its edge distance of wood around it: by the outline of the stringer, sawn step by step and known to this
// test alone, no cut comes nearer, and right under an inner corner it is that far from it to the grid.
func TestBoltsKeepClearOfNotches(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		r, tr := rapid.Float64Range(4, 8).Draw(t, "riser"), rapid.Float64Range(9, 14).Draw(t, "tread")
		riser, tread := length.Length(r*float64(length.Inch)), length.Length(tr*float64(length.Inch))
		deep := sixteenths(t, "depth", 10, 16)
		run := onStringer(func(x *layout.Run) {
			x.Kind, x.Label, x.Stringer, x.Riser, x.Tread, x.StringerDepth = layout.Rake, "R1", layout.StringerCut, riser, tread, deep
			x.Posts = []length.Length{inch(12), inch(30)}
		})
		l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: irc, Unit: length.Inches})
		p, s := stringerPost(t, l)
		if s.Depth <= p.Bolts[0].FromTop+p.Bolts[1].FromBottom {
			return // told as a problem
		}
		// The board's upper edge runs through the outer corners of the steps, at whole treads and risers from the origin; it is sawn down from each to
		// the inner corner one riser below and one tread on from the last.
		type point struct{ x, z float64 }
		board := func(x float64) float64 { return x*r/tr - deep.Inches()*math.Hypot(r, tr)/tr } // lower edge
		nearest := func(at point) float64 {
			best := math.Inf(1)
			for n := range 12 {
				x, z := float64(n-4)*tr, float64(n-4)*r
				for _, saw := range [][2]point{{{x, z}, {x, z - r}}, {{x - tr, z - r}, {x, z - r}}} {
					dx, dz := saw[1].x-saw[0].x, saw[1].z-saw[0].z
					k := ((at.x-saw[0].x)*dx + (at.z-saw[0].z)*dz) / (dx*dx + dz*dz)
					k = math.Max(0, math.Min(1, k))
					best = math.Min(best, math.Hypot(at.x-saw[0].x-k*dx, at.z-saw[0].z-k*dz))
				}
			}
			return best
		}
		upper, lower := s.Marks[0].Up.Inches(), s.Marks[1].Up.Inches()
		edge := p.Bolts[0].FromTop.Inches()
		for i := range 40 {
			x := tr * float64(i) / 40
			if got := nearest(point{x, board(x) + upper}); got < edge-1e-6 {
				t.Fatalf("the upper bolt at %.3f is %.4f from a cut, want %.4f", x, got, edge)
			}
			if got := nearest(point{x, board(x) + lower}); got < edge-1e-6 {
				t.Fatalf("the lower bolt at %.3f is %.4f from a cut", x, got)
			}
		}
		if got := lower * tr / math.Hypot(r, tr); math.Abs(got-p.Bolts[1].FromBottom.Inches()) > 1e-6 {
			t.Fatalf("the lower bolt stands %.4f square to the lower edge, want %v", got, p.Bolts[1].FromBottom)
		}
		// Square under the inner corner at the origin's riser: along the stringer's normal through it.
		h := math.Hypot(r, tr)
		x := edge * r / h
		under := point{x, board(x) + upper}
		if got := math.Hypot(under.x, under.z+r); got < edge-1e-6 || got > edge+1.0/16+0.01 {
			t.Fatalf("under a corner the upper bolt is %.4f from it, want %.4f to the grid", got, edge)
		}
	})
}

// TestStringerBelowTheLine: a board of 11 1/4 in that is cut for steps of 3 to 4 reaches 11 1/4 over 4/5, 14 1/16 in, plumb below the line along its upper edge, which
// is no higher than the nosing line; 6 1/2 in under notches of 6 in are a board of 12 1/2, 15 5/8 in. A closed stringer may stand above that line (plane geometry).
func TestStringerBelowTheLine(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*layout.Run)
		says   string
	}{
		{"5 in", func(r *layout.Run) { r.Stringer, r.StringerBelow = layout.StringerCut, inch(5) }, `reaches 14 1/16" below it or more`},
		{"a grid short", func(r *layout.Run) { r.Stringer, r.StringerBelow = layout.StringerCut, inch(14) }, `come out 1/16" or more too short`},
		{"as the board", func(r *layout.Run) { r.Stringer, r.StringerBelow = layout.StringerCut, inch(14.0625) }, ""},
		{"by the notches", func(r *layout.Run) {
			r.Stringer, r.StringerDepth, r.StringerThroat, r.StringerBelow = layout.StringerCut, 0, inch(6.5), inch(15)
		}, `a board 12 1/2" deep that is cut for these steps reaches 15 5/8" below`},
		{"closed", func(r *layout.Run) { r.Stringer, r.StringerBelow = layout.StringerClosed, inch(9) }, ""},
	} {
		l := rakeWith(t, "irc-2018", length.Inches, onStringer(c.change), nil)
		got := told(l, "lower edge is entered as")
		if len(got) > 1 || (len(got) == 1) != (c.says != "") || len(got) == 1 && !strings.Contains(got[0].Sentence, c.says) {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
