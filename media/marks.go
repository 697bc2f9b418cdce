package media

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// MarkKind is how a mark is drawn.
type MarkKind string

// Kinds of mark.
const (
	MarkArrow   MarkKind = "arrow"   // from its tail to its tip
	MarkCircle  MarkKind = "circle"  // an oval in the box between its two points
	MarkMeasure MarkKind = "measure" // a line with a stroke across each end, its text beside its middle
)

// MarkScale is the side of a picture in the units of a Mark: tenths of a percent.
const MarkScale = 1000

// A Mark is something drawn over an upright picture: from one point to another, in thousandths of its width and height from the upper left
// corner, 0 to MarkScale. Text may be empty. It is data beside an original and never part of it.
type Mark struct {
	Kind  MarkKind `json:"kind"`
	FromX int      `json:"from_x"`
	FromY int      `json:"from_y"`
	ToX   int      `json:"to_x"`
	ToY   int      `json:"to_y"`
	Text  string   `json:"text,omitempty"`
}

// point is a place on a picture in pixels.
type point struct{ x, y float64 }

func (a point) plus(b point) point       { return point{a.x + b.x, a.y + b.y} }
func (a point) times(f float64) point    { return point{a.x * f, a.y * f} }
func (a point) turned() point            { return point{-a.y, a.x} }
func (a point) to(b point) (point, bool) { return unit(point{b.x - a.x, b.y - a.y}) }

// unit is a direction of length 1, false where there is none.
func unit(d point) (point, bool) {
	n := math.Hypot(d.x, d.y)
	if n == 0 {
		return point{}, false
	}
	return d.times(1 / n), true
}

// DrawMarks draws marks over a derived JPEG and returns a new one. Each mark is dark with a light edge, so that it is told from what is
// under it in black and white as well. It fails where the picture can't be read or a mark's kind is not known.
func DrawMarks(derived io.Reader, marks []Mark) ([]byte, error) {
	src, err := jpeg.Decode(derived)
	if err != nil {
		return nil, fmt.Errorf("draw marks: %w", err)
	}
	out := image.NewRGBA(src.Bounds())
	draw.Draw(out, out.Bounds(), src, src.Bounds().Min, draw.Src)
	face, err := markFace(out.Bounds())
	if err != nil {
		return nil, fmt.Errorf("draw marks: %w", err)
	}
	defer face.Close()
	for i, m := range marks {
		if err := drawMark(out, m, face); err != nil {
			return nil, fmt.Errorf("draw mark %d: %w", i+1, err)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, out, &jpeg.Options{Quality: 88}); err != nil {
		return nil, fmt.Errorf("draw marks: %w", err)
	}
	return b.Bytes(), nil
}

// markFace is the type of marks, a thirtieth of the longer side high.
func markFace(bounds image.Rectangle) (font.Face, error) {
	f, err := opentype.Parse(gobold.TTF)
	if err != nil {
		return nil, err
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: max(10, float64(max(bounds.Dx(), bounds.Dy()))/30), DPI: 72, Hinting: font.HintingNone})
}

func drawMark(out *image.RGBA, m Mark, face font.Face) error {
	w, h := float64(out.Bounds().Dx()), float64(out.Bounds().Dy())
	a, b := point{float64(m.FromX) * w / MarkScale, float64(m.FromY) * h / MarkScale}, point{float64(m.ToX) * w / MarkScale, float64(m.ToY) * h / MarkScale}
	thick := max(2, max(w, h)/250)
	var lines [][]point
	at := a // where the text stands
	switch m.Kind {
	case MarkArrow:
		lines = append(lines, []point{a, b})
		if d, ok := a.to(b); ok {
			back, side := b.plus(d.times(-6*thick)), d.turned().times(3*thick)
			lines = append(lines, []point{back.plus(side), b, back.plus(side.times(-1))})
		}
	case MarkCircle:
		lines = append(lines, oval(a, b))
		at = point{(a.x + b.x) / 2, max(a.y, b.y)}
	case MarkMeasure:
		lines = append(lines, []point{a, b})
		if d, ok := a.to(b); ok {
			side := d.turned().times(4 * thick)
			for _, end := range []point{a, b} {
				lines = append(lines, []point{end.plus(side), end.plus(side.times(-1))})
			}
		}
		at = point{(a.x + b.x) / 2, (a.y + b.y) / 2}
	default:
		return fmt.Errorf("%q is no kind of mark", m.Kind)
	}
	for _, pen := range []struct {
		width float64
		ink   color.Color
	}{{2.2 * thick, color.White}, {thick, markInk()}} {
		for _, line := range lines {
			stroke(out, line, pen.width, pen.ink)
		}
	}
	if m.Text != "" {
		label(out, m.Text, at, 3*thick, face)
	}
	return nil
}

// markInk is the dark of marks: 9 to 1 against white (WCAG 2.2, 1.4.11 asks 3 to 1).
func markInk() color.Color { return color.RGBA{0x8c, 0x10, 0x10, 0xff} }

// oval is the closed line of the oval in a box.
func oval(a, b point) []point {
	const n = 72
	out := make([]point, n+1)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = point{(a.x+b.x)/2 + cos*(b.x-a.x)/2, (a.y+b.y)/2 + sin*(b.y-a.y)/2}
	}
	return out
}

// stroke draws a line with round joints.
func stroke(out *image.RGBA, line []point, width float64, ink color.Color) {
	bounds := out.Bounds()
	r := vector.NewRasterizer(bounds.Dx(), bounds.Dy())
	for i, p := range line {
		fill(r, oval(point{p.x - width/2, p.y - width/2}, point{p.x + width/2, p.y + width/2}))
		if i == 0 {
			continue
		}
		if d, ok := line[i-1].to(p); ok {
			side := d.turned().times(-width / 2) // the same way round as the joints, so that areas add up
			fill(r, []point{line[i-1].plus(side), p.plus(side), p.plus(side.times(-1)), line[i-1].plus(side.times(-1))})
		}
	}
	r.Draw(out, bounds, image.NewUniform(ink), image.Point{})
}

func fill(r *vector.Rasterizer, shape []point) {
	for i, p := range shape {
		if i == 0 {
			r.MoveTo(float32(p.x), float32(p.y))
			continue
		}
		r.LineTo(float32(p.x), float32(p.y))
	}
	r.ClosePath()
}

// label sets a text on a light plate, its middle below a point, or above where there is no room, and always on the picture.
func label(out *image.RGBA, text string, at point, gap float64, face font.Face) {
	m := face.Metrics()
	width, height := font.MeasureString(face, text).Ceil(), (m.Ascent + m.Descent).Ceil()
	pad := height / 5
	box := image.Rect(0, 0, width+2*pad, height+pad)
	x, y := int(at.x)-box.Dx()/2, int(at.y+gap)
	if bounds := out.Bounds(); y+box.Dy() > bounds.Max.Y {
		y = int(at.y-gap) - box.Dy()
	}
	x, y = min(max(0, x), max(0, out.Bounds().Max.X-box.Dx())), max(0, y)
	box = box.Add(image.Pt(x, y))
	draw.Draw(out, box, image.NewUniform(color.RGBA{0xff, 0xff, 0xff, 0xff}), image.Point{}, draw.Src)
	d := font.Drawer{Dst: out, Src: image.NewUniform(markInk()), Face: face, Dot: fixed.P(x+pad, y+pad/2+m.Ascent.Ceil())}
	d.DrawString(text)
}
