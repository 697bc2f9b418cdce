package media

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"testing"
	"time"

	"newelbook/media/codes/scenes"
)

// BenchmarkCodes reads a photograph of 12 megapixels that shows no tag, which takes longest but for hostile ones, and says how that
// time is to the time of decoding it and making its derived pictures.
func BenchmarkCodes(b *testing.B) {
	s := scenes.Scene{Width: 4000, Height: 3000, Code: 200, Light: 0.9, Noise: 3, Blur: 0.7}
	grey := scenes.Draw(s, 1, func(int, int) bool { return false }, rand.New(rand.NewPCG(1, 2)))
	img := image.NewYCbCr(grey.Rect, image.YCbCrSubsampleRatio420)
	copy(img.Y, grey.Pix)
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = byte(110+i%5), byte(140-i%7)
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 92}); err != nil {
		b.Fatal(err)
	}
	known := picture{kind: JPEG, width: 4000, height: 3000, exif: Exif{Orientation: 1}}
	var making, reading time.Duration
	for b.Loop() {
		start := time.Now()
		scaled, err := scaledPixels(b.Context(), bytes.NewReader(file.Bytes()), known)
		if err != nil || scaled == nil {
			b.Fatalf("not decoded to scale: %v", err)
		}
		if _, err := render(scaled, known); err != nil {
			b.Fatal(err)
		}
		made := time.Now()
		codesIn(scaled)
		making, reading = making+made.Sub(start), reading+time.Since(made)
	}
	b.ReportMetric(float64(reading)/float64(making), "reading/making")
}
