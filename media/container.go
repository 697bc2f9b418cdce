package media

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
)

const (
	pngSignature = "\x89PNG\r\n\x1a\n"
	exifIntro    = "Exif\x00\x00"
	// maxBlock is the largest Exif block that is read from PNG and WebP, in bytes. A JPEG segment can't exceed 64 KiB.
	// Common practice, no source.
	maxBlock = 256 << 10
)

// container is what the outer structure of a picture file tells before anything is decoded.
type container struct {
	// exif is the bare TIFF block of the first Exif found, nil when there is none.
	exif []byte
	// exifDamaged is true when the block's checksum is wrong or it was cut.
	exifDamaged bool
	// exifTooBig is true when a block over maxBlock was passed over.
	exifTooBig bool
	// animated is true for APNG and animated WebP.
	animated bool
	// progressive is true for a JPEG that must be held whole as coefficients while it is decoded.
	progressive bool
}

// readContainer walks the segments or chunks of a picture from its first byte. Where the structure breaks off or
// makes no sense it stops and returns what it has: to judge that is the decoder's part. The error is that of r.
func readContainer(r *bufio.Reader, kind Kind) (container, error) {
	var c container
	var err error
	switch kind {
	case JPEG:
		err = c.walkJPEG(r)
	case PNG:
		err = c.walkPNG(r)
	case WebP:
		err = c.walkWebP(r)
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = nil
	}
	return c, err
}

// JPEG markers, ITU-T T.81 table B.1.
const (
	markerTEM  = 0x01
	markerRST0 = 0xd0
	markerSOI  = 0xd8
	markerEOI  = 0xd9
	markerSOS  = 0xda
	markerAPP1 = 0xe1
)

// walkJPEG goes from segment to segment up to the first scan. A segment is passed by its length, so bytes inside one
// are never taken for a marker, and an APP1 that holds XMP does not hide the one that holds Exif.
func (c *container) walkJPEG(r *bufio.Reader) error {
	for {
		marker, err := nextMarker(r)
		if err != nil {
			return err
		}
		switch {
		case marker == markerSOS || marker == markerEOI:
			return nil
		case marker == markerTEM || marker >= markerRST0 && marker <= markerSOI:
			continue
		case marker == 0xc2 || marker == 0xc6 || marker == 0xca || marker == 0xce:
			c.progressive = true
		}
		var length [2]byte
		if _, err := io.ReadFull(r, length[:]); err != nil {
			return err
		}
		size := int(binary.BigEndian.Uint16(length[:])) - len(length)
		if size < 0 {
			return nil
		}
		if marker != markerAPP1 || c.exif != nil {
			if _, err := r.Discard(size); err != nil {
				return err
			}
			continue
		}
		body := make([]byte, size)
		got, err := io.ReadFull(r, body)
		if block, ok := bytes.CutPrefix(body[:got], []byte(exifIntro)); ok {
			c.exif, c.exifDamaged = block, err != nil
		}
		if err != nil {
			return err
		}
	}
}

// nextMarker returns the code of the next marker. Fill bytes FF before it are part of the standard (T.81, B.1.1.2);
// other stray bytes are passed over, as decoders do.
func nextMarker(r *bufio.Reader) (byte, error) {
	previous := byte(0)
	for {
		b, err := r.ReadByte()
		if err != nil {
			return 0, err
		}
		if previous == 0xff && b != 0xff && b != 0 {
			return b, nil
		}
		previous = b
	}
}

// walkPNG goes from chunk to chunk to the end, since eXIf may stand after the picture (PNG third edition, 11.3.3.6).
func (c *container) walkPNG(r *bufio.Reader) error {
	if _, err := r.Discard(len(pngSignature)); err != nil {
		return err
	}
	for {
		var header [8]byte
		if _, err := io.ReadFull(r, header[:]); err != nil {
			return err
		}
		size := int64(binary.BigEndian.Uint32(header[:4]))
		switch name := string(header[4:]); {
		case name == "IEND":
			return nil
		case name == "acTL":
			c.animated = true
		case name == "eXIf" && c.exif == nil:
			data, err := c.takeBlock(r, size)
			if err != nil {
				return err
			}
			if data == nil {
				break
			}
			var sum [4]byte
			if _, err := io.ReadFull(r, sum[:]); err != nil {
				return err
			}
			c.exifDamaged = crc32.Update(crc32.ChecksumIEEE(header[4:]), crc32.IEEETable, data) != binary.BigEndian.Uint32(sum[:])
			continue
		}
		if err := skip(r, size+4); err != nil {
			return err
		}
	}
}

// walkWebP goes from chunk to chunk of the RIFF file (WebP container specification).
func (c *container) walkWebP(r *bufio.Reader) error {
	if _, err := r.Discard(12); err != nil {
		return err
	}
	for {
		var header [8]byte
		if _, err := io.ReadFull(r, header[:]); err != nil {
			return err
		}
		size := int64(binary.LittleEndian.Uint32(header[4:]))
		padding := size & 1
		switch name := string(header[:4]); {
		case name == "ANIM" || name == "ANMF":
			c.animated = true
		case name == "EXIF" && c.exif == nil:
			data, err := c.takeBlock(r, size)
			if err != nil {
				return err
			}
			if data != nil {
				size = 0
			}
		}
		if err := skip(r, size+padding); err != nil {
			return err
		}
	}
}

// takeBlock reads an Exif block of the stated size and keeps it, without the JPEG intro that some writers put before
// it. It returns the whole of what it read, or nil when the block is too big and still to be skipped.
func (c *container) takeBlock(r io.Reader, size int64) ([]byte, error) {
	if size > maxBlock {
		c.exifTooBig = true
		return nil, nil
	}
	data := make([]byte, size)
	got, err := io.ReadFull(r, data)
	c.exif = bytes.TrimPrefix(data[:got:got], []byte(exifIntro))
	c.exifDamaged = err != nil
	return data, err
}

func skip(r io.Reader, n int64) error {
	_, err := io.CopyN(io.Discard, r, n)
	return err
}
