package media

import "image"

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

// planes makes room for the samples, and says how many units the picture has across and down.
func (d *scaledDecoder) planes(points int) (unitsX, unitsY int) {
	across, down := d.components[0].h, d.components[0].v
	unitsX, unitsY = (d.width+8*across-1)/(8*across), (d.height+8*down-1)/(8*down)
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
	return unitsX, unitsY
}

// put turns the coefficients of one block back into its samples.
func (c *scaledComponent) put(x, y int, f *[16]int32) {
	to := c.plane[(y*c.stride+x)*c.points:]
	if c.points == 2 {
		put2(to, c.stride, f)
	} else {
		put4(to, c.stride, f)
	}
}

// picture is what the planes hold.
func (d *scaledDecoder) picture(points int) *image.YCbCr {
	across, down := d.components[0].h, d.components[0].v
	width, height := d.scaled(points)
	img := &image.YCbCr{Y: d.components[0].plane, YStride: d.components[0].stride, Rect: image.Rect(0, 0, width, height)}
	if len(d.components) == 1 {
		img.CStride, img.SubsampleRatio = (width+1)/2, image.YCbCrSubsampleRatio420
		img.Cb = make([]byte, img.CStride*((height+1)/2))
		for i := range img.Cb {
			img.Cb[i] = 128
		}
		img.Cr = img.Cb
		return img
	}
	img.Cb, img.Cr, img.CStride = d.components[1].plane, d.components[2].plane, d.components[1].stride
	img.SubsampleRatio = map[[2]int]image.YCbCrSubsampleRatio{
		{1, 1}: image.YCbCrSubsampleRatio444, {2, 1}: image.YCbCrSubsampleRatio422, {1, 2}: image.YCbCrSubsampleRatio440, {2, 2}: image.YCbCrSubsampleRatio420,
	}[[2]int{across, down}]
	if d.components[1].points > points {
		img.SubsampleRatio = image.YCbCrSubsampleRatio444
	}
	return img
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
