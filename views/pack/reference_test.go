package pack_test

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// The pack says of a length what it was taken from, what it comes to from where the figures hold, and under stage and deviations that
// the heights of the run do not compare.
func TestReferencesInThePack(t *testing.T) {
	at := time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)
	ada := jobs.Actor{ID: "ada000000000", Name: "Ada Sample", Role: jobs.RoleBuilder}
	rec := jobs.NewRecord()
	job := jobs.Job{ID: "deck00000000", Ref: "NB-0042", Name: "Back deck", RuleSet: "irc-2018", Units: length.Inches, Zone: "America/Chicago", Spec: layout.DefaultSpec(length.Inches), Made: at}
	rec.Take(jobs.Change{Job: &job})
	run := layout.Run{ID: "k7d2aa", Label: "R1", Kind: layout.Level, Start: layout.EndFree, End: layout.EndFree, Length: 96 * length.Inch, LengthOver: layout.OverCentres, DeckHeight: 48 * length.Inch,
		Joists: layout.JoistsAcross}
	rules, err := job.Rules()
	if err != nil {
		t.Fatal(err)
	}
	rec.Take(jobs.Change{Run: &jobs.Run{Run: run, Order: 1, Version: 1}})
	rec.Take(jobs.Change{Layout: &jobs.LayoutVersion{RunID: run.ID, Version: 1, Layout: layout.Compute(layout.Input{Run: run, Spec: job.Spec, Rules: rules, Unit: length.Inches})}})
	sheet, err := rec.Clone().Sheet()
	if err != nil {
		t.Fatal(err)
	}
	for i, from := range []checklist.Reference{checklist.FromDecking, checklist.FromFraming} {
		c, ok := sheet.Check([]string{"k7d2aa/P1.posts.top", "k7d2aa/P2.posts.top"}[i])
		if !ok {
			t.Fatal("the post's top is not asked")
		}
		l := *c.Check.Nominal
		a := checklist.Answer{Length: &l, From: from}
		rec.Take(jobs.Change{Reading: &jobs.Reading{ID: jobs.NewID(), CheckID: c.Check.ID, Check: c.Check, Answer: a, Tool: checklist.ToolTape, By: ada, Claimed: at, Received: at,
			Result: checklist.Evaluate(c.Check, a, checklist.ToolTape, length.InchFraction)}})
	}
	x, err := rec.Clone().Export(nil, ada, jobs.ExportInput{Purpose: "posts"}, at)
	if err != nil {
		t.Fatal(err)
	}
	doc := pack.Build(pack.Facts{Record: x, Pictures: map[media.ID]pack.Picture{}}).Edition(pack.InspectorEdition)
	if err := doc.Check(); err != nil {
		t.Error(err)
	}
	got := pack.Text(doc)
	const pointed = "Heights of the post tops of R1 were not taken from one reference: from the finished decking at R1-P1; from the top of the framing at R1-P2."
	for want, times := range map[string]int{
		pointed: 3, // open things, stage, deviations
		`by the layout 34 1/2" from the finished decking`: 1,
	} {
		if n := strings.Count(got, want); n != times {
			t.Errorf("the pack says %q %d times, want %d", want, n, times)
		}
	}
}
