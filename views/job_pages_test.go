package views_test

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views"
)

// goldenPage renders a page, walks it, and compares it with its golden file.
func goldenPage(t *testing.T, name string, page any) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := views.Render(&buf, page); err != nil {
		t.Fatalf("Render(%s): %v", name, err)
	}
	walk(t, name, buf.Bytes())
	golden(t, filepath.Join("testdata", "golden", name+".html.golden"), buf.Bytes())
	return buf.Bytes()
}

// signed is the frame of a page with the builder signed in.
func signed(title string, faults ...views.FieldError) views.Frame {
	return views.Frame{Title: title, Who: views.Who{Name: "Ada Sample", Role: "builder"}, Errors: faults}
}

func fault(field, message string) views.FieldError {
	return views.FieldError{Field: field, Message: message}
}

var fresh = views.Form{ID: "form00000000"}

// typed is a form that came back with text in it: name, value, name, value.
func typed(stale bool, pairs ...string) views.Form {
	f := views.Form{ID: "form00000001", Typed: views.Typed{}, Stale: stale}
	for i := 0; i+1 < len(pairs); i += 2 {
		f.Typed[pairs[i]] = append(f.Typed[pairs[i]], pairs[i+1])
	}
	return f
}

// frame is the frame of a page of the deck's job.
func (d *deck) frame(sheet views.JobSheet, title string, faults ...views.FieldError) views.Frame {
	d.t.Helper()
	f, err := views.JobFrame(d.rec, sheet, title)
	if err != nil {
		d.t.Fatal(err)
	}
	f.Who, f.Errors = views.Who{Name: "Ada Sample", Role: "builder"}, faults
	return f
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func TestAccountPages(t *testing.T) {
	goldenPage(t, "notice", views.NoticePage{Frame: signed("Something went wrong here"), Says: "Nothing more was saved.", Number: "0a1b2c3d4e5f", Link: views.Fact{Label: "To the list of jobs", URL: "/jobs"}})
	goldenPage(t, "sign_in.empty", views.NewSignIn(views.Frame{Title: "Sign in"}, fresh, "/jobs"))
	goldenPage(t, "sign_in.errors", views.NewSignIn(views.Frame{Title: "Sign in", Errors: []views.FieldError{fault("login", "Enter your sign-in name.")}}, typed(false, "login", "", "password", "kept back"), "/jobs"))
	goldenPage(t, "setup.empty", views.NewSetup(views.Frame{Title: "Set up"}, fresh))
	people := []jobs.Account{{Name: "Ada Sample", Login: "ada", Role: jobs.RoleBuilder}, {Name: "Ben Sample", Login: "ben", Role: jobs.RoleCrew, Disabled: true}}
	keys := []jobs.SigningKey{{Fingerprint: strings.Repeat("1a2b3c4d", 8), Since: time.Date(2026, 2, 3, 9, 0, 0, 0, time.UTC)}, {Fingerprint: strings.Repeat("9f8e7d6c", 8), Since: time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)}}
	goldenPage(t, "people.typical", views.NewPeople(signed("People"), people, keys, fresh))
	goldenPage(t, "people.errors", views.NewPeople(signed("People", fault("login", "That sign-in name is taken: choose another."), fault("role", "Choose builder or crew.")), people, nil, typed(false, "name", "Cy", "login", "ben")))
}

