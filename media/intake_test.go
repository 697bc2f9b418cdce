package media_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

func TestIntake(t *testing.T) {
	plain := jpegOf(t, drawn(400, 300))
	turned, err := exifwrite.Encode(plain, exifwrite.Tags{Make: "Larkfield", Model: "Pocket 2", Orientation: 6})
	if err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		name          string
		in            []byte
		kind          media.Kind
		width, height int
		orientation   int
		hasExif       bool
	}{
		{"JPEG without Exif", plain, media.JPEG, 400, 300, 1, false},
		{"JPEG on its side", turned, media.JPEG, 300, 400, 6, true},
		{"PNG", pngOf(t, drawn(40, 30)), media.PNG, 40, 30, 1, false},
		{"WebP", webpOf(0), media.WebP, 1, 1, 1, false},
		{"WebP with an extended header", webpOf(0x08, "XMP ", "odd"), media.WebP, 1, 1, 1, false},
		// Telephones add a film or a second picture behind the first.
		{"JPEG with bytes behind its end", append(bytes.Clone(plain), "moving part"...), media.JPEG, 400, 300, 1, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, dir := openLibrary(t, media.Limits{})
			got := take(t, library, c.in)
			want := media.Photo{
				ID: sha256.Sum256(c.in), Bytes: int64(len(c.in)), Kind: c.kind, Width: c.width, Height: c.height, Exif: got.Exif,
			}
			if got != want {
				t.Errorf("Intake = %+v, want %+v", got, want)
			}
			if got.Exif.Orientation != c.orientation || got.Exif.Present != c.hasExif || got.Exif.Problem != "" {
				t.Errorf("Exif = %+v, want orientation %d, present %v, no problem", got.Exif, c.orientation, c.hasExif)
			}
			id := got.ID.String()
			original := "originals/" + id[:2] + "/" + id
			if files := filesUnder(t, dir); fmt.Sprint(files) != fmt.Sprint([]string{original}) {
				t.Errorf("files = %q, want the original alone: Intake waits for no picture", files)
			}
			kept, err := os.ReadFile(filepath.Join(dir, original))
			if err != nil || !bytes.Equal(kept, c.in) {
				t.Errorf("original has %d bytes, error %v, want the %d that were sent", len(kept), err, len(c.in))
			}
			if err := library.Derive(t.Context(), got.ID); err != nil {
				t.Fatalf("Derive = %v, want no error", err)
			}
			wantFiles := []string{"derived/v2/" + id[:2] + "/" + id + "-1600.jpg", "derived/v2/" + id[:2] + "/" + id + "-320.jpg", "derived/v2/" + id[:2] + "/" + id + "-codes.txt", original}
			if files := filesUnder(t, dir); fmt.Sprint(files) != fmt.Sprint(wantFiles) {
				t.Errorf("files = %q, want %q", files, wantFiles)
			}
		})
	}
}

func TestIntakeTwice(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	picture := jpegOf(t, drawn(64, 48))
	first, second := take(t, library, picture), take(t, library, picture)
	if first.AlreadyHeld || !second.AlreadyHeld {
		t.Errorf("AlreadyHeld = %v, then %v, want false, then true", first.AlreadyHeld, second.AlreadyHeld)
	}
	if second.AlreadyHeld = false; first != second {
		t.Errorf("second Intake = %+v, want %+v", second, first)
	}
	if files := filesUnder(t, dir); len(files) != 1 {
		t.Errorf("files = %q, want the original", files)
	}
}

func TestPhotoJSON(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	lat, lon := 43.25, -79.5
	picture, err := exifwrite.Encode(jpegOf(t, drawn(32, 24)), exifwrite.Tags{
		Make: "Larkfield", DateTimeOriginal: "2026:05:04 09:30:07", OffsetTimeOriginal: "-04:00", Lat: &lat, Lon: &lon,
	})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(take(t, library, picture))
	if err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf(`{"id":"%x","bytes":%d,"kind":"jpeg","width":32,"height":24,"exif":{"present":true,`+
		`"capture":{"local":"2026-05-04T09:30:07","offset":"-04:00","source":"DateTimeOriginal"},"make":"Larkfield",`+
		`"orientation":1,"position":{"lat":43.25,"lon":-79.5}},"already_held":false}`, sha256.Sum256(picture), len(picture))
	if string(text) != want {
		t.Errorf("Marshal = %s\nwant %s", text, want)
	}
}

