package checklist_test

import (
	"slices"
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
