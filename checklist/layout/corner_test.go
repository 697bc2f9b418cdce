package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestCornerOfUnlikeRuns: the framing that ends a run at a square corner is that under the other run, against the outer faces of that run's own posts
// or sleeves. Joists of 1 1/2 in at 16 in, posts of 3 1/2 in; a wooden sleeve is 3 1/2, 1/8 and twice 1 1/2 in, 6 5/8 in outside, and half of
// that is 3 5/16 in (plane geometry). Set back by the least, posts or sleeves touch.
func TestCornerOfUnlikeRuns(t *testing.T) {
	const first, second = `{"label": "R1", "end": "corner", "length": 96, "joists": "across", "first_joist": 8`, `{"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "length": 90`
	for _, tt := range []struct {
		name, runs string
		run, post  int
		ends       string
		bay        string
		blocking   string // of the post
	}{
		// The front of the first run's post, 1 3/4 in back, meets half of the other one's 3 1/2 in depth: 3 1/2 in back, and its edge 1 3/4 in further.
		// Joist 6 ends at 88 3/4 in: 101 1/4 less that is 12 1/2 in.
		{"doubled, deep posts first", first + `, "overrides": {"post_depth": "5 1/2"}}, ` + second + `, "join": "doubled", "joists": "along"}`, 0, 3, "-, 101 1/4 to 102 3/4", "0", "2 of 12 1/2"},
		{"the run beyond sees the same", first + `, "overrides": {"post_depth": "5 1/2"}}, ` + second + `, "join": "doubled", "joists": "along"}`, 1, 1, "none", "12 1/2", "2 of 12 1/2"},
		// And the other way round: 3 1/2 in back, and 2 3/4 in further.
		{"doubled, deep posts second", first + `}, ` + second + `, "join": "doubled", "joists": "along", "overrides": {"post_depth": "5 1/2"}}`, 0, 3, "-, 102 1/4 to 103 3/4", "0", "2 of 13 1/2"},
		{"shared, deep posts second", first + `}, ` + second + `, "joists": "along", "overrides": {"post_depth": "5 1/2"}}`, 0, 3, "-, 98 3/4 to 100 1/4", "0", "2 of 10"},
		// 4 in back from bolted posts, whose edge is 1 3/4 in further: the sleeves do not move it. From -5 3/4 to 4 1/4 in is 10 in.
		{"bolted, then sleeves 4 in back", `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, ` + second + `, "join": "doubled", "join_by": 4, "joists": "across", "first_joist": 5, "overrides": {"post_mount": "sleeve"}}`, 1, 1, "-7 1/4 to -5 3/4, -", "0", "2 of 10"},
		{"bolted beside sleeves 4 in back", `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, ` + second + `, "join": "doubled", "join_by": 4, "joists": "across", "first_joist": 5, "overrides": {"post_mount": "sleeve"}}`, 0, 3, "none", "10", "2 of 10"},
		// Sleeves alongside the joists stand 3 5/16 in out: to 9 1/4 in is 12 9/16 in, though the run beyond is bolted.
		{"sleeves, then bolted", `{"label": "R1", "end": "corner", "length": 96, "joists": "along", "overrides": {"post_mount": "sleeve"}}, ` + second + `, "joists": "across", "first_joist": 10}`, 0, 3, "none", "12 9/16", "2 of 12 9/16"},
		{"rim of another thickness", first + `}, ` + second + `, "joists": "along", "overrides": {"joist_width": 3}}`, 0, 3, "-, 97 3/4 to 100 3/4", "0", "2 of 9"},
		{"at the first post", `{"label": "R1", "start": "corner", "length": 96, "joists": "across", "first_joist": 8}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 60, "overrides": {"post_depth": "5 1/2"}}`, 0, 1, "-4 1/4 to -2 3/4, -", "0", "2 of 10"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, layouts := planned(t, tt.runs)
			l := layouts[tt.run]
			bay := l.Frame.Bay.FormatBare(length.InchFraction)
			got := ends(l)
			if bay != "0" {
				got = "none"
			}
			if got != tt.ends || bay != tt.bay {
				t.Errorf("end joists %s and a bay of %s, want %s and %s", got, bay, tt.ends, tt.bay)
			}
			var blocking []string
			for _, b := range l.Posts[tt.post-1].Blocking {
				blocking = append(blocking, fmt.Sprintf("%d of %s", b.Count, b.Length.FormatBare(length.InchFraction)))
			}
			if got := strings.Join(blocking, "; "); got != tt.blocking {
				t.Errorf("blocking %s, want %s", got, tt.blocking)
			}
		})
	}
}

