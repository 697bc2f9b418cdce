package media_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

// readView returns the bytes of a derived picture.
func readView(t testing.TB, library *media.Library, id media.ID, size media.Size) []byte {
	t.Helper()
	view, err := library.OpenView(t.Context(), id, size)
	if err != nil {
		t.Fatalf("OpenView(%s, %d) = %v, want no error", id.Short(), size, err)
	}
	return readAll(t, view)
}

// readAll reads an open picture to its end and closes it.
func readAll(t testing.TB, view *media.Rendition) []byte {
	t.Helper()
	content, err := io.ReadAll(view)
	if err != nil {
		t.Fatal(err)
	}
	if int64(len(content)) != view.Bytes {
		t.Errorf("OpenView gave %d bytes, stated %d", len(content), view.Bytes)
	}
	if err := view.Close(); err != nil {
		t.Error(err)
	}
	return content
}

// asStored turns an upright picture into what a camera held in that orientation stores, straight from the meaning of
// the eight values in the standard (Exif 2.32, tag 0x0112): where the stored first row and first column lie.
func asStored(upright image.Image, orientation int) image.Image {
	w, h := upright.Bounds().Dx(), upright.Bounds().Dy()
	if orientation >= 5 {
		w, h = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			at := map[int]image.Point{
				1: {x, y},                 // row 0 at the top, column 0 at the left
				2: {w - 1 - x, y},         // top, right
				3: {w - 1 - x, h - 1 - y}, // bottom, right
				4: {x, h - 1 - y},         // bottom, left
				5: {y, x},                 // left, top
				6: {h - 1 - y, x},         // right, top
				7: {h - 1 - y, w - 1 - x}, // right, bottom
				8: {y, w - 1 - x},         // left, bottom
			}[orientation]
			out.Set(x, y, upright.At(at.X, at.Y))
		}
	}
	return out
}

// blocks averages a picture into 8 by 8 fields, to compare pictures that went through JPEG.
func blocks(img image.Image) [8][8][3]int {
	var out [8][8][3]int
	b := img.Bounds()
	for by := range 8 {
		for bx := range 8 {
			n := 0
			for y := b.Min.Y + by*b.Dy()/8; y < b.Min.Y+(by+1)*b.Dy()/8; y++ {
				for x := b.Min.X + bx*b.Dx()/8; x < b.Min.X+(bx+1)*b.Dx()/8; x++ {
					r, g, bl, _ := img.At(x, y).RGBA()
					for i, v := range []uint32{r, g, bl} {
						out[by][bx][i] += int(v >> 8)
					}
					n++
				}
			}
			for i := range 3 {
				out[by][bx][i] /= max(1, n)
			}
		}
	}
	return out
}

// alike bounds the difference of the same picture after scaling, chroma subsampling and JPEG. Any wrong turn of drawn
// is far above it, which TestDifferenceSeesEveryTurn holds.
const alike = 10

// difference is the largest difference between two pictures in any field and channel, 0 to 255.
func difference(a, b image.Image) int {
	most, fa, fb := 0, blocks(a), blocks(b)
	for y := range 8 {
		for x := range 8 {
			for i := range 3 {
				d := fa[y][x][i] - fb[y][x][i]
				most = max(most, d, -d)
			}
		}
	}
	return most
}

func TestViewsStandUpright(t *testing.T) {
	upright := drawn(480, 320)
	for orientation := 1; orientation <= 8; orientation++ {
		t.Run(fmt.Sprint(orientation), func(t *testing.T) {
			picture, err := exifwrite.Encode(jpegOf(t, asStored(upright, orientation)), exifwrite.Tags{Orientation: orientation})
			if err != nil {
				t.Fatal(err)
			}
			library, _ := openLibrary(t, media.Limits{})
			photo := take(t, library, picture)
			if photo.Width != 480 || photo.Height != 320 {
				t.Errorf("Intake says %d by %d, want 480 by 320", photo.Width, photo.Height)
			}
			for _, size := range []media.Size{media.View, media.Thumb} {
				if d := difference(decodeJPEG(t, readView(t, library, photo.ID, size)), upright); d > alike {
					t.Errorf("the picture at %d is %d off the upright one, want at most %d", size, d, alike)
				}
			}
		})
	}
}

// A view that is turned or mirrored wrongly must be seen by the test above.
func TestDifferenceSeesEveryTurn(t *testing.T) {
	upright := drawn(480, 320)
	for orientation := 2; orientation <= 8; orientation++ {
		if d := difference(asStored(upright, orientation), upright); d < 5*alike {
			t.Errorf("orientation %d is %d off the upright picture, want %d or more", orientation, d, 5*alike)
		}
	}
}

