package media_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/bep/imagemeta"

	"newelbook/media"
	"newelbook/media/exifwrite"
	"newelbook/media/mediatest"
)

func TestHEIC(t *testing.T) {
	block := exifwrite.Block(binary.BigEndian,
		fields{set(tagMake, exifwrite.Text("Larkfield")), set(tagModel, exifwrite.Text("Pocket 3")), set(tagOrientation, exifwrite.Short(6))},
		fields{set(tagDateTimeOriginal, exifwrite.Text("2026:05:04 09:30:07")), set(tagOffsetTimeOriginal, exifwrite.Text("-04:00")), set(tagSubSecTimeOriginal, exifwrite.Text("016"))},
		append(exifwrite.Degrees(tagGPSLatitudeRef, -41.2865, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -174.7762, "E", "W")...))
	sound := mediatest.HEIC(4032, 3024, 3, block)
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, sound)
	if photo.Kind != media.HEIC || photo.Width != 3024 || photo.Height != 4032 {
		t.Errorf("Intake = %s, %d by %d, want heic, 3024 by 4032", photo.Kind, photo.Width, photo.Height)
	}
	e := photo.Exif
	if e.Make != "Larkfield" || e.Capture.Local.String() != "2026-05-04 09:30:07" || e.Capture.Offset != "-04:00" || e.Capture.SubSec != "016" || e.Position == nil || e.Position.Lat > -41.2 || e.Problem != "" {
		t.Errorf("Exif = %+v", e)
	}
	kept, err := os.ReadFile(filepath.Join(dir, "originals", photo.ID.String()[:2], photo.ID.String()))
	if err != nil || !bytes.Equal(kept, sound) {
		t.Errorf("the original has %d bytes, %v, want the %d that were sent", len(kept), err, len(sound))
	}
	_, err = library.OpenView(t.Context(), photo.ID, media.View)
	var refusal *media.Refusal
	if !errors.Is(err, media.ErrNoView) || !errors.As(err, &refusal) || !strings.Contains(refusal.Sentence(), "kept as it was received") {
		t.Errorf("OpenView = %v, want ErrNoView in words", err)
	}
	compareWithSecondReader(t, e, secondReader(t, sound, imagemeta.HEIF))

	for name, c := range map[string]struct {
		in   []byte
		want error
		says string
	}{
		"cut in the picture":    {sound[:len(sound)-500], media.ErrCorrupt, "damaged"},
		"cut in the head":       {sound[:200], media.ErrCorrupt, "damaged"},
		"cut after the head":    {sound[:len(sound)-2000-len(block)-18], media.ErrCorrupt, "damaged"},
		"sequence":              {mediatest.HEIC(640, 480, 0, block, mediatest.Box("moov", make([]byte, 40))), media.ErrUnsupported, "moving"},
		"65,535 by 65,535":      {mediatest.HEIC(65_535, 65_535, 0, block), media.ErrTooLarge, "65,535 by 65,535"},
		"two thousand millions": {mediatest.HEIC(2_000_000_000, 1, 0, block), media.ErrTooLarge, "pixels"},
		"no width":              {mediatest.HEIC(0, 100, 0, block), media.ErrCorrupt, "damaged"},
	} {
		before := len(filesUnder(t, dir))
		_, err := library.Intake(t.Context(), bytes.NewReader(c.in))
		if !errors.Is(err, c.want) || !errors.As(err, &refusal) || !strings.Contains(refusal.Sentence(), c.says) {
			t.Errorf("%s: Intake = %v, want a refusal for %v with %q", name, err, c.want, c.says)
		}
		if after := len(filesUnder(t, dir)); after != before {
			t.Errorf("%s: %d files after the refusal, want %d", name, after, before)
		}
	}
}

// The HEIC files of the second reader's own tests, from telephones and a camera, against exiftool and that reader.
func TestHEICSamplesAgainstOtherReaders(t *testing.T) {
	samples := goFolder(t, "testdata/images", "list", "-m", "-f", "{{.Dir}}", "github.com/bep/imagemeta")
	var paths []string
	for _, pattern := range []string{"*.heic", "*.heif"} {
		found, err := filepath.Glob(filepath.Join(samples, pattern))
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, found...)
	}
	if len(paths) < 3 {
		t.Fatalf("%d HEIC samples, want 3", len(paths))
	}
	others := exiftool(t, paths...)
	held := 0
	library, _ := openLibrary(t, media.Limits{})
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			content, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if filepath.Base(path) == "multi-xmp.heic" { // made for a test of texts, with no picture in it
				if _, err := library.Intake(t.Context(), bytes.NewReader(content)); !errors.Is(err, media.ErrCorrupt) {
					t.Errorf("Intake of a HEIC without a picture = %v, want ErrCorrupt", err)
				}
				return
			}
			photo := take(t, library, content)
			held += compareWithExiftool(t, photo.Exif, others[path])
			result, err := imagemeta.Decode(imagemeta.Options{R: bytes.NewReader(content), ImageFormat: imagemeta.HEIF, Sources: imagemeta.CONFIG})
			if err != nil || photo.Width != result.ImageConfig.Width || photo.Height != result.ImageConfig.Height {
				t.Errorf("%d by %d, the second reader says %+v, %v", photo.Width, photo.Height, result.ImageConfig, err)
			}
		})
	}
	if held < 2*len(paths) {
		t.Errorf("%d fields held something in %d files: too few to say anything", held, len(paths))
	}
}

// A head whose items have 65,535 pieces of no length each would keep a reader that believes it for minutes.
func TestHEICOfManyPieces(t *testing.T) {
	full := []byte{0, 0, 0, 0}
	item := bytes.Join([][]byte{mediatest.Uint16(1), mediatest.Uint16(0), mediatest.Uint16(65_535)}, nil)
	file := append(mediatest.Box("ftyp", []byte("heic"), mediatest.Uint32(0), []byte("mif1heic")),
		mediatest.Box("meta", full, mediatest.Box("pitm", full, mediatest.Uint16(1)), mediatest.Box("iloc", full, mediatest.Uint16(0), mediatest.Uint16(65_535), bytes.Repeat(item, 65_535)), mediatest.Box("iprp"))...)
	started := time.Now()
	readExif(t, file)
	if took := time.Since(started); took > 2*time.Second {
		t.Errorf("ReadExif took %s", took)
	}
}
