package store

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/jobs"
)

// A database that may not grow answers as a full disk does: nothing is kept, and the store goes on.
func TestFull(t *testing.T) {
	s, err := Open(t.Context(), filepath.Join(t.TempDir(), "newelbook.db"), Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := s.write.Exec("PRAGMA max_page_count = 1"); err != nil { // SQLite makes it the size that it has
		t.Fatal(err)
	}
	err = s.Update(t.Context(), func(tx jobs.Tx) error {
		if err := tx.SetSetting("small", "v"); err != nil {
			return err
		}
		return tx.SetSetting("large", strings.Repeat("x", 1<<20))
	})
	if !errors.Is(err, ErrFull) {
		t.Errorf("Update = %v, want ErrFull", err)
	}
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.SetSetting("after", "v") }); err != nil {
		t.Errorf("a small change afterwards: %v", err)
	}
	if err := s.View(t.Context(), func(tx jobs.Tx) error {
		if _, err := tx.Setting("small"); !errors.Is(err, jobs.ErrNotFound) {
			t.Errorf("what was saved before the disk was full = %v, want ErrNotFound", err)
		}
		_, err := tx.Setting("after")
		return err
	}); err != nil {
		t.Error(err)
	}
}
