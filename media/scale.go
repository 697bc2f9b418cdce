package media

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"github.com/disintegration/imaging"
)

// Size names a derived picture by the length of its longest side in pixels.
type Size int

// The derived pictures that are made of every photograph.
const (
	// View is for looking at one photograph and for packs.
	View Size = 1600
	// Thumb is for lists.
	Thumb Size = 320
)

// Fit returns the width and height in pixels of the derived picture of an upright original of the given width and
// height: the longest side is cut down to the size, the other in proportion and at least 1. Nothing is enlarged.
func (s Size) Fit(width, height int) (int, int) {
	longest := max(width, height)
	if longest <= int(s) {
		return width, height
	}
	scale := func(side int) int { return max(1, (side*int(s)+longest/2)/longest) }
	return scale(width), scale(height)
}

// Quality of the JPEGs made here: artefacts can't be told from the wood grain at View, and a Thumb stays under about 20 kB.
// Common practice, no source.
const (
	viewQuality  = 85
	thumbQuality = 80
)

// renditions holds the derived pictures of one photograph as JPEG files.
type renditions map[Size][]byte

// derivedSizes lists what renditions holds, in the order in which it is made.
func derivedSizes() []Size { return []Size{View, Thumb} }

// render makes the derived pictures of a photograph that was decoded, to its full size or to a scale that is not below the view's. The picture is scaled as it is stored and turned
// upright last, when it is small; the thumbnail is made from the view. The same pixels give the same bytes with the
// same build of the program.
func render(img image.Image, known picture) (renditions, error) {
	width, height := View.Fit(known.width, known.height)
	view := turnUpright(onWhite(resize(img, width, height)), known.exif.Orientation)
	width, height = Thumb.Fit(view.Rect.Dx(), view.Rect.Dy())
	thumb := resize(view, width, height)
	out := renditions{}
	var err error
	if out[View], err = encode(view, viewQuality); err != nil {
		return nil, err
	}
	if out[Thumb], err = encode(thumb, thumbQuality); err != nil {
		return nil, err
	}
	return out, nil
}

// encode writes an opaque picture as JPEG. It is handed over as RGBA, for which the encoder has a fast path; the
// two layouts are the same where nothing is transparent.
func encode(img *image.NRGBA, quality int) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, &image.RGBA{Pix: img.Pix, Stride: img.Stride, Rect: img.Rect}, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("encode derived picture: %w", err)
	}
	return out.Bytes(), nil
}

// resize scales to exactly width by height pixels. A picture in luma and chroma planes is first halved as often as
// it stays at least as large as wanted, which costs little and leaves the filter a quarter of the work. The filter is
// Catmull-Rom's: two thirds of the work of Lanczos, and no eye tells them apart at these sizes.
func resize(img image.Image, width, height int) *image.NRGBA {
	if planes, ok := img.(*image.YCbCr); ok {
		for canHalve(planes) && planes.Rect.Dx()/2 >= width && planes.Rect.Dy()/2 >= height {
			planes = halve(planes)
		}
		img = planes
	}
	if img.Bounds().Dx() == width && img.Bounds().Dy() == height {
		return imaging.Clone(img)
	}
	return imaging.Resize(img, width, height, imaging.CatmullRom)
}

// canHalve reports whether halve knows the layout of the planes. Odd sides are left to the filter: rounding them would
// stretch the picture by a pixel each time.
func canHalve(img *image.YCbCr) bool {
	switch img.SubsampleRatio {
	case image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422,
		image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio440:
		return img.Rect.Min == image.Point{} && img.Rect.Dx()%2 == 0 && img.Rect.Dy()%2 == 0
	}
	return false
}

// halve returns the picture at half its size with a chroma sample for every pixel: four luma samples are averaged, and
// as many chroma samples as the layout has for the four. 4:2:0 chroma is used as it is.
func halve(img *image.YCbCr) *image.YCbCr {
	width, height := img.Rect.Dx()/2, img.Rect.Dy()/2
	across, down := 2, 2 // chroma samples for two pixels
	switch img.SubsampleRatio {
	case image.YCbCrSubsampleRatio420:
		across, down = 1, 1
	case image.YCbCrSubsampleRatio422:
		across = 1
	case image.YCbCrSubsampleRatio440:
		down = 1
	}
	out := &image.YCbCr{
		Y:              average(img.Y, img.YStride, width, height, 2, 2),
		Cb:             img.Cb,
		Cr:             img.Cr,
		YStride:        width,
		CStride:        img.CStride,
		SubsampleRatio: image.YCbCrSubsampleRatio444,
		Rect:           image.Rect(0, 0, width, height),
	}
	if across*down > 1 {
		out.Cb = average(img.Cb, img.CStride, width, height, across, down)
		out.Cr = average(img.Cr, img.CStride, width, height, across, down)
		out.CStride = width
	}
	return out
}

// average returns a plane of width by height samples, each the average of across by down samples, 1 or 2 each, of the
// plane given.
func average(plane []byte, stride, width, height, across, down int) []byte {
	out := make([]byte, width*height)
	for y := range height {
		first := plane[y*down*stride:][:width*across]
		second := plane[(y*down+down-1)*stride:][:width*across]
		row := out[y*width:][:width]
		for x := range row {
			left, right := x*across, x*across+across-1
			row[x] = byte((int(first[left]) + int(first[right]) + int(second[left]) + int(second[right]) + 2) / 4)
		}
	}
	return out
}

// onWhite puts white behind what is transparent, in place.
func onWhite(img *image.NRGBA) *image.NRGBA {
	for i := 3; i < len(img.Pix); i += 4 {
		alpha := int(img.Pix[i])
		if alpha == 255 {
			continue
		}
		for c := i - 3; c < i; c++ {
			img.Pix[c] = byte((int(img.Pix[c])*alpha + 255*(255-alpha) + 127) / 255)
		}
		img.Pix[i] = 255
	}
	return img
}

// turnUpright applies an Exif orientation (tag 0x0112, 1 to 8). imaging turns counter-clockwise.
func turnUpright(img *image.NRGBA, orientation int) *image.NRGBA {
	switch orientation {
	case 2:
		return imaging.FlipH(img)
	case 3:
		return imaging.Rotate180(img)
	case 4:
		return imaging.FlipV(img)
	case 5:
		return imaging.Transpose(img)
	case 6:
		return imaging.Rotate270(img)
	case 7:
		return imaging.Transverse(img)
	case 8:
		return imaging.Rotate90(img)
	}
	return img
}
