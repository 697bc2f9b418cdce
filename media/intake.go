package media

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
)

// Photo is what is known of a photograph once it is taken in.
type Photo struct {
	// ID names the original.
	ID ID `json:"id"`
	// Bytes is the length of the original.
	Bytes int64 `json:"bytes"`
	// Kind is the type of the original, by its content.
	Kind Kind `json:"kind"`
	// Width and Height are those of the original in pixels, standing upright. Size.Fit gives those of the
	// derived pictures.
	Width  int `json:"width"`
	Height int `json:"height"`
	// Exif is what the original claims.
	Exif Exif `json:"exif"`
	// AlreadyHeld is true when the same bytes were held before.
	AlreadyHeld bool `json:"already_held"`
}

// Intake takes a photograph in: it reads r to its end and holds the original. Once it returns, the original is safe, also
// from a power cut. It decodes no pixel and makes no derived picture: Later does, or OpenView when one is wanted.
//
// A file that is not taken gives an error that wraps a *Refusal, with a sentence for the sender, which wraps
// ErrUnsupported, ErrTooLarge or ErrCorrupt; r is then not read further than was needed to know. ErrStorageFull is wrapped when there is no room. Errors
// of r and of ctx come back wrapped. After any error nothing of the file is kept, unless it was held before.
//
// Known is of a picture by then what its structure tells: that it goes on to its proper end, its size, its claims. Damage
// within the data of the pixels shows when they are decoded; OpenView then says so, and the original is kept.
func (l *Library) Intake(ctx context.Context, r io.Reader) (Photo, error) {
	head, kind, err := readHead(ctx, r)
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph in: %w", err)
	}
	var known picture
	received, err := l.hold(ctx, head, r, refuseBytes, func(staged Staged) (err error) {
		known, err = examine(ctx, staged, kind, l.limits)
		return err
	})
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph in: %w", err)
	}
	photo := Photo{ID: received.ID, Bytes: received.Bytes, Kind: kind, Exif: known.exif, AlreadyHeld: received.AlreadyHeld}
	photo.Width, photo.Height = known.upright()
	return photo, nil
}

// hold takes a file in whose first bytes, head, are read already: it is staged while it arrives, looked at by judge, and held where
// that finds nothing. tooLong makes the refusal of one that is longer than the limit.
func (l *Library) hold(ctx context.Context, head []byte, r io.Reader, tooLong func(limit int64) error, judge func(Staged) error) (received Received, err error) {
	staged, err := l.store.Stage(ctx, &limitedReader{io.MultiReader(bytes.NewReader(head), r), l.limits.Bytes, func() error { return tooLong(l.limits.Bytes) }})
	if err != nil {
		return Received{}, err
	}
	defer func() {
		if err = errors.Join(err, staged.Discard()); err != nil {
			received = Received{}
		}
	}()
	if err := judge(staged); err != nil {
		return Received{}, fmt.Errorf("%s: %w", staged.ID().Short(), err)
	}
	if received, err = staged.Commit(ctx); err != nil {
		return Received{}, fmt.Errorf("%s: %w", staged.ID().Short(), err)
	}
	return received, nil
}

// limitedReader refuses to read on past a limit.
type limitedReader struct {
	r       io.Reader
	left    int64
	tooLong func() error
}

func (l *limitedReader) Read(p []byte) (int, error) {
	n, err := l.r.Read(p)
	if l.left -= int64(n); l.left < 0 {
		return 0, l.tooLong()
	}
	return n, err
}
