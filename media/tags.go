package media

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"strconv"
	"strings"

	"newelbook/media/codes"
)

// codesReader is the version of the reader that a note of codes was made by. Change it when the reader reads more: photographs are then
// read again.
const codesReader = "reader 2"

// codesSide is the longest side, in pixels, of the picture that codes are looked for in: larger ones are halved.
const codesSide = 3000

func codesPath(id ID) string { return derivedShard(id) + "/" + id.String() + "-codes.txt" }

// Codes lists the texts of the square codes that a photograph shows, in no order that means anything. They are read when the derived
// pictures are made, and again where no note of that is found. It fails as Derive does.
func (l *Library) Codes(ctx context.Context, id ID) ([]string, error) {
	if texts, known := l.KnownCodes(id); known {
		return texts, nil
	}
	if err := l.Derive(ctx, id); err != nil {
		return nil, err
	}
	if texts, known := l.KnownCodes(id); known {
		return texts, nil
	}
	return l.readAgain(ctx, id)
}

// KnownCodes is Codes where they were read already, which costs a look at a small file; else it is false.
func (l *Library) KnownCodes(id ID) (texts []string, known bool) {
	note, err := fs.ReadFile(l.root.FS(), codesPath(id))
	if err != nil {
		return nil, false
	}
	lines := strings.Split(strings.TrimSuffix(string(note), "\n"), "\n")
	if lines[0] != codesReader {
		return nil, false
	}
	for _, line := range lines[1:] {
		text, err := strconv.Unquote(line)
		if err != nil {
			return nil, false
		}
		texts = append(texts, text)
	}
	return texts, true
}

// noteCodes notes what was read, also that it was nothing.
func (l *Library) noteCodes(id ID, texts []string) error {
	var b strings.Builder
	b.WriteString(codesReader + "\n")
	for _, text := range texts {
		b.WriteString(strconv.Quote(text) + "\n")
	}
	if err := l.root.MkdirAll(derivedShard(id), 0o750); err != nil {
		return storageError("make folder for derived pictures", err)
	}
	if err := l.writeDerived(codesPath(id), []byte(b.String())); err != nil {
		return fmt.Errorf("note codes of %s: %w", id, err)
	}
	return nil
}

// readAgain reads the codes of an original whose pictures are there.
func (l *Library) readAgain(ctx context.Context, id ID) (texts []string, err error) {
	original, size, err := l.store.Open(ctx, id)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, original.Close()) }()
	if err := verifyContent(ctx, original, size, id); err != nil {
		return nil, err
	}
	err = l.decoded(ctx, original, func(img image.Image, _ picture) error {
		texts = codesIn(img)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read codes of %s: %w", id, err)
	}
	return texts, l.noteCodes(id, texts)
}

// codesIn reads the codes in a decoded picture. A reader that stops has read nothing: a photograph counts without its codes as well.
func codesIn(img image.Image) (texts []string) {
	defer func() {
		if recover() != nil {
			texts = nil
		}
	}()
	return codes.Read(greys(img))
}

// greys is a picture in greys, its longest side codesSide at most.
func greys(img image.Image) *image.Gray {
	size := img.Bounds().Size()
	var out *image.Gray
	switch planes := img.(type) {
	case *image.YCbCr:
		out = &image.Gray{Pix: planes.Y, Stride: planes.YStride, Rect: image.Rectangle{Max: size}}
	case *image.Gray:
		out = &image.Gray{Pix: planes.Pix, Stride: planes.Stride, Rect: image.Rectangle{Max: size}}
	default:
		width, height := Size(codesSide).Fit(size.X, size.Y)
		small := onWhite(resize(img, width, height))
		out = image.NewGray(image.Rect(0, 0, width, height))
		for i := range out.Pix {
			p := small.Pix[4*i:][:3]
			out.Pix[i] = byte((299*int(p[0]) + 587*int(p[1]) + 114*int(p[2]) + 500) / 1000) // Rec. 601, as JPEG has it
		}
	}
	for max(out.Rect.Dx(), out.Rect.Dy()) > codesSide {
		w, h := out.Rect.Dx()/2, out.Rect.Dy()/2
		out = &image.Gray{Pix: average(out.Pix, out.Stride, w, h, 2, 2), Stride: w, Rect: image.Rect(0, 0, w, h)}
	}
	return out
}
