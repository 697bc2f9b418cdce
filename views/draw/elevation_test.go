package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/views/draw"
)

// sampleJob is an invented job as its description has it, laid out.
type sampleJob struct {
	job     layout.Job
	layouts []layout.Layout
}

// samples lays out the invented jobs that every drawing is tried on.
func samples(t testing.TB) []sampleJob {
	t.Helper()
	var all []sampleJob
	for _, text := range []string{
		// Inches: wall to corner with a bay as built, shared posts, a stair, a removable length in steel sleeves.
		`{"units": "in", "rules": "irc-2018", "spec": {"infill_width": 0.75, "connector_top": "1/4", "connector_bottom": "1/4"},
		"runs": [
		{"id": "k7d2a1", "label": "R1", "start": "wall", "end": "corner", "length": "14' 3 1/2\"", "deck_height": 40, "joists": "across", "first_joist": "3/4"},
		{"id": "k7d2a2", "label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "stair head", "length": "12'", "deck_height": 104, "joists": "along", "overrides": {"infill_mode": "fixed centres"}},
		{"id": "k7d2a3", "label": "R3", "kind": "rake", "start": "stair head", "start_at": "R2", "end": "stair foot", "total_rise": "38 3/4", "tread": 10, "nosing": "1", "stair_foot": "an invented concrete pad", "overrides": {"infill_mode": "fixed centres"}},
		{"id": "k7d2a4", "label": "R4", "kind": "removable", "length": 60, "deck_height": 40, "joists": "across", "first_joist": "8", "removable_why": "a piano comes in here once a year", "removable_store": "garage wall",
		"overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4", "sleeve_clearance": "3/16", "infill_moisture": "wet"}},
		{"id": "k7d2a5", "label": "R5", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": "104", "tread": 10.25, "nosing": "3/4",
		 "stringer": "cut stringer", "posts_on": "stringer", "stringer_depth": "11 1/4", "stringer_below": "15 1/2", "foot_on": "pad"},
		{"id": "k7d2a6", "label": "R6", "length": "14' 3 1/2\"", "posts": ["6'", "6' 7\""], "deck_height": 40, "joists": "across", "first_joist": "0", "overrides": {"connector_top": "3"}},
		{"id": "k7d2a7", "label": "R7", "length": "96'", "deck_height": 40, "joists": "across", "first_joist": "0"},
		{"id": "k7d2a8", "label": "R8", "clear_opening": 30, "start": "wall", "end": "wall"}],
		"built": [{"run": "R1", "bay": 2, "bottom": "52 9/16", "top": "52 7/8"}]}`,
		// Millimetres: posts through the cap where the builder put them, on their faces; a stair; a very long run of many posts.
		`{"units": "mm", "rules": "ontario-9.8", "spec": {"infill_width": 38, "infill_shape": "square", "rail_orientation": "flat", "connector_top": 0, "connector_bottom": 0, "posts_at_cap": "through", "cap_width": 139},
		"runs": [
		{"id": "m3", "label": "R1", "length": 5400, "length_over": "outside faces", "posts": [44.5, "1,800 mm", 3600], "deck_height": 2100},
		{"id": "m4", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": 1260, "risers": 7, "tread": 280, "overrides": {"posts_at_cap": "under"}},
		{"id": "m5", "label": "R3", "length": 48000, "deck_height": 900, "overrides": {"posts_at_cap": "under", "post_max_centres": 1200, "infill_fix": "face"}},
		{"id": "m6", "label": "R4", "kind": "removable", "length": 1500, "removable_why": "an invented reason", "overrides": {"post_mount": "sleeve", "posts_at_cap": "under"}},
		{"id": "m7", "label": "R5", "length": 2400, "overrides": {"post_mount": "base", "level_height": "1,070", "infill_centres": 200, "infill_mode": "fixed centres"}},
		{"id": "m8", "label": "R6", "kind": "rake", "start": "stair head", "end": "stair foot", "total_rise": 1260, "risers": 7, "tread": 280, "posts": "900",
		 "stringer": "closed stringer", "posts_on": "stringer", "stringer_depth": 286, "stringer_below": 330, "foot_on": "pad", "overrides": {"posts_at_cap": "under"}}]}`,
		// Bays filled with cables, level and raked, and with panels.
		`{"units": "in", "rules": "wisconsin-sps-325", "spec": {"level_height": 36, "stair_height": 36, "connector_top": 0, "connector_bottom": 0, "infill_kind": "cables"},
		"runs": [
		{"id": "c1", "label": "C1", "length": "12'", "deck_height": 40, "joists": "across", "first_joist": "0"},
		{"id": "c2", "label": "C2", "kind": "rake", "start": "stair head", "end": "stair foot", "total_rise": "38 3/4", "tread": 10, "nosing": "1"},
		{"id": "c3", "label": "C3", "length": "14'", "deck_height": 40, "overrides": {"infill_kind": "panels", "panel_most": "32"}},
		{"id": "c4", "label": "C4", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": "38 3/4", "tread": 10, "overrides": {"infill_kind": "panels", "panel_gap": 1}}]}`,
	} {
		job, faults := layout.ReadJob(strings.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, sampleJob{job, layouts})
	}
	return all
}

