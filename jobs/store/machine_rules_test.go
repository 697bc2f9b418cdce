package store_test

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/jobs"
	"newelbook/jobs/store"
)

// watch holds a record to what it was one step before.
type watch struct {
	rec      *jobs.Record
	sheet    *jobs.Sheet
	readings map[string]string // by id, as JSON
}

func text(t tester, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// step demands of one step what has to hold whatever was done: no reading changed, went or was judged again, no stage closed over
// what was outstanding without a deviation that names it, nothing that nobody checked counts as good, and of several readings
// that one decides which no other supersedes.
func (w *watch) step(t tester, m *machine) {
	t.Helper()
	before, owed := w.rec, w.sheet
	w.rec, w.sheet = m.record(t), m.sheet(t)
	if before != nil {
		w.kept(t, before)
		w.closings(t, before, owed)
	}
	w.readings = map[string]string{}
	superseded := map[string]bool{}
	for _, r := range w.rec.Readings {
		w.readings[r.ID] = text(t, r)
		superseded[r.Supersedes] = true
	}
	for _, c := range append(slices.Clone(w.sheet.Checks), w.sheet.Retired...) {
		switch {
		case c.Current == nil && len(c.History) > 0 && !superseded[c.History[0].ID]:
			t.Fatalf("%s has readings and none of them counts", c.Check.ID)
		case c.Current == nil && (c.Verdict() != checklist.NotChecked || c.Check.Ask != checklist.AskPhoto && c.Answered()):
			t.Fatalf("%s: nobody checked it, and it is %q, answered %t", c.Check.ID, c.Verdict(), c.Answered())
		case c.Current != nil && c.Current.Check.TakenElsewhere(c.Current.Answer) && c.Verdict() != checklist.NotChecked:
			t.Fatalf("%s was taken from %s and is %q", c.Check.ID, c.Current.Answer.From, c.Verdict())
		case c.Current != nil && superseded[c.Current.ID]:
			t.Fatalf("%s: the reading that counts, %s, was superseded", c.Check.ID, c.Current.ID)
		case c.Current != nil && c.Verdict() != c.Current.Result.Verdict:
			t.Fatalf("%s: the word shown, %q, is not the one given, %q", c.Check.ID, c.Verdict(), c.Current.Result.Verdict)
		}
	}
	for _, st := range w.sheet.Stages {
		good := 0
		for _, c := range st.Checks {
			if c.Current != nil && c.Current.Result.Verdict == checklist.Good {
				good++
			}
		}
		if st.Counts[checklist.Good] != good {
			t.Fatalf("%s counts %d good, and %d readings are", st.Stage, st.Counts[checklist.Good], good)
		}
	}
}

// kept demands that every reading is there yet, as it was.
func (w *watch) kept(t tester, before *jobs.Record) {
	t.Helper()
	if len(w.rec.Readings) < len(before.Readings) {
		t.Fatalf("%d readings became %d", len(before.Readings), len(w.rec.Readings))
	}
	for i, r := range before.Readings {
		if now := w.rec.Readings[i]; now.ID != r.ID || text(t, now) != w.readings[r.ID] {
			t.Fatalf("reading %s was changed:\nbefore %s\nafter  %s", r.ID, w.readings[r.ID], text(t, now))
		}
	}
	if len(w.rec.Job.Past) < len(before.Job.Past) {
		t.Fatalf("%d past amendments became %d", len(before.Job.Past), len(w.rec.Job.Past))
	}
}

// closings looks at each stage that was closed in this step.
func (w *watch) closings(t tester, before *jobs.Record, owed *jobs.Sheet) {
	t.Helper()
	for _, stage := range checklist.Stages() {
		was, is := before.Stages[stage], w.rec.Stages[stage]
		if was.Closed && !is.Closed && is.Reason == "" {
			t.Fatalf("%s was opened again without a reason", stage)
		}
		if was.Closed || !is.Closed {
			continue
		}
		st, _ := owed.Stage(stage)
		if len(st.Outstanding) == 0 {
			continue
		}
		if len(is.Deviations) == 0 {
			t.Fatalf("%s was closed over %d outstanding things, and names no deviation: %+v", stage, len(st.Outstanding), st.Outstanding)
		}
		var named []string
		for _, id := range is.Deviations {
			d, ok := w.rec.Deviation(id)
			if !ok {
				t.Fatalf("%s was closed over deviation %s, which is not in the record", stage, id)
			}
			named = append(named, d.Missing...)
		}
		for _, o := range st.Outstanding {
			if !slices.ContainsFunc(named, func(line string) bool { return strings.HasSuffix(line, o.Sentence) }) {
				t.Fatalf("%s was closed, and its deviation does not name %q: %q", stage, o.Sentence, named)
			}
		}
	}
}

// ruleActions are what the rules of a job may go through, and a clock that was set back.
func (m *machine) ruleActions() map[string]func(*rapid.T) {
	ctx := context.Background()
	keys := []string{codes.GuardHeightLevel, codes.OpeningLevel, codes.BoltEdgeMin, codes.LoadGuardPoint}
	return map[string]func(*rapid.T){
		"amend a figure": func(t *rapid.T) {
			refused(t, "Amend", m.service.Amend(ctx, m.who(t), m.job, jobs.AmendmentInput{
				Version: m.version(t, m.record(t).Job.Version), Key: pick(t, "key", keys), Value: rapid.SampledFrom([]string{"42 in", "3 1/2 in", "250 lb", "much"}).Draw(t, "value"),
				SaidBy: rapid.SampledFrom([]string{"R. Sample", ""}).Draw(t, "said by"), On: "2026-05-01"}))
		},
		"withdraw an amendment": func(t *rapid.T) {
			refused(t, "Withdraw", m.service.Withdraw(ctx, m.who(t), m.job, jobs.WithdrawalInput{
				Version: m.version(t, m.record(t).Job.Version), Key: pick(t, "key", keys), Why: rapid.SampledFrom([]string{"It was for another site.", ""}).Draw(t, "why")}))
		},
		"change the rule set": func(t *rapid.T) {
			in := jobInput()
			in.Version = m.version(t, m.record(t).Job.Version)
			in.RuleSet = rapid.SampledFrom([]string{"irc-2018", "irc-2021", "wisconsin-sps-325", "ontario-9.8", "existing-condition"}).Draw(t, "rules")
			refused(t, "ChangeJob", m.service.ChangeJob(ctx, m.who(t), m.job, in))
		},
		"set the clock back": func(t *rapid.T) {
			m.now = m.now.Add(-time.Duration(rapid.IntRange(1, 90).Draw(t, "minutes")) * time.Minute)
		},
		"claim an early reading": func(t *rapid.T) {
			c := pick(t, "check", m.sheet(t).Checks)
			in := m.answer(c.Check)
			in.Claimed = m.now.Add(-time.Duration(rapid.IntRange(1, 500).Draw(t, "hours")) * time.Hour)
			if len(c.History) > 0 && rapid.Bool().Draw(t, "names one") {
				in.Supersedes = pick(t, "older", c.History).ID
			}
			_, err := m.service.TakeReadings(ctx, m.who(t), m.job, []jobs.ReadingInput{in})
			refused(t, "TakeReadings", err)
		},
		"take a length from elsewhere": func(t *rapid.T) {
			checks := slices.DeleteFunc(slices.Clone(m.sheet(t).Checks), func(c jobs.CheckState) bool { return len(c.Check.Others) == 0 })
			if len(checks) == 0 {
				t.Skip("nothing has another reference")
			}
			c := pick(t, "check", checks)
			in := m.answer(c.Check)
			in.From = string(pick(t, "from", c.Check.Others).From)
			_, err := m.service.TakeReadings(ctx, m.who(t), m.job, []jobs.ReadingInput{in})
			refused(t, "TakeReadings", err)
		},
		"send a form twice": func(t *rapid.T) {
			by := crew
			by.Form, by.Body = jobs.NewID(), jobs.TokenHash("once")
			in := []jobs.ReadingInput{m.answer(pick(t, "check", m.sheet(t).Checks).Check)}
			first, err := m.service.TakeReadings(ctx, by, m.job, in)
			refused(t, "TakeReadings", err)
			head := m.record(t).Head
			again, errAgain := m.service.TakeReadings(ctx, by, m.job, in)
			refused(t, "TakeReadings again", errAgain)
			if (err == nil) != (errAgain == nil) || !slices.Equal(first, again) || m.record(t).Head != head {
				t.Fatalf("a form sent twice: %q, %v and then %q, %v; the chain went from %d to %d", first, err, again, errAgain, head.Seq, m.record(t).Head.Seq)
			}
		},
		"look at other rules": func(t *rapid.T) {
			head := m.record(t).Head
			_, what, err := m.service.WhatIf(ctx, builder.Actor, m.job, pick(t, "other", codes.IDs()))
			if err != nil {
				t.Fatal(err)
			}
			if m.record(t).Head != head || what.Compared > len(m.record(t).Readings) {
				t.Fatalf("a what-if wrote to the record, or compared %d of %d readings", what.Compared, len(m.record(t).Readings))
			}
		},
	}
}

// Rules change under a job, clocks go back, forms come twice: no hold point closes silently and nothing is judged again.
func TestRulesMachine(t *testing.T) {
	t.Parallel()
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		s, err := store.Open(context.Background(), filepath.Join(dir, fmt.Sprint(n, ".db")), store.Options{Now: clock})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		m := &machine{site: newSite(t, s)}
		m.run(t, "R1", "80")
		all := m.actions()
		actions := m.ruleActions()
		for _, name := range []string{"change the job", "save a run", "take readings", "same for the rest", "add a photo", "end a deviation", "close a stage", "reopen a stage", "cover a run"} {
			actions[name] = all[name]
		}
		w := &watch{}
		actions[""] = func(t *rapid.T) { w.step(t, m) }
		t.Repeat(actions)
		m.agree(t)
	})
}

