package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/views/draw"
)

var update = flag.Bool("update", false, "write the golden files again")

// sample has every kind of item, pen, fill and lettering.
func sample() draw.Sheet {
	s := draw.Sheet{Width: 100, Height: 60, Scale: `1" = 1'-0"`, Title: `A & B`, Alt: `A sample <of> everything.`}
	for i, w := range []draw.Weight{draw.Heavy, draw.Medium, draw.Light, draw.Hairline} {
		y := 4 + 3*float64(i)
		s.Items = append(s.Items, draw.Line{A: draw.Point{X: 4, Y: y}, B: draw.Point{X: 30.006, Y: y}, Weight: w, Dash: draw.Dash(i % 3), Tone: draw.Tone(i)})
	}
	square := func(x float64) []draw.Point {
		return []draw.Point{{X: x, Y: 20}, {X: x + 10, Y: 20}, {X: x + 10, Y: 30}, {X: x, Y: 30}}
	}
	for i, f := range []draw.Fill{draw.Empty, draw.Paper, draw.Wash, draw.Hatch} {
		s.Items = append(s.Items, draw.Outline{Points: square(4 + 14*float64(i)), Fill: f, Weight: draw.Medium, ID: []string{"", "r1/P1", "r1/B1", "r1/P2"}[i]})
	}
	return draw.Sheet{Width: s.Width, Height: s.Height, Scale: s.Scale, Title: s.Title, Alt: s.Alt, Items: append(s.Items,
		draw.Circle{Centre: draw.Point{X: 70, Y: 25}, Radius: 4, Weight: draw.Light, Fill: draw.Hatch},
		draw.Circle{Centre: draw.Point{X: 85, Y: 25}, Radius: 4, Weight: draw.Light, Dash: draw.Hidden, Tone: draw.Red},
		draw.Text{At: draw.Point{X: 50, Y: 10}, Body: `41 3/8" < 1/2"`, Size: 3, Anchor: draw.Middle, Bold: true, Tone: draw.Accent},
		draw.Text{At: draw.Point{X: 95, Y: 40}, Body: "end", Size: 2.5, Anchor: draw.End, Angle: 90, Tone: draw.Faint},
		draw.Text{At: draw.Point{X: -0.001, Y: 50}, Body: "start", Size: 2.5})}
}

func TestSVG(t *testing.T) {
	for _, c := range []struct {
		name    string
		options draw.Options
	}{
		{"plain", draw.Options{}},
		{"linked", draw.Options{Links: map[string]draw.Link{"r1/P1": {URL: "/a?b=1&c=2", Label: "R1-P1"}, "r1/B1": {URL: "/b", Label: "R1-B1"}}, Current: "r1/B1"}},
	} {
		var buf, again bytes.Buffer
		if err := draw.SVGWith(&buf, sample(), c.options); err != nil {
			t.Fatal(err)
		}
		if err := draw.SVGWith(&again, sample(), c.options); err != nil || !bytes.Equal(buf.Bytes(), again.Bytes()) {
			t.Errorf("%s: the same drawing gave other bytes (error %v)", c.name, err)
		}
		golden(t, c.name, buf.Bytes())
	}
}

// golden compares an element with its golden file, or writes it.
func golden(t *testing.T, name string, svg []byte) {
	t.Helper()
	wellFormed(t, svg)
	file := filepath.Join("testdata", "golden", name+".svg.golden")
	if *update {
		if err := os.WriteFile(file, svg, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v (write it with -update)", err)
	}
	if !bytes.Equal(svg, want) {
		t.Errorf("%s differs from %s\n got: %s\nwant: %s", name, file, svg, want)
	}
}

// wellFormed reads the element as XML and refuses inline style.
func wellFormed(t *testing.T, svg []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		if start, ok := token.(xml.StartElement); ok {
			for _, a := range start.Attr {
				if a.Name.Local == "style" {
					t.Errorf("inline style on %s", start.Name.Local)
				}
			}
		}
	}
}

func TestSVGRefuses(t *testing.T) {
	for name, s := range map[string]draw.Sheet{
		"no size":  {Title: "x"},
		"no paper": {Width: math.NaN(), Height: 3},
		"nil item": {Width: 1, Height: 1, Items: []draw.Item{nil}},
	} {
		var buf bytes.Buffer
		if err := draw.SVG(&buf, s); err == nil || buf.Len() > 0 {
			t.Errorf("%s: %d bytes, error %v; want none and an error", name, buf.Len(), err)
		}
	}
}

