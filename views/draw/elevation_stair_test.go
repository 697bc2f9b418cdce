package draw_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// flight is one stair to draw.
type flight struct {
	name  string
	unit  length.Unit
	rules string
	run   layout.Run
}

// flights are short, long, steep, shallow, uneven and measured stairs, up and down, in inches and millimetres.
func flights() []flight {
	var all []flight
	for _, n := range []int{2, 3, 5, 14, 20} {
		for _, s := range []struct {
			name  string
			r, tr length.Length
		}{{"steep", 8 * length.Inch, 9 * length.Inch}, {"shallow", 5 * length.Inch, 14 * length.Inch}} {
			for _, down := range []bool{false, true} {
				run := layout.Run{ID: "s", Label: "R1", Kind: layout.Rake, Start: layout.EndStairFoot, End: layout.EndStairHead, Riser: s.r, Tread: s.tr, Risers: n, Nosing: length.Inch, NosingFrom: 3 * length.Inch,
					Handrail: layout.HandrailSeparate, HandrailSize: length.Inch * 3 / 2, HandrailHeight: 35 * length.Inch}
				for i := range n {
					run.RisersMeasured = append(run.RisersMeasured, s.r+length.Length(i%3)*length.Inch/16)
				}
				if down {
					run.Start, run.End = run.End, run.Start
				}
				all = append(all, flight{fmt.Sprintf("%d %s down=%t in", n, s.name, down), length.Inches, "irc-2018", run},
					flight{fmt.Sprintf("%d %s down=%t mm", n, s.name, down), length.Millimetres, "new-zealand-f4-d1", run})
			}
		}
	}
	return all
}

// drawn lays a flight out and draws it.
func (f flight) drawn(t *testing.T, width float64, brief bool) (layout.Layout, draw.Sheet) {
	t.Helper()
	return f.drawnWith(t, layout.DefaultSpec(f.unit), width, brief)
}

// drawnWith does so by a specification.
func (f flight) drawnWith(t *testing.T, spec layout.Spec, width float64, brief bool) (layout.Layout, draw.Sheet) {
	t.Helper()
	base, err := codes.Get(f.rules)
	if err != nil {
		t.Fatal(err)
	}
	rules, err := codes.Apply(base, nil)
	if err != nil {
		t.Fatal(err)
	}
	l := layout.Compute(layout.Input{Run: f.run, Spec: spec, Rules: rules, Unit: f.unit})
	return l, draw.Elevation(l, draw.ElevationOptions{Width: width, Style: f.unit.Style(), Run: f.run, Spec: spec, Brief: brief})
}

func TestStairElevationTextsNeverOverlap(t *testing.T) {
	for _, f := range flights() {
		for _, width := range []float64{110, 170, 250} {
			for _, brief := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s/%g/%t", f.name, width, brief), func(t *testing.T) {
					_, s := f.drawn(t, width, brief)
					textsApart(t, s)
					if s.Width > width {
						t.Errorf("sheet is %.1f wide on %g of paper", s.Width, width)
					}
				})
			}
		}
	}
}

// The ball is drawn where it goes: on steps all alike it touches the tread, the riser and the underside of the rail, as the drawing has
// them, and it is named.
func TestStairElevationBall(t *testing.T) {
	for _, f := range flights() {
		if !strings.HasPrefix(f.name, "5 ") && !strings.HasPrefix(f.name, "14 ") {
			continue
		}
		t.Run(f.name, func(t *testing.T) {
			f.run.RisersMeasured = nil
			l, s := f.drawn(t, 250, false)
			var den float64
			if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
				t.Fatal(err)
			}
			radius := l.Stair.Sphere.Millimetres() / 2 / den
			var ball *draw.Circle
			var rail []draw.Point
			named := false
			for _, it := range s.Items {
				switch v := it.(type) {
				case draw.Circle:
					if math.Abs(v.Radius-radius) < 1e-6 && v.Dash == draw.Solid {
						ball = &v
					}
				case draw.Outline:
					if strings.HasSuffix(v.ID, "/B1") {
						rail = v.Points[:2] // the underside of the bottom rail, datum end first
					}
				case draw.Text:
					named = named || strings.HasPrefix(v.Body, "ball "+l.Stair.Sphere.FormatUp(f.unit.Style()))
				}
			}
			if ball == nil || rail == nil || !named {
				t.Fatalf("ball %v, rail %v, named %v", ball, rail, named)
			}
			a, b := rail[0], rail[1]
			off := math.Abs((b.X-a.X)*(ball.Centre.Y-a.Y)-(b.Y-a.Y)*(ball.Centre.X-a.X)) / math.Hypot(b.X-a.X, b.Y-a.Y)
			if math.Abs(off-radius) > 0.02 {
				t.Errorf("the ball's centre is %.3f from the rail, its radius %.3f", off, radius)
			}
			touches := map[string]bool{}
			for _, it := range s.Items {
				line, ok := it.(draw.Line)
				if !ok || line.Weight != draw.Medium {
					continue
				}
				low, high := math.Min(line.A.X, line.B.X), math.Max(line.A.X, line.B.X)
				if line.A.Y == line.B.Y && low <= ball.Centre.X && ball.Centre.X <= high && math.Abs(line.A.Y-ball.Centre.Y-radius) < 0.02 {
					touches["tread"] = true
				}
				if line.A.X == line.B.X && math.Abs(math.Abs(line.A.X-ball.Centre.X)-radius) < 0.02 {
					touches["riser"] = true
				}
			}
			if !touches["tread"] || !touches["riser"] {
				t.Errorf("the ball touches %v of the step", touches)
			}
		})
	}
}

