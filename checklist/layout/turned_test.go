package layout_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// meetsPost is how far a line leaves a rectangle that it starts in the middle of, and how many degrees off square it meets the side there,
// positive where it goes on longer on its right, found by walking: no formula of the layout.
func meetsPost(wide, deep, turned float64) (out, skew float64) {
	a := turned * math.Pi / 180
	inside := func(d, side float64) bool { // a point d along the line and side to its right, in the post's own axes
		x, y := d*math.Cos(a)+side*math.Sin(a), -d*math.Sin(a)+side*math.Cos(a)
		return math.Abs(x) <= wide/2 && math.Abs(y) <= deep/2
	}
	edge := func(side float64) float64 {
		lo, hi := 0.0, wide+deep
		for range 60 {
			if mid := (lo + hi) / 2; inside(mid, side) {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	const step = 1e-4
	return edge(0), math.Atan2(edge(step)-edge(-step), 2*step) * 180 / math.Pi
}

// TestSharedCornerPost: the opening beside a post that two runs share ends where the run's centre line meets that post, whatever the
// corner turns by and whatever the post's section; a rail is never longer than what is left, and its end is bevelled as the face stands.
func TestSharedCornerPost(t *testing.T) {
	for _, tt := range []struct {
		name       string
		turn       int
		wide, deep string
		end, start float64 // degrees that the post is turned from the first run, and from the second
		cuts       string  // of the second run's first rail
	}{
		{"square, square post", 90, "3 1/2", "3 1/2", 0, 90, "square"},
		{"square, broad post", 90, "3 1/2", "5 1/2", 0, 90, "square"},
		{"square to the left, broad post", -90, "3 1/2", "5 1/2", 0, 90, "square"},
		{"straight on, broad post", 180, "3 1/2", "5 1/2", 0, 0, "square"},
		{"45 degrees", 45, "3 1/2", "3 1/2", 22.5, -22.5, "datum end bevelled 22.5 degrees off square, to lie against the post, long point on the left"},
		{"45 degrees to the left", -45, "3 1/2", "3 1/2", -22.5, 22.5, "datum end bevelled 22.5 degrees off square, to lie against the post, long point on the right"},
		{"30 degrees, broad post", 30, "3 1/2", "5 1/2", 15, -15, "datum end bevelled 15 degrees off square, to lie against the post, long point on the left"},
		{"60 degrees", 60, "3 1/2", "3 1/2", 30, -30, "datum end bevelled 30 degrees off square, to lie against the post, long point on the left"},
		{"135 degrees", 135, "3 1/2", "3 1/2", 67.5, -67.5, "datum end bevelled 22.5 degrees off square, to lie against the post, long point on the right"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {"post_width": "` + tt.wide + `", "post_depth": "` + tt.deep + `", "connector_top": 0, "connector_bottom": 0},
				"runs": [{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "start": "corner", "turn": ` + strconv.Itoa(tt.turn) + `, "length": 60}]}`))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			layouts, err := layout.ComputeJob(job)
			if err != nil {
				t.Fatal(err)
			}
			wide, deep := job.Spec.PostWidth.Inches(), job.Spec.PostDepth.Inches()
			for i, turned := range []float64{tt.end, tt.start} {
				out, skew := meetsPost(wide, deep, turned)
				want := 60 - out - wide/2 // the other end's post stands square
				got := layouts[i].Bays[0].Planned
				if d := got.ClearTop.Inches() - want; math.Abs(d) > 1e-5 {
					t.Errorf("%s: opening %v in, want %v", layouts[i].Label, got.ClearTop.Inches(), want)
				}
				for _, r := range []layout.Rail{got.Top, got.Bottom} {
					if r.Cut.Inches() > want+1e-6 {
						t.Errorf("%s: rail of %v in an opening of %v", layouts[i].Label, r.Cut.Inches(), want)
					}
					// A rail that leaves the post is longer on the left where the post is wider on the right; one that arrives, the other way.
					at := -r.SkewTo
					if i == 1 {
						at = r.SkewFrom
					}
					if math.Abs(at-skew) > 0.01 {
						t.Errorf("%s: end %v degrees off square, want %v", layouts[i].Label, at, skew)
					}
					if want := 1.5 / 2 * math.Tan(math.Abs(skew)*math.Pi/180); math.Abs(r.Over.Inches()-want) > 1e-3 {
						t.Errorf("%s: %v longer at the long point, want %v", layouts[i].Label, r.Over.Inches(), want)
					}
				}
			}
			turned := tt.turn%90 != 0
			for i, p := range []layout.Post{layouts[0].Posts[len(layouts[0].Posts)-1], layouts[1].Posts[0]} {
				want := 0.0
				if turned {
					want = []float64{tt.end, tt.start}[i]
				}
				if p.Turned != want || strings.Contains(p.Joist, "to halve the corner: no edge meets it square") != turned {
					t.Errorf("%s is turned by %v, want %v: %s", p.Label, p.Turned, want, p.Joist)
				}
			}
			for _, p := range layouts[1].Pieces {
				if p.What == "top rail" && !strings.HasPrefix(p.Cuts, tt.cuts) {
					t.Errorf("cut %q, want %q", p.Cuts, tt.cuts)
				}
			}
		})
	}
}

// TestSharedCornerPosts: of a corner of any angle the opening ends where the centre line meets the post.
func TestSharedCornerPosts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.PostWidth, spec.PostDepth = sixteenths(t, "wide", 2, 8), sixteenths(t, "deep", 2, 8)
		turn := rapid.IntRange(-170, 170).Draw(t, "turn")
		runs := []layout.Run{{Label: "R1", Kind: layout.Level, Length: 48 * length.Inch, End: layout.EndCorner}, {Label: "R2", Kind: layout.Level, Length: 48 * length.Inch, StartAt: "R1", Turn: turn}}
		joints := layout.NewJoints(runs, spec, length.Inches)
		first := layout.Compute(layout.Input{Run: runs[0], Spec: spec, Unit: length.Inches, Joint: joints.Of(runs[0], nil)})
		second := layout.Compute(layout.Input{Run: runs[1], Spec: spec, Unit: length.Inches, Joint: joints.Of(runs[1], &first)})
		end, start := float64(turn)/2, -float64(turn)/2
		if turn%90 == 0 {
			end, start = 0, -float64(turn)
		}
		for i, l := range []layout.Layout{first, second} {
			turned := []float64{end, start}[i]
			out, _ := meetsPost(spec.PostWidth.Inches(), spec.PostDepth.Inches(), turned)
			if want := 48 - out - spec.PostWidth.Inches()/2; math.Abs(l.Bays[0].Planned.ClearTop.Inches()-want) > 1e-5 {
				t.Fatalf("%s, turned by %v: opening %v, want %v", l.Label, turned, l.Bays[0].Planned.ClearTop.Inches(), want)
			}
		}
	})
}

// TestSharpCorners: the inner edges of two rails cross half a rail's width over the tangent of half the angle between them from the middle of
// their post (plane geometry): flat rails of 3 1/2 in at a turn of 135 degrees at 4.22 in, where a post of 3 1/2 in ends them at 1.42 in.
func TestSharpCorners(t *testing.T) {
	for _, tt := range []struct {
		turn, orientation string
		connector         string
		want              int
	}{{"135", "flat", "1/4", 1}, {"-135", "flat", "1/4", 1}, {"100", "flat", "1/4", 1}, {"135", "on edge", "1/4", 0}, {"135", "on edge", "0", 1}, {"90", "flat", "1/4", 0}, {"60", "flat", "1/4", 0}} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {"rail_orientation": "` + tt.orientation + `", "connector_top": "` + tt.connector + `", "connector_bottom": "` + tt.connector + `"},
			"runs": [{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "turn": ` + tt.turn + `, "length": 60}]}`))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		if got := told(layouts[1], "would meet one another"); len(got) != tt.want {
			t.Errorf("%+v: %v", tt, got)
		}
	}
}

// TestMarksOnABevelledRail: marks run along the middle of the rail, so the tape's place on a bevelled cut is said: 3/4 in of half a rail times
// the tangent of 22.5 degrees is 5/16 in short of the long point.
func TestMarksOnABevelledRail(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 45, "length": 60}`)
	if got := layouts[1].Bays[0].Planned.Infill.Hook; got != `the middle of the datum-end cut of the bottom rail, 5/16" short of its long point, to baluster centres` {
		t.Errorf("hook %q", got)
	}
	if got := layouts[0].Bays[0].Planned.Infill.Hook; strings.Contains(got, "long point") {
		t.Errorf("hook of the square end: %q", got)
	}
}

