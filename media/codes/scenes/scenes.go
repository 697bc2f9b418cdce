// Package scenes draws pictures of a tag with a square code on a wall of boards, as a camera might take them: for the tests of reading
// such codes. It is no camera: what it leaves out, such as gloss, folds and a lens's own errors, is not tried by it.
package scenes

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"rsc.io/qr"
)

// Scene says how a tag is seen. Lengths are in pixels of the picture, angles in degrees.
type Scene struct {
	Width, Height int
	Code          float64 // side of the code without its light margin, were it seen square on
	Turn          float64 // in the plane of the picture
	Yaw, Pitch    float64 // away from square on
	Light         float64 // 1 is full light, 0 none
	Haze          float64 // greys of light over everything
	Falloff       float64 // share of the light that is lost from one side of the picture to the other
	Shadow        bool    // one with a hard edge lies over the code and takes six tenths of the light
	Blur          float64 // standard deviation
	Shake         float64 // length of a sideways movement
	Noise         float64 // standard deviation in greys
	Dirt          float64 // share of the code under specks of a third of a module to one and a fifth in radius
	Quality       int     // of the JPEG that it went through, 0 for none
}

// Greys of the scene in full light, as shares of white. Focal is the focal length as a share of the picture's longer side: that of
// most phones (common practice, no source).
const (
	paper = 0.93
	black = 0.07
	soil  = 0.3
	focal = 0.8
)

// Margin is the light margin around a code, in modules; below it the tag goes on by another Foot modules with lettering.
const (
	Margin = 4
	Foot   = 6
)

// Draw draws the scene with a code of so many modules a side; dark says which are dark, by column and row. The same random numbers give
// the same picture.
func Draw(s Scene, modules int, dark func(x, y int) bool, rnd *rand.Rand) *image.Gray {
	p := &picture{w: s.Width, h: s.Height, grey: make([]float64, s.Width*s.Height)}
	p.boards(rnd)
	cx, cy := middle(s.Width, s.Code, rnd), middle(s.Height, s.Code, rnd)
	p.tag(s, modules, dark, cx, cy, rnd)
	p.light(s, cx, cy, rnd)
	p.blur(s.Blur)
	p.shake(int(s.Shake))
	img := image.NewGray(image.Rect(0, 0, s.Width, s.Height))
	for i, v := range p.grey {
		if s.Noise > 0 {
			v += rnd.NormFloat64() * s.Noise
		}
		img.Pix[i] = byte(max(0, min(255, v+0.5)))
	}
	if s.Quality > 0 {
		return throughJPEG(img, s.Quality)
	}
	return img
}

// middle is where a tag's middle lies along a side of the picture: wherever all of it is seen, or in the middle.
func middle(side int, code float64, rnd *rand.Rand) float64 {
	room, at := 0.95*code, rnd.Float64()
	return room + at*(float64(side)-2*room)
}

type picture struct {
	w, h int
	grey []float64
}

// boards fills the picture with boards, their grain and the gaps between them.
func (p *picture) boards(rnd *rand.Rand) {
	board, phase, upright := float64(p.w)/12*(1+rnd.Float64()), rnd.Float64()*100, rnd.IntN(2) == 0
	for y := range p.h {
		for x := range p.w {
			u, v := float64(x), float64(y)
			if !upright {
				u, v = v, u
			}
			n := math.Floor(u / board)
			g := 0.42 + 0.12*math.Sin(n*12.9898+phase) + 0.05*math.Sin(u*0.9+3*math.Sin(v*0.01+n)) + 0.03*math.Sin(v*0.07+u*0.3)
			if u-n*board < 3 {
				g = 0.08
			}
			p.grey[y*p.w+x] = g
		}
	}
}

type vector [3]float64

func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// turned is a vector in the tag's plane as the camera has it.
func (s Scene) turned(x, y float64) vector {
	sin, cos := math.Sincos(s.Turn * math.Pi / 180)
	x, y = x*cos-y*sin, x*sin+y*cos
	sin, cos = math.Sincos(s.Yaw * math.Pi / 180)
	x, z := x*cos, -x*sin
	sin, cos = math.Sincos(s.Pitch * math.Pi / 180)
	return vector{x, y*cos - z*sin, y*sin + z*cos}
}

