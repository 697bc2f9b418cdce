package media

import (
	"encoding/binary"
	"errors"
	"slices"
)

// Limits of an Exif block. Real cameras write 3 to 5 directories and up to about 200 tags; the figures are common
// practice, no source.
const (
	maxDirectories = 8
	maxTags        = 2000
)

// Tags that point at further directories (Exif 2.32, section 4.6.3).
const (
	tagExifIFD    = 0x8769
	tagGPSIFD     = 0x8825
	tagInteropIFD = 0xa005
	tagNone       = 0xffff
)

// TIFF 6.0 field types that the guard names; 13 is a pointer (TIFF Technical Note 1), 129 is UTF-8 (Exif 3.0).
const (
	typeByte  = 1
	typeASCII = 2
	typeLong  = 4
	typeIFD   = 13
	typeUTF8  = 129
)

const (
	directoryHead = 2
	entrySize     = 12
	directoryTail = 4
)

var errBlock = errors.New("not a readable TIFF block")

// guardBlock makes a TIFF block safe for the reader beneath, which believes what it reads: it computes sizes in 32
// bits, follows directories round in circles, and gives up the whole block for one bad entry.
//
// In a copy, entries that the reader would stumble over are made harmless, pointers that lead outside, round in
// circles or too far are cut, and values that together are longer than twice the block are left out; lost counts
// those that held or led to something. Entries of no length or of unknown type are dropped without being counted:
// sound files have them. A block with too many tags, or that is not sound after one repair (directories lying across
// each other), is an error.
func guardBlock(block []byte) (repaired []byte, lost int, err error) {
	// Zero bytes stand in for the end of a last directory that the file cuts off; no value may lie in them.
	repaired = append(slices.Clip(block), make([]byte, directoryTail)...)
	first, err := inspectBlock(repaired)
	if err != nil {
		return nil, 0, err
	}
	second, err := inspectBlock(repaired)
	if err != nil {
		return nil, 0, err
	}
	if second.changes > 0 {
		return nil, 0, errBlock
	}
	return repaired, first.lost, nil
}

// inspection is one walk through the directories of a block that ends in directoryTail zero bytes of ours.
type inspection struct {
	block   []byte
	order   binary.ByteOrder
	seen    map[uint64]bool
	tags    int
	values  uint64
	changes int
	lost    int
}

func inspectBlock(block []byte) (*inspection, error) {
	in := &inspection{block: block, seen: map[uint64]bool{}}
	if len(block) < 8 {
		return nil, errBlock
	}
	switch string(block[:4]) {
	case "II*\x00":
		in.order = binary.LittleEndian
	case "MM\x00*":
		in.order = binary.BigEndian
	default:
		return nil, errBlock
	}
	// The chain of directories: each ends with the offset of the next. Only the first leads to sub-directories.
	at, isFirst := uint64(4), true
	for {
		offset := uint64(in.order.Uint32(block[at:]))
		if offset == 0 {
			break
		}
		if !in.admit(offset) {
			in.order.PutUint32(block[at:], 0)
			in.changes++
			in.lost++
			break
		}
		next, err := in.directory(offset, isFirst)
		if err != nil {
			return nil, err
		}
		at, isFirst = next, false
	}
	if len(in.seen) == 0 {
		return nil, errBlock
	}
	return in, nil
}

// admit reports whether a directory may be read at offset, and notes it as read.
func (in *inspection) admit(offset uint64) bool {
	if offset < 8 || offset+directoryHead+directoryTail > uint64(len(in.block)) || in.seen[offset] || len(in.seen) == maxDirectories {
		return false
	}
	in.seen[offset] = true
	return true
}

// directory checks the entries of an admitted directory and returns where the offset of the next one stands.
func (in *inspection) directory(offset uint64, follow bool) (next uint64, err error) {
	count := uint64(in.order.Uint16(in.block[offset:]))
	room := (uint64(len(in.block)) - offset - directoryHead - directoryTail) / entrySize
	if count > room {
		in.order.PutUint16(in.block[offset:], uint16(room))
		in.order.PutUint32(in.block[offset+directoryHead+room*entrySize:], 0)
		in.changes++
		in.lost++
		count = room
	}
	if in.tags += int(count); in.tags > maxTags {
		return 0, errBlock
	}
	for i := range count {
		if err := in.entry(offset+directoryHead+i*entrySize, follow); err != nil {
			return 0, err
		}
	}
	return offset + directoryHead + count*entrySize, nil
}

// entry checks one 12-byte entry: tag, type, count, and the value or its offset.
func (in *inspection) entry(at uint64, follow bool) error {
	e := in.block[at : at+entrySize]
	tag, fieldType, count := in.order.Uint16(e), in.order.Uint16(e[2:]), in.order.Uint32(e[4:])
	switch fieldType {
	case typeIFD:
		fieldType = typeLong
		in.order.PutUint16(e[2:], typeLong)
	case typeUTF8:
		fieldType = typeASCII
		in.order.PutUint16(e[2:], typeASCII)
	}
	size := typeSize(fieldType) * uint64(count)
	if size == 0 {
		in.drop(e)
		return nil
	}
	if size > 4 {
		if uint64(in.order.Uint32(e[8:]))+size > uint64(len(in.block)-directoryTail) || in.values+size > 2*uint64(len(in.block)) {
			in.drop(e)
			in.lost++
			return nil
		}
		in.values += size
	}
	if !follow || tag != tagExifIFD && tag != tagGPSIFD && tag != tagInteropIFD {
		return nil
	}
	offset := uint64(in.order.Uint32(e[8:]))
	if fieldType != typeLong || count != 1 || !in.admit(offset) {
		in.drop(e)
		in.lost++
		return nil
	}
	// The Exif directory is the only one below the first that leads further.
	_, err := in.directory(offset, tag == tagExifIFD)
	return err
}

// drop turns an entry into one that every reader passes over.
func (in *inspection) drop(e []byte) {
	in.order.PutUint16(e, tagNone)
	in.order.PutUint16(e[2:], typeByte)
	in.order.PutUint32(e[4:], 1)
	in.changes++
}

// typeSize returns the bytes that one value of a TIFF 6.0 field type takes, 0 for an unknown type.
func typeSize(fieldType uint16) uint64 {
	sizes := [...]uint64{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8}
	if int(fieldType) >= len(sizes) {
		return 0
	}
	return sizes[fieldType]
}
