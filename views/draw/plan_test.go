package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// planJobs are invented jobs, each with the runs that its plan is tried on.
func planJobs(t testing.TB) map[string]layout.Job {
	t.Helper()
	run := func(label, more string) string {
		return fmt.Sprintf(`{"label": %q, "joists": "across", "deck_height": 48%s}`, label, more)
	}
	after := func(at, more string) string { return `, "start": "corner", "start_at": "` + at + `"` + more }
	texts := map[string][]string{
		"one":   {run("R1", `, "length": 60`)},
		"walls": {run("R1", `, "start": "wall", "end": "corner", "length": "12'"`), run("R2", after("R1", `, "turn": 90, "end": "corner", "length": "14' 3\""`)), run("R3", after("R2", `, "turn": 90, "end": "wall", "length": "11' 11\""`))},
		"left":  {run("R1", `, "start": "wall", "end": "corner", "length": "12'"`), run("R2", after("R1", `, "turn": -90, "end": "corner", "length": "14' 3\""`)), run("R3", after("R2", `, "turn": -90, "end": "wall", "length": "12'"`))},
		"bay": {run("R1", `, "start": "wall", "end": "corner", "length": "8'"`), run("R2", after("R1", `, "turn": 45, "end": "corner", "length": "6'"`)), run("R3", after("R2", `, "join": "doubled", "turn": 45, "end": "corner", "length": "9'"`)),
			run("R4", after("R3", `, "turn": 135, "end": "corner", "length": "7'"`))},
		"stair": {run("R1", `, "start": "wall", "end": "corner", "length": "12'"`), run("R2", after("R1", `, "turn": 90, "end": "stair head", "length": "6'"`)),
			run("R3", `, "kind": "rake", "start": "stair head", "start_at": "R2", "turn": -90, "end": "stair foot", "total_rise": 48, "tread": 10, "stair_wide": 40`),
			run("R4", `, "start": "stair head", "start_at": "R2", "join": "opening", "join_by": 40, "end": "corner", "length": "5'"`),
			run("R5", `, "kind": "rake", "start": "stair head", "start_at": "R4", "join": "first post", "turn": -90, "end": "stair foot", "total_rise": 48, "tread": 10`),
			run("R6", after("R4", `, "turn": 90, "end": "wall", "length": "12'"`)), run("R7", `, "kind": "removable", "length": 48, "removable_why": "an invented reason"`)},
	}
	var many, square []string
	for i := range 20 {
		label, turn := fmt.Sprintf("R%d", i+1), []int{90, -90, -90, 90}[i%4]
		more := fmt.Sprintf(`, "end": "corner", "length": "%d' 7\""`, 5+i%4)
		if i > 0 {
			more = after(fmt.Sprintf("R%d", i), fmt.Sprintf(`, "turn": %d`, turn)) + more
		}
		many = append(many, run(label, more))
	}
	for i := range 6 {
		more := `, "end": "corner", "length": "96'"`
		if i > 0 {
			more = after(fmt.Sprintf("R%d", i), `, "turn": 60`) + more
		}
		square = append(square, run(fmt.Sprintf("R%d", i+1), more))
	}
	var alone []string
	for i := range 10 {
		alone = append(alone, run(fmt.Sprintf("R%d", i+1), fmt.Sprintf(`, "length": "%d' 4\""`, 6+i)))
	}
	texts["twenty"], texts["six"], texts["alone"] = many, square, alone
	jobs := map[string]layout.Job{}
	for name, runs := range texts {
		for _, units := range []string{"in", "mm"} {
			text := strings.Join(runs, ",\n")
			if units == "mm" {
				text = strings.NewReplacer(`"deck_height": 48`, `"deck_height": "48 in"`, `"length": 60`, `"length": "60 in"`, `"length": 48`, `"length": "48 in"`, `"total_rise": 48`, `"total_rise": "48 in"`, `"tread": 10`, `"tread": "10 in"`, `"stair_wide": 40`, `"stair_wide": "40 in"`, `"join_by": 40`, `"join_by": "40 in"`).Replace(text)
			}
			job, faults := layout.ReadJob(strings.NewReader(fmt.Sprintf(`{"units": %q, "rules": "irc-2018", "runs": [%s]}`, units, text)))
			if len(faults) > 0 {
				t.Fatal(name, faults)
			}
			jobs[name+"-"+units] = job
		}
	}
	return jobs
}

// planOf lays out a job and joins its runs.
func planOf(t testing.TB, job layout.Job) layout.Plan {
	t.Helper()
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return layout.NewPlan(job.Runs, layouts, job.Spec, job.Units)
}

