package jobstest

import (
	"context"
	"encoding/json"
	"errors"
	"strings"
	"sync"
	"testing"

	"newelbook/jobs"
)

// TestStore checks that a store keeps the promises of jobs.Store. open makes an empty store for each part; what it opens
// it closes with t.Cleanup.
func TestStore(t *testing.T, open func(t *testing.T) jobs.Store) {
	for name, part := range map[string]func(*testing.T, jobs.Store){
		"events follow one by one":       testOrder,
		"load gives what replay gives":   testLoad,
		"rollback leaves nothing":        testRollback,
		"a panic rolls back":             testPanic,
		"a form is kept once":            testForms,
		"updates wait for one another":   testConcurrent,
		"a view is one snapshot":         testSnapshot,
		"a view writes nothing":          testReadOnly,
		"what is not there is not found": testNotFound,
		"jobs are listed newest first":   testJobs,
		"links lead to their job":        testLinks,
		"accounts":                       testAccounts,
		"settings":                       testSettings,
		"a context ends a transaction":   testContext,
	} {
		t.Run(name, func(t *testing.T) { part(t, open(t)) })
	}
}

func update(t *testing.T, s jobs.Store, f func(jobs.Tx) error) {
	t.Helper()
	if err := s.Update(t.Context(), f); err != nil {
		t.Fatalf("Update: %v", err)
	}
}

func view(t *testing.T, s jobs.Store, f func(jobs.Tx) error) {
	t.Helper()
	if err := s.View(t.Context(), f); err != nil {
		t.Fatalf("View: %v", err)
	}
}

func make1(t *testing.T, s jobs.Store) {
	t.Helper()
	update(t, s, func(tx jobs.Tx) error { return makeJob(tx, "one") })
}

func head(t *testing.T, s jobs.Store, jobID string) (h jobs.Head) {
	t.Helper()
	view(t, s, func(tx jobs.Tx) (err error) {
		h, err = tx.Head(jobID)
		return err
	})
	return h
}

func testOrder(t *testing.T, s jobs.Store) {
	make1(t, s)
	first := head(t, s, "one")
	update(t, s, func(tx jobs.Tx) error { return increment(tx, "one") })
	second := head(t, s, "one")
	if first.Seq != 1 || second.Seq != 2 || first.Hash == second.Hash {
		t.Fatalf("heads = %v, %v, want 1 and 2 with other hashes", first, second)
	}
	j := job("one")
	change := jobs.Change{Job: &j}
	sound, err := event("one", second, jobs.EvJobChanged, change)
	if err != nil {
		t.Fatal(err)
	}
	other, err := event("one", jobs.Head{Seq: 2, Hash: first.Hash}, jobs.EvJobChanged, change)
	if err != nil {
		t.Fatal(err)
	}
	stranger, err := event("two", second, jobs.EvJobChanged, change)
	if err != nil {
		t.Fatal(err)
	}
	made2 := job("two")
	nameless, err := event("one", second, jobs.EvJobChanged, jobs.Change{})
	if err != nil {
		t.Fatal(err)
	}
	elsewhere, err := event("one", second, jobs.EvJobChanged, jobs.Change{Job: &made2})
	if err != nil {
		t.Fatal(err)
	}
	gap := func(e jobs.Event, seq int) jobs.Event { e.Seq = seq; return e }
	changed := sound
	changed.Payload = strings.Replace(sound.Payload, "Back deck", "Sack deck", 1)
	for name, e := range map[string]jobs.Event{
		"a repeat":                     gap(sound, 2),
		"a gap":                        gap(sound, 4),
		"the hash of another head":     other,
		"a job that has no first one":  stranger,
		"no object":                    nameless,
		"another job's object":         elsewhere,
		"a payload that is not hashed": changed,
	} {
		if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.Append(e) }); err == nil {
			t.Errorf("Append took an event with %s", name)
		}
		if h := head(t, s, "one"); h != second {
			t.Fatalf("after an event with %s the head = %v, want %v", name, h, second)
		}
	}
	update(t, s, func(tx jobs.Tx) error { return tx.Append(sound) })
	view(t, s, func(tx jobs.Tx) error {
		events, err := tx.Events("one", 1)
		if err != nil {
			return err
		}
		if len(events) != 3 {
			t.Errorf("Events gave %d, want 3", len(events))
		}
		if faults := jobs.VerifyChain(events); len(faults) > 0 {
			t.Errorf("VerifyChain found %q", faults)
		}
		if len(events) == 3 && (events[2].Payload != sound.Payload || !events[2].At.Equal(sound.At)) {
			t.Errorf("event 3 came back as %+v, want %+v", events[2], sound)
		}
		later, err := tx.Events("one", 3)
		if err != nil || len(later) != 1 || later[0].Seq != 3 {
			t.Errorf("Events from 3 = %v, %v", later, err)
		}
		none, err := tx.Events("one", 4)
		if err != nil || len(none) != 0 {
			t.Errorf("Events from 4 = %v, %v, want none", none, err)
		}
		return nil
	})
}

