package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestMitredCaps: caps of 5 1/2 in by hand. At a turn by t degrees the outer edge runs 2 3/4 in times the tangent of t/2 past where the centre
// lines meet and the inner one stops as far short of it (plane geometry): 2 3/4 in at 90, 1.139 at 45, 1.588 at 60 degrees. A free end is an inch
// past a post of 3 1/2 in, also 2 3/4 in past its centre. Each cap is given as cut, with the board that it takes.
func TestMitredCaps(t *testing.T) {
	const r1, mitred = `{"label": "R1", "length": 60}, `, `both ends mitre 45 degrees, long point left; seen from the datum`
	const z = `datum end mitre 45 degrees, long point left; far end mitre 45 degrees, long point right; seen from the datum, each edge `
	for _, tt := range []struct {
		name, runs, spec, run string
		want                  []string
	}{
		{"both turns to the right", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 90}, {"label": "R3", "start_at": "R2", "turn": 90, "length": 60}`, ``, "R2",
			[]string{`95 1/2 of 95 1/2, ` + mitred}},
		{"both to the left", r1 + `{"label": "R2", "start_at": "R1", "turn": -90, "length": 90}, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}`, ``, "R2",
			[]string{`95 1/2 of 95 1/2, ` + strings.Replace(mitred, "left", "right", 1)}},
		{"right and left", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 90}, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}`, ``, "R2",
			[]string{`90 of 95 1/2, ` + z + `90", out of 95 1/2" of board`}},
		{"right and left, from a corner of two posts", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "join_by": 5, "length": 90}, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}`, ``, "R2",
			[]string{`95 of 100 1/2, ` + strings.Replace(z, "long point left", "long point left, between the two posts: put a block under it", 1) + `95", out of 100 1/2" of board`}},
		{"unlike turns", r1 + `{"label": "R2", "start_at": "R1", "turn": 45, "length": 90}, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}`, ``, "R2",
			[]string{`91 5/8 of 93 15/16, datum end mitre 22.5 degrees, long point left; far end mitre 45 degrees, long point right; seen from the datum, left edge 88 3/8", right edge 91 5/8", out of 93 15/16" of board`}},
		{"joined over a post", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 90}, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}`, `"stock_lengths": ["5'"], "end_trim": 0`, "R2",
			[]string{`47 3/4 of 47 3/4, datum end mitre 45 degrees, long point left; far end joint over a post, square; seen from the datum`, `47 3/4 of 47 3/4, datum end joint over a post, square; far end mitre 45 degrees, long point right; seen from the datum`}},
		// The outer edge of the narrow cap runs on by half of the wide one, and the other way round.
		{"caps of two widths, the narrow one", `{"label": "R1", "length": 80}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 80, "overrides": {"cap_width": "7 1/4"}}`, ``, "R1",
			[]string{`86 3/8 of 86 3/8, datum end square, 1" past the post; far end mitre 52.8 degrees, long point left; seen from the datum`}},
		{"the wide one", `{"label": "R1", "length": 80}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 80, "overrides": {"cap_width": "7 1/4"}}`, ``, "R2",
			[]string{`85 1/2 of 85 1/2, datum end mitre 37.2 degrees, long point left; far end square, 1" past the post; seen from the datum`}},
		// Two runs off one post: with a right angle between them the way turns by 90 there, at 120 degrees by 60, in one line not at all.
		{"two off one post", `{"label": "R1", "length": 96}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 60}`, ``, "R1",
			[]string{`101 1/2 of 101 1/2, datum end mitre 45 degrees, long point left; far end square, 1" past the post; seen from the datum`}},
		{"the other", `{"label": "R1", "length": 96}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 60}`, ``, "R2",
			[]string{`65 1/2 of 65 1/2, datum end mitre 45 degrees, long point right; far end square, 1" past the post; seen from the datum`}},
		{"two off one post at 120 degrees", `{"label": "R1", "length": 96}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": -120, "length": 60}`, ``, "R1",
			[]string{`100 5/16 of 100 5/16, datum end mitre 30 degrees, long point right; far end square, 1" past the post; seen from the datum`}},
		{"the other at 120 degrees", `{"label": "R1", "length": 96}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": -120, "length": 60}`, ``, "R2",
			[]string{`64 5/16 of 64 5/16, datum end mitre 30 degrees, long point left; far end square, 1" past the post; seen from the datum`}},
		{"two off one post in line", `{"label": "R1", "length": 96}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 180, "length": 60}`, ``, "R2",
			[]string{`62 3/4 of 62 3/4, datum end square, joint with the cap of R1; far end square, 1" past the post`}},
		{"straight on", `{"label": "R1", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 0, "length": 90}`, ``, "R1",
			[]string{`62 3/4 of 62 3/4, datum end square, 1" past the post; far end square, joint with the cap of R2`}},
		{"beyond an opening", `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "join": "opening", "join_by": 40, "start": "corner", "length": 90}`, ``, "R1",
			[]string{`65 1/2 of 65 1/2, both ends square, 1" past the post`}},
		{"after the opening", `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "join": "opening", "join_by": 40, "start": "corner", "length": 60}`, ``, "R2",
			[]string{`65 1/2 of 65 1/2, both ends square, 1" past the post`}},
		{"corners said, nothing joined", `{"label": "R1", "start": "corner", "end": "corner", "length": 60}`, ``, "R1", []string{`65 1/2 of 65 1/2, ` + mitred}},
		{"into a run without a cap", `{"label": "R1", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 90, "overrides": {"cap_thickness": 0}}`, ``, "R1",
			[]string{`65 1/2 of 65 1/2, both ends square, 1" past the post`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {` + tt.spec + `}, "runs": [` + tt.runs + `]}`))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			layouts, err := layout.ComputeJob(job)
			if err != nil {
				t.Fatal(err)
			}
			l := layouts[slices.IndexFunc(layouts, func(l layout.Layout) bool { return l.Label == tt.run })]
			var got []string
			for _, p := range l.Cap {
				got = append(got, fmt.Sprintf("%s of %s, %s", p.Length.FormatBare(length.InchFraction), p.Takes(l, job.Spec).FormatBare(length.InchFraction), p.Cuts))
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got  %s\nwant %s", strings.Join(got, "\n     "), strings.Join(tt.want, "\n     "))
			}
		})
	}
}

// TestJointDecidesMitre: whatever the runs say that their ends are, both caps over one post are mitred or neither.
func TestJointDecidesMitre(t *testing.T) {
	for _, end := range []string{"free", "corner", "stair head", "stair foot"} {
		for _, start := range []string{"free", "corner", "stair head", "stair foot"} {
			for _, join := range []string{"shared", "doubled", "first post"} {
				_, layouts := planned(t, `{"label": "R1", "start": "`+end+`", "end": "`+end+`", "length": 60}, {"label": "R2", "start_at": "R1", "join": "`+join+`", "start": "`+start+`", "turn": 90, "length": 60}`)
				from, to := layouts[0].CapMitred()
				if join == "first post" {
					to = from
				}
				if own, _ := layouts[1].CapMitred(); !to || !own {
					t.Errorf("%s, %s, %s: mitred %v and %v", end, start, join, to, own)
				}
			}
		}
	}
}

// TestCapsThatDoNotMeet: what cannot be joined as it is described is asked about, on the run that comes to the other.
func TestCapsThatDoNotMeet(t *testing.T) {
	const r1 = `{"label": "R1", "length": 60}, `
	for _, tt := range []struct{ name, runs, want string }{
		{"a third", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 60}, {"label": "R3", "start_at": "R1", "turn": -90, "length": 60}`, "The caps of R1 and R2 meet where this run starts"},
		{"a third at the first post", r1 + `{"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 60}, {"label": "R3", "start_at": "R2", "join": "first post", "turn": 90, "length": 60}`,
			"The caps of R1 and R2 meet where this run starts"},
		{"a flight at its foot", r1 + `{"label": "R2", "kind": "rake", "start_at": "R1", "start": "stair foot", "riser": 7, "tread": 11, "risers": 4}`, "do not both lie level"},
		{"back", r1 + `{"label": "R2", "start_at": "R1", "turn": 180, "length": 60}`, "goes back over R1"},
		{"a corner without a turn", `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "length": 60}`, "the turn given leaves them in one line"},
		{"two widths", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 60, "overrides": {"cap_width": "7 1/4"}}`, `1 3/4" apart: the mitre is cut 52.8 degrees on the one and 37.2 on the other`},
		{"two widths in line", r1 + `{"label": "R2", "start_at": "R1", "length": 60, "overrides": {"cap_width": "7 1/4"}}`, `their edges are out by 7/8" each side`},
		{"a wall before it", `{"label": "R1", "end": "wall", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 60}`, "has no post there"},
		{"a wall at its own start", r1 + `{"label": "R2", "start_at": "R1", "start": "wall", "turn": 90, "length": 60}`, "It is laid out from the wall"},
		{"too short for its mitres", r1 + `{"label": "R2", "start_at": "R1", "turn": 90, "length": 5}, {"label": "R3", "start_at": "R2", "turn": 90, "length": 60}`, "too short for the mitres"},
	} {
		_, layouts := planned(t, tt.runs)
		asked := 0
		for _, l := range layouts {
			asked += len(told(l, tt.want))
		}
		if asked != 1 {
			t.Errorf("%s: asked %d times", tt.name, asked)
		}
	}
	// At the head of a flight the words on that say how the caps meet.
	_, layouts := planned(t, r1+`{"label": "R2", "kind": "rake", "start_at": "R1", "start": "stair head", "riser": 7, "tread": 11, "risers": 4}`)
	if got := told(layouts[1], "do not both lie level"); len(got) > 0 {
		t.Errorf("at a head: %v", got)
	}
}

