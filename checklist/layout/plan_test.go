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

// planned lays out runs of a job in inches and joins them.
func planned(t *testing.T, runs string) (layout.Plan, []layout.Layout) {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [` + runs + `]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return layout.NewPlan(job.Runs, layouts, job.Spec, job.Units), layouts
}

func inches(x, y float64) layout.PlanPoint {
	return layout.PlanPoint{X: length.Length(x * float64(length.Inch)), Y: length.Length(y * float64(length.Inch))}
}

// The places below follow from the lengths and square turns alone (plane geometry).
func TestPlanJoinsRuns(t *testing.T) {
	p, _ := planned(t, `
		{"label": "R1", "start": "wall", "end": "corner", "length": 144},
		{"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "stair head", "length": 72},
		{"label": "R3", "kind": "rake", "start": "stair head", "start_at": "R2", "turn": -90, "end": "stair foot", "total_rise": 30, "risers": 4, "tread": 10, "stair_wide": 40},
		{"label": "R4", "start": "stair head", "start_at": "R2", "join": "opening", "join_by": 40, "end": "corner", "length": 60},
		{"label": "R5", "kind": "rake", "start": "stair head", "start_at": "R4", "join": "first post", "turn": -90, "end": "stair foot", "total_rise": 30, "risers": 4, "tread": 10},
		{"label": "R6", "start": "corner", "start_at": "R4", "turn": 90, "end": "wall", "length": 144}`)
	const afterOpening = 72 + 40 + 3.5 // two half posts of 3 1/2
	const head = 1.5 + 1.75            // the top nosing stands in front of its post by the rim and half the post
	for _, c := range []struct {
		label      string
		direction  int
		start, end layout.PlanPoint
		flightOn   int
	}{
		{"R1", 0, inches(0, 0), inches(144, 0), 1},
		{"R2", 90, inches(144, 0), inches(144, 72), 1},
		{"R3", 0, inches(144, 72), inches(174+head, 72), 1},
		{"R4", 90, inches(144, afterOpening), inches(144, afterOpening+60), 1},
		{"R5", 0, inches(144, afterOpening), inches(174+head, afterOpening), -1},
		{"R6", 180, inches(144, afterOpening+60), inches(0, afterOpening+60), 1},
	} {
		i := slices.IndexFunc(p.Runs, func(r layout.PlanRun) bool { return r.Label == c.label })
		if i < 0 {
			t.Fatalf("%s is not in the plan", c.label)
		}
		r := p.Runs[i]
		if r.Direction != c.direction || r.Start != c.start || r.End != c.end || r.FlightOn != c.flightOn && r.Treads > 0 {
			t.Errorf("%s goes %d degrees from %v to %v, flight on %d; want %d, %v, %v, %d", c.label, r.Direction, r.Start, r.End, r.FlightOn, c.direction, c.start, c.end, c.flightOn)
		}
	}
	if want := []string{`The start of R1 and the end of R6 meet one wall line, 175 1/2" apart: the outline closes.`,
		"Going along from the datum, the deck is on the right of R1, R2, R4 and R6 (taken from the turns: say it at a run where it is not)."}; !slices.Equal(p.Notes, want) {
		t.Errorf("notes %q, want %q", p.Notes, want)
	}
	if len(p.Problems) > 0 {
		t.Errorf("problems %v", p.Problems)
	}
	if p.Outlines != 1 {
		t.Errorf("%d outlines, want 1", p.Outlines)
	}
}