func TestJobPages(t *testing.T) {
	goldenPage(t, "job_list.empty", views.NewJobList(signed("Jobs"), nil, true))
	goldenPage(t, "job_list.typical", views.NewJobList(signed("Jobs"), []jobs.Summary{{ID: "deck00000000", Ref: "NB-0042", Name: "Back deck", Site: "14 Example Lane, Sampleton", Changed: time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)}}, false))
	goldenPage(t, "job_new.empty", views.NewJobNew(signed("New job"), jobs.Job{}, fresh))
	goldenPage(t, "job_new.errors", views.NewJobNew(signed("New job", fault("name", "Enter a name for the job."), fault("units", "Choose feet and inches or millimetres.")), jobs.Job{}, typed(false, "ref", "NB-0042", "begun", "May")))

	bare, full := newDeck(t), fullDeck(t)
	goldenPage(t, "job_show.empty", must[views.JobShowPage](t)(views.NewJobShow(bare.frame(views.SheetJob, "Job"), bare.rec, true)))
	full.sheet()
	goldenPage(t, "job_show.typical", must[views.JobShowPage](t)(views.NewJobShow(full.frame(views.SheetJob, "Job"), full.rec, true)))
	goldenPage(t, "job_particulars.typical", views.NewJobParticulars(full.frame(views.SheetJob, "Particulars"), full.rec, fresh))
	goldenPage(t, "job_particulars.stale", views.NewJobParticulars(full.frame(views.SheetJob, "Particulars", fault("", "Somebody else saved the job after this form was opened.")), full.rec, typed(true, "version", "0", "permit", "S-2002")))
	goldenPage(t, "job_specification.typical", views.NewJobSpecification(full.frame(views.SheetJob, "Specification"), full.rec, fresh))
	goldenPage(t, "job_specification.errors", views.NewJobSpecification(full.frame(views.SheetJob, "Specification", fault("post_width", "Post width must be a length such as 41 3/8.")), full.rec, typed(false, "version", "1", "post_width", "wide")))
	goldenPage(t, "rules_show.typical", must[views.RulesShowPage](t)(views.NewRulesShow(full.frame(views.SheetJob, "Rules"), full.rec, fresh, "opening.level", true)))
	goldenPage(t, "rules_show.errors", must[views.RulesShowPage](t)(views.NewRulesShow(full.frame(views.SheetJob, "Rules", fault("said_by", "Enter who said so: a name at the authority.")), full.rec, typed(false, "version", "1", "key", "opening.level", "value", "3"), "", true)))
}

func TestRulesPages(t *testing.T) {
	goldenPage(t, "rules_list", views.NewRulesList(signed("Rule sets")))
	for _, id := range []string{"irc-2018", "australia-ncc-2022", "existing-condition"} {
		goldenPage(t, "rules_set."+id, must[views.RulesSetPage](t)(views.NewRulesSet(signed(""), id)))
	}
	if _, err := views.NewRulesSet(signed(""), "irc-1999"); !errors.Is(err, codes.ErrUnknown) {
		t.Errorf("the sheet of an unknown rule set: %v", err)
	}

	full := fullDeck(t)
	full.rec.Job.Past = []jobs.PastAmendment{
		{Amendment: codes.Amendment{Key: codes.GuardHeightLevel, Value: "40 in", SaidBy: "Iris Sample", Office: "Sampleton building office", On: "2026-04-20"}, Ended: full.at, EndedBy: ada, Replaced: true, Why: "The authority gave another figure: 42 in."},
		{Amendment: codes.Amendment{Key: codes.BoltEdgeMin, Value: "3 in", SaidBy: "Iris Sample", On: "2026-04-21"}, Ended: full.at.Add(time.Hour), EndedBy: ada, Why: "It was meant for another site"},
	}
	goldenPage(t, "rules_show.past", must[views.RulesShowPage](t)(views.NewRulesShow(full.frame(views.SheetJob, "Rules"), full.rec, fresh, "", true)))
	goldenPage(t, "rules_show.withdraw_errors", must[views.RulesShowPage](t)(views.NewRulesShow(full.frame(views.SheetJob, "Rules", fault("why", "Enter why the figure no longer holds, so that whoever reads the pack can follow it.")), full.rec, typed(false, "version", "1", "withdrawn", codes.GuardHeightLevel), "", true)))
	goldenPage(t, "rules_show.crew", must[views.RulesShowPage](t)(views.NewRulesShow(full.frame(views.SheetJob, "Rules"), full.rec, fresh, "", false)))

	full.rec.Job.Past = nil
	full.read("k7d2aa/B1.infill.gap", long("3 31/32"))
	full.sheet()
	for _, id := range []string{"irc-2018", "ontario-9.8"} {
		set, err := codes.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		what, err := full.rec.WhatIf(set)
		if err != nil {
			t.Fatal(err)
		}
		goldenPage(t, "rules_against."+id, views.NewRulesAgainst(full.frame(views.SheetJob, "Rules"), full.rec, what))
	}
}

