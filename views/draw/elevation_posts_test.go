package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// postDrawn is the post of that number as drawn: the highest place at its left and right face and its lowest, hidden part included, in
// inches of the real thing above what the sheet has lowest of it; and how much of it is hidden.
func postDrawn(t *testing.T, s draw.Sheet, number int) (left, right, hidden float64) {
	t.Helper()
	var den float64
	if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
		t.Fatal(err)
	}
	var solid []draw.Point
	for _, it := range s.Items {
		if o, ok := it.(draw.Outline); ok && strings.HasSuffix(o.ID, fmt.Sprintf("/P%d", number)) {
			solid = o.Points
		}
	}
	if len(solid) != 4 {
		t.Fatalf("post %d is drawn by %d points", number, len(solid))
	}
	low := solid[0].Y
	for _, it := range s.Items {
		if o, ok := it.(draw.Outline); ok && o.Dash == draw.Hidden && len(o.Points) == 4 && o.Points[0].X == solid[0].X && o.Points[1].X == solid[1].X && math.Abs(o.Points[2].Y-solid[1].Y) < 1e-9 {
			low, hidden = o.Points[0].Y, (o.Points[0].Y-solid[0].Y)*den/25.4
		}
	}
	return (low - solid[3].Y) * den / 25.4, (low - solid[2].Y) * den / 25.4, hidden
}

// TestPostsStandOnSomething: the posts of a flight are drawn to scale from what they stand on to the rake of their tops. Of a flight of 7 1/2 by
// 10 with a guard of 36 in above its nosing line and no cap thicker than 1 in, the foot post's uphill face stands at the lowest nosing: over a
// pad 3 in up its top is 7.5 - 3 + 36 - 1.25 = 39.25 in there (a cap of 1 in measures 1.25 plumb) and 3.5 x 0.75 less at the downhill face.
func TestPostsStandOnSomething(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(*layout.Run)
		post          int
		below, hidden float64 // under the surface; hidden in all
	}{
		{"a pad 3 in up", func(r *layout.Run) { r.FootOn, r.LandingHeight = layout.OnPad, 3*length.Inch }, 0, 0, 0},
		{"a footing 30 in deep", func(r *layout.Run) { r.FootOn, r.FootBelow = layout.OnFooting, 30*length.Inch }, 0, 30, 30},
		{"the landing's framing", func(r *layout.Run) { r.FootOn = layout.OnPad }, 1, 1 + 9.25, 1 + 9.25},
	} {
		for _, down := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s down=%t", c.name, down), func(t *testing.T) {
				// The head post's downhill face stands 2 in behind the top nosing.
				run := layout.Run{ID: "s", Label: "R1", Kind: layout.Rake, Start: layout.EndStairFoot, End: layout.EndStairHead, Riser: 15 * length.Inch / 2, Tread: 10 * length.Inch, Risers: 5,
					NosingFrom: 7 * length.Inch / 4, Length: 40*length.Inch + 7*length.Inch/4 + 15*length.Inch/4}
				if down {
					run.Start, run.End, run.NosingFrom = run.End, run.Start, 15*length.Inch/4
				}
				c.change(&run)
				spec := layout.DefaultSpec(length.Inches)
				spec.StairHeight, spec.PostMaxCentres, spec.CapThickness, spec.JoistDepth, spec.Decking = 36*length.Inch, 72*length.Inch, length.Inch, 37*length.Inch/4, length.Inch
				l, s := flight{unit: length.Inches, rules: "irc-2018", run: run}.drawnWith(t, spec, 250, false)
				number := c.post + 1
				if down {
					number = 2 - c.post
				}
				left, right, hidden := postDrawn(t, s, number)
				if down {
					left, right = right, left
				}
				top := 7.5 - run.LandingHeight.Inches() + 36 - 1.25 // at the uphill face of the foot post, over the surface
				if c.post == 1 {
					top = 36 - 1.25 + (2+3.5)*0.75
				}
				for _, x := range []struct {
					what      string
					got, want float64
				}{{"uphill", right, top + c.below}, {"downhill", left, top + c.below - 3.5*0.75}, {"hidden", hidden, c.hidden}} {
					if math.Abs(x.got-x.want) > 0.01 {
						t.Errorf("%s: drawn %.3f in, want %.3f", x.what, x.got, x.want)
					}
				}
				p := l.Posts[number-1]
				if got := p.Cut.Inches(); math.Abs(got-top-c.below) > 1.0/16 {
					t.Errorf("cut %v, want %v to the long point", got, top+c.below)
				}
			})
		}
	}
}

