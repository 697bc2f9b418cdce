package layout_test

import (
	"fmt"
	"math"
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
		{"doubled, deep posts first", first + `, "overrides": {"post_depth": "5 1/2"}}, ` + second + `, "join": "doubled", "joists": "along"}`, 0, 3, "-, 101 1/4 to 102 3/4", "0", ""},
		{"the run beyond sees the same", first + `, "overrides": {"post_depth": "5 1/2"}}, ` + second + `, "join": "doubled", "joists": "along"}`, 1, 1, "-7 3/4 to -6 1/4, -", "12 1/2", "2 of 12 1/2"},
		// And the other way round: 3 1/2 in back, and 2 3/4 in further.
		{"doubled, deep posts second", first + `}, ` + second + `, "join": "doubled", "joists": "along", "overrides": {"post_depth": "5 1/2"}}`, 0, 3, "-, 102 1/4 to 103 3/4", "0", ""},
		{"shared, deep posts second", first + `}, ` + second + `, "joists": "along", "overrides": {"post_depth": "5 1/2"}}`, 0, 3, "-, 98 3/4 to 100 1/4", "0", "2 of 10"},
		// 4 in back from bolted posts, whose edge is 1 3/4 in further: the sleeves do not move it. From -5 3/4 to 4 1/4 in is 10 in.
		{"bolted, then sleeves 4 in back", `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, ` + second + `, "join": "doubled", "join_by": 4, "joists": "across", "first_joist": 5, "overrides": {"post_mount": "sleeve"}}`, 1, 1, "-7 1/4 to -5 3/4, -", "0", ""},
		{"bolted beside sleeves 4 in back", `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, ` + second + `, "join": "doubled", "join_by": 4, "joists": "across", "first_joist": 5, "overrides": {"post_mount": "sleeve"}}`, 0, 3, "-, 103 5/16 to 104 13/16", "10", "2 of 10"},
		// Sleeves alongside the joists stand 3 5/16 in out: to 9 1/4 in is 12 9/16 in, though the run beyond is bolted.
		{"sleeves, then bolted", `{"label": "R1", "end": "corner", "length": 96, "joists": "along", "overrides": {"post_mount": "sleeve"}}, ` + second + `, "joists": "across", "first_joist": 10}`, 0, 3, "-, 97 3/4 to 99 1/4", "12 9/16", "2 of 12 9/16"},
		{"rim of another thickness", first + `}, ` + second + `, "joists": "along", "overrides": {"joist_width": 3}}`, 0, 3, "-, 97 3/4 to 100 3/4", "0", "2 of 9"},
		{"at the first post", `{"label": "R1", "start": "corner", "length": 96, "joists": "across", "first_joist": 8}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 60, "overrides": {"post_depth": "5 1/2"}}`, 0, 1, "-4 1/4 to -2 3/4, -", "0", "2 of 10"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, layouts := planned(t, tt.runs)
			l := layouts[tt.run]
			bay := l.Frame.Bay.FormatBare(length.InchFraction)
			if got := ends(l); got != tt.ends || bay != tt.bay {
				t.Errorf("end joists %s and a bay of %s, want %s and %s", ends(l), bay, tt.ends, tt.bay)
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

// TestBlockingBeside: where the joists run along an edge, blocking of 1 1/2 in stands on both sides of the sleeve of 4 3/16 in or the post, or both of it on the
// side away from a corner that leaves no room; words, places and the order of the sleeve's fixings agree, and no blocking covers the holes that the
// heads go in by before they are driven.
func TestBlockingBeside(t *testing.T) {
	const sleeve = `"overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4", "sleeve_clearance": "3/16", "sleeve_head": "1/16"}`
	runs := func(fields, second string) string {
		return `{"label": "R1", "start": "corner", "end": "corner", "length": 60, "joists": "along", ` + fields + `}` + second
	}
	for _, tt := range []struct {
		name, runs string
		post       int
		beside     string
		says       string
		walls      string // that fixings hold against, and are driven through
		order      string
	}{
		{"sleeve at the far corner", runs(sleeve, ""), 2, "54 29/32 to 56 13/32, 56 13/32 to 57 29/32", "both on the datum side", "far side (against the framing round the corner) by datum side", "before the blocking beside it goes in"},
		{"sleeve at the datum's corner", runs(sleeve, ""), 1, "2 3/32 to 3 19/32, 3 19/32 to 5 3/32", "both on the far side", "datum side (against the framing round the corner) by far side", "before the blocking beside it goes in"},
		{"sleeve between corners", runs(`"posts": ["0", "30", "60"], `+sleeve, ""), 2, "26 13/32 to 27 29/32, 32 3/32 to 33 19/32", "one each side", "datum side (against the blocking) by far side", "sleeve with its fixings, blocking on the far side"},
		{"post at the far corner", runs(`"first_joist": 0`, ""), 2, "55 1/4 to 56 3/4, 56 3/4 to 58 1/4", "both on the datum side", "", ""},
		// 3 1/2 in back the other post reaches 1 3/4 in from the corner, where a piece on that side would stand from 1/4 in; 5 in back it stands from there.
		{"of two posts, the other in the way", runs(`"first_joist": 0`, `, {"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "length": 60}`), 2, "55 1/4 to 56 3/4, 56 3/4 to 58 1/4", "both on the datum side", "", ""},
		{"of two posts, with room", runs(`"first_joist": 0`, `, {"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "join_by": 5, "length": 60}`), 2, "56 3/4 to 58 1/4, 61 3/4 to 63 1/4", "one each side", "", ""},
		// 2 in back the end of the frame is 3 3/4 in past the post, whose face is 2 3/4 in past it.
		{"of two posts, without", runs(`"first_joist": 0, "overrides": {"post_width": "5 1/2"}`, `, {"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "join_by": 2, "length": 60}`), 2, "54 1/4 to 55 3/4, 55 3/4 to 57 1/4", "both on the datum side", "", ""},
	} {
		_, layouts := planned(t, tt.runs)
		p := layouts[0].Posts[tt.post-1]
		var beside []string
		for _, s := range p.Beside {
			beside = append(beside, s.From.FormatBare(length.InchFraction)+" to "+s.To.FormatBare(length.InchFraction))
		}
		if got := strings.Join(beside, ", "); got != tt.beside || !strings.Contains(p.Blocking[0].Place, tt.says) {
			t.Errorf("%s: blocking at %s, %s; want %s, %s", tt.name, got, p.Blocking[0].Place, tt.beside, tt.says)
		}
		if p.Sleeve == nil {
			continue
		}
		if n := len(p.Sleeve.Holes); n != 8 || p.Sleeve.Holes[4].Wall+" by "+p.Sleeve.Holes[5].Wall != tt.walls || !strings.Contains(p.Sleeve.Order, tt.order) {
			t.Errorf("%s: %v, %q; want %s", tt.name, p.Sleeve.Holes, p.Sleeve.Order, tt.walls)
		}
	}
}

// TestFirstJoistInTheCorner: the end joist at a corner of 3 1/2 in posts stands with its centre 2 1/2 in before the datum. A first joist there is that one; one that
// does not stand clear past it is asked about.
func TestFirstJoistInTheCorner(t *testing.T) {
	for first, want := range map[string]int{"-2 1/2": 0, "-1": 0, "-1 1/16": 1, "-4": 1, "10": 0} {
		_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "across", "first_joist": "`+first+`"}`)
		got := told(layouts[1], "stands where the corner's framing is")
		if len(got) != want || want > 0 && (got[0].Field != "first_joist" || !strings.Contains(got[0].Sentence, `has its centre at -2 1/2"`)) {
			t.Errorf("first joist at %s: %v", first, got)
		}
	}
}

// TestFirstJoistFarFromTheEnd: joists at 16 in, and one at a wall with its centre at 3/4 in: the first of the row stands at 16 3/4 in at the furthest, or a joist is
// missing; then it is asked about, and no blocking as long as that is made.
func TestFirstJoistFarFromTheEnd(t *testing.T) {
	for first, want := range map[string]int{"16 3/4": 0, "17": 1, "100": 1} {
		_, layouts := planned(t, `{"label": "R1", "start": "wall", "length": 144, "posts": ["12", "60", "144"], "joists": "across", "first_joist": "`+first+`"}`)
		got := told(layouts[0], "look whether it was measured from the other end")
		if len(got) != want || want > 0 && got[0].Field != "first_joist" {
			t.Errorf("first joist at %s: %v", first, got)
		}
		for _, p := range layouts[0].Pieces {
			if p.What == "blocking" && p.Length > inch(16) {
				t.Errorf("first joist at %s: %s of %v", first, p.Label, p.Length)
			}
		}
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
	run := layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndCorner, End: layout.EndCorner, Length: inch(60), LengthOver: layout.OverCentres, Joists: layout.JoistsAcross, FirstJoist: inch(6)}
	in := layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches, Joint: layout.NewJoints([]layout.Run{run}, spec, length.Inches).Of(run, nil)}
	plan := layout.Compute(in)
	in.Posts = map[int]length.Length{1: inch(3.625), 2: inch(3.625)}
	for i, p := range layout.Compute(in).Posts {
		if p.JoistClsh || !strings.Contains(p.Joist, "against the face of the end joist") || p.Blocking[0].Length != plan.Posts[i].Blocking[0].Length {
			t.Errorf("%s: %s", p.Label, p.Joist)
		}
	}
}