// eachPlan draws every plan at every width.
func eachPlan(t *testing.T, try func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet)) {
	t.Helper()
	for name, job := range planJobs(t) {
		p := planOf(t, job)
		for _, width := range []float64{110, 170, 250} {
			o := draw.PlanOptions{Width: width, Style: job.Units.Style()}
			t.Run(fmt.Sprintf("%s/%g", name, width), func(t *testing.T) { try(t, p, o, draw.Plan(p, o)) })
		}
	}
}

// corners are the corners of the room that a text takes, a little less than its metrics so that neighbours may touch.
func corners(t draw.Text) [4]draw.Point {
	w, h := draw.TextWidth(t.Body, t.Size, t.Bold), 0.7*t.Size
	from := map[draw.Anchor]float64{draw.Start: 0, draw.Middle: -w / 2, draw.End: -w}[t.Anchor]
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	at := func(x, up float64) draw.Point {
		return draw.Point{X: t.At.X + x*cos - up*sin, Y: t.At.Y - x*sin - up*cos}
	}
	return [4]draw.Point{at(from, 0), at(from+w, 0), at(from+w, h), at(from, h)}
}

// apart says whether a line along a side of either text keeps them apart.
func apart(a, b [4]draw.Point) bool {
	for _, q := range [2][4]draw.Point{a, b} {
		for i := range 2 {
			axis := draw.Point{X: q[i+1].X - q[i].X, Y: q[i+1].Y - q[i].Y}
			span := func(p [4]draw.Point) (low, high float64) {
				low, high = math.Inf(1), math.Inf(-1)
				for _, c := range p {
					d := c.X*axis.X + c.Y*axis.Y
					low, high = math.Min(low, d), math.Max(high, d)
				}
				return low, high
			}
			lowA, highA := span(a)
			lowB, highB := span(b)
			if highA <= lowB || highB <= lowA {
				return true
			}
		}
	}
	return false
}

func TestPlanTextsNeverOverlap(t *testing.T) {
	eachPlan(t, func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet) {
		var texts []draw.Text
		for _, it := range s.Items {
			if text, ok := it.(draw.Text); ok {
				texts = append(texts, text)
			}
		}
		for i, a := range texts {
			for _, c := range corners(a) {
				if c.X < 0 || c.Y < 0 || c.X > s.Width || c.Y > s.Height {
					t.Errorf("%q leaves the sheet of %.1f by %.1f", a.Body, s.Width, s.Height)
					break
				}
			}
			for _, b := range texts[:i] {
				if !apart(corners(a), corners(b)) {
					t.Errorf("%q and %q overlap", b.Body, a.Body)
				}
			}
		}
	})
}

// Runs that are not joined stand abreast where that lets them be drawn much larger than in a column, and in a column where it does not.
func TestPlanAbreast(t *testing.T) {
	p := planOf(t, planJobs(t)["alone-in"])
	for _, tt := range []struct {
		height float64
		scale  string
		column bool
	}{{170, "1:48", false}, {400, "1:32", true}} {
		s := draw.Plan(p, draw.PlanOptions{Width: 170, Height: tt.height, Style: length.InchFraction})
		starts := map[float64]bool{} // of runs, across the sheet
		for _, it := range s.Items {
			if text, ok := it.(draw.Text); ok && strings.HasSuffix(text.Body, "-P1") {
				starts[math.Round(text.At.X)] = true
			}
		}
		if !strings.HasPrefix(s.Scale, tt.scale) || s.Height > tt.height || (len(starts) <= 2) != tt.column {
			t.Errorf("ten runs on 170 by %g are drawn at %s, %.0f high, beginning at %d places, want %s, in a column %v", tt.height, s.Scale, s.Height, len(starts), tt.scale, tt.column)
		}
	}
}

