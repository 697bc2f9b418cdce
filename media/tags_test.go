package media_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"newelbook/media"
	"newelbook/media/codes/scenes"
)

const tagText = "NB1K7D2A3R5T2K7D2A3P5P12ABCD"

// withTag is a picture of a tag that says a text.
func withTag(t testing.TB, text string, width, height int, side float64) *image.Gray {
	t.Helper()
	modules, dark := scenes.Code(text)
	s := scenes.Scene{Width: width, Height: height, Code: side, Turn: 8, Yaw: 15, Light: 0.8, Noise: 3, Blur: 0.6}
	return scenes.Draw(s, modules, dark, rand.New(rand.NewPCG(1, 1)))
}

// TestCodes reads the code in photographs of several kinds, and keeps what was read beside the derived pictures.
func TestCodes(t *testing.T) {
	small := withTag(t, tagText, 900, 700, 120)
	coloured := image.NewNRGBA(small.Rect)
	for i, v := range small.Pix {
		coloured.SetNRGBA(i%small.Stride, i/small.Stride, color.NRGBA{v, byte(int(v) * 9 / 10), byte(int(v) * 8 / 10), 255})
	}
	asPNG := func(img image.Image) []byte {
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	cases := []struct {
		name string
		in   []byte
		want []string
	}{
		{"a grey JPEG", jpegOf(t, small), []string{tagText}},
		{"a JPEG in colour", jpegOf(t, coloured), []string{tagText}},
		{"a PNG in colour", asPNG(coloured), []string{tagText}},
		{"a grey PNG", asPNG(small), []string{tagText}},
		{"a JPEG of 12 megapixels, the code a fortieth of its breadth", jpegOf(t, withTag(t, tagText, 4000, 3000, 100)), []string{tagText}},
		{"a PNG larger than is looked at", asPNG(withTag(t, tagText, 3400, 600, 200)), []string{tagText}},
		{"a JPEG with none", jpegOf(t, grainy(300, 200)), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, _ := openLibrary(t, media.Limits{})
			photo := take(t, library, c.in)
			if _, known := library.KnownCodes(photo.ID); known {
				t.Error("codes are known before anything was read")
			}
			if err := library.Derive(t.Context(), photo.ID); err != nil {
				t.Fatal(err)
			}
			if got, known := library.KnownCodes(photo.ID); !known || !slices.Equal(got, c.want) {
				t.Errorf("known after the pictures were made: %q, %v; want %q", got, known, c.want)
			}
			if got, err := library.Codes(t.Context(), photo.ID); err != nil || !slices.Equal(got, c.want) {
				t.Errorf("Codes = %q, %v; want %q", got, err, c.want)
			}
		})
	}
}

// TestCodesAgain reads again what has pictures and no note: a folder of an earlier release, a note by another reader, one cut short.
func TestCodesAgain(t *testing.T) {
	picture := jpegOf(t, withTag(t, tagText, 900, 700, 120))
	for name, damage := range map[string]func(note string) error{
		"no note":              os.Remove,
		"by another reader":    func(note string) error { return os.WriteFile(note, []byte("reader 1\n"), 0o640) },
		"empty":                func(note string) error { return os.WriteFile(note, nil, 0o640) },
		"a text without quote": func(note string) error { return os.WriteFile(note, []byte("reader 2\n\"NB1"), 0o640) },
	} {
		t.Run(name, func(t *testing.T) {
			library, dir := openLibrary(t, media.Limits{})
			photo := take(t, library, picture)
			if err := library.Derive(t.Context(), photo.ID); err != nil {
				t.Fatal(err)
			}
			id := photo.ID.String()
			note := filepath.Join(dir, "derived", "v2", id[:2], id+"-codes.txt")
			if err := damage(note); err != nil {
				t.Fatal(err)
			}
			if got, known := library.KnownCodes(photo.ID); known {
				t.Errorf("KnownCodes = %q, want them to be unknown", got)
			}
			if got, err := library.Codes(t.Context(), photo.ID); err != nil || !slices.Equal(got, []string{tagText}) {
				t.Errorf("Codes = %q, %v", got, err)
			}
			if _, known := library.KnownCodes(photo.ID); !known {
				t.Error("what was read again was not noted")
			}
		})
	}
}

// TestCodesRefused has no codes of a photograph that can't be shown.
func TestCodesRefused(t *testing.T) {
	sound := jpegOf(t, grainy(300, 200))
	library, _ := openLibrary(t, media.Limits{})
	photo := take(t, library, append(bytes.Clone(sound[:len(sound)/2]), 0xff, 0xd9))
	var refusal *media.Refusal
	if _, err := library.Codes(t.Context(), photo.ID); !errors.As(err, &refusal) {
		t.Errorf("Codes = %v, want a refusal", err)
	}
}
