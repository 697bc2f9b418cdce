package store

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"newelbook/jobs"
	"newelbook/migrations"
)

var update = flag.Bool("update", false, "write the golden files again")

func fixed() time.Time { return time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC) }

// schema is the schema of a database as text, in a stable order.
func schema(t *testing.T, s *Store) string {
	t.Helper()
	rows, err := s.read.Query(`SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND tbl_name NOT LIKE 'sqlite_%' AND tbl_name <> ?
		ORDER BY CASE type WHEN 'table' THEN 1 WHEN 'index' THEN 2 ELSE 3 END, tbl_name, name`, migrationTable)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var text string
		if err := rows.Scan(&text); err != nil {
			t.Fatal(err)
		}
		b.WriteString(text + ";\n\n")
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSchemaGolden(t *testing.T) {
	s, err := Open(t.Context(), filepath.Join(t.TempDir(), "new.db"), Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	got := schema(t, s)
	golden := filepath.Join("testdata", "schema.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatalf("%v (run with -update to write it)", err)
	}
	if got != string(want) {
		t.Errorf("the schema of an empty database is not %s; run with -update and review what changed:\n%s", golden, got)
	}
}

// withFiles is the embedded migrations with some laid over or added.
func withFiles(t *testing.T, more map[string]string) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	names, err := fs.Glob(migrations.FS, "sqlite/*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(migrations.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(name)] = &fstest.MapFile{Data: text}
	}
	for name, text := range more {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}

// beside lists the copies that migrating left beside a database.
func beside(t *testing.T, path string) []string {
	t.Helper()
	copies, err := filepath.Glob(path + ".schema-*")
	if err != nil {
		t.Fatal(err)
	}
	return copies
}

func TestMigrateExisting(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.SetSetting("k", "before") }); err != nil {
		t.Fatal(err)
	}
	if copies := beside(t, path); len(copies) != 0 {
		t.Errorf("a new database was copied: %v", copies)
	}

	newer := withFiles(t, map[string]string{"9000_more.sql": "-- +goose Up\nCREATE TABLE more (id INTEGER PRIMARY KEY);\nUPDATE settings SET value = 'after';\n"})
	if err := s.migrate(t.Context(), newer); err != nil {
		t.Fatal(err)
	}
	if text := schema(t, s); !strings.Contains(text, "CREATE TABLE more") {
		t.Error("the new migration was not applied")
	}
	known, err := fs.Glob(migrations.FS, "sqlite/*.sql")
	if err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("%s.schema-%d.20260504T150000Z", path, len(known))
	if copies := beside(t, path); !slices.Equal(copies, []string{want}) {
		t.Fatalf("copies = %v, want %s", copies, want)
	}
	old, err := Open(t.Context(), want, Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	if text := schema(t, old); strings.Contains(text, "CREATE TABLE more") {
		t.Error("the copy was made after migrating")
	}
	if err := old.View(t.Context(), func(tx jobs.Tx) error {
		value, err := tx.Setting("k")
		if value != "before" {
			t.Errorf("the copy has setting %q, want before", value)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}

	// The same files again: nothing to do and nothing copied.
	if err := s.migrate(t.Context(), newer); err != nil {
		t.Fatal(err)
	}
	if copies := beside(t, path); len(copies) != 1 {
		t.Errorf("copies after nothing was migrated = %v", copies)
	}
	// This release does not know the newer schema.
	if _, err := Open(t.Context(), path, Options{Now: fixed}); !errors.Is(err, ErrNewer) {
		t.Errorf("Open of a newer database = %v, want ErrNewer", err)
	}
}

func TestChangedMigrationStopsOpen(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	text, err := fs.ReadFile(migrations.FS, "sqlite/0001_init.sql")
	if err != nil {
		t.Fatal(err)
	}
	for name, files := range map[string]map[string]string{
		"content":                          {"0001_init.sql": string(text) + "-- one more line\n"},
		"content, with a new one after it": {"0001_init.sql": string(text) + "\n", "9000_more.sql": "-- +goose Up\nCREATE TABLE more (id INTEGER);\n"},
	} {
		if err := s.migrate(t.Context(), withFiles(t, files)); !errors.Is(err, ErrMigrationChanged) {
			t.Errorf("changed %s = %v, want ErrMigrationChanged", name, err)
		}
	}
	if copies := beside(t, path); len(copies) != 0 || strings.Contains(schema(t, s), "TABLE more") {
		t.Error("a changed migration did not stop the others")
	}
}

// A migration that fails leaves the schema as it was and the copy beside it.
func TestFailedMigration(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	before := schema(t, s)
	bad := withFiles(t, map[string]string{"9000_bad.sql": "-- +goose Up\nCREATE TABLE half (id INTEGER);\nCREATE TABLE half (id INTEGER);\n"})
	if err := s.migrate(t.Context(), bad); err == nil {
		t.Fatal("a bad migration was applied")
	}
	if got := schema(t, s); got != before {
		t.Errorf("the schema is now\n%s", got)
	}
	if copies := beside(t, path); len(copies) != 1 {
		t.Errorf("copies = %v, want one", copies)
	}
}