// The order in which different checks are answered is irrelevant: words, counts and what is outstanding come out alike. What a bay's
// opening or a post's section measured decides what later readings are held to, so those are not shuffled.
func TestOrderOfReadingsIsIrrelevant(t *testing.T) {
	t.Parallel()
	dir, n := t.TempDir(), 0
	lays := []string{checklist.KeyOpeningBottom, checklist.KeyOpeningTop, checklist.KeyPostWidth, checklist.KeyPostDepth, checklist.KeyPostLean}
	rapid.Check(t, func(t *rapid.T) {
		n++
		outcome := func(name string, order func(int) []int) (words string) {
			s, err := store.Open(context.Background(), filepath.Join(dir, fmt.Sprintf("%d-%s.db", n, name)), store.Options{Now: clock})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			x := newSite(t, s)
			run := x.run(t, "R1", "80")
			var inputs []jobs.ReadingInput
			for i, c := range x.sheet(t).Checks {
				if i%5 == 0 && c.Check.Ask != checklist.AskPhoto && !slices.Contains(lays, c.Check.Key) {
					in := x.answer(c.Check)
					if i%2 == 0 && c.Check.Ask == checklist.AskLength {
						in.Text = "1 7/8"
					}
					inputs = append(inputs, in)
				}
			}
			for _, i := range order(len(inputs)) {
				x.take(t, inputs[i])
			}
			for _, st := range x.sheet(t).Stages {
				words += fmt.Sprintf("%s %d of %d %v\n", st.Stage, st.Answered, st.Total, st.Counts)
				for _, c := range st.Checks {
					words += fmt.Sprintf("  %s %s %t\n", strings.TrimPrefix(c.Check.ID, run), c.Verdict().Word(), c.Deviation != nil)
				}
			}
			return words
		}
		straight := func(n int) []int {
			all := make([]int, n)
			for i := range all {
				all[i] = i
			}
			return all
		}
		first := outcome("a", straight)
		second := outcome("b", func(n int) []int { return rapid.Permutation(straight(n)).Draw(t, "order") })
		if first != second {
			t.Fatalf("another order of the same readings:\n%s\nagainst\n%s", first, second)
		}
	})
}

