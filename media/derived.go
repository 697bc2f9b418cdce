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
	"runtime/debug"
	"strconv"
	"strings"
)

// derivedVersion is part of the path of every derived picture. Change it when render changes what it makes; the old
// folder can then be deleted.
const derivedVersion = "v2"

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
	// Passing is true for the small picture that the camera put into the file, shown until the real one is made.
	Passing bool
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

// OpenSoon is OpenView for lists: where the derived picture is still to be made and the file has a small one of the camera's, it
// gives that, has the real one made in the background, and does not wait.
func (l *Library) OpenSoon(ctx context.Context, id ID) (*Rendition, error) {
	rendition, err := l.openDerived(id, Thumb)
	if err != nil || rendition != nil {
		return rendition, err
	}
	if err := l.knownRefusal(id); err != nil {
		return nil, err
	}
	passing, err := l.cameraThumb(ctx, id)
	if err != nil || passing == nil {
		return l.OpenView(ctx, id, Thumb)
	}
	l.Later(id, nil)
	return passing, nil
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

// Derive makes the derived pictures of an original unless they are there. It reads the original through its
// hash first: it wraps ErrCorrupt when the bytes are no longer those that were received, ErrNotFound when it is
// not held, ErrStorageFull when there is no room, and a Refusal when it is no picture that can be shown. A refusal is
// remembered beside the derived pictures. Of several calls at once for one original one does the work.
func (l *Library) Derive(ctx context.Context, id ID) error {
	for {
		l.deriving.Lock()
		under, busy := l.under[id]
		if !busy {
			under = &flight{done: make(chan struct{})}
			l.under[id] = under
		}
		l.deriving.Unlock()
		if !busy {
			under.err = l.derive(ctx, id)
			l.deriving.Lock()
			delete(l.under, id)
			l.deriving.Unlock()
			close(under.done)
			return under.err
		}
		select {
		case <-under.done:
		case <-ctx.Done():
			return ctx.Err()
		}
		if !errors.Is(under.err, context.Canceled) && !errors.Is(under.err, context.DeadlineExceeded) {
			return under.err
		}
	}
}

// flight is one derivation under way; err may be read when done is closed.
type flight struct {
	done chan struct{}
	err  error
}

func (l *Library) derive(ctx context.Context, id ID) (err error) {
	if there, err := l.hasDerived(id); err != nil || there {
		return err
	}
	if err := l.knownRefusal(id); err != nil {
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
	var made renditions
	var texts []string
	err = l.decoded(ctx, original, func(img image.Image, known picture) (err error) {
		if made, err = render(img, known); err == nil {
			texts = codesIn(img)
		}
		return err
	})
	var refusal *Refusal
	if errors.As(err, &refusal) {
		err = errors.Join(err, l.rememberRefusal(id, refusal))
	}
	if err != nil {
		return fmt.Errorf("derive pictures of %s: %w", id, err)
	}
	return errors.Join(l.writeRenditions(id, made), l.noteCodes(id, texts))
}

// decoded finds out again what a held original is, decodes it, when there is memory for it, to the scale of its view or larger, and hands the
// pixels over.
func (l *Library) decoded(ctx context.Context, original io.ReadSeeker, use func(image.Image, picture) error) error {
	if _, err := original.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, kind, err := readHead(ctx, original)
	if err != nil {
		return err
	}
	known, err := examine(ctx, original, kind, l.limits)
	if err != nil {
		return err
	}
	if kind == HEIC {
		return refuse(ErrNoView, sentenceNoView)
	}
	if known.scalable() {
		done := false
		err := l.within(ctx, known.pixels(), func() error {
			img, err := scaledPixels(ctx, original, known)
			if err != nil || img == nil {
				return err
			}
			done = true
			return use(img, known)
		})
		if err != nil || done {
			return err
		}
	}
	// What the decoder to scale does not know waits again, for the memory that the standard decoder takes.
	return l.within(ctx, known.working, func() error {
		img, err := decodePixels(ctx, original, known.kind)
		if err != nil {
			return err
		}
		if img.Bounds().Size() != image.Pt(known.width, known.height) {
			return refuseDamaged(fmt.Errorf("decoded %v, head says %d by %d", img.Bounds().Size(), known.width, known.height))
		}
		return use(img, known)
	})
}

// within does something when there is memory for so many pixels of a plain JPEG.
func (l *Library) within(ctx context.Context, pixels int64, do func() error) error {
	leave, err := l.gate.enter(ctx, pixels)
	if err != nil {
		return err
	}
	defer func() {
		if pixels >= l.limits.Working { // hundreds of megabytes: what this one took must be free before the next begins
			debug.FreeOSMemory()
		}
		leave()
	}()
	return do()
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

// refusalPath is where it is remembered that an original can't be shown, and why.
func refusalPath(id ID) string { return derivedShard(id) + "/" + id.String() + "-none.txt" }

// causes are the words by which a remembered refusal names what it wraps.
func causes() map[string]error {
	return map[string]error{"unsupported": ErrUnsupported, "damaged": ErrCorrupt, "too large": ErrTooLarge, "no view": ErrNoView}
}

// rememberRefusal notes that an original can't be shown, so that it is not decoded in vain each time.
func (l *Library) rememberRefusal(id ID, refusal *Refusal) error {
	for word, cause := range causes() {
		if errors.Is(refusal, cause) {
			if err := l.root.MkdirAll(derivedShard(id), 0o750); err != nil {
				return storageError("make folder for derived pictures", err)
			}
			return l.writeDerived(refusalPath(id), []byte(word+"\n"+refusal.sentence+"\n"))
		}
	}
	return nil
}

// knownRefusal is the refusal that was remembered of an original, nil if none was. A note that can't be read counts for
// nothing: the picture is tried again.
func (l *Library) knownRefusal(id ID) error {
	note, err := fs.ReadFile(l.root.FS(), refusalPath(id))
	if err != nil {
		return nil
	}
	word, sentence, whole := strings.Cut(strings.TrimSuffix(string(note), "\n"), "\n")
	cause := causes()[word]
	if !whole || cause == nil {
		return nil
	}
	return fmt.Errorf("derive pictures of %s: %w", id, refuse(cause, sentence))
}
