package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// details draws every post of every sample on broad and narrow paper.
func details(t *testing.T, try func(t *testing.T, p layout.Post, s draw.Sheet, o draw.DetailOptions)) {
	t.Helper()
	drawn := 0
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			if l.Stair != nil {
				continue
			}
			for n, p := range l.Posts {
				if n > 8 {
					break
				}
				for _, width := range []float64{170, 105} {
					e := sample.options(i, width)
					o := draw.DetailOptions{Width: width, Style: e.Style, Run: e.Run, Spec: e.Spec}
					drawn++
					t.Run(fmt.Sprintf("%s-%s-%g", sample.job.Units, p.Label, width), func(t *testing.T) { try(t, p, draw.Detail(l, p, o), o) })
				}
			}
		}
	}
	if drawn < 50 {
		t.Fatalf("only %d details drawn", drawn)
	}
}

func TestDetailTextsNeverOverlap(t *testing.T) {
	details(t, func(t *testing.T, _ layout.Post, s draw.Sheet, o draw.DetailOptions) {
		textsApart(t, s)
		if s.Width > o.Width {
			t.Errorf("sheet is %.1f wide on %g of paper at %s", s.Width, o.Width, s.Scale)
		}
	})
}

// No line is drawn through the lettering of a detail, and no hatching under it.
func TestDetailTextsStandOnNoLine(t *testing.T) {
	details(t, func(t *testing.T, _ layout.Post, s draw.Sheet, _ draw.DetailOptions) {
		for _, says := range onLines(s) {
			t.Error(says)
		}
	})
}

// A detail letters every figure that is measured before decking: bolt distances, the clear distance to the joists, the place of the
// post, the blocking and the sleeve.
func TestDetailSays(t *testing.T) {
	details(t, func(t *testing.T, p layout.Post, s draw.Sheet, o draw.DetailOptions) { detailSays(t, p, s, o) })
}

// detailSays holds the lettering of a detail to its post.
func detailSays(t rapid.TB, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
	t.Helper()
	has := said(s)
	want := []string{p.Centre.Format(o.Style) + " from the datum", p.Label + ", section", p.Label + ", plan"}
	near, far := p.Footprint()
	want = append(want, (far - near).Format(o.Style))
	for _, b := range p.Bolts {
		if b.Name == "upper" {
			want = append(want, b.FromTop.Format(o.Style))
		} else {
			want = append(want, b.FromBottom.Format(o.Style))
		}
	}
	if o.Spec.PostMount == layout.MountBase {
		base, under := "base", "blocking under the base, cut as measured"
		if p.StandOff > 0 {
			base += ", the post's end " + p.StandOff.Format(o.Style) + " up"
		}
		pieces := 0
		for _, b := range p.Blocking {
			pieces += b.Count
		}
		switch {
		case pieces > 0 && o.Run.Joists == layout.JoistsAlong:
			under = fmt.Sprintf("%d of %s under the base", pieces, p.Blocking[0].Length.Format(o.Style))
		case pieces > 0:
			under = fmt.Sprintf("blocking under the base, %d pieces", pieces)
		}
		want = append(want, base, under)
	}
	if p.Sleeve != nil {
		want = append(want, "sleeve, "+p.Sleeve.Inside.Format(o.Style)+" inside")
		all := "" // as it is read, line after line
		for _, it := range s.Items {
			if text, ok := it.(draw.Text); ok {
				all += text.Body + " "
			}
		}
		for _, h := range p.Sleeve.Holes {
			wall, _, _ := strings.Cut(h.Wall, " (")
			if !strings.Contains(all, h.Size.Format(o.Style)+" "+strings.Fields(h.For)[0]+" "+wall) {
				t.Errorf("the detail of %s does not say what the hole in the %s wall at %v is for: %s", p.Label, wall, h.Height, all)
			}
		}
	}
	if o.Run.Joists == layout.JoistsAcross && !p.JoistClsh && strings.Contains(p.Joist, "tands between") {
		want = append(want, p.JoistGap.Format(o.Style))
	}
	if p.HoldDown != "" && len(p.Bolts) > 0 {
		want = append(want, "hold-down")
	}
	for _, w := range want {
		if _, ok := has[w]; !ok {
			t.Errorf("the detail of %s does not say %q", p.Label, w)
		}
	}
}

// Bolts, blocking and holes are drawn at their places, to scale, of the samples too.
func TestDetailToScale(t *testing.T) {
	details(t, func(t *testing.T, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
		detailBolts(t, p, s, o)
		detailBlocking(t, p, s, o)
		detailHoles(t, p, s, o)
	})
}

