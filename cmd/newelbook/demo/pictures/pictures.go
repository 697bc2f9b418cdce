// Package pictures draws the pictures of an invented demonstration job: site sketches in pencil and wash, each a JPEG
// with the Exif of a camera that does not exist. Every picture says in itself that it was drawn and is no photograph.
//
// Start with Draw; Kinds lists what it can draw. The same Kind and Params give the same bytes with the same build of the
// program: what looks like chance is seeded from the kind and the label. A tape that is drawn reads what
// Params.Measure says. Nothing shown is a detail to build from, and no figure here is a limit.
//
// Test with go test ./cmd/newelbook/demo/pictures; with -pictures=DIR the tests leave every picture there to look at.
package pictures

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"time"

	"newelbook/media/exifwrite"
)

// Params say what stands in a picture and in its Exif. The zero value draws a picture that claims no time and no place.
type Params struct {
	// Label is the place's label as it stands on the piece, such as R1-P3. It also seeds the wood's grain.
	Label string
	// Note is a short remark that is written under the scene.
	Note string
	// Permit is an invented permit number that is shown in the scene; none is shown when it is "".
	Permit string
	// Tag is the square code of a place tag that hangs in the scene; none is shown when it is nil.
	Tag *Tag
	// Measure is the text that a drawn tape reads, such as 41 3/8" or 54 mm. Kinds without a tape write it beside the
	// note; kinds with one show one of their own when it is "" or no length above zero.
	Measure string
	// At is the time of capture, with its zone: DateTimeOriginal and OffsetTimeOriginal. The zero time claims none.
	At time.Time
	// Lat and Lon are the claimed place in decimal degrees, north and east above zero; both or neither.
	Lat, Lon *float64
	// Orientation is the Exif orientation: 1 or 6, and 0 for 1. With 6 the picture is stored lying on its left side,
	// as a phone held upright stores it, and stands upright once the tag is applied.
	Orientation int
	// NoExif leaves the whole Exif block out.
	NoExif bool
}

// The camera that every picture claims. There is no such maker.
const (
	cameraMake  = "Drawn by newelbook"
	cameraModel = "Sketch 1"
)

// A picture is stored at the best quality, of best down to least, at which it has no more than mostBytes: many small
// pictures go into one demonstration.
const (
	best, least = 85, 61
	mostBytes   = 148_000
)

// Draw draws one picture as a JPEG of 1200 x 900 or 900 x 1200 pixels. It refuses an unknown kind, an orientation
// other than 0, 1 and 6, and a place that is not on earth or lacks one coordinate.
func Draw(kind Kind, p Params) ([]byte, error) {
	img, err := sketch(kind, p)
	if err != nil {
		return nil, fmt.Errorf("draw %s: %w", kind, err)
	}
	if p.Orientation == 6 {
		img = laid(img)
	}
	var buf bytes.Buffer
	for quality := best; quality >= least; quality -= 3 {
		buf.Reset()
		if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: quality}); err != nil {
			return nil, fmt.Errorf("draw %s: %w", kind, err)
		}
		if buf.Len() <= mostBytes {
			break
		}
	}
	if p.NoExif {
		return buf.Bytes(), nil
	}
	out, err := exifwrite.Encode(buf.Bytes(), p.tags())
	if err != nil {
		return nil, fmt.Errorf("draw %s: %w", kind, err)
	}
	return out, nil
}

// sketch draws the picture as it stands upright.
func sketch(kind Kind, p Params) (*image.RGBA, error) {
	plan, ok := plans()[kind]
	switch {
	case !ok:
		return nil, fmt.Errorf("no such kind of picture")
	case p.Orientation != 0 && p.Orientation != 1 && p.Orientation != 6:
		return nil, fmt.Errorf("orientation %d is not 1 or 6", p.Orientation)
	}
	w, h := 1200, 900
	if plan.upright {
		w, h = h, w
	}
	blank, err := newSheet(w, h, rand.New(rand.NewPCG(seed(string(kind)), seed(p.Label))))
	if err != nil {
		return nil, err
	}
	s := &scene{sheet: blank, kind: kind, p: p, frame: frameOf(w, h), light: vec{-0.5, 0.35, 0.8}}
	plan.draw(s)
	s.finish()
	return s.img, nil
}

func (p Params) tags() exifwrite.Tags {
	t := exifwrite.Tags{
		Make: cameraMake, Model: cameraModel, Software: "newelbook demonstration",
		Orientation: max(p.Orientation, 1), Lat: p.Lat, Lon: p.Lon,
	}
	if !p.At.IsZero() {
		t.DateTimeOriginal = p.At.Format("2006:01:02 15:04:05")
		t.OffsetTimeOriginal = p.At.Format("-07:00")
	}
	return t
}

func seed(word string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(word))
	return h.Sum64()
}

// laid turns a picture a quarter turn to the left, which orientation 6 undoes.
func laid(img *image.RGBA) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			out.SetRGBA(y, w-1-x, img.RGBAAt(x, y))
		}
	}
	return out
}
