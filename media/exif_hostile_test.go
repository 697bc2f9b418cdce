package media_test

import (
	"bytes"
	"encoding/binary"
	"runtime"
	"strings"
	"testing"
	"time"

	"newelbook/media"
	"newelbook/media/exifwrite"
	"newelbook/media/mediatest"
)

// tiff builds a block by hand, big endian, so that it can be wrong.
type tiff []byte

func newTIFF(firstDirectory uint32) tiff {
	return binary.BigEndian.AppendUint32([]byte("MM\x00*"), firstDirectory)
}

func (b tiff) u16(v ...uint16) tiff {
	for _, n := range v {
		b = binary.BigEndian.AppendUint16(b, n)
	}
	return b
}

func (b tiff) u32(v ...uint32) tiff {
	for _, n := range v {
		b = binary.BigEndian.AppendUint32(b, n)
	}
	return b
}

// entry is one entry of a directory: tag, type, count, value or offset.
func (b tiff) entry(tag, fieldType uint16, count, value uint32) tiff {
	return b.u16(tag, fieldType).u32(count, value)
}

// orientation6 is an entry that shows whether the rest of a directory was still read.
func (b tiff) orientation6() tiff { return b.entry(0x0112, 3, 1, 6<<16) }

// hostileBlocks are blocks that make a trusting reader allocate without end, loop or stop. want is the orientation
// that can still be read, 1 when nothing can.
func hostileBlocks() []hostile {
	many := newTIFF(8).u16(3000)
	for range 3000 {
		many = many.entry(0x010f, 2, 4, 0x41414100)
	}
	nested := newTIFF(8)
	for i := range uint32(40) { // Exif pointer to Exif pointer to …
		nested = nested.u16(2).orientation6().entry(0x8769, 4, 1, 8+(i+1)*30).u32(0)
	}
	chain := newTIFF(8)
	for i := range uint32(40) {
		chain = chain.u16(1).orientation6().u32(8 + (i+1)*18)
	}
	overlapping := newTIFF(8).u16(200).orientation6()
	for range 199 { // every value is the same 60,000 bytes
		overlapping = overlapping.entry(0x927c, 1, 60_000, 8)
	}
	overlapping = append(overlapping.u32(0), make([]byte, 60_000)...)
	return []hostile{
		{"count times size overflows 32 bits", 6,
			append(newTIFF(8).u16(2).orientation6().entry(0x010f, 5, 1<<29+1, 8).u32(0), make([]byte, 900)...)},
		{"count of 8 GiB", 6, append(newTIFF(8).u16(2).orientation6().entry(0x010f, 12, 1<<30, 8).u32(0), make([]byte, 900)...)},
		{"largest count", 6, newTIFF(8).u16(2).orientation6().entry(0x010f, 2, 1<<32-1, 8).u32(0)},
		{"two directories that point at each other", 6,
			newTIFF(8).u16(1).orientation6().u32(26).u16(1).entry(0x0201, 4, 1, 8).u32(8)},
		{"directory that points at itself", 6, newTIFF(8).u16(1).orientation6().u32(8)},
		{"Exif pointer to the directory that holds it", 6, newTIFF(8).u16(2).orientation6().entry(0x8769, 4, 1, 8).u32(0)},
		{"thumbnail beyond the end", 6,
			newTIFF(8).u16(1).orientation6().u32(26).u16(2).entry(0x0201, 4, 1, 5_000_000).entry(0x0202, 4, 1, 4_000_000).u32(0)},
		{"offset of no bytes", 6, newTIFF(8).u16(2).orientation6().entry(0x010f, 2, 500, 1<<32-1).u32(0)},
		{"value of no length", 6, newTIFF(8).u16(2).entry(0x010f, 2, 0, 0).orientation6().u32(0)},
		{"value of unknown type", 6, newTIFF(8).u16(2).entry(0x010f, 77, 1, 0).orientation6().u32(0)},
		{"first directory beyond the end", 1, newTIFF(1 << 30).u16(1).orientation6().u32(0)},
		{"first directory negative in 32 bits", 1, newTIFF(1<<32 - 8).u16(1).orientation6().u32(0)},
		{"first directory in the header", 1, newTIFF(0).u16(1).orientation6().u32(0)},
		{"next directory beyond the end", 6, newTIFF(8).u16(1).orientation6().u32(1 << 31)},
		{"Exif pointer beyond the end", 6, newTIFF(8).u16(2).orientation6().entry(0x8769, 4, 1, 1<<31).u32(0)},
		{"Exif pointer of many values", 6, newTIFF(8).u16(2).orientation6().entry(0x8769, 4, 3, 8).u32(0)},
		{"Exif pointer as text", 6, newTIFF(8).u16(2).orientation6().entry(0x8769, 2, 4, 8).u32(0)},
		{"Exif pointer as a short number", 6, newTIFF(8).u16(2).orientation6().entry(0x8769, 3, 1, 0xffff<<16).u32(0)},
		{"more entries than bytes", 6, newTIFF(8).u16(65_535).orientation6()},
		{"more tags than any camera writes", 1, many},
		{"pointers forty deep", 6, nested},
		{"chain of forty directories", 6, chain},
		{"directories lying across each other", 1, newTIFF(8).u16(2).orientation6().entry(0x8769, 4, 1, 12).u32(0)},
		{"many values of the same bytes", 6, overlapping},
	}
}

type hostile struct {
	name  string
	want  int
	block []byte
}

// allocated runs f and returns how many bytes it allocated.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// allocationLimit is what reading the Exif of a file may allocate: its buffers, and what 2000 tags and their values, no more
// than twice the file, take as Go values.
func allocationLimit(file []byte) uint64 { return uint64(1<<20 + 64*len(file)) }

