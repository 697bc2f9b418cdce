package media

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"slices"
)

// Limits of the head of a HEIC. A 48-megapixel photograph in tiles has about 20 kB of it; the figures are common
// practice, no source.
const (
	maxMeta       = 1 << 20
	maxHEICBoxes  = 200 // at the top of a file
	maxProperties = 4096
	maxExtents    = 20_000 // of all items: their fields may be of no length, so that the box does not bound them
)

// errHEIC stops a walk through boxes that make no sense.
var errHEIC = errors.New("not readable as HEIC")

// walkHEIC goes from box to box of a HEIC file (ISO/IEC 14496-12, section 4.2) to its end, reads the head that describes its
// pictures (23008-12) and learns where their Exif lies, which may be before it: readHEICExif goes there. Nothing is decoded. A file
// with a film box is a sequence.
func (c *container) walkHEIC(r *bufio.Reader) error {
	var described bool
	var at, reach int64 // how far the walk came, and how far it must come for the pictures to be there
	for range maxHEICBoxes {
		kind, taken, size, toEnd, err := heicBox(r)
		if errors.Is(err, io.EOF) {
			c.whole = described && reach <= at
			return nil
		}
		if err != nil {
			return err
		}
		if kind == "moov" {
			c.animated = true
		}
		switch {
		case kind == "meta" && !described:
			if toEnd || size > maxMeta {
				return nil
			}
			body, err := io.ReadAll(io.LimitReader(r, size))
			if err != nil {
				return err
			}
			if int64(len(body)) < size {
				return io.ErrUnexpectedEOF
			}
			head, err := parseHEICHead(body)
			if err != nil {
				return nil
			}
			described, reach, c.width, c.height, c.exifAt = true, head.reach, head.width, head.height, head.exif
		case toEnd:
			if size, err = io.Copy(io.Discard, r); err != nil {
				return err
			}
		default:
			if err := skip(r, size); err != nil {
				return err
			}
		}
		at += taken + size
	}
	return nil
}

// heicBox reads the head of a box, of taken bytes. size is the length of what follows it; toEnd says that it goes on to the end of
// the file.
func heicBox(r io.Reader) (kind string, taken, size int64, toEnd bool, err error) {
	var head [8]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return "", 0, 0, false, err
	}
	kind, taken = string(head[4:]), 8
	length := uint64(binary.BigEndian.Uint32(head[:4]))
	switch length {
	case 0:
		return kind, taken, 0, true, nil
	case 1:
		var long [8]byte
		if _, err := io.ReadFull(r, long[:]); err != nil {
			return "", 0, 0, false, io.ErrUnexpectedEOF
		}
		length, taken = binary.BigEndian.Uint64(long[:]), 16
	}
	if length < uint64(taken) || length > 1<<61 {
		return "", 0, 0, false, io.ErrUnexpectedEOF
	}
	return kind, taken, int64(length) - taken, false, nil
}

// span is a stretch of a file.
type span struct{ at, size int64 }

// heicHead is what the meta box of a HEIC tells.
type heicHead struct {
	width, height int // of the picture to show, upright
	exif          span
	reach         int64 // where the last byte of all items stands in the file, and one more
}

// boxReader reads numbers from a box one after the other. Past the end it gives zeros and is short.
type boxReader struct {
	rest  []byte
	short bool
}

func (f *boxReader) take(n int) []byte {
	if n < 0 || n > len(f.rest) {
		f.short, f.rest = true, nil
		return make([]byte, max(0, min(n, 8)))
	}
	out := f.rest[:n]
	f.rest = f.rest[n:]
	return out
}

// uint reads a number of 0, 1, 2, 4 or 8 bytes.
func (f *boxReader) uint(size int) uint64 {
	out := uint64(0)
	for _, b := range f.take(size) {
		out = out<<8 | uint64(b)
	}
	return out
}

// full reads the version of a box that has one, and its flags.
func (f *boxReader) full() (version byte, flags uint64) {
	version = byte(f.uint(1))
	return version, f.uint(3)
}

// each calls do for every box within, in order.
func (f *boxReader) each(do func(kind string, body *boxReader) error) error {
	for len(f.rest) > 0 {
		size, kind := f.uint(4), string(f.take(4))
		if f.short || size < 8 || size-8 > uint64(len(f.rest)) {
			return errHEIC
		}
		if err := do(kind, &boxReader{rest: f.take(int(size - 8))}); err != nil {
			return err
		}
	}
	return nil
}

// heicReader gathers what stands in the boxes of a meta box, in whatever order they come.
type heicReader struct {
	primary    uint64
	exif       uint64
	places     map[uint64]span
	extents    int
	reach      int64
	properties []heicProperty
	owns       []int // properties of the primary picture, counted from 1
}

type heicProperty struct {
	width, height uint64
	turned        bool // by a quarter or three
}

