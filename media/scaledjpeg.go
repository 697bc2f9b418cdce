package media

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image"
)

// errScaled says that decodeScaled does not know a JPEG of this make, or found it damaged: the standard decoder has the word.
var errScaled = errors.New("not decoded to scale")

// decodeScaled decodes a JPEG, baseline or progressive, straight to a half or a quarter of its size, whichever is the smallest that is still at least width by
// height: of each block of 8 by 8 only the 4 by 4 or 2 by 2 lowest frequencies are kept and turned back (ITU-T T.81, A.3.3, with a transform of as
// many points). That takes a half to a third of the time and a quarter to a sixteenth of the memory of decoding all of it.
//
// It knows 8 bits, one grey or three YCbCr components, of a baseline picture in one scan, and the usual subsamplings. For anything else, for a picture that is not twice as
// large as wanted, and for anything that makes no sense, it returns an error, and the standard decoder is to be asked.
func decodeScaled(data []byte, width, height int) (img *image.YCbCr, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			img, err = nil, fmt.Errorf("%w: %v", errScaled, cause)
		}
	}()
	d := scaledDecoder{data: data}
	scan, err := d.head()
	if err != nil {
		return nil, err
	}
	for _, points := range []int{2, 4} {
		w, h := d.scaled(points)
		switch {
		case w < width || h < height:
		case d.progressive:
			return d.scans(points, scan)
		default:
			if err := d.scanHead(scan); err != nil {
				return nil, err
			}
			return d.scan(points)
		}
	}
	return nil, errScaled
}

// scaledComponent is one of the components of a scan.
type scaledComponent struct {
	id       byte
	h, v     int // samples for a unit, across and down
	quant    *[64]int32
	dc, ac   *huffman
	previous int32
	points   int      // that are made of each eight, across and down
	at       [64]int8 // where coefficients lie among those kept
	plane    []byte
	stride   int
	qt       byte // number of its quantum table

	// Of a progressive picture: the coefficients that are kept, block after block, and which of the 64 of each block are not zero so far.
	kept           []int16
	seen           []uint64
	across, blocks int // blocks in a row of those held, and in one of a scan of its own
	down           int // rows of blocks in a scan of its own
}

// scaledDecoder reads one JPEG.
type scaledDecoder struct {
	data          []byte
	at            int
	width, height int
	components    []scaledComponent
	quant         [4]*[64]int32
	tables        [2][4]*huffman
	restart       int
	progressive   bool

	hold  uint64 // bits read and not used, the next one highest
	have  int    // how many of them
	empty int    // how many of those stand for nothing: the data had ended
}

// scaled is the size of the picture at so many points of eight.
func (d *scaledDecoder) scaled(points int) (int, int) {
	return (d.width*points + 7) / 8, (d.height*points + 7) / 8
}

// head reads the segments up to the data of the first scan, whose head it gives.
func (d *scaledDecoder) head() (scan []byte, err error) {
	if len(d.data) < 4 || d.data[0] != 0xff || d.data[1] != markerSOI {
		return nil, errScaled
	}
	d.at = 2
	if scan, err = d.segments(); scan == nil || len(d.components) == 0 || d.width == 0 || d.height == 0 {
		return nil, errScaled
	}
	return scan, err
}

// segments reads up to the data of a scan, whose head it gives, or to the end of the picture, where it gives nil.
func (d *scaledDecoder) segments() (scan []byte, err error) {
	for {
		for d.data[d.at] != 0xff || d.data[d.at+1] == 0xff {
			d.at++
		}
		marker := d.data[d.at+1]
		if marker == markerEOI {
			return nil, nil
		}
		size := int(binary.BigEndian.Uint16(d.data[d.at+2:]))
		body := d.data[d.at+4 : d.at+2+size]
		d.at += 2 + size
		var err error
		switch {
		case marker >= 0xc0 && marker <= 0xc2:
			d.progressive = marker == 0xc2
			err = d.frame(body)
		case marker == 0xc4:
			err = d.huffmanTables(body)
		case marker == 0xdb:
			err = d.quantTables(body)
		case marker == 0xdd:
			d.restart = int(binary.BigEndian.Uint16(body))
		case marker == 0xee && len(body) >= 12 && string(body[:5]) == "Adobe" && body[11] != 1:
			return nil, errScaled // colours of another kind
		case marker == markerSOS:
			return body, nil
		case marker >= 0xc0 && marker <= 0xcf, marker >= markerRST0 && marker <= markerEOI, marker < 0xc0:
			return nil, errScaled
		}
		if err != nil {
			return nil, err
		}
	}
}

func (d *scaledDecoder) frame(body []byte) error {
	n := int(body[5])
	if d.components != nil || body[0] != 8 || n != 1 && n != 3 || len(body) != 6+3*n {
		return errScaled
	}
	d.height, d.width = int(binary.BigEndian.Uint16(body[1:])), int(binary.BigEndian.Uint16(body[3:]))
	for i := range n {
		c := body[6+3*i:]
		d.components = append(d.components, scaledComponent{id: c[0], h: int(c[1] >> 4), v: int(c[1] & 15), qt: c[2] & 3})
	}
	if n == 1 {
		d.components[0].h, d.components[0].v = 1, 1 // a lone component has one block to a unit (T.81, A.2.2)
		return nil
	}
	y, cb, cr := d.components[0], d.components[1], d.components[2]
	if y.h < 1 || y.h > 2 || y.v < 1 || y.v > 2 || cb.h != 1 || cb.v != 1 || cr.h != 1 || cr.v != 1 || y.id == 'R' && cb.id == 'G' {
		return errScaled
	}
	return nil
}

func (d *scaledDecoder) quantTables(body []byte) error {
	for len(body) > 0 {
		wide, to := body[0]>>4, body[0]&15
		var table [64]int32
		step := 1 + int(wide)
		if wide > 1 || to > 3 {
			return errScaled
		}
		for i := range table {
			if wide == 0 {
				table[i] = int32(body[1+i])
			} else {
				table[i] = int32(binary.BigEndian.Uint16(body[1+2*i:]))
			}
		}
		d.quant[to] = &table
		body = body[1+64*step:]
	}
	return nil
}

func (d *scaledDecoder) huffmanTables(body []byte) error {
	for len(body) > 0 {
		class, to := body[0]>>4, body[0]&15
		if class > 1 || to > 3 {
			return errScaled
		}
		table, used, err := newHuffman(body[1:])
		if err != nil {
			return err
		}
		d.tables[class][to] = table
		body = body[1+used:]
	}
	return nil
}

func (d *scaledDecoder) scanHead(body []byte) error {
	n := len(d.components)
	if len(body) != 4+2*n || int(body[0]) != n {
		return errScaled
	}
	for i := range d.components {
		c, said := &d.components[i], body[1+2*i:]
		if said[0] != c.id || said[1]>>4 > 3 || said[1]&15 > 3 {
			return errScaled
		}
		c.quant, c.dc, c.ac = d.quant[c.qt], d.tables[0][said[1]>>4], d.tables[1][said[1]&15]
		if c.quant == nil || c.dc == nil || c.ac == nil {
			return errScaled
		}
	}
	return nil
}
