package views_test

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views"
)

// laid is a record with the runs of a job description, each laid out as planned and, where openings were measured, again as
// built. Everything in it is invented.
func laid(t *testing.T, description string) *jobs.Record {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(description))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	planned := job
	planned.Built = nil
	at := time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)
	rec := jobs.NewRecord()
	rec.Take(jobs.Change{Job: &jobs.Job{
		ID: "deck00000000", Ref: "NB-0042", Name: "Back deck", Site: "14 Example Lane, Sampleton", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100",
		Permit: "S-1001", Authority: "Sampleton building office", RuleSet: job.Rules, Amendments: job.Amendments, Units: job.Units, Zone: "America/Chicago", Begun: "2026-05-01", Spec: job.Spec, Version: 1, Made: at,
	}})
	plans, err := layout.ComputeJob(planned)
	if err != nil {
		t.Fatal(err)
	}
	built, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	for i, run := range job.Runs {
		rec.Take(jobs.Change{Run: &jobs.Run{Run: run, Order: i + 1, Version: 1}})
		versions := []layout.Layout{plans[i]}
		if len(job.Built[run.Label]) > 0 {
			versions = append(versions, built[i])
		}
		for n, l := range versions {
			l.Version, l.Basis = n+1, "Run "+run.Label+" was described or changed."
			if n > 0 {
				l.Basis = "An opening of " + run.Label + " was measured."
			}
			rec.Take(jobs.Change{Layout: &jobs.LayoutVersion{RunID: run.ID, Version: l.Version, At: at.Add(time.Duration(n) * time.Hour), Basis: l.Basis, Layout: l}})
		}
	}
	return rec
}

// Invented jobs with a run of each kind.
const (
	laidInches = `{"units": "in", "rules": "irc-2018",
	"spec": {"infill_width": 0.75, "connector_top": "1/4", "connector_bottom": "1/4", "connector_name": "invented rail shoe", "hold_down": "an invented hold-down, 1,800 lb published", "stock_lengths": "8', 10', 12'"},
	"runs": [
	{"id": "k7d2aa", "label": "R1", "start": "wall", "end": "corner", "length": "14' 3 1/2\"", "deck_height": 40, "joists": "across", "first_joist": "3/4", "note": "Along the yard."},
	{"id": "k7d2ab", "label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "stair head", "length": "12'", "deck_height": 40, "joists": "along", "overrides": {"infill_mode": "fixed centres"}},
	{"id": "m3x9aa", "label": "R3", "kind": "rake", "start": "stair head", "start_at": "R2", "end": "stair foot", "total_rise": "38 3/4", "tread": 10, "nosing": "1", "stair_foot": "an invented concrete pad"},
	{"id": "p4q8aa", "label": "R4", "kind": "removable", "length": 60, "deck_height": 40, "joists": "across", "first_joist": 8, "removable_why": "Getting the barbecue up in spring", "removable_store": "garage wall",
	"overrides": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4", "sleeve_clearance": "3/16", "infill_moisture": "wet"}},
	{"id": "q5r7aa", "label": "R5", "length": "14' 3 1/2\"", "posts": ["6'", "6' 7\""], "deck_height": 40, "joists": "across", "overrides": {"connector_top": "3"}}],
	"built": [{"run": "R1", "bay": 2, "bottom": "52 9/16", "top": "52 7/8"}]}`
	laidMillimetres = `{"units": "mm", "rules": "ontario-9.8",
	"amendments": [{"key": "guard.height_level", "value": "1100", "said_by": "R. Sample", "office": "invented building office", "on": "2026-03-14"}],
	"spec": {"infill_width": 38, "infill_shape": "square", "rail_orientation": "flat", "connector_top": 0, "connector_bottom": 0, "level_height": 1112},
	"runs": [
	{"id": "n1aaaa", "label": "R1", "start": "wall", "length": 5400, "deck_height": 2100, "joists": "across", "first_joist": 19},
	{"id": "n2aaaa", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": 2100, "risers": 12, "tread": 280, "nosing": 25},
	{"id": "n3aaaa", "label": "R3", "kind": "removable", "clear_opening": 1200, "deck_height": 2100, "joists": "along", "removable_why": "An invented reason", "overrides": {"post_mount": "sleeve"}}],
	"built": [{"run": "R1", "bay": 1, "bottom": "1702", "top": "1704"}]}`
)

// show and printed are the two pages of a run.
func show(t *testing.T, rec *jobs.Record, label string, builder bool) views.RunShowPage {
	t.Helper()
	return must[views.RunShowPage](t)(views.NewRunShow(layoutFrame(t, rec), rec, runOf(t, rec, label), builder))
}

func printed(t *testing.T, rec *jobs.Record, label string) views.RunSheetPage {
	t.Helper()
	return must[views.RunSheetPage](t)(views.NewRunSheet(layoutFrame(t, rec), rec, runOf(t, rec, label)))
}

func layoutFrame(t *testing.T, rec *jobs.Record) views.Frame {
	t.Helper()
	f := must[views.Frame](t)(views.JobFrame(rec, views.SheetLayout, "Layout"))
	f.Who = views.Who{Name: "Ada Sample", Role: "builder"}
	return f
}

func runOf(t *testing.T, rec *jobs.Record, label string) jobs.Run {
	t.Helper()
	for _, run := range rec.Runs {
		if run.Label == label {
			return run
		}
	}
	t.Fatalf("no run %s", label)
	return jobs.Run{}
}

func TestRunShow(t *testing.T) {
	inches, millimetres := laid(t, laidInches), laid(t, laidMillimetres)
	goldenPage(t, "run_show.typical", show(t, inches, "R1", true))
	goldenPage(t, "run_show.rake", show(t, inches, "R3", false))
	goldenPage(t, "run_show.removable", show(t, inches, "R4", true))
	goldenPage(t, "run_show.worst", show(t, inches, "R5", true))
	goldenPage(t, "run_show.metric", show(t, millimetres, "R2", true))
}

func TestRunSheet(t *testing.T) {
	inches, millimetres := laid(t, laidInches), laid(t, laidMillimetres)
	goldenPage(t, "run_sheet.typical", printed(t, inches, "R1"))
	goldenPage(t, "run_sheet.rake", printed(t, inches, "R3"))
	goldenPage(t, "run_sheet.removable", printed(t, inches, "R4"))
	goldenPage(t, "run_sheet.worst", printed(t, inches, "R5"))
	goldenPage(t, "run_sheet.metric", printed(t, millimetres, "R1"))
}
