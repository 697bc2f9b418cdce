package store_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/jobs/jobstest"
	"newelbook/jobs/store"
)

// clock is the time in these tests.
func clock() time.Time { return time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC) }

// open opens a store in the test's own folder.
func open(t testing.TB) *store.Store {
	t.Helper()
	s, _ := openAt(t, filepath.Join(t.TempDir(), "newelbook.db"))
	return s
}

// openAt opens a store at a path and closes it with the test, or before by the function returned.
func openAt(t testing.TB, path string) (s *store.Store, closeNow func()) {
	t.Helper()
	s, err := store.Open(context.Background(), path, store.Options{Now: clock})
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	closed := false
	closeNow = func() {
		if closed {
			return
		}
		closed = true
		if err := s.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	}
	t.Cleanup(closeNow)
	return s, closeNow
}

func TestConformance(t *testing.T) {
	jobstest.TestStore(t, func(t *testing.T) jobs.Store { return open(t) })
}

// A path may have any character in it that the file system takes.
func TestOpenOddPath(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job #1 50% ? & ü")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "new elbook?mode=memory.db")
	s, closeNow := openAt(t, path)
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.SetSetting("k", "v") }); err != nil {
		t.Fatal(err)
	}
	closeNow()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm()&0o077 != 0 {
		t.Errorf("the database has mode %v: others can read it", info.Mode())
	}
	s, _ = openAt(t, path)
	if err := s.View(t.Context(), func(tx jobs.Tx) error {
		got, err := tx.Setting("k")
		if got != "v" {
			t.Errorf("Setting = %q, want v", got)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if name := e.Name(); filepath.Base(path) != name && filepath.Base(path)+"-wal" != name && filepath.Base(path)+"-shm" != name {
			t.Errorf("Open left %q beside the database", name)
		}
	}
}
