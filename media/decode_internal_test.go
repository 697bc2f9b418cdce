package media

import (
	"bytes"
	"context"
	"errors"
	"image"
	"io"
	"io/fs"
	"syscall"
	"testing"
)

func TestDecodeWithSortsErrors(t *testing.T) {
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	onDisk := &fs.PathError{Op: "read", Path: "originals/x", Err: syscall.EIO}
	cases := []struct {
		name    string
		ctx     context.Context
		decode  func(io.Reader) (image.Image, error)
		want    error
		refused bool
	}{
		{"decoder panics", t.Context(), func(io.Reader) (image.Image, error) { panic("index out of range") }, ErrCorrupt, true},
		{"content ends early", t.Context(), func(io.Reader) (image.Image, error) { return nil, io.ErrUnexpectedEOF }, ErrCorrupt, true},
		{"disk fails", t.Context(), func(io.Reader) (image.Image, error) { return nil, onDisk }, syscall.EIO, false},
		{"context ends", ended, func(r io.Reader) (image.Image, error) { _, err := io.ReadAll(r); return nil, err }, context.Canceled, false},
	}
	for _, c := range cases {
		img, err := decodeWith(c.ctx, bytes.NewReader([]byte("picture")), c.decode)
		var refusal *Refusal
		if !errors.Is(err, c.want) || errors.As(err, &refusal) != c.refused || img != nil {
			t.Errorf("%s: decodeWith = %v, %v, want %v, refused %v", c.name, img, err, c.want, c.refused)
		}
	}
}

// A small head must not let a costly picture through the gate as a cheap one.
func TestExamineWeighsPictures(t *testing.T) {
	const width, height = 60, 40
	plain := plainJPEG(t, width, height)
	cases := []struct {
		name   string
		file   []byte
		factor int64
	}{
		{"plain JPEG", plain, 1},
		{"progressive JPEG", bytes.Replace(plain, []byte("\xff\xc0"), []byte("\xff\xc2"), 1), 4},
	}
	for _, c := range cases {
		got, err := examine(t.Context(), bytes.NewReader(c.file), JPEG, Limits{}.withDefaults())
		if err != nil || got.width != width || got.height != height || got.working != width*height*c.factor {
			t.Errorf("%s: examine = %+v, %v, want %d by %d worth %d", c.name, got, err, width, height, width*height*c.factor)
		}
	}
}

func TestKindNames(t *testing.T) {
	cases := []struct {
		kind                 Kind
		mediaType, extension string
	}{
		{JPEG, "image/jpeg", ".jpg"}, {PNG, "image/png", ".png"}, {WebP, "image/webp", ".webp"}, {HEIC, "image/heic", ".heic"}, {"", "", ""}, {"tiff", "", ""},
	}
	for _, c := range cases {
		if c.kind.MediaType() != c.mediaType || c.kind.Extension() != c.extension {
			t.Errorf("%q: %q, %q, want %q, %q", c.kind, c.kind.MediaType(), c.kind.Extension(), c.mediaType, c.extension)
		}
	}
}
