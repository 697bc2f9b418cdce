package media_test

import (
	"bytes"
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"newelbook/media"
)

// twelveMegapixels is a grainy picture of the size that telephones take.
func twelveMegapixels(b *testing.B) []byte {
	b.Helper()
	picture := jpegOf(b, grainy(4000, 3000))
	b.SetBytes(int64(len(picture)))
	return picture
}

// BenchmarkIntake takes a 12 megapixel JPEG in: hash, Exif, decode, two pictures, three files synced.
func BenchmarkIntake(b *testing.B) {
	picture := twelveMegapixels(b)
	for b.Loop() {
		b.StopTimer()
		library, _ := openLibrary(b, media.Limits{})
		b.StartTimer()
		take(b, library, picture)
	}
}

// BenchmarkIntakeByTools does the same job with sha256, exiftool and vipsthumbnail, for comparison.
func BenchmarkIntakeByTools(b *testing.B) {
	needTool(b, "exiftool")
	needTool(b, "vipsthumbnail")
	picture := twelveMegapixels(b)
	dir := b.TempDir()
	path := filepath.Join(dir, "photo.jpg")
	run := func(name string, args ...string) {
		if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
			b.Fatalf("%s: %v: %s", name, err, out)
		}
	}
	for b.Loop() {
		if err := os.WriteFile(path, picture, 0o600); err != nil {
			b.Fatal(err)
		}
		if sum := sha256.Sum256(picture); sum == [32]byte{} {
			b.Fatal("no hash")
		}
		run("exiftool", "-json", "-n", path)
		run("vipsthumbnail", path, "--size", "1600x1600>", "-o", filepath.Join(dir, "view.jpg[Q=85,strip]"))
		run("vipsthumbnail", path, "--size", "320x320>", "-o", filepath.Join(dir, "thumb.jpg[Q=80,strip]"))
	}
}

// BenchmarkReadExif reads the Exif of a file whose bytes are in memory.
func BenchmarkReadExif(b *testing.B) {
	var files [][]byte
	for _, path := range sharedPhotos(b, "DSCN*.jpg") {
		content, err := os.ReadFile(path)
		if err != nil {
			b.Fatal(err)
		}
		files = append(files, content)
	}
	for b.Loop() {
		for _, file := range files {
			if _, err := media.ReadExif(bytes.NewReader(file)); err != nil {
				b.Fatal(err)
			}
		}
	}
}
