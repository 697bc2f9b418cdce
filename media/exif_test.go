package media_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

// Tags used in the tests, by their names in the standard.
const (
	tagMake, tagModel, tagOrientation, tagSoftware, tagDateTime         = 0x010f, 0x0110, 0x0112, 0x0131, 0x0132
	tagDateTimeOriginal, tagDateTimeDigitized                           = 0x9003, 0x9004
	tagOffsetTime, tagOffsetTimeOriginal, tagOffsetTimeDigitized        = 0x9010, 0x9011, 0x9012
	tagSubSecTimeOriginal                                               = 0x9291
	tagGPSLatitudeRef, tagGPSLatitude, tagGPSLongitudeRef               = 0x0001, 0x0002, 0x0003
	tagGPSAltitudeRef, tagGPSAltitude, tagGPSTimeStamp, tagGPSDateStamp = 0x0005, 0x0006, 0x0007, 0x001d
	tagGPSHPositioningError                                             = 0x001f
)

type fields = []exifwrite.Field

func set(tag uint16, value exifwrite.Value) exifwrite.Field {
	return exifwrite.Field{Tag: tag, Value: value}
}

// headOfJPEG is a JPEG with a block in an Exif segment, cut before the picture: all that ReadExif needs.
func headOfJPEG(block []byte) []byte {
	out := []byte("\xff\xd8\xff\xe1")
	out = binary.BigEndian.AppendUint16(out, uint16(2+6+len(block)))
	out = append(out, "Exif\x00\x00"...)
	out = append(out, block...)
	return append(out, "\xff\xda"...)
}

func readExif(t testing.TB, file []byte) media.Exif {
	t.Helper()
	got, err := media.ReadExif(bytes.NewReader(file))
	if err != nil {
		t.Fatalf("ReadExif = %v, want no error", err)
	}
	return got
}

func asJSON(t testing.TB, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("Marshal: %v", err)
	}
	return string(text)
}

func wall(hour, minute, second int) media.WallTime {
	return media.WallTime{Year: 2026, Month: time.May, Day: 4, Hour: hour, Minute: minute, Second: second}
}

