package draw_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// papers are the sizes that flights are drawn at: that of the shop sheet, and others.
var papers = [][2]float64{{140, 97}, {90, 90}, {130, 130}, {180, 180}}

// aFlight draws the guard of a flight, up or down, short or long, steep or shallow, with the floor at its foot higher or lower.
func aFlight(t *rapid.T, in *layout.Input) {
	run := &in.Run
	run.Kind, run.Length = layout.Rake, 0
	run.Riser, run.Tread, run.Risers = sixteenths(t, "riser", 5, 10), sixteenths(t, "tread", 9, 14), rapid.IntRange(3, 14).Draw(t, "risers")
	run.Nosing = sixteenths(t, "nosing", 0, 1)
	run.LandingHeight = length.Length(rapid.IntRange(0, 2).Draw(t, "landing")) * length.Inch
	run.Start, run.End = layout.EndStairFoot, layout.EndStairHead
	if rapid.Bool().Draw(t, "down") {
		run.Start, run.End = run.End, run.Start
	}
	run.NosingFrom = sixteenths(t, "nosing from", 0, 6)
	in.Spec.PostMaxCentres = oneOf(t, "most", 48*length.Inch, 72*length.Inch, 96*length.Inch)
}

// TestRandomFlights: of any flight, on any paper, texts stand clear of each other and of posts, rails and steps; every post has its name, and
// its marks at both faces unless the sheet says that a table must have them; and the drawing is no more than two scales smaller than its bare
// outline would be.
func TestRandomFlights(t *testing.T) {
	sets := ruleSets(t)
	rapid.Check(t, func(t *rapid.T) {
		in := aRun(t, sets)
		aFlight(t, &in)
		l := layout.Compute(in)
		if l.Stair == nil || len(l.Posts) == 0 {
			return
		}
		paper := oneOf(t, "paper", papers...)
		o := draw.ElevationOptions{Width: paper[0], Height: paper[1], Style: in.Unit.Style(), Run: in.Run, Spec: in.Spec}
		s := draw.Elevation(l, o)
		textsApart(t, s)
		withinPaper(t, s)
		if s.Width > o.Width || s.Height > o.Height {
			t.Errorf("the sheet is %.1f by %.1f on paper of %g by %g", s.Width, s.Height, o.Width, o.Height)
		}
		for _, says := range onLines(builtAlone(s)) {
			t.Error(says)
		}
		flightIsLettered(t, l, s, o)
		flightIsLarge(t, s, o)
	})
}

// builtAlone is a sheet with its texts, and of its strokes only those of what is built; a hatched bay keeps its edges.
func builtAlone(s draw.Sheet) draw.Sheet {
	var items []draw.Item
	for _, it := range s.Items {
		switch v := it.(type) {
		case draw.Line:
			if v.Weight == draw.Medium && v.Tone == draw.Faint {
				items = append(items, v)
			}
		case draw.Outline:
			if v.Weight == draw.Hairline && v.ID == "" && v.Points[0].Y == v.Points[1].Y {
				continue // of the scale bar
			}
			if v.Fill == draw.Hatch {
				v.Fill = draw.Empty
			}
			items = append(items, v)
		default:
			items = append(items, v)
		}
	}
	s.Items = items
	return s
}

// flightIsLettered holds a sheet to the names of the posts and to the marks on their faces.
func flightIsLettered(t rapid.TB, l layout.Layout, s draw.Sheet, o draw.ElevationOptions) {
	t.Helper()
	count := map[string]int{}
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok {
			count[text.Body]++
		}
	}
	figure := func(m length.Length) string {
		m = m.Round(l.Grid)
		switch {
		case m == 0:
			return "0"
		case o.Style == length.Metric:
			return m.FormatBare(o.Style)
		}
		return m.Format(o.Style)
	}
	wanted := map[string]int{}
	for _, p := range l.Posts {
		if count[p.Label]+count[fmt.Sprintf("P%d", p.Number)] == 0 {
			t.Errorf("%s has no name at %s", p.Label, s.Scale)
		}
		for _, m := range [][2]length.Length{{p.Stand.Downhill.Top, p.Stand.Uphill.Top}, {p.Stand.Downhill.Under, p.Stand.Uphill.Under}} {
			if o.Run.Down() {
				m[0], m[1] = m[1], m[0]
			}
			wanted[figure(m[0])+" | "+figure(m[1])]++
		}
	}
	if s.Unmarked {
		return
	}
	for pair, n := range wanted {
		if count[pair] != n {
			t.Errorf("the marks %q stand %d times, want %d", pair, count[pair], n)
		}
	}
	head := "on each post: downhill | uphill face"
	if o.Run.Down() {
		head = "on each post: uphill | downhill face"
	}
	if count[head] != 1 {
		t.Errorf("the faces are not named: want %q", head)
	}
}

// flightIsLarge holds a sheet's scale to that of the bare outline.
func flightIsLarge(t rapid.TB, s draw.Sheet, o draw.ElevationOptions) {
	t.Helper()
	x1, y1, x2, y2 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, it := range builtAlone(s).Items {
		switch v := it.(type) {
		case draw.Line:
			x1, x2 = min(x1, v.A.X, v.B.X), max(x2, v.A.X, v.B.X)
			y1, y2 = min(y1, v.A.Y, v.B.Y), max(y2, v.A.Y, v.B.Y)
		case draw.Outline:
			a, b, c, d := around(v)
			x1, y1, x2, y2 = min(x1, a), min(y1, b), max(x2, c), max(y2, d)
		}
	}
	var den float64
	if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
		t.Fatal(err)
	}
	all := draw.Scales(o.Style)
	bare := slices.IndexFunc(all, func(d float64) bool { return (x2-x1)*den/d+5 <= o.Width && (y2-y1)*den/d+5 <= o.Height })
	if at := slices.Index(all, den); at > bare+2 {
		t.Errorf("drawn at 1:%g on paper of %g by %g, its outline has room at 1:%g", den, o.Width, o.Height, all[bare])
	}
}
