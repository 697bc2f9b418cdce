package main

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/disintegration/imaging"
)

// A telephone's camera of 12 megapixels: 4000 by 3000, with a main lens worth 26 mm on a film frame, of which the diagonal is 43.27 mm
// (common practice, no source).
const (
	phoneWide, phoneHigh = 4000, 3000
	phoneFocal           = 26 / 43.27 * 5000 // pixels
)

// Shares of the light that come back from the printed tag's white and black and, on average, from what else is in a photograph (common
// practice, no source).
const (
	printWhite, printBlack = 0.85, 0.05
	aroundIt               = 0.3
)

// backdrop is a real photograph at the phone's size, with what a tag put into it must share: how soft its edges are, and its grain.
type backdrop struct {
	name  string
	exif  []byte // the segment of the file that holds it, to go along
	img   *image.NRGBA
	light []float64 // of each pixel, linear, 1 for white
	soft  float64   // standard deviation of the blur of its sharpest edges, pixels
	grain float64   // standard deviation of its noise, greys
}

// asBackdrop brings a JPEG to the phone's size.
func asBackdrop(name string, file []byte) (*backdrop, error) {
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		return nil, err
	}
	b := &backdrop{name: name, exif: exifSegment(file), img: imaging.Fill(img, phoneWide, phoneHigh, imaging.Center, imaging.CatmullRom)}
	b.light = make([]float64, phoneWide*phoneHigh)
	grey := make([]float64, len(b.light))
	for i := range b.light {
		p := b.img.Pix[4*i:]
		b.light[i] = 0.2126*linear[p[0]] + 0.7152*linear[p[1]] + 0.0722*linear[p[2]] // Rec. 709
		grey[i] = 0.299*float64(p[0]) + 0.587*float64(p[1]) + 0.114*float64(p[2])    // Rec. 601
	}
	b.soft, b.grain = softness(grey), grain(grey)
	return b, nil
}

// exifSegment is the first APP1 segment of a JPEG that holds Exif, with its mark; nil for a file that has none.
func exifSegment(file []byte) []byte {
	for at := 2; at+4 < len(file) && file[at] == 0xff && file[at+1] != 0xda; {
		size := 2 + int(binary.BigEndian.Uint16(file[at+2:]))
		if file[at+1] == 0xe1 && at+size <= len(file) && bytes.HasPrefix(file[at+4:], []byte("Exif\x00\x00")) {
			return file[at:][:size]
		}
		at += size
	}
	return nil
}

