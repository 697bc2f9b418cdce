package length_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/length"
)

// anyLength draws a length within the range of Parse.
func anyLength() *rapid.Generator[length.Length] {
	return rapid.Custom(func(t *rapid.T) length.Length {
		return length.Length(rapid.Int64Range(-1e12, 1e12).Draw(t, "nm"))
	})
}

func TestConstantsAreExact(t *testing.T) {
	for _, tt := range []struct {
		name string
		got  length.Length
		want int64
	}{
		{"millimetre", length.Millimetre, 1_000_000},
		{"inch", length.Inch, 25_400_000},
		{"foot", length.Foot, 304_800_000},
		{"sixty-fourth", length.SixtyFourth, 396_875},
		{"64 sixty-fourths", 64 * length.SixtyFourth, 25_400_000},
	} {
		if int64(tt.got) != tt.want {
			t.Errorf("%s = %d nm, want %d", tt.name, int64(tt.got), tt.want)
		}
	}
}

func TestRounding(t *testing.T) {
	const sixteenth = length.Inch / 16
	for _, tt := range []struct {
		name           string
		l, grid        length.Length
		near, down, up length.Length
	}{
		{"on the grid", 3 * sixteenth, sixteenth, 3 * sixteenth, 3 * sixteenth, 3 * sixteenth},
		{"just under half", 3*sixteenth + sixteenth/2 - 1, sixteenth, 3 * sixteenth, 3 * sixteenth, 4 * sixteenth},
		{"half goes away from zero", 7, 2, 8, 6, 8},
		{"negative half goes away from zero", -7, 2, -8, -6, -8},
		{"odd grid, below half", 4, 3, 3, 3, 6},
		{"odd grid, above half", 5, 3, 6, 3, 6},
		{"negative mirrors", -5, 3, -6, -3, -6},
		{"zero", 0, sixteenth, 0, 0, 0},
		{"no grid", 5, 0, 5, 5, 5},
		{"negative grid", 5, -3, 5, 5, 5},
	} {
		if got := tt.l.Round(tt.grid); got != tt.near {
			t.Errorf("%s: Round(%d, %d) = %d, want %d", tt.name, tt.l, tt.grid, got, tt.near)
		}
		if got := tt.l.RoundDown(tt.grid); got != tt.down {
			t.Errorf("%s: RoundDown(%d, %d) = %d, want %d", tt.name, tt.l, tt.grid, got, tt.down)
		}
		if got := tt.l.RoundUp(tt.grid); got != tt.up {
			t.Errorf("%s: RoundUp(%d, %d) = %d, want %d", tt.name, tt.l, tt.grid, got, tt.up)
		}
	}
}

func TestRoundingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength().Draw(t, "length")
		grid := length.Length(rapid.Int64Range(1, int64(length.Foot)).Draw(t, "grid"))
		near, down, up := l.Round(grid), l.RoundDown(grid), l.RoundUp(grid)
		for name, got := range map[string]length.Length{"Round": near, "RoundDown": down, "RoundUp": up} {
			if got%grid != 0 {
				t.Fatalf("%s(%d, %d) = %d, off the grid", name, l, grid, got)
			}
		}
		if near.Round(grid) != near || down.RoundDown(grid) != down || up.RoundUp(grid) != up {
			t.Fatalf("rounding %d to %d twice changes it", l, grid)
		}
		if 2*(near-l).Abs() > grid {
			t.Fatalf("Round(%d, %d) = %d, farther than half a grid", l, grid, near)
		}
		if down.Abs() > l.Abs() || up.Abs() < l.Abs() || (up-down).Abs() > grid {
			t.Fatalf("RoundDown and RoundUp of %d to %d = %d, %d", l, grid, down, up)
		}
		if (-l).Round(grid) != -near || (-l).RoundDown(grid) != -down || (-l).RoundUp(grid) != -up {
			t.Fatalf("rounding -%d to %d is not symmetrical", l, grid)
		}
	})
}

func TestAbs(t *testing.T) {
	for _, tt := range []struct{ l, want length.Length }{
		{5, 5}, {-5, 5}, {0, 0}, {math.MinInt64, math.MaxInt64},
	} {
		if got := tt.l.Abs(); got != tt.want {
			t.Errorf("Abs(%d) = %d, want %d", tt.l, got, tt.want)
		}
	}
}

