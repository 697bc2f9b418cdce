package exifwrite_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

func plain(t testing.TB) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 16, 12)), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func full() exifwrite.Tags {
	lat, lon := 43.6532, -79.3832
	return exifwrite.Tags{
		Make: "Larkfield", Model: "Pocket 2", Software: "1.4", DateTimeOriginal: "2026:05:04 09:30:07",
		OffsetTimeOriginal: "-04:00", SubSec: "016", Orientation: 6, Lat: &lat, Lon: &lon,
	}
}

func ExampleEncode() {
	var drawn bytes.Buffer
	if err := jpeg.Encode(&drawn, image.NewGray(image.Rect(0, 0, 16, 12)), nil); err != nil {
		fmt.Println(err)
		return
	}
	photo, err := exifwrite.Encode(drawn.Bytes(), exifwrite.Tags{Make: "Larkfield", DateTimeOriginal: "2026:05:04 09:30:07"})
	if err != nil {
		fmt.Println(err)
		return
	}
	claims, err := media.ReadExif(bytes.NewReader(photo))
	fmt.Println(claims.Make, claims.Capture.Local, err)
	// Output: Larkfield 2026-05-04 09:30:07 <nil>
}

func TestEncodeReadsBack(t *testing.T) {
	picture, err := exifwrite.Encode(plain(t), full())
	if err != nil {
		t.Fatalf("Encode = %v, want no error", err)
	}
	if _, err := jpeg.Decode(bytes.NewReader(picture)); err != nil {
		t.Errorf("the picture no longer decodes: %v", err)
	}
	got, err := media.ReadExif(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	position := got.Position
	got.Position = nil
	want := media.Exif{
		Present: true, Make: "Larkfield", Model: "Pocket 2", Software: "1.4", Orientation: 6,
		Capture: media.Capture{
			Local:  media.WallTime{Year: 2026, Month: time.May, Day: 4, Hour: 9, Minute: 30, Second: 7},
			Offset: "-04:00", SubSec: "016", Source: "DateTimeOriginal",
		},
	}
	if got != want {
		t.Errorf("ReadExif = %+v, want %+v", got, want)
	}
	if position == nil || math.Abs(position.Lat-43.6532) > 1e-7 || math.Abs(position.Lon+79.3832) > 1e-7 {
		t.Errorf("Position = %+v, want 43.6532, -79.3832", position)
	}
}

func TestEncodeReadsBackWithExiftool(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		if os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1" {
			t.Fatal("exiftool is not installed, and NEWELBOOK_REQUIRE_TOOLS=1")
		}
		t.Skip("exiftool is not installed")
	}
	picture, err := exifwrite.Encode(plain(t), full())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "sample.jpg")
	if err := os.WriteFile(path, picture, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), "exiftool", "-json", "-n", "-validate", "-warning", "-error",
		"-Make", "-Model", "-Software", "-DateTimeOriginal", "-OffsetTimeOriginal", "-SubSecTimeOriginal", "-Orientation",
		"-GPSLatitude", "-GPSLongitude", path).Output()
	if err != nil {
		t.Fatalf("exiftool: %v", err)
	}
	var got []map[string]any
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{
		"Make": "Larkfield", "Model": "Pocket 2", "Software": 1.4, "DateTimeOriginal": "2026:05:04 09:30:07",
		"OffsetTimeOriginal": "-04:00", "SubSecTimeOriginal": "016", "Orientation": 6.0, "GPSLatitude": 43.6532, "GPSLongitude": -79.3832,
	}
	for name, value := range want {
		gotNumber, isNumber := got[0][name].(float64)
		wantNumber, wantsNumber := value.(float64)
		if isNumber && wantsNumber && math.Abs(gotNumber-wantNumber) < 1e-7 {
			continue
		}
		if got[0][name] != value {
			t.Errorf("exiftool says %s = %v, want %v", name, got[0][name], value)
		}
	}
	for _, name := range []string{"Warning", "Error"} {
		// -validate also names tags that the standard wants in every file, such as resolution; those are left out here.
		if text, ok := got[0][name].(string); ok && !strings.Contains(text, "Missing required") {
			t.Errorf("exiftool says %s: %s", name, text)
		}
	}
}