func TestPlanFaults(t *testing.T) {
	for _, c := range []struct{ name, runs, note, problem string }{
		{"does not close", `{"label": "R1", "start": "wall", "end": "corner", "length": 144}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 96},
			{"label": "R3", "start": "corner", "start_at": "R2", "turn": 90, "end": "wall", "length": "143 1/4"}`, `The start of R1 and the end of R3 stand 96" apart along the wall and 3/4" out of line`, ""},
		{"two walls", `{"label": "R1", "start": "wall", "end": "wall", "length": 144}`, "meet walls that face each other", ""},
		{"another wall", `{"label": "R1", "start": "wall", "end": "corner", "length": 144}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "wall", "length": 96}`, "meet walls that stand 90 degrees to each other", ""},
		{"runs cross", `{"label": "R1", "end": "corner", "length": 144}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 60},
			{"label": "R3", "start": "corner", "start_at": "R2", "turn": 90, "end": "corner", "length": "100"}, {"label": "R4", "start": "corner", "start_at": "R3", "turn": 90, "length": 100}`, "", "R1 and R4 cross in plan"},
		{"posts in one another", `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 60},
			{"label": "R3", "start": "corner", "start_at": "R2", "turn": 90, "end": "corner", "length": 60}, {"label": "R4", "start": "corner", "start_at": "R3", "turn": 90, "length": 59}`, "", "R1-P1 and R4-P2 stand in one another"},
		// Out from the wall, along it, back through it, and in the house out to the same wall line again.
		{"through the wall", `{"label": "R1", "start": "wall", "end": "corner", "length": 100}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 60},
			{"label": "R3", "start": "corner", "start_at": "R2", "turn": 90, "end": "corner", "length": 150}, {"label": "R4", "start": "corner", "start_at": "R3", "turn": -90, "end": "corner", "length": 60},
			{"label": "R5", "start": "corner", "start_at": "R4", "turn": -90, "end": "corner", "length": 150}, {"label": "R6", "start": "corner", "start_at": "R5", "turn": 90, "end": "corner", "length": 60},
			{"label": "R7", "start": "corner", "start_at": "R6", "turn": 90, "end": "wall", "length": 100}`,
			`the outline closes`, `R3 crosses the house wall between the start of R1 and the end of R7: look at the lengths and the turns.`},
		{"a corner on its own", `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start": "corner", "turn": 90, "length": 60}`, "",
			"{R1 end R1 ends at a corner, and no run starts there: join the run that does, or say how this one ends. false} {R2 start_at R2 starts at a corner and is joined to no run, so that it is drawn by itself: name the run that it starts at. false}"},
		{"two outlines that stand by themselves", `{"label": "R1", "start": "wall", "end": "corner", "length": 60}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "length": 60}, {"label": "R3", "length": 60}`, "", ""},
		{"the next run is not described yet", `{"label": "R1", "start": "wall", "end": "corner", "length": 60}`, "", ""},
		{"round a corner of the house", `{"label": "R1", "start": "wall", "end": "corner", "length": 100}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 300},
			{"label": "R3", "start": "corner", "start_at": "R2", "turn": 90, "end": "corner", "length": 250}, {"label": "R4", "start": "corner", "start_at": "R3", "turn": 90, "end": "wall", "length": 100}`,
			"meet walls that stand 90 degrees to each other", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, layouts := planned(t, c.runs)
			if c.note != "" && !strings.Contains(strings.Join(p.Notes, " "), c.note) {
				t.Errorf("notes %q, want %q", p.Notes, c.note)
			}
			if got := fmt.Sprint(p.Problems); c.problem != "" && !strings.Contains(got, c.problem) || c.problem == "" && len(p.Problems) > 0 {
				t.Errorf("problems %s, want %q", got, c.problem)
			}
			for _, l := range layouts {
				if len(l.Bays) == 0 || l.Bays[0].Planned == nil {
					t.Errorf("%s is not laid out", l.Label)
				}
			}
		})
	}
}

// At a square corner two posts of 3 1/2 by 3 1/2 touch when each stands 3 1/2 back from it, and 5 in back leaves a gap of
// 1 1/2 times the root of two (plane geometry).
func TestDoubledCorner(t *testing.T) {
	runs := func(by string) string {
		return `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start": "corner", "start_at": "R1", "join": "doubled", "join_by": ` + by + `, "turn": 90, "length": 60}`
	}
	for _, c := range []struct {
		by, says, problem string
		start             layout.PlanPoint
	}{
		{`""`, `each post stands 3 1/2" back from it, and 0" is clear between them`, "", inches(63.5, 3.5)},
		{`"5"`, `5" back from it, and 2 1/8" is clear between them`, "", inches(65, 5)},
		{`"3"`, `3" back from it`, `overlap by 1/2": set each back by 3 1/2" or more`, inches(63, 3)},
		{`"7"`, `7" back from it`, `between the two posts of the corner with R1 is not under 4"`, inches(67, 7)},
	} {
		t.Run(c.by, func(t *testing.T) {
			p, layouts := planned(t, runs(c.by))
			if p.Runs[1].Start != c.start {
				t.Errorf("the second run starts at %v, want %v", p.Runs[1].Start, c.start)
			}
			if got := strings.Join(layouts[1].Working, "\n"); !strings.Contains(got, c.says) {
				t.Errorf("working %s\nwant %q", got, c.says)
			}
			var problems []string
			for _, p := range layouts[1].Problems {
				problems = append(problems, p.Sentence)
			}
			if got := strings.Join(problems, "\n"); c.problem != "" && !strings.Contains(got, c.problem) || c.problem == "" && strings.Contains(got, "corner") {
				t.Errorf("problems %q, want %q", got, c.problem)
			}
			if layouts[1].Posts[0].SharedAs != "" {
				t.Error("the first post of the second run is shared; it is its own")
			}
			overlap := len(p.Problems) > 0
			if wantOverlap := c.by == `"3"`; overlap != wantOverlap {
				t.Errorf("posts overlap in plan = %v, want %v: %v", overlap, wantOverlap, p.Problems)
			}
		})
	}
}

