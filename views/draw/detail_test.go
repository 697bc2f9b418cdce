package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"newelbook/checklist/layout"
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
		if s.Width > o.Width+1 {
			t.Errorf("sheet is %.1f wide on %g of paper at %s", s.Width, o.Width, s.Scale)
		}
	})
}

// A detail letters every figure that is measured before decking: bolt distances, the clear distance to the joists, the place of the
// post, the blocking and the sleeve.
func TestDetailSays(t *testing.T) {
	details(t, func(t *testing.T, p layout.Post, s draw.Sheet, o draw.DetailOptions) {
		has := said(s)
		want := []string{p.Centre.Format(o.Style) + " from the datum", p.Label + ", section", p.Label + ", plan", p.Width.Format(o.Style)}
		for _, b := range p.Bolts {
			if b.Name == "upper" {
				want = append(want, b.FromTop.Format(o.Style))
			} else {
				want = append(want, b.FromBottom.Format(o.Style))
			}
		}
		if p.Sleeve != nil {
			want = append(want, "sleeve, "+p.Sleeve.Inside.Format(o.Style)+" inside")
		}
		if o.Run.Joists == layout.JoistsAcross && !p.JoistClsh && strings.HasPrefix(p.Joist, "Stands between") {
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
	})
}

// Bolts are drawn at their distance below the top of the framing, to scale: their centre lines stand as far apart as the bolts.
func TestDetailBoltsToScale(t *testing.T) {
	details(t, func(t *testing.T, p layout.Post, s draw.Sheet, _ draw.DetailOptions) {
		if len(p.Bolts) != 2 {
			return
		}
		var den float64
		if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
			t.Fatal(err)
		}
		var y []float64
		for _, it := range s.Items {
			if l, ok := it.(draw.Line); ok && l.Dash == draw.Centre && l.A.Y == l.B.Y {
				y = append(y, l.A.Y)
			}
		}
		want := (p.Bolts[1].FromTop - p.Bolts[0].FromTop).Millimetres() / den
		if len(y) != 2 || math.Abs(math.Abs(y[1]-y[0])-want) > 1e-9 {
			t.Errorf("bolt lines at %v, want %.3f apart", y, want)
		}
	})
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
