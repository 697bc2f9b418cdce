package media

import "image"

// scan decodes the data of a baseline picture.
func (d *scaledDecoder) scan(points int) (*image.YCbCr, error) {
	unitsX, unitsY := d.planes(points)
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
					c.put(x*c.h+block%c.h, y*c.v+block/c.h, &f)
				}
			}
			if d.empty > d.have {
				return nil, errScaled // it ended within this unit
			}
		}
	}
	return d.picture(points), nil
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
