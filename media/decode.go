package media

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"io/fs"

	"golang.org/x/image/webp"
)

// picture is what is known of a file from its head, before its pixels are decoded.
type picture struct {
	kind   Kind
	width  int // as stored; of a HEIC upright, by what its container says
	height int
	// working is how many pixels of a plain JPEG its standard decoder is worth in memory.
	working int64
	exif    Exif
	block   []byte // the bare TIFF block that exif was read from
}

// upright returns the width and height after the orientation is applied.
func (p picture) upright() (width, height int) {
	if p.exif.Orientation >= 5 && p.kind != HEIC {
		return p.height, p.width
	}
	return p.width, p.height
}

// pixels is how many it has.
func (p picture) pixels() int64 { return int64(p.width) * int64(p.height) }

// scalable says whether it may be decoded straight to the scale of its view: a JPEG, and not a small one.
func (p picture) scalable() bool {
	width, _ := View.Fit(p.width, p.height)
	return p.kind == JPEG && p.width >= 2*width
}

// examine walks through a picture of a known kind and refuses it if its end is missing, if it moves or exceeds the limits. No pixel
// is decoded.
func examine(ctx context.Context, r io.ReadSeeker, kind Kind, limits Limits) (picture, error) {
	outer, err := readContainer(ctxFile{ctx, r}, kind)
	if err != nil {
		return picture{}, fmt.Errorf("read picture: %w", err)
	}
	if outer.animated {
		return picture{}, refuse(ErrUnsupported, sentenceMoving)
	}
	// The container's own claim first: a decoder calls a size that it does not know damaged, or a rare kind.
	if err := limits.hold(outer.width, outer.height); err != nil {
		return picture{}, err
	}
	config := image.Config{Width: outer.width, Height: outer.height}
	if kind != HEIC {
		config, err = decodeWith(ctx, r, func(in io.Reader) (image.Config, error) {
			switch kind {
			case JPEG:
				return jpeg.DecodeConfig(in)
			case PNG:
				return png.DecodeConfig(in)
			}
			return webp.DecodeConfig(in)
		})
	}
	if err != nil {
		return picture{}, err
	}
	if err := limits.hold(config.Width, config.Height); err != nil {
		return picture{}, err
	}
	pixels, factor := int64(config.Width)*int64(config.Height), workingFactor(kind, outer, config.ColorModel)
	if kind == PNG || kind == WebP { // packed so well that a small file may claim hundreds of megabytes, and never decoded to scale
		inMemory := limits
		inMemory.Pixels /= factor
		if err := inMemory.hold(config.Width, config.Height); err != nil {
			return picture{}, err
		}
	}
	switch {
	case pixels <= 0:
		return picture{}, refuseDamaged(errors.New("no pixels"))
	case !outer.whole:
		return picture{}, refuseCut()
	}
	return picture{
		kind: kind, width: config.Width, height: config.Height,
		working: pixels * factor,
		exif:    outer.readExif(),
		block:   outer.exif,
	}, nil
}

// workingFactor says how many times the memory of a plain JPEG a picture takes while its standard decoder is at it: a progressive
// JPEG holds its coefficients in 32 bits each, PNG has 4 or 8 bytes a pixel.
func workingFactor(kind Kind, outer container, model color.Model) int64 {
	switch {
	case kind == JPEG && outer.progressive:
		return 4
	case model == color.RGBA64Model || model == color.NRGBA64Model:
		return 4
	case kind == PNG || kind == WebP || model == color.CMYKModel:
		return 2
	}
	return 1
}

// scaledPixels decodes a JPEG to the scale of its view. It is nil where the standard decoder is needed: for rare makes,
// and for damaged ones, of which that decoder says what is wrong.
func scaledPixels(ctx context.Context, r io.ReadSeeker, known picture) (image.Image, error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, fmt.Errorf("read picture: %w", err)
	}
	data, err := io.ReadAll(ctxReader{ctx, r})
	if err != nil {
		return nil, fmt.Errorf("read picture: %w", err)
	}
	width, height := View.Fit(known.width, known.height)
	img, err := decodeScaled(data, width, height)
	if err != nil {
		return nil, nil
	}
	return img, nil
}

// decodePixels decodes the whole picture; one that ends early or makes no sense is refused as damaged.
func decodePixels(ctx context.Context, r io.ReadSeeker, kind Kind) (image.Image, error) {
	return decodeWith(ctx, r, func(in io.Reader) (image.Image, error) {
		switch kind {
		case JPEG:
			return jpeg.Decode(in)
		case PNG:
			return png.Decode(in)
		}
		return webp.Decode(in)
	})
}

// decodeWith runs a decoder from the start of r, recovers from it, and sorts its error: a Refusal if the content is at fault,
// the error itself if reading failed or ctx ended.
func decodeWith[T any](ctx context.Context, r io.ReadSeeker, decode func(io.Reader) (T, error)) (out T, err error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return out, fmt.Errorf("read picture: %w", err)
	}
	defer func() {
		if cause := recover(); cause != nil {
			var none T
			out, err = none, refuseDamaged(fmt.Errorf("decoder stopped: %v", cause))
		}
	}()
	out, err = decode(bufio.NewReaderSize(ctxReader{ctx, r}, 64<<10))
	var ofFile *fs.PathError
	var unsupportedJPEG jpeg.UnsupportedError
	var unsupportedPNG png.UnsupportedError
	switch {
	case err == nil:
		return out, nil
	case ctx.Err() != nil:
		return out, ctx.Err()
	case errors.As(err, &ofFile):
		return out, fmt.Errorf("read picture: %w", err)
	case errors.As(err, &unsupportedJPEG), errors.As(err, &unsupportedPNG):
		return out, refuse(fmt.Errorf("%w: %w", ErrUnsupported, err),
			"This picture is of a rare kind that can't be opened here. Save it as plain JPEG and send that.")
	}
	return out, refuseDamaged(err)
}

// ctxReader stops reading when its context ends.
type ctxReader struct {
	ctx context.Context
	r   io.Reader
}

// ctxFile is a file that stops being read when its context ends.
type ctxFile struct {
	ctx context.Context
	io.ReadSeeker
}

func (c ctxFile) Read(p []byte) (int, error) { return ctxReader{c.ctx, c.ReadSeeker}.Read(p) }

func (c ctxReader) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(p)
}