// claimingJPEG is a small JPEG whose frame header claims the given size.
func claimingJPEG(t *testing.T, width, height int) []byte {
	t.Helper()
	picture := jpegOf(t, drawn(16, 16))
	at := bytes.Index(picture, []byte("\xff\xc0"))
	if at < 0 {
		t.Fatal("no frame header in the JPEG")
	}
	binary.BigEndian.PutUint16(picture[at+5:], uint16(height))
	binary.BigEndian.PutUint16(picture[at+7:], uint16(width))
	return picture
}

// claimingPNG is a small PNG whose header claims the given size.
func claimingPNG(t *testing.T, width, height int) []byte {
	t.Helper()
	picture := pngOf(t, drawn(16, 16))
	binary.BigEndian.PutUint32(picture[16:], uint32(width))
	binary.BigEndian.PutUint32(picture[20:], uint32(height))
	binary.BigEndian.PutUint32(picture[29:], crc32.ChecksumIEEE(picture[12:29]))
	return picture
}

func TestIntakeRefuses(t *testing.T) {
	sound, soundPNG := jpegOf(t, grainy(300, 200)), pngOf(t, grainy(60, 40))
	box := func(brand string) []byte { return []byte("\x00\x00\x00\x18ftyp" + brand + "\x00\x00\x00\x00mif1") }
	cases := []struct {
		name  string
		in    []byte
		cause error
		says  string // part of the sentence
	}{
		// By content, whatever the name said.
		{"nothing", nil, media.ErrUnsupported, "is empty"},
		{"text", []byte("Post R1-P3 is plumb."), media.ErrUnsupported, "a text file"},
		{"text with accents cut in a letter", []byte(strings.Repeat("é", 300))[:511], media.ErrUnsupported, "a text file"},
		{"HTML", []byte("<!doctype html><title>x</title>"), media.ErrUnsupported, "a text file"},
		{"SVG", []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), media.ErrUnsupported, "a text file"},
		{"HEIC with no picture in it", box("heic"), media.ErrCorrupt, "damaged"},
		{"HEIF image sequence", box("msf1"), media.ErrUnsupported, "moving"},
		{"HEVC sequence", box("hevc"), media.ErrUnsupported, "moving"},
		{"AVIF", box("avif"), media.ErrUnsupported, "AVIF"},
		{"film", box("isom"), media.ErrUnsupported, "a video"},
		{"raw, ISO container", box("crx "), media.ErrUnsupported, "camera raw"},
		{"TIFF, little endian", []byte("II*\x00\x08\x00\x00\x00"), media.ErrUnsupported, "TIFF"},
		{"TIFF, big endian", []byte("MM\x00*\x00\x00\x00\x08"), media.ErrUnsupported, "TIFF"},
		{"GIF", []byte("GIF89a\x01\x00\x01\x00"), media.ErrUnsupported, "GIF"},
		{"BMP", []byte("BM\x46\x00\x00\x00\x00\x00"), media.ErrUnsupported, "BMP"},
		{"JPEG XL", []byte("\xff\x0a\x00\x00"), media.ErrUnsupported, "JPEG XL"},
		{"PDF", []byte("%PDF-1.7\n\x80"), media.ErrUnsupported, "document"},
		{"ZIP", []byte("PK\x03\x04\x00\x00"), media.ErrUnsupported, "archive"},
		{"RIFF that is no WebP", []byte("RIFF\x10\x00\x00\x00WAVEfmt "), media.ErrUnsupported, "can be recognised"},
		{"random bytes", []byte("\x00\x01\x02\x03\x04"), media.ErrUnsupported, "can be recognised"},
		{"APNG", withChunk(soundPNG, "acTL", make([]byte, 8)), media.ErrUnsupported, "moving"},
		{"animated WebP", webpOf(0x02, "ANIM", "\x00\x00\x00\x00\x00\x00"), media.ErrUnsupported, "moving"},
		{"arithmetic-coded JPEG", bytes.Replace(sound, []byte("\xff\xc0"), []byte("\xff\xc9"), 1), media.ErrUnsupported, "rare kind"},
		{"JPEG that is a web page further on", []byte("\xff\xd8\xff\xe0<script>alert(1)</script>"), media.ErrCorrupt, "damaged"},
		{"GIF that is a JPEG further on", append([]byte("GIF89a"), sound...), media.ErrUnsupported, "GIF"},
		// Too large, known from the header.
		{"JPEG of 50,000 px", claimingJPEG(t, 50_000, 50_000), media.ErrTooLarge,
			"This picture claims to be 50,000 by 50,000 pixels, more than the 120 million that can be opened here. Send the picture as the camera saved it."},
		{"PNG of a million millions", claimingPNG(t, 1_000_000, 1_000_000), media.ErrTooLarge, "1,000,000 by 1,000,000"},
		{"PNG beyond its decoder", claimingPNG(t, 2_000_000_000, 2_000_000_000), media.ErrTooLarge, "2,000,000,000 by 2,000,000,000"},
		{"PNG with a long side", claimingPNG(t, 65_001, 100), media.ErrTooLarge, "65,001 by 100 pixels; no side may be longer than 65,000"},
		// Damaged.
		{"JPEG of no height", claimingJPEG(t, 100, 0), media.ErrCorrupt, "damaged"},
		{"first bytes of a JPEG", sound[:3], media.ErrCorrupt, "damaged"},
		{"head of a JPEG", sound[:300], media.ErrCorrupt, "damaged"},
		{"half a JPEG", sound[:len(sound)/2], media.ErrCorrupt, "damaged"},
		{"JPEG without its last bytes", sound[:len(sound)-20], media.ErrCorrupt, "damaged"},
		{"JPEG without its end marker", sound[:len(sound)-2], media.ErrCorrupt, "damaged"},
		{"signature of a PNG", soundPNG[:8], media.ErrCorrupt, "damaged"},
		{"half a PNG", soundPNG[:len(soundPNG)/2], media.ErrCorrupt, "damaged"},
		{"PNG with a wrong checksum", flipped(soundPNG, len(soundPNG)/2), media.ErrCorrupt, "damaged"},
		{"half a WebP", webpOf(0)[:24], media.ErrCorrupt, "damaged"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, dir := openLibrary(t, media.Limits{})
			photo, err := library.Intake(t.Context(), bytes.NewReader(c.in))
			var refusal *media.Refusal
			if !errors.Is(err, c.cause) || !errors.As(err, &refusal) {
				t.Fatalf("Intake = %v, want a refusal for %v", err, c.cause)
			}
			sentence := refusal.Sentence()
			if !strings.Contains(sentence, c.says) || !strings.HasSuffix(sentence, ".") || strings.Contains(sentence, "%!") {
				t.Errorf("Sentence() = %q, want a finished one with %q", sentence, c.says)
			}
			if photo != (media.Photo{}) {
				t.Errorf("Intake = %+v with its error, want the zero Photo", photo)
			}
			if left := filesUnder(t, dir); len(left) != 0 {
				t.Errorf("Intake left %q, want nothing", left)
			}
		})
	}
}

