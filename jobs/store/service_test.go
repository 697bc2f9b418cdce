package store_test

import (
	"errors"
	"testing"

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
	} {
		if n == 0 {
			t.Errorf("the whole job has no %s", name)
		}
	}
	if found := findings(t, x.store); len(found) > 0 {
		t.Errorf("CheckChains of a sound store found %+v", found)
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

// A use case that fails after some of its events were written leaves none of them.
func TestFailedUseCaseLeavesNothing(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	before := x.record(t).Head
	c := x.check(t, "framing.blocking")
	good := x.answer(c.Check)
	good.ID = "reading-1"
	bad := good
	bad.ID, bad.Supersedes = "reading-2", "no such reading"
	if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{good, bad}); err == nil {
		t.Fatal("a reading that supersedes nothing was taken")
	}
	if r := x.record(t); r.Head != before || len(r.Readings) != 0 {
		t.Errorf("head = %v with %d readings, want %v with none", r.Head, len(r.Readings), before)
	}
	x.agree(t)
}