// options are those of one run of a sample.
func (s sampleJob) options(i int, width float64) draw.ElevationOptions {
	spec, _ := s.job.Spec.With(s.job.Runs[i].Overrides, s.job.Units)
	return draw.ElevationOptions{Width: width, Style: s.job.Units.Style(), Run: s.job.Runs[i], Spec: spec}
}

// each draws every run of every sample at every width, in full, in brief, and from the layout alone.
func each(t *testing.T, try func(t *testing.T, l layout.Layout, o draw.ElevationOptions, s draw.Sheet)) {
	t.Helper()
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			for _, width := range []float64{110, 170, 250} {
				full := sample.options(i, width)
				brief, bare := full, draw.ElevationOptions{Width: width, Style: full.Style}
				brief.Brief = true
				for name, o := range map[string]draw.ElevationOptions{"full": full, "brief": brief, "bare": bare} {
					t.Run(fmt.Sprintf("%s/%s/%s/%g", sample.job.Units, l.Label, name, width), func(t *testing.T) { try(t, l, o, draw.Elevation(l, o)) })
				}
			}
		}
	}
}

// textRoom is the room that an upright or level text takes, a little less than its metrics so that neighbours may touch.
func textRoom(t draw.Text) [4]float64 {
	w, h := draw.TextWidth(t.Body, t.Size, t.Bold), 0.72*t.Size
	from := map[draw.Anchor]float64{draw.Start: 0, draw.Middle: -w / 2, draw.End: -w}[t.Anchor]
	if t.Angle == 90 {
		return [4]float64{t.At.X - h, t.At.Y - from - w, t.At.X, t.At.Y - from}
	}
	return [4]float64{t.At.X + from, t.At.Y - h, t.At.X + from + w, t.At.Y}
}

func TestElevationTextsNeverOverlap(t *testing.T) {
	each(t, func(t *testing.T, l layout.Layout, o draw.ElevationOptions, s draw.Sheet) { textsApart(t, s) })
}

// textsApart holds every text to the sheet and off every other text.
func textsApart(t rapid.TB, s draw.Sheet) {
	t.Helper()
	var texts []draw.Text
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok {
			texts = append(texts, text)
		}
	}
	if len(texts) < 3 {
		t.Fatalf("%d texts: the drawing is not lettered", len(texts))
	}
	for i, a := range texts {
		if a.Angle != 0 && a.Angle != 90 {
			t.Errorf("%q is set at %v degrees", a.Body, a.Angle)
		}
		ra := textRoom(a)
		if ra[0] < 0 || ra[1] < 0 || ra[2] > s.Width || ra[3] > s.Height {
			t.Errorf("%q at %v leaves the sheet of %.1f by %.1f", a.Body, ra, s.Width, s.Height)
		}
		for _, b := range texts[:i] {
			if rb := textRoom(b); ra[0] < rb[2] && rb[0] < ra[2] && ra[1] < rb[3] && rb[1] < ra[3] {
				t.Errorf("%q and %q overlap: %v, %v", b.Body, a.Body, rb, ra)
			}
		}
	}
}

