package checklist_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// keysAt lists the keys of a stage's checks at a place.
func keysAt(checks []checklist.Check, stage checklist.Stage, place string) []string {
	var keys []string
	for _, c := range checks {
		if c.Stage == stage && c.Place.ID == place && c.Ask != checklist.AskPhoto {
			keys = append(keys, c.Key)
		}
	}
	return keys
}

// An existing post owes a look at itself and at what holds it, as hold points, and none of what a new one owes.
func TestExistingPostOwesALook(t *testing.T) {
	run := levelRun()
	run.PostsAre = layout.PostsExisting
	checks := checklist.Generate(source(t, "irc-2021", length.Inches, run, nil, nil))
	want := []string{"framing.place", "framing.existing_sound", "framing.existing_fixed", "framing.plumb_along", "framing.plumb_across"}
	if got := keysAt(checks, checklist.Framing, "k7d2/P2"); !slices.Equal(got, want) {
		t.Errorf("existing post owes %v, want %v", got, want)
	}
	for _, id := range []string{"k7d2/P2.framing.existing_sound", "k7d2/P2.framing.existing_fixed"} {
		if !find(t, checks, id).Hold {
			t.Errorf("%s is no hold point", id)
		}
	}
}

// An opening at a wall is measured to its finished face, with a block in place of what is still to come on it; no other opening says so.
func TestOpeningAtWall(t *testing.T) {
	for _, tt := range []struct {
		start, end layout.EndKind
		siding     length.Length
		first      string
		last       string
	}{
		{layout.EndWall, layout.EndFree, 0, "finished face of the wall.", ""},
		{layout.EndFree, layout.EndWall, length.Inch * 5 / 8, "", `while 5/8" is still to come on it, hold a block as thick`},
		{layout.EndFree, layout.EndFree, 0, "", ""},
	} {
		run := levelRun()
		run.Start, run.End, run.Siding = tt.start, tt.end, tt.siding
		src := source(t, "irc-2021", length.Inches, run, nil, nil)
		checks, bays := checklist.Generate(src), len(src.Layout.Bays)
		for bay, want := range map[int]string{1: tt.first, bays: tt.last} {
			for _, key := range []string{checklist.KeyOpeningBottom, checklist.KeyOpeningTop} {
				how := find(t, checks, fmt.Sprintf("k7d2/B%d.%s", bay, key)).How
				if !strings.Contains(how, want) || want == "" && strings.Contains(how, "wall") {
					t.Errorf("%s to %s, bay %d: %q, want %q in it", tt.start, tt.end, bay, how, want)
				}
			}
		}
	}
}

// An end at a wall owes a look at what is behind the siding, and only that end.
func TestWallEndOwesALook(t *testing.T) {
	for _, tt := range []struct {
		start, end layout.EndKind
		want       []string
	}{
		{layout.EndWall, layout.EndFree, []string{"framing.wall_start"}},
		{layout.EndFree, layout.EndWall, []string{"framing.wall_end"}},
		{layout.EndWall, layout.EndWall, []string{"framing.wall_start", "framing.wall_end"}},
		{layout.EndFree, layout.EndCorner, nil},
	} {
		run := levelRun()
		run.Start, run.End = tt.start, tt.end
		if got := keysAt(checklist.Generate(source(t, "irc-2021", length.Inches, run, nil, nil)), checklist.Framing, "k7d2"); !slices.Equal(got, tt.want) {
			t.Errorf("%s to %s: the run owes %v, want %v", tt.start, tt.end, got, tt.want)
		}
	}
}
