package media_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"strings"
	"testing"

	"newelbook/media"
)

// grey is a plain derived picture.
func grey(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.Gray{128}), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestDrawMarks finds each mark dark where it was asked for with a light edge beside it, and the rest of the picture as it was.
func TestDrawMarks(t *testing.T) {
	for _, c := range []struct {
		name         string
		mark         media.Mark
		dark, as     image.Point // a dark pixel, and one that is left alone
		lightX, side int         // a light pixel stands within so many to the right of dark
	}{
		{"arrow", media.Mark{Kind: media.MarkArrow, FromX: 500, FromY: 100, ToX: 500, ToY: 900}, image.Pt(400, 300), image.Pt(600, 300), 0, 8},
		{"circle", media.Mark{Kind: media.MarkCircle, FromX: 250, FromY: 250, ToX: 750, ToY: 750}, image.Pt(600, 300), image.Pt(400, 300), 0, 8},
		{"a circle drawn from its lower right", media.Mark{Kind: media.MarkCircle, FromX: 750, FromY: 750, ToX: 250, ToY: 250}, image.Pt(600, 300), image.Pt(400, 300), 0, 8},
		{"measure", media.Mark{Kind: media.MarkMeasure, FromX: 500, FromY: 100, ToX: 500, ToY: 700, Text: "2 in"}, image.Pt(400, 120), image.Pt(100, 300), 0, 8},
		{"a measure at the corner", media.Mark{Kind: media.MarkMeasure, FromX: 1000, FromY: 400, ToX: 1000, ToY: 1000, Text: "a long text at the very edge"}, image.Pt(799, 300), image.Pt(100, 300), -16, 16},
	} {
		before := grey(t, 800, 600)
		kept := bytes.Clone(before)
		made, err := media.DrawMarks(bytes.NewReader(before), []media.Mark{c.mark})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if !bytes.Equal(before, kept) {
			t.Errorf("%s: the picture that was read has changed", c.name)
		}
		again, err := media.DrawMarks(bytes.NewReader(before), []media.Mark{c.mark})
		if err != nil || !bytes.Equal(made, again) {
			t.Errorf("%s: drawn twice it differs (%v)", c.name, err)
		}
		img, err := jpeg.Decode(bytes.NewReader(made))
		if err != nil || img.Bounds().Size() != image.Pt(800, 600) {
			t.Fatalf("%s: %v, %v", c.name, img, err)
		}
		luma := func(p image.Point) int { return int(color.GrayModel.Convert(img.At(p.X, p.Y)).(color.Gray).Y) }
		if l := luma(c.dark); l > 90 {
			t.Errorf("%s: luma %d at %v, want it dark", c.name, l, c.dark)
		}
		if l := luma(c.as); l < 118 || l > 138 {
			t.Errorf("%s: luma %d at %v, want it as it was, 128", c.name, l, c.as)
		}
		light := 0
		for x := c.lightX; x < c.lightX+c.side; x++ {
			light = max(light, luma(c.dark.Add(image.Pt(x, 0))))
		}
		if light < 200 {
			t.Errorf("%s: no light edge beside %v, at most %d", c.name, c.dark, light)
		}
	}
}

func TestDrawMarksRefuses(t *testing.T) {
	if _, err := media.DrawMarks(bytes.NewReader(grey(t, 40, 30)), []media.Mark{{Kind: "scribble"}}); err == nil || !strings.Contains(err.Error(), `"scribble"`) {
		t.Errorf("a mark of no kind: %v", err)
	}
	if _, err := media.DrawMarks(strings.NewReader("no picture"), nil); err == nil {
		t.Error("what is no picture was drawn over")
	}
	// A mark without extent and a text longer than the picture are drawn as they are.
	if _, err := media.DrawMarks(bytes.NewReader(grey(t, 4, 3)), []media.Mark{{Kind: media.MarkArrow, Text: "longer than the picture is wide"}, {Kind: media.MarkCircle}}); err != nil {
		t.Error(err)
	}
}
