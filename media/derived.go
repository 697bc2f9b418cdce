package media

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"io/fs"
	"strconv"
)

// derivedVersion is part of the path of every derived picture. Change it when render changes what it makes; the old
// folder can then be deleted.
const derivedVersion = "v1"

func derivedShard(id ID) string {
	return derivedDir + "/" + derivedVersion + "/" + id.String()[:2]
}

func derivedPath(id ID, size Size) string {
	return derivedShard(id) + "/" + id.String() + "-" + strconv.Itoa(int(size)) + ".jpg"
}

// A Rendition is an open derived picture: an upright JPEG without Exif. The caller closes it.
type Rendition struct {
	io.ReadSeekCloser
	// Bytes is the length of the file.
	Bytes int64
	// Width and Height are in pixels.
	Width, Height int
}

// OpenView opens the derived picture of an original at View or Thumb size and makes it if it is missing. It wraps
// ErrNotFound when the original is not held, and fails as Derive does.
func (l *Library) OpenView(ctx context.Context, id ID, size Size) (*Rendition, error) {
	if size != View && size != Thumb {
		return nil, fmt.Errorf("open view of %s: no derived picture has the size %d", id, size)
	}
	rendition, err := l.openDerived(id, size)
	if err != nil || rendition != nil {
		return rendition, err
	}
	if err := l.Derive(ctx, id); err != nil {
		return nil, err
	}
	rendition, err = l.openDerived(id, size)
	if err == nil && rendition == nil {
		err = fmt.Errorf("open view of %s: gone as soon as it was made", id)
	}
	return rendition, err
}

// openDerived opens a derived picture. It returns nil without an error when there is none or when it has no readable
// head, which means that it is to be made again.
func (l *Library) openDerived(id ID, size Size) (*Rendition, error) {
	file, err := l.root.Open(derivedPath(id, size))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("open derived picture of %s: %w", id, err)
	}
	config, unreadable := jpeg.DecodeConfig(bufio.NewReader(file))
	info, statErr := file.Stat()
	_, seekErr := file.Seek(0, io.SeekStart)
	if err := errors.Join(statErr, seekErr); err != nil {
		return nil, errors.Join(fmt.Errorf("open derived picture of %s: %w", id, err), file.Close())
	}
	if unreadable != nil {
		return nil, file.Close()
	}
	return &Rendition{ReadSeekCloser: file, Bytes: info.Size(), Width: config.Width, Height: config.Height}, nil
}

// hasDerived reports whether all derived pictures of an original are there.
func (l *Library) hasDerived(id ID) (bool, error) {
	for _, size := range derivedSizes() {
		rendition, err := l.openDerived(id, size)
		if err != nil || rendition == nil {
			return false, err
		}
		if err := rendition.Close(); err != nil {
			return false, fmt.Errorf("close derived picture of %s: %w", id, err)
		}
	}
	return true, nil
}

// Derive makes the derived pictures of a held original, unless all are there. It reads the original through its
// hash first: it wraps ErrCorrupt when the bytes are no longer those that were received, ErrNotFound when it is
// not held, ErrStorageFull when there is no room, and a Refusal when it is no accepted picture.
func (l *Library) Derive(ctx context.Context, id ID) (err error) {
	if there, err := l.hasDerived(id); err != nil || there {
		return err
	}
	original, size, err := l.store.Open(ctx, id)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, original.Close()) }()
	if err := verifyContent(ctx, original, size, id); err != nil {
		return err
	}
	head := make([]byte, min(sniffLength, size))
	_, seekErr := original.Seek(0, io.SeekStart)
	_, readErr := io.ReadFull(original, head)
	if err := errors.Join(seekErr, readErr); err != nil {
		return fmt.Errorf("derive pictures of %s: %w", id, err)
	}
	kind, err := sniff(head)
	if err != nil {
		return fmt.Errorf("derive pictures of %s: %w", id, err)
	}
	known, err := examine(ctx, original, kind, l.limits)
	if err != nil {
		return fmt.Errorf("derive pictures of %s: %w", id, err)
	}
	made, err := l.makeRenditions(ctx, original, known)
	if err != nil {
		return fmt.Errorf("derive pictures of %s: %w", id, err)
	}
	return l.writeRenditions(id, made)
}

// makeRenditions decodes an examined picture, when there is memory for it, and renders it.
func (l *Library) makeRenditions(ctx context.Context, r io.ReadSeeker, known picture) (renditions, error) {
	leave, err := l.gate.enter(ctx, known.working)
	if err != nil {
		return nil, err
	}
	defer leave()
	img, err := decodePixels(ctx, r, known.kind)
	if err != nil {
		return nil, err
	}
	if img.Bounds().Size() != image.Pt(known.width, known.height) {
		return nil, refuseDamaged(fmt.Errorf("decoded %v, head says %d by %d", img.Bounds().Size(), known.width, known.height))
	}
	return render(img, known.exif.Orientation)
}

func (l *Library) writeRenditions(id ID, made renditions) error {
	if err := l.root.MkdirAll(derivedShard(id), 0o750); err != nil {
		return storageError("make folder for derived pictures", err)
	}
	for _, size := range derivedSizes() {
		if err := l.writeDerived(derivedPath(id, size), made[size]); err != nil {
			return fmt.Errorf("write derived picture of %s: %w", id, err)
		}
	}
	return nil
}

// writeDerived writes a file whole or not at all. Replacing one that is there is harmless: it has the same content.
func (l *Library) writeDerived(path string, content []byte) (err error) {
	temp, err := newTemp(l.root, derivedDir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, temp.discard()) }()
	if _, err := temp.Write(content); err != nil {
		return storageError("write", err)
	}
	if err := temp.seal(); err != nil {
		return err
	}
	if err := l.root.Rename(temp.name, path); err != nil {
		return storageError("put in place", err)
	}
	return nil
}

// dropRenditions removes derived pictures whose original was not stored after all.
func (l *Library) dropRenditions(id ID) error {
	var errs []error
	for _, size := range derivedSizes() {
		if err := l.root.Remove(derivedPath(id, size)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}
