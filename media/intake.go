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

// Intake takes a photograph in: it reads r to its end, holds the original and makes the derived pictures.
//
// A file that is not taken gives an error that wraps a *Refusal, with a sentence for the sender, which wraps
// ErrUnsupported, ErrTooLarge or ErrCorrupt; r is then not read further than was needed to know. ErrStorageFull is wrapped when there is no room. Errors
// of r and of ctx come back wrapped. After any error nothing of the file is kept, unless it was held before.
//
// The file is spooled beside the derived pictures, examined and decoded there, and only then handed to the store:
// it is written twice, which is little beside decoding it, and any Store will do. Derived pictures are written before
// the original, since one without an original is harmless.
func (l *Library) Intake(ctx context.Context, r io.Reader) (photo Photo, err error) {
	head := make([]byte, sniffLength)
	n, err := io.ReadFull(ctxReader{ctx, r}, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return Photo{}, fmt.Errorf("take photograph in: %w", err)
	}
	kind, err := sniff(head[:n])
	if err != nil {
		return Photo{}, err
	}
	spool, err := newTemp(l.root, derivedDir)
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph in: %w", err)
	}
	defer func() {
		if err = errors.Join(err, spool.discard()); err != nil {
			photo = Photo{}
		}
	}()
	id, size, err := copyHashed(ctx, spool, io.MultiReader(bytes.NewReader(head[:n]), r), l.limits.Bytes)
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph in: %w", err)
	}
	known, err := examine(ctx, spool, kind, l.limits)
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph %s in: %w", id.Short(), err)
	}
	received, err := l.keep(ctx, spool, id, known)
	if err != nil {
		return Photo{}, fmt.Errorf("take photograph %s in: %w", id.Short(), err)
	}
	photo = Photo{ID: id, Bytes: size, Kind: kind, Exif: known.exif, AlreadyHeld: received.AlreadyHeld}
	photo.Width, photo.Height = known.upright()
	return photo, nil
}

// keep writes the derived pictures and then the original. What is held with its pictures has been decoded before and
// is not decoded again.
func (l *Library) keep(ctx context.Context, spool io.ReadSeeker, id ID, known picture) (Received, error) {
	held, err := l.store.Has(ctx, id)
	if err != nil {
		return Received{}, err
	}
	derived, err := l.hasDerived(id)
	if err != nil {
		return Received{}, err
	}
	if !held || !derived {
		made, err := l.makeRenditions(ctx, spool, known)
		if err != nil {
			return Received{}, err
		}
		if err := l.writeRenditions(id, made); err != nil {
			return Received{}, l.undo(id, held, err)
		}
	}
	if _, err := spool.Seek(0, io.SeekStart); err != nil {
		return Received{}, l.undo(id, held, fmt.Errorf("read spooled file: %w", err))
	}
	received, err := l.store.Put(ctx, spool)
	if err == nil && received.ID != id {
		err = fmt.Errorf("stored %s: %w", received.ID, ErrCorrupt)
	}
	if err != nil {
		return Received{}, l.undo(id, held, err)
	}
	return received, nil
}

// undo removes the derived pictures of an original that could not be stored, and returns why.
func (l *Library) undo(id ID, held bool, why error) error {
	if held {
		return why
	}
	return errors.Join(why, l.dropRenditions(id))
}
