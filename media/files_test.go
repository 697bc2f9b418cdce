package media_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"newelbook/media"
	"newelbook/media/mediatest"
)

// openFiles returns a store in files on a fresh folder, and the folder.
func openFiles(t *testing.T, maxBytes int64) (*media.Files, string) {
	t.Helper()
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := root.Close(); err != nil {
			t.Errorf("close root: %v", err)
		}
	})
	files, err := media.OpenFiles(root, maxBytes)
	if err != nil {
		t.Fatalf("OpenFiles = %v, want no error", err)
	}
	return files, dir
}

func TestFiles(t *testing.T) {
	mediatest.TestStore(t, func(t *testing.T) media.Store {
		files, _ := openFiles(t, 0)
		return files
	})
}

func putText(t *testing.T, files *media.Files, text string) media.ID {
	t.Helper()
	got, err := media.Put(t.Context(), files, strings.NewReader(text))
	if err != nil {
		t.Fatalf("Put = %v, want no error", err)
	}
	return got.ID
}

func TestFilesLayout(t *testing.T) {
	files, dir := openFiles(t, 0)
	id := putText(t, files, "a photograph")
	name := "originals/" + id.String()[:2] + "/" + id.String()
	if got := filesUnder(t, dir); len(got) != 1 || got[0] != name {
		t.Fatalf("files = %q, want only %q", got, name)
	}
	info, err := os.Stat(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm() != 0o440 {
		t.Errorf("mode = %v, want read-only 0440", info.Mode().Perm())
	}
}

func TestFilesTooLargeLeavesNothing(t *testing.T) {
	files, dir := openFiles(t, 10)
	if _, err := media.Put(t.Context(), files, strings.NewReader("0123456789")); err != nil {
		t.Errorf("Put of exactly the limit = %v, want no error", err)
	}
	before := filesUnder(t, dir)
	_, err := media.Put(t.Context(), files, strings.NewReader("0123456789a"))
	if !errors.Is(err, media.ErrTooLarge) {
		t.Errorf("Put over the limit = %v, want ErrTooLarge", err)
	}
	if after := filesUnder(t, dir); len(after) != len(before) {
		t.Errorf("files after = %q, want %q", after, before)
	}
}

// damage changes a held file behind the store's back.
func damage(t *testing.T, path string, change func([]byte) []byte) {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(content), 0o640); err != nil {
		t.Fatal(err)
	}
}

func TestFilesVerifyFindsDamage(t *testing.T) {
	cases := []struct {
		name   string
		change func([]byte) []byte
	}{
		{"one bit", func(b []byte) []byte { b[3] ^= 1; return b }},
		{"cut", func(b []byte) []byte { return b[:len(b)-1] }},
		{"longer", func(b []byte) []byte { return append(b, 0) }},
		{"empty", func([]byte) []byte { return nil }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files, dir := openFiles(t, 0)
			id, sound := putText(t, files, "evidence"), putText(t, files, "other evidence")
			damage(t, filepath.Join(dir, "originals", id.String()[:2], id.String()), c.change)
			if err := files.Verify(t.Context(), id); !errors.Is(err, media.ErrCorrupt) {
				t.Errorf("Verify = %v, want ErrCorrupt", err)
			}
			if err := files.Verify(t.Context(), sound); err != nil {
				t.Errorf("Verify of the other = %v, want no error", err)
			}
		})
	}
}

// A damaged original is evidence of damage: putting the sound bytes again must not paper over it.
func TestFilesPutDoesNotReplaceDamage(t *testing.T) {
	files, dir := openFiles(t, 0)
	id := putText(t, files, "evidence")
	damage(t, filepath.Join(dir, "originals", id.String()[:2], id.String()), func([]byte) []byte { return []byte("gone") })
	if _, err := media.Put(t.Context(), files, strings.NewReader("evidence")); !errors.Is(err, media.ErrCorrupt) {
		t.Errorf("Put = %v, want ErrCorrupt", err)
	}
}

func TestFilesWalkPassesOverStrays(t *testing.T) {
	files, dir := openFiles(t, 0)
	id := putText(t, files, "a photograph")
	other := strings.Repeat("ab", 32)
	for _, stray := range []string{
		"originals/tmp-LEFT", "originals/notes.txt", "originals/" + id.String()[:2] + "/Thumbs.db", "originals/zz/" + other,
		"originals/00/" + other,
	} {
		path := filepath.Join(dir, stray)
		if err := os.MkdirAll(filepath.Dir(path), 0o750); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("stray"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var got []media.ID
	err := files.Walk(t.Context(), func(id media.ID, _ int64) error { got = append(got, id); return nil })
	if err != nil || len(got) != 1 || got[0] != id {
		t.Errorf("Walk gave %v, %v, want only %v", got, err, id)
	}
}

func TestSweepRemovesOldTemporaryFilesOnly(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, jpegOf(t, drawn(40, 30)))
	now := time.Date(2026, time.May, 4, 12, 0, 0, 0, time.UTC)
	for name, age := range map[string]time.Duration{
		"originals/tmp-OLD": 48 * time.Hour, "originals/tmp-NEW": time.Minute,
		"derived/tmp-OLD": 48 * time.Hour, "originals/old.txt": 48 * time.Hour,
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("half a photograph"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, now.Add(-age), now.Add(-age)); err != nil {
			t.Fatal(err)
		}
	}
	before := len(filesUnder(t, dir))
	removed, err := library.Sweep(t.Context(), now.Add(-24*time.Hour))
	if err != nil || removed != 2 {
		t.Errorf("Sweep = %d, %v, want 2", removed, err)
	}
	if after := len(filesUnder(t, dir)); after != before-2 {
		t.Errorf("%d files are left, want %d", after, before-2)
	}
	if err := library.Originals().Verify(t.Context(), photo.ID); err != nil {
		t.Errorf("Verify after Sweep = %v, want no error", err)
	}
}

func TestFilesCancelled(t *testing.T) {
	files, _ := openFiles(t, 0)
	id := putText(t, files, "a photograph")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := files.Verify(ctx, id); !errors.Is(err, context.Canceled) {
		t.Errorf("Verify = %v, want context.Canceled", err)
	}
	err := files.Walk(ctx, func(media.ID, int64) error { return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("Walk = %v, want context.Canceled", err)
	}
}