// faceFigures are the figures of one mark of every post, from the left: in a row, or one under another in a list.
func faceFigures(s draw.Sheet, name string) (all []draw.Text) {
	lines := map[float64]bool{}
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok && text.Body == name {
			lines[text.At.Y] = true
		}
	}
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok && lines[text.At.Y] && strings.Contains(text.Body, " | ") && !strings.Contains(text.Body, "face") {
			all = append(all, text)
		}
	}
	slices.SortFunc(all, func(a, b draw.Text) int {
		return cmp.Or(cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y))
	})
	return all
}

// In the drawing stand the heights to mark on the posts' faces, the left face first as drawn: by the rise and run of the rake alone, the nosing line climbs from
// one face to the other, and over it stand the rail's underside and, a cap's thickness along the rake less than the finished top, its top.
func TestStairElevationFaces(t *testing.T) {
	checked := 0
	for _, f := range flights() {
		if strings.HasPrefix(f.name, "2 ") || strings.HasPrefix(f.name, "20 ") {
			continue // too short for words beside figures, or too long for the figures of every post
		}
		t.Run(f.name, func(t *testing.T) {
			spec := layout.DefaultSpec(f.unit)
			spec.StairHeight, spec.CapThickness, spec.RakeBottom = 37*length.Inch, length.Inch*5/4, length.Inch/2
			l, s := f.drawnWith(t, spec, 250, false)
			rise, run := f.run.Riser.Inches(), f.run.Tread.Inches()
			factor := math.Hypot(rise, run) / run
			down := strings.Contains(f.name, "down=true")
			// over is how high the nosing line stands over the step under a place's centre, at a place itself; places are in inches from the datum.
			over := func(centre, at float64) float64 {
				up := func(x float64) float64 {
					if down {
						return float64(f.run.Risers-1)*run + 3 - x
					}
					return x - 3 // the lowest nosing stands 3 in from the datum
				}
				step := 0.0
				if c := up(centre); c >= 0 {
					step = math.Min(math.Floor(c/run+1e-9)+1, float64(f.run.Risers))
				}
				return up(at)*rise/run - (step-1)*rise
			}
			for name, above := range map[string]float64{"top rail, top": 37 - 1.25*factor, "bottom rail, under": 0.5} {
				got := faceFigures(s, name)
				if len(got) != len(l.Posts) {
					t.Fatalf("%s: %d posts lettered, want %d", name, len(got), len(l.Posts))
				}
				for i, p := range l.Posts {
					left, right, _ := strings.Cut(got[i].Body, " | ")
					for n, body := range []string{left, right} {
						face := p.Centre.Inches() + (float64(n)-0.5)*spec.PostWidth.Inches()
						want := above + over(p.Centre.Inches(), face)
						have, err := length.Parse(body, f.unit)
						if err != nil || math.Abs(have.Inches()-want) > spec.Grid.Inches()/2+1e-4 {
							t.Errorf("%s, %s: %q, face %d is marked at %q, want %.4f in: %v", name, p.Label, got[i].Body, n+1, body, want, err)
						}
						checked++
					}
				}
			}
		})
	}
	if checked < 200 {
		t.Errorf("only %d figures checked", checked)
	}
}
