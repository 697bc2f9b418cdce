package draw_test

import (
	"math"
	"strings"
	"testing"

	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// A board of 100 in on 200 mm of paper: 2 mm to the inch, so that every place can be told by heart.
func aBoard(cuts ...draw.BoardCut) draw.Sheet {
	const in = length.Inch
	return draw.Board(draw.BoardOptions{Title: "Board 1", Width: 200, Longest: 100 * in, Stock: 100 * in, Trim: in, Left: 19 * in, Cuts: cuts, Style: length.InchFraction})
}

func texts(s draw.Sheet) (all []string) {
	for _, item := range s.Items {
		if t, ok := item.(draw.Text); ok {
			all = append(all, t.Body)
		}
	}
	return all
}

func TestBoard(t *testing.T) {
	const in = length.Inch
	s := aBoard(
		draw.BoardCut{Label: "R1-B1 top", Length: 50 * in, Takes: 53 * in, From: in},
		draw.BoardCut{Label: "R1-P1 blocking", Length: 10 * in, Takes: 10 * in, From: 55 * in},
		draw.BoardCut{Label: "R1-P1 blocking", Length: 10 * in, Takes: 10 * in, From: 66 * in})
	if got, want := strings.Join(texts(s), "|"), `R1-B1 top|50"|1|1|left|19"|1  R1-P1 blocking  10"`; got != want {
		t.Errorf("lettering %q, want %q", got, want)
	}
	var outlines []draw.Outline
	for _, item := range s.Items {
		if o, ok := item.(draw.Outline); ok {
			outlines = append(outlines, o)
		}
	}
	if len(outlines) != 5 {
		t.Fatalf("%d outlines, want the board, three pieces and what is left", len(outlines))
	}
	// The slanted piece lies from 1 to 54 in, and its upper edge begins 3 in in.
	for i, want := range []float64{8, 108, 102, 2} {
		if got := outlines[1].Points[i].X; math.Abs(got-want) > 1e-9 {
			t.Errorf("corner %d of the slanted piece stands at %g, want %g", i, got, want)
		}
	}
	if left := outlines[4].Points; math.Abs(left[0].X-160) > 1e-9 || math.Abs(left[1].X-198) > 1e-9 {
		t.Errorf("what is left lies from %g to %g, want 160 to 198", left[0].X, left[1].X)
	}
	if s.Height <= 14 || !strings.Contains(s.Alt, `R1-B1 top 50" from 1"`) || !strings.Contains(s.Alt, `19" is left`) {
		t.Errorf("height %g, alt %q", s.Height, s.Alt)
	}
}

// A long key runs on in further lines, within the sheet.
func TestBoardKey(t *testing.T) {
	var cuts []draw.BoardCut
	for i := range 10 {
		l := length.Length(4)*length.Inch + length.Length(i)*length.SixtyFourth
		cuts = append(cuts, draw.BoardCut{Label: "R1-P1 blocking", Length: l, Takes: l, From: length.Length(1+7*i) * length.Inch})
	}
	s := aBoard(cuts...)
	rows := map[float64]bool{}
	for _, item := range s.Items {
		if text, ok := item.(draw.Text); ok && strings.Contains(text.Body, "blocking") {
			rows[text.At.Y] = true
			if end := text.At.X + draw.TextWidth(text.Body, text.Size, text.Bold); end > s.Width || text.At.Y > s.Height {
				t.Errorf("%q ends at %g, %g of a sheet %g by %g", text.Body, end, text.At.Y, s.Width, s.Height)
			}
		}
	}
	if len(rows) < 2 {
		t.Errorf("the key stands in %d line, want several", len(rows))
	}
}

// A drawing that stands for several boards has the lengths alone, in the pieces and in the key.
func TestBoardWithoutLabels(t *testing.T) {
	const in = length.Inch
	s := aBoard(draw.BoardCut{Length: 50 * in, Takes: 50 * in, From: in}, draw.BoardCut{Length: 2 * in, Takes: 2 * in, From: 52 * in})
	if got, want := strings.Join(texts(s), "|"), `50"|1|left|19"|1  2"`; got != want {
		t.Errorf("lettering %q, want %q", got, want)
	}
	if !strings.Contains(s.Alt, `cut into 50" from 1", 2" from 52"; 19" is left`) {
		t.Errorf("alt %q", s.Alt)
	}
}

func TestBoardOfNothing(t *testing.T) {
	if s := draw.Board(draw.BoardOptions{Title: "Board", Width: 100}); len(s.Items) != 0 || s.Height <= 0 {
		t.Errorf("a board without length has %d items on a sheet %g high", len(s.Items), s.Height)
	}
}