// edgePoint is where the end of a run's cap crosses one of its edges, in the plan: side is 1 for the right edge.
func edgePoint(r layout.PlanRun, first, along, wide length.Length, side float64) (x, y float64) {
	sin, cos := math.Sincos(float64(r.Direction) * math.Pi / 180)
	d, off := float64(along-first), side*float64(wide)/2
	return float64(r.Start.X) + d*cos - off*sin, float64(r.Start.Y) + d*sin + off*cos
}

// mitresClose holds the caps of two runs to each other where they meet: both edges come to one point on either side of the corner.
func mitresClose(t *rapid.T, p layout.Plan, layouts []layout.Layout, wide []length.Length, a, b int, first bool) {
	for _, side := range []float64{-1, 1} {
		at := func(i int, end bool, side float64) (x, y float64) {
			l := layouts[i]
			edge := l.CapLeft
			if side > 0 {
				edge = l.CapRight
			}
			along := edge.From
			if end {
				along = edge.To
			}
			return edgePoint(p.Runs[i], l.Posts[0].Centre, along, wide[i], side)
		}
		other := side
		if first {
			other = -side // both go off from the post
		}
		x, y := at(a, !first, other)
		u, v := at(b, false, side)
		if off := math.Hypot(x-u, y-v); off > 20 { // nanometres: of roundings of the plan and of both edges
			t.Fatalf("the caps of %s and %s miss each other by %v nm", layouts[a].Label, layouts[b].Label, off)
		}
	}
}