// TestOneMountOfASharedPost: a post that two runs mount otherwise is asked about.
func TestOneMountOfASharedPost(t *testing.T) {
	for mount, want := range map[string]int{"sleeve": 1, "bolted": 0} {
		_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 60, "overrides": {"post_mount": "`+mount+`"}}`)
		if got := told(layouts[1], "it is one post"); len(got) != want {
			t.Errorf("%s: %v, want %d", mount, got, want)
		}
	}
}

// TestRailsBearOnTheirPost: a rail that meets a post off square bears with all of its end, or that is asked about by both runs. At a skew of s the centre line meets
// the face half the post's depth times tan s from its middle, and half of the rail's width over cos s goes on from there: of a face of 3 1/2 in at 30 degrees
// 1.010 and 0.866 in are 1/8 over 1 3/4 in; at 45 degrees 1.061 in are over, half of the rail's end; at 22 1/2 degrees 0.725 and 0.812 in are within it, and with a flat rail
// 1.894 in are 7/8 over (plane geometry).
func TestRailsBearOnTheirPost(t *testing.T) {
	const shared, flat = `{"label": "R1", "length": 60%[1]s}, {"label": "R2", "start_at": "R1", "turn": %[2]d, "length": 60%[1]s}`, `, "overrides": {"rail_orientation": "flat"}`
	const first = `{"label": "R1", "length": 60%[1]s}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": %[2]d, "length": 60%[1]s}`
	for _, tt := range []struct {
		name, runs, says string
		asked            [2]bool
	}{
		{"square", fmt.Sprintf(shared, "", 90), "", [2]bool{}},
		{"a turn of 45 degrees", fmt.Sprintf(shared, "", 45), "", [2]bool{}},
		{"the same, rails flat", fmt.Sprintf(shared, flat, 45), `3 25/32" across, 7/8" would stand past the edge of R1-P2`, [2]bool{true, true}},
		{"a turn of 60 degrees", fmt.Sprintf(shared, "", 60), `1 47/64" across, 1/8" would stand past the edge of R1-P2`, [2]bool{true, true}},
		{"the same, to the left", fmt.Sprintf(shared, "", -60), `1 47/64" across, 1/8" would stand past the edge of R1-P2`, [2]bool{true, true}},
		{"off a first post that stands square to its own run", fmt.Sprintf(first, "", 45), `2 1/8" across, 1 1/16" would stand past the edge of R1-P1`, [2]bool{false, true}},
	} {
		_, layouts := planned(t, tt.runs)
		for i, l := range layouts {
			got := told(l, "bear on nothing")
			if (len(got) == 1) != tt.asked[i] || len(got) > 0 && !strings.Contains(got[0].Sentence, tt.says) {
				t.Errorf("%s, %s: %v", tt.name, l.Label, got)
			}
		}
	}
}