// TestElevationBoltsOnStringer: bolts through a stringer are drawn on their post, as far below the nosing line as the rake and their distance from the
// stringer's edges have it: on steps of 7 1/2 by 10 a length square to the rake is 1 1/4 times as long plumb, so that bolts 2 1/8 in from the edges of
// 11 1/4 in, whose lower edge is 12 in below the line, stand 12 - 1.25 x 9 1/8 and 12 - 1.25 x 2 1/8 in below it. Without that 12 none is drawn.
func TestElevationBoltsOnStringer(t *testing.T) {
	for _, below := range []float64{12, 0} {
		for _, down := range []bool{false, true} {
			run := layout.Run{ID: "s", Label: "R1", Kind: layout.Rake, Start: layout.EndStairFoot, End: layout.EndStairHead, Riser: 15 * length.Inch / 2, Tread: 10 * length.Inch, Risers: 6, Posts: []length.Length{25 * length.Inch},
				PostsOn: layout.OnStringer, FootOn: layout.OnPad, Stringer: layout.StringerClosed, StringerDepth: 45 * length.Inch / 4, StringerBelow: length.FromInches(below)}
			if down {
				run.Start, run.End = run.End, run.Start
			}
			l, s := flight{unit: length.Inches, rules: "irc-2018", run: run}.drawn(t, 250, false)
			var bolts []draw.Circle
			for _, it := range s.Items {
				if c, ok := it.(draw.Circle); ok && c.Weight == draw.Hairline && c.Fill == draw.Paper {
					bolts = append(bolts, c)
				}
			}
			if below == 0 {
				if len(bolts) != 0 {
					t.Errorf("down %v: %d bolts drawn at places that nothing gives", down, len(bolts))
				}
				continue
			}
			if len(bolts) != 2 || !l.Posts[1].Stringer() {
				t.Fatalf("down %v: %d bolts drawn", down, len(bolts))
			}
			scale := den(t, s) / 25.4
			// Its bottom rail lies on the nosing line, so that the openings' lower corners do.
			var line []draw.Point
			for _, it := range s.Items {
				if o, ok := it.(draw.Outline); ok && strings.HasSuffix(o.ID, "/B1") {
					line = o.Points[:2]
				}
			}
			at := func(x float64) float64 {
				return line[0].Y + (line[1].Y-line[0].Y)*(x-line[0].X)/(line[1].X-line[0].X)
			}
			for n, want := range []float64{12 - 1.25*9.125, 12 - 1.25*2.125} {
				if got := (bolts[n].Centre.Y - at(bolts[n].Centre.X)) * scale; math.Abs(got-want) > 0.001 {
					t.Errorf("down %v: bolt %d is drawn %.4f in below the nosing line, want %.4f", down, n+1, got, want)
				}
			}
		}
	}
}

// TestHeadPostDrawn: the post that a level guard and a flight share is drawn with its own top in both elevations: where both caps lie on it, square
// as far as the line where they meet and to the rake from there. On 6 by 8 a level guard of 36 in and a raked one of 34 with caps of 1 in meet 1/6
// in behind the downhill face of a post 2 1/2 in behind the top nosing: the tops stand at 35 and, at that face, at 34 - 1.25 + 0.75 x 2.5.
func TestHeadPostDrawn(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.LevelHeight, spec.StairHeight, spec.CapThickness, spec.PostMaxCentres = 36*length.Inch, 34*length.Inch, length.Inch, 96*length.Inch
	for _, turn := range []int{90, 0} {
		job := layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: spec, Runs: []layout.Run{
			{ID: "a", Label: "R1", Kind: layout.Level, Length: 72 * length.Inch, End: layout.EndStairHead},
			{ID: "b", Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, StartAt: "R1", End: layout.EndStairFoot, FootOn: layout.OnPad, Turn: turn, Riser: 6 * length.Inch, Tread: 8 * length.Inch, Risers: 6,
				Nosing: length.Inch, NosingFrom: 17 * length.Inch / 4}}}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range [][]float64{{35, 35, 34.75, 34.625}, {35, 35, 34.75, 34.625}} {
			if i == 0 && turn == 90 {
				want = []float64{35, 35} // seen from the side that it falls away to
			}
			l, run := layouts[i], job.Runs[i]
			s := draw.Elevation(l, draw.ElevationOptions{Width: 250, Style: length.InchFraction, Run: run, Spec: spec})
			textsApart(t, s)
			var den float64
			if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
				t.Fatal(err)
			}
			number := len(l.Posts)
			if i == 1 {
				number = 1
			}
			var points []draw.Point
			for _, it := range s.Items {
				if o, ok := it.(draw.Outline); ok && strings.HasSuffix(o.ID, fmt.Sprintf("/P%d", number)) {
					points = o.Points
				}
			}
			if len(points) != 2+len(want) {
				t.Fatalf("turn %d, %s: drawn by %d points", turn, l.Label, len(points))
			}
			for n, z := range want {
				p := points[len(points)-1-n] // from the datum side on
				if got := (points[0].Y - p.Y) * den / 25.4; math.Abs(got-z) > 0.01 {
					t.Errorf("turn %d, %s: place %d of the top drawn at %.3f in, want %.3f", turn, l.Label, n+1, got, z)
				}
			}
			if i == 1 {
				textsApart(t, draw.PostMarks(l, l.Posts[0], draw.DetailOptions{Width: 170, Style: length.InchFraction, Run: run, Spec: spec}))
			}
		}
	}
}