// parseHEICHead reads the body of a meta box. It is an error when no picture is described.
func parseHEICHead(body []byte) (heicHead, error) {
	f := &boxReader{rest: body}
	f.full()
	h := heicReader{places: map[uint64]span{}}
	// Which properties are the primary picture's is known when its number is, so that box comes first.
	boxes := map[string]*boxReader{}
	err := f.each(func(kind string, body *boxReader) error {
		if _, twice := boxes[kind]; !twice {
			boxes[kind] = body
		}
		return nil
	})
	if err != nil || f.short {
		return heicHead{}, errHEIC
	}
	for _, part := range []struct {
		kind string
		read func(*boxReader) error
		must bool
	}{{"pitm", h.pitm, true}, {"iinf", h.iinf, false}, {"iloc", h.iloc, false}, {"iprp", h.iprp, true}} {
		box, there := boxes[part.kind]
		if !there && part.must {
			return heicHead{}, errHEIC
		}
		if there {
			if err := part.read(box); err != nil || box.short {
				return heicHead{}, errHEIC
			}
		}
	}
	out := heicHead{exif: h.places[h.exif], reach: h.reach}
	turned := false
	for _, n := range h.owns {
		if n < 1 || n > len(h.properties) {
			continue
		}
		p := h.properties[n-1]
		if p.width > 0 && p.height > 0 && p.width < 1<<31 && p.height < 1<<31 {
			out.width, out.height = int(p.width), int(p.height)
		}
		turned = turned != p.turned
	}
	if turned {
		out.width, out.height = out.height, out.width
	}
	if out.width == 0 || out.height == 0 {
		return heicHead{}, errHEIC
	}
	return out, nil
}

// idSize is how many bytes the number of an item takes by the version of its box.
func idSize(long bool) int {
	if long {
		return 4
	}
	return 2
}

func (h *heicReader) pitm(f *boxReader) error {
	version, _ := f.full()
	h.primary = f.uint(idSize(version > 0))
	return nil
}

// iinf finds the item that is Exif; the first, if there are several.
func (h *heicReader) iinf(f *boxReader) error {
	version, _ := f.full()
	f.uint(idSize(version > 0)) // how many: the boxes tell
	return f.each(func(kind string, body *boxReader) error {
		version, _ := body.full()
		if kind != "infe" || version < 2 {
			return nil
		}
		id := body.uint(idSize(version > 2))
		body.uint(2) // protection
		if string(body.take(4)) == "Exif" && h.exif == 0 {
			h.exif = id
		}
		return nil
	})
}

// iloc finds where items lie. The places of those in one piece, counted from the start of the file, are kept: Exif is never otherwise
// in practice.
func (h *heicReader) iloc(f *boxReader) error {
	version, _ := f.full()
	sizes := f.uint(2)
	offset, length, base, index := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	if version == 0 {
		index = 0
	}
	for _, n := range []int{offset, length, base, index} {
		if !slices.Contains([]int{0, 4, 8}, n) {
			return errHEIC
		}
	}
	for range f.uint(idSize(version > 1)) {
		id, method := f.uint(idSize(version > 1)), uint64(0)
		if version > 0 {
			method = f.uint(2) & 15
		}
		f.uint(2) // which file: this one
		from, extents := f.uint(base), f.uint(2)
		if h.extents += int(extents); h.extents > maxExtents {
			return errHEIC
		}
		for range extents {
			f.uint(index)
			at, size := from+f.uint(offset), f.uint(length)
			if f.short {
				return errHEIC
			}
			if method != 0 { // within the head itself
				continue
			}
			if at >= 1<<61 || size >= 1<<61 {
				return errHEIC
			}
			h.reach = max(h.reach, int64(at+size))
			if extents == 1 {
				h.places[id] = span{int64(at), int64(size)}
			}
		}
		if f.short {
			return errHEIC
		}
	}
	return nil
}

// iprp reads the properties and which of them are the primary picture's.
func (h *heicReader) iprp(f *boxReader) error {
	return f.each(func(kind string, body *boxReader) error {
		switch kind {
		case "ipco":
			return body.each(h.property)
		case "ipma":
			return h.owners(body)
		}
		return nil
	})
}

func (h *heicReader) property(kind string, body *boxReader) error {
	if len(h.properties) == maxProperties {
		return errHEIC
	}
	var p heicProperty
	switch kind {
	case "ispe":
		body.full()
		p.width, p.height = body.uint(4), body.uint(4)
	case "irot":
		p.turned = body.uint(1)&1 == 1
	}
	h.properties = append(h.properties, p)
	return nil
}

func (h *heicReader) owners(f *boxReader) error {
	version, flags := f.full()
	for range f.uint(4) {
		id := f.uint(idSize(version > 0))
		for range f.uint(1) {
			n := f.uint(1 + int(flags&1))
			if flags&1 == 1 {
				n &= 0x7fff
			} else {
				n &= 0x7f
			}
			if id == h.primary && len(h.owns) < maxProperties {
				h.owns = append(h.owns, int(n))
			}
		}
		if f.short {
			return errHEIC
		}
	}
	return nil
}

// readHEICExif reads the Exif that a walk found the place of. Before the TIFF block stand four bytes: how far on it begins
// (ISO/IEC 23008-12, annex A.2.1). The error is that of r.
func (c *container) readHEICExif(r io.ReadSeeker) error {
	switch {
	case c.exifAt.size <= 4:
		return nil
	case c.exifAt.size > maxBlock:
		c.exifTooBig = true
		return nil
	}
	if _, err := r.Seek(c.exifAt.at, io.SeekStart); err != nil {
		return err
	}
	data := make([]byte, c.exifAt.size)
	got, err := io.ReadFull(r, data)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return err
	}
	f := boxReader{rest: data[:got:got]}
	f.take(int(min(f.uint(4), maxBlock)))
	c.exif, c.exifDamaged = bytes.TrimPrefix(f.rest, []byte(exifIntro)), err != nil || f.short
	if c.exif == nil {
		c.exif = []byte{}
	}
	return nil
}
