package media

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image"
)

// errScaled says that decodeScaled does not know a JPEG of this make, or found it damaged: the standard decoder has the word.
var errScaled = errors.New("not decoded to scale")

// decodeScaled decodes a baseline JPEG straight to a half or a quarter of its size, whichever is the smallest that is still at least width by
// height: of each block of 8 by 8 only the 4 by 4 or 2 by 2 lowest frequencies are kept and turned back (ITU-T T.81, A.3.3, with a transform of as
// many points). That takes a half to a third of the time and a quarter to a sixteenth of the memory of decoding all of it.
//
// It knows 8 bits, one grey or three YCbCr components in one scan, and the usual subsamplings. For anything else, for a picture that is not twice as
// large as wanted, and for anything that makes no sense, it returns an error, and the standard decoder is to be asked.
func decodeScaled(data []byte, width, height int) (img *image.YCbCr, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			img, err = nil, fmt.Errorf("%w: %v", errScaled, cause)
		}
	}()
	d := scaledDecoder{data: data}
	if err := d.head(); err != nil {
		return nil, err
	}
	for _, points := range []int{2, 4} {
		if w, h := d.scaled(points); w >= width && h >= height {
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

	hold  uint64 // bits read and not used, the next one highest
	have  int    // how many of them
	empty int    // how many of those stand for nothing: the data had ended
}

// scaled is the size of the picture at so many points of eight.
func (d *scaledDecoder) scaled(points int) (int, int) {
	return (d.width*points + 7) / 8, (d.height*points + 7) / 8
}

// head reads the segments up to the data of the scan.
func (d *scaledDecoder) head() error {
	if len(d.data) < 4 || d.data[0] != 0xff || d.data[1] != markerSOI {
		return errScaled
	}
	d.at = 2
	for {
		for d.data[d.at] != 0xff || d.data[d.at+1] == 0xff {
			d.at++
		}
		marker := d.data[d.at+1]
		size := int(binary.BigEndian.Uint16(d.data[d.at+2:]))
		body := d.data[d.at+4 : d.at+2+size]
		d.at += 2 + size
		var err error
		switch {
		case marker == 0xc0 || marker == 0xc1:
			err = d.frame(body)
		case marker == 0xc4:
			err = d.huffmanTables(body)
		case marker == 0xdb:
			err = d.quantTables(body)
		case marker == 0xdd:
			d.restart = int(binary.BigEndian.Uint16(body))
		case marker == 0xee && len(body) >= 12 && string(body[:5]) == "Adobe" && body[11] != 1:
			return errScaled // colours of another kind
		case marker == markerSOS:
			return d.scanHead(body)
		case marker >= 0xc0 && marker <= 0xcf, marker >= markerRST0 && marker <= markerEOI, marker < 0xc0:
			return errScaled
		}
		if err != nil {
			return err
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
	if n == 0 || d.width == 0 || d.height == 0 || len(body) != 4+2*n || int(body[0]) != n {
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

// lookAhead is how many bits of a code are looked up at once.
const lookAhead = 10

// huffman is a table of codes (T.81, annex C). Codes of up to lookAhead bits are looked up; longer ones are compared length by length.
type huffman struct {
	short  [1 << lookAhead]uint16 // value and, above it, the length; 0 for longer codes
	values []byte
	most   [17]int32 // greatest code of each length, -1 for none
	first  [17]int32 // what to add to a code of that length to find its value
}

func newHuffman(body []byte) (*huffman, int, error) {
	h, total := &huffman{}, 0
	for _, n := range body[:16] {
		total += int(n)
	}
	if total == 0 || total > 256 {
		return nil, 0, errScaled
	}
	h.values = body[16 : 16+total]
	code, k := int32(0), int32(0)
	for length := 1; length <= 16; length++ {
		n := int32(body[length-1])
		h.first[length], h.most[length] = k-code, -1
		if n > 0 {
			h.most[length] = code + n - 1
		}
		if code+n > 1<<length {
			return nil, 0, errScaled
		}
		for range n {
			if length <= lookAhead {
				at := code << (lookAhead - length)
				for i := range int32(1) << (lookAhead - length) {
					h.short[at+i] = uint16(length)<<8 | uint16(h.values[k])
				}
			}
			code++
			k++
		}
		code <<= 1
	}
	return h, 16 + total, nil
}

// fill sees to it that at least 48 bits are there.
func (d *scaledDecoder) fill() {
	for d.have <= 56 {
		b := byte(0)
		if d.at < len(d.data) {
			b = d.data[d.at]
		}
		switch {
		case d.at >= len(d.data) || b == 0xff && (d.at+1 >= len(d.data) || d.data[d.at+1] != 0):
			b = 0
			d.empty += 8
		case b == 0xff:
			d.at += 2
		default:
			d.at++
		}
		d.hold |= uint64(b) << (56 - d.have)
		d.have += 8
	}
}

func (d *scaledDecoder) use(n int) {
	d.hold <<= n
	d.have -= n
}

// symbol reads one code, of at most 16 bits.
func (d *scaledDecoder) symbol(h *huffman) byte {
	if e := h.short[d.hold>>(64-lookAhead)]; e != 0 {
		d.use(int(e >> 8))
		return byte(e)
	}
	for length := lookAhead + 1; length <= 16; length++ {
		if code := int32(d.hold >> (64 - length)); code <= h.most[length] {
			d.use(length)
			return h.values[code+h.first[length]]
		}
	}
	panic("no such code")
}

// number reads a value of s bits, which may be negative (T.81, F.2.2.1).
func (d *scaledDecoder) number(s int) int32 {
	if s == 0 {
		return 0
	}
	v := int32(d.hold >> (64 - s))
	d.use(s)
	if v < 1<<(s-1) {
		v -= 1<<s - 1
	}
	return v
}

// places says where the k-th coefficient in zigzag order lies among points by points, -1 where it is left out.
func places(points int) (out [64]int8) {
	row, column, up := 0, 0, true
	for k := range out {
		out[k] = -1
		if row < points && column < points {
			out[k] = int8(row*points + column)
		}
		switch {
		case up && column == 7:
			row, up = row+1, false
		case up && row == 0:
			column, up = column+1, false
		case !up && row == 7:
			column, up = column+1, true
		case !up && column == 0:
			row, up = row+1, true
		case up:
			row, column = row-1, column+1
		default:
			row, column = row+1, column-1
		}
	}
	return out
}

// scan decodes the data.
func (d *scaledDecoder) scan(points int) (*image.YCbCr, error) {
	across, down := d.components[0].h, d.components[0].v
	unitsX, unitsY := (d.width+8*across-1)/(8*across), (d.height+8*down-1)/(8*down)
	for i := range d.components {
		c := &d.components[i]
		c.points = points
		if points == 2 && across*down == 4 && i > 0 {
			c.points = 4 // the colours have half the samples to begin with: all that they have at this size is kept
		}
		c.at = places(c.points)
		c.stride = unitsX * c.h * c.points
		c.plane = make([]byte, c.stride*unitsY*c.v*c.points)
	}
	left, expect := d.restart, byte(markerRST0)
	for y := range unitsY {
		for x := range unitsX {
			if d.restart > 0 && left == 0 {
				if d.empty > d.have || !d.restarts(expect) {
					return nil, errScaled
				}
				left, expect = d.restart, markerRST0|(expect+1)&7
			}
			left--
			for i := range d.components {
				c := &d.components[i]
				for block := range c.h * c.v {
					var f [16]int32
					d.block(c, &c.at, &f)
					put := c.plane[((y*c.v+block/c.h)*c.stride+(x*c.h+block%c.h))*c.points:]
					if c.points == 2 {
						put2(put, c.stride, &f)
					} else {
						put4(put, c.stride, &f)
					}
				}
			}
			if d.empty > d.have {
				return nil, errScaled // it ended within this unit
			}
		}
	}
	width, height := d.scaled(points)
	img := &image.YCbCr{Y: d.components[0].plane, YStride: d.components[0].stride, Rect: image.Rect(0, 0, width, height)}
	if len(d.components) == 1 {
		img.CStride, img.SubsampleRatio = (width+1)/2, image.YCbCrSubsampleRatio420
		img.Cb = make([]byte, img.CStride*((height+1)/2))
		for i := range img.Cb {
			img.Cb[i] = 128
		}
		img.Cr = img.Cb
		return img, nil
	}
	img.Cb, img.Cr, img.CStride = d.components[1].plane, d.components[2].plane, d.components[1].stride
	img.SubsampleRatio = map[[2]int]image.YCbCrSubsampleRatio{
		{1, 1}: image.YCbCrSubsampleRatio444, {2, 1}: image.YCbCrSubsampleRatio422, {1, 2}: image.YCbCrSubsampleRatio440, {2, 2}: image.YCbCrSubsampleRatio420,
	}[[2]int{across, down}]
	if d.components[1].points > points {
		img.SubsampleRatio = image.YCbCrSubsampleRatio444
	}
	return img, nil
}

// restarts passes over the marker that is expected and forgets what went before it (T.81, F.2.1.3.1).
func (d *scaledDecoder) restarts(marker byte) bool {
	// What was filled in advance is at most padding: fill never reads past a marker.
	if d.have-d.empty >= 8 || d.at+1 >= len(d.data) || d.data[d.at] != 0xff || d.data[d.at+1] != marker {
		return false
	}
	d.at += 2
	d.hold, d.have, d.empty = 0, 0, 0
	for i := range d.components {
		d.components[i].previous = 0
	}
	return true
}

// block reads the coefficients of one block and keeps those that have a place, times their quantum.
func (d *scaledDecoder) block(c *scaledComponent, at *[64]int8, f *[16]int32) {
	d.fill()
	s := int(d.symbol(c.dc))
	if s > 11 {
		panic("too long a difference")
	}
	c.previous += d.number(s)
	f[0] = c.previous * c.quant[0]
	for k := 1; k < 64; k++ {
		if d.have < 32 {
			d.fill()
		}
		rs := d.symbol(c.ac)
		s := int(rs & 15)
		if s == 0 {
			if rs != 0xf0 {
				return
			}
			k += 15
			continue
		}
		k += int(rs >> 4)
		if to := at[k]; to >= 0 { // past the last coefficient this stops
			f[to] = d.number(s) * c.quant[k]
		} else {
			d.use(s)
		}
	}
}

// level makes a sample of what the transform gives, from which a half was taken: within 0 to 255.
func level(v int32) byte {
	v += 128
	if uint32(v) > 255 {
		v = ^(v >> 31) & 255
	}
	return byte(v)
}

// put2 turns 2 by 2 coefficients back: a transform of two points is a sum and a difference.
func put2(out []byte, stride int, f *[16]int32) {
	a, b, c, e := f[0]+4, f[1], f[2], f[3]
	out[0], out[1] = level((a+b+c+e)>>3), level((a-b+c-e)>>3)
	out[stride], out[stride+1] = level((a+b-c-e)>>3), level((a-b-c+e)>>3)
}

// The transform of four points, each pass times the square root of a half so that both together keep the mean of the block, in parts of 2^12.
const (
	even4 = 1448 // cos(pi/4)/2
	odd4A = 1892 // cos(pi/8)/2
	odd4B = 784  // cos(3 pi/8)/2
)

func put4(out []byte, stride int, f *[16]int32) {
	var half [16]int32
	for x := range 4 { // columns; the parts of 2^12 become parts of 2^4
		f0, f1, f2, f3 := f[x], f[4+x], f[8+x], f[12+x]
		e0, e1 := (f0+f2)*even4, (f0-f2)*even4
		o0, o1 := f1*odd4A+f3*odd4B, f1*odd4B-f3*odd4A
		half[x], half[4+x], half[8+x], half[12+x] = (e0+o0)>>8, (e1+o1)>>8, (e1-o1)>>8, (e0-o0)>>8
	}
	for y := range 4 {
		h := half[4*y : 4*y+4 : 4*y+4]
		row := out[y*stride : y*stride+4 : y*stride+4]
		e0, e1 := (h[0]+h[2])*even4+1<<15, (h[0]-h[2])*even4+1<<15
		o0, o1 := h[1]*odd4A+h[3]*odd4B, h[1]*odd4B-h[3]*odd4A
		row[0], row[1], row[2], row[3] = level((e0+o0)>>16), level((e1+o1)>>16), level((e1-o1)>>16), level((e0-o0)>>16)
	}
}