func testLoad(t *testing.T, s jobs.Store) {
	make1(t, s)
	// Days out of order: a record has its diary by day.
	for _, day := range []string{"2026-05-03", "2026-05-01", "2026-05-02"} {
		update(t, s, func(tx jobs.Tx) error { return saveDiary(tx, "one", day) })
	}
	update(t, s, func(tx jobs.Tx) error { return increment(tx, "one") })
	view(t, s, func(tx jobs.Tx) error {
		loaded, err := tx.Load("one")
		if err != nil {
			return err
		}
		events, err := tx.Events("one", 1)
		if err != nil {
			return err
		}
		replayed, err := jobs.Replay(events)
		if err != nil {
			return err
		}
		got, want := text(t, loaded), text(t, replayed)
		if got != want {
			t.Errorf("Load = %s\nReplay = %s", got, want)
		}
		if loaded.Job.Version != 2 || len(loaded.Diary) != 3 || loaded.Head.Seq != 5 {
			t.Errorf("Load = version %d with %d diary pages at %d, want 2, 3, 5", loaded.Job.Version, len(loaded.Diary), loaded.Head.Seq)
		}
		return nil
	})
}

func text(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func testRollback(t *testing.T, s jobs.Store) {
	make1(t, s)
	before := head(t, s, "one")
	stop := errors.New("stop")
	err := s.Update(t.Context(), func(tx jobs.Tx) error {
		for _, f := range []func() error{
			func() error { return increment(tx, "one") },
			func() error { return makeJob(tx, "two") },
			func() error { return tx.SaveForm(jobs.Form{ID: "f1", Body: "b", At: at()}) },
			func() error { return tx.SaveAccount(account("a1", "sam")) },
			func() error { return tx.SetSetting("k", "v") },
		} {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		}
		return stop
	})
	if !errors.Is(err, stop) {
		t.Fatalf("Update = %v, want the error of f", err)
	}
	if h := head(t, s, "one"); h != before {
		t.Errorf("head = %v, want %v", h, before)
	}
	view(t, s, func(tx jobs.Tx) error {
		r, err := tx.Load("one")
		if err != nil {
			return err
		}
		if r.Job.Version != 1 {
			t.Errorf("version = %d, want 1", r.Job.Version)
		}
		_, headErr := tx.Head("two")
		_, formErr := tx.Form("f1")
		_, accountErr := tx.Account("a1")
		_, settingErr := tx.Setting("k")
		for name, err := range map[string]error{"job": headErr, "form": formErr, "account": accountErr, "setting": settingErr} {
			if !errors.Is(err, jobs.ErrNotFound) {
				t.Errorf("the %s gives %v, want ErrNotFound", name, err)
			}
		}
		return nil
	})
}

func testPanic(t *testing.T, s jobs.Store) {
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic did not come through")
			}
		}()
		_ = s.Update(t.Context(), func(tx jobs.Tx) error {
			if err := makeJob(tx, "one"); err != nil {
				t.Fatal(err)
			}
			panic("in the middle")
		})
	}()
	update(t, s, func(tx jobs.Tx) error {
		if _, err := tx.Head("one"); !errors.Is(err, jobs.ErrNotFound) {
			t.Errorf("Head = %v, want ErrNotFound", err)
		}
		return nil
	})
}

func testForms(t *testing.T, s jobs.Store) {
	form := jobs.Form{ID: "f1", Body: "body 1", Result: "made 1", At: at()}
	update(t, s, func(tx jobs.Tx) error { return tx.SaveForm(form) })
	err := s.Update(t.Context(), func(tx jobs.Tx) error {
		return tx.SaveForm(jobs.Form{ID: "f1", Body: "body 2", Result: "made 2", At: at()})
	})
	if err == nil {
		t.Error("SaveForm took the same id twice")
	}
	view(t, s, func(tx jobs.Tx) error {
		got, err := tx.Form("f1")
		if err != nil {
			return err
		}
		if !got.At.Equal(form.At) {
			t.Errorf("Form.At = %v, want %v", got.At, form.At)
		}
		if got.At = form.At; got != form {
			t.Errorf("Form = %+v, want %+v", got, form)
		}
		return nil
	})
}

func testConcurrent(t *testing.T, s jobs.Store) {
	const workers, each = 4, 25
	make1(t, s)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for range each {
				if err := s.Update(t.Context(), func(tx jobs.Tx) error { return increment(tx, "one") }); err != nil {
					t.Errorf("Update: %v", err)
					return
				}
			}
		})
	}
	wg.Wait()
	view(t, s, func(tx jobs.Tx) error {
		r, err := tx.Load("one")
		if err != nil {
			return err
		}
		if r.Job.Version != 1+workers*each {
			t.Errorf("version = %d, want %d: updates were lost", r.Job.Version, 1+workers*each)
		}
		events, err := tx.Events("one", 1)
		if err != nil {
			return err
		}
		if faults := jobs.VerifyChain(events); len(faults) > 0 || len(events) != 1+workers*each {
			t.Errorf("%d events, VerifyChain found %q", len(events), faults)
		}
		return nil
	})
}

