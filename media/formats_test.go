package media_test

import (
	"bytes"
	"errors"
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

// Every file of the tests of the decoders and of both Exif readers, damaged, hostile and foreign ones among them, is taken or refused in words;
// what is taken has its pictures or says why not; and the memory stays as it was.
func TestIntakeOfEverySample(t *testing.T) {
	module := func(below, path string) string { return goFolder(t, below, "list", "-m", "-f", "{{.Dir}}", path) }
	library, _ := openLibrary(t, media.Limits{})
	files, taken, shown := 0, 0, 0
	for _, dir := range []string{
		goFolder(t, "src/image", "env", "GOROOT"), module("testdata", "golang.org/x/image"), module("exif/samples", "github.com/rwcarlsen/goexif"),
		module("testdata/images", "github.com/bep/imagemeta"), module("testdata", "github.com/disintegration/imaging"),
	} {
		err := filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
			if err != nil || !entry.Type().IsRegular() || filepath.Ext(path) == ".go" {
				return err
			}
			file, err := os.Open(path)
			if err != nil {
				return err
			}
			defer file.Close()
			files++
			photo, err := library.Intake(t.Context(), file)
			var refusal *media.Refusal
			if err != nil {
				if !errors.As(err, &refusal) || !strings.HasSuffix(refusal.Sentence(), ".") {
					t.Errorf("%s: Intake = %v, want a photo or a refusal in words", path, err)
				}
				return nil
			}
			taken++
			view, err := library.OpenView(t.Context(), photo.ID, media.View)
			if err != nil {
				if !errors.As(err, &refusal) {
					t.Errorf("%s: OpenView = %v, want a picture or a refusal in words", path, err)
				}
				return nil
			}
			shown++
			return view.Close()
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d files: %d taken, %d shown", files, taken, shown)
	if taken < 50 || shown < 40 || taken == files {
		t.Errorf("of %d files %d were taken and %d shown: too few to say anything", files, taken, shown)
	}
}