func TestRuns(t *testing.T) {
	for _, c := range []struct {
		in   string
		want []draw.Run
	}{
		{"", nil},
		{"R1-B2", []draw.Run{{Kind: draw.Plain, Body: "R1-B2"}}},
		{"3 15/16", []draw.Run{{Kind: draw.Whole, Body: "3 "}, {Kind: draw.Fraction, Body: "15/16"}}},
		{`1/2" by 3/4"`, []draw.Run{{Kind: draw.Fraction, Body: "1/2"}, {Kind: draw.Plain, Body: "″ by "}, {Kind: draw.Fraction, Body: "3/4"}, {Kind: draw.Plain, Body: "″"}}},
		{"25/11/2026", []draw.Run{{Kind: draw.Plain, Body: "25/11/2026"}}},
	} {
		got := draw.Runs(c.in)
		if len(got) != len(c.want) {
			t.Errorf("Runs(%q) = %v, want %v", c.in, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("Runs(%q)[%d] = %v, want %v", c.in, i, got[i], c.want[i])
			}
		}
	}
}

// Joined again, the runs are the text, but for primes.
func TestRunsLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9 /.'"a-c-]{0,24}`).Draw(t, "text")
		var b strings.Builder
		for _, r := range draw.Runs(text) {
			b.WriteString(r.Body)
		}
		back := strings.NewReplacer("′", "'", "″", `"`).Replace(b.String())
		if back != text {
			t.Fatalf("Runs(%q) joined = %q", text, back)
		}
	})
}

func TestHatchLinesStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y")
		w, h := rapid.Float64Range(2, 60).Draw(t, "w"), rapid.Float64Range(2, 60).Draw(t, "h")
		lines := draw.HatchLines([]draw.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}, draw.HatchSpacing)
		// Along x+y a rectangle is w+h long, and the lines stand spacing x sqrt 2 apart.
		if want := (w + h) / (draw.HatchSpacing * math.Sqrt2); math.Abs(float64(len(lines))-want) > 1.01 {
			t.Fatalf("%d lines in %.1f by %.1f, want about %.1f", len(lines), w, h, want)
		}
		const e = 1e-6
		for _, l := range lines {
			for _, p := range []draw.Point{l.A, l.B} {
				if p.X < x-e || p.X > x+w+e || p.Y < y-e || p.Y > y+h+e {
					t.Fatalf("%v is outside", p)
				}
			}
			if math.Abs((l.B.X-l.A.X)+(l.B.Y-l.A.Y)) > e {
				t.Fatalf("%v is not at 45 degrees", l)
			}
		}
	})
}

func TestHatchLinesOfNothing(t *testing.T) {
	square := []draw.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 9}}
	if n := len(draw.HatchLines(square[:2], 1)); n != 0 {
		t.Errorf("%d lines between two points", n)
	}
	if n := len(draw.HatchLines(square, 0)); n != 0 {
		t.Errorf("%d lines no distance apart", n)
	}
}

// Widths measured in the font itself: 41 and the blank in regular are 552+350+200 thousandths.
func TestTextWidth(t *testing.T) {
	for _, c := range []struct {
		body string
		size float64
		bold bool
		want float64
	}{
		{"", 3, false, 0},
		{"41 ", 10, false, (551 + 350 + 200) / 100.0},
		{"41 ", 10, true, (585 + 353 + 200) / 100.0},
	} {
		if got := draw.TextWidth(c.body, c.size, c.bold); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("TextWidth(%q, %v, %t) = %v, want %v", c.body, c.size, c.bold, got, c.want)
		}
	}
	if whole, fraction := draw.TextWidth("15 16", 3, false), draw.TextWidth("15/16", 3, false); fraction >= whole {
		t.Errorf("a fraction is %v wide, its figures side by side %v", fraction, whole)
	}
}

func TestScaleBar(t *testing.T) {
	items := draw.ScaleBar(draw.Point{X: 10, Y: 20}, 12, []string{"0", "1'", "2'"})
	var x []float64
	for _, it := range items {
		if text, ok := it.(draw.Text); ok {
			x = append(x, text.At.X)
		}
	}
	if len(items) != 5 || len(x) != 3 || x[0] != 10 || x[1] != 22 || x[2] != 34 {
		t.Errorf("%d items, labels at %v; want 5, at 10, 22 and 34", len(items), x)
	}
	if n := len(draw.ScaleBar(draw.Point{}, 12, []string{"0"})); n != 0 {
		t.Errorf("a bar with one label has %d items", n)
	}
}