func testSnapshot(t *testing.T, s jobs.Store) {
	make1(t, s)
	view(t, s, func(tx jobs.Tx) error {
		before, err := tx.Load("one")
		if err != nil {
			return err
		}
		// A writer does not wait for a view, and the view does not see what it wrote.
		update(t, s, func(tx jobs.Tx) error { return increment(tx, "one") })
		after, err := tx.Load("one")
		if err != nil {
			return err
		}
		if after.Head != before.Head || after.Job.Version != before.Job.Version {
			t.Errorf("the view went from %v, version %d to %v, version %d", before.Head, before.Job.Version, after.Head, after.Job.Version)
		}
		return nil
	})
	if h := head(t, s, "one"); h.Seq != 2 {
		t.Errorf("head = %v, want 2", h)
	}
}

func testReadOnly(t *testing.T, s jobs.Store) {
	make1(t, s)
	for name, write := range map[string]func(jobs.Tx) error{
		"Append":     func(tx jobs.Tx) error { return increment(tx, "one") },
		"SaveForm":   func(tx jobs.Tx) error { return tx.SaveForm(jobs.Form{ID: "f", At: at()}) },
		"SetSetting": func(tx jobs.Tx) error { return tx.SetSetting("k", "v") },
	} {
		if err := s.View(t.Context(), write); err == nil {
			t.Errorf("%s worked in a View", name)
		}
	}
	if h := head(t, s, "one"); h.Seq != 1 {
		t.Errorf("head = %v, want 1", h)
	}
}

func testNotFound(t *testing.T, s jobs.Store) {
	lookups := map[string]func(jobs.Tx) error{
		"Head":           func(tx jobs.Tx) error { _, err := tx.Head("none"); return err },
		"Load":           func(tx jobs.Tx) error { _, err := tx.Load("none"); return err },
		"Events":         func(tx jobs.Tx) error { _, err := tx.Events("none", 1); return err },
		"Form":           func(tx jobs.Tx) error { _, err := tx.Form("none"); return err },
		"LinkJob":        func(tx jobs.Tx) error { _, err := tx.LinkJob(jobs.TokenHash("none")); return err },
		"Account":        func(tx jobs.Tx) error { _, err := tx.Account("none"); return err },
		"AccountByLogin": func(tx jobs.Tx) error { _, err := tx.AccountByLogin("none"); return err },
		"Setting":        func(tx jobs.Tx) error { _, err := tx.Setting("none"); return err },
	}
	update(t, s, func(tx jobs.Tx) error { return makeJob(tx, "one") }) // something is there, just not that
	for name, lookup := range lookups {
		if err := s.View(t.Context(), lookup); !errors.Is(err, jobs.ErrNotFound) {
			t.Errorf("%s of what is not there = %v, want ErrNotFound", name, err)
		}
	}
}

func testJobs(t *testing.T, s jobs.Store) {
	view(t, s, func(tx jobs.Tx) error {
		none, err := tx.Jobs()
		if len(none) != 0 {
			t.Errorf("Jobs of an empty store = %v", none)
		}
		return err
	})
	for i, id := range []string{"old", "new"} {
		update(t, s, func(tx jobs.Tx) error {
			j := job(id)
			j.Made = at().AddDate(0, 0, i)
			return appendChange(tx, id, jobs.Head{}, jobs.EvJobMade, jobs.Change{Job: &j})
		})
	}
	update(t, s, func(tx jobs.Tx) error { return increment(tx, "old") })
	view(t, s, func(tx jobs.Tx) error {
		got, err := tx.Jobs()
		if err != nil {
			return err
		}
		if len(got) != 2 || got[0].ID != "new" || got[1].ID != "old" {
			t.Fatalf("Jobs = %+v, want new, old", got)
		}
		old, want := got[1], job("old")
		if old.Events != 2 || old.Ref != want.Ref || old.Name != "Deck, change 2" || old.Site != want.Site || !old.Made.Equal(want.Made) {
			t.Errorf("summary = %+v, want that of %+v with 2 events", old, want)
		}
		events, err := tx.Events("old", 2)
		if err != nil {
			return err
		}
		if !old.Changed.Equal(events[0].At) {
			t.Errorf("Changed = %v, want the time of the last event, %v", old.Changed, events[0].At)
		}
		return nil
	})
}

func testContext(t *testing.T, s jobs.Store) {
	ctx, cancel := context.WithCancel(t.Context())
	err := s.Update(ctx, func(tx jobs.Tx) error {
		if err := makeJob(tx, "one"); err != nil {
			return err
		}
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("Update = %v, want the context's error", err)
	}
	view(t, s, func(tx jobs.Tx) error {
		if _, err := tx.Head("one"); !errors.Is(err, jobs.ErrNotFound) {
			t.Errorf("Head = %v, want ErrNotFound", err)
		}
		return nil
	})
}
