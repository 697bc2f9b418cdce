package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"newelbook/jobs"
)

// scratch is a folder of this run of the tests, for what several tests share.
var scratch string

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" { // started by a test, to be killed
		main()
	}
	if os.Getenv(asProgramAtMoment) != "" {
		os.Exit(run(context.Background(), os.Args[1:], env{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: moment}))
	}
	var err error
	if scratch, err = os.MkdirTemp("", "newelbook-test-"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	if err := os.RemoveAll(scratch); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(code)
}

// asProgram, set in the surroundings, makes the test binary the program itself.
const asProgram = "NEWELBOOK_TEST_AS_PROGRAM"

// asProgramAtMoment does the same with the clock of the tests.
const asProgramAtMoment = "NEWELBOOK_TEST_AS_PROGRAM_AT_MOMENT"

// moment is the time at which commands run in tests, after all that the demonstration tells.
func moment() time.Time { return time.Date(2026, 5, 11, 15, 0, 0, 0, time.UTC) }

// seeded makes the demonstration once for all tests, which takes a while, and returns its folder. Work on a copy.
var seeded = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(scratch, "demo")
	var out, errs bytes.Buffer
	if code := run(context.Background(), []string{"demo", "--seed-only", "--data", dir}, env{in: strings.NewReader(""), out: &out, err: &errs, now: moment}); code != exitOK {
		return "", fmt.Errorf("demo --seed-only ended with %d: %s", code, errs.String())
	}
	want := fmt.Sprintf("Making the invented job in %s ...\nThe invented job is in %s.\n", dir, dir)
	if got := out.String(); got != want {
		return "", fmt.Errorf("demo --seed-only printed %q, want %q", got, want)
	}
	return dir, nil
})

// copyDemo puts a copy of the demonstration's folder at dir.
func copyDemo(dir string) error {
	from, err := seeded()
	if err != nil {
		return err
	}
	return os.CopyFS(dir, os.DirFS(from))
}

// newelbook runs one command and returns its exit code and what it printed.
func newelbook(t *testing.T, in string, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(t.Context(), args, env{in: strings.NewReader(in), out: &o, err: &e, now: moment})
	return code, o.String(), e.String()
}

// must runs one command that has to end well.
func must(t *testing.T, in string, args ...string) string {
	t.Helper()
	code, out, errs := newelbook(t, in, args...)
	if code != exitOK {
		t.Fatalf("newelbook %s ended with %d\n%s%s", strings.Join(args, " "), code, out, errs)
	}
	return out
}

// open opens a data folder that exists, beside whoever else has it open.
func open(t *testing.T, dir string) *data {
	t.Helper()
	d, err := openData(t.Context(), env{err: io.Discard, now: moment}, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	return d
}

// password is everybody's here.
const password = "four posts in a row"

// byBuilder is whoever records something in these tests. The name is invented.
func byBuilder() jobs.By {
	return jobs.By{Actor: jobs.Actor{ID: "b1", Name: "Ada Sample", Role: jobs.RoleBuilder}}
}

// newFolder makes a data folder with the builder's account ada and one invented job, whose level run R1 has three posts and two
// bays. It returns the folder and the job's id.
func newFolder(t *testing.T, dir string) string {
	t.Helper()
	must(t, password+"\n", "account", "add", "ada", "--name", "Ada Sample", "--role", "builder", "--data", dir)
	d := open(t, dir)
	id, err := d.service.MakeJob(t.Context(), byBuilder(), jobs.JobInput{
		Ref: "NB-42", Name: "Back deck", Site: "14 Example Lane, Sampleton", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100",
		RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago", Begun: "2026-05-01",
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.service.SaveRun(t.Context(), byBuilder(), id, jobs.RunInput{Fields: map[string]string{
		"kind": "level", "label": "R1", "length": "140", "deck_height": "48", "joists": "across", "first_joist": "0",
	}}); err != nil {
		t.Fatal(err)
	}
	return id
}

// record is the job's record as stored.
func (d *data) record(t *testing.T, job string) *jobs.Record {
	t.Helper()
	rec, err := d.service.Record(t.Context(), job)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

// checkAt is the id of the check of a key at a place's label.
func checkAt(t *testing.T, rec *jobs.Record, label, key string) *jobs.CheckState {
	t.Helper()
	sheet, err := rec.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	for i := range sheet.Checks {
		if c := &sheet.Checks[i]; c.Check.Place.Label == label && c.Check.Key == key {
			return c
		}
	}
	t.Fatalf("%s has no check %s", label, key)
	return nil
}

// sound demands that check finds nothing.
func sound(t *testing.T, dir string) {
	t.Helper()
	code, out, errs := newelbook(t, "", "check", "--data", dir)
	if code != exitOK || !strings.HasPrefix(out, "Sound: ") {
		t.Errorf("check of %s ended with %d\n%s%s", dir, code, out, errs)
	}
}

// chain is a job's events.
func (d *data) chain(t *testing.T, job string) []jobs.Event {
	t.Helper()
	_, events, err := d.service.RecordWithEvents(t.Context(), job)
	if err != nil {
		t.Fatal(err)
	}
	return events
}

// heads prints the end of every job's chain in a data folder.
func heads(ctx context.Context, dir string) (string, error) {
	d, err := openData(ctx, env{err: io.Discard, now: moment}, dir, false)
	if err != nil {
		return "", err
	}
	all, err := d.service.Jobs(ctx)
	var b strings.Builder
	for _, j := range all {
		rec, err := d.service.Record(ctx, j.ID)
		if err != nil {
			return "", errors.Join(err, d.Close())
		}
		fmt.Fprintf(&b, "%s %d %s\n", j.Ref, rec.Head.Seq, rec.Head.Hash)
	}
	return b.String(), errors.Join(err, d.Close())
}
