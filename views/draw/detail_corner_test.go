package draw_test

import (
	"bytes"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// cornerJob is a job whose runs meet at corners that are not square, one of them of two posts, and at square ones.
func cornerJob(t *testing.T) sampleJob {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [
		{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "across", "first_joist": 6},
		{"label": "R2", "start": "corner", "start_at": "R1", "turn": 45, "end": "corner", "length": 90, "joists": "across", "first_joist": 7},
		{"label": "R3", "start": "corner", "start_at": "R2", "turn": 45, "join": "doubled", "length": 90, "joists": "along"},
		{"label": "R4", "start": "wall", "end": "corner", "length": 96, "joists": "along", "overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4"}},
		{"label": "R5", "start": "corner", "start_at": "R4", "turn": 90, "length": 90, "joists": "across", "first_joist": 10, "overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4"}}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return sampleJob{job: job, layouts: layouts}
}

// cornerDetail draws the detail of a post of those, by its label.
func cornerDetail(t *testing.T, label string, width float64) (layout.Layout, layout.Post, draw.Sheet) {
	t.Helper()
	sample := cornerJob(t)
	for i, l := range sample.layouts {
		for _, p := range l.Posts {
			if p.Label == label {
				e := sample.options(i, width)
				return l, p, draw.Detail(l, p, draw.DetailOptions{Width: width, Style: e.Style, Run: e.Run, Spec: e.Spec})
			}
		}
	}
	t.Fatalf("no post %s", label)
	return layout.Layout{}, layout.Post{}, draw.Sheet{}
}

// TestDetailOfTurnedPost: where a post is turned into a corner that is not square its detail is a plan alone, without bolts and blocking, and rim and
// joists end where they are known to.
func TestDetailOfTurnedPost(t *testing.T) {
	for _, width := range []float64{170, 105} {
		l, p, s := cornerDetail(t, "R1-P3", width)
		textsApart(t, s)
		for _, says := range onLines(s) {
			t.Error(says)
		}
		if s.Width > width {
			t.Errorf("the sheet is %v wide", s.Width)
		}
		has := said(s)
		if _, ok := has[p.Label+", section"]; ok || !strings.Contains(s.Alt, "in plan.") {
			t.Errorf("a section is drawn of a post that no edge meets square: %s", s.Alt)
		}
		for _, want := range []string{"not known", "joist 9", p.Label + ", plan"} {
			if _, ok := has[want]; !ok {
				t.Errorf("it does not say %q", want)
			}
		}
		if _, ok := has["joist 10"]; ok {
			t.Error("a joist past the corner is drawn")
		}
		if bolts := outlines(s, draw.Outline{Weight: draw.Hairline, Dash: draw.Hidden}); len(bolts) != 0 {
			t.Errorf("%d bolts are drawn", len(bolts))
		}
		if blocking := outlines(s, draw.Outline{Weight: draw.Light, Fill: draw.Hatch}); len(blocking) != 0 {
			t.Errorf("%d pieces of blocking are drawn", len(blocking))
		}
		// The rim and joist 9; the rim reaches as far past the post as it is known.
		wood := outlines(s, draw.Outline{Weight: draw.Medium, Fill: draw.Paper})
		if len(wood) != 2 {
			t.Fatalf("%d pieces of framing are drawn, want 2", len(wood))
		}
		_, _, rim, _ := around(wood[0])
		_, _, joist, _ := around(wood[1])
		if got, want := (rim-joist)*den(t, s), (*l.Frame.KnownTo - 134*length.Inch - 3*length.Inch/4).Millimetres(); !near(got, want) {
			t.Errorf("the rim ends %v past joist 9, want %v", got, want)
		}
	}
}

func TestCornerDetailGolden(t *testing.T) {
	for _, c := range []struct {
		name, label string
		width       float64
	}{{"turned", "R1-P3", 170}, {"turned-narrow", "R1-P3", 105}, {"angled", "R2-P3", 170}} {
		t.Run(c.name, func(t *testing.T) {
			_, _, s := cornerDetail(t, c.label, c.width)
			var buf bytes.Buffer
			if err := draw.SVG(&buf, s); err != nil {
				t.Fatal(err)
			}
			golden(t, "detail-"+c.name, buf.Bytes())
		})
	}
}
