package layout_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestCapsFollowMeasuredOpenings: a cap over bays that were measured is as long as those and the posts between them make it. From a wall:
// 45 1/4 and 45 3/16 and 45 1/16 in of opening and three posts of 3 1/2 in put the last centre at 144 1/4 in; half of a cap of 5 1/2 in past it is the
// long point of a square corner's mitre (plane geometry), less 1/8 in open at the wall. A piece over a bay that was not measured is as planned, and
// one over such a bay and others says which are to be measured before it is cut.
func TestCapsFollowMeasuredOpenings(t *testing.T) {
	const run = `"runs": [{"label": "R1", "start": "wall", "end": "corner", "length": 144}]`
	for _, tt := range []struct{ built, spec, want string }{
		{`{"run": "R1", "bay": 1, "bottom": "45 1/4", "top": "45 1/4"}, {"run": "R1", "bay": 2, "top": "45 3/16"}, {"run": "R1", "bay": 3, "top": "45 1/16"}`, ``, "146 7/8 as built"},
		{`{"run": "R1", "bay": 1, "top": "45 1/4"}`, ``, "146 13/16 partly as built"},
		{``, ``, "146 5/8 planned"},
		// The openings at the bottom are no matter to a cap where those at the top were measured.
		{`{"run": "R1", "bay": 1, "bottom": "44", "top": "45 1/4"}, {"run": "R1", "bay": 2, "top": "45 3/16"}, {"run": "R1", "bay": 3, "top": "45 1/16"}`, ``, "146 7/8 as built"},
		// Joints over posts: the first piece spans the one bay measured.
		{`{"run": "R1", "bay": 1, "top": "45 1/4"}`, `"stock_lengths": ["5'"], "end_trim": 0, `, "46 7/8 as built, 48 5/8 planned, 51 5/16 planned"},
	} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {` + tt.spec + `"post_max_centres": 60}, ` + run + `, "built": [` + tt.built + `]}`))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, p := range layouts[0].Cap {
			got = append(got, p.Length.FormatBare(length.InchFraction)+" "+p.Version)
			if waits := strings.Contains(p.Place, "; measure B2 and B3 before it is cut"); waits != (p.Version == layout.PartlyBuilt) {
				t.Errorf("%s: %s lies %s", tt.built, p.Label, p.Place)
			}
		}
		if s := strings.Join(got, ", "); s != tt.want {
			t.Errorf("%s: caps %s, want %s", tt.built, s, tt.want)
		}
	}
}

// TestCapBetweenWalls: a cap from wall to wall is never longer than the space less what stays open at both, to the grid.
func TestCapBetweenWalls(t *testing.T) {
	run := layout.Run{Kind: layout.Level, Start: layout.EndWall, End: layout.EndWall, Length: inch(70) + 3*length.Inch/64}
	l := computed(t, run, nil)
	if got := l.Cap[0].Length; len(l.Cap) != 1 || got != inch(69.75) {
		t.Errorf("cap of %v in %v between walls, want 69 3/4 in", got, run.Length)
	}
}

// TestCapOverhang: a cap whose sides stand out as the overhang asks, to the grid, is not told of; one that does not is. 140 mm over 89 mm leaves
// 25.5 mm each side, half of what can be marked off 25.
func TestCapOverhang(t *testing.T) {
	for wide, told := range map[length.Length]bool{140 * length.Millimetre: false, 139 * length.Millimetre: false, 142 * length.Millimetre: true, 130 * length.Millimetre: true} {
		spec := layout.DefaultSpec(length.Millimetres)
		spec.PostDepth, spec.CapWidth, spec.CapOverhang = 89*length.Millimetre, wide, 25*length.Millimetre
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: 1800 * length.Millimetre}, Spec: spec, Rules: rules(t, "ontario-9.8"), Unit: length.Millimetres})
		if got := mentions(l.Problems, "cap_width"); got != told {
			t.Errorf("cap of %v: told of = %v", wide, got)
		}
	}
}

// TestRoundedDownRailIsNotShownAsCut: where the opening shows as a mark that it does not quite come to, the rail is cut a mark shorter and the
// working says why.
func TestRoundedDownRailIsNotShownAsCut(t *testing.T) {
	for _, tt := range []struct {
		clear length.Length
		want  string
	}{
		{71*length.Inch + length.Inch*57/1000, `is 71 1/16", a hair less; cut 71"`}, // 71.057 in shows as 71 4/64
		{71*length.Inch + length.Inch/16, `is 71 1/16"; cut 71 1/16"`},
		{71*length.Inch + length.Inch*3/64, `is 71 3/64"; cut 71"`},
	} {
		l := computed(t, single(tt.clear), func(s *layout.Spec) { s.ConnectorTop, s.ConnectorBottom = 0, 0 })
		if all := strings.Join(l.Working, "\n"); !strings.Contains(all, tt.want) {
			t.Errorf("opening of %v: no %q in\n%s", tt.clear, tt.want, all)
		}
	}
}

// TestThroughCaps: a piece of cap between posts that pass through it says of each end what it lies against. The board that it comes out of is longer by the long
// point of an end that meets a post off square: at 30 degrees half of 5 1/2 in times tan 30, 1 19/32 in to the next grid (plane geometry).
func TestThroughCaps(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "start": "wall", "end": "corner", "length": 140, "overrides": {"posts_at_cap": "through"}}, {"label": "R2", "start_at": "R1", "turn": 60, "length": 60, "overrides": {"posts_at_cap": "through"}}`)
	var got []string
	for _, p := range append(layouts[0].Cap, layouts[1].Cap...) {
		cuts, _, _ := strings.Cut(p.Cuts, ", to lie")
		got = append(got, p.Label+": "+cuts+", over "+p.Over.RoundUp(length.Inch/32).FormatBare(length.InchFraction))
	}
	want := []string{
		`R1-B1 cap: datum end square, 1/8" off the wall; far end square, against the post, over 0`,
		`R1-B2 cap: datum end square, against the post; far end bevelled 30 degrees off square, over 1 19/32`,
		`R2-B1 cap: datum end bevelled 30 degrees off square, over 1 19/32`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("caps %q, want %q", got, want)
	}
}