// around is the room that an outline takes.
func around(o draw.Outline) (x1, y1, x2, y2 float64) {
	x1, y1, x2, y2 = o.Points[0].X, o.Points[0].Y, o.Points[0].X, o.Points[0].Y
	for _, p := range o.Points {
		x1, y1, x2, y2 = math.Min(x1, p.X), math.Min(y1, p.Y), math.Max(x2, p.X), math.Max(y2, p.Y)
	}
	return x1, y1, x2, y2
}

// outlines lists the outlines of a sheet that are drawn like one.
func outlines(s draw.Sheet, like draw.Outline) (all []draw.Outline) {
	for _, it := range s.Items {
		if o, ok := it.(draw.Outline); ok && o.Weight == like.Weight && o.Dash == like.Dash && o.Tone == like.Tone && o.Fill == like.Fill {
			all = append(all, o)
		}
	}
	return all
}

// near says whether two places on paper are the same.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// detailBolts: bolts are drawn at their distance below the top of the framing, to scale, with centre line and washers.
func detailBolts(t rapid.TB, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
	t.Helper()
	var y []float64
	for _, it := range s.Items {
		if l, ok := it.(draw.Line); ok && l.Dash == draw.Centre && l.A.Y == l.B.Y {
			y = append(y, l.A.Y)
		}
	}
	if len(y) != len(p.Bolts) {
		t.Fatalf("%s: %d bolt lines, want %d", p.Label, len(y), len(p.Bolts))
	}
	if len(y) == 0 {
		return
	}
	// The rim in section is the first outline cut through: its top is the top of the framing.
	_, top, _, _ := around(outlines(s, draw.Outline{Weight: draw.Medium, Fill: draw.Paper})[0])
	for _, b := range p.Bolts {
		at := top + b.FromTop.Millimetres()/den(t, s)
		if !slices.ContainsFunc(y, func(y float64) bool { return near(y, at) }) {
			t.Errorf("%s: no %s bolt %v below the top of the framing", p.Label, b.Name, b.FromTop)
		}
		washers := 0
		for _, w := range outlines(s, draw.Outline{Weight: draw.Light, Fill: draw.Paper}) {
			if x1, y1, x2, y2 := around(w); near((y1+y2)/2, at) && near((x2-x1)*den(t, s), 4) {
				washers++
			}
		}
		if washers < 2 {
			t.Errorf("%s: %d washers at the %s bolt", p.Label, washers, b.Name)
		}
		// Between the washers stands the wood that the bolt goes through; it is long enough for that and two of its diameters.
		left, right := math.Inf(1), math.Inf(-1)
		for _, w := range outlines(s, draw.Outline{Weight: draw.Light, Fill: draw.Paper}) {
			if x1, y1, x2, y2 := around(w); near((y1+y2)/2, at) && near((x2-x1)*den(t, s), 4) {
				left, right = math.Min(left, x2), math.Max(right, x1)
			}
		}
		wood := o.Spec.JoistWidth + o.Spec.PostDepth + b.Blocking
		if got := (right - left) * den(t, s); math.Abs(got-wood.Millimetres()) > 1e-6 {
			t.Errorf("%s: %.2f mm of wood between the washers of the %s bolt, want %v", p.Label, got, b.Name, wood)
		}
		if b.Length < wood+2*o.Spec.BoltDiameter {
			t.Errorf("%s: a bolt of %v for %v of wood", p.Label, b.Length, wood)
		}
	}
}

// detailBlocking: every piece of blocking is drawn in plan as long as the layout has it, to the grid, and lettered with its length.
func detailBlocking(t rapid.TB, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
	t.Helper()
	drawn := outlines(s, draw.Outline{Weight: draw.Light, Fill: draw.Hatch})
	want := 0
	for _, b := range p.Blocking {
		want += b.Count
		words := fmt.Sprintf("%d of %s", b.Count, b.Length.Format(o.Style))
		if o.Run.Joists == layout.JoistsAlong {
			words = "blocking " + b.Length.Format(o.Style)
		}
		if _, ok := said(s)[words]; !ok {
			t.Errorf("%s: the detail does not say %q", p.Label, words)
		}
	}
	for _, piece := range drawn {
		x1, y1, x2, y2 := around(piece)
		long := math.Max(x2-x1, y2-y1) * den(t, s)
		fits := func(b layout.Piece) bool {
			short := long - b.Length.Millimetres()
			return short >= -1e-6 && short <= o.Spec.Grid.Millimetres()
		}
		if !slices.ContainsFunc(p.Blocking, fits) {
			t.Errorf("%s: blocking is drawn %.2f mm long, want %v", p.Label, long, p.Blocking)
		}
	}
	if len(drawn) != want {
		t.Errorf("%s: %d pieces of blocking drawn, want %d: %s", p.Label, len(drawn), want, p.Joist)
	}
}