// Two people at once: of two who save the same thing one is told of the other, and readings of both are kept, the later one received
// naming the earlier.
func TestTwoEditorsAtOnce(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "80")
	version := x.record(t).Job.Version
	both := func(f func(n int) error) (saved int) {
		errs := make(chan error, 2)
		for n := range 2 {
			go func() { errs <- f(n) }()
		}
		for range 2 {
			if err := <-errs; err == nil {
				saved++
			}
		}
		return saved
	}
	// The site's clock is not made for two at once, so a service with one that stands still.
	service := jobs.NewService(x.store, func() time.Time { return clock().Add(time.Hour) })
	if saved := both(func(n int) error {
		return service.Amend(t.Context(), builder, x.job, jobs.AmendmentInput{Version: version, Key: codes.GuardHeightLevel, Value: fmt.Sprint(40+n, " in"), SaidBy: "R. Sample", On: "2026-05-01"})
	}); saved != 1 || len(x.record(t).Job.Amendments) != 1 || len(x.record(t).Job.Past) != 0 {
		t.Errorf("%d of two amendments from one version were saved: %+v", saved, x.record(t).Job.Amendments)
	}
	check := x.check(t, "framing.bolt_upper").Check.ID
	if saved := both(func(n int) error {
		_, err := service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: check, Text: fmt.Sprint(2+n, " in")}})
		return err
	}); saved != 2 {
		t.Errorf("%d of two readings were saved", saved)
	}
	c, _ := x.sheet(t).Check(check)
	if len(c.History) != 2 || c.History[1].Supersedes != c.History[0].ID || c.Current.ID != c.History[1].ID {
		t.Errorf("history of the check: %+v", c.History)
	}
	x.agree(t)
}