// TestSetBackOfBothRuns: both runs of a corner of two posts and the plan take one set-back, though the least of it follows from posts of two
// depths: 3 1/2 in. So the first run's cap of 5 1/2 in reaches from 2 3/4 in before its datum to 2 3/4 in past the corner at 99 1/2 in, 105 in.
func TestSetBackOfBothRuns(t *testing.T) {
	plan, layouts := planned(t, `{"label": "R1", "length": 96, "end": "corner", "overrides": {"post_depth": "5 1/2"}}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "join": "doubled", "length": 90}`)
	if got := plan.Runs[1].Start; got != inches(99.5, 3.5) {
		t.Errorf("R2 starts at %v", got)
	}
	if got := layouts[0].Cap[0].Length; got != inch(105) {
		t.Errorf("the cap of R1 is %v", got)
	}
}

// TestMeasuredSleeveInACorner: a sleeve made to a post measured 1/8 in over its size is set against the framing of the corner, which stands as planned.
func TestMeasuredSleeveInACorner(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.PostMount = layout.MountSleeve
	run := layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndCorner, End: layout.EndCorner, Length: inch(60), LengthOver: layout.OverCentres, Joists: layout.JoistsAcross, FirstJoist: inch(20)}
	in := layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches, Joint: layout.NewJoints([]layout.Run{run}, spec, length.Inches).Of(run, nil)}
	plan := layout.Compute(in)
	in.Posts = map[int]length.Length{1: inch(3.625), 2: inch(3.625)}
	for i, p := range layout.Compute(in).Posts {
		if p.JoistClsh || !strings.Contains(p.Joist, "against the face of the end joist") || p.Blocking[0].Length != plan.Posts[i].Blocking[0].Length {
			t.Errorf("%s: %s", p.Label, p.Joist)
		}
	}
}

// cornered draws a deck of level runs that turn square, each with posts, mount and framing of its own.
func cornered(t *rapid.T, job layout.Job) layout.Job {
	turn := rapid.SampledFrom([]int{90, -90}).Draw(t, "turn")
	across := rapid.IntRange(0, 1).Draw(t, "across")
	job.Runs = nil
	for i := range rapid.IntRange(2, 4).Draw(t, "runs") {
		name := func(what string) string { return fmt.Sprintf("R%d %s", i+1, what) }
		r := layout.Run{ID: fmt.Sprintf("r%d", i), Label: fmt.Sprintf("R%d", i+1), Kind: rapid.SampledFrom([]layout.RunKind{layout.Level, layout.Removable}).Draw(t, name("kind")),
			Start: layout.EndCorner, End: layout.EndCorner, Length: sixteenths(t, name("length"), 60, 200),
			LengthOver: rapid.SampledFrom([]string{layout.OverCentres, layout.OverFaces}).Draw(t, name("over")),
			Joists:     []string{layout.JoistsAlong, layout.JoistsAcross}[(i+across)%2], FirstJoist: sixteenths(t, name("first"), -6, 20)}
		if i > 0 {
			r.StartAt, r.Turn = job.Runs[i-1].Label, turn
			r.Join = rapid.SampledFrom([]string{layout.JoinShared, layout.JoinDoubled}).Draw(t, name("join"))
			r.JoinBy = rapid.SampledFrom([]length.Length{0, 0, inch(3), inch(4), inch(6.5)}).Draw(t, name("by"))
			if r.Join == layout.JoinShared {
				r.JoinBy = 0
			}
		}
		for _, of := range [][]string{{"post_width", "3 1/2", "5 1/2"}, {"post_depth", "3 1/2", "5 1/2", "4"}, {"post_mount", layout.MountBolted, layout.MountSleeve, layout.MountBase}, {"joist_width", "1 1/2", "2"}} {
			r.Overrides = append(r.Overrides, layout.Override{Key: of[0], Text: rapid.SampledFrom(of[1:]).Draw(t, name(of[0]))})
		}
		job.Runs = append(job.Runs, r)
	}
	return job
}

