package pack

import (
	"fmt"
	"image/color"
	"image/jpeg"
	"io"

	"github.com/carlos7ags/folio/core"
)

// picture is a JPEG file inside the PDF. It is an object of the library that copies its bytes, unchanged, only while the
// file is written, so that a pack of hundreds of photographs takes no more memory than one.
type picture struct {
	photo    Photo
	grey     bool
	resource string
}

// name is the resource name of the n-th picture of a page.
func (pic *picture) name(n int) string {
	pic.resource = fmt.Sprintf("Im%d", n+1)
	return pic.resource
}

// check reads the head of the file: it must be a JPEG of the size stated, grey or in colour.
func (pic *picture) check() error {
	ph := pic.photo
	if ph.Open == nil || ph.Size <= 0 {
		return fmt.Errorf("%s: no picture given", ph.Number)
	}
	r, err := ph.Open()
	if err != nil {
		return fmt.Errorf("%s: open picture: %w", ph.Number, err)
	}
	defer r.Close()
	cfg, err := jpeg.DecodeConfig(r)
	if err != nil {
		return fmt.Errorf("%s: read picture: %w", ph.Number, err)
	}
	if cfg.Width != ph.W || cfg.Height != ph.H {
		return fmt.Errorf("%s: the picture is %d x %d pixels, not %d x %d", ph.Number, cfg.Width, cfg.Height, ph.W, ph.H)
	}
	switch cfg.ColorModel {
	case color.GrayModel:
		pic.grey = true
	case color.YCbCrModel:
	default:
		return fmt.Errorf("%s: the picture is neither grey nor in the usual colours of a JPEG", ph.Number)
	}
	return nil
}

// Type says that the picture is a stream, which keeps it out of the library's object streams.
func (pic *picture) Type() core.ObjectType { return core.ObjectTypeStream }

// WriteTo writes the stream: its dictionary and the bytes of the file as they are.
func (pic *picture) WriteTo(w io.Writer) (int64, error) {
	space := "DeviceRGB"
	if pic.grey {
		space = "DeviceGray"
	}
	n, err := fmt.Fprintf(w, "<< /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /%s /BitsPerComponent 8"+
		" /Filter /DCTDecode /Length %d >>\nstream\n", pic.photo.W, pic.photo.H, space, pic.photo.Size)
	total := int64(n)
	if err != nil {
		return total, err
	}
	r, err := pic.photo.Open()
	if err != nil {
		return total, fmt.Errorf("%s: open picture: %w", pic.photo.Number, err)
	}
	defer r.Close()
	copied, err := io.Copy(w, r)
	total += copied
	if err != nil {
		return total, fmt.Errorf("%s: copy picture: %w", pic.photo.Number, err)
	}
	if copied != pic.photo.Size {
		return total, fmt.Errorf("%s: the picture has %d bytes, not %d", pic.photo.Number, copied, pic.photo.Size)
	}
	n, err = io.WriteString(w, "\nendstream")
	return total + int64(n), err
}
