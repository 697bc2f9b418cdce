package media

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"

	"github.com/disintegration/imaging"
	"github.com/rwcarlsen/goexif/exif"
)

// A camera's own small picture: 160 by 120 in most, up to a few hundred pixels in some. The figures are common practice, no source.
const (
	maxThumbSide  = 1024
	maxThumbBytes = maxBlock
)

// cameraThumb opens the small picture that a camera put into an original's Exif, upright and cut to the shape of the photograph:
// cameras set it in black bars. It is nil when there is none that can be used.
func (l *Library) cameraThumb(ctx context.Context, id ID) (passing *Rendition, err error) {
	original, _, err := l.store.Open(ctx, id)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, original.Close()) }()
	_, kind, err := readHead(ctx, original)
	var refusal *Refusal
	switch {
	case errors.As(err, &refusal), err == nil && kind != JPEG:
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("read camera's thumbnail of %s: %w", id, err)
	}
	known, err := examine(ctx, original, JPEG, l.limits)
	if err != nil {
		return nil, err
	}
	small := embeddedJPEG(known.block)
	if small == nil {
		return nil, nil
	}
	img, err := smallPicture(ctx, small)
	if err != nil {
		return nil, nil
	}
	upright := turnUpright(toShape(img, known.width, known.height), known.exif.Orientation)
	content, err := encode(upright, thumbQuality)
	if err != nil {
		return nil, err
	}
	return &Rendition{
		ReadSeekCloser: nopCloser{bytes.NewReader(content)}, Bytes: int64(len(content)),
		Width: upright.Rect.Dx(), Height: upright.Rect.Dy(), Passing: true,
	}, nil
}

type nopCloser struct{ *bytes.Reader }

func (nopCloser) Close() error { return nil }

// embeddedJPEG returns the JPEG that a TIFF block points at as its thumbnail, nil when there is none whole.
func embeddedJPEG(block []byte) (small []byte) {
	defer func() {
		if recover() != nil {
			small = nil
		}
	}()
	repaired, _, err := guardBlock(block)
	if err != nil {
		return nil
	}
	tags, err := readTags(repaired)
	if err != nil {
		return nil
	}
	at, placed := tags.integer(exif.ThumbJPEGInterchangeFormat)
	size, sized := tags.integer(exif.ThumbJPEGInterchangeFormatLength)
	if !placed || !sized || at < 0 || size < 4 || size > maxThumbBytes || at > int64(len(block))-size {
		return nil
	}
	return block[at : at+size]
}

// smallPicture decodes a JPEG of no more than maxThumbSide either way.
func smallPicture(ctx context.Context, content []byte) (image.Image, error) {
	r := bytes.NewReader(content)
	config, err := decodeWith(ctx, r, jpeg.DecodeConfig)
	if err != nil {
		return nil, err
	}
	if config.Width > maxThumbSide || config.Height > maxThumbSide || config.Width < 1 || config.Height < 1 {
		return nil, refuseSide(config.Width, config.Height, maxThumbSide)
	}
	return decodeWith(ctx, r, jpeg.Decode)
}

// toShape cuts a picture, from its middle, to the proportions of another.
func toShape(img image.Image, width, height int) *image.NRGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	if wide := (h*width + height/2) / height; wide < w {
		w = max(1, wide)
	} else if tall := (w*height + width/2) / width; tall < h {
		h = max(1, tall)
	}
	return imaging.CropCenter(img, w, h)
}
