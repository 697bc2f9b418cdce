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
)

// box is an ISO base media box.
func box(kind string, parts ...[]byte) []byte {
	body := bytes.Join(parts, nil)
	return append(append(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), kind...), body...)
}

func be16(n int) []byte { return binary.BigEndian.AppendUint16(nil, uint16(n)) }
func be32(n int) []byte { return binary.BigEndian.AppendUint32(nil, uint32(n)) }

// heicOf is a HEIC by its containers alone (ISO/IEC 23008-12): head and Exif as telephones write them, and noise where the coded
// picture would be. irot turns by so many quarters. after puts boxes behind.
func heicOf(width, height, irot int, tiff []byte, after ...[]byte) []byte {
	exif := append(be32(6), append([]byte("Exif\x00\x00"), tiff...)...)
	coded := bytes.Repeat([]byte{0x5a}, 2000)
	full := func(version byte) []byte { return []byte{version, 0, 0, 0} }
	head := func(dataAt int) []byte {
		infe := func(id int, kind string) []byte {
			return box("infe", full(2), be16(id), be16(0), []byte(kind), []byte{0})
		}
		iloc := [][]byte{full(0), be16(0x4400), be16(2)}
		for i, size := range []int{len(coded), len(exif)} {
			iloc = append(iloc, be16(i+1), be16(0), be16(1), be32(dataAt), be32(size))
			dataAt += size
		}
		return box("meta", full(0),
			box("hdlr", full(0), be32(0), []byte("pict"), make([]byte, 13)),
			box("pitm", full(0), be16(1)),
			box("iinf", full(0), be16(2), infe(1, "hvc1"), infe(2, "Exif")),
			box("iprp",
				box("ipco", box("ispe", full(0), be32(width), be32(height)), box("irot", []byte{byte(irot)}), box("ispe", full(0), be32(320), be32(240))),
				box("ipma", full(0), be32(1), be16(1), []byte{2, 0x81, 0x02})),
			box("iloc", iloc...))
	}
	start := box("ftyp", []byte("heic"), be32(0), []byte("mif1heic"))
	at := len(start) + len(head(0)) + 8
	return append(append(start, head(at)...), append(box("mdat", coded, exif), bytes.Join(after, nil)...)...)
}

func TestHEIC(t *testing.T) {
	block := exifwrite.Block(binary.BigEndian,
		fields{set(tagMake, exifwrite.Text("Larkfield")), set(tagModel, exifwrite.Text("Pocket 3")), set(tagOrientation, exifwrite.Short(6))},
		fields{set(tagDateTimeOriginal, exifwrite.Text("2026:05:04 09:30:07")), set(tagOffsetTimeOriginal, exifwrite.Text("-04:00")), set(tagSubSecTimeOriginal, exifwrite.Text("016"))},
		append(exifwrite.Degrees(tagGPSLatitudeRef, -41.2865, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -174.7762, "E", "W")...))
	sound := heicOf(4032, 3024, 3, block)
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
		"sequence":              {heicOf(640, 480, 0, block, box("moov", make([]byte, 40))), media.ErrUnsupported, "moving"},
		"65,535 by 65,535":      {heicOf(65_535, 65_535, 0, block), media.ErrTooLarge, "65,535 by 65,535"},
		"two thousand millions": {heicOf(2_000_000_000, 1, 0, block), media.ErrTooLarge, "pixels"},
		"no width":              {heicOf(0, 100, 0, block), media.ErrCorrupt, "damaged"},
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
	item := bytes.Join([][]byte{be16(1), be16(0), be16(65_535)}, nil)
	file := append(box("ftyp", []byte("heic"), be32(0), []byte("mif1heic")),
		box("meta", full, box("pitm", full, be16(1)), box("iloc", full, be16(0), be16(65_535), bytes.Repeat(item, 65_535)), box("iprp"))...)
	started := time.Now()
	readExif(t, file)
	if took := time.Since(started); took > 2*time.Second {
		t.Errorf("ReadExif took %s", took)
	}
}
