package media

import (
	"errors"
	"fmt"
	"runtime"
	"strconv"
	"syscall"
)

// What callers branch on. Errors of this package wrap one of these where it applies; test with errors.Is.
var (
	// ErrNotFound: no original of that ID is held.
	ErrNotFound = errors.New("no such original")
	// ErrUnsupported: the content is not a picture of a kind that is accepted.
	ErrUnsupported = errors.New("not an accepted picture")
	// ErrCorrupt: the picture can't be decoded to its end, or a held original no longer has the hash that names it.
	ErrCorrupt = errors.New("damaged")
	// ErrNoView: the original is sound as far as can be told and of a kind that can't be shown here.
	ErrNoView = errors.New("no view can be made")
	// ErrTooLarge: more bytes or more pixels than the limits allow.
	ErrTooLarge = errors.New("too large")
	// ErrStorageFull: the disk or the quota has no room left.
	ErrStorageFull = errors.New("no room left in storage")
)

// A Refusal says that a file sent in is not taken, or that an original can't be shown, and why, in words for the person who sent it. It wraps
// ErrUnsupported, ErrCorrupt, ErrTooLarge or ErrNoView.
type Refusal struct {
	cause    error
	sentence string
}

// Error returns the text for logs.
func (r *Refusal) Error() string { return fmt.Sprintf("refused: %v: %s", r.cause, r.sentence) }

// Unwrap returns the cause, which wraps the sentinel.
func (r *Refusal) Unwrap() error { return r.cause }

// Sentence returns finished sentences to show as they are: what is wrong, and what to do next.
func (r *Refusal) Sentence() string { return r.sentence }

func refuse(cause error, sentence string) error { return &Refusal{cause: cause, sentence: sentence} }

const (
	sentenceDamaged = "This picture is damaged or was cut short on its way here. Send it again; if that does not help, copy it from the camera once more."
	sentenceNoView  = "This is a HEIC original, kept as it was received. It can't be shown here, and no picture to show came with it: save the original and open it on your own machine."
)

// refuseCut is for a file whose end is missing.
func refuseCut() error {
	return refuse(fmt.Errorf("%w: it ends too early", ErrCorrupt), sentenceDamaged)
}

// refuseDamaged keeps what the decoder said in the cause, for the log only.
func refuseDamaged(decoderError error) error {
	return refuse(fmt.Errorf("%w: %w", ErrCorrupt, decoderError), sentenceDamaged)
}

func refuseBytes(limit int64) error {
	return refuse(ErrTooLarge, fmt.Sprintf("This file is larger than %s MB, the most that one photograph may be here. "+
		"Send the picture as JPEG, as the camera saved it.", strconv.FormatFloat(float64(limit)/1e6, 'f', -1, 64)))
}

func refusePixels(width, height int, limit int64) error {
	return refuse(ErrTooLarge, fmt.Sprintf("This picture claims to be %s by %s pixels, more than the %s million that can be opened here. "+
		"Send the picture as the camera saved it.",
		grouped(int64(width)), grouped(int64(height)), strconv.FormatFloat(float64(limit)/1e6, 'f', -1, 64)))
}

func refuseSide(width, height, limit int) error {
	return refuse(ErrTooLarge, fmt.Sprintf("This picture claims to be %s by %s pixels; no side may be longer than %s here. "+
		"Send the picture as the camera saved it.", grouped(int64(width)), grouped(int64(height)), grouped(int64(limit))))
}

// grouped writes a count with a comma every three digits, for sentences.
func grouped(n int64) string {
	text := strconv.FormatInt(n, 10)
	for i := len(text) - 3; i > 0 && text[i-1] != '-'; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

// diskFullWindows is ERROR_DISK_FULL, which the syscall package does not name.
const diskFullWindows = syscall.Errno(112)

// storageError adds ErrStorageFull to an error of the file system that means there is no room, and the doing to all.
func storageError(doing string, err error) error {
	full := errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) ||
		runtime.GOOS == "windows" && errors.Is(err, diskFullWindows)
	if full {
		return fmt.Errorf("%s: %w: %w", doing, ErrStorageFull, err)
	}
	return fmt.Errorf("%s: %w", doing, err)
}
