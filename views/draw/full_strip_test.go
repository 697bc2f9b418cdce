package draw_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// fullPapers are the papers by name.
var fullPapers = map[string]draw.FullPaper{"A4": draw.FullA4, "Letter": draw.FullLetter}

// eachFullStrip draws the first bay's bottom rail of every run of the samples on both papers.
func eachFullStrip(t *testing.T, try func(t *testing.T, s layout.Strip, o draw.FullStripOptions, sheets []draw.Sheet)) {
	t.Helper()
	for _, sample := range samples(t) {
		for i, l := range sample.layouts {
			of := sample.options(i, 0)
			strips := layout.Strips(l, l.Bays[0], of.Run, of.Spec)
			if len(strips) == 0 {
				continue
			}
			for name, paper := range fullPapers {
				o := draw.FullStripOptions{Paper: paper, Style: of.Style, Job: "Job S-1", Layout: l.Label + ", layout v1, planned"}
				t.Run(fmt.Sprintf("%s/%s/%s", sample.job.Units, l.Label, name), func(t *testing.T) {
					try(t, strips[0], o, draw.FullStrip(strips[0], o))
				})
			}
		}
	}
}

func TestFullStripSaysWhatItIs(t *testing.T) {
	eachFullStrip(t, func(t *testing.T, s layout.Strip, o draw.FullStripOptions, sheets []draw.Sheet) {
		proof := map[length.Style]string{length.InchFraction: `6"`, length.Metric: "150 mm"}[o.Style]
		for i, sheet := range sheets {
			textsApart(t, sheet)
			said := strings.Join(texts(sheet), "|")
			for _, words := range []string{s.Rail.Label, fmt.Sprintf("Sheet %d of %d", i+1, len(sheets)), "Job S-1", "layout v1, planned", "Measure the proof bar on this sheet before use: it must be " + proof, "Print at 100 %, never “fit to page”", "datum-end cut", "Proof bar: " + proof} {
				if !strings.Contains(said, words) {
					t.Errorf("sheet %d does not say %q: %s", i+1, words, said)
				}
			}
			if got := strings.Contains(said, "DATUM END"); got != (i == 0) {
				t.Errorf("sheet %d names the datum end: %v", i+1, got)
			}
			if sheet.Width != o.Paper.Width || sheet.Height != o.Paper.Height {
				t.Errorf("sheet %d is %g by %g", i+1, sheet.Width, sheet.Height)
			}
		}
	})
}

// TestFullStripIsTrue: laid with their join lines on each other, the sheets bear every mark at its place, with its number and figure, and
// what two of them bear in their overlap is the same on both.
func TestFullStripIsTrue(t *testing.T) {
	eachFullStrip(t, func(t *testing.T, s layout.Strip, o draw.FullStripOptions, sheets []draw.Sheet) {
		fullStripIsTrue(t, s, o, sheets)
	})
}

// fullStripIsTrue holds the sheets of a strip to its marks.
func fullStripIsTrue(t rapid.TB, s layout.Strip, o draw.FullStripOptions, sheets []draw.Sheet) {
	t.Helper()
	var datum float64
	found := map[int]int{}
	for n, sheet := range sheets {
		offset := float64(n) * o.Paper.Pitch
		for _, it := range sheet.Items {
			l, ok := it.(draw.Line)
			if !ok || l.A.X != l.B.X || math.Abs(l.B.Y-l.A.Y-12) > 1e-9 {
				continue
			}
			switch x := l.A.X + offset; l.Weight {
			case draw.Heavy:
				if n == 0 && datum == 0 {
					datum = x
				} else if math.Abs(x-datum-s.Rail.Cut.Millimetres()) > 1e-6 && n > 0 {
					t.Errorf("sheet %d has an end at %g mm, want %g", n+1, x-datum, s.Rail.Cut.Millimetres())
				}
			case draw.Light:
				i := slices.IndexFunc(s.Marks, func(m length.Length) bool { return math.Abs(x-datum-m.Millimetres()) < 1e-6 })
				if i < 0 {
					t.Errorf("sheet %d has a mark at %g mm, where none is", n+1, x-datum)
					continue
				}
				found[i]++
				if said := texts(sheet); !slices.Contains(said, s.Marks[i].FormatBare(o.Style)) || !slices.Contains(said, fmt.Sprint(i+1)) {
					t.Errorf("sheet %d does not letter mark %d, %s", n+1, i+1, s.Marks[i].Format(o.Style))
				}
			}
		}
	}
	if !slices.ContainsFunc(sheets, func(sheet draw.Sheet) bool { return slices.Contains(texts(sheet), "far end") }) {
		t.Errorf("no sheet names the far end")
	}
	for i, m := range s.Marks {
		want := 0
		for n := range sheets {
			if x := datum + m.Millimetres() - float64(n)*o.Paper.Pitch; x >= o.Paper.Margin && x <= o.Paper.Width-o.Paper.Margin {
				want++
			}
		}
		if found[i] != want || want == 0 {
			t.Errorf("mark %d is on %d sheets, want %d", i+1, found[i], want)
		}
	}
}

