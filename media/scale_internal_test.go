package media

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"github.com/disintegration/imaging"
	"pgregory.net/rapid"
)

// plainJPEG is a small sound JPEG without Exif.
func plainJPEG(t *testing.T, width, height int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, width, height))
	for i := range img.Pix {
		img.Pix[i] = byte(i)
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestFit(t *testing.T) {
	cases := []struct {
		size                  Size
		width, height         int
		wantWidth, wantHeight int
	}{
		{View, 4000, 3000, 1600, 1200},
		{View, 3000, 4000, 1200, 1600},
		{Thumb, 4000, 3000, 320, 240},
		// Nothing is enlarged.
		{View, 1600, 900, 1600, 900},
		{View, 10, 20, 10, 20},
		// Rounded to the nearest pixel, never to none.
		{View, 4001, 3000, 1600, 1200},
		{Thumb, 4032, 3024, 320, 240},
		{Thumb, 65_000, 1, 320, 1},
		{Thumb, 1, 65_000, 1, 320},
	}
	for _, c := range cases {
		if w, h := c.size.Fit(c.width, c.height); w != c.wantWidth || h != c.wantHeight {
			t.Errorf("%d.Fit(%d, %d) = %d, %d, want %d, %d", c.size, c.width, c.height, w, h, c.wantWidth, c.wantHeight)
		}
	}
}

func TestFitProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(1, 65_535).Draw(t, "width"), rapid.IntRange(1, 65_535).Draw(t, "height")
		for _, size := range derivedSizes() {
			w, h := size.Fit(width, height)
			if max(w, h) != min(int(size), max(width, height)) || min(w, h) < 1 {
				t.Fatalf("%d.Fit(%d, %d) = %d, %d: longest side", size, width, height, w, h)
			}
			if across, down := size.Fit(height, width); across != h || down != w {
				t.Fatalf("%d.Fit turned = %d, %d, want %d, %d", size, across, down, h, w)
			}
			// The shape is kept to within half a pixel.
			scale := float64(max(w, h)) / float64(max(width, height))
			if short := math.Max(1, float64(min(width, height))*scale); math.Abs(short-float64(min(w, h))) > 0.5 {
				t.Fatalf("%d.Fit(%d, %d) = %d, %d: short side %v", size, width, height, w, h, short)
			}
		}
	})
}

// Halving must agree with a plain average over the pixels as image.YCbCr itself reads them.
func TestHalveAgainstAverageOfPixels(t *testing.T) {
	ratios := []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio440,
	}
	rapid.Check(t, func(t *rapid.T) {
		width, height := 2*rapid.IntRange(1, 5).Draw(t, "half width"), 2*rapid.IntRange(1, 5).Draw(t, "half height")
		img := image.NewYCbCr(image.Rect(0, 0, width, height), rapid.SampledFrom(ratios).Draw(t, "ratio"))
		for _, plane := range [][]byte{img.Y, img.Cb, img.Cr} {
			copy(plane, rapid.SliceOfN(rapid.Byte(), len(plane), len(plane)).Draw(t, "plane"))
		}
		got := halve(img)
		if got.Rect != image.Rect(0, 0, width/2, height/2) {
			t.Fatalf("halve of %d by %d has bounds %v", width, height, got.Rect)
		}
		for y := range got.Rect.Dy() {
			for x := range got.Rect.Dx() {
				var sum [3]int
				for _, p := range []image.Point{{2 * x, 2 * y}, {2*x + 1, 2 * y}, {2 * x, 2*y + 1}, {2*x + 1, 2*y + 1}} {
					c := img.YCbCrAt(p.X, p.Y)
					sum[0], sum[1], sum[2] = sum[0]+int(c.Y), sum[1]+int(c.Cb), sum[2]+int(c.Cr)
				}
				want := color.YCbCr{Y: byte((sum[0] + 2) / 4), Cb: byte((sum[1] + 2) / 4), Cr: byte((sum[2] + 2) / 4)}
				if c := got.YCbCrAt(x, y); c != want {
					t.Fatalf("halve of %d by %d %v at %d, %d = %v, want %v", width, height, img.SubsampleRatio, x, y, c, want)
				}
			}
		}
	})
}

// Halving before the filter must look as the filter alone does: 43.7 dB was measured on photographs, and a smooth
// picture must do about as well.
func TestResizeCloseToFilterAlone(t *testing.T) {
	img := image.NewYCbCr(image.Rect(0, 0, 1000, 752), image.YCbCrSubsampleRatio420)
	for y := range 752 {
		for x := range 1000 {
			img.Y[img.YOffset(x, y)] = byte(128 + 100*math.Sin(float64(x)/23)*math.Cos(float64(y)/31))
			img.Cb[img.COffset(x, y)] = byte(x / 4)
			img.Cr[img.COffset(x, y)] = byte(y / 3)
		}
	}
	got, want := resize(img, 200, 150), imaging.Resize(img, 200, 150, imaging.Lanczos)
	var sum float64
	for i := range want.Pix {
		d := float64(got.Pix[i]) - float64(want.Pix[i])
		sum += d * d
	}
	if psnr := 10 * math.Log10(255*255/(sum/float64(len(want.Pix)))); psnr < 43 {
		t.Errorf("resize is %.1f dB from the filter alone, want 43 or more", psnr)
	}
}

func TestOnWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 3, 1))
	img.SetNRGBA(0, 0, color.NRGBA{10, 20, 30, 255})
	img.SetNRGBA(1, 0, color.NRGBA{10, 20, 30, 0})
	img.SetNRGBA(2, 0, color.NRGBA{0, 100, 255, 128})
	onWhite(img)
	want := []byte{10, 20, 30, 255, 255, 255, 255, 255, 127, 177, 255, 255}
	if !bytes.Equal(img.Pix, want) {
		t.Errorf("onWhite = %v, want %v", img.Pix, want)
	}
}