// The eight files show one scene with a large number in the middle; the first was saved a little brighter.
func TestSharedLandscapesStandUpright(t *testing.T) {
	const sameScene = 30
	library, _ := openLibrary(t, media.Limits{})
	var first image.Image
	for _, path := range sharedPhotos(t, "landscape_[1-8].jpg") {
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		photo := take(t, library, content)
		if want := path[len(path)-5] - '0'; photo.Exif.Orientation != int(want) {
			t.Errorf("%s has orientation %d, want %d", path, photo.Exif.Orientation, want)
		}
		view := decodeJPEG(t, readView(t, library, photo.ID, media.Thumb))
		if photo.Width != 600 || photo.Height != 450 {
			t.Errorf("%s is %d by %d upright, want 600 by 450", path, photo.Width, photo.Height)
		}
		if first == nil {
			first = view
			for orientation := 2; orientation <= 8; orientation++ {
				if d := difference(asStored(first, orientation), first); d < 3*sameScene {
					t.Errorf("the scene turned as in %d is only %d off, so the test says nothing", orientation, d)
				}
			}
		}
		if d := difference(view, first); d > sameScene {
			t.Errorf("%s is %d off the first, want at most %d", path, d, sameScene)
		}
	}
}

func TestViewSizes(t *testing.T) {
	cases := []struct {
		name                    string
		img                     image.Image
		viewWidth, viewHeight   int
		thumbWidth, thumbHeight int
	}{
		{"large", drawn(3300, 2200), 1600, 1067, 320, 213},
		{"tall", drawn(900, 3600), 400, 1600, 80, 320},
		{"odd sides", drawn(1601, 1203), 1600, 1202, 320, 240},
		{"small is not enlarged", drawn(200, 100), 200, 100, 200, 100},
		{"one line", drawn(3000, 1), 1600, 1, 320, 1},
		{"one pixel", drawn(1, 1), 1, 1, 1, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, _ := openLibrary(t, media.Limits{})
			photo := take(t, library, jpegOf(t, c.img))
			got := [2]image.Point{}
			for i, size := range []media.Size{media.View, media.Thumb} {
				got[i] = decodeJPEG(t, readView(t, library, photo.ID, size)).Bounds().Size()
			}
			want := [2]image.Point{{c.viewWidth, c.viewHeight}, {c.thumbWidth, c.thumbHeight}}
			if got != want {
				t.Errorf("view and thumbnail are %v, want %v", got, want)
			}
			if min(c.img.Bounds().Dx(), c.img.Bounds().Dy()) >= 8 {
				if d := difference(decodeJPEG(t, readView(t, library, photo.ID, media.View)), c.img); d > alike {
					t.Errorf("view is %d off the original, want at most %d", d, alike)
				}
			}
		})
	}
}

// Every colour model that the decoders hand out must come through.
func TestViewsOfColourModels(t *testing.T) {
	source := drawn(200, 120)
	convert := func(dst draw.Image) image.Image {
		draw.Draw(dst, dst.Bounds(), source, image.Point{}, draw.Src)
		return dst
	}
	size := source.Bounds()
	palette := color.Palette{}
	for i := range 216 {
		palette = append(palette, color.RGBA{uint8(i / 36 * 51), uint8(i / 6 % 6 * 51), uint8(i % 6 * 51), 255})
	}
	cases := []struct {
		name string
		in   []byte
		img  image.Image
	}{
		{"PNG, 8 bit", pngOf(t, source), source},
		{"PNG, 16 bit", pngOf(t, convert(image.NewRGBA64(size))), source},
		{"PNG, 16 bit with transparency", pngOf(t, convert(image.NewNRGBA64(size))), source},
		{"PNG, grey", pngOf(t, convert(image.NewGray(size))), convert(image.NewGray(size))},
		{"PNG, 16 bit grey", pngOf(t, convert(image.NewGray16(size))), convert(image.NewGray(size))},
		{"PNG, palette", pngOf(t, convert(image.NewPaletted(size, palette))), convert(image.NewPaletted(size, palette))},
		{"JPEG, grey", jpegOf(t, convert(image.NewGray(size))), convert(image.NewGray(size))},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, _ := openLibrary(t, media.Limits{})
			photo := take(t, library, c.in)
			if d := difference(decodeJPEG(t, readView(t, library, photo.ID, media.View)), c.img); d > alike {
				t.Errorf("view is %d off the original, want at most %d", d, alike)
			}
		})
	}
}

func TestTransparencyIsWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 700, 500))
	draw.Draw(img, image.Rect(0, 0, 350, 500), image.NewUniform(color.NRGBA{0, 90, 60, 255}), image.Point{}, draw.Src)
	library, _ := openLibrary(t, media.Limits{})
	photo := take(t, library, pngOf(t, img))
	for _, size := range []media.Size{media.View, media.Thumb} {
		view := decodeJPEG(t, readView(t, library, photo.ID, size))
		r, g, b, _ := view.At(view.Bounds().Dx()*3/4, 50).RGBA()
		if min(r, g, b)>>8 < 252 {
			t.Errorf("transparent part at %d is %d, %d, %d, want white", size, r>>8, g>>8, b>>8)
		}
		r, g, b, _ = view.At(view.Bounds().Dx()/4, 50).RGBA()
		if r>>8 > 5 || g>>8 < 85 || g>>8 > 95 || b>>8 < 55 || b>>8 > 65 {
			t.Errorf("opaque part at %d is %d, %d, %d, want about 0, 90, 60", size, r>>8, g>>8, b>>8)
		}
	}
}

func TestViewsCarryNoExif(t *testing.T) {
	lat, lon := 43.25, -79.5
	picture, err := exifwrite.Encode(jpegOf(t, drawn(400, 300)), exifwrite.Tags{
		Make: "Larkfield", DateTimeOriginal: "2026:05:04 09:30:07", Lat: &lat, Lon: &lon,
	})
	if err != nil {
		t.Fatal(err)
	}
	library, _ := openLibrary(t, media.Limits{})
	photo := take(t, library, picture)
	if photo.Exif.Position == nil {
		t.Fatal("the original has no position, so the test says nothing")
	}
	for _, size := range []media.Size{media.View, media.Thumb} {
		view := readView(t, library, photo.ID, size)
		got, err := media.ReadExif(bytes.NewReader(view))
		if err != nil || got != (media.Exif{Orientation: 1}) {
			t.Errorf("Exif of the picture at %d = %+v, %v, want none", size, got, err)
		}
		if bytes.Contains(view, []byte("Exif")) || bytes.Contains(view, []byte("Larkfield")) {
			t.Errorf("the picture at %d holds the camera's data", size)
		}
	}
}

func TestViewsAreMadeAgain(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, jpegOf(t, grainy(1700, 900)))
	view, thumb := readView(t, library, photo.ID, media.View), readView(t, library, photo.ID, media.Thumb)
	path := func(size int) string {
		id := photo.ID.String()
		return filepath.Join(dir, "derived", "v2", id[:2], fmt.Sprintf("%s-%d.jpg", id, size))
	}
	cases := []struct {
		name string
		harm func() error
	}{
		{"all of derived deleted", func() error { return os.RemoveAll(filepath.Join(dir, "derived", "v2")) }},
		{"view deleted", func() error { return os.Remove(path(1600)) }},
		{"thumbnail emptied", func() error { return os.Truncate(path(320), 0) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if err := c.harm(); err != nil {
				t.Fatal(err)
			}
			if again := readView(t, library, photo.ID, media.Thumb); !bytes.Equal(again, thumb) {
				t.Error("thumbnail made again has other bytes")
			}
			if again := readView(t, library, photo.ID, media.View); !bytes.Equal(again, view) {
				t.Error("view made again has other bytes")
			}
		})
	}
}

func TestDeriveOnce(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, jpegOf(t, drawn(64, 48)))
	readView(t, library, photo.ID, media.Thumb)
	id := photo.ID.String()
	path := filepath.Join(dir, "derived", "v2", id[:2], id+"-320.jpg")
	before, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := library.Derive(t.Context(), photo.ID); err != nil {
		t.Fatalf("Derive = %v, want no error", err)
	}
	after, err := os.Stat(path)
	if err != nil || !os.SameFile(before, after) {
		t.Errorf("Derive replaced a thumbnail that was there (%v)", err)
	}
}

func TestOpenViewErrors(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, jpegOf(t, drawn(64, 48)))
	if _, err := library.OpenView(t.Context(), media.ID{1}, media.View); !errors.Is(err, media.ErrNotFound) {
		t.Errorf("OpenView of nothing = %v, want ErrNotFound", err)
	}
	if _, err := library.OpenView(t.Context(), photo.ID, 640); err == nil {
		t.Error("OpenView at 640 = no error, want one: there is no such size")
	}
	text, err := media.Put(t.Context(), library.Originals(), strings.NewReader("not a picture"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := library.OpenView(t.Context(), text.ID, media.View); !errors.Is(err, media.ErrUnsupported) {
		t.Errorf("OpenView of text = %v, want ErrUnsupported", err)
	}
	// A picture must not be derived from an original that is no longer what was received.
	id := photo.ID.String()
	damage(t, filepath.Join(dir, "originals", id[:2], id), func(b []byte) []byte { b[len(b)-10] ^= 1; return b })
	if _, err := library.OpenView(t.Context(), photo.ID, media.View); !errors.Is(err, media.ErrCorrupt) {
		t.Errorf("OpenView of a changed original = %v, want ErrCorrupt", err)
	}
}
