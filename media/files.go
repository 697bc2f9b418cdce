package media

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"time"
)

const originalsDir = "originals"

// Files is a Store in the folder originals/ of a data folder, laid out as the package comment says.
//
// An original is put in place with a hard link, which fails if the name is taken, so two processes can't both be
// first. On a file system without hard links (exFAT, some network shares) it looks first and then renames; between
// the two another writer may win, and then both report "not held", but the bytes are the same, so nothing is lost.
type Files struct {
	root     *os.Root
	maxBytes int64
}

// OpenFiles returns the store in the folder originals/ of root, which it makes if need be. maxBytes is the length
// of the longest original that Put takes; zero or less means the default of Limits. Closing root ends the store.
func OpenFiles(root *os.Root, maxBytes int64) (*Files, error) {
	if err := root.MkdirAll(originalsDir, 0o750); err != nil {
		return nil, storageError("make folder of originals", err)
	}
	return &Files{root: root, maxBytes: Limits{Bytes: maxBytes}.withDefaults().Bytes}, nil
}

func shardDir(id ID) string     { return originalsDir + "/" + id.String()[:2] }
func originalPath(id ID) string { return shardDir(id) + "/" + id.String() }

// Put implements Store.
func (f *Files) Put(ctx context.Context, r io.Reader) (received Received, err error) {
	temp, err := newTemp(f.root, originalsDir)
	if err != nil {
		return Received{}, err
	}
	defer func() {
		if err = errors.Join(err, temp.discard()); err != nil {
			received = Received{}
		}
	}()
	id, size, err := copyHashed(ctx, temp, r, f.maxBytes)
	if err != nil {
		return Received{}, err
	}
	if err := temp.Chmod(0o440); err != nil {
		return Received{}, storageError("make original read-only", err)
	}
	if err := temp.seal(); err != nil {
		return Received{}, err
	}
	held, err := f.place(temp.name, id, size)
	if err != nil {
		return Received{}, err
	}
	return Received{ID: id, Bytes: size, AlreadyHeld: held}, nil
}

// place gives a sealed temporary file its name, unless the name is taken by a file of the same size.
func (f *Files) place(temp string, id ID, size int64) (held bool, err error) {
	made := true
	if err := f.root.Mkdir(shardDir(id), 0o750); errors.Is(err, fs.ErrExist) {
		made = false
	} else if err != nil {
		return false, storageError("make folder for original", err)
	}
	linking := f.root.Link(temp, originalPath(id))
	if linking != nil {
		switch info, err := f.root.Lstat(originalPath(id)); {
		case err == nil && info.Mode().IsRegular() && info.Size() == size:
			return true, nil
		case err == nil:
			return false, fmt.Errorf("put %s: held copy has %d bytes, want %d: %w", id, info.Size(), size, ErrCorrupt)
		case !errors.Is(err, fs.ErrNotExist):
			return false, fmt.Errorf("put %s: %w", id, err)
		}
		if renaming := f.root.Rename(temp, originalPath(id)); renaming != nil {
			return false, storageError("put original in place", errors.Join(linking, renaming))
		}
	}
	if err := syncDir(f.root, shardDir(id)); err != nil {
		return false, err
	}
	if made {
		return false, syncDir(f.root, originalsDir)
	}
	return false, nil
}

// syncDir makes the names in a folder durable. Windows has no such call on folders and needs none.
func syncDir(root *os.Root, dir string) (err error) {
	if runtime.GOOS == "windows" {
		return nil
	}
	folder, err := root.Open(dir)
	if err != nil {
		return fmt.Errorf("open folder to sync it: %w", err)
	}
	defer func() { err = errors.Join(err, folder.Close()) }()
	if err := folder.Sync(); err != nil {
		return storageError("sync folder", err)
	}
	return nil
}

// Open implements Store.
func (f *Files) Open(ctx context.Context, id ID) (io.ReadSeekCloser, int64, error) {
	if err := ctx.Err(); err != nil {
		return nil, 0, err
	}
	file, err := f.root.Open(originalPath(id))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, fmt.Errorf("open original %s: %w", id, ErrNotFound)
	}
	if err != nil {
		return nil, 0, fmt.Errorf("open original %s: %w", id, err)
	}
	info, err := file.Stat()
	if err != nil {
		return nil, 0, errors.Join(fmt.Errorf("open original %s: %w", id, err), file.Close())
	}
	return file, info.Size(), nil
}

// Has implements Store.
func (f *Files) Has(ctx context.Context, id ID) (bool, error) {
	if err := ctx.Err(); err != nil {
		return false, err
	}
	_, err := f.root.Lstat(originalPath(id))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("look for original %s: %w", id, err)
	}
	return true, nil
}

// Walk implements Store. Files whose name and folder are not those of an original are passed over.
func (f *Files) Walk(ctx context.Context, fn func(id ID, size int64) error) error {
	tree := f.root.FS()
	shards, err := fs.ReadDir(tree, originalsDir)
	if err != nil {
		return fmt.Errorf("list originals: %w", err)
	}
	for _, shard := range shards {
		if !shard.IsDir() {
			continue
		}
		entries, err := fs.ReadDir(tree, originalsDir+"/"+shard.Name())
		if err != nil {
			return fmt.Errorf("list originals: %w", err)
		}
		for _, entry := range entries {
			if err := ctx.Err(); err != nil {
				return err
			}
			id, err := ParseID(entry.Name())
			if err != nil || !entry.Type().IsRegular() || shard.Name() != id.String()[:2] {
				continue
			}
			info, err := entry.Info()
			if err != nil {
				return fmt.Errorf("look at original %s: %w", id, err)
			}
			if err := fn(id, info.Size()); err != nil {
				return err
			}
		}
	}
	return nil
}

// Verify implements Store.
func (f *Files) Verify(ctx context.Context, id ID) (err error) {
	original, size, err := f.Open(ctx, id)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, original.Close()) }()
	return verifyContent(ctx, original, size, id)
}

// verifyContent reads r to its end and wraps ErrCorrupt when what it gave is not what id names.
func verifyContent(ctx context.Context, r io.Reader, size int64, id ID) error {
	got, _, err := copyHashed(ctx, io.Discard, r, size)
	switch {
	case errors.Is(err, ErrTooLarge):
		return fmt.Errorf("original %s grew while it was read: %w", id, ErrCorrupt)
	case err != nil:
		return fmt.Errorf("verify original %s: %w", id, err)
	case got != id:
		return fmt.Errorf("original %s now has the hash %s: %w", id, got, ErrCorrupt)
	}
	return nil
}

// Sweep removes what crashed writes left in originals/: temporary files last written before the given instant,
// which must lie further back than any upload can last. It returns how many it removed.
func (f *Files) Sweep(ctx context.Context, before time.Time) (int, error) {
	return sweepTemp(ctx, f.root, originalsDir, before)
}