// TestFullStripLean: plumb lines run at the angle of the flight, clipped at the margins, and every one is whole over its sheets.
func TestFullStripLean(t *testing.T) {
	for _, c := range []struct {
		name      string
		rise      length.Length
		square    bool
		across    float64 // what a mark's line moves to the right, going down a rail 40 mm deep
		endAcross float64
	}{
		{"up", 200, false, -32, -32}, {"down", -200, false, 32, 32}, {"up, square ends", 200, true, -32, 0}, {"level", 0, false, 0, 0},
	} {
		s := layout.Strip{Rail: layout.Rail{Label: "R1-B1 bottom", Cut: 1000 * length.Millimetre}, Depth: 40 * length.Millimetre, Member: 20 * length.Millimetre, Rise: c.rise, Run: 250, Square: c.square}
		for i := range 9 {
			s.Marks = append(s.Marks, length.Length(100+100*i)*length.Millimetre)
		}
		sheets := draw.FullStrip(s, draw.FullStripOptions{Paper: draw.FullA4, Style: length.Metric})
		marks, ends, cut := 0.0, 0.0, 0
		for _, sheet := range sheets {
			for _, it := range sheet.Items {
				l, ok := it.(draw.Line)
				if !ok || l.A.Y < 84 || l.A.Y > 84+40-1e-9 || l.B.Y > 84+40+1e-9 || l.A.Y == l.B.Y {
					continue
				}
				if slope := (l.B.X - l.A.X) / (l.B.Y - l.A.Y) * 40; l.Weight == draw.Light && math.Abs(slope-c.across) > 1e-9 || l.Weight == draw.Heavy && math.Abs(slope-c.endAcross) > 1e-9 {
					t.Errorf("%s: a line of weight %d moves %g", c.name, l.Weight, slope)
				}
				if math.Min(l.A.X, l.B.X) < 13.5-1e-9 || math.Max(l.A.X, l.B.X) > 297-13.5+1e-9 {
					t.Errorf("%s: a line leaves the margins: %v", c.name, l)
				}
				switch l.Weight {
				case draw.Light:
					if marks += l.B.Y - l.A.Y; l.B.Y-l.A.Y < 40-1e-9 {
						cut++
					}
				case draw.Heavy:
					ends += l.B.Y - l.A.Y
				}
			}
		}
		if marks < 9*40-1e-6 || ends < 2*40-1e-6 {
			t.Errorf("%s: lines of 9 marks and 2 ends add up to %g and %g mm of depth, some is missing", c.name, marks, ends)
		}
		if c.rise != 0 && cut == 0 {
			t.Errorf("%s: no line was clipped: the test does not reach a margin", c.name)
		}
	}
}

