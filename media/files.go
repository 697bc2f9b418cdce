package media

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"sync/atomic"
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
	// durable says of each shard, by its number, that its own name was made durable since this store was opened.
	durable [256]atomic.Bool
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

// stagedFile is a Staged of Files: a temporary file in the folder of originals.
type stagedFile struct {
	*tempFile
	files *Files
	id    ID
	size  int64
}

// Stage implements Store.
func (f *Files) Stage(ctx context.Context, r io.Reader) (Staged, error) {
	temp, err := newTemp(f.root, originalsDir)
	if err != nil {
		return nil, err
	}
	id, size, err := copyHashed(ctx, temp, r, f.maxBytes)
	if err == nil {
		_, err = temp.Seek(0, io.SeekStart)
	}
	if err != nil {
		return nil, errors.Join(err, temp.discard())
	}
	return &stagedFile{tempFile: temp, files: f, id: id, size: size}, nil
}

func (s *stagedFile) ID() ID         { return s.id }
func (s *stagedFile) Bytes() int64   { return s.size }
func (s *stagedFile) Discard() error { return s.discard() }

// Commit implements Staged.
func (s *stagedFile) Commit(ctx context.Context) (Received, error) {
	if err := ctx.Err(); err != nil {
		return Received{}, err
	}
	if err := s.Chmod(0o440); err != nil {
		return Received{}, storageError("make original read-only", err)
	}
	if err := s.seal(); err != nil {
		return Received{}, err
	}
	held, err := s.files.place(ctx, s.name, s.id)
	if err != nil {
		return Received{}, err
	}
	return Received{ID: s.id, Bytes: s.size, AlreadyHeld: held}, nil
}

// place gives a sealed temporary file its name. Where the name is taken, what is held must be what the name says.
func (f *Files) place(ctx context.Context, temp string, id ID) (held bool, err error) {
	if err := f.root.Mkdir(shardDir(id), 0o750); err != nil && !errors.Is(err, fs.ErrExist) {
		return false, storageError("make folder for original", err)
	}
	linking := f.root.Link(temp, originalPath(id))
	if linking != nil {
		held, err = f.Has(ctx, id)
		if err != nil {
			return false, err
		}
	}
	switch {
	case linking == nil:
	case held:
		if err := f.Verify(ctx, id); err != nil {
			return false, err
		}
	default:
		if renaming := f.root.Rename(temp, originalPath(id)); renaming != nil {
			return false, storageError("put original in place", errors.Join(linking, renaming))
		}
	}
	// Also where it was held: whoever put it there may have been stopped before this.
	if err := syncDir(f.root, shardDir(id)); err != nil {
		return false, err
	}
	if shard := &f.durable[id[0]]; !shard.Load() {
		if err := syncDir(f.root, originalsDir); err != nil {
			return false, err
		}
		shard.Store(true)
	}
	return held, nil
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
