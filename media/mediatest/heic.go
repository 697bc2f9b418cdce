package mediatest

import (
	"bytes"
	"encoding/binary"
)

// Box is an ISO base media box.
func Box(kind string, parts ...[]byte) []byte {
	body := bytes.Join(parts, nil)
	return append(append(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), kind...), body...)
}

// Uint16 is a number in two bytes, as the boxes have it.
func Uint16(n int) []byte { return binary.BigEndian.AppendUint16(nil, uint16(n)) }

// Uint32 is a number in four.
func Uint32(n int) []byte { return binary.BigEndian.AppendUint32(nil, uint32(n)) }

// HEIC is a HEIC by its containers alone (ISO/IEC 23008-12): head and Exif as telephones write them, and noise where the coded
// picture would be. irot turns by so many quarters. after puts boxes behind.
func HEIC(width, height, irot int, tiff []byte, after ...[]byte) []byte {
	exif := append(Uint32(6), append([]byte("Exif\x00\x00"), tiff...)...)
	coded := bytes.Repeat([]byte{0x5a}, 2000)
	full := func(version byte) []byte { return []byte{version, 0, 0, 0} }
	head := func(dataAt int) []byte {
		infe := func(id int, kind string) []byte {
			return Box("infe", full(2), Uint16(id), Uint16(0), []byte(kind), []byte{0})
		}
		iloc := [][]byte{full(0), Uint16(0x4400), Uint16(2)}
		for i, size := range []int{len(coded), len(exif)} {
			iloc = append(iloc, Uint16(i+1), Uint16(0), Uint16(1), Uint32(dataAt), Uint32(size))
			dataAt += size
		}
		return Box("meta", full(0),
			Box("hdlr", full(0), Uint32(0), []byte("pict"), make([]byte, 13)),
			Box("pitm", full(0), Uint16(1)),
			Box("iinf", full(0), Uint16(2), infe(1, "hvc1"), infe(2, "Exif")),
			Box("iprp",
				Box("ipco", Box("ispe", full(0), Uint32(width), Uint32(height)), Box("irot", []byte{byte(irot)}), Box("ispe", full(0), Uint32(320), Uint32(240))),
				Box("ipma", full(0), Uint32(1), Uint16(1), []byte{2, 0x81, 0x02})),
			Box("iloc", iloc...))
	}
	start := Box("ftyp", []byte("heic"), Uint32(0), []byte("mif1heic"))
	at := len(start) + len(head(0)) + 8
	return append(append(start, head(at)...), append(Box("mdat", coded, exif), bytes.Join(after, nil)...)...)
}
