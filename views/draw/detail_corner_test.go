package draw_test

import (
	"bytes"
	"slices"
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
		{"label": "R5", "start": "corner", "start_at": "R4", "turn": 90, "length": 90, "joists": "across", "first_joist": 10, "overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4"}},
		{"label": "R6", "start": "corner", "length": 72, "joists": "along"}]}`))
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

// TestDetailOfSleeveInACorner: the plan shows the rim round the corner and both pieces of blocking beside the sleeve, on the side away from it, where the
// layout has them; the section says so too.
func TestDetailOfSleeveInACorner(t *testing.T) {
	for label, says := range map[string]string{"R4-P2": "2 on the datum side", "R6-P1": "2 on the far side"} {
		for _, width := range []float64{170, 105} {
			l, p, s := cornerDetail(t, label, width)
			textsApart(t, s)
			for _, says := range onLines(s) {
				t.Error(says)
			}
			has := said(s)
			long := "blocking " + p.Blocking[0].Length.Format(length.InchFraction)
			for _, want := range []string{long, long + ", " + says, "rim round the corner"} {
				if _, ok := has[want]; !ok {
					t.Errorf("%s: it does not say %q", label, want)
				}
			}
			pieces := outlines(s, draw.Outline{Weight: draw.Light, Fill: draw.Hatch})
			post := outlines(s, draw.Outline{Weight: draw.Heavy, Fill: draw.Paper})
			if len(pieces) != 2 || len(post) != 1 {
				t.Fatalf("%s: %d pieces of blocking and %d posts drawn", label, len(pieces), len(post))
			}
			x1, _, x2, _ := around(post[0])
			for i, piece := range pieces {
				from, _, _, _ := around(piece)
				if got, want := (from-(x1+x2)/2)*den(t, s), (p.Beside[i].From - p.Centre).Millimetres(); !near(got, want) {
					t.Errorf("%s: blocking drawn %v from the post's centre, want %v", label, got, want)
				}
			}
			rim := l.Frame.End
			if rim == nil {
				rim = l.Frame.Start
			}
			wood := outlines(s, draw.Outline{Weight: draw.Medium, Fill: draw.Paper})
			if !slices.ContainsFunc(wood, func(o draw.Outline) bool {
				from, _, to, _ := around(o)
				return near((from-(x1+x2)/2)*den(t, s), (rim.Near-p.Centre).Millimetres()) && near((to-from)*den(t, s), (rim.Far-rim.Near).Millimetres())
			}) {
				t.Errorf("%s: no rim is drawn round the corner", label)
			}
		}
	}
}

func TestCornerDetailGolden(t *testing.T) {
	for _, c := range []struct {
		name, label string
		width       float64
	}{{"turned", "R1-P3", 170}, {"turned-narrow", "R1-P3", 105}, {"angled", "R2-P3", 170}, {"corner-sleeve", "R4-P2", 170}, {"corner-sleeve-narrow", "R4-P2", 105}, {"corner-along", "R6-P1", 170}} {
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

// TestDetailOfSecondPair: the second pair of bolts of a corner's post runs out through the framing under the other run, and inward through the blocking that
// stands away from the corner: past the post's far side at the far end of its run, and before its near side where the other run goes off from its first post.
func TestDetailOfSecondPair(t *testing.T) {
	for name, runs := range map[string]string{
		"far end":    `{"label": "R1", "end": "corner", "length": 96, "joists": "along"}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "length": 72, "joists": "across", "first_joist": 10}`,
		"first post": `{"label": "R1", "start": "corner", "length": 96, "joists": "along"}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 72, "joists": "across", "first_joist": 10}`,
	} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [` + runs + `]}`))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		l, atStart := layouts[0], name == "first post"
		p := l.Posts[len(l.Posts)-1]
		if atStart {
			p = l.Posts[0]
		}
		s := draw.Detail(l, p, draw.DetailOptions{Width: 170, Style: length.InchFraction, Run: job.Runs[0], Spec: job.Spec})
		textsApart(t, s)
		posts := outlines(s, draw.Outline{Weight: draw.Heavy, Fill: draw.Paper})
		left, _, right, _ := around(posts[len(posts)-1]) // of the post in plan
		pairs := 0
		for _, o := range outlines(s, draw.Outline{Weight: draw.Hairline, Dash: draw.Hidden}) {
			x1, y1, x2, y2 := around(o)
			if x2-x1 < y2-y1 {
				continue // the first pair
			}
			pairs++
			before, past := (left-x1)*den(t, s), (x2-right)*den(t, s)
			out, inward := past, before
			if atStart {
				out, inward = before, past
			}
			// Framing of 1 1/2 in with a nut and washer beyond, and two pieces of blocking of 1 1/2 in.
			if out < 38 || inward < 2*38 || p.Corner[0].Blocking != 3*length.Inch {
				t.Errorf("%s: the second pair reaches %.0f mm out of the post and %.0f in, through %v of blocking", name, out, inward, p.Corner[0].Blocking)
			}
			if out > 38.1+30 {
				t.Errorf("%s: the second pair reaches %.0f mm past the post, away from its framing", name, out)
			}
		}
		if pairs != 1 {
			t.Errorf("%s: %d second pairs are drawn", name, pairs)
		}
	}
}