// Every post of the job stands in the plan once, where the layout has it: posts of one outline are as far apart on paper as in plan.
func TestPlanHasEveryPost(t *testing.T) {
	eachPlan(t, func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet) {
		var den float64
		if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
			t.Fatalf("scale %q: %v", s.Scale, err)
		}
		drawn := map[string]draw.Point{}
		said := map[string]int{}
		for _, it := range s.Items {
			switch v := it.(type) {
			case draw.Outline:
				if strings.Contains(v.ID, "/P") {
					if _, twice := drawn[v.ID]; twice {
						t.Errorf("%s is drawn twice", v.ID)
					}
					drawn[v.ID] = draw.Point{X: (v.Points[0].X + v.Points[2].X) / 2, Y: (v.Points[0].Y + v.Points[2].Y) / 2}
				}
			case draw.Text:
				said[v.Body]++
			}
		}
		first := map[int]*struct {
			at    draw.Point
			place layout.PlanPoint
		}{}
		for _, r := range p.Runs {
			name := r.Label
			if r.Kind == layout.Removable {
				name += ", lifts out"
			}
			if len(p.Runs) > 7 && o.Width < 200 {
				continue // thinned
			}
			if said[name] != 1 {
				t.Errorf("%s is named %d times", name, said[name])
			}
			if o.Width >= 170 && said[r.Length().Format(o.Style)] == 0 {
				t.Errorf("%s is not dimensioned", r.Label)
			}
			for _, post := range r.Posts {
				if post.SharedAs != "" {
					continue
				}
				at, ok := drawn[fmt.Sprintf("%s/P%d", r.RunID, post.Number)]
				if !ok {
					t.Fatalf("%s is not drawn", post.Label)
				}
				f := first[r.Outline]
				if f == nil {
					first[r.Outline] = &struct {
						at    draw.Point
						place layout.PlanPoint
					}{at, post.At}
					continue
				}
				dx, dy := (post.At.X-f.place.X).Millimetres()/den, (post.At.Y-f.place.Y).Millimetres()/den
				if math.Abs(at.X-f.at.X-dx) > 0.01 || math.Abs(at.Y-f.at.Y-dy) > 0.01 {
					t.Errorf("%s is drawn %.2f, %.2f from the first post, want %.2f, %.2f", post.Label, at.X-f.at.X, at.Y-f.at.Y, dx, dy)
				}
			}
		}
	})
}

// TestPlanNamesEveryPost: a post that is not lettered on the plan is named under it, or counted where there are many.
func TestPlanNamesEveryPost(t *testing.T) {
	eachPlan(t, func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet) {
		lettered, under, posts := 0, "", 0
		for _, it := range s.Items {
			body := ""
			if text, ok := it.(draw.Text); ok {
				body = text.Body
			}
			if strings.HasPrefix(body, "No room here") || strings.Contains(body, "found no room") {
				under = body
			}
			if regexp.MustCompile(`^(.+-)?P[0-9]+$`).MatchString(body) {
				lettered++
			}
		}
		for _, r := range p.Runs {
			for _, post := range r.Posts {
				if post.SharedAs == "" {
					posts++
				}
			}
		}
		if lettered < posts && under == "" {
			t.Errorf("%d of %d posts are lettered, and nothing is said of the others", lettered, posts)
		}
		if lettered == posts && under != "" {
			t.Errorf("every post is lettered, and under the plan it says %q", under)
		}
	})
}

func TestPlanKeepsToItsPaper(t *testing.T) {
	eachPlan(t, func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet) {
		if s.Width > o.Width || s.Height > o.Width {
			t.Errorf("sheet of %.1f by %.1f on %g of paper at %s", s.Width, s.Height, o.Width, s.Scale)
		}
	})
}

func TestPlanGolden(t *testing.T) {
	all := planJobs(t)
	for _, name := range []string{"walls-in", "bay-in", "stair-in", "stair-mm", "twenty-in", "six-mm"} {
		t.Run(name, func(t *testing.T) {
			job := all[name]
			var buf bytes.Buffer
			if err := draw.SVG(&buf, draw.Plan(planOf(t, job), draw.PlanOptions{Width: 170, Style: job.Units.Style()})); err != nil {
				t.Fatal(err)
			}
			golden(t, "plan-"+name, buf.Bytes())
		})
	}
}

// No line runs through the angle of a turn, at any size of paper.
func TestPlanAnglesUnstruck(t *testing.T) {
	checked := 0
	eachPlan(t, func(t *testing.T, p layout.Plan, o draw.PlanOptions, s draw.Sheet) {
		for _, it := range s.Items {
			text, ok := it.(draw.Text)
			if !ok || !strings.HasSuffix(text.Body, "°") {
				continue
			}
			checked++
			for _, it := range s.Items {
				if line, ok := it.(draw.Line); ok {
					if _, _, met := (drawnLine{a: line.A, b: line.B}).within(textRoom(text)); met {
						t.Errorf("%q at %.1f, %.1f is struck by the line from %v to %v", text.Body, text.At.X, text.At.Y, line.A, line.B)
					}
				}
			}
		}
	})
	if checked < 12 {
		t.Errorf("only %d angles looked at", checked)
	}
}