// Every baluster stands at its mark: as many upright outlines of its width as there are marks, each at its own distance
// from the post face to the width of a hairline.
func TestElevationHasEveryMark(t *testing.T) {
	each(t, func(t *testing.T, l layout.Layout, o draw.ElevationOptions, s draw.Sheet) {
		var den float64
		if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
			t.Fatalf("scale %q: %v", s.Scale, err)
		}
		bays := map[string][]draw.Point{}
		for _, it := range s.Items {
			if o, ok := it.(draw.Outline); ok && strings.Contains(o.ID, "/B") {
				bays[o.ID] = o.Points
			}
		}
		for _, b := range l.Bays {
			points, ok := bays[fmt.Sprintf("%s/B%d", l.RunID, b.Number)]
			if !ok {
				t.Fatalf("%s has no outline", b.Label)
			}
			parts := b.Used()
			if parts == nil {
				continue
			}
			for _, mark := range parts.Infill.FromPost {
				want := points[0].X + mark.Millimetres()/den
				if !memberAt(s, want, parts.Infill.Member.Millimetres()/den) {
					t.Errorf("%s has no member at %s from the post face", b.Label, mark.Format(o.Style))
				}
			}
			if c := parts.Infill.Cables; c != nil {
				if got := cablesFrom(s, points[0].X); len(got) != c.Count {
					t.Errorf("%s has %d cables from its near post, want %d", b.Label, len(got), c.Count)
				} else {
					for i, y := range got[1:] {
						if want := (c.Marks[i+1] - c.Marks[i]).Millimetres() / den; math.Abs(got[i]-y-want) > 1e-6 {
							t.Errorf("%s: cable %d stands %.3f above the one below it, want %.3f", b.Label, i+2, got[i]-y, want)
						}
					}
				}
			}
		}
	})
}

// cablesFrom lists the heights on paper, from the lowest up, of the light lines that start at x and run over most of a bay.
func cablesFrom(s draw.Sheet, x float64) []float64 {
	var all []float64
	for _, it := range s.Items {
		if l, ok := it.(draw.Line); ok && l.Weight == draw.Light && l.Dash == draw.Solid && math.Abs(l.A.X-x) < 1e-6 && l.B.X-l.A.X > 5 {
			all = append(all, l.A.Y)
		}
	}
	return all
}

// memberAt says whether an outline as wide as a member is centred at x.
func memberAt(s draw.Sheet, x, width float64) bool {
	for _, it := range s.Items {
		o, ok := it.(draw.Outline)
		if !ok || len(o.Points) != 4 || o.ID != "" {
			continue
		}
		if math.Abs((o.Points[0].X+o.Points[1].X)/2-x) < 0.05 && math.Abs(o.Points[1].X-o.Points[0].X-width) < 1e-6 {
			return true
		}
	}
	return false
}

func TestElevationKeepsToItsPaper(t *testing.T) {
	each(t, func(t *testing.T, l layout.Layout, o draw.ElevationOptions, s draw.Sheet) {
		if s.Width > o.Width || s.Width < 0.35*o.Width {
			t.Errorf("sheet is %.1f wide on %g of paper at %s", s.Width, o.Width, s.Scale)
		}
		if s.Height > o.Width {
			t.Errorf("sheet is %.1f high on %g of paper at %s", s.Height, o.Width, s.Scale)
		}
		if o.Brief && o.Width >= 170 && l.Stair == nil && l.Length > 4*l.Heights.Finished && s.Width < 2.5*s.Height {
			t.Errorf("sheet of %.1f by %.1f is too high to stay in view", s.Width, s.Height)
		}
	})
}

// find is the layout of a run of the samples, by unit and label, and how to draw it.
func find(t *testing.T, unit, label string, width float64) (layout.Layout, draw.ElevationOptions) {
	t.Helper()
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			if string(sample.job.Units) == unit && l.Label == label {
				return l, sample.options(i, width)
			}
		}
	}
	t.Fatalf("no run %s in %s", label, unit)
	return layout.Layout{}, draw.ElevationOptions{}
}

