package media

import (
	"context"
	"errors"
	"io"
)

// Received is what a Store says of content that it has taken.
type Received struct {
	// ID is the SHA-256 of the content.
	ID ID
	// Bytes is the length of the content.
	Bytes int64
	// AlreadyHeld is true when the same content was held before this call.
	AlreadyHeld bool
}

// Staged is content that was read whole and is not held yet. It can be read and read again from any place. It is used
// by one goroutine, and ends with Discard, also after Commit.
type Staged interface {
	io.ReadSeeker

	// ID is the SHA-256 of the content, Bytes its length.
	ID() ID
	Bytes() int64

	// Commit holds the content under its ID, durably: once it returns, a power cut takes nothing away. The content
	// appears whole or not at all. Content already held is left as it is and reported so; of several commits at once
	// of the same content, exactly one reports that it was not held.
	//
	// Commit wraps ErrStorageFull when there is no room, and ErrCorrupt when what is held under the name is not the
	// content. Nothing is read from it afterwards.
	Commit(ctx context.Context) (Received, error)

	// Discard clears away what is left of staging. It does nothing to what was committed.
	Discard() error
}

// Put stages r and commits it.
func Put(ctx context.Context, s Store, r io.Reader) (received Received, err error) {
	staged, err := s.Stage(ctx, r)
	if err != nil {
		return Received{}, err
	}
	defer func() {
		if err = errors.Join(err, staged.Discard()); err != nil {
			received = Received{}
		}
	}()
	return staged.Commit(ctx)
}

// A Store holds originals by the SHA-256 of their bytes. What it promises is put-if-absent and nothing that only a
// local file system can do (no rename, no append, no listing by prefix), so that an object store can implement it.
//
// Methods may be called from many goroutines and, for the same storage, from many processes. There is no delete and
// no overwrite. Package mediatest has the tests that an implementation must pass.
type Store interface {
	// Stage reads r to its end, once, and hashes it on the way. The content can then be looked at, and is held only
	// when it is committed. On error, a failing r or a cancelled ctx included, nothing is left.
	//
	// Stage wraps ErrTooLarge when the content is longer than the store takes and ErrStorageFull when there is no
	// room. Errors of r are wrapped unchanged.
	Stage(ctx context.Context, r io.Reader) (Staged, error)

	// Open gives the content and its length in bytes. The caller closes it. It wraps ErrNotFound when it is not
	// held. It does not check the hash; Verify does.
	Open(ctx context.Context, id ID) (io.ReadSeekCloser, int64, error)

	// Has reports whether content of that ID is held.
	Has(ctx context.Context, id ID) (bool, error)

	// Walk calls fn once for each original in ascending order of ID, with its length in bytes, and stops at the
	// first error, which it returns unchanged. Originals put while it runs may or may not be seen.
	Walk(ctx context.Context, fn func(id ID, size int64) error) error

	// Verify reads the content again and wraps ErrCorrupt when its SHA-256 is not the ID, ErrNotFound when it is
	// not held.
	Verify(ctx context.Context, id ID) error
}