func TestReadExifOfHostileBlocks(t *testing.T) {
	for _, c := range hostileBlocks() {
		t.Run(c.name, func(t *testing.T) {
			// 65,533 bytes fit a JPEG segment; what is longer is brought in a PNG.
			file := headOfJPEG(c.block)
			if len(c.block) > 60_000 {
				file = withChunk(pngOf(t, drawn(4, 4)), "eXIf", c.block)
			}
			var got media.Exif
			started := time.Now()
			bytesUsed := allocated(func() { got = readExif(t, file) })
			if got.Orientation != c.want || !got.Present {
				t.Errorf("ReadExif = %+v, want orientation %d", got, c.want)
			}
			if limit := allocationLimit(file); bytesUsed > limit {
				t.Errorf("ReadExif allocated %d bytes for %d, want at most %d", bytesUsed, len(file), limit)
			}
			if took := time.Since(started); took > 2*time.Second {
				t.Errorf("ReadExif took %v, want it at once", took)
			}
		})
	}
}

// Sound files have entries without length or of types newer than the reader; those are no damage.
func TestReadExifDoesNotCryDamage(t *testing.T) {
	block := newTIFF(8).u16(4).
		entry(0x010e, 2, 0, 0).            // empty description
		entry(0x010f, 129, 4, 0x4c61726b). // UTF-8 text of Exif 3.0
		orientation6().                    //
		entry(0x8769, 13, 1, 8+2+4*12+4).  // pointer of TIFF Technical Note 1
		u32(0).                            //
		u16(1).entry(0x9003, 2, 20, 80).u32(0)
	block = append(block, "2026:05:04 09:30:07\x00"...)
	got := readExif(t, headOfJPEG(block))
	want := media.Exif{
		Present: true, Make: "Lark", Orientation: 6,
		Capture: media.Capture{Local: wall(9, 30, 7), Source: "DateTimeOriginal"},
	}
	if got != want {
		t.Errorf("ReadExif = %+v, want %+v", got, want)
	}
}

// The whole way in, with the hostile block in a sound picture.
func TestIntakeOfHostileExif(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	plain := jpegOf(t, drawn(48, 32))
	for _, c := range hostileBlocks() {
		if len(c.block) > 60_000 {
			continue
		}
		picture, err := exifwrite.Insert(plain, c.block)
		if err != nil {
			t.Fatal(err)
		}
		photo := take(t, library, picture)
		width, height := 48, 32
		if c.want >= 5 {
			width, height = 32, 48
		}
		if photo.Width != width || photo.Height != height || photo.Exif.Orientation != c.want {
			t.Errorf("%s: Intake = %d by %d, orientation %d, want %d by %d, %d",
				c.name, photo.Width, photo.Height, photo.Exif.Orientation, width, height, c.want)
		}
	}
}

// A header that claims 120 million pixels must not cost memory before there are bytes to fill them.
func TestIntakeMemoryForClaims(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	picture := claimingJPEG(t, 50_000, 50_000)
	used := allocated(func() {
		if _, err := library.Intake(t.Context(), bytes.NewReader(picture)); err == nil {
			t.Error("Intake = no error, want a refusal")
		}
	})
	if used > 4<<20 {
		t.Errorf("refusing %d bytes that claim 50,000 by 50,000 pixels allocated %d bytes, want at most 4 MiB", len(picture), used)
	}
}

// FuzzEXIF holds that ReadExif never fails or panics on content, allocates within bounds, says something when it
// could not read a block, and gives only claims that can be written as JSON.
func FuzzEXIF(f *testing.F) {
	for _, c := range hostileBlocks() {
		if len(c.block) < 60_000 {
			f.Add(headOfJPEG(c.block))
		}
	}
	sound := exifwrite.Block(binary.LittleEndian,
		fields{set(tagMake, exifwrite.Text("Larkfield")), set(tagOrientation, exifwrite.Short(6))},
		fields{set(tagDateTimeOriginal, exifwrite.Text("2026:05:04 09:30:07")), set(tagOffsetTimeOriginal, exifwrite.Text("-04:00"))},
		append(exifwrite.Degrees(tagGPSLatitudeRef, 43.25, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W")...))
	f.Add(headOfJPEG(sound))
	f.Add(webpOf(0x08, "EXIF", string(sound)))
	f.Add(withChunk(pngOf(f, drawn(2, 2)), "eXIf", sound))
	f.Add(mediatest.HEIC(4032, 3024, 1, sound))
	f.Add(mediatest.HEIC(4032, 3024, 1, sound)[:300])
	f.Fuzz(func(t *testing.T, file []byte) {
		var got media.Exif
		used := allocated(func() { got = readExif(t, file) })
		if limit := allocationLimit(file); used > limit {
			t.Errorf("ReadExif allocated %d bytes for %d, want at most %d", used, len(file), limit)
		}
		if got.Orientation < 1 || got.Orientation > 8 {
			t.Errorf("Orientation = %d, want 1 to 8", got.Orientation)
		}
		if !got.Present && got != (media.Exif{Orientation: 1}) {
			t.Errorf("ReadExif = %+v without a block, want nothing", got)
		}
		if p := got.Position; p != nil && !(p.Lat >= -90 && p.Lat <= 90 && p.Lon >= -180 && p.Lon <= 180) {
			t.Errorf("Position = %+v, want one on earth", p)
		}
		if got.Problem != "" && !strings.HasSuffix(got.Problem, ".") {
			t.Errorf("Problem = %q, want finished sentences", got.Problem)
		}
		asJSON(t, got)
		if again := readExif(t, file); asJSON(t, again) != asJSON(t, got) {
			t.Errorf("second ReadExif = %s, want %s", asJSON(t, again), asJSON(t, got))
		}
	})
}