// TestOneFrameAtACorner: the frame seen from both runs of a square corner is one. What ends the one run's frame is the framing of the other's edge, against
// the outer faces of its posts or sleeves in plan, to the nanometre; and the bay that a run alongside the joists finds is what the other run's joists
// leave beside it. No piece of blocking reaches past either edge.
func TestOneFrameAtACorner(t *testing.T) {
	base, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [{"label": "R1", "length": 60}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	rapid.Check(t, func(t *rapid.T) {
		job := cornered(t, base)
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		plan := layout.NewPlan(job.Runs, layouts, job.Spec, job.Units)
		if len(plan.Runs) != len(job.Runs) {
			t.Skip("a run could not be laid out")
		}
		seen := make([]seenRun, len(job.Runs))
		for i := range seen {
			seen[i] = see(job, layouts[i], plan.Runs[i], i)
		}
		for i := range len(seen) - 1 {
			a, b := seen[i], seen[i+1]
			a.meets(t, b, a.l.Frame.End, true)
			b.meets(t, a, b.l.Frame.Start, false)
		}
	})
}

// seenRun is a run, its layout and its place in plan, and how far its edge stands from its centre line by its own posts or sleeves.
type seenRun struct {
	run  layout.Run
	spec layout.Spec
	l    layout.Layout
	plan layout.PlanRun
	out  length.Length
}

func see(job layout.Job, l layout.Layout, plan layout.PlanRun, i int) seenRun {
	spec, _ := job.Spec.With(job.Runs[i].Overrides, job.Units)
	out := spec.PostDepth
	if spec.PostMount == layout.MountSleeve {
		out = l.Posts[len(l.Posts)-1].Sleeve.Outside
	}
	return seenRun{job.Runs[i], spec, l, plan, out / 2}
}

// edgeOf is where the inner face of another run's framing stands along this run, from its datum, by the places of both in plan.
func (s seenRun) edgeOf(other seenRun, atEnd bool) length.Length {
	from, to := s.l.Posts[0].Centre, s.plan.Start
	d := map[int]layout.PlanPoint{0: {X: 1}, 90: {Y: 1}, 180: {X: -1}, 270: {Y: -1}}[s.plan.Direction]
	line := (other.plan.Start.X-to.X)*d.X + (other.plan.Start.Y-to.Y)*d.Y
	if atEnd {
		return from + line + other.out
	}
	return from + line - other.out
}

// meets holds what this run says of a corner to what stands there.
func (s seenRun) meets(t *rapid.T, other seenRun, end *layout.Joist, atEnd bool) {
	if end == nil && s.run.Joists == layout.JoistsAcross {
		if atEnd {
			t.Fatalf("the frame of %s goes on past the corner", s.run.Label)
		}
		return // the first joist stands so near, as the builder has it, that it is taken for the end of the frame
	}
	edge := s.edgeOf(other, atEnd)
	past := func(l length.Length) bool { return atEnd && l > edge || !atEnd && l < edge }
	for _, p := range s.l.Posts {
		for _, b := range p.Blocked {
			if past(b.From) || past(b.To) {
				t.Fatalf("%s: blocking from %v to %v, and the edge of %s is at %v", p.Label, b.From, b.To, other.run.Label, edge)
			}
		}
	}
	if s.run.Joists == layout.JoistsAlong {
		return
	}
	face := func(j layout.Joist) length.Length {
		if atEnd {
			return j.Near
		}
		return j.Far
	}
	joists := layout.Joists(s.run, s.spec, s.l.Frame, -1000*length.Inch, 1000*length.Inch)
	outer, next := joists[0], joists[min(1, len(joists)-1)]
	if atEnd {
		outer, next = joists[len(joists)-1], joists[max(0, len(joists)-2)]
	}
	if *end != outer || face(*end) != edge || end.Far-end.Near != other.spec.JoistWidth {
		t.Fatalf("%s ends its frame at %v with %v to %v, and the edge of %s, %v thick, is at %v", s.run.Label, outer, end.Near, end.Far, other.run.Label, other.spec.JoistWidth, edge)
	}
	bay := max(outer.Near, next.Near) - min(outer.Far, next.Far)
	if f := other.l.Frame; f.BayBy == s.run.Label && f.Bay != bay {
		t.Fatalf("%s finds a bay of %v under %s, which has %v", other.run.Label, f.Bay, s.run.Label, bay)
	}
	for _, p := range other.l.Posts {
		for _, b := range p.Blocking {
			if other.l.Frame.BayBy == s.run.Label && b.Length > bay {
				t.Fatalf("%s: blocking of %v in a bay of %v", p.Label, b.Length, bay)
			}
		}
	}
}
