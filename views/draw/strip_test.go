package draw_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// eachStrip draws the strip of every rail of the samples.
func eachStrip(t *testing.T, try func(t *testing.T, s layout.Strip, o draw.StripOptions)) {
	t.Helper()
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			o := sample.options(i, 0)
			for _, b := range l.Bays {
				for _, s := range layout.Strips(l, b, o.Run, o.Spec) {
					for _, width := range []float64{110, 182} {
						o := draw.StripOptions{Width: width, Style: o.Style, Names: s.Rail.Label}
						t.Run(fmt.Sprintf("%s/%s/%g", sample.job.Units, s.Rail.Label, width), func(t *testing.T) { try(t, s, o) })
					}
				}
			}
		}
	}
}

// den is the number that the scale divides by.
func den(t rapid.TB, s draw.Sheet) (n float64) {
	t.Helper()
	if _, err := fmt.Sscanf(s.Scale, "1:%g", &n); err != nil {
		t.Fatalf("scale %q: %v", s.Scale, err)
	}
	return n
}

// stripMarks are the places of the ticks over the rail on paper, in order, for each row of the drawing from the uppermost; and of the datum end.
func stripMarks(s draw.Sheet) (rows [][]float64, datum float64) {
	at := map[float64][]float64{}
	for _, rail := range outlines(s, draw.Outline{Weight: draw.Medium, Fill: draw.Paper}) {
		at[rail.Points[0].Y] = nil // the top edge
	}
	for _, it := range s.Items {
		l, ok := it.(draw.Line)
		switch {
		case ok && l.Weight == draw.Heavy:
			datum = l.A.X
		case ok && l.Weight == draw.Light && l.A.X == l.B.X:
			if _, top := at[l.B.Y]; top {
				at[l.B.Y] = append(at[l.B.Y], l.A.X)
			}
		}
	}
	for _, y := range slices.Sorted(maps.Keys(at)) {
		slices.Sort(at[y])
		rows = append(rows, slices.CompactFunc(at[y], func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }))
	}
	return rows, datum
}

// TestStripHasEveryMark: each mark stands on the rail at its place from the datum end, to scale, with its figure in so many words.
func TestStripHasEveryMark(t *testing.T) {
	eachStrip(t, func(t *testing.T, strip layout.Strip, o draw.StripOptions) { stripIsTrue(t, strip, o) })
}

// stripIsTrue holds the drawing of a strip to its marks.
func stripIsTrue(t rapid.TB, strip layout.Strip, o draw.StripOptions) {
	t.Helper()
	s := draw.Strip(strip, o)
	if s.Width > o.Width+1e-9 {
		t.Errorf("%.1f mm wide on %.1f mm of paper", s.Width, o.Width)
	}
	textsApart(t, s)
	withinPaper(t, s)
	said := texts(s)
	for _, m := range strip.Marks {
		if !slices.Contains(said, m.FormatBare(o.Style)) {
			t.Errorf("the mark at %s is not lettered: %q", m.Format(o.Style), said)
		}
		if !strings.Contains(s.Alt, m.Format(o.Style)) {
			t.Errorf("the mark at %s is not in words: %q", m.Format(o.Style), s.Alt)
		}
	}
	for _, words := range []string{strip.Rail.Label, "datum end"} {
		if !strings.Contains(strings.Join(said, "|"), words) {
			t.Errorf("nothing says %q: %q", words, said)
		}
	}
	if !o.Brief && len(strip.Marks) > 0 && !strings.Contains(strings.Join(said, " "), "to "+strip.Noun+" centres") {
		t.Errorf("nothing says what the marks are to: %q", said)
	}
	rows, datum := stripMarks(s)
	i := 0
	for _, ticks := range rows {
		for n, x := range ticks {
			if i >= len(strip.Marks) {
				t.Fatalf("more than %d marks are drawn", len(strip.Marks))
			}
			from, at := datum, strip.Marks[i].Millimetres()
			if i > 0 && n == 0 {
				from, at = x, 0 // a further row begins anywhere
			} else if n > 0 {
				from, at = ticks[n-1], (strip.Marks[i] - strip.Marks[i-1]).Millimetres()
			}
			if got := (x - from) * den(t, s); math.Abs(got-at) > 1e-6 {
				t.Errorf("mark %d is drawn %g mm on, want %g", i+1, got, at)
			}
			i++
		}
	}
	if i != len(strip.Marks) {
		t.Errorf("%d marks drawn, want %d", i, len(strip.Marks))
	}
}

// A rail of far too many marks for one row goes on in further ones, and loses none.
func TestStripInRows(t *testing.T) {
	s := layout.Strip{Rail: layout.Rail{Label: "R1-B1 bottom", Cut: 20000 * length.Millimetre}, Depth: 38 * length.Millimetre, Member: 10 * length.Millimetre,
		Hook: "the datum-end cut of the bottom rail, to baluster centres", Rise: 185, Run: 280}
	for i := range 199 {
		s.Marks = append(s.Marks, length.Length(100+100*i)*length.Millimetre)
	}
	sheet := draw.Strip(s, draw.StripOptions{Width: 182, Style: length.Metric, Names: "R1-B1 bottom"})
	textsApart(t, sheet)
	said := texts(sheet)
	for _, m := range s.Marks {
		if !slices.Contains(said, m.FormatBare(length.Metric)) {
			t.Errorf("the mark at %s is not lettered", m.Format(length.Metric))
		}
	}
	if !strings.Contains(strings.Join(said, " "), "drawn in 5 rows") {
		t.Errorf("the drawing does not say how many rows it has: %q", said[len(said)-8:])
	}
}

// Rails drawn together are to one scale.
func TestStripsToOneScale(t *testing.T) {
	s := layout.Strip{Rail: layout.Rail{Label: "R1-B2 bottom", Cut: 30 * length.Inch}, Depth: length.Inch, Member: length.Inch, Marks: []length.Length{15 * length.Inch}, Hook: "x"}
	alone := draw.Strip(s, draw.StripOptions{Width: 182, Style: length.InchFraction, Names: "R1-B2 bottom"})
	beside := draw.Strip(s, draw.StripOptions{Width: 182, Style: length.InchFraction, Names: "R1-B2 bottom", Longest: 90 * length.Inch})
	if den(t, beside) <= den(t, alone) || den(t, beside) < 90*25.4/170 {
		t.Errorf("scale %s beside a rail of 90 in, %s alone", beside.Scale, alone.Scale)
	}
}

func TestStripOfNothing(t *testing.T) {
	if s := draw.Strip(layout.Strip{}, draw.StripOptions{Width: 100}); len(s.Items) != 0 || s.Height <= 0 || s.Width != 100 {
		t.Errorf("a rail without length has %d items on a sheet %g by %g", len(s.Items), s.Width, s.Height)
	}
}

func TestStripGolden(t *testing.T) {
	for _, sample := range samples(t)[:1] {
		for _, i := range []int{0, 2} {
			o := sample.options(i, 0)
			l := sample.layouts[i]
			s := layout.Strips(l, l.Bays[0], o.Run, o.Spec)[0]
			var svg bytes.Buffer
			if err := draw.SVG(&svg, draw.Strip(s, draw.StripOptions{Width: 170, Style: o.Style, Names: s.Rail.Label})); err != nil {
				t.Fatal(err)
			}
			golden(t, "strip_"+strings.ToLower(l.Label), svg.Bytes())
		}
	}
}