// tag puts the tag into the picture, its middle at (cx, cy).
func (p *picture) tag(s Scene, modules int, dark func(x, y int) bool, cx, cy float64, rnd *rand.Rand) {
	n := float64(modules)
	f := focal * float64(max(p.w, p.h))
	far := vector{0, 0, f * n / s.Code}
	e1, e2 := s.turned(1, 0), s.turned(0, 1)
	normal := e1.cross(e2)
	specks := dirt(s.Dirt, n, rnd)
	// The grey of the tag where the ray through a place in the picture meets it; false beside it.
	at := func(x, y float64) (float64, bool) {
		ray := vector{(x - cx) / f, (y - cy) / f, 1}
		d := far.dot(normal) / ray.dot(normal)
		off := vector{ray[0] * d, ray[1] * d, ray[2]*d - far[2]}
		u, v := off.dot(e1)+n/2, off.dot(e2)+n/2
		if d <= 0 || u < -Margin || v < -Margin || u > n+Margin || v > n+Margin+Foot {
			return 0, false
		}
		for _, k := range specks {
			if math.Hypot(u-k[0], v-k[1]) < k[2] {
				return soil, true
			}
		}
		lettered := v > n+2 && v < n+8 && u > 1 && u < n-1 && int(u/1.7)%2 == 0
		if lettered || u >= 0 && v >= 0 && u < n && v < n && dark(int(u), int(v)) {
			return black, true
		}
		return paper, true
	}
	reach := int(s.Code*1.3) + 2
	for y := max(0, int(cy)-reach); y < min(p.h, int(cy)+reach); y++ {
		for x := max(0, int(cx)-reach); x < min(p.w, int(cx)+reach); x++ {
			const fine = 3
			sum := 0.0
			for k := range fine * fine {
				g, on := at(float64(x)+(float64(k%fine)+0.5)/fine, float64(y)+(float64(k/fine)+0.5)/fine)
				if !on {
					g = p.grey[y*p.w+x]
				}
				sum += g
			}
			p.grey[y*p.w+x] = sum / fine / fine
		}
	}
}

// dirt is specks, each with its place and radius in modules, that cover a share of a code of n by n.
func dirt(share, n float64, rnd *rand.Rand) (specks []vector) {
	for area := 0.0; area < share*n*n; {
		r := 0.3 + rnd.Float64()*0.9
		specks = append(specks, vector{rnd.Float64() * n, rnd.Float64() * n, r})
		area += math.Pi * r * r
	}
	return specks
}

func (p *picture) light(s Scene, cx, cy float64, rnd *rand.Rand) {
	fall, edge := rnd.Float64()*2*math.Pi, rnd.Float64()*2*math.Pi
	cx, cy = cx+(rnd.Float64()-0.5)*s.Code/2, cy+(rnd.Float64()-0.5)*s.Code/2
	fs, fc := math.Sincos(fall)
	es, ec := math.Sincos(edge)
	for y := range p.h {
		for x := range p.w {
			light := s.Light * (1 - s.Falloff*(0.5+(fc*(float64(x)/float64(p.w)-0.5)+fs*(float64(y)/float64(p.h)-0.5))/math.Sqrt2))
			if s.Shadow && (float64(x)-cx)*ec+(float64(y)-cy)*es > 0 {
				light *= 0.4
			}
			p.grey[y*p.w+x] = p.grey[y*p.w+x]*light*255 + s.Haze
		}
	}
}

// blur is Gauss's, across and then down.
func (p *picture) blur(sigma float64) {
	if sigma <= 0 {
		return
	}
	r := int(math.Ceil(2.5 * sigma))
	kernel, sum := make([]float64, 2*r+1), 0.0
	for i := range kernel {
		kernel[i] = math.Exp(-float64((i-r)*(i-r)) / 2 / sigma / sigma)
		sum += kernel[i]
	}
	pass := func(step, length, next, lines int) {
		line := make([]float64, length+2*r)
		for l := range lines {
			for i := range line {
				line[i] = p.grey[l*next+max(0, min(length-1, i-r))*step]
			}
			for i := range length {
				v := 0.0
				for k, f := range kernel {
					v += f * line[i+k]
				}
				p.grey[l*next+i*step] = v / sum
			}
		}
	}
	pass(1, p.w, p.w, p.h)
	pass(p.w, p.h, 1, p.w)
}

// shake smears the picture sideways.
func (p *picture) shake(n int) {
	if n < 2 {
		return
	}
	for y := range p.h {
		row := p.grey[y*p.w:][:p.w]
		for x := range row {
			v := 0.0
			for k := range n {
				v += row[min(p.w-1, x+k)] // those to the right are not written yet
			}
			row[x] = v / float64(n)
		}
	}
}

// Code is the code of a text as place tags have it: how many modules it has a side, and which are dark.
func Code(text string) (modules int, dark func(x, y int) bool) {
	code, err := qr.Encode(text, qr.Q)
	if err != nil {
		panic(fmt.Sprintf("encode %q: %v", text, err)) // a text that no code holds
	}
	return code.Size, code.Black
}

// Photo is a JPEG of 900 by 700 pixels that shows a tag of a text, a little aslant. Another n is another picture.
func Photo(text string, n int) []byte {
	modules, dark := Code(text)
	s := Scene{Width: 900, Height: 700, Code: 130, Turn: 8, Yaw: 15, Light: 0.8, Noise: 3, Blur: 0.6}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, Draw(s, modules, dark, rand.New(rand.NewPCG(1, uint64(n)))), nil); err != nil {
		panic(fmt.Sprintf("encode scene: %v", err)) // a buffer takes everything
	}
	return b.Bytes()
}

func throughJPEG(img *image.Gray, quality int) *image.Gray {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		panic(fmt.Sprintf("encode scene: %v", err)) // a buffer takes everything
	}
	out, err := jpeg.Decode(&b)
	if err != nil {
		panic(fmt.Sprintf("decode scene: %v", err)) // what was just encoded
	}
	return out.(*image.Gray)
}
