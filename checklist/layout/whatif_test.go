package layout_test

import (
	"slices"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// under lays runs out under a rule set.
func under(t *testing.T, id string, job layout.Job, amendments ...codes.Amendment) []layout.Layout {
	t.Helper()
	job.Rules, job.Amendments = id, amendments
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return layouts
}

// A low deck with a stair of 4 risers, bolted posts in 2x12 framing: what a rule set asks of it is what differs.
func whatIfJob() layout.Job {
	spec := layout.DefaultSpec(length.Inches)
	spec.JoistDepth, spec.BoltTop, spec.BoltBottom = 11*length.Inch+length.Inch/4, 2*length.Inch, 2*length.Inch
	return layout.Job{Units: length.Inches, Spec: spec, Runs: []layout.Run{
		{ID: "R1", Label: "R1", Kind: layout.Level, Length: 120 * length.Inch, DeckHeight: 28 * length.Inch},
		{ID: "R2", Label: "R2", Kind: layout.Rake, TotalRise: 28 * length.Inch, Risers: 4, Tread: 11 * length.Inch, DeckHeight: 28 * length.Inch},
	}}
}

func TestDifferences(t *testing.T) {
	job := whatIfJob()
	for _, tt := range []struct {
		name, a, b   string
		amendments   []codes.Amendment // of b
		place, what  string
		wantA, wantB string
	}{
		{"24 in against 30 in", "irc-2018", "wisconsin-sps-325", nil, "R1", "A guard at this drop", "not required", "required"},
		{"and a hold-down with it", "irc-2018", "wisconsin-sps-325", nil, "R1", "Hold-downs", "none called for", "called for at 3 posts"},
		{"five risers against four", "irc-2018", "existing-condition", nil, "R2", "A handrail on the flight", "asked for", "not asked for, or it cannot be told"},
		{"a tread of 11 in, 279.4 mm, against 280 mm", "irc-2018", "england-k", nil, "R2", "The tread", `inside, at least 10"`, `outside, at least 280 mm, about 11 1/32"`},
		{"no figure for a riser", "irc-2018", "existing-condition", nil, "R2", "The riser", `inside, at most 7 3/4"`, "no figure"},
		{"a bolt nearer than the authority wants", "irc-2018", "irc-2018", []codes.Amendment{{Key: codes.BoltEdgeMin, Value: "3 in", SaidBy: "R. Sample"}},
			"R1", "At odds with a figure", "nothing", `The upper bolt stands 2" from the edge of the framing; the figure is at least 3" (said by R. Sample; the code: at least 2 in, Wis. SPS 325 App. B s.13(4), edition not shown, official text). The lower bolt stands 2" from the edge of the framing; the figure is at least 3" (said by R. Sample; the code: at least 2 in, Wis. SPS 325 App. B s.13(4), edition not shown, official text).`},
	} {
		changes := layout.Differences(under(t, tt.a, job), under(t, tt.b, job, tt.amendments...), length.InchFraction)
		i := slices.IndexFunc(changes, func(c layout.Change) bool { return c.Place == tt.place && c.What == tt.what })
		if i < 0 {
			t.Errorf("%s: no change of %s at %s in %+v", tt.name, tt.what, tt.place, changes)
			continue
		}
		if changes[i].A != tt.wantA || changes[i].B != tt.wantB {
			t.Errorf("%s: %q and %q, want %q and %q", tt.name, changes[i].A, changes[i].B, tt.wantA, tt.wantB)
		}
	}
}

// A job against itself changes nothing, and a clause that was renumbered changes nothing of a layout.
func TestDifferencesOfNothing(t *testing.T) {
	job := whatIfJob()
	for _, id := range codes.IDs() {
		if changes := layout.Differences(under(t, id, job), under(t, id, job), length.InchFraction); len(changes) > 0 {
			t.Errorf("%s against itself: %+v", id, changes)
		}
	}
	if changes := layout.Differences(under(t, "irc-2018", job), under(t, "irc-2024", job), length.InchFraction); len(changes) > 0 {
		t.Errorf("the 2018 edition against that of 2024: %+v", changes)
	}
}
