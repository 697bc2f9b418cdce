package codes

import "image"

// block is the side, in pixels, of the squares whose mean grey is known; around is how many squares to each side make up the
// surroundings that a pixel is held against. A module may be as broad as about a third of them.
const (
	block  = 8
	around = 3
)

// ink is by how many greys a pixel is darker than its surroundings to count as dark.
const ink = 4

// grey is a picture in greys, row by row, and the light that it lies in.
type grey struct {
	pix   []byte
	w, h  int
	level []byte // mean grey around each square
	lw    int    // squares in a row
	dark  []bool // of each pixel
}

func greyOf(img *image.Gray) *grey {
	g := &grey{w: img.Rect.Dx(), h: img.Rect.Dy()}
	if img.Stride == g.w {
		g.pix = img.Pix[:g.w*g.h]
		return g
	}
	g.pix = make([]byte, 0, g.w*g.h)
	for y := range g.h {
		g.pix = append(g.pix, img.Pix[y*img.Stride:][:g.w]...)
	}
	return g
}

// half is the picture at half its size.
func (g *grey) half() *grey {
	out := &grey{w: g.w / 2, h: g.h / 2}
	out.pix = make([]byte, out.w*out.h)
	for y := range out.h {
		upper, lower := g.pix[2*y*g.w:][:2*out.w], g.pix[(2*y+1)*g.w:][:2*out.w]
		row := out.pix[y*out.w:][:out.w]
		for x := range row {
			row[x] = byte((int(upper[2*x]) + int(upper[2*x+1]) + int(lower[2*x]) + int(lower[2*x+1]) + 2) / 4)
		}
	}
	return out
}

// ground finds out how light it is around each square, and which pixels are darker than that.
func (g *grey) ground() {
	g.lw = (g.w + block - 1) / block
	lh := (g.h + block - 1) / block
	// sums[(y+1)*(lw+1)+x+1] is the sum of all pixels of the squares above and left of a square's far corner.
	sums := make([]int64, (g.lw+1)*(lh+1))
	for by := range lh {
		row := make([]int64, g.lw)
		for y := by * block; y < min(g.h, (by+1)*block); y++ {
			line := g.pix[y*g.w:][:g.w]
			for bx := range row {
				var s int64
				for _, v := range line[bx*block : min(g.w, (bx+1)*block)] {
					s += int64(v)
				}
				row[bx] += s
			}
		}
		var s int64
		for bx, v := range row {
			s += v
			sums[(by+1)*(g.lw+1)+bx+1] = sums[by*(g.lw+1)+bx+1] + s
		}
	}
	g.level = make([]byte, g.lw*lh)
	g.dark = make([]bool, g.w*g.h)
	for by := range lh {
		top, bottom := max(0, by-around), min(lh, by+around+1)
		for bx := range g.lw {
			left, right := max(0, bx-around), min(g.lw, bx+around+1)
			sum := sums[bottom*(g.lw+1)+right] - sums[top*(g.lw+1)+right] - sums[bottom*(g.lw+1)+left] + sums[top*(g.lw+1)+left]
			n := int64(min(g.w, right*block)-left*block) * int64(min(g.h, bottom*block)-top*block)
			g.level[by*g.lw+bx] = byte(sum / n)
		}
		for y := by * block; y < min(g.h, (by+1)*block); y++ {
			g.darken(y, g.level[by*g.lw:][:g.lw])
		}
	}
}

// darken marks the dark pixels of a row, whose squares have these levels.
func (g *grey) darken(y int, level []byte) {
	line, dark := g.pix[y*g.w:][:g.w], g.dark[y*g.w:][:g.w]
	for bx, l := range level {
		from, to := bx*block, min(g.w, (bx+1)*block)
		part := dark[from:to]
		for x, v := range line[from:to] {
			part[x] = int(v)+ink < int(l)
		}
	}
}

// between is the grey at a place between pixels, and the level there; false outside the picture. Centres of pixels are at halves.
func (g *grey) between(x, y float64) (v, level float64, ok bool) {
	x, y = x-0.5, y-0.5
	if !(x >= 0 && y >= 0 && x < float64(g.w-1) && y < float64(g.h-1)) {
		return 0, 0, false
	}
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	upper, lower := g.pix[j*g.w+i:][:2], g.pix[(j+1)*g.w+i:][:2]
	v = (float64(upper[0])*(1-fx)+float64(upper[1])*fx)*(1-fy) + (float64(lower[0])*(1-fx)+float64(lower[1])*fx)*fy
	return v, float64(g.level[j/block*g.lw+i/block]), true
}
