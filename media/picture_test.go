package media_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"newelbook/media"
)

// drawn is a picture with a different colour in each corner, soft in between, so that a wrong turn or a mirror shows.
func drawn(width, height int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetRGBA(x, y, color.RGBA{
				R: uint8(255 * x / max(1, width-1)),
				G: uint8(255 * y / max(1, height-1)),
				B: uint8(128 + 100*((x*8/width+y*8/height)%2)),
				A: 255,
			})
		}
	}
	return img
}

// grainy is a picture with fine random grain, which makes a JPEG of about the size that a camera would write.
func grainy(width, height int) *image.RGBA {
	img := drawn(width, height)
	seed := uint32(1)
	for i := range img.Pix {
		seed = seed*1664525 + 1013904223
		if i%4 != 3 {
			img.Pix[i] = uint8(int(img.Pix[i])*3/4 + int(seed>>27))
		}
	}
	return img
}

func jpegOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatalf("encode JPEG: %v", err)
	}
	return out.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		t.Fatalf("encode PNG: %v", err)
	}
	return out.Bytes()
}

// withChunk returns a PNG with one more chunk behind its header chunk.
func withChunk(picture []byte, name string, data []byte) []byte {
	const behindHeader = 8 + 4 + 4 + 13 + 4
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	chunk = append(append(chunk, name...), data...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return bytes.Join([][]byte{picture[:behindHeader], chunk, picture[behindHeader:]}, nil)
}

// webpPixel is the lossless WebP stream of a 1 by 1 picture.
const webpPixel = "\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00"

// webpOf returns a WebP file of 1 by 1 pixel with the flags of an extended header and further chunks.
func webpOf(flags byte, chunks ...string) []byte {
	body := []byte("WEBP")
	add := func(name, data string) {
		body = append(body, name...)
		body = binary.LittleEndian.AppendUint32(body, uint32(len(data)))
		body = append(body, data...)
		if len(data)%2 == 1 {
			body = append(body, 0)
		}
	}
	if len(chunks) > 0 || flags != 0 {
		add("VP8X", string([]byte{flags, 0, 0, 0, 0, 0, 0, 0, 0, 0}))
	}
	add("VP8L", webpPixel)
	for i := 0; i+1 < len(chunks); i += 2 {
		add(chunks[i], chunks[i+1])
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// openLibrary returns a library on a fresh folder, and the folder.
func openLibrary(t testing.TB, limits media.Limits) (*media.Library, string) {
	t.Helper()
	dir := t.TempDir()
	library, err := media.Open(dir, limits)
	if err != nil {
		t.Fatalf("Open = %v, want no error", err)
	}
	t.Cleanup(func() {
		if err := library.Close(); err != nil {
			t.Errorf("Close = %v, want no error", err)
		}
	})
	return library, dir
}

// take takes a picture in and fails the test if it is refused.
func take(t testing.TB, library *media.Library, picture []byte) media.Photo {
	t.Helper()
	photo, err := library.Intake(context.Background(), bytes.NewReader(picture))
	if err != nil {
		t.Fatalf("Intake(%d bytes) = %v, want no error", len(picture), err)
	}
	return photo
}

// filesUnder lists the files below a folder by their path in it.
func filesUnder(t testing.TB, dir string) []string {
	t.Helper()
	var found []string
	err := filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			name, relErr := filepath.Rel(dir, path)
			found = append(found, filepath.ToSlash(name))
			return relErr
		}
		return err
	})
	if err != nil {
		t.Fatalf("list files: %v", err)
	}
	return found
}

// decodeJPEG decodes a JPEG that must be sound.
func decodeJPEG(t testing.TB, data []byte) image.Image {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("decode JPEG: %v", err)
	}
	return img
}

// sharedPhotos returns the paths of the real photographs that lie beside the checkout.
func sharedPhotos(t testing.TB, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "shared", "photos", pattern))
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		missing(t, "NEWELBOOK_REQUIRE_SHARED", "the shared photographs are not beside this checkout")
	}
	return paths
}

// needTool skips the test when a program is not installed.
func needTool(t testing.TB, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		missing(t, "NEWELBOOK_REQUIRE_TOOLS", name+" is not installed")
	}
}

// missing skips the test, or fails it where the environment says that nothing may be missing.
func missing(t testing.TB, variable, what string) {
	t.Helper()
	if os.Getenv(variable) == "1" {
		t.Fatalf("%s, and %s=1", what, variable)
	}
	t.Skip(what)
}
