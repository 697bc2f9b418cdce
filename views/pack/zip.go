package pack

import (
	"bufio"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// The canonical layout of the archive, which Verify demands byte for byte: every file of the bag under its folder, in byte
// order of its path; a local header, the bytes as they are, nothing else; then the central directory in the same order and
// its end, with the ZIP64 form of the end only where the plain one can't hold the figures. No folder entries, no
// compression, no extra fields, no comments, no data descriptors; the one time 1980-01-01 00:00; the flag for UTF-8 unset,
// since names are ASCII; versions 1.0 needed and 2.0 made by, on the system 0; permissions none.
//
// It is written here and not by archive/zip, so that a later toolchain can't change the bytes of an old pack.
const (
	maxEntry   = math.MaxUint32 - 1 // bytes in one file
	zipDate    = 0x0021             // 1980-01-01
	zipNeeds   = 10
	zipMadeBy  = 20
	zip64Needs = 45
)

// entry is one file as the archive's headers know it.
type entry struct {
	name   string
	size   uint32
	crc    uint32
	offset int64
}

// WriteZIP streams the bag as a ZIP. Files whose checksums aren't all known are read through once before the first byte is
// written, so that a missing or changed one stops the work before anything is sent; the others are checked while they are
// copied, and the error then is ErrChanged and the archive cut short. Memory use doesn't grow with the pack.
func (b Bag) WriteZIP(ctx context.Context, w io.Writer) error {
	b, err := b.Measured(ctx)
	if err != nil {
		return fmt.Errorf("write ZIP: %w", err)
	}
	z := newZIPWriter(w)
	for _, f := range b.complete() {
		e := entry{name: b.Name + "/" + f.Path, size: uint32(f.Size), crc: f.CRC32}
		z.header(e)
		if z.err == nil {
			_, z.err = f.measure(ctx, z)
		}
	}
	if err := z.finish(); err != nil {
		return fmt.Errorf("write ZIP: %w", err)
	}
	return nil
}

// zipWriter writes the canonical layout. An error sticks until finish.
type zipWriter struct {
	out     *bufio.Writer
	at      int64
	entries []entry
	err     error
}

func newZIPWriter(w io.Writer) *zipWriter { return &zipWriter{out: bufio.NewWriterSize(w, 1<<15)} }

// Write takes the bytes of the file whose header was written last.
func (z *zipWriter) Write(p []byte) (int, error) {
	if z.err != nil {
		return 0, z.err
	}
	n, err := z.out.Write(p)
	z.at += int64(n)
	z.err = err
	return n, err
}

// put writes fields little-endian, each in its own width.
func (z *zipWriter) put(fields ...any) {
	for _, f := range fields {
		if s, ok := f.(string); ok {
			io.WriteString(z, s)
			continue
		}
		b := make([]byte, binary.Size(f))
		if _, err := binary.Encode(b, binary.LittleEndian, f); err != nil && z.err == nil {
			z.err = err
		}
		z.Write(b)
	}
}

// header writes the local header of a file and remembers it for the directory.
func (z *zipWriter) header(e entry) {
	e.offset = z.at
	z.entries = append(z.entries, e)
	z.put(uint32(0x04034b50), uint16(zipNeeds), uint16(0), uint16(0), uint16(0), uint16(zipDate), e.crc, e.size, e.size,
		uint16(len(e.name)), uint16(0), e.name)
}

// finish writes the directory and hands everything on.
func (z *zipWriter) finish() error {
	start := z.at
	for _, e := range z.entries {
		needs, offset, extra := uint16(zipNeeds), uint32(e.offset), uint16(0)
		if e.offset >= math.MaxUint32 {
			needs, offset, extra = zip64Needs, math.MaxUint32, 12
		}
		z.put(uint32(0x02014b50), uint16(zipMadeBy), needs, uint16(0), uint16(0), uint16(0), uint16(zipDate), e.crc, e.size, e.size,
			uint16(len(e.name)), extra, uint16(0), uint16(0), uint16(0), uint32(0), offset, e.name)
		if extra > 0 {
			z.put(uint16(1), uint16(8), uint64(e.offset))
		}
	}
	size, count := z.at-start, len(z.entries)
	if start >= math.MaxUint32 || size >= math.MaxUint32 || count >= math.MaxUint16 {
		end := z.at
		z.put(uint32(0x06064b50), uint64(44), uint16(zip64Needs), uint16(zip64Needs), uint32(0), uint32(0), uint64(count), uint64(count),
			uint64(size), uint64(start))
		z.put(uint32(0x07064b50), uint32(0), uint64(end), uint32(1))
	}
	short := uint16(min(count, math.MaxUint16))
	z.put(uint32(0x06054b50), uint16(0), uint16(0), short, short, uint32(min(size, math.MaxUint32)), uint32(min(start, math.MaxUint32)), uint16(0))
	if z.err != nil {
		return z.err
	}
	return z.out.Flush()
}
