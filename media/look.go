package media

import (
	"context"
	"fmt"
	"io"
)

// Look says what Intake would find in a file, and refuses what it would refuse, and keeps nothing. AlreadyHeld tells whether
// the original is held.
func (l *Library) Look(ctx context.Context, r io.ReadSeeker) (Photo, error) {
	_, kind, err := readHead(ctx, r)
	if err != nil {
		return Photo{}, fmt.Errorf("look at photograph: %w", err)
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return Photo{}, fmt.Errorf("look at photograph: %w", err)
	}
	id, size, err := copyHashed(ctx, io.Discard, r, l.limits.Bytes)
	if err != nil {
		return Photo{}, fmt.Errorf("look at photograph: %w", err)
	}
	known, err := examine(ctx, r, kind, l.limits)
	if err != nil {
		return Photo{}, fmt.Errorf("look at photograph %s: %w", id.Short(), err)
	}
	held, err := l.store.Has(ctx, id)
	if err != nil {
		return Photo{}, err
	}
	photo := Photo{ID: id, Bytes: size, Kind: kind, Exif: known.exif, AlreadyHeld: held}
	photo.Width, photo.Height = known.upright()
	return photo, nil
}
