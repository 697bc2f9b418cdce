package media

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"strings"
	"syscall"
	"testing"
)

// fullDisk takes some bytes and then says that there is no room, as a file does.
type fullDisk struct{ room int }

func (d *fullDisk) Write(p []byte) (int, error) {
	if d.room -= len(p); d.room < 0 {
		return 0, &fs.PathError{Op: "write", Path: "originals/tmp-X", Err: syscall.ENOSPC}
	}
	return len(p), nil
}

func TestCopyHashedFullDisk(t *testing.T) {
	content := bytes.Repeat([]byte("photograph"), 50_000)
	for _, room := range []int{0, 200_000} {
		id, n, err := copyHashed(t.Context(), &fullDisk{room}, bytes.NewReader(content), 1<<20)
		if !errors.Is(err, ErrStorageFull) || !id.IsZero() || n != 0 {
			t.Errorf("copyHashed with room for %d bytes = %v, %d, %v, want ErrStorageFull", room, id, n, err)
		}
	}
}

// The real thing, where the system has a device that is always full.
func TestCopyHashedFullDevice(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer func() {
		if err := full.Close(); err != nil {
			t.Error(err)
		}
	}()
	if _, _, err := copyHashed(t.Context(), full, strings.NewReader("a photograph"), 1<<20); !errors.Is(err, ErrStorageFull) {
		t.Errorf("copyHashed to /dev/full = %v, want ErrStorageFull", err)
	}
}

// A library whose store has no room keeps nothing.
func TestIntakeStoreFullLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := root.Close(); err != nil {
			t.Error(err)
		}
	}()
	library, err := NewLibrary(fullStore{}, root, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	photo, err := library.Intake(t.Context(), bytes.NewReader(plainJPEG(t, 60, 40)))
	if !errors.Is(err, ErrStorageFull) || !photo.ID.IsZero() {
		t.Errorf("Intake = %+v, %v, want ErrStorageFull and no photo", photo, err)
	}
	err = fs.WalkDir(os.DirFS(dir), ".", func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			t.Errorf("Intake left %s, want nothing", path)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// fullStore holds nothing and has no room.
type fullStore struct{ Store }

func (fullStore) Stage(_ context.Context, r io.Reader) (Staged, error) {
	if _, err := io.Copy(io.Discard, r); err != nil {
		return nil, err
	}
	return nil, storageError("stage", syscall.ENOSPC)
}
