package media_test

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/media"
)

// goFolder asks the go command for a folder and skips the test if it can't tell or the folder is not there.
func goFolder(t *testing.T, below string, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "go", args...).Output()
	dir := filepath.Join(strings.TrimSpace(string(out)), filepath.FromSlash(below))
	if _, statErr := os.Stat(dir); err != nil || statErr != nil {
		missing(t, "NEWELBOOK_REQUIRE_TOOLS", "the sample pictures of the decoders are not on this machine")
	}
	return dir
}

// The sample pictures of the decoders' own tests, each beside the PNG of the same picture.
func TestIntakeOfDecoderSamples(t *testing.T) {
	standard := goFolder(t, "src/image/testdata", "env", "GOROOT")
	extended := goFolder(t, "testdata", "list", "-m", "-f", "{{.Dir}}", "golang.org/x/image")
	cases := []struct{ dir, name, same string }{
		{standard, "video-001.jpeg", "video-001.png"},
		{standard, "video-001.progressive.jpeg", "video-001.png"},
		// Cut between two scans and closed again: sound by the standard, only coarser.
		{standard, "video-001.progressive.truncated.jpeg", "video-001.progressive.truncated.png"},
		{standard, "video-001.restart2.jpeg", "video-001.png"},
		{standard, "video-001.rgb.jpeg", "video-001.png"},
		{standard, "video-001.cmyk.jpeg", "video-001.cmyk.png"},
		{standard, "video-001.separate.dc.progression.jpeg", "video-001.png"},
		// 4:1:0, 4:1:1, 4:2:0, 4:2:2, 4:4:0 and 4:4:4.
		{standard, "video-001.q50.410.jpeg", "video-001.png"},
		{standard, "video-001.q50.411.jpeg", "video-001.png"},
		{standard, "video-001.q50.420.progressive.jpeg", "video-001.png"},
		{standard, "video-001.q50.422.jpeg", "video-001.png"},
		{standard, "video-001.q50.440.jpeg", "video-001.png"},
		{standard, "video-001.q50.444.progressive.jpeg", "video-001.png"},
		{standard, "video-001.5bpp.gif", ""},
		{extended, "blue-purple-pink-large.normal-filter.lossy.webp", "blue-purple-pink-large.png"},
		{extended, "blue-purple-pink-large.lossless.webp", "blue-purple-pink-large.png"},
		{extended, "gopher-doc.4bpp.lossless.webp", "gopher-doc.4bpp.png"},
		{extended, "yellow_rose.lossy-with-alpha.webp", "yellow_rose.png"},
		{extended, "video-001.tiff", ""},
		{extended, "video-001.bmp", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			content, err := os.ReadFile(filepath.Join(c.dir, c.name))
			if err != nil {
				t.Fatal(err)
			}
			library, _ := openLibrary(t, media.Limits{})
			photo, err := library.Intake(t.Context(), bytes.NewReader(content))
			if c.same == "" {
				if err == nil {
					t.Errorf("Intake = %+v, want a refusal", photo)
				}
				return
			}
			if err != nil {
				t.Fatalf("Intake = %v, want no error", err)
			}
			want := onWhitePNG(t, filepath.Join(c.dir, c.same))
			if d := difference(decodeJPEG(t, readView(t, library, photo.ID, media.View)), want); d > 2*alike {
				t.Errorf("view is %d off %s, want at most %d", d, c.same, 2*alike)
			}
		})
	}
}

// onWhitePNG decodes a PNG and puts white behind it.
func onWhitePNG(t *testing.T, path string) image.Image {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, img.Bounds().Min, draw.Over)
	return out
}
