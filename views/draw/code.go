package draw

import (
	"fmt"

	"rsc.io/qr"
)

// Code is a square code (QR, ISO/IEC 18004) of Side modules a side, row by row, without its light margin.
type Code struct {
	Side  int
	Black []bool
}

// CodeMargin is how many modules of light a code needs around it, by the standard.
const CodeMargin = 4

// NewCode is the smallest code of a text that is still read with a quarter of it damaged (level Q).
func NewCode(text string) (Code, error) {
	made, err := qr.Encode(text, qr.Q)
	if err != nil {
		return Code{}, fmt.Errorf("make a code of %q: %w", text, err)
	}
	c := Code{Side: made.Size, Black: make([]bool, made.Size*made.Size)}
	for i := range c.Black {
		c.Black[i] = made.Black(i%c.Side, i/c.Side)
	}
	return c, nil
}

// Dark says whether the module of a column and row is dark; outside the code none is.
func (c Code) Dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < c.Side && y < c.Side && c.Black[y*c.Side+x]
}

// Modules is a code on a sheet, as wide as Size with its light margin, its upper left corner at At.
type Modules struct {
	At   Point
	Size float64
	Code Code
}

func (Modules) item() {}

// Bars calls draw for each run of dark modules in a row: where it begins, how long it is, and the side of a module.
func (m Modules) Bars(draw func(x, y, width, module float64)) {
	module := m.Size / float64(m.Code.Side+2*CodeMargin)
	for y := range m.Code.Side {
		for x := 0; x < m.Code.Side; x++ {
			run := 0
			for m.Code.Dark(x+run, y) {
				run++
			}
			if run > 0 {
				draw(m.At.X+float64(x+CodeMargin)*module, m.At.Y+float64(y+CodeMargin)*module, float64(run)*module, module)
				x += run
			}
		}
	}
}