// The cap of a run runs on to the corner of two posts: post to corner and half the cap's width more to the long point of a square mitre,
// and an overhang past the post at the free end.
func TestDoubledCornerCap(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start": "corner", "start_at": "R1", "join": "doubled", "join_by": 5, "turn": 90, "length": 60}`)
	want := 60*length.Inch + 5*length.Inch + length.Inch*11/4 + length.Inch*7/4 + length.Inch
	for _, l := range layouts {
		if got := l.Cap[0].Length; got != want {
			t.Errorf("cap of %s is %s, want %s", l.Label, got.Format(length.InchFraction), want.Format(length.InchFraction))
		}
	}
}

// Properties of plans of random outlines: a joint is one point; square turns are exact; the same turns the other way round mirror the
// plan; distances along a run are those of its layout to a nanometre or two.
func TestPlanProperties(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		square := rapid.Bool().Draw(t, "square")
		var runs, other []layout.Run
		for i := range rapid.IntRange(1, 8).Draw(t, "runs") {
			r := layout.DefaultRun(layout.Level, length.Inches)
			r.ID, r.Label = fmt.Sprintf("r%d", i), fmt.Sprintf("R%d", i+1)
			r.Length, r.End = sixteenths(t, "length", 24, 300), layout.EndCorner
			if i > 0 {
				r.Start, r.StartAt = layout.EndCorner, fmt.Sprintf("R%d", i)
				r.Turn = rapid.IntRange(-170, 170).Draw(t, "turn")
				if square {
					r.Turn = rapid.SampledFrom([]int{-90, 0, 90}).Draw(t, "quarter")
				}
				r.Join = rapid.SampledFrom([]string{layout.JoinShared, layout.JoinDoubled, layout.JoinOpening}).Draw(t, "join")
				r.JoinBy = sixteenths(t, "by", 4, 40)
			}
			runs = append(runs, r)
			r.Turn = -r.Turn
			other = append(other, r)
		}
		plan := func(runs []layout.Run) (layout.Plan, []layout.Layout) {
			var layouts []layout.Layout
			joints := layout.NewJoints(runs, spec, length.Inches)
			for i, r := range runs {
				var before *layout.Layout
				if i > 0 {
					before = &layouts[i-1]
				}
				layouts = append(layouts, layout.Compute(layout.Input{Run: r, Spec: spec, Rules: irc, Unit: length.Inches, Joint: joints.Of(r, before)}))
			}
			return layout.NewPlan(runs, layouts, spec, length.Inches), layouts
		}
		p, layouts := plan(runs)
		mirror, _ := plan(other)
		for i, r := range p.Runs {
			m := mirror.Runs[i]
			if m.Start.X != r.Start.X || m.Start.Y != -r.Start.Y || m.End.X != r.End.X || m.End.Y != -r.End.Y {
				t.Fatalf("%s from %v to %v; turned the other way from %v to %v", r.Label, r.Start, r.End, m.Start, m.End)
			}
			if i > 0 && runs[i].Join == layout.JoinShared && r.Start != p.Runs[i-1].End {
				t.Fatalf("%s starts at %v, not at the end %v of the run before", r.Label, r.Start, p.Runs[i-1].End)
			}
			l := layouts[i]
			for j, post := range r.Posts {
				along := math.Hypot(float64(post.At.X-r.Start.X), float64(post.At.Y-r.Start.Y))
				want := float64(l.Posts[j].Centre - l.Posts[0].Centre)
				if d := math.Abs(along - want); d > 2 || square && d > 0.5 {
					t.Fatalf("%s stands %f nm along its run in plan, %f in its layout", post.Label, along, want)
				}
			}
		}
	})
}

// The head post of a flight that starts at the first post of a run is that run's first, and a doubled corner shares none.
func TestMeetingsByJoin(t *testing.T) {
	level := layout.Run{Label: "R1", Kind: layout.Level}
	for _, c := range []struct {
		join    string
		meets   bool
		atStart bool // of the level run
	}{{layout.JoinShared, true, false}, {"", true, false}, {layout.JoinFirst, true, true}, {layout.JoinDoubled, false, false}, {layout.JoinOpening, false, false}} {
		flight := layout.Run{Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, StartAt: "R1", Join: c.join}
		all := []layout.Run{level, flight}
		meet, back := layout.Meetings(level, all), layout.Meetings(flight, all)
		if (len(meet) == 1) != c.meets || (len(back) == 1) != c.meets {
			t.Errorf("%q: %d and %d meetings, want them = %v", c.join, len(meet), len(back), c.meets)
			continue
		}
		if c.meets && (meet[0].AtStart != c.atStart || !back[0].AtStart) {
			t.Errorf("%q: the level run meets at its start = %v, the flight = %v", c.join, meet[0].AtStart, back[0].AtStart)
		}
	}
}