func TestRunPages(t *testing.T) {
	d := fullDeck(t)
	goldenPage(t, "run_edit.empty", views.NewRunNew(d.frame(views.SheetLayout, "New run"), d.rec, "rake", fresh))
	run, _ := d.rec.Run("p4q8aa")
	run.Overrides = []layout.Override{{Key: "post_mount", Text: "sleeve"}, {Key: "kerf", Text: "3/32"}}
	goldenPage(t, "run_edit.typical", views.NewRunEdit(d.frame(views.SheetLayout, "Change run R3"), d.rec, run, fresh, "form00000009"))
	goldenPage(t, "run_edit.errors", views.NewRunEdit(d.frame(views.SheetLayout, "Change run R3", fault("clear_opening", "Single bay, clear opening must not be negative."), fault("kerf", "Saw kerf must be a length.")), d.rec, run,
		typed(false, "version", "1", "clear_opening", "-4", "kerf", "thin"), "form00000009"))
	r1, _ := d.rec.Run("k7d2aa")
	goldenPage(t, "run_cover.typical", must[views.RunCoverPage](t)(views.NewRunCover(d.frame(views.SheetStages, "Decked over"), d.rec, r1, fresh, "2026-05-04", true)))
	d.rec.Take(jobs.Change{Covered: &jobs.Covered{RunID: "k7d2aa", On: "2026-05-03", At: d.at, By: ada, Deviations: []string{"deviationa"}}})
	goldenPage(t, "run_cover.done", must[views.RunCoverPage](t)(views.NewRunCover(d.frame(views.SheetStages, "Decked over"), d.rec, r1, fresh, "2026-05-04", true)))
}

func TestStagePages(t *testing.T) {
	bare := newDeck(t)
	show := func(d *deck, stage checklist.Stage, form views.Form, taken ...string) views.StageShowPage {
		t.Helper()
		st := d.stage(stage)
		return must[views.StageShowPage](t)(views.NewStageShow(d.frame(views.SheetStages, "Stage"), d.rec, st, form, taken, true))
	}
	goldenPage(t, "stage_show.empty", show(bare, checklist.Framing, fresh))
	d := fullDeck(t)
	opening := d.read("k7d2aa/B2.posts.opening_bottom", long("65 15/16"))
	d.layOut("k7d2aa", `As built: R1-B2 measured 65 15/16" at the bottom.`, map[int]layout.Opening{2: {Bottom: *long("65 15/16").Length}})
	goldenPage(t, "stage_show.typical", show(d, checklist.Framing, fresh, "readingb", "readinge"))
	goldenPage(t, "stage_show.relaid", show(d, checklist.Posts, fresh, opening))
	st := d.stage(checklist.Framing)
	sheet := d.sheet()
	blocked := &jobs.BlockedError{What: "framing", Outstanding: st.Outstanding}
	goldenPage(t, "stage_blocked.typical", views.NewStageBlocked(d.frame(views.SheetStages, "Blocked"), d.rec, sheet, st, blocked, typed(false, "version", "0"), true))
	goldenPage(t, "stage_pick.typical", views.NewStagePick(d.frame(views.SheetStages, "Ask"), d.rec, sheet, views.Asking(st, "framing.bolt_upper", "", nil)))
	ask := func(d *deck, stage checklist.Stage, key string, form views.Form, faults []views.FieldError, places ...string) views.StageAskPage {
		t.Helper()
		return views.NewStageAsk(d.frame(views.SheetStages, "Ask", faults...), d.rec, views.Asking(d.stage(stage), key, "", places), form, views.StageURL(d.rec.Job.ID, stage))
	}
	goldenPage(t, "stage_ask.length", ask(d, checklist.Framing, "framing.bolt_upper", fresh, nil, "k7d2aa/P1", "k7d2aa/P2"))
	goldenPage(t, "stage_ask.seen", ask(d, checklist.Framing, "framing.blocking", fresh, nil, "k7d2aa/P2"))
	goldenPage(t, "stage_ask.gap", ask(d, checklist.InfillSt, "infill.gap", fresh, nil, "k7d2aa/B1"))
	goldenPage(t, "stage_ask.gauges", ask(d, checklist.InfillSt, "infill.gap", fresh, nil, "k7d2aa/B1", "k7d2aa/B2"))
	goldenPage(t, "stage_ask.reference", ask(d, checklist.Posts, "posts.top", typed(false, "text:k7d2aa/P1.posts.top", "36 1/2", "from:k7d2aa/P1.posts.top", string(checklist.FromFraming)), nil, "k7d2aa/P1", "k7d2aa/P2", "k7d2aa/P3"))
	goldenPage(t, "stage_ask.moisture", ask(d, checklist.Posts, "posts.moisture", fresh, nil, "k7d2aa/P1", "k7d2aa/P2"))
	goldenPage(t, "stage_ask.signed", ask(d, checklist.Posts, "posts.plumb_along", fresh, nil, "k7d2aa/P1"))
	goldenPage(t, "stage_ask.count", ask(d, checklist.InfillSt, "infill.count", fresh, nil, "k7d2aa/B1"))
	goldenPage(t, "stage_ask.photo", ask(d, checklist.Framing, "framing.photo_inside", fresh, nil, "k7d2aa/P2"))
	goldenPage(t, "stage_ask.errors", ask(d, checklist.Framing, "framing.bolt_upper", typed(false, "text:k7d2aa/P1.framing.bolt_upper", "two", "note:k7d2aa/P2.framing.bolt_upper", "knot"),
		[]views.FieldError{fault("text:k7d2aa/P1.framing.bolt_upper", "Enter a length such as 41 3/8."), fault("text:gone", "This check is no longer on the layout.")}, "k7d2aa/P1", "k7d2aa/P2"))
	framed := long("36 1/2")
	framed.From = checklist.FromFraming
	decked := long("35 1/2")
	decked.From = checklist.FromDecking
	goldenPage(t, "stage_show.mixed", show(d, checklist.Posts, fresh, d.read("k7d2aa/P1.posts.top", framed), d.read("k7d2aa/P2.posts.top", decked), d.read("k7d2aa/P3.posts.top", decked), d.read("k7d2aa/P2.posts.width", long("3 1/2"))))
	d.rec.Take(jobs.Change{Stage: &jobs.StageState{Stage: checklist.Framing, Closed: true, At: d.at, By: ada, Deviations: []string{"deviationa"}, Version: 1}})
	goldenPage(t, "stage_show.closed", show(d, checklist.Framing, fresh))
}