// detailHoles: every hole of a sleeve is drawn at its height above the sleeve's bottom and to its size, and every height is dimensioned.
func detailHoles(t rapid.TB, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
	t.Helper()
	if p.Sleeve == nil {
		return
	}
	walls := outlines(s, draw.Outline{Weight: draw.Medium, Tone: draw.Accent, Fill: draw.Hatch})
	if len(walls) != 2 {
		t.Fatalf("%s: %d walls of a sleeve in section", p.Label, len(walls))
	}
	_, _, _, foot := around(walls[0])
	var heights []length.Length
	for _, h := range p.Sleeve.Holes {
		at, size := foot-h.Height.Millimetres()/den(t, s), h.Size.Millimetres()/den(t, s)
		found := false
		for _, it := range s.Items {
			switch v := it.(type) {
			case draw.Circle:
				found = found || near(v.Centre.Y, at) && near(2*v.Radius, size)
			case draw.Outline:
				_, y1, _, y2 := around(v)
				found = found || v.Weight == draw.Light && v.Fill == draw.Paper && near((y1+y2)/2, at) && near(y2-y1, size)
			}
		}
		if !found {
			t.Errorf("%s: no hole in the %s wall at %v", p.Label, h.Wall, h.Height)
		}
		heights = append(heights, h.Height)
	}
	slices.Sort(heights)
	heights = append(slices.Compact(heights), p.Sleeve.Height)
	for i, last := 0, length.Length(0); i < len(heights); i, last = i+1, heights[i] {
		if _, ok := said(s)[(heights[i] - last).Format(o.Style)]; !ok {
			t.Errorf("%s: the height of the hole at %v is not dimensioned", p.Label, heights[i])
		}
	}
}

func TestDetailGolden(t *testing.T) {
	for _, c := range []struct {
		name, unit, label string
		post              int
		width             float64
	}{{"bolted", "in", "R1", 0, 170}, {"clash", "in", "R1", 1, 170}, {"along", "in", "R2", 1, 170}, {"sleeve", "in", "R4", 0, 170}, {"sleeve-narrow", "in", "R4", 0, 105}, {"base", "mm", "R5", 1, 170}} {
		t.Run(c.name, func(t *testing.T) {
			l, e := find(t, c.unit, c.label, c.width)
			var buf bytes.Buffer
			if err := draw.SVG(&buf, draw.Detail(l, l.Posts[c.post], draw.DetailOptions{Width: c.width, Style: e.Style, Run: e.Run, Spec: e.Spec})); err != nil {
				t.Fatal(err)
			}
			golden(t, "detail-"+c.name, buf.Bytes())
		})
	}
}

// A post of a flight and one that stands there already have no detail.
func TestDetailOfNone(t *testing.T) {
	l, e := find(t, "in", "R3", 170)
	if s := draw.Detail(l, l.Posts[0], draw.DetailOptions{Width: 170, Style: e.Style, Run: e.Run, Spec: e.Spec}); len(s.Items) != 0 {
		t.Error("a post of a flight has a framing detail")
	}
}

// TestBaseDetail: the post's end is drawn as far off the decking as the base holds it, to scale.
func TestBaseDetail(t *testing.T) {
	for _, off := range []length.Length{0, length.Inch, 2 * length.Inch} {
		in := layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: 96 * length.Inch, Joists: layout.JoistsAcross}, Spec: layout.DefaultSpec(length.Inches), Rules: ruleSets(t)[length.Inches], Unit: length.Inches}
		in.Spec.PostMount, in.Spec.BaseStandOffGiven, in.Spec.BaseStandOff = layout.MountBase, true, off
		l := layout.Compute(in)
		s := draw.Detail(l, l.Posts[0], draw.DetailOptions{Width: 182, Style: length.FeetInches, Run: in.Run, Spec: in.Spec})
		plates := outlines(s, draw.Outline{Weight: draw.Medium, Tone: draw.Accent, Fill: draw.Paper})
		if len(plates) == 0 {
			t.Fatalf("no base is drawn: %v", s.Alt)
		}
		_, _, _, deck := around(plates[0])
		foot := math.NaN()
		for _, it := range s.Items {
			if v, ok := it.(draw.Line); ok && v.Weight == draw.Heavy && v.A.Y == v.B.Y {
				foot = v.A.Y
			}
		}
		if up := (deck - foot) * den(t, s); math.Abs(up-off.Millimetres()) > 1e-6 {
			t.Errorf("the post's end is drawn %.3f mm off the decking, want %v", up, off)
		}
	}
}