// corneredBase is the job that cornered gives runs to.
func corneredBase(t *testing.T) layout.Job {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [{"label": "R1", "length": 60}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return job
}

// cornered draws a deck of level runs that turn by so many degrees, all to one side, each with posts, mount and framing of its own. The second may go off
// from the first post of the first: the way round comes back along it, and goes on along the first.
func cornered(t *rapid.T, job layout.Job, most, least int) layout.Job {
	side := rapid.SampledFrom([]int{1, -1}).Draw(t, "side")
	across, way := rapid.IntRange(0, 1).Draw(t, "across"), 1
	job.Runs = nil
	for i := range rapid.IntRange(2, 4).Draw(t, "runs") {
		name := func(what string) string { return fmt.Sprintf("R%d %s", i+1, what) }
		r := layout.Run{ID: fmt.Sprintf("r%d", i), Label: fmt.Sprintf("R%d", i+1), Kind: rapid.SampledFrom([]layout.RunKind{layout.Level, layout.Removable}).Draw(t, name("kind")),
			Start: layout.EndCorner, End: layout.EndCorner, Length: sixteenths(t, name("length"), 60, 200),
			LengthOver: rapid.SampledFrom([]string{layout.OverCentres, layout.OverFaces}).Draw(t, name("over")),
			Joists:     []string{layout.JoistsAlong, layout.JoistsAcross}[(i+across)%2], FirstJoist: sixteenths(t, name("first"), -6, 20)}
		if i > 0 {
			r.StartAt, r.Turn = job.Runs[i-1].Label, way*side*rapid.IntRange(least, most).Draw(t, name("turn"))
			r.Join = rapid.SampledFrom([]string{layout.JoinShared, layout.JoinDoubled}).Draw(t, name("join"))
			if i == 1 && rapid.Bool().Draw(t, "off the first post") {
				r.Join, r.Turn, way = layout.JoinFirst, side*180-r.Turn, -1
			}
			if by := rapid.SampledFrom([]length.Length{0, 0, inch(3), inch(4), inch(6.5)}).Draw(t, name("by")); r.Join == layout.JoinDoubled {
				r.JoinBy = by
			}
		}
		for _, of := range [][]string{{"post_width", "3 1/2", "5 1/2"}, {"post_depth", "3 1/2", "5 1/2", "4"}, {"post_mount", layout.MountBolted, layout.MountSleeve, layout.MountBase}, {"joist_width", "1 1/2", "2"}} {
			r.Overrides = append(r.Overrides, layout.Override{Key: of[0], Text: rapid.SampledFrom(of[1:]).Draw(t, name(of[0]))})
		}
		job.Runs = append(job.Runs, r)
	}
	return job
}

// TestFramingInsideTheDeck: at a corner of any angle towards the deck, no joist that is named and no blocking reaches past the edge under the other run,
// which stands against the outer faces of that run's posts or sleeves in plan; and nothing is bolted or blocked where a post is turned into the corner.
func TestFramingInsideTheDeck(t *testing.T) {
	base := corneredBase(t)
	rapid.Check(t, func(t *rapid.T) {
		job := cornered(t, base, 140, 10)
		job.Runs = job.Runs[:2]
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		plan := layout.NewPlan(job.Runs, layouts, job.Spec, job.Units)
		if len(plan.Runs) != len(job.Runs) {
			t.Skip("a run could not be laid out")
		}
		a, b := see(job, layouts[0], plan.Runs[0], 0), see(job, layouts[1], plan.Runs[1], 1)
		a.inside(t, b)
		b.inside(t, a)
		if job.Runs[1].Join == layout.JoinDoubled {
			a.keepsOff(t, b)
			b.keepsOff(t, a)
		}
	})
}

// blocks are the pieces of blocking of a run, but those under bases: from and to along it, and inward of its centre line.
func (s seenRun) blocks() (all [][4]length.Length) {
	if s.spec.PostMount == layout.MountBase {
		return nil
	}
	for _, p := range s.l.Posts {
		for _, b := range p.Blocked {
			all = append(all, [4]length.Length{b.From, b.To, s.out, s.out + 2*s.spec.JoistWidth})
		}
		for _, b := range p.Beside {
			all = append(all, [4]length.Length{b.From, b.To, -s.out, p.Blocking[0].Length - s.out})
		}
	}
	return all
}

// keepsOff holds the blocking of this run to the posts or sleeves of another, and at a square corner to its blocking: no place in the one, on a grid of
// eighths of its sides, is within the other.
func (s seenRun) keepsOff(t *rapid.T, other seenRun) {
	theirs := [][4]length.Length{}
	for _, p := range other.l.Posts {
		near, far := p.Footprint()
		theirs = append(theirs, [4]length.Length{near, far, -other.out, other.out})
	}
	if s.l.Frame.KnownFrom == nil && s.l.Frame.KnownTo == nil {
		theirs = append(theirs, other.blocks()...)
	}
	for _, own := range s.blocks() {
		for _, b := range theirs {
			for i := range 64 {
				at := func(from, to length.Length, n int) length.Length {
					return from + (to-from)*length.Length(2*n+1)/16
				}
				x, y := s.place(other, at(b[0], b[1], i/8), at(b[2], b[3], i%8))
				if x > float64(own[0]) && x < float64(own[1]) && y > float64(own[2]) && y < float64(own[3]) {
					t.Fatalf("blocking of %s, %v, goes through what %s has at %v", s.run.Label, own, other.run.Label, b)
				}
			}
		}
	}
}

// place is a place of another run, along it and inward, as this one has it.
func (s seenRun) place(other seenRun, x, y length.Length) (along, inward float64) {
	turn := float64(other.plan.Direction-s.plan.Direction) * math.Pi / 180
	// From the other run's start, along this one and to its right.
	sin, cos := math.Sincos(turn)
	a, r := float64(x-other.l.Posts[0].Centre), float64(y)*float64(other.plan.DeckOn)
	own, ownCos := math.Sincos(float64(s.plan.Direction) * math.Pi / 180)
	dx, dy := float64(other.plan.Start.X-s.plan.Start.X), float64(other.plan.Start.Y-s.plan.Start.Y)
	return float64(s.l.Posts[0].Centre) + dx*ownCos + dy*own + a*cos - r*sin, (dy*ownCos - dx*own + a*sin + r*cos) * float64(s.plan.DeckOn)
}

// TestBlockingOfTwoPosts: at a square corner of two posts of 3 1/2 in, each 3 1/2 in back, the one stands from 1 3/4 to 5 1/4 in inward of the other's centre line:
// in the way of blocking from 1 3/4 to 4 3/4 in behind that one, which is left out; and that one is in the way of a piece on the near side of it, so that both
// of its own stand beyond it. 5 in back such a piece just clears it, 8 in back also the blocking, which is there then. 6 1/2 in back is clear of it, and leaves 4 1/4 in between the posts, which no opening may have: it is no cure.
func TestBlockingOfTwoPosts(t *testing.T) {
	const runs = `{"label": "R1", "end": "corner", "length": 96, "joists": "across", "first_joist": 12}, {"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "length": 72, "joists": "along"%s}`
	for back, want := range map[string]struct {
		blocking int
		beside   string
		says     string
	}{
		"":                 {0, "1 3/4 to 3 1/4, 3 1/4 to 4 3/4", "share one post there, or have the corner's framing worked out"},
		`, "join_by": "5"`: {0, "-3 1/4 to -1 3/4, 1 3/4 to 3 1/4", "share one post"},
		`, "join_by": 6.5`: {2, "1 3/4 to 3 1/4, 3 1/4 to 4 3/4", ""},
		`, "join_by": "8"`: {2, "-3 1/4 to -1 3/4, 1 3/4 to 3 1/4", ""},
	} {
		_, layouts := planned(t, fmt.Sprintf(runs, back))
		last, first := layouts[0].Posts[len(layouts[0].Posts)-1], layouts[1].Posts[0]
		blocking := 0
		for _, b := range last.Blocking {
			blocking += b.Count
		}
		var beside []string
		for _, s := range first.Beside {
			beside = append(beside, s.From.FormatBare(length.InchFraction)+" to "+s.To.FormatBare(length.InchFraction))
		}
		asked := told(layouts[0], "would go through the other post")
		if got := strings.Join(beside, ", "); blocking != want.blocking || got != want.beside || len(asked) > 1 || (len(asked) == 1) != (want.says != "") || len(asked) == 1 && !strings.Contains(asked[0].Sentence, want.says) {
			t.Errorf("back%s: %d pieces behind R1-P3, R2-P1's at %s, asked %v", back, blocking, got, asked)
		}
	}
}

// inside holds what is laid out behind the edge of this run to the edge of the other one.
func (s seenRun) inside(t *rapid.T, other seenRun) {
	if len(told(s.l, "The first joist, its centre")) > 0 {
		return // the builder's own place for it is past the edge, or in it
	}
	in := func(what string, from, to, inward length.Length) {
		for _, x := range []length.Length{from, to} {
			for _, y := range []length.Length{-s.out, inward - s.out} {
				if past := s.past(other, x, y); past > 3 {
					t.Fatalf("%s of %s from %v to %v and %v inward stands %.0f nm past the edge of %s", what, s.run.Label, from, to, inward, past, other.run.Label)
				}
			}
		}
	}
	for _, p := range s.l.Posts {
		if p.Turned != 0 && (len(p.Blocking) > 0 || len(p.Bolts) > 0 || p.Sleeve != nil && len(p.Sleeve.Holes) > 0) {
			t.Fatalf("%s is turned, and has %v and %v", p.Label, p.Blocking, p.Bolts)
		}
		for _, span := range p.Blocked {
			in("blocking of "+p.Label, span.From, span.To, 2*(s.out+s.spec.JoistWidth))
		}
		for i, span := range p.Beside {
			in("blocking of "+p.Label, span.From, span.To, p.Blocking[0].Length)
			if wide := span.To - span.From; wide != s.spec.JoistWidth || i > 0 && span.From < p.Beside[i-1].To {
				t.Fatalf("blocking of %s stands at %v", p.Label, p.Beside)
			}
		}
	}
	if s.run.Joists == layout.JoistsAcross {
		for _, j := range layout.Joists(s.run, s.spec, s.l.Frame, -100*length.Inch, s.l.Length+100*length.Inch) {
			if f := s.l.Frame; (f.Start == nil || j != *f.Start) && (f.End == nil || j != *f.End) && j.Centre != f.First {
				in(j.Name(), j.Near, j.Far, 2*(s.out+s.spec.JoistWidth))
			}
		}
	}
}

// past is how far a place, along this run from its datum and inward of its centre line, stands outside the inner face of the other run's edge.
func (s seenRun) past(other seenRun, x, y length.Length) float64 {
	side, otherSide := float64(s.plan.DeckOn), float64(other.plan.DeckOn)
	dir := func(degrees int) (float64, float64) {
		sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
		return cos, sin
	}
	ux, uy := dir(s.plan.Direction)
	along, inward := float64(x-s.l.Posts[0].Centre), float64(y)*side
	px, py := float64(s.plan.Start.X)+along*ux-inward*uy, float64(s.plan.Start.Y)+along*uy+inward*ux
	vx, vy := dir(other.plan.Direction)
	return -otherSide*((py-float64(other.plan.Start.Y))*vx-(px-float64(other.plan.Start.X))*vy) - float64(other.out)
}

// TestOneFrameAtACorner: the frame seen from both runs of a square corner is one. What ends the one run's frame is the framing of the other's edge, against
// the outer faces of its posts or sleeves in plan, to the nanometre; and the bay that a run alongside the joists finds is what the other run's joists
// leave beside it. No piece of blocking reaches past either edge.
func TestOneFrameAtACorner(t *testing.T) {
	base := corneredBase(t)
	rapid.Check(t, func(t *rapid.T) {
		job := cornered(t, base, 90, 90)
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
			if b.run.Join == layout.JoinFirst {
				a.meets(t, b, a.l.Frame.Start, false)
			} else {
				a.meets(t, b, a.l.Frame.End, true)
			}
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
	if asked := len(told(s.l, "The first joist, its centre")) > 0; !atEnd && asked {
		return // the builder's own place for the first joist is past the edge, or in it
	}
	if row := layout.Joists(s.run, s.spec, s.l.Frame, -1000*length.Inch, 1000*length.Inch); !atEnd && end == nil && len(row) > 0 {
		if edge := s.edgeOf(other, false); (row[0].Far - edge).Abs() >= s.spec.Grid {
			t.Fatalf("the first joist of %s ends at %v, and the edge of %s is at %v", s.run.Label, row[0].Far, other.run.Label, edge)
		}
		return // it is the end of the frame itself
	}
	if end == nil && s.run.Joists == layout.JoistsAcross {
		t.Fatalf("the frame of %s goes on past the corner", s.run.Label)
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
	face := func(j layout.Joist) length.Length {
		if atEnd {
			return j.Near
		}
		return j.Far
	}
	if s.run.Joists == layout.JoistsAlong {
		if end == nil || face(*end) != edge || end.Far-end.Near != other.spec.JoistWidth {
			t.Fatalf("%s has the rim round its corner at %v, and the edge of %s is at %v", s.run.Label, end, other.run.Label, edge)
		}
		return
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
