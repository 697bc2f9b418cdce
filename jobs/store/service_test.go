package store_test

import (
	"context"
	"database/sql"
	"errors"
	"path/filepath"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
)

func TestWholeJob(t *testing.T) {
	x := newSite(t, open(t))
	x.whole(t)
	x.agree(t)
	r := x.record(t)
	for name, n := range map[string]int{
		"runs": len(r.Runs), "layouts": len(r.Layouts), "readings": len(r.Readings), "photos": len(r.Photos), "deviations": len(r.Deviations),
		"stages": len(r.Stages), "covered": len(r.Covered), "diary": len(r.Diary), "packs": len(r.Packs), "links": len(r.Links), "answers": len(r.Answers),
		"ticks": len(r.Ticks), "stock on hand": len(r.OnHand), "papers": len(r.Papers),
	} {
		if n == 0 {
			t.Errorf("the whole job has no %s", name)
		}
	}
	if found := findings(t, x.store); len(found) > 0 {
		t.Errorf("CheckChains of a sound store found %+v", found)
	}
}

// A row that was written again still says which event made it.
func TestFirstSeqStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, _ := openAt(t, path)
	newSite(t, s).whole(t)
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, changed := range []string{"runs WHERE retired = 1", "photos WHERE version = 2", "deviations WHERE version = 2", "diary_pages WHERE version = 2", "links WHERE revoked_at IS NOT NULL", "on_hand WHERE count = 0", "papers WHERE withdrawn_at IS NOT NULL"} {
		var first, last int
		if err := db.QueryRow("SELECT first_seq, seq FROM "+changed).Scan(&first, &last); err != nil || first >= last {
			t.Errorf("%s: first_seq %d, seq %d, %v, want the first before the last", changed, first, last, err)
		}
	}
}

// Two people open the job's form, and both save it.
func TestSecondSaveConflicts(t *testing.T) {
	x := newSite(t, open(t))
	in := jobInput()
	in.Version = 1
	in.Name = "Front deck"
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	in.Name = "Side deck"
	var conflict *jobs.ConflictError
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); !errors.As(err, &conflict) {
		t.Fatalf("second save = %v, want a ConflictError", err)
	}
	if r := x.record(t); r.Job.Name != "Front deck" || r.Job.Version != 2 || r.Head.Seq != 2 {
		t.Errorf("job = %q, version %d, at %d, want the first save alone", r.Job.Name, r.Job.Version, r.Head.Seq)
	}
}

// Each record that can be edited refuses a form that was opened on an older version of it.
func TestStaleVersions(t *testing.T) {
	x := newSite(t, open(t))
	x.whole(t)
	r := x.record(t)
	run, photo, deviation := r.Runs[0], r.Photos[0], r.Deviations[0]
	for name, save := range map[string]func() error{
		"run": func() error {
			_, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{ID: run.ID, Version: run.Version - 1})
			return err
		},
		"photo": func() error {
			return x.service.FilePhoto(t.Context(), crew, x.job, jobs.FileInput{ID: photo.ID, Version: photo.Version - 1, PlaceID: run.ID, Stage: "posts"})
		},
		"deviation": func() error {
			return x.service.EndDeviation(t.Context(), builder, x.job, jobs.DeviationInput{ID: deviation.ID, Version: deviation.Version - 1, State: "accepted", Reason: "r", Name: "n"})
		},
		"stage": func() error {
			return x.service.CloseStage(t.Context(), builder, x.job, jobs.CloseInput{Stage: string(checklist.Framing), Version: 0})
		},
		"diary": func() error {
			return x.service.SaveDiary(t.Context(), crew, x.job, jobs.DiaryInput{Day: "2026-05-04", Version: 1})
		},
	} {
		var conflict *jobs.ConflictError
		if err := save(); !errors.As(err, &conflict) {
			t.Errorf("stale %s = %v, want a ConflictError", name, err)
		}
	}
	if got := x.record(t).Head; got != r.Head {
		t.Errorf("head = %v, want %v", got, r.Head)
	}
}

