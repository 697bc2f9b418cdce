package mediatest

import (
	"bytes"
	"encoding/binary"
	"errors"

	"newelbook/media/exifwrite"
)

// WithThumb is a photograph whose camera put a small picture of its own into it: both JPEG, as they are stored.
func WithThumb(photograph, thumb []byte, orientation uint16) ([]byte, error) {
	const tagOrientation = 0x0112
	// The second directory says where the thumbnail begins and how long it is (Exif 2.32, section 4.5.8). It follows the first.
	first := exifwrite.Block(binary.BigEndian, []exifwrite.Field{{Tag: tagOrientation, Value: exifwrite.Short(orientation)}}, nil, nil)
	link := 8 + 2 + 12*int(binary.BigEndian.Uint16(first[8:]))
	if link+4 > len(first) {
		return nil, errors.New("with thumb: the block is not laid out as thought")
	}
	block := bytes.Clone(first)
	binary.BigEndian.PutUint32(block[link:], uint32(len(block)))
	at := len(block) + 2 + 2*12 + 4
	entry := func(tag uint16, value int) {
		block = binary.BigEndian.AppendUint16(block, tag)
		block = binary.BigEndian.AppendUint16(block, 4)
		block = binary.BigEndian.AppendUint32(block, 1)
		block = binary.BigEndian.AppendUint32(block, uint32(value))
	}
	block = binary.BigEndian.AppendUint16(block, 2)
	entry(0x0201, at)
	entry(0x0202, len(thumb))
	block = append(append(block, 0, 0, 0, 0), thumb...)
	return exifwrite.Insert(photograph, block)
}