func TestReadExif(t *testing.T) {
	const at = exifwrite.Text("2026:05:04 09:30:07")
	number := func(v float64) *float64 { return &v }
	gpsNow := time.Date(2026, time.May, 4, 13, 30, 6, 500e6, time.UTC)
	claimed := media.Capture{Local: wall(9, 30, 7), Source: "DateTimeOriginal"}
	cases := []struct {
		name            string
		main, exif, gps fields
		want            media.Exif
	}{
		{"camera and program", fields{
			set(tagMake, exifwrite.Text("Larkfield")), set(tagModel, exifwrite.Text("Pocket 2 ")), set(tagSoftware, exifwrite.Text("1.4")),
			set(tagOrientation, exifwrite.Short(6)),
		}, nil, nil, media.Exif{Make: "Larkfield", Model: "Pocket 2", Software: "1.4", Orientation: 6}},
		{"text is cleaned", fields{
			set(tagMake, exifwrite.Text("Lark\x1b[31mfield\u202e\n")), set(tagModel, exifwrite.Text(strings.Repeat("é", 300))),
			set(tagSoftware, exifwrite.Text("caf\xe9")),
		}, nil, nil, media.Exif{Make: "Lark[31mfield", Model: strings.Repeat("é", 200), Software: "caf\ufffd"}},
		{"text ends at its first NUL", fields{set(tagMake, exifwrite.Text("Larkfield\x00left over"))}, nil, nil,
			media.Exif{Make: "Larkfield"}},

		// Times: a wall time, with or without an offset; never a zone from elsewhere.
		{"no offset", nil, fields{set(tagDateTimeOriginal, at)}, nil, media.Exif{Capture: claimed}},
		{"with offset and fraction", nil, fields{
			set(tagDateTimeOriginal, at), set(tagOffsetTimeOriginal, exifwrite.Text("-04:00")), set(tagSubSecTimeOriginal, exifwrite.Text("016 ")),
		}, nil, media.Exif{Capture: media.Capture{Local: wall(9, 30, 7), Offset: "-04:00", SubSec: "016", Source: "DateTimeOriginal"}}},
		{"the offset of another time is not borrowed", nil, fields{
			set(tagDateTimeOriginal, at), set(tagOffsetTime, exifwrite.Text("+01:00")), set(tagOffsetTimeDigitized, exifwrite.Text("+02:00")),
		}, nil, media.Exif{Capture: claimed}},
		{"digitized stands in for original", nil, fields{
			set(tagDateTimeDigitized, at), set(tagOffsetTimeDigitized, exifwrite.Text("+02:00")),
		}, nil, media.Exif{Capture: media.Capture{Local: wall(9, 30, 7), Offset: "+02:00", Source: "DateTimeDigitized"}}},
		{"the time of the last change is not a capture time", fields{set(tagDateTime, at)},
			fields{set(tagOffsetTime, exifwrite.Text("+01:00"))}, nil,
			media.Exif{ModifyDate: media.Capture{Local: wall(9, 30, 7), Offset: "+01:00", Source: "DateTime"}}},
		{"unknown by blanks", nil, fields{
			set(tagDateTimeOriginal, exifwrite.Text("    :  :     :  :  ")), set(tagDateTimeDigitized, exifwrite.Text("0000:00:00 00:00:00")),
		}, nil, media.Exif{}},
		{"zone within the time", nil, fields{set(tagDateTimeOriginal, exifwrite.Text("2026:05:04 09:30:07+0530"))}, nil,
			media.Exif{Capture: media.Capture{Local: wall(9, 30, 7), Offset: "+05:30", Source: "DateTimeOriginal"}}},
		{"no such day", nil, fields{set(tagDateTimeOriginal, exifwrite.Text("2026:02:30 09:30:07"))}, nil,
			media.Exif{Problem: "The time in the camera data can't be read: “2026:02:30 09:30:07”."}},
		{"no such offset", nil, fields{set(tagDateTimeOriginal, at), set(tagOffsetTimeOriginal, exifwrite.Text("local"))}, nil,
			media.Exif{Capture: claimed, Problem: "The zone in the camera data can't be read: “local”."}},
		{"fraction that is no number", nil, fields{set(tagDateTimeOriginal, at), set(tagSubSecTimeOriginal, exifwrite.Text("1e9"))}, nil,
			media.Exif{Capture: claimed}},

		// Positions.
		{"north-west, with height, accuracy and satellite time", nil, nil, append(append(
			exifwrite.Degrees(tagGPSLatitudeRef, 43.25, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W")...),
			set(tagGPSAltitudeRef, exifwrite.Bytes{0}),
			set(tagGPSAltitude, exifwrite.Rationals{{7650, 100}}),
			set(tagGPSHPositioningError, exifwrite.Rationals{{48, 10}}),
			set(tagGPSDateStamp, exifwrite.Text("2026:05:04")),
			set(tagGPSTimeStamp, exifwrite.Rationals{{13, 1}, {30, 1}, {65, 10}})),
			media.Exif{Position: &media.Position{Lat: 43.25, Lon: -79.5, Alt: number(76.5), Accuracy: number(4.8)}, GPSTime: &gpsNow}},
		{"south-east below the sea", nil, nil, append(append(
			exifwrite.Degrees(tagGPSLatitudeRef, -41.5, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, 174.75, "E", "W")...),
			set(tagGPSAltitudeRef, exifwrite.Bytes{1}),
			set(tagGPSAltitude, exifwrite.Rationals{{3, 1}})),
			media.Exif{Position: &media.Position{Lat: -41.5, Lon: 174.75, Alt: number(-3)}}},
		{"nought north, nought east is a claim", nil, nil, append(
			exifwrite.Degrees(tagGPSLatitudeRef, 0, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, 0, "E", "W")...),
			media.Exif{Position: &media.Position{}}},
		{"degrees with fraction and nothing else", nil, nil, fields{
			set(tagGPSLatitudeRef, exifwrite.Text("n")), set(tagGPSLatitude, exifwrite.Rationals{{4325, 100}}),
			set(tagGPSLongitudeRef, exifwrite.Text("w")), set(tagGPSLongitudeRef+1, exifwrite.Rationals{{159, 2}}),
		}, media.Exif{Position: &media.Position{Lat: 43.25, Lon: -79.5}}},
		{"position as text", nil, nil, fields{
			set(tagGPSLatitudeRef, exifwrite.Text("N")), set(tagGPSLatitude, exifwrite.Text("43.0,15.0,0.0")),
			set(tagGPSLongitudeRef, exifwrite.Text("W")), set(tagGPSLongitudeRef+1, exifwrite.Text("79,30,0")),
		}, media.Exif{Position: &media.Position{Lat: 43.25, Lon: -79.5}}},
		{"unknown height and accuracy", nil, nil, append(append(
			exifwrite.Degrees(tagGPSLatitudeRef, 43.25, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W")...),
			set(tagGPSAltitude, exifwrite.Rationals{{0, 0}}),
			set(tagGPSHPositioningError, exifwrite.Rationals{{1, 0}})),
			media.Exif{Position: &media.Position{Lat: 43.25, Lon: -79.5}}},
		{"no hemisphere", nil, nil, fields{
			set(tagGPSLatitude, exifwrite.Rationals{{43, 1}, {15, 1}, {0, 1}}),
			set(tagGPSLongitudeRef, exifwrite.Text("W")), set(tagGPSLongitudeRef+1, exifwrite.Rationals{{79, 1}, {30, 1}, {0, 1}}),
		}, media.Exif{Problem: "The position in the camera data can't be read."}},
		{"unknown seconds", nil, nil, append(fields{
			set(tagGPSLatitudeRef, exifwrite.Text("N")), set(tagGPSLatitude, exifwrite.Rationals{{43, 1}, {15, 1}, {0, 0}}),
		}, exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W")...),
			media.Exif{Problem: "The position in the camera data can't be read."}},
		{"not on earth", nil, nil, append(
			exifwrite.Degrees(tagGPSLatitudeRef, 91, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, 0, "E", "W")...),
			media.Exif{Problem: "The position in the camera data can't be read."}},
		{"longitude alone", nil, nil, exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W"),
			media.Exif{Problem: "The position in the camera data can't be read."}},

		// Orientation.
		{"orientation 0 is unknown", fields{set(tagOrientation, exifwrite.Short(0))}, nil, nil, media.Exif{}},
		{"no such orientation", fields{set(tagOrientation, exifwrite.Short(9))}, nil, nil,
			media.Exif{Problem: "The camera data give no valid orientation, so the picture is shown as it is stored."}},
		{"orientation as text", fields{set(tagOrientation, exifwrite.Text("6"))}, nil, nil,
			media.Exif{Problem: "The camera data give no valid orientation, so the picture is shown as it is stored."}},
		{"orientation as a long number", fields{set(tagOrientation, exifwrite.Long(8))}, nil, nil, media.Exif{Orientation: 8}},
	}
	for _, order := range []exifwrite.ByteOrder{binary.BigEndian, binary.LittleEndian} {
		for _, c := range cases {
			t.Run(order.String()+"/"+c.name, func(t *testing.T) {
				want := c.want
				want.Present, want.Orientation = true, max(1, want.Orientation)
				got := readExif(t, headOfJPEG(exifwrite.Block(order, c.main, c.exif, c.gps)))
				if p, q := got.Position, want.Position; p != nil && q != nil && math.Abs(p.Lat-q.Lat)+math.Abs(p.Lon-q.Lon) < 1e-9 {
					got.Position.Lat, got.Position.Lon = q.Lat, q.Lon
				}
				if asJSON(t, got) != asJSON(t, want) {
					t.Errorf("ReadExif = %s\nwant %s", asJSON(t, got), asJSON(t, want))
				}
			})
		}
	}
}

// The zone of the machine must never reach a claim.
func TestReadExifIsTheSameInEveryZone(t *testing.T) {
	file := headOfJPEG(exifwrite.Block(binary.LittleEndian, nil, fields{
		set(tagDateTimeOriginal, exifwrite.Text("2026:03:29 02:30:00")), // an hour that summer time leaves out in much of Europe
	}, nil))
	want := media.WallTime{Year: 2026, Month: time.March, Day: 29, Hour: 2, Minute: 30}
	for _, zone := range []string{"UTC", "Europe/Berlin", "America/Toronto", "Asia/Kolkata"} {
		t.Setenv("TZ", zone)
		got := readExif(t, file)
		if got.Capture.Local != want || got.Capture.Offset != "" {
			t.Errorf("in %s: Capture = %+v, want %v without an offset", zone, got.Capture, want)
		}
		if _, ok := got.Capture.Instant(); ok {
			t.Errorf("in %s: Instant() gave one, want none", zone)
		}
	}
}

// Where the block stands in the file must not matter.
func TestReadExifFindsTheBlock(t *testing.T) {
	block := exifwrite.Block(binary.BigEndian, fields{set(tagMake, exifwrite.Text("Larkfield"))}, nil, nil)
	jpegHead := headOfJPEG(block)
	segment := jpegHead[2 : len(jpegHead)-2]
	app := func(marker byte, content string) string {
		return "\xff" + string([]byte{marker}) + string(binary.BigEndian.AppendUint16(nil, uint16(2+len(content)))) + content
	}
	xmp := app(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta/>")
	plainPNG := pngOf(t, drawn(4, 4))
	end := len(plainPNG) - 12
	behind := withChunk(plainPNG, "eXIf", block)
	added := behind[33 : 33+12+len(block)]
	cases := []struct {
		name    string
		file    string
		present bool
	}{
		{"JPEG", string(jpegHead), true},
		{"JPEG, XMP first", "\xff\xd8" + xmp + string(segment) + "\xff\xda", true},
		{"JPEG, the marker's bytes in an earlier segment", "\xff\xd8" + app(0xe0, "\xff\xe1\x00\x10Exif\x00\x00II*\x00") + string(segment), true},
		{"JPEG, fill bytes before the marker", "\xff\xd8\xff\xff" + string(segment), true},
		{"JPEG, stray byte before the marker", "\xff\xd8" + xmp + "\x00" + string(segment), true},
		{"JPEG, XMP only", "\xff\xd8" + xmp + "\xff\xda", false},
		{"JPEG, Exif after the first scan is not looked for", "\xff\xd8\xff\xda" + string(segment), false},
		{"JPEG, second Exif does not count", string(jpegHead[:len(jpegHead)-2]) + app(0xe1, "Exif\x00\x00II*\x00") + "\xff\xda", true},
		{"JPEG, segment of impossible length", "\xff\xd8\xff\xe0\x00\x01" + string(segment), false},
		{"PNG", string(behind), true},
		{"PNG, with the intro of JPEG", string(withChunk(plainPNG, "eXIf", append([]byte("Exif\x00\x00"), block...))), true},
		{"PNG, behind the picture", string(plainPNG[:end]) + string(added) + string(plainPNG[end:]), true},
		{"PNG, none", string(plainPNG), false},
		{"WebP", string(webpOf(0x08, "EXIF", string(block))), true},
		{"WebP, with the intro of JPEG", string(webpOf(0x08, "EXIF", "Exif\x00\x00"+string(block))), true},
		{"WebP, behind chunks of odd length", string(webpOf(0x0c, "XMP ", "odd", "EXIF", string(block)+"\x00", "XMP ", "x")), true},
		{"WebP, none", string(webpOf(0)), false},
		{"text", "Exif\x00\x00 is not here", false},
		{"bare TIFF is not a photograph", string(block), false},
		{"nothing", "", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			want := media.Exif{Orientation: 1}
			if c.present {
				want.Present, want.Make = true, "Larkfield"
			}
			if got := readExif(t, []byte(c.file)); got != want {
				t.Errorf("ReadExif = %+v, want %+v", got, want)
			}
		})
	}
}

func TestReadExifOfDamagedBlocks(t *testing.T) {
	const partly = "Part of the camera data in this file is damaged; the rest was read."
	const unreadable = "The camera data in this file are damaged and could not be read."
	block := exifwrite.Block(binary.LittleEndian, fields{set(tagMake, exifwrite.Text("Larkfield")), set(tagModel, exifwrite.Text("Pocket 2"))}, nil, nil)
	onePNG := withChunk(pngOf(t, drawn(4, 4)), "eXIf", block)
	cases := []struct {
		name    string
		file    []byte
		problem string
		make    string
	}{
		{"no TIFF header", headOfJPEG([]byte("nonsense and more of it")), unreadable, ""},
		{"nothing in the segment", headOfJPEG(nil), unreadable, ""},
		{"header alone", headOfJPEG(block[:8]), unreadable, ""},
		{"cut in a value", headOfJPEG(block[:len(block)-4]), partly, "Larkfield"},
		{"cut in the second entry", headOfJPEG(block[:8+2+12+6]), partly, ""},
		{"file cut in the segment", headOfJPEG(block)[:12+len(block)-4], partly, "Larkfield"},
		{"PNG chunk with a wrong checksum", flipped(onePNG, 33+8+len(block)), partly, "Larkfield"},
		{"PNG chunk beyond any camera", withChunk(pngOf(t, drawn(4, 4)), "eXIf", make([]byte, 2<<20)),
			"The camera data in this file are larger than any camera writes and were not read.", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			want := media.Exif{Present: true, Orientation: 1, Problem: c.problem, Make: c.make}
			got := readExif(t, c.file)
			got.Model = ""
			if got != want {
				t.Errorf("ReadExif = %+v, want %+v", got, want)
			}
		})
	}
}

// A photograph with damaged Exif is evidence all the same.
func TestIntakeWithDamagedExif(t *testing.T) {
	picture, err := exifwrite.Insert(jpegOf(t, drawn(64, 48)), []byte("II*\x00 and nothing that makes sense"))
	if err != nil {
		t.Fatal(err)
	}
	library, _ := openLibrary(t, media.Limits{})
	photo := take(t, library, picture)
	if !photo.Exif.Present || photo.Exif.Problem == "" || photo.Exif.Orientation != 1 {
		t.Errorf("Exif = %+v, want it present, with a problem, orientation 1", photo.Exif)
	}
}

func TestReadExifReaderFails(t *testing.T) {
	broken := errors.New("disk gone")
	file := headOfJPEG(exifwrite.Block(binary.BigEndian, fields{set(tagMake, exifwrite.Text("Larkfield"))}, nil, nil))
	for _, n := range []int{0, 10, 40} {
		r := &failingReader{*bytes.NewReader(file[:n]), broken}
		if _, err := media.ReadExif(r); !errors.Is(err, broken) {
			t.Errorf("ReadExif with a reader failing after %d bytes = %v, want its error", n, err)
		}
	}
}

// failingReader gives its bytes and then its error.
type failingReader struct {
	bytes.Reader
	err error
}

func (r *failingReader) Read(p []byte) (int, error) {
	n, err := r.Reader.Read(p)
	if err != nil {
		err = r.err
	}
	return n, err
}