func TestFormPostedTwice(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "144")
	before := x.record(t).Head.Seq
	by := crew
	by.Form, by.Body = "form-1", jobs.TokenHash("body 1")
	in := jobs.DeviationInput{PlaceID: run, Stage: "rails", What: "The rail is chipped."}
	first, err := x.service.OpenDeviation(t.Context(), by, x.job, in)
	if err != nil {
		t.Fatal(err)
	}
	again, err := x.service.OpenDeviation(t.Context(), by, x.job, in)
	if err != nil || again != first {
		t.Errorf("the same form again = %q, %v, want %q", again, err, first)
	}
	by.Body = jobs.TokenHash("body 2")
	in.What = "The rail is split."
	var reused *jobs.FormReusedError
	if _, err := x.service.OpenDeviation(t.Context(), by, x.job, in); !errors.As(err, &reused) || reused.Result != first {
		t.Errorf("the form with another body = %v, want a FormReusedError with %q", err, first)
	}
	if r := x.record(t); r.Head.Seq != before+1 || len(r.Deviations) != 1 {
		t.Errorf("%d events and %d deviations came of it, want one each", r.Head.Seq-before, len(r.Deviations))
	}
}

// What a phone sends may be sent twice over in one go, and may name readings that nobody has.
func TestTakeReadingsFromADevice(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	first := x.answer(x.check(t, "framing.blocking").Check)
	first.ID = "reading-1"
	second := first
	second.ID, second.Supersedes = "reading-2", "reading-1"
	if ids := x.take(t, first, first, second); len(ids) != 2 {
		t.Errorf("took %q, want each once", ids)
	}
	before := x.record(t).Head
	stray := first
	stray.Field, stray.ID, stray.Supersedes = "f", "reading-3", "no such reading"
	fine := first
	fine.ID = "reading-4"
	var bad *jobs.InvalidError
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{fine, stray}); !errors.As(err, &bad) || len(bad.Fields) != 1 || bad.Fields[0].Field != "f" {
		t.Errorf("a reading that supersedes nothing = %v, want one fault in field f", err)
	}
	if got := x.record(t).Head; got != before {
		t.Errorf("head = %v, want %v: all are taken or none", got, before)
	}
	x.agree(t)
}

// A use case that fails after some of its events were written leaves none of them: here the second pack of a job claims a
// head that its chain does not have yet.
func TestFailedUseCaseLeavesNothing(t *testing.T) {
	x := newSite(t, open(t))
	before := x.record(t).Head
	err := x.store.Update(t.Context(), func(tx jobs.Tx) error {
		inner := jobs.NewService(within{tx}, clock)
		if _, err := inner.SaveRun(t.Context(), builder, x.job, jobs.RunInput{Fields: map[string]string{"kind": "level", "label": "R1", "length": "144"}}); err != nil {
			t.Errorf("SaveRun: %v", err)
		}
		p := jobs.IssuedPack{Number: 1, Issued: clock(), Hash: jobs.TokenHash("p"), RecordHash: jobs.TokenHash("r"), HeadSeq: 99, HeadHash: jobs.TokenHash("h")}
		return inner.RecordIssue(t.Context(), builder, x.job, p)
	})
	if err == nil {
		t.Fatal("a pack of a head that is not there was recorded")
	}
	if r := x.record(t); r.Head != before || len(r.Runs) != 0 {
		t.Errorf("head = %v with %d runs, want %v with none", r.Head, len(r.Runs), before)
	}
	x.agree(t)
}

// within is a store whose transactions all happen in one.
type within struct{ tx jobs.Tx }

func (w within) View(_ context.Context, f func(jobs.Tx) error) error   { return f(w.tx) }
func (w within) Update(_ context.Context, f func(jobs.Tx) error) error { return f(w.tx) }

// A pack's time is kept in UTC, whoever hands it in.
func TestIssueInAnotherZone(t *testing.T) {
	x := newSite(t, open(t))
	head := x.record(t).Head
	there := time.FixedZone("", -5*3600)
	p := jobs.IssuedPack{Number: 1, Issued: clock().In(there), Hash: jobs.TokenHash("p"), RecordHash: jobs.TokenHash("r"), HeadSeq: head.Seq, HeadHash: head.Hash}
	if err := x.service.RecordIssue(t.Context(), builder, x.job, p); err != nil {
		t.Fatal(err)
	}
	x.agree(t)
	// The store itself refuses what its columns could not give back.
	link := jobs.Link{ID: "l1", TokenHash: jobs.TokenHash("t"), For: jobs.RoleOwner, Name: "A. Sample", Pack: 1, Made: clock().In(there), Expires: clock()}
	e, err := sealed(x.job, x.record(t).Head, jobs.EvLinkMade, jobs.Change{Link: &link})
	if err != nil {
		t.Fatal(err)
	}
	if err := x.store.Update(t.Context(), func(tx jobs.Tx) error { return tx.Append(e) }); err == nil {
		t.Error("Append took a link with a time of another zone")
	}
	x.agree(t)
}