func TestCheckPages(t *testing.T) {
	d := fullDeck(t)
	d.read("k7d2aa/P2.framing.bolt_upper", long("2 1/8"))
	show := func(id string, form views.Form, faults ...views.FieldError) views.CheckShowPage {
		t.Helper()
		sheet := d.sheet()
		c, live, ok := views.FindCheck(sheet, id)
		if !ok {
			t.Fatalf("no check %s", id)
		}
		return views.NewCheckShow(d.frame(views.SheetStages, "Check", faults...), d.rec, sheet, c, live, form, "form00000009")
	}
	goldenPage(t, "check_show.empty", show("k7d2aa/P1.framing.bolt_lower", fresh))
	goldenPage(t, "check_show.typical", show("k7d2aa/P2.framing.bolt_upper", fresh))
	goldenPage(t, "check_show.same", show("k7d2aa/P1.framing.blocking", fresh))
	goldenPage(t, "check_show.photo", show("k7d2aa/P2.framing.photo_inside", fresh))
	goldenPage(t, "check_show.errors", show("k7d2aa/P1.framing.blocking", typed(false, "except", "k7d2aa/P3"), fault("", "Answer this one with yes first.")))
	run, _ := d.rec.Run("k7d2aa")
	run.Retired = true
	d.rec.Take(jobs.Change{Run: &run})
	goldenPage(t, "check_show.retired", show("k7d2aa/P2.framing.bolt_upper", fresh))
}

// TestFormKeys guards the one form in which run and specification fields stand together: a name used by both would save one
// as the other.
func TestFormKeys(t *testing.T) {
	spec := map[string]bool{"form_id": true, "version": true}
	for _, k := range views.SpecKeys() {
		spec[k] = true
	}
	for _, kind := range []string{"level", "rake", "removable"} {
		keys := views.RunKeys(kind)
		if len(keys) == 0 {
			t.Errorf("RunKeys(%q) is empty", kind)
		}
		for _, k := range keys {
			if spec[k] {
				t.Errorf("%q is a field of a %s run and of the specification", k, kind)
			}
		}
	}
}

func TestStageSlug(t *testing.T) {
	for _, stage := range checklist.Stages() {
		if got, ok := views.StageOf(views.StageSlug(stage)); !ok || got != stage {
			t.Errorf("StageOf(StageSlug(%q)) = %q, %v", stage, got, ok)
		}
	}
	if _, ok := views.StageOf("post tops"); ok {
		t.Error("StageOf takes a stage with a space")
	}
}

func TestReadingText(t *testing.T) {
	n := 14
	for _, c := range []struct {
		answer checklist.Answer
		want   string
	}{
		{long("41 3/8"), `41 3/8"`}, {checklist.Answer{Count: &n}, "14"}, {checklist.Answer{Seen: checklist.SeenNA}, "not applicable"},
		{checklist.Answer{Gauge: checklist.GaugeStopped}, "gauge stopped"}, {checklist.Answer{Gauge: checklist.GaugePassed}, "gauge passed"}, {checklist.Answer{}, ""},
	} {
		if got := views.ReadingText(jobs.Reading{Answer: c.answer}, length.InchFraction); got != c.want {
			t.Errorf("ReadingText(%+v) = %q, want %q", c.answer, got, c.want)
		}
	}
}
