package pack_test

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// The pack prints the authority's figure that is applied with what the code itself has, and those that no longer hold with how
// each ended. Without any the table is not there.
func TestAmendmentsInThePack(t *testing.T) {
	at := time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)
	ada := jobs.Actor{ID: "ada000000000", Name: "Ada Sample", Role: jobs.RoleBuilder}
	text := func(past ...jobs.PastAmendment) string {
		rec := jobs.NewRecord()
		rec.Take(jobs.Change{Job: &jobs.Job{
			ID: "deck00000000", Ref: "NB-0042", Name: "Back deck", RuleSet: "irc-2018", Units: length.Inches, Zone: "America/Chicago", Spec: layout.DefaultSpec(length.Inches), Made: at,
			Amendments: []codes.Amendment{{Key: codes.BoltEdgeMin, Value: "2 1/2 in", SaidBy: "Iris Sample", On: "2026-04-30"}}, Past: past,
		}})
		x, err := rec.Export(nil, ada, jobs.ExportInput{Purpose: "framing"}, at)
		if err != nil {
			t.Fatal(err)
		}
		doc := pack.Build(pack.Facts{Record: x, Pictures: map[media.ID]pack.Picture{}}).Edition(pack.InspectorEdition)
		if err := doc.Check(); err != nil {
			t.Error(err)
		}
		return pack.Text(doc)
	}
	const gone = "Figures of the authority's that no longer hold"
	got := text(
		jobs.PastAmendment{Amendment: codes.Amendment{Key: codes.GuardHeightLevel, Value: "40 in", SaidBy: "Iris Sample", Office: "Sampleton building office"}, Ended: at, EndedBy: ada, Replaced: true, Why: "The authority gave another figure: 42 in."},
		jobs.PastAmendment{Amendment: codes.Amendment{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "Iris Sample"}, Ended: at.Add(time.Hour), EndedBy: ada, Why: "it was meant for another site"},
	)
	for _, want := range []string{
		"at least 2 1/2\"", "said by Iris Sample, 30 Apr 2026; the code itself: at least 2\"",
		gone, "Height of a level guard", "at least 36\"", "40 in", "Iris Sample, Sampleton building office", "Replaced ", " by Ada Sample: The authority gave another figure: 42 in.",
		"42 in", "Withdrawn ", " by Ada Sample: it was meant for another site.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the pack lacks %q", want)
		}
	}
	if strings.Contains(text(), gone) {
		t.Error("a pack without past amendments has their table")
	}
}