func TestElevationGolden(t *testing.T) {
	for _, c := range []struct {
		name, unit, label string
		width             float64
		brief             bool
	}{
		{"level", "in", "R1", 170, false},
		{"level-brief", "in", "R1", 170, true},
		{"level-phone", "in", "R1", 110, false},
		{"level-metric", "mm", "R1", 170, false},
		{"rake", "in", "R3", 170, false},
		{"rake-metric", "mm", "R2", 170, false},
		{"removable", "in", "R4", 170, false},
		{"removable-metric", "mm", "R4", 110, false},
		{"cables", "in", "C1", 170, false},
		{"cables-rake", "in", "C2", 170, false},
		{"panels", "in", "C3", 170, false},
		{"panels-rake", "in", "C4", 170, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, o := find(t, c.unit, c.label, c.width)
			o.Brief = c.brief
			var buf bytes.Buffer
			if err := draw.SVG(&buf, draw.Elevation(l, o)); err != nil {
				t.Fatal(err)
			}
			golden(t, "elevation-"+c.name, buf.Bytes())
		})
	}
}

// said lists the texts of a sheet.
func said(s draw.Sheet) map[string]draw.Text {
	all := map[string]draw.Text{}
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok {
			all[text.Body] = text
		}
	}
	return all
}

func TestElevationSays(t *testing.T) {
	for _, c := range []struct {
		unit, label string
		want        []string // texts
		red         []string
	}{
		// A bay as built and at odds, a post on a joist, post centres from a datum at a wall, heights from the decking.
		{"in", "R1", []string{"R1-P1", "R1-P3", "R1-B1", "R1-B3", `56"`, `171 1/2"`, `52 9/16"`, "datum, wall", "corner", `36 1/2"`, "finished top", `3"`, "0"},
			[]string{"R1-B2", "as built, at odds", "on a joist", "R1-P2"}},
		// A shared post, and the rake of a stair going down.
		{"in", "R3", []string{"R3-P1", "is R2-P3", "37.8° above level", `7 3/4"`, `10"`, "5 risers, 4 treads", "nosing line", "datum, stair head", "stair foot"}, nil},
		{"in", "R4", []string{`lifts out, 10 1/4" to clear its sleeves`}, nil},
		// A bay in which no rail fits.
		{"in", "R6", []string{"B1", "B3"}, []string{"B2", "not laid out"}},
		// Millimetres stand without their mark.
		{"mm", "R1", []string{"44.5", "1800", "3600", "5355.5", "1082", "post top", "1182", "1:50, millimetres"}, nil},
	} {
		t.Run(c.unit+" "+c.label, func(t *testing.T) {
			texts := said(draw.Elevation(find(t, c.unit, c.label, 170)))
			for _, body := range append(c.want, c.red...) {
				if _, ok := texts[body]; !ok {
					t.Errorf("the drawing does not say %q", body)
				}
			}
			for _, body := range c.red {
				if texts[body].Tone != draw.Red {
					t.Errorf("%q is not in red", body)
				}
			}
		})
	}
}

// Every post and bay carries the id of its place, once, and what is at odds is hatched.
func TestElevationPlaces(t *testing.T) {
	each(t, func(t *testing.T, l layout.Layout, o draw.ElevationOptions, s draw.Sheet) {
		ids := map[string]int{}
		hatched := map[string]bool{}
		for _, it := range s.Items {
			if o, ok := it.(draw.Outline); ok && o.ID != "" {
				ids[o.ID]++
				hatched[o.ID] = o.Fill == draw.Hatch && o.Tone == draw.Red
			}
		}
		if len(ids) != len(l.Posts)+len(l.Bays) {
			t.Errorf("%d places, want %d posts and %d bays", len(ids), len(l.Posts), len(l.Bays))
		}
		odds := map[string]bool{}
		for _, p := range l.Problems {
			odds[p.Place] = true
		}
		for _, b := range l.Bays {
			id := fmt.Sprintf("%s/B%d", l.RunID, b.Number)
			if ids[id] != 1 || hatched[id] != odds[b.Label] {
				t.Errorf("%s stands %d times, hatched %t; want once, %t", id, ids[id], hatched[id], odds[b.Label])
			}
		}
		for _, p := range l.Posts {
			if id := fmt.Sprintf("%s/P%d", l.RunID, p.Number); ids[id] != 1 {
				t.Errorf("%s stands %d times", id, ids[id])
			}
		}
	})
}
