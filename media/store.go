package media

import (
	"context"
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

// A Store holds originals by the SHA-256 of their bytes. What it promises is put-if-absent and nothing that only a
// local file system can do (no rename, no append, no listing by prefix), so that an object store can implement it.
//
// Methods may be called from many goroutines and, for the same storage, from many processes. There is no delete and
// no overwrite. Package mediatest has the tests that an implementation must pass.
type Store interface {
	// Put reads r to its end and holds the content under its SHA-256. The content appears whole or not at all; on
	// error, a failing r or a cancelled ctx included, nothing new is held. Content already held is left as it is and
	// reported so; of several calls at once with the same content, exactly one reports that it was not held.
	//
	// Put wraps ErrTooLarge when the content is longer than the store takes, ErrStorageFull when there is no room,
	// and ErrCorrupt when what is held under the name has another length than the content.
	// Errors of r are wrapped unchanged.
	Put(ctx context.Context, r io.Reader) (Received, error)

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
