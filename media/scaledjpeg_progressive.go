package media

import "image"

// mostScans is how many scans of a progressive picture are read here: encoders write about ten. Each costs a look at every block.
const mostScans = 100

// progressiveScan is one scan of a progressive picture (T.81, G.1.1): some components, a band of coefficients, and which bit of them.
type progressiveScan struct {
	of         []*scaledComponent
	start, end int  // of the band in zigzag order
	low        int  // bits that are still to come after this scan
	refines    bool // it brings one more bit of what earlier scans began
	run        int  // blocks still to pass over: nothing in the band begins in them
}

// scans decodes a progressive picture. Of every block the coefficients that have a place are kept, and of the others only which of them are
// not zero, since the bits of later scans hang on that: a few bytes a block, where all coefficients would take 256.
func (d *scaledDecoder) scans(points int, head []byte) (*image.YCbCr, error) {
	unitsX, unitsY := d.planes(points)
	top := d.components[0]
	for i := range d.components {
		c := &d.components[i]
		c.across = unitsX * c.h
		// A scan of its own has no blocks beyond the component's edge (T.81, A.2.2).
		c.blocks, c.down = (d.width*c.h+8*top.h-1)/(8*top.h), (d.height*c.v+8*top.v-1)/(8*top.v)
		n := c.across * unitsY * c.v
		c.kept, c.seen = make([]int16, n*c.points*c.points), make([]uint64, n)
	}
	for n := 0; head != nil; n++ {
		s, err := d.progressiveHead(head)
		if err != nil || n == mostScans {
			return nil, errScaled
		}
		if err := d.progressiveData(&s, unitsX, unitsY); err != nil {
			return nil, err
		}
		if head, err = d.segments(); err != nil {
			return nil, err
		}
	}
	for i := range d.components {
		if err := d.components[i].back(d.quant[d.components[i].qt]); err != nil {
			return nil, err
		}
	}
	return d.picture(points), nil
}

// progressiveHead reads the head of a scan.
func (d *scaledDecoder) progressiveHead(body []byte) (progressiveScan, error) {
	n := int(body[0])
	if n < 1 || n > len(d.components) || len(body) != 4+2*n {
		return progressiveScan{}, errScaled
	}
	s := progressiveScan{start: int(body[1+2*n]), end: int(body[2+2*n]), low: int(body[3+2*n] & 15)}
	high := int(body[3+2*n] >> 4)
	s.refines = high != 0
	if s.start > s.end || s.end > 63 || s.low > 13 || s.refines && s.low != high-1 || s.start == 0 && s.end != 0 || s.start > 0 && n > 1 {
		return progressiveScan{}, errScaled
	}
	for i := range n {
		said := body[1+2*i:]
		for k := range d.components {
			if c := &d.components[k]; c.id == said[0] {
				if said[1]>>4 > 3 || said[1]&15 > 3 {
					return progressiveScan{}, errScaled
				}
				c.dc, c.ac, c.previous = d.tables[0][said[1]>>4], d.tables[1][said[1]&15], 0
				s.of = append(s.of, c)
			}
		}
	}
	if len(s.of) != n || n > 1 && n != len(d.components) {
		return progressiveScan{}, errScaled
	}
	for _, c := range s.of {
		if s.start == 0 && !s.refines && c.dc == nil || s.start > 0 && c.ac == nil {
			return progressiveScan{}, errScaled
		}
	}
	return s, nil
}

// progressiveData reads the data of a scan, in units where it holds all components, else in the blocks of one.
func (d *scaledDecoder) progressiveData(s *progressiveScan, unitsX, unitsY int) error {
	d.hold, d.have, d.empty = 0, 0, 0
	if len(s.of) == 1 {
		unitsX, unitsY = s.of[0].blocks, s.of[0].down
	}
	left, expect := d.restart, byte(markerRST0)
	for y := range unitsY {
		for x := range unitsX {
			if d.restart > 0 && left == 0 {
				if d.empty > d.have || !d.restarts(expect) {
					return errScaled
				}
				left, expect, s.run = d.restart, markerRST0|(expect+1)&7, 0
			}
			left--
			if len(s.of) == 1 {
				d.progressiveBlock(s, s.of[0], y*s.of[0].across+x)
			} else {
				for _, c := range s.of {
					for block := range c.h * c.v {
						d.progressiveBlock(s, c, (y*c.v+block/c.h)*c.across+x*c.h+block%c.h)
					}
				}
			}
		}
		if d.empty > d.have {
			return errScaled // it ended within this row
		}
	}
	if d.have-d.empty >= 8 {
		return errScaled // more came than there are blocks for
	}
	return nil
}

