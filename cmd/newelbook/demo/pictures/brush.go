package pictures

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"

	"golang.org/x/image/vector"
)

// pt is a point of the picture in pixels, y downwards.
type pt struct{ X, Y float64 }

func (p pt) add(q pt) pt           { return pt{p.X + q.X, p.Y + q.Y} }
func (p pt) sub(q pt) pt           { return pt{p.X - q.X, p.Y - q.Y} }
func (p pt) mul(k float64) pt      { return pt{p.X * k, p.Y * k} }
func (p pt) len() float64          { return math.Hypot(p.X, p.Y) }
func (p pt) to(q pt, k float64) pt { return pt{p.X + (q.X-p.X)*k, p.Y + (q.Y-p.Y)*k} }

// left is p turned a quarter turn, for the side of a line.
func (p pt) left() pt { return pt{p.Y, -p.X} }

// unit is p with length 1, or zero.
func (p pt) unit() pt {
	if n := p.len(); n > 1e-9 {
		return p.mul(1 / n)
	}
	return pt{}
}

// rgb is a colour, 0 to 1 each.
type rgb [3]float64

// hex makes a colour of 0xrrggbb.
func hex(v uint32) rgb {
	return rgb{float64(v>>16&255) / 255, float64(v>>8&255) / 255, float64(v&255) / 255}
}

// to mixes two colours.
func (c rgb) to(d rgb, k float64) rgb {
	return rgb{c[0] + (d[0]-c[0])*k, c[1] + (d[1]-c[1])*k, c[2] + (d[2]-c[2])*k}
}

// ink is what a shape is filled with.
type ink struct {
	col   rgb
	alpha float64
	// wash multiplies with what is below, as watercolour does; otherwise the ink covers.
	wash bool
	// tooth is how far the grain of the paper breaks the ink, mottle how far the pigment pools in it; 0 to 1.
	tooth, mottle float64
}

// The paper is that of the product's own sheet (sheet.css); graphite is warmer than the sheet's, as a soft pencil is.
var (
	paper    = hex(0xfbf7ec)
	graphite = hex(0x3d3832)
	redLead  = hex(0xad1f17)
	verdigr  = hex(0x17614f)
)

const noiseSize = 256

// sheet is the picture while it is drawn.
type sheet struct {
	img    *image.RGBA
	w, h   int
	rng    *rand.Rand
	faces  lettering
	raster *vector.Rasterizer
	mask   *image.Alpha
	tooth  []float64 // fine grain of the paper, 0 to 1, a tile of noiseSize squared
	pool   []float64 // broad unevenness, 0 to 1, w by h
}

func newSheet(w, h int, rng *rand.Rand) (*sheet, error) {
	faces, err := newLettering()
	if err != nil {
		return nil, err
	}
	s := &sheet{
		img: image.NewRGBA(image.Rect(0, 0, w, h)), w: w, h: h, rng: rng, faces: faces,
		raster: vector.NewRasterizer(w, h), mask: image.NewAlpha(image.Rect(0, 0, w, h)),
	}
	s.grainPaper()
	draw.Draw(s.img, s.img.Bounds(), image.NewUniform(paper.rgba()), image.Point{}, draw.Src)
	s.fill([][]pt{rect(0, 0, float64(w), float64(h))}, ink{col: hex(0xefe4cc), alpha: 0.55, wash: true, mottle: 0.9})
	return s, nil
}

func (c rgb) rgba() color.RGBA {
	return color.RGBA{uint8(c[0]*255 + 0.5), uint8(c[1]*255 + 0.5), uint8(c[2]*255 + 0.5), 255}
}

// grainPaper makes the two fields of unevenness.
func (s *sheet) grainPaper() {
	raw := make([]float64, noiseSize*noiseSize)
	for i := range raw {
		raw[i] = s.rng.Float64()
	}
	at := func(x, y int) float64 { return raw[(y&(noiseSize-1))*noiseSize+x&(noiseSize-1)] }
	s.tooth = make([]float64, len(raw))
	for y := range noiseSize {
		for x := range noiseSize {
			s.tooth[y*noiseSize+x] = (at(x, y)*2 + at(x+1, y) + at(x, y+1) + at(x-1, y) + at(x, y-1)) / 6
		}
	}
	s.pool = make([]float64, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			fx, fy := float64(x), float64(y)
			s.pool[y*s.w+x] = 0.62*smooth(at, fx/150, fy/150) + 0.38*smooth(at, fx/46+90, fy/46+31)
		}
	}
}

// smooth is value noise between the points of a lattice.
func smooth(at func(x, y int) float64, x, y float64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	u, v := x-x0, y-y0
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	i, j := int(x0), int(y0)
	top := at(i, j)*(1-u) + at(i+1, j)*u
	low := at(i, j+1)*(1-u) + at(i+1, j+1)*u
	return top*(1-v) + low*v
}

// fill lays ink inside closed paths, by the non-zero rule.
func (s *sheet) fill(paths [][]pt, k ink) {
	box := s.coverage(paths)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := s.mask.Pix[(y-box.Min.Y)*s.mask.Stride:]
		for x := box.Min.X; x < box.Max.X; x++ {
			m := row[x-box.Min.X]
			if m == 0 {
				continue
			}
			a := k.alpha * float64(m) / 255
			if k.tooth > 0 {
				a *= 1 - k.tooth*s.tooth[(y&(noiseSize-1))*noiseSize+x&(noiseSize-1)]
			}
			if k.mottle > 0 {
				a *= 1 - k.mottle*(s.pool[y*s.w+x]-0.15)
			}
			s.blend(s.img.PixOffset(x, y), k, min(max(a, 0), 1))
		}
	}
}

// coverage rasters the paths into the mask and returns the part of the picture that its top left corner stands for.
func (s *sheet) coverage(paths [][]pt) image.Rectangle {
	lo, hi := pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, path := range paths {
		for _, p := range path {
			lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
			hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
		}
	}
	if !(lo.X < hi.X+1) {
		return image.Rectangle{}
	}
	within := func(v, top float64) int { return int(min(max(v, 0), top)) }
	w, h := float64(s.w), float64(s.h)
	box := image.Rect(within(math.Floor(lo.X), w), within(math.Floor(lo.Y), h), within(math.Ceil(hi.X), w), within(math.Ceil(hi.Y), h))
	if box.Empty() {
		return box
	}
	s.raster.Reset(box.Dx(), box.Dy())
	dx, dy := float64(box.Min.X), float64(box.Min.Y)
	for _, path := range paths {
		for i, p := range path {
			x, y := float32(p.X-dx), float32(p.Y-dy)
			if i == 0 {
				s.raster.MoveTo(x, y)
			} else {
				s.raster.LineTo(x, y)
			}
		}
		s.raster.ClosePath()
	}
	s.raster.DrawOp = draw.Src
	s.raster.Draw(s.mask, image.Rect(0, 0, box.Dx(), box.Dy()), image.Opaque, image.Point{})
	return box
}

func (s *sheet) blend(at int, k ink, a float64) {
	p := s.img.Pix[at : at+3 : at+3]
	for i := range p {
		old := float64(p[i])
		to := k.col[i] * 255
		if k.wash {
			to = k.col[i] * old
		}
		p[i] = uint8(old + (to-old)*a + 0.5)
	}
}

// spread is a number from -k to k.
func (s *sheet) spread(k float64) float64 { return (s.rng.Float64()*2 - 1) * k }

// between is a number from a to b.
func (s *sheet) between(a, b float64) float64 { return a + s.rng.Float64()*(b-a) }

func rect(x, y, w, h float64) []pt { return []pt{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}} }
