package media

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
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
	// exifAt is where a HEIC has its Exif.
	exifAt span
	// exif is the bare TIFF block of the first Exif found, nil when there is none.
	exif []byte
	// exifDamaged is true when the block's checksum is wrong or it was cut.
	exifDamaged bool
	// exifTooBig is true when a block over maxBlock was passed over.
	exifTooBig bool
	// animated is true for APNG, animated WebP and HEIC sequences.
	animated bool
	// whole is true when the structure goes on to its proper end: nothing was cut off behind. What stands between,
	// the decoder judges.
	whole bool
	// width and height are what the container claims in pixels: of a HEIC standing upright, of a PNG and of a WebP with an extended head as
	// stored. They are 0 where only the decoder tells.
	width, height int
	// progressive is true for a JPEG that the standard decoder holds whole as coefficients.
	progressive bool
}

// readContainer walks the segments, chunks or boxes of a picture from its first byte. Where the structure breaks off or
// makes no sense it stops and returns what it has: to judge that is the decoder's part. The error is that of r.
func readContainer(r io.ReadSeeker, kind Kind) (container, error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return container{}, err
	}
	var c container
	var err error
	buffered := bufio.NewReaderSize(r, 64<<10)
	switch kind {
	case JPEG:
		err = c.walkJPEG(buffered)
	case PNG:
		err = c.walkPNG(buffered)
	case WebP:
		err = c.walkWebP(buffered)
	case HEIC:
		if err = c.walkHEIC(buffered); ended(err) {
			err = c.readHEICExif(r)
		}
	}
	if ended(err) {
		err = nil
	}
	return c, err
}

// ended says whether nothing was wrong with reading but that the file was at its end.
func ended(err error) bool {
	return err == nil || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
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

// walkJPEG goes from segment to segment and through the scans up to the end marker. A segment is passed by its length, so bytes
// inside one are never taken for a marker, and an APP1 that holds XMP does not hide the one that holds Exif. What
// stands behind the end marker, a film or a second picture, is not looked at.
func (c *container) walkJPEG(r *bufio.Reader) error {
	scans := 0
	for {
		marker, err := nextMarker(r)
		if err != nil {
			return err
		}
		switch {
		case marker == markerEOI:
			c.whole = scans > 0
			return nil
		case marker == markerSOS:
			scans++
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

// nextMarker returns the code of the next marker. Fill bytes FF before it are part of the standard (T.81, B.1.1.2); FF 00
// stands for a byte of a scan, and other bytes are passed over: the data of a scan, and stray ones, as decoders do.
func nextMarker(r *bufio.Reader) (byte, error) {
	for {
		switch _, err := r.ReadSlice(0xff); {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil:
			return 0, err
		}
		code := byte(0xff)
		for code == 0xff {
			var err error
			if code, err = r.ReadByte(); err != nil {
				return 0, err
			}
		}
		if code != 0 {
			return code, nil
		}
	}
}

// walkPNG goes from chunk to chunk to the end, since eXIf may stand after the picture (PNG third edition, 11.3.3.6). It is whole
// where every chunk that a decoder needs has its checksum; that of eXIf only says whether the claims are damaged.
func (c *container) walkPNG(r *bufio.Reader) error {
	if _, err := r.Discard(len(pngSignature)); err != nil {
		return err
	}
	sound, buffer := true, make([]byte, 32<<10)
	for {
		var header [8]byte
		if _, err := io.ReadFull(r, header[:]); err != nil {
			return err
		}
		size, name := int64(binary.BigEndian.Uint32(header[:4])), string(header[4:])
		sum := crc32.NewIEEE()
		sum.Write(header[4:])
		if name == "IHDR" && size == 13 && c.width == 0 {
			var head [13]byte
			if _, err := io.ReadFull(r, head[:]); err != nil {
				return err
			}
			sum.Write(head[:])
			size = 0
			c.claim(binary.BigEndian.Uint32(head[:]), binary.BigEndian.Uint32(head[4:]))
		}
		exif := name == "eXIf" && c.exif == nil
		if exif {
			data, err := c.takeBlock(r, size)
			if err != nil {
				return err
			}
			sum.Write(data)
			size -= int64(len(data))
		}
		if _, err := io.CopyBuffer(sum, io.LimitReader(r, size), buffer); err != nil {
			return err
		}
		var stated [4]byte
		if _, err := io.ReadFull(r, stated[:]); err != nil {
			return err
		}
		right := sum.Sum32() == binary.BigEndian.Uint32(stated[:])
		switch {
		case exif && !c.exifTooBig:
			c.exifDamaged = !right
		case name[0]&0x20 == 0: // a chunk that no decoder may pass over
			sound = sound && right
		}
		switch name {
		case "acTL":
			c.animated = true
		case "IEND":
			c.whole = sound
			return nil
		}
	}
}

// claim notes a size, unless no picture can have it (PNG third edition, 11.2.1: at most 2^31-1).
func (c *container) claim(width, height uint32) {
	if width <= math.MaxInt32 && height <= math.MaxInt32 {
		c.width, c.height = int(width), int(height)
	}
}

// walkWebP goes from chunk to chunk of the RIFF file (WebP container specification) to the end that its head states.
func (c *container) walkWebP(r *bufio.Reader) error {
	var riff [12]byte
	if _, err := io.ReadFull(r, riff[:]); err != nil {
		return err
	}
	left := int64(binary.LittleEndian.Uint32(riff[4:])) - 4
	for left >= 8 {
		var header [8]byte
		if _, err := io.ReadFull(r, header[:]); err != nil {
			return err
		}
		size := int64(binary.LittleEndian.Uint32(header[4:]))
		padding := size & 1
		left -= 8 + size + padding
		switch name := string(header[:4]); {
		case name == "ANIM" || name == "ANMF":
			c.animated = true
		case name == "VP8X" && size == 10 && c.width == 0:
			var head [10]byte // a flag, three bytes kept free, width and height less one in three bytes each
			if _, err := io.ReadFull(r, head[:]); err != nil {
				return err
			}
			size = 0
			less := func(b []byte) uint32 { return uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 }
			c.claim(less(head[4:])+1, less(head[7:])+1)
		case name == "EXIF" && c.exif == nil:
			data, err := c.takeBlock(r, size)
			if err != nil {
				return err
			}
			if data != nil {
				size = 0
			}
		}
		if err := skip(r, size); err != nil {
			return err
		}
		// Some writers leave the padding of the last chunk out.
		if err := skip(r, padding); err != nil && left > 0 {
			return err
		}
	}
	c.whole = left >= -1
	return nil
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