// linear is the light of a value of sRGB (IEC 61966-2-1).
var linear = func() (out [256]float64) {
	for i := range out {
		if v := float64(i) / 255; v <= 0.04045 {
			out[i] = v / 12.92
		} else {
			out[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return out
}()

// stored is the value of a light in sRGB, 0 to 255, not rounded.
func stored(light float64) float64 {
	if light <= 0.0031308 {
		return 255 * 12.92 * max(0, light)
	}
	return 255 * (1.055*math.Pow(min(1, light), 1/2.4) - 0.055)
}

// softness is the blur of the sharpest edges: across an edge blurred by s the slope is the step over s times the root of two pi.
func softness(grey []float64) float64 {
	var found []float64
	const reach = 5
	for y := reach; y < phoneHigh-reach; y += 3 {
		for x := reach; x < phoneWide-reach; x++ {
			row := grey[y*phoneWide+x-reach:][:2*reach+1]
			slope := math.Abs(row[reach+1]-row[reach-1]) / 2
			if step := slices.Max(row) - slices.Min(row); step > 80 {
				found = append(found, step/math.Sqrt(2*math.Pi)/max(slope, 1))
			}
		}
	}
	if len(found) == 0 {
		return 1
	}
	slices.Sort(found)
	return max(0.6, found[len(found)/20])
}

// grain is the noise where a photograph has least else in it: Immerkær's measure ("Fast Noise Variance Estimation", 1996, from memory) of
// the calmest tenth of its squares of 50 pixels.
func grain(grey []float64) float64 {
	const side = 50
	var found []float64
	for top := 1; top+side < phoneHigh; top += side {
		for left := 1; left+side < phoneWide; left += side {
			sum := 0.0
			for y := top; y < top+side; y++ {
				for x := left; x < left+side; x++ {
					at := func(dx, dy int) float64 { return grey[(y+dy)*phoneWide+x+dx] }
					sum += math.Abs(at(-1, -1) + at(1, -1) + at(-1, 1) + at(1, 1) - 2*(at(0, -1)+at(0, 1)+at(-1, 0)+at(1, 0)) + 4*at(0, 0))
				}
			}
			found = append(found, math.Sqrt(math.Pi/2)*sum/6/side/side)
		}
	}
	slices.Sort(found)
	return max(2, found[len(found)/10])
}

// printed is a tag off a printed page, a grey for each dot, with the width and height of its paper in millimetres.
type printed struct {
	page          *image.Gray
	width, height float64
}

// grey is the share of light that comes back from a place of the tag, millimetres from its upper left.
func (p printed) grey(x, y float64) float64 {
	b := p.page.Bounds()
	u := min(b.Dx()-1, int(x/p.width*float64(b.Dx())))
	v := min(b.Dy()-1, int(y/p.height*float64(b.Dy())))
	return printBlack + (printWhite-printBlack)*float64(p.page.GrayAt(b.Min.X+u, b.Min.Y+v).Y)/255
}

// hung says where a tag hangs: the pixel of its middle, how far from the lens in millimetres, and by how many degrees it is turned about
// its upright, its level and the line of sight. shake is by how many pixels the hand moved it sideways.
type hung struct {
	x, y, far, yaw, pitch, roll, shake float64
}

type vec [3]float64

func (a vec) dot(b vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// axes are the tag's own across, down and away as the camera has them.
func (h hung) axes() (across, down, away vec) {
	turn := func(v vec, i, j int, degrees float64) vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		v[i], v[j] = v[i]*cos-v[j]*sin, v[i]*sin+v[j]*cos
		return v
	}
	all := [3]vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for k := range all {
		all[k] = turn(turn(turn(all[k], 0, 1, h.roll), 2, 0, h.yaw), 1, 2, h.pitch)
	}
	return all[0], all[1], all[2]
}

// hang puts a tag into the photograph: in perspective, in the light that falls on what it covers, as soft as the sharpest edges there are
// and with as much grain; and writes it as the phone would, as a JPEG of quality 90.
func (b *backdrop) hang(tag printed, h hung, rnd *rand.Rand) ([]byte, error) {
	reach := int(max(tag.width, tag.height)*phoneFocal/h.far) + 8
	area := image.Rect(int(h.x)-reach, int(h.y)-reach, int(h.x)+reach, int(h.y)+reach).Intersect(b.img.Rect)
	w, n := area.Dx(), area.Dx()*area.Dy()
	back, over := make([]float64, n), make([]float64, n) // light that comes back from the tag, and how much of the pixel it covers
	across, down, away := h.axes()
	ray := func(x, y float64) vec { return vec{(x - phoneWide/2) / phoneFocal, (y - phoneHigh/2) / phoneFocal, 1} }
	middle := ray(h.x, h.y)
	long := h.far / math.Sqrt(middle.dot(middle))
	for k := range middle {
		middle[k] *= long
	}
	const fine = 4
	for i := range n {
		for k := range fine * fine {
			r := ray(float64(area.Min.X+i%w)+(float64(k%fine)+0.5)/fine, float64(area.Min.Y+i/w)+(float64(k/fine)+0.5)/fine)
			d := middle.dot(away) / r.dot(away)
			off := vec{r[0]*d - middle[0], r[1]*d - middle[1], r[2]*d - middle[2]}
			u, v := off.dot(across)+tag.width/2, off.dot(down)+tag.height/2
			if d > 0 && u >= 0 && v >= 0 && u < tag.width && v < tag.height {
				over[i] += 1.0 / fine / fine
				back[i] += tag.grey(u, v) / fine / fine
			}
		}
	}
	for _, plane := range [][]float64{back, over} {
		smear(plane, w, int(h.shake+0.5))
		soften(plane, w, b.soft)
	}
	light := b.around(area, max(3, int(tag.width*phoneFocal/h.far/4)))
	out := image.NewNRGBA(b.img.Rect)
	copy(out.Pix, b.img.Pix)
	for i := range n {
		if over[i] < 1e-4 {
			continue
		}
		noise := rnd.NormFloat64() * b.grain * over[i]
		p := out.Pix[out.PixOffset(area.Min.X+i%w, area.Min.Y+i/w):]
		for c := range 3 {
			p[c] = uint8(max(0, min(255, stored(back[i]*light[i]/aroundIt+(1-over[i])*linear[p[c]])+noise+0.5)))
		}
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, &image.RGBA{Pix: out.Pix, Stride: out.Stride, Rect: out.Rect}, &jpeg.Options{Quality: 90}); err != nil {
		return nil, err
	}
	plain := file.Bytes()
	return slices.Concat(plain[:2], b.exif, plain[2:]), nil
}

// around is the light of the photograph about each place of an area, on average over so many pixels each way.
func (b *backdrop) around(area image.Rectangle, reach int) []float64 {
	whole := area.Inset(-reach).Intersect(b.img.Rect)
	w := whole.Dx() + 1
	sums := make([]float64, w*(whole.Dy()+1))
	for y := 1; y <= whole.Dy(); y++ {
		row := 0.0
		for x := 1; x < w; x++ {
			row += b.light[(whole.Min.Y+y-1)*phoneWide+whole.Min.X+x-1]
			sums[y*w+x] = sums[(y-1)*w+x] + row
		}
	}
	out := make([]float64, 0, area.Dx()*area.Dy())
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			r := image.Rect(x-reach, y-reach, x+reach+1, y+reach+1).Intersect(whole)
			s := r.Sub(whole.Min)
			sum := sums[s.Max.Y*w+s.Max.X] - sums[s.Min.Y*w+s.Max.X] - sums[s.Max.Y*w+s.Min.X] + sums[s.Min.Y*w+s.Min.X]
			out = append(out, sum/float64(r.Dx()*r.Dy()))
		}
	}
	return out
}

// soften blurs a plane of a width by Gauss's bell, across and down.
func soften(plane []float64, w int, sigma float64) {
	r := int(math.Ceil(3 * sigma))
	bell, sum := make([]float64, 2*r+1), 0.0
	for k := range bell {
		bell[k] = math.Exp(-float64((k-r)*(k-r)) / 2 / sigma / sigma)
		sum += bell[k]
	}
	was := make([]float64, len(plane))
	for _, step := range []int{1, w} {
		copy(was, plane)
		for i := range plane {
			v := 0.0
			for k, f := range bell {
				if j := i + (k-r)*step; j >= 0 && j < len(was) {
					v += f * was[j]
				}
			}
			plane[i] = v / sum
		}
	}
}

// smear moves a plane of a width sideways by so many pixels while it is exposed.
func smear(plane []float64, w, by int) {
	if by < 2 {
		return
	}
	for top := 0; top < len(plane); top += w {
		row := plane[top:][:w]
		for x := range row {
			sum := 0.0
			for k := range by {
				sum += row[min(w-1, x+k)] // those to the right are not written yet
			}
			row[x] = sum / float64(by)
		}
	}
}
