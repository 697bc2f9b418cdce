package media

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/disintegration/imaging"
)

// scene is a picture as lenses make them, of soft waves down to 20 pixels, with noise, in grey or in colour. Hard edges from one
// pixel to the next, which no lens makes, ring.
func scene(width, height int, noise float64, grey bool) image.Image {
	random := rand.New(rand.NewPCG(3, uint64(width)))
	wave := func(x, y int, long float64) float64 {
		return math.Sin(float64(x)*2*math.Pi/long) * math.Cos(float64(y)*2*math.Pi/(long*1.3))
	}
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			v := 128 + 50*wave(x, y, 310) + 30*wave(y, x, 70) + 20*wave(x, y, 20) + random.NormFloat64()*noise
			c := [3]float64{v, v*0.9 + 10*wave(y, x, 150), 200 - v/2}
			if grey {
				c = [3]float64{v, v, v}
			}
			for i := range c {
				img.Pix[y*img.Stride+4*x+i] = uint8(max(0, min(255, c[i])))
			}
			img.Pix[y*img.Stride+4*x+3] = 255
		}
	}
	if !grey {
		return img
	}
	out := image.NewGray(img.Rect)
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	return out
}

// psnr is the likeness of two pictures of one size in decibels.
func psnr(t *testing.T, a, b image.Image) float64 {
	t.Helper()
	if a.Bounds().Size() != b.Bounds().Size() {
		t.Fatalf("sizes %v and %v", a.Bounds().Size(), b.Bounds().Size())
	}
	x, y := imaging.Clone(a), imaging.Clone(b)
	sum := 0.0
	for i := range x.Pix {
		d := float64(x.Pix[i]) - float64(y.Pix[i])
		sum += d * d
	}
	return 10 * math.Log10(255*255/max(1e-9, sum/float64(len(x.Pix))))
}

// Decoded to scale and then resized, a picture is like the standard decoder's, resized.
func TestScaledAgainstStandardDecoder(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height int
		grey          bool
		noise         float64
		want          int // points
	}{
		{"half", 800, 600, false, 3, 4}, {"half, odd sides", 803, 601, false, 3, 4}, {"quarter", 1640, 1230, false, 3, 2},
		{"quarter, odd sides", 1637, 1231, false, 3, 2}, {"grey", 811, 607, true, 3, 4}, {"grey, quarter", 1640, 1230, true, 6, 2}, {"noisy", 801, 600, false, 12, 4},
	} {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, scene(c.width, c.height, c.noise, c.grey), &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		width, height := 380, 380*c.height/c.width
		got, err := decodeScaled(b.Bytes(), width, height)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if w := (c.width*c.want + 7) / 8; got.Rect.Dx() != w {
			t.Errorf("%s: %v, want %d across", c.name, got.Rect, w)
		}
		whole, err := jpeg.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if likeness := psnr(t, imaging.Resize(got, width, height, imaging.Lanczos), imaging.Resize(whole, width, height, imaging.Lanczos)); likeness < 35 {
			t.Errorf("%s: %.1f dB from the standard decoder, want 35", c.name, likeness)
		} else {
			t.Logf("%s: %.1f dB", c.name, likeness)
		}
	}
}

// What it does not know, and what is damaged, it leaves to the standard decoder; it never panics.
func TestScaledLeavesTheRest(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, scene(400, 300, 4, false), nil); err != nil {
		t.Fatal(err)
	}
	sound := b.Bytes()
	for name, data := range map[string][]byte{
		"nothing": nil, "two bytes": sound[:2], "head": sound[:200], "half": sound[:len(sound)/2], "closed half": append(bytes.Clone(sound[:len(sound)/2]), 0xff, 0xd9),
		"progressive": bytes.Replace(sound, []byte("\xff\xc0"), []byte("\xff\xc2"), 1),
	} {
		if img, err := decodeScaled(data, 100, 75); err == nil || img != nil {
			t.Errorf("%s: decoded, want an error", name)
		}
	}
	if _, err := decodeScaled(sound, 300, 225); err == nil {
		t.Error("a picture that is not twice as large as wanted was scaled")
	}
	random := rand.New(rand.NewPCG(5, 6))
	for range 3000 {
		damaged := bytes.Clone(sound)
		for range 1 + random.IntN(4) {
			damaged[random.IntN(len(damaged))] ^= 1 << random.IntN(8)
		}
		_, _ = decodeScaled(damaged, 100, 75) // it must come back
	}
}

