package media

import (
	"context"
	"errors"
	"fmt"
	"os"
	"sync"
	"time"
)

// DefaultBytes is the length of the longest file that is taken where Limits does not say otherwise.
const DefaultBytes = 60_000_000

// Limits bound what one photograph, and all that are open at once, may take. A field of zero or less means its
// default.
type Limits struct {
	// Bytes is the length of the longest file taken. Default DefaultBytes.
	Bytes int64
	// Pixels is the largest picture opened. Default 120,000,000: the largest sensors in cameras have about 100 million. Common
	// practice, no source. A PNG or WebP may have half as many, with 16 bits a colour a quarter: they are opened whole.
	Pixels int64
	// Side is the longest side opened, in pixels. Default 65,000; JPEG itself ends at 65,535.
	Side int
	// Working is how many pixels are decoded at once over all photographs. Default 100,000,000. A plain JPEG takes
	// about 2 to 3 bytes for each, other kinds and large bit depths count for more; a picture larger than this
	// is decoded alone.
	Working int64
}

// hold refuses a size beyond the limits.
func (l Limits) hold(width, height int) error {
	switch {
	case int64(width)*int64(height) > l.Pixels:
		return refusePixels(width, height, l.Pixels)
	case width > l.Side || height > l.Side:
		return refuseSide(width, height, l.Side)
	}
	return nil
}

func (l Limits) withDefaults() Limits {
	if l.Bytes <= 0 {
		l.Bytes = DefaultBytes
	}
	if l.Pixels <= 0 {
		l.Pixels = 120_000_000
	}
	if l.Side <= 0 {
		l.Side = 65_000
	}
	if l.Working <= 0 {
		l.Working = 100_000_000
	}
	return l
}

const derivedDir = "derived"

// A Library takes photographs in and shows them: a Store of originals and a folder of derived pictures. Its methods
// may be called from many goroutines, and from many processes on the same folder.
type Library struct {
	store  Store
	root   *os.Root
	owned  bool
	limits Limits
	gate   *gate

	deriving sync.Mutex
	under    map[ID]*flight // derivations under way

	likenesses sync.Map // of ID: knownLikeness

	queue queue
}

// Open returns the library on a data folder, which it makes if need be, with the originals in files. Close it.
func Open(dir string, limits Limits) (*Library, error) {
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return nil, storageError("make data folder", err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open data folder: %w", err)
	}
	store, err := OpenFiles(root, limits.Bytes)
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	library, err := NewLibrary(store, root, limits)
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	library.owned = true
	return library, nil
}

// NewLibrary returns a library with its originals in store and its derived pictures, which can always be made again,
// in the folder derived/ of root. The caller keeps root open as long as the library is used, and closes it.
func NewLibrary(store Store, root *os.Root, limits Limits) (*Library, error) {
	if err := root.MkdirAll(derivedDir, 0o750); err != nil {
		return nil, storageError("make folder of derived pictures", err)
	}
	limits = limits.withDefaults()
	return &Library{store: store, root: root, limits: limits, gate: newGate(limits.Working), under: map[ID]*flight{}}, nil
}

// Originals returns the store of originals.
func (l *Library) Originals() Store { return l.store }

// Close ends the work in the background, where what is under way is broken off and what waits is dropped: both are made when they
// are asked for. It then closes the folder of a library made by Open.
func (l *Library) Close() error {
	l.queue.stop()
	if !l.owned {
		return nil
	}
	return l.root.Close()
}

// Sweep removes what crashed writes left behind: temporary files last written before the given instant, which must
// lie further back than any upload can last. It returns how many it removed. Originals and finished pictures are
// never touched.
func (l *Library) Sweep(ctx context.Context, before time.Time) (int, error) {
	removed, err := sweepTemp(ctx, l.root, derivedDir, before)
	if err != nil {
		return removed, err
	}
	swept := 0
	if store, ok := l.store.(interface {
		Sweep(context.Context, time.Time) (int, error)
	}); ok {
		swept, err = store.Sweep(ctx, before)
	}
	return removed + swept, err
}