// Whatever is written is read back, in the picture's other bytes nothing changes.
func TestEncodeProperties(t *testing.T) {
	picture := plain(t)
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")
		in := exifwrite.Tags{
			Make:        rapid.StringMatching(`[A-Z][a-z]{0,12}`).Draw(t, "make"),
			Orientation: rapid.IntRange(1, 8).Draw(t, "orientation"),
			Lat:         &lat, Lon: &lon,
		}
		out, err := exifwrite.Encode(picture, in)
		if err != nil {
			t.Fatalf("Encode = %v, want no error", err)
		}
		if !bytes.HasPrefix(out, picture[:2]) || !bytes.HasSuffix(out, picture[2:]) {
			t.Fatal("Encode changed the picture's own bytes")
		}
		got, err := media.ReadExif(bytes.NewReader(out))
		if err != nil || got.Make != in.Make || got.Orientation != in.Orientation || got.Problem != "" {
			t.Fatalf("ReadExif = %+v, %v, want %+v", got, err, in)
		}
		// Half of 1/10,000 of a second of arc, and a hair for the arithmetic.
		const half = 0.5/36e6 + 1e-12
		if p := got.Position; p == nil || math.Abs(p.Lat-lat) > half || math.Abs(p.Lon-lon) > half {
			t.Fatalf("Position = %+v, want %v, %v", p, lat, lon)
		}
	})
}

func TestEncodeNothing(t *testing.T) {
	picture, err := exifwrite.Encode(plain(t), exifwrite.Tags{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := media.ReadExif(bytes.NewReader(picture))
	if err != nil || got != (media.Exif{Present: true, Orientation: 1}) {
		t.Errorf("ReadExif = %+v, %v, want a block that claims nothing", got, err)
	}
}

func TestEncodeRefuses(t *testing.T) {
	number := func(v float64) *float64 { return &v }
	sound := plain(t)
	cases := []struct {
		name    string
		picture []byte
		change  func(*exifwrite.Tags)
	}{
		{"no picture", nil, nil},
		{"PNG", []byte("\x89PNG\r\n\x1a\n"), nil},
		{"JPEG cut in its segments", sound[:30], nil},
		{"time in another form", sound, func(t *exifwrite.Tags) { t.DateTimeOriginal = "2026-05-04T09:30:07" }},
		{"offset in another form", sound, func(t *exifwrite.Tags) { t.OffsetTimeOriginal = "EDT" }},
		{"fraction with a point", sound, func(t *exifwrite.Tags) { t.SubSec = ".016" }},
		{"orientation 9", sound, func(t *exifwrite.Tags) { t.Orientation = 9 }},
		{"latitude alone", sound, func(t *exifwrite.Tags) { t.Lon = nil }},
		{"latitude 91", sound, func(t *exifwrite.Tags) { t.Lat = number(91) }},
		{"latitude not a number", sound, func(t *exifwrite.Tags) { t.Lat = number(math.NaN()) }},
		{"more text than a segment holds", sound, func(t *exifwrite.Tags) { t.Software = strings.Repeat("x", 70_000) }},
	}
	for _, c := range cases {
		tags := full()
		if c.change != nil {
			c.change(&tags)
		}
		if out, err := exifwrite.Encode(c.picture, tags); err == nil || out != nil {
			t.Errorf("%s: Encode = %d bytes, %v, want an error", c.name, len(out), err)
		}
	}
	once, err := exifwrite.Encode(sound, full())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := exifwrite.Encode(once, full()); err == nil {
		t.Error("Encode of a picture that has Exif = no error, want one")
	}
}

// Both byte orders, and values that fit their entry beside values that don't.
func TestBlockOffsetsAreEvenAndInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.SampledFrom([]exifwrite.ByteOrder{binary.BigEndian, binary.LittleEndian}).Draw(t, "order")
		makes := rapid.StringMatching(`[a-z]{1,9}`).Draw(t, "make")
		date := rapid.StringMatching(`20[0-9]{2}:0[1-9]:[12][0-9] 1[0-9]:[0-5][0-9]:[0-5][0-9]`).Draw(t, "date")
		block := exifwrite.Block(order,
			[]exifwrite.Field{{Tag: 0x0110, Value: exifwrite.Text("b")}, {Tag: 0x010f, Value: exifwrite.Text(makes)}},
			[]exifwrite.Field{{Tag: 0x9003, Value: exifwrite.Text(date)}},
			exifwrite.Degrees(1, 10, "N", "S"))
		for _, tag := range []uint16{0x8769, 0x8825} {
			if at := pointer(order, block, tag); at == 0 || at%2 != 0 || int(at) >= len(block) {
				t.Fatalf("pointer %#x = %d in a block of %d bytes, want an even offset inside", tag, at, len(block))
			}
		}
		if first := order.Uint16(block[10:]); first != 0x010f {
			t.Fatalf("first tag is %#x, want the lowest, 0x10f", first)
		}
	})
}

// pointer returns the value of a pointer in the main directory, 0 if it is not there.
func pointer(order exifwrite.ByteOrder, block []byte, tag uint16) uint32 {
	for i := range int(order.Uint16(block[8:])) {
		if at := 10 + 12*i; order.Uint16(block[at:]) == tag {
			return order.Uint32(block[at+8:])
		}
	}
	return 0
}
