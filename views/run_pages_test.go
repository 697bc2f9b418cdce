package views_test

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
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
	{"id": "n2aaaa", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": 2100, "risers": 12, "tread": 280, "nosing": 25,
	 "stringer": "cut stringer", "posts_on": "stringer", "stringer_depth": 350, "stringer_thickness": 45, "stringer_below": 480},
	{"id": "n3aaaa", "label": "R3", "kind": "removable", "clear_opening": 1200, "deck_height": 2100, "joists": "along", "removable_why": "An invented reason", "overrides": {"post_mount": "sleeve"}}],
	"built": [{"run": "R1", "bay": 1, "bottom": "1268", "top": "1270"}]}`
)

// taken is the record without one run.
func taken(rec *jobs.Record, run jobs.Run) *jobs.Record {
	rec = rec.Clone()
	run.Retired = true
	rec.Take(jobs.Change{Run: &run})
	return rec
}

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

func TestRunList(t *testing.T) {
	rec := laid(t, laidInches)
	goldenPage(t, "run_list.typical", must[views.RunListPage](t)(views.NewRunList(layoutFrame(t, rec), taken(rec, runOf(t, rec, "R5")), true)))
	none := newDeck(t)
	goldenPage(t, "run_list.empty", must[views.RunListPage](t)(views.NewRunList(none.frame(views.SheetLayout, "Runs"), none.rec, false)))
}

// A run that was taken out keeps its page, which says so and offers no change; its sheet warns against cutting.
func TestRunTakenOut(t *testing.T) {
	rec := laid(t, laidInches)
	rec = taken(rec, runOf(t, rec, "R4"))
	if p := show(t, rec, "R4", true); p.Gone == "" || p.EditURL != "" {
		t.Errorf("the page says %q and offers %q", p.Gone, p.EditURL)
	}
	if p := printed(t, rec, "R4"); !strings.Contains(p.Gone, "cut nothing") {
		t.Errorf("the sheet says %q", p.Gone)
	}
}

// A measured opening overtakes the plan: the bay has both, its marks are those as built, and older sheets are named.
func TestRunOvertaken(t *testing.T) {
	rec := laid(t, laidInches)
	p := show(t, rec, "R1", false)
	if len(p.Bays) != 2 || len(p.Bays[0].Places) != 2 || len(p.Bays[1].Places) != 1 {
		t.Fatalf("%d groups of bays, want B1 with B3, and B2", len(p.Bays))
	}
	built := p.Bays[1]
	if built.State.Word != "as built" || built.Figures[0].Value != `52 9/16"` || built.Figures[0].Was != `54 1/4"` {
		t.Errorf("B2 is %s, clear %s, was %s", built.State.Word, built.Figures[0].Value, built.Figures[0].Was)
	}
	if len(built.Marks.Marks) != 11 || built.Planned == nil || len(built.Planned.Marks) != 12 {
		t.Errorf("B2 has %d marks in use, want the 11 as built beside the 12 planned", len(built.Marks.Marks))
	}
	if len(p.Versions) != 2 || p.Versions[0].Label != "v2" || p.EditURL != "" {
		t.Errorf("versions %v, change %q", p.Versions, p.EditURL)
	}
	if s := printed(t, rec, "R1"); !strings.Contains(s.Overtaken, "R1-B2 was measured") || !strings.Contains(s.Overtaken, "layout v1 are out of date") {
		t.Errorf("the sheet says %q", s.Overtaken)
	}
	if s := printed(t, rec, "R2"); s.Overtaken != "" || !strings.Contains(s.Current, "layout v1") {
		t.Errorf("a planned run's sheet says %q and %q", s.Overtaken, s.Current)
	}

	// A run changed without a measured bay overtakes its sheets too.
	v, _ := rec.Layout(runOf(t, rec, "R2").ID)
	v.Version, v.Layout.Version, v.Basis = 2, 2, "Run R2 was described or changed."
	rec.Take(jobs.Change{Layout: &v})
	if s := printed(t, rec, "R2"); s.By != "Laid out again." || s.Overtaken != "Run R2 was described or changed. Sheets of layout v1 are out of date: tear them up." || !strings.Contains(s.Current, "layout v2") {
		t.Errorf("the sheet of a changed run says %q %q and %q", s.By, s.Overtaken, s.Current)
	}
}

// TestRunStrips: bays laid out alike share one mark strip, which has their names and every mark; each rail with marks is offered at full
// size, the top one only where its marks are known, alike or its own; a run that was taken out is offered none.
func TestRunStrips(t *testing.T) {
	rec := laid(t, laidInches)
	s := printed(t, rec, "R1")
	if len(s.Marks) != 2 || len(s.Marks[0].Strips) != 1 || len(s.Marks[1].Strips) != 1 {
		t.Fatalf("%d groups of marks, want two with a strip each", len(s.Marks))
	}
	for i, want := range []string{"Marks, R1-B1, R1-B3 bottom and top", "Marks, R1-B2 bottom"} {
		if sheet := s.Marks[i].Strips[0].Sheet; sheet.Title != want || sheet.Scale != s.Marks[0].Strips[0].Sheet.Scale {
			t.Errorf("strip %d is %q at %s, want %q at one scale", i, sheet.Title, sheet.Scale, want)
		}
	}
	var full []string
	for _, b := range show(t, rec, "R1", false).Bays {
		for _, at := range b.Marks.Full {
			full = append(full, at.Label+" "+at.URL)
		}
	}
	const run = " /jobs/deck00000000/runs/k7d2aa/strips/"
	if want := []string{"R1-B1 bottom" + run + "B1/bottom", "R1-B1 top" + run + "B1/top", "R1-B3 bottom" + run + "B3/bottom", "R1-B3 top" + run + "B3/top", "R1-B2 bottom" + run + "B2/bottom"}; !slices.Equal(full, want) {
		t.Errorf("at full size %q, want %q", full, want)
	}
	leaning := printed(t, laid(t, strings.Replace(laidInches, `"top": "52 7/8"`, `"top": "52 7/8", "lean_from": "-1/2"`, 1)), "R1")
	if m := leaning.Marks[1]; len(m.Strips) != 2 || m.Strips[1].Sheet.Title != "Marks, R1-B2 top" || slices.Equal(m.Top, m.Marks) || len(m.Top) != len(m.Marks) || len(m.Full) != 2 || !strings.Contains(m.TopNote, "R1-P1 leans") {
		t.Errorf("the bay beside a post that leans has the strips %v, marks %v and %v: %q", m.Strips, m.Marks, m.Top, m.TopNote)
	}
	for _, m := range printed(t, taken(rec, runOf(t, rec, "R1")), "R1").Marks {
		if len(m.Full) > 0 {
			t.Errorf("a run that was taken out offers %v", m.Full)
		}
	}
}

// Every mark of every bay stands on both pages, in order.
func TestRunPagesHaveEveryMark(t *testing.T) {
	for _, rec := range []*jobs.Record{laid(t, laidInches), laid(t, laidMillimetres)} {
		style := rec.Job.Units.Style()
		for _, run := range rec.Runs {
			v, _ := rec.Layout(run.ID)
			on := map[string][][]string{}
			for _, b := range show(t, rec, run.Label, false).Bays {
				for _, at := range b.Places {
					if b.Marks != nil {
						on[at.Label] = append(on[at.Label], b.Marks.Marks)
					}
				}
			}
			for _, m := range printed(t, rec, run.Label).Marks {
				for _, at := range m.Places {
					on[at.Label] = append(on[at.Label], m.Marks)
				}
			}
			for _, b := range v.Layout.Bays {
				used := b.Used()
				if used == nil {
					continue
				}
				var want []string
				for _, m := range used.Infill.Marks {
					want = append(want, m.FormatBare(style))
				}
				if len(on[b.Label]) != 2 {
					t.Fatalf("%s stands on %d pages, want 2", b.Label, len(on[b.Label]))
				}
				for _, got := range on[b.Label] {
					if !slices.Equal(got, want) {
						t.Errorf("%s has marks %v, want %v", b.Label, got, want)
					}
				}
			}
		}
	}
}

func TestRunWithoutLayout(t *testing.T) {
	rec := laid(t, laidInches)
	run := runOf(t, rec, "R1")
	run.ID = "gone00"
	if _, err := views.NewRunShow(layoutFrame(t, rec), rec, run, true); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("the page of a run without a layout: %v", err)
	}
	if _, err := views.NewRunSheet(layoutFrame(t, rec), rec, run); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("the sheet of a run without a layout: %v", err)
	}
}

func TestRunShow(t *testing.T) {
	inches, millimetres := laid(t, laidInches), laid(t, laidMillimetres)
	goldenPage(t, "run_show.typical", show(t, inches, "R1", true))
	goldenPage(t, "run_show.rake", show(t, inches, "R3", false))
	goldenPage(t, "run_show.removable", show(t, inches, "R4", true))
	goldenPage(t, "run_show.worst", show(t, inches, "R5", true))
	goldenPage(t, "run_show.metric", show(t, millimetres, "R2", true))
}

func TestRunFraming(t *testing.T) {
	inches, millimetres := laid(t, laidInches), laid(t, laidMillimetres)
	for name, of := range map[string]struct {
		rec *jobs.Record
		run string
	}{"typical": {inches, "R1"}, "rake": {inches, "R3"}, "removable": {inches, "R4"}, "metric": {millimetres, "R1"}, "stringer": {millimetres, "R2"}} {
		p := must[views.RunFramingPage](t)(views.NewRunFraming(layoutFrame(t, of.rec), of.rec, runOf(t, of.rec, of.run)))
		goldenPage(t, "run_framing."+name, p)
	}
}

// TestRunSheetStandsThere: of a post that stands there already the sheet gives no length to cut and nothing to tick.
func TestRunSheetStandsThere(t *testing.T) {
	rec := laid(t, `{"units": "in", "rules": "irc-2018", "runs": [{"id": "s7t3aa", "label": "R1", "length": 60, "posts_are": "existing", "posts": [0, 60], "deck_height": 40}]}`)
	p := printed(t, rec, "R1")
	for _, post := range p.Posts {
		if !post.There || post.Cut != "" || !strings.Contains(post.Holds, "Stands there already") {
			t.Errorf("%+v", post)
		}
	}
	var buf bytes.Buffer
	if err := views.Render(&buf, p); err != nil {
		t.Fatal(err)
	}
	html := buf.String()
	rows := html[strings.Index(html, `aria-label="Posts"`):]
	if rows = rows[:strings.Index(rows, "</table>")]; strings.Contains(rows, "box-tick") || strings.Count(rows, ">stands there<") != 2 {
		t.Errorf("the posts on the sheet: %s", rows)
	}
	for _, post := range show(t, rec, "R1", true).Posts {
		for _, f := range post.Figures {
			if f.Label == "Cut" {
				t.Errorf("the page cuts %s to %s", post.Label, f.Value)
			}
		}
	}
}

func TestRunSheet(t *testing.T) {
	inches, millimetres := laid(t, laidInches), laid(t, laidMillimetres)
	goldenPage(t, "run_sheet.typical", printed(t, inches, "R1"))
	goldenPage(t, "run_sheet.rake", printed(t, inches, "R3"))
	goldenPage(t, "run_sheet.removable", printed(t, inches, "R4"))
	goldenPage(t, "run_sheet.worst", printed(t, inches, "R5"))
	goldenPage(t, "run_sheet.metric", printed(t, millimetres, "R1"))
}

// Rails that meet a post turned by 22 1/2 degrees: 1 1/2 in thick, their right face begins 5/16 in and a little before the middle of the cut, or past it on a
// corner to the other side (0.311 in, plane geometry). Sheet and page give the marks from the cut on that face, as the strip does, with that hook and no other.
func TestBevelledRailsHaveOneHook(t *testing.T) {
	for turn, off := range map[string]float64{"45": -0.311, "-45": 0.311} {
		rec := laid(t, `{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4"}, "runs": [
			{"label": "R1", "end": "corner", "length": 60}, {"label": "R2", "start_at": "R1", "start": "corner", "turn": `+turn+`, "length": 96}]}`)
		made, ok := rec.Layout(runOf(t, rec, "R2").ID)
		if !ok {
			t.Fatal("no layout")
		}
		l := made.Layout
		middle, sheet := l.Bays[0].Planned.Infill.Marks, printed(t, rec, "R2")
		page := show(t, rec, "R2", true).Bays[0].Marks
		marks := sheet.Marks[0]
		if hook := "Hook the tape on the datum-end cut of the bottom rail on the face on the right, seen from the datum"; !strings.HasPrefix(marks.Hook, hook) || page.Hook != marks.Hook || !strings.Contains(marks.Gaps, marks.Hook) {
			t.Errorf("turn %s: hooks %q and %q", turn, marks.Hook, page.Hook)
		}
		if !slices.Equal(marks.Marks, page.Marks) || len(marks.Marks) != len(middle) {
			t.Fatalf("turn %s: marks %v and %v", turn, marks.Marks, page.Marks)
		}
		for i, m := range marks.Marks {
			got, err := length.Parse(m, length.Inches)
			if err != nil {
				t.Fatal(err)
			}
			if d := (got - middle[i]).Inches() - off; math.Abs(d) > 1.0/32+1e-3 {
				t.Errorf("turn %s: mark %d is %s, %v from the middle", turn, i+1, m, middle[i])
			}
		}
		var buf bytes.Buffer
		if err := views.Render(&buf, sheet); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(buf.String(), "the middle of the datum-end cut") {
			t.Errorf("turn %s: the sheet names a hook whose figures it has not", turn)
		}
	}
}
