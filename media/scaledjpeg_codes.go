package media

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
