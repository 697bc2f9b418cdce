package media_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math/rand/v2"
	"testing"

	"newelbook/media"
)

// scene is posts and boards of a seed: soft ground with blocks of different greys, as light or dark as asked.
func scene(seed uint64, light float64) *image.RGBA {
	r := rand.New(rand.NewPCG(seed, 7))
	img := image.NewRGBA(image.Rect(0, 0, 800, 600))
	paint := func(box image.Rectangle, grey int) {
		draw.Draw(img, box, image.NewUniform(color.Gray{uint8(min(255, float64(grey)*light))}), image.Point{}, draw.Src)
	}
	paint(img.Bounds(), 110)
	for range 14 {
		x, y := r.IntN(700), r.IntN(500)
		paint(image.Rect(x, y, x+80+r.IntN(200), y+80+r.IntN(200)), 40+r.IntN(160))
	}
	return img
}

func compressed(t *testing.T, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// moved is a picture seen from a step to the side: some pixels over, the edge doubled.
func moved(img *image.RGBA, dx int) *image.RGBA {
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Bounds(), img, image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(dx, 0, 800, 600), img, image.Point{}, draw.Src)
	return out
}

// TestLikeness takes some scenes: each again at another compression, lighter, and from a step aside is near to the first, and every
// other scene is not. The rates are told.
func TestLikeness(t *testing.T) {
	const scenes = 24
	library, _ := openLibrary(t, media.Limits{})
	like := func(picture []byte) (media.Likeness, bool) {
		t.Helper()
		photo := take(t, library, picture)
		if _, ok, err := library.Likeness(t.Context(), photo.ID); err != nil || ok {
			t.Fatalf("a likeness before there is a picture: %v, %v", ok, err)
		}
		readView(t, library, photo.ID, media.Thumb)
		l, ok, err := library.Likeness(t.Context(), photo.ID)
		again, okAgain, errAgain := library.Likeness(t.Context(), photo.ID)
		if err != nil || errAgain != nil || l != again || ok != okAgain {
			t.Fatalf("asked twice: %x %v %v, %x %v %v", l, ok, err, again, okAgain, errAgain)
		}
		return l, ok
	}
	var first []media.Likeness
	missed, wrong := 0, 0
	for i := range scenes {
		plain := scene(uint64(i), 1)
		l, ok := like(compressed(t, plain, 92))
		if !ok {
			t.Fatalf("scene %d is too plain", i)
		}
		for _, again := range [][]byte{compressed(t, plain, 40), compressed(t, scene(uint64(i), 1.2), 90), compressed(t, moved(plain, 8), 90)} {
			if a, ok := like(again); !ok || !l.Near(a) {
				missed++
			}
		}
		for _, other := range first {
			if l.Near(other) {
				wrong++
			}
		}
		first = append(first, l)
	}
	t.Logf("%d of %d of one scene missed, %d of %d pairs of different scenes taken for one", missed, 3*scenes, wrong, scenes*(scenes-1)/2)
	if missed > 0 || wrong > 0 {
		t.Errorf("missed %d, wrong %d, want none", missed, wrong)
	}
	for name, picture := range map[string][]byte{"grey": grey(t, 400, 300), "black": compressed(t, image.NewRGBA(image.Rect(0, 0, 400, 300)), 90)} {
		if l, ok := like(picture); ok {
			t.Errorf("a plain %s picture has the likeness %x, want none", name, l)
		}
	}
}
