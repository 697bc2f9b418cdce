package media

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"
)

// tempPrefix begins the name of every file that is being written; what a crash leaves is known by it.
const tempPrefix = "tmp-"

// tempFile is a file being written inside a root, under a name that nothing else has.
type tempFile struct {
	*os.File
	root *os.Root
	name string
}

func newTemp(root *os.Root, dir string) (*tempFile, error) {
	name := dir + "/" + tempPrefix + rand.Text()
	file, err := root.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, storageError("create temporary file", err)
	}
	return &tempFile{File: file, root: root, name: name}, nil
}

// seal makes what was written durable and closes the file.
func (t *tempFile) seal() error {
	if err := t.Sync(); err != nil {
		return storageError("sync temporary file", err)
	}
	if err := t.Close(); err != nil {
		return storageError("close temporary file", err)
	}
	return nil
}

// discard closes and removes the file if that is still to be done. It may be called after seal and after the file
// has been moved into place.
func (t *tempFile) discard() error {
	closing := t.Close()
	if errors.Is(closing, fs.ErrClosed) {
		closing = nil
	}
	removing := t.root.Remove(t.name)
	if errors.Is(removing, fs.ErrNotExist) {
		removing = nil
	}
	return errors.Join(closing, removing)
}

// copyHashed copies src to dst and returns the SHA-256 and length of what was copied. It stops with a Refusal at
// the first byte over limit. Errors of src come back wrapped as they are, those of dst through storageError.
func copyHashed(ctx context.Context, dst io.Writer, src io.Reader, limit int64) (ID, int64, error) {
	hash := sha256.New()
	buffer := make([]byte, 128<<10)
	var total int64
	for {
		if err := ctx.Err(); err != nil {
			return ID{}, 0, err
		}
		n, readErr := src.Read(buffer)
		total += int64(n)
		if total > limit {
			return ID{}, 0, refuseBytes(limit)
		}
		hash.Write(buffer[:n])
		if _, err := dst.Write(buffer[:n]); err != nil {
			return ID{}, 0, storageError("write", err)
		}
		if readErr == io.EOF {
			return ID(hash.Sum(nil)), total, nil
		}
		if readErr != nil {
			return ID{}, 0, fmt.Errorf("read: %w", readErr)
		}
	}
}

// sweepTemp removes temporary files of dir last written before the given instant and returns how many.
func sweepTemp(ctx context.Context, root *os.Root, dir string, before time.Time) (int, error) {
	entries, err := fs.ReadDir(root.FS(), dir)
	if err != nil {
		return 0, fmt.Errorf("list %s: %w", dir, err)
	}
	removed := 0
	for _, entry := range entries {
		if err := ctx.Err(); err != nil {
			return removed, err
		}
		if !strings.HasPrefix(entry.Name(), tempPrefix) || !entry.Type().IsRegular() {
			continue
		}
		info, err := entry.Info()
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return removed, fmt.Errorf("look at %s: %w", entry.Name(), err)
		}
		if !info.ModTime().Before(before) {
			continue
		}
		if err := root.Remove(dir + "/" + entry.Name()); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return removed, fmt.Errorf("remove %s: %w", entry.Name(), err)
		}
		removed++
	}
	return removed, nil
}