// progressiveBlock reads what a scan has of one block.
func (d *scaledDecoder) progressiveBlock(s *progressiveScan, c *scaledComponent, at int) {
	n := c.points * c.points
	kept := c.kept[at*n : at*n+n : at*n+n]
	switch {
	case s.start == 0 && s.refines:
		kept[0] |= int16(d.bit()) << s.low
	case s.start == 0:
		d.fill()
		size := int(d.symbol(c.dc))
		if size > 11 {
			panic("too long a difference")
		}
		c.previous += d.number(size)
		kept[0] = int16(c.previous << s.low)
	case s.refines:
		d.refine(s, c, kept, &c.seen[at])
	case s.run > 0:
		s.run--
	default:
		d.begin(s, c, kept, &c.seen[at])
	}
}

// begin reads the first bits of a band (T.81, G.1.2.2).
func (d *scaledDecoder) begin(s *progressiveScan, c *scaledComponent, kept []int16, seen *uint64) {
	for k := s.start; k <= s.end; k++ {
		if d.have < 32 {
			d.fill()
		}
		rs := d.symbol(c.ac)
		zeros, size := int(rs>>4), int(rs&15)
		if size == 0 {
			if zeros < 15 {
				s.run = d.passes(zeros) - 1
				return
			}
			k += 15
			continue
		}
		k += zeros
		if k > s.end {
			panic("a coefficient beyond its band")
		}
		*seen |= 1 << k
		if to := c.at[k]; to >= 0 {
			kept[to] = int16(d.number(size) << s.low)
		} else {
			d.use(size)
		}
	}
}

// passes reads how many blocks, this one included, have nothing more in the band.
func (d *scaledDecoder) passes(size int) int {
	n := 1 << size
	if size > 0 {
		n += int(d.hold >> (64 - size))
		d.use(size)
	}
	return n
}

// refine reads one more bit of a band (T.81, G.1.2.3): of each coefficient that is not zero yet whether it begins now, and of each other one
// whether it grows.
func (d *scaledDecoder) refine(s *progressiveScan, c *scaledComponent, kept []int16, seen *uint64) {
	step := int16(1) << s.low
	k := s.start
	for s.run == 0 && k <= s.end {
		if d.have < 32 {
			d.fill()
		}
		rs := d.symbol(c.ac)
		zeros, begins := int(rs>>4), int16(0)
		switch rs & 15 {
		case 0:
			if zeros < 15 {
				s.run = d.passes(zeros)
			}
		case 1:
			begins = -step
			if d.bit() == 1 {
				begins = step
			}
		default:
			panic("a coefficient that begins with more than one bit")
		}
		if s.run > 0 {
			break
		}
		for ; k <= s.end; k++ {
			if *seen>>k&1 == 1 {
				d.grow(c.at[k], kept, step)
				continue
			}
			if zeros == 0 {
				break
			}
			zeros--
		}
		if begins != 0 {
			if k > s.end {
				panic("a coefficient beyond its band")
			}
			*seen |= 1 << k
			if to := c.at[k]; to >= 0 {
				kept[to] = begins
			}
		}
		k++
	}
	if s.run == 0 {
		return
	}
	s.run--
	for ; k <= s.end; k++ {
		if *seen>>k&1 == 1 {
			d.grow(c.at[k], kept, step)
		}
	}
}

// grow reads whether a coefficient that is not zero has the next bit, and adds it away from zero where it is kept.
func (d *scaledDecoder) grow(to int8, kept []int16, step int16) {
	if d.bit() == 0 || to < 0 {
		return
	}
	if kept[to] < 0 {
		step = -step
	}
	kept[to] += step
}

// bit reads one bit.
func (d *scaledDecoder) bit() int {
	if d.have < 1 {
		d.fill()
	}
	b := int(d.hold >> 63)
	d.use(1)
	return b
}

// back turns what is kept of every block into samples.
func (c *scaledComponent) back(quant *[64]int32) error {
	if quant == nil {
		return errScaled
	}
	var by [16]int32
	for k, to := range c.at {
		if to >= 0 {
			by[to] = quant[k]
		}
	}
	n := c.points * c.points
	for at := range c.seen {
		var f [16]int32
		for i, v := range c.kept[at*n : at*n+n] {
			f[i] = int32(v) * by[i]
		}
		c.put(at%c.across, at/c.across, &f)
	}
	return nil
}