func flipped(in []byte, at int) []byte {
	out := bytes.Clone(in)
	out[at] ^= 0x10
	return out
}

// countingReader gives n bytes of text and counts what was read.
type countingReader struct{ left, read int64 }

func (r *countingReader) Read(p []byte) (int, error) {
	if r.left == 0 {
		return 0, io.EOF
	}
	n := int(min(int64(len(p)), r.left))
	for i := range n {
		p[i] = 'a'
	}
	r.left -= int64(n)
	r.read += int64(n)
	return n, nil
}

func TestIntakeLooksAtFirstBytesOfText(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	text := &countingReader{left: 40 << 20}
	if _, err := library.Intake(t.Context(), text); !errors.Is(err, media.ErrUnsupported) {
		t.Errorf("Intake of 40 MB of text = %v, want ErrUnsupported", err)
	}
	if text.read > 4096 {
		t.Errorf("Intake read %d bytes of the text, want at most 4096", text.read)
	}
}

func TestIntakeByteLimit(t *testing.T) {
	picture := jpegOf(t, drawn(64, 48))
	library, dir := openLibrary(t, media.Limits{Bytes: int64(len(picture)) + 10})
	take(t, library, picture)
	before := len(filesUnder(t, dir))
	endless := io.MultiReader(bytes.NewReader(picture), &countingReader{left: 1 << 40})
	_, err := library.Intake(t.Context(), endless)
	var refusal *media.Refusal
	if !errors.Is(err, media.ErrTooLarge) || !errors.As(err, &refusal) {
		t.Fatalf("Intake of an endless file = %v, want ErrTooLarge", err)
	}
	if after := len(filesUnder(t, dir)); after != before {
		t.Errorf("%d files after the refusal, want %d", after, before)
	}
}

