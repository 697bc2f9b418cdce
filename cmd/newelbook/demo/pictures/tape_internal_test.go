package pictures

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"
)

func TestReading(t *testing.T) {
	for _, tt := range []struct {
		measure string
		words   string
		inches  float64
		metric  bool
	}{
		{`41 3/8"`, `41 3/8"`, 41.375, false},
		{"54 mm", "54 mm", 54 / 25.4, true},
		{"9.5 cm", "9.5 cm", 95 / 25.4, true},
		{"2", "2", 2, false},
		{"", `1 1/4"`, 1.25, false},
		{"about right", `1 1/4"`, 1.25, false},
		{"0", `1 1/4"`, 1.25, false},
		{`-1/2"`, `1 1/4"`, 1.25, false},
	} {
		got := Params{Measure: tt.measure}.reading(`1 1/4"`)
		if got.words != tt.words || math.Abs(got.inches-tt.inches) > 1e-9 || got.metric != tt.metric {
			t.Errorf("reading of %q = %+v, want %+v", tt.measure, got, tt)
		}
	}
}

// A tape that is drawn must have its marks where the reading says: a dark mark at each whole inch from its zero, and
// blade between the marks.
func TestTapeMarks(t *testing.T) {
	blank, err := newSheet(1200, 900, rand.New(rand.NewPCG(1, 2)))
	if err != nil {
		t.Fatal(err)
	}
	s := &scene{sheet: blank, frame: frameOf(1200, 900), light: vec{-0.5, -0.5, 0.8}}
	s.aim(vec{5, -400, 0}, vec{5, 0, 0}, 100)
	r := Params{Measure: `3 5/8"`}.reading("1")
	face := insidePlane(0, 0, 0)
	s.tape(tape{plane: face, at: 4, from: 0, to: 9, width: 1}, r)
	if !s.said {
		t.Error("the tape does not say that it was drawn")
	}
	zero := 4 - 3.625
	for n := 1; n < 8; n++ {
		// Whole inches reach 0.72 of the way across the blade; 0.6 is past the marks between, and right of the figure.
		if got := darkest(s.img, s.see(face.at(zero+float64(n), 0.6))); got > 90 {
			t.Errorf("no mark at %d in: the darkest pixel there is %d", n, got)
		}
		if got := darkest(s.img, s.see(face.at(zero+float64(n)+0.3, 0.6))); got < 120 {
			t.Errorf("a mark at %d.3 in: the darkest pixel there is %d", n, got)
		}
	}
}

// darkest is the least green value within two pixels of a point.
func darkest(img *image.RGBA, p pt) uint8 {
	low := uint8(255)
	for y := int(p.Y) - 1; y <= int(p.Y)+1; y++ {
		for x := int(p.X) - 2; x <= int(p.X)+2; x++ {
			low = min(low, img.RGBAAt(x, y).G)
		}
	}
	return low
}