// TestMitresClose: over random chains of runs with turns the edges of two caps come to one point on either side of each corner, the pieces
// are as long as their edges, and the same turns the other way mirror it all.
func TestMitresClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.PostWidth, spec.PostDepth = sixteenths(t, "post", 3, 6), sixteenths(t, "deep", 3, 6)
		spec.StockLengths = rapid.SampledFrom([][]length.Length{nil, {120 * length.Inch}}).Draw(t, "stock")
		said := rapid.SampledFrom([]layout.EndKind{layout.EndFree, layout.EndCorner, layout.EndStairHead, layout.EndStairFoot})
		var runs, mirrored []layout.Run
		var wide []length.Length
		corners := rapid.IntRange(1, 4).Draw(t, "corners")
		for i := range corners + 1 {
			r := layout.DefaultRun(layout.Level, length.Inches)
			r.Label, r.Length = fmt.Sprintf("R%d", i+1), sixteenths(t, "length", 96, 200)
			r.ID, r.Start, r.End = r.Label, said.Draw(t, "start"), said.Draw(t, "end")
			wide = append(wide, spec.CapWidth)
			if i == 0 {
				r.Start = layout.EndFree
			} else {
				r.StartAt, r.Turn = fmt.Sprintf("R%d", i), rapid.IntRange(20, 130).Draw(t, "turn")*rapid.SampledFrom([]int{-1, 1}).Draw(t, "way")
				r.Join = rapid.SampledFrom([]string{layout.JoinShared, layout.JoinShared, layout.JoinDoubled}).Draw(t, "join")
				if i == 1 && rapid.Bool().Draw(t, "off the first post") {
					r.Join = layout.JoinFirst
				}
				if rapid.IntRange(0, 4).Draw(t, "another width") == 0 {
					r.Overrides, wide[i] = []layout.Override{{Key: "cap_width", Text: "6 1/2"}}, 13*length.Inch/2
				}
			}
			if i == corners || i == 0 && corners > 0 && r.End == layout.EndCorner {
				r.End = layout.EndFree
			}
			m := r
			m.Turn = -r.Turn
			runs, mirrored = append(runs, r), append(mirrored, m)
		}
		of := func(runs []layout.Run) (layout.Plan, []layout.Layout) {
			layouts, err := layout.ComputeJob(layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: spec, Runs: runs})
			if err != nil {
				t.Fatal(err)
			}
			return layout.NewPlan(runs, layouts, spec, length.Inches), layouts
		}
		plan, layouts := of(runs)
		_, back := of(mirrored)
		for i, l := range layouts {
			if i > 0 {
				mitresClose(t, plan, layouts, wide, i-1, i, runs[i].Join == layout.JoinFirst)
			}
			left, right, all := l.CapLeft.To-l.CapLeft.From, l.CapRight.To-l.CapRight.From, l.CapTo-l.CapFrom
			if all < max(left, right) {
				t.Fatalf("%s: %v from end to end, edges of %v and %v", l.Label, all, left, right)
			}
			total, board := length.Length(0), length.Length(0)
			for _, p := range l.Cap {
				total, board = total+p.Length, board+p.Takes(l, spec)
			}
			grids := length.Length(len(l.Cap)) * spec.Grid
			if len(l.Cap) == 1 && (total-max(left, right)).Abs() > grids || (board-all).Abs() > 2*grids || board < all-grids {
				t.Fatalf("%s: pieces of %v out of %v, edges of %v and %v, %v from end to end", l.Label, total, board, left, right, all)
			}
			m := back[i]
			if *m.CapLeft != *l.CapRight || *m.CapRight != *l.CapLeft || len(m.Cap) != len(l.Cap) {
				t.Fatalf("%s: edges %v and %v, mirrored %v and %v", l.Label, *l.CapLeft, *l.CapRight, *m.CapLeft, *m.CapRight)
			}
			swap := strings.NewReplacer("left", "right", "right", "left")
			for k, p := range l.Cap {
				// Where the two edges are named with their lengths, the left one comes first either way.
				if q := m.Cap[k]; q.Length != p.Length || q.Over != p.Over || !strings.Contains(p.Cuts, "left edge") && q.Cuts != swap.Replace(p.Cuts) {
					t.Fatalf("%s is %v, %s; mirrored %v, %s", p.Label, p.Length, p.Cuts, q.Length, q.Cuts)
				}
			}
		}
	})
}