// decoderSamples is the folder of the standard decoder's own tests.
func decoderSamples(t *testing.T) string {
	t.Helper()
	root, err := exec.CommandContext(t.Context(), "go", "env", "GOROOT").Output()
	dir := filepath.Join(strings.TrimSpace(string(root)), "src", "image", "testdata")
	if _, statErr := os.Stat(dir); err != nil || statErr != nil {
		if os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1" {
			t.Fatal("the sample pictures of the decoders are not on this machine")
		}
		t.Skip("the sample pictures of the decoders are not on this machine")
	}
	return dir
}

// The samples of the standard decoder's own tests, in every subsampling: those that are known are like that decoder's, the others are left to it.
func TestScaledOfDecoderSamples(t *testing.T) {
	dir := decoderSamples(t)
	for name, known := range map[string]bool{
		"video-001.jpeg": true, "video-001.q50.420.jpeg": true, "video-001.q50.422.jpeg": true, "video-001.q50.440.jpeg": true, "video-001.q50.444.jpeg": true,
		"video-001.restart2.jpeg": true, "video-005.gray.jpeg": true, "video-005.gray.q50.jpeg": true,
		"video-001.q50.410.jpeg": false, "video-001.q50.411.jpeg": false, "video-001.cmyk.jpeg": false, "video-001.rgb.jpeg": false,
		"video-001.221212.jpeg":      false,
		"video-001.progressive.jpeg": true, "video-001.progressive.truncated.jpeg": true, "video-001.separate.dc.progression.progressive.jpeg": true,
		"video-001.q50.420.progressive.jpeg": true, "video-001.q50.422.progressive.jpeg": true, "video-001.q50.440.progressive.jpeg": true, "video-001.q50.444.progressive.jpeg": true,
		"video-005.gray.q50.progressive.jpeg": true, "video-001.q50.410.progressive.jpeg": false, "video-001.q50.411.progressive.jpeg": false,
	} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := decodeScaled(data, 70, 48)
		if (err == nil) != known {
			t.Errorf("%s: %v, want it known: %v", name, err, known)
			continue
		}
		if !known {
			continue
		}
		whole, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if likeness := psnr(t, imaging.Resize(got, 70, 48, imaging.Lanczos), imaging.Resize(whole, 70, 48, imaging.Lanczos)); likeness < 26 { // of 150 by 103 pixels and sharp to each of them
			t.Errorf("%s: %.1f dB from the standard decoder, want 26", name, likeness)
		} else {
			t.Logf("%s: %.1f dB", name, likeness)
		}
	}
}

// A progressive picture and a baseline one of the same coefficients are the same to the last bit, at a half and at a quarter, and a damaged one
// comes back all the same.
func TestScaledProgressiveIsTheSame(t *testing.T) {
	dir := decoderSamples(t)
	read := func(name string) []byte {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	random := rand.New(rand.NewPCG(8, 9))
	for _, name := range []string{"video-001.q50.420", "video-001.q50.422", "video-001.q50.440", "video-001.q50.444", "video-005.gray.q50"} {
		progressive := read(name + ".progressive.jpeg")
		for _, width := range []int{70, 30} {
			want, err := decodeScaled(read(name+".jpeg"), width, width*2/3)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			got, err := decodeScaled(progressive, width, width*2/3)
			if err != nil {
				t.Errorf("%s, progressive: %v", name, err)
				continue
			}
			if got.Rect != want.Rect || !bytes.Equal(got.Y, want.Y) || !bytes.Equal(got.Cb, want.Cb) || !bytes.Equal(got.Cr, want.Cr) {
				t.Errorf("%s at %d across: progressive and baseline differ", name, width)
			}
		}
		for range 600 {
			damaged := bytes.Clone(progressive)
			for range 1 + random.IntN(4) {
				damaged[random.IntN(len(damaged))] ^= 1 << random.IntN(8)
			}
			_, _ = decodeScaled(damaged, 30, 20) // it must come back
		}
	}
}
