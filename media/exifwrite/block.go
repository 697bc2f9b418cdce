package exifwrite

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// A ByteOrder is binary.BigEndian or binary.LittleEndian.
type ByteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// Field is one tag of a directory with its value.
type Field struct {
	Tag   uint16
	Value Value
}

// A Value is one of Text, Short, Long, Rationals, Bytes and Undefined: the TIFF field types that Exif uses.
type Value interface {
	// field returns the TIFF 6.0 type, the count, and the bytes.
	field(order ByteOrder) (fieldType uint16, count int, data []byte)
}

// Text is written as ASCII with its closing NUL.
type Text string

// Short is a 16-bit unsigned number.
type Short uint16

// Long is a 32-bit unsigned number.
type Long uint32

// Rationals are numerators and denominators.
type Rationals [][2]uint32

// Bytes are 8-bit unsigned numbers.
type Bytes []byte

// Undefined is bytes whose meaning the tag defines.
type Undefined []byte

func (v Text) field(ByteOrder) (uint16, int, []byte) { return 2, len(v) + 1, append([]byte(v), 0) }
func (v Short) field(order ByteOrder) (uint16, int, []byte) {
	return 3, 1, order.AppendUint16(nil, uint16(v))
}
func (v Long) field(order ByteOrder) (uint16, int, []byte) {
	return 4, 1, order.AppendUint32(nil, uint32(v))
}
func (v Rationals) field(order ByteOrder) (uint16, int, []byte) {
	var data []byte
	for _, r := range v {
		data = order.AppendUint32(order.AppendUint32(data, r[0]), r[1])
	}
	return 5, len(v), data
}
func (v Bytes) field(ByteOrder) (uint16, int, []byte)     { return 1, len(v), v }
func (v Undefined) field(ByteOrder) (uint16, int, []byte) { return 7, len(v), v }

// Block returns a TIFF block with the fields of the main directory and, unless they are empty, of the Exif and GPS
// directories that it points to. Fields are sorted by tag, as the standard wants.
func Block(order ByteOrder, main, exif, gps []Field) []byte {
	block := []byte("II*\x00")
	if order == ByteOrder(binary.BigEndian) {
		block = []byte("MM\x00*")
	}
	block = order.AppendUint32(block, 8)
	main = slices.Clone(main)
	// A pointer fits its entry, so the main directory has the same length whatever it points at.
	end := len(block) + len(appendDirectory(nil, order, withPointers(main, exif, gps, 0, 0)))
	exifAt, gpsAt := end, end
	if len(exif) > 0 {
		gpsAt = len(appendDirectory(make([]byte, end), order, exif))
	}
	block = appendDirectory(block, order, withPointers(main, exif, gps, exifAt, gpsAt))
	if len(exif) > 0 {
		block = appendDirectory(block, order, exif)
	}
	if len(gps) > 0 {
		block = appendDirectory(block, order, gps)
	}
	return block
}

func withPointers(main, exif, gps []Field, exifAt, gpsAt int) []Field {
	if len(exif) > 0 {
		main = append(main, Field{0x8769, Long(exifAt)})
	}
	if len(gps) > 0 {
		main = append(main, Field{0x8825, Long(gpsAt)})
	}
	return main
}

// appendDirectory appends one directory, without a next one, and the values that don't fit its entries. Its length is
// always even, so that every directory and value starts at an even offset.
func appendDirectory(block []byte, order ByteOrder, fields []Field) []byte {
	fields = slices.SortedFunc(slices.Values(fields), func(a, b Field) int { return cmp.Compare(a.Tag, b.Tag) })
	valuesAt := len(block) + 2 + 12*len(fields) + 4
	var values []byte
	block = order.AppendUint16(block, uint16(len(fields)))
	for _, f := range fields {
		fieldType, count, data := f.Value.field(order)
		block = order.AppendUint16(block, f.Tag)
		block = order.AppendUint16(block, fieldType)
		block = order.AppendUint32(block, uint32(count))
		if len(data) <= 4 {
			var inline [4]byte
			copy(inline[:], data)
			block = append(block, inline[:]...)
			continue
		}
		block = order.AppendUint32(block, uint32(valuesAt+len(values)))
		values = append(values, data...)
		if len(values)%2 == 1 {
			values = append(values, 0)
		}
	}
	block = append(block, 0, 0, 0, 0)
	return append(block, values...)
}