func TestIntakeReaderFails(t *testing.T) {
	picture := jpegOf(t, drawn(640, 480))
	broken := errors.New("line dropped")
	for _, sent := range []int{0, 100, len(picture) / 2} {
		library, dir := openLibrary(t, media.Limits{})
		_, err := library.Intake(t.Context(), io.MultiReader(bytes.NewReader(picture[:sent]), iotest.ErrReader(broken)))
		var refusal *media.Refusal
		if !errors.Is(err, broken) || errors.As(err, &refusal) {
			t.Errorf("Intake with a line dropped after %d bytes = %v, want the reader's error and no refusal", sent, err)
		}
		if left := filesUnder(t, dir); len(left) != 0 {
			t.Errorf("Intake left %q, want nothing", left)
		}
	}
}

func TestIntakeCancelled(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := library.Intake(ctx, bytes.NewReader(jpegOf(t, drawn(64, 48)))); !errors.Is(err, context.Canceled) {
		t.Errorf("Intake = %v, want context.Canceled", err)
	}
	if left := filesUnder(t, dir); len(left) != 0 {
		t.Errorf("Intake left %q, want nothing", left)
	}
}

// A slow line gives a few bytes at a time; that must not change what the file is taken for.
func TestIntakeOneByteAtATime(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	picture := jpegOf(t, drawn(64, 48))
	photo, err := library.Intake(t.Context(), iotest.OneByteReader(bytes.NewReader(picture)))
	if err != nil || photo.Bytes != int64(len(picture)) {
		t.Errorf("Intake = %+v, %v, want all %d bytes", photo, err, len(picture))
	}
}

// Whatever a picture is turned into, it is taken or refused: no panic, no other error, nothing left after a refusal.
func TestIntakeOfDamagedPictures(t *testing.T) {
	indexed := image.NewPaletted(image.Rect(0, 0, 24, 16), color.Palette{color.Black, color.White, color.Gray{128}})
	for i := range indexed.Pix {
		indexed.Pix[i] = uint8(i % 3)
	}
	library, dir := openLibrary(t, media.Limits{})
	random := rand.New(rand.NewPCG(1, 2))
	taken, refused := 0, 0
	for _, sound := range [][]byte{jpegOf(t, drawn(48, 32)), pngOf(t, indexed), webpOf(0x08, "EXIF", "II*\x00\x08\x00\x00\x00")} {
		for range 80 {
			damaged := bytes.Clone(sound)
			for range 1 + random.IntN(4) {
				damaged[random.IntN(len(damaged))] ^= 1 << random.IntN(8)
			}
			before := len(filesUnder(t, dir))
			_, err := library.Intake(t.Context(), bytes.NewReader(damaged))
			var refusal *media.Refusal
			switch {
			case err == nil:
				taken++
			case errors.As(err, &refusal):
				refused++
				if after := len(filesUnder(t, dir)); after != before {
					t.Errorf("%d files after a refusal, want %d", after, before)
				}
			default:
				t.Errorf("Intake = %v, want a photo or a refusal", err)
			}
		}
	}
	if taken == 0 || refused == 0 {
		t.Errorf("%d taken, %d refused: the damage is not of both kinds", taken, refused)
	}
}

func TestIntakeOfSharedPhotos(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	paths := sharedPhotos(t, "*.jpg")
	for _, path := range paths {
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		photo := take(t, library, content)
		for _, size := range []media.Size{media.View, media.Thumb} {
			width, height := size.Fit(photo.Width, photo.Height)
			view, err := library.OpenView(t.Context(), photo.ID, size)
			if err != nil {
				t.Fatalf("OpenView(%s, %d) = %v, want no error", path, size, err)
			}
			if view.Width != width || view.Height != height {
				t.Errorf("%s at %d is %d by %d, want %d by %d", path, size, view.Width, view.Height, width, height)
			}
			if err := view.Close(); err != nil {
				t.Error(err)
			}
		}
		if err := library.Originals().Verify(t.Context(), photo.ID); err != nil {
			t.Errorf("Verify(%s) = %v, want no error", path, err)
		}
	}
	if files := filesUnder(t, dir); len(files) != 4*len(paths) { // an original, two pictures and a note of the codes in it
		t.Errorf("%d files for %d photographs, want 4 each", len(files), len(paths))
	}
}