func TestFloats(t *testing.T) {
	l := 76*length.Inch + length.Inch/2
	if got := l.Inches(); got != 76.5 {
		t.Errorf("Inches() = %v, want 76.5", got)
	}
	if got := l.Millimetres(); got != 1943.1 {
		t.Errorf("Millimetres() = %v, want 1943.1", got)
	}
	for _, tt := range []struct {
		in   float64
		want length.Length
	}{
		{76.5, l}, {-76.5, -l}, {0.1, 2_540_000}, {2e-8, 1}, {1e-8, 0},
		{math.Inf(1), math.MaxInt64}, {math.Inf(-1), math.MinInt64}, {math.NaN(), 0},
	} {
		if got := length.FromInches(tt.in); got != tt.want {
			t.Errorf("FromInches(%v) = %d, want %d", tt.in, got, tt.want)
		}
	}
}

func TestMulDiv(t *testing.T) {
	for _, tt := range []struct {
		name     string
		l        length.Length
		num, den int64
		want     length.Length
	}{
		{"exact third of a foot", length.Foot, 1, 3, 4 * length.Inch},
		{"half up", 5, 1, 2, 3},
		{"half away from zero", -5, 1, 2, -3},
		{"negative divisor", 5, 1, -2, -3},
		{"two negatives", -5, 1, -2, 3},
		{"just under half", 100, 1, 201, 0},
		{"product past 64 bits", 40_000 * length.Millimetre, 40_000_000_000, 40_000_000_000, 40_000 * length.Millimetre},
		{"largest by itself", math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64},
		{"smallest by itself", math.MinInt64, math.MinInt64, math.MinInt64, math.MinInt64},
		{"stops at the top", math.MaxInt64, 3, 2, math.MaxInt64},
		{"stops at the bottom", math.MinInt64, 3, 2, math.MinInt64},
		{"stops far beyond", math.MaxInt64, math.MaxInt64, 1, math.MaxInt64},
		{"opposite of the smallest", math.MinInt64, -1, 1, math.MaxInt64},
	} {
		if got := length.MulDiv(tt.l, tt.num, tt.den); got != tt.want {
			t.Errorf("%s: MulDiv(%d, %d, %d) = %d, want %d", tt.name, tt.l, tt.num, tt.den, got, tt.want)
		}
	}
}

func TestMulDivByZeroPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("MulDiv(1, 1, 0) did not panic")
		}
	}()
	length.MulDiv(1, 1, 0)
}

// The oracle is rational arithmetic: the result differs from the exact quotient by no more than half a nanometre, and
// an exact half lies farther from zero.
func TestMulDivAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength().Draw(t, "length")
		num := rapid.Int64Range(-1e12, 1e12).Draw(t, "num")
		den := rapid.Int64Range(1e6, 1e12).Draw(t, "den")
		exact := new(big.Rat).Mul(l.Rat(), big.NewRat(num, den))
		got := length.MulDiv(l, num, den)
		off := new(big.Rat).Sub(got.Rat(), exact)
		half := big.NewRat(1, 2)
		switch c := new(big.Rat).Abs(off).Cmp(half); {
		case c > 0:
			t.Fatalf("MulDiv(%d, %d, %d) = %d, exact %s", l, num, den, got, exact.FloatString(3))
		case c == 0 && off.Sign() != exact.Sign():
			t.Fatalf("MulDiv(%d, %d, %d) = %d rounds a half towards zero", l, num, den, got)
		}
	})
}

func TestRatIsACopy(t *testing.T) {
	l := 3 * length.Inch
	l.Rat().SetInt64(7)
	if got := l.Rat(); got.Cmp(big.NewRat(76_200_000, 1)) != 0 {
		t.Errorf("Rat() = %s, want 76200000", got)
	}
}

func TestJSONIsNanometres(t *testing.T) {
	type row struct{ Gap length.Length }
	text, err := json.Marshal(row{4 * length.Inch})
	if err != nil || string(text) != `{"Gap":101600000}` {
		t.Errorf("Marshal = %s, %v", text, err)
	}
	var back row
	if err := json.Unmarshal(text, &back); err != nil || back.Gap != 4*length.Inch {
		t.Errorf("Unmarshal = %v, %v", back, err)
	}
}