// A rail deeper than the paper has room for says so.
func TestFullStripOfDeepRail(t *testing.T) {
	s := layout.Strip{Rail: layout.Rail{Label: "R1-B1 bottom", Cut: 20 * length.Inch}, Depth: 7*length.Inch + length.Inch/4, Member: length.Inch, Marks: []length.Length{4 * length.Inch}}
	said := strings.Join(texts(draw.FullStrip(s, draw.FullStripOptions{Paper: draw.FullLetter, Style: length.InchFraction})[0]), " ")
	if !strings.Contains(said, `The rail is 7 1/4" deep; only its upper part is drawn`) {
		t.Errorf("the sheet says nothing of the depth left out: %s", said)
	}
}

// Long names are set smaller rather than cut off: what a sheet is for is on it in full.
func TestFullStripOfLongNames(t *testing.T) {
	label, ref, made := strings.Repeat("North edge by the water ", 6)+"B1 bottom", "Job "+strings.Repeat("H-114/", 20), strings.Repeat("layout v12 ", 12)
	s := layout.Strip{Rail: layout.Rail{Label: label, Cut: 20 * length.Inch}, Depth: 2 * length.Inch, Member: length.Inch, Marks: []length.Length{4 * length.Inch}, Hook: "the datum-end cut"}
	for _, sheet := range draw.FullStrip(s, draw.FullStripOptions{Paper: draw.FullLetter, Style: length.InchFraction, Job: ref, Layout: made}) {
		textsApart(t, sheet)
		said := strings.Join(texts(sheet), "|")
		for _, words := range []string{label, ref + ". " + made, "The datum end is at the left of sheet 1."} {
			if !strings.Contains(said, words) {
				t.Errorf("the sheet does not say %q: %s", words, said)
			}
		}
	}
}

func TestFullStripOfNothing(t *testing.T) {
	if got := draw.FullStrip(layout.Strip{}, draw.FullStripOptions{Paper: draw.FullA4}); len(got) != 0 {
		t.Errorf("a rail without length has %d sheets", len(got))
	}
}

// TestBevelledStripsDrawn: strips of a rail that is bevelled in plan say their face and both lengths, name both faces' marks, and stay on
// their paper with text clear of text, whichever face is the longer at either end.
func TestBevelledStripsDrawn(t *testing.T) {
	const thin = 8 * length.Millimetre
	for _, from := range []length.Length{-thin, 0, thin} {
		for _, to := range []length.Length{-thin, 0, thin} {
			s := layout.Strip{Rail: layout.Rail{Label: "R1-B1 bottom", Cut: 700 * length.Millimetre}, Depth: 40 * length.Millimetre, Member: 20 * length.Millimetre, Noun: "baluster",
				Face: "the face on the right, seen from the datum", OtherFrom: from, OtherTo: to, Grid: length.Millimetre, Marks: []length.Length{60 * length.Millimetre, 350 * length.Millimetre, 690 * length.Millimetre}}
			sheets := draw.FullStrip(s, draw.FullStripOptions{Paper: draw.FullA4, Style: length.Metric, Job: "Job S-1", Layout: "layout v1"})
			for _, sheet := range sheets {
				textsApart(t, sheet)
				withinPaper(t, sheet)
			}
			said := strings.Join(texts(sheets[0]), " ")
			want := []string{"Rail cut 700 mm along its middle, " + s.Long().Format(length.Metric) + " on this face", "this strip is for the face on the right, seen from the datum alone"}
			if from != 0 {
				want = append(want, "From the other face’s own cut every mark is 8 mm "+map[bool]string{true: "more", false: "less"}[from < 0])
			}
			for _, words := range want {
				if !strings.Contains(said, words) {
					t.Errorf("%v, %v: the strip does not say %q: %s", from, to, words, said)
				}
			}
			for _, brief := range []bool{false, true} {
				sheet := draw.Strip(s, draw.StripOptions{Width: 110, Style: length.Metric, Names: s.Rail.Label, Brief: brief})
				textsApart(t, sheet)
				withinPaper(t, sheet)
				if sheet.Width > 110 || !strings.Contains(strings.Join(texts(sheet), " "), "drawn and marked on the face on the right") {
					t.Errorf("%v, %v: %g wide, %v", from, to, sheet.Width, texts(sheet))
				}
			}
		}
	}
}
