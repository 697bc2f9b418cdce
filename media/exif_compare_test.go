package media_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/bep/imagemeta"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

// second is what another reader says of a file, as numbers and text.
type second map[string]any

// text returns a value as text; JSON writes a version like "8.3" as a number. exiftool keeps blanks around text.
func (s second) text(name string) string {
	switch v := s[name].(type) {
	case nil:
		return ""
	case json.Number:
		return v.String()
	case string:
		return strings.TrimSpace(v)
	default:
		return fmt.Sprint(v)
	}
}

func (s second) number(name string) (float64, bool) {
	n, err := strconv.ParseFloat(s.text(name), 64)
	return n, err == nil
}

// exiftool reads the Exif of files by exiftool, by path as given.
func exiftool(t testing.TB, paths ...string) map[string]second {
	t.Helper()
	needTool(t, "exiftool")
	args := []string{"-json", "-n", "-charset", "exif=utf8"}
	for _, name := range []string{
		"Make", "Model", "Software", "Orientation", "DateTimeOriginal", "CreateDate", "ModifyDate",
		"OffsetTime", "OffsetTimeOriginal", "OffsetTimeDigitized", "SubSecTime", "SubSecTimeOriginal", "SubSecTimeDigitized",
		"GPSLatitude", "GPSLatitudeRef", "GPSLongitude", "GPSLongitudeRef", "GPSAltitude", "GPSAltitudeRef", "GPSHPositioningError",
		"GPSDateStamp", "GPSTimeStamp",
	} {
		args = append(args, "-EXIF:"+name)
	}
	// exiftool ends with status 1 when it warns of any file; what it printed is judged instead.
	out, err := exec.CommandContext(t.Context(), "exiftool", append(args, paths...)...).Output()
	decoder := json.NewDecoder(bytes.NewReader(out))
	decoder.UseNumber()
	var records []second
	if jsonErr := decoder.Decode(&records); jsonErr != nil {
		t.Fatalf("exiftool: %v; its output: %v", err, jsonErr)
	}
	found := map[string]second{}
	for _, r := range records {
		found[r.text("SourceFile")] = r
	}
	return found
}

// sameTime compares a claimed time with a date-time value in the form of the standard. Blanks and zeros are no time.
func sameTime(got media.Capture, value string) bool {
	if strings.Trim(value, " :0") == "" {
		return got.Local.IsZero()
	}
	return strings.NewReplacer("-", ":").Replace(got.Local.String()) == strings.NewReplacer("-", ":").Replace(value)
}

// compareWithExiftool compares field by field and returns how many fields held something.
func compareWithExiftool(t *testing.T, got media.Exif, want second) int {
	t.Helper()
	held := 0
	differ := func(field string, got, want any) {
		t.Helper()
		t.Errorf("%s = %v, exiftool says %v", field, got, want)
	}
	for field, value := range map[string]string{"Make": got.Make, "Model": got.Model, "Software": got.Software} {
		if value != "" {
			held++
		}
		if value != want.text(field) {
			differ(field, value, want.text(field))
		}
	}
	if n, ok := want.number("Orientation"); ok && n >= 1 && n <= 8 {
		held++
		if got.Orientation != int(n) {
			differ("Orientation", got.Orientation, n)
		}
	} else if got.Orientation != 1 {
		differ("Orientation", got.Orientation, "nothing")
	}
	captured, suffix := want.text("DateTimeOriginal"), "Original"
	if strings.Trim(captured, " :0") == "" {
		captured, suffix = want.text("CreateDate"), "Digitized"
	}
	if !sameTime(got.Capture, captured) {
		differ("Capture", got.Capture, captured)
	}
	if !got.Capture.IsZero() {
		held++
		if offset := strings.Trim(want.text("OffsetTime"+suffix), " :"); got.Capture.Offset != offset {
			differ("Capture.Offset", got.Capture.Offset, offset)
		}
		if fraction := want.text("SubSecTime" + suffix); got.Capture.SubSec != fraction {
			differ("Capture.SubSec", got.Capture.SubSec, fraction)
		}
	}
	if !sameTime(got.ModifyDate, want.text("ModifyDate")) {
		differ("ModifyDate", got.ModifyDate, want.text("ModifyDate"))
	}
	return held + comparePosition(t, got, want)
}

func comparePosition(t *testing.T, got media.Exif, want second) int {
	t.Helper()
	lat, ok := want.number("GPSLatitude")
	lon, lonOK := want.number("GPSLongitude")
	if !ok || !lonOK || want.text("GPSLatitudeRef") == "" {
		if got.Position != nil {
			t.Errorf("Position = %+v, exiftool says none", *got.Position)
		}
		return 0
	}
	if got.Position == nil {
		t.Errorf("Position = none, exiftool says %v, %v", lat, lon)
		return 0
	}
	// EXIF: values have no sign of their own.
	if want.text("GPSLatitudeRef") == "S" {
		lat = -lat
	}
	if want.text("GPSLongitudeRef") == "W" {
		lon = -lon
	}
	if math.Abs(got.Position.Lat-lat) > 1e-9 || math.Abs(got.Position.Lon-lon) > 1e-9 {
		t.Errorf("Position = %v, %v, exiftool says %v, %v", got.Position.Lat, got.Position.Lon, lat, lon)
	}
	if alt, ok := want.number("GPSAltitude"); ok != (got.Position.Alt != nil) {
		t.Errorf("Alt = %v, exiftool says %v", got.Position.Alt, want["GPSAltitude"])
	} else if ok {
		if want.text("GPSAltitudeRef") == "1" {
			alt = -alt
		}
		if math.Abs(*got.Position.Alt-alt) > 1e-6 {
			t.Errorf("Alt = %v, exiftool says %v", *got.Position.Alt, alt)
		}
	}
	if accuracy, ok := want.number("GPSHPositioningError"); ok != (got.Position.Accuracy != nil) {
		t.Errorf("Accuracy = %v, exiftool says %v", got.Position.Accuracy, want["GPSHPositioningError"])
	} else if ok && math.Abs(*got.Position.Accuracy-accuracy) > 1e-6 {
		t.Errorf("Accuracy = %v, exiftool says %v", *got.Position.Accuracy, accuracy)
	}
	if got.GPSTime != nil {
		stamp := want.text("GPSDateStamp") + " " + want.text("GPSTimeStamp")
		if at, err := time.Parse("2006:01:02 15:04:05", stamp); err != nil || at.Sub(*got.GPSTime).Abs() > time.Millisecond {
			t.Errorf("GPSTime = %v, exiftool says %q", got.GPSTime, stamp)
		}
	}
	return 1
}

func TestSharedPhotosAgainstExiftool(t *testing.T) {
	paths := sharedPhotos(t, "*.jpg")
	others := exiftool(t, paths...)
	held := 0
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			content, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			held += compareWithExiftool(t, readExif(t, content), others[path])
		})
	}
	if held < len(paths) {
		t.Errorf("%d fields held something in %d files: too few to say anything", held, len(paths))
	}
}

// samplesOfReader copies the sample files of the Exif reader's own tests, made whole for exiftool: they are cut
// somewhere after the Exif segment, so they are cut again at its end and given the rest of a small picture.
func samplesOfReader(t *testing.T) (paths []string, asShipped map[string][]byte) {
	t.Helper()
	samples := goFolder(t, "exif/samples", "list", "-m", "-f", "{{.Dir}}", "github.com/rwcarlsen/goexif")
	found, err := filepath.Glob(filepath.Join(samples, "*.jpg"))
	if err != nil || len(found) == 0 {
		t.Fatalf("the folder of the Exif reader's samples holds %d, %v", len(found), err)
	}
	rest := jpegOf(t, drawn(8, 8))[2:]
	dir, asShipped := t.TempDir(), map[string][]byte{}
	for _, path := range found {
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		end := endOfExifSegment(content)
		if end == 0 {
			t.Fatalf("%s has no Exif segment", path)
		}
		whole := filepath.Join(dir, filepath.Base(path))
		if err := os.WriteFile(whole, append(bytes.Clone(content[:end]), rest...), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, whole)
		asShipped[whole] = content
	}
	return paths, asShipped
}

// endOfExifSegment returns where the first Exif segment of a JPEG ends, 0 if there is none.
func endOfExifSegment(file []byte) int {
	for at := 2; at+10 <= len(file) && file[at] == 0xff; {
		end := at + 2 + int(binary.BigEndian.Uint16(file[at+2:]))
		if file[at+1] == 0xe1 && string(file[at+4:at+10]) == "Exif\x00\x00" {
			return min(end, len(file))
		}
		at = end
	}
	return 0
}

func TestSamplesAgainstExiftool(t *testing.T) {
	paths, asShipped := samplesOfReader(t)
	others := exiftool(t, paths...)
	held := 0
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			got, want := readExif(t, asShipped[path]), others[path]
			if strings.Contains(path, "geodegrees_as_string") {
				want = degreesAsText(t, &got, want)
			}
			held += compareWithExiftool(t, got, want)
		})
	}
	if held < 3*len(paths) {
		t.Errorf("%d fields held something in %d files: too few to say anything", held, len(paths))
	}
}

// degreesAsText holds a sample to what its bytes say, and gives what exiftool says without that. Its position is text,
// 52,00000,50,00000,34,01180, that exiftool reads as other numbers, and it has a blank maker in the main directory beside the real one in the Exif
// directory.
func degreesAsText(t *testing.T, got *media.Exif, want second) second {
	t.Helper()
	const lat, lon = 52 + 50/60. + 34.0118/3600, 11 + 10/60. + 58.2836/3600
	if p := got.Position; p == nil || math.Abs(p.Lat-lat) > 1e-9 || math.Abs(p.Lon-lon) > 1e-9 || got.Make != "HTC" {
		t.Errorf("Make = %q, Position = %+v, want HTC at %v, %v", got.Make, p, lat, lon)
	}
	want["Make"] = got.Make
	got.Position = nil
	delete(want, "GPSLatitude")
	return want
}

// secondReader reads the Exif of a picture with another Go library.
func secondReader(t testing.TB, file []byte, format imagemeta.ImageFormat) imagemeta.Tags {
	t.Helper()
	var tags imagemeta.Tags
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(file), ImageFormat: format, Sources: imagemeta.EXIF,
		HandleTag: func(info imagemeta.TagInfo) error { tags.Add(info); return nil },
	})
	if err != nil {
		t.Fatalf("second reader: %v", err)
	}
	return tags
}

func compareWithSecondReader(t *testing.T, got media.Exif, tags imagemeta.Tags) {
	t.Helper()
	exif := tags.EXIF()
	text := func(name string) string {
		value, _ := exif[name].Value.(string)
		return strings.TrimSpace(value)
	}
	for field, value := range map[string]string{"Make": got.Make, "Model": got.Model, "Software": got.Software} {
		if value != text(field) {
			t.Errorf("%s = %q, the second reader says %q", field, value, text(field))
		}
	}
	if n, ok := exif["Orientation"].Value.(uint16); ok && n >= 1 && n <= 8 && got.Orientation != int(n) {
		t.Errorf("Orientation = %d, the second reader says %d", got.Orientation, n)
	}
	captured := text("DateTimeOriginal")
	if strings.Trim(captured, " :0") == "" {
		captured = text("DateTimeDigitized")
	}
	if !sameTime(got.Capture, captured) {
		t.Errorf("Capture = %+v, the second reader says %q", got.Capture, captured)
	}
	// Without any position the second reader says 0, 0 and no error.
	lat, lon, err := tags.GetLatLong()
	if err == nil && (lat != 0 || lon != 0) {
		if got.Position == nil || math.Abs(got.Position.Lat-lat) > 1e-9 || math.Abs(got.Position.Lon-lon) > 1e-9 {
			t.Errorf("Position = %+v, the second reader says %v, %v", got.Position, lat, lon)
		}
	} else if got.Position != nil {
		t.Errorf("Position = %+v, the second reader says none (%v)", *got.Position, err)
	}
}

func TestSharedPhotosAgainstSecondReader(t *testing.T) {
	for _, path := range sharedPhotos(t, "*.jpg") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			content, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			compareWithSecondReader(t, readExif(t, content), secondReader(t, content, imagemeta.JPEG))
		})
	}
}

// The same block in the three kinds of file, read by this package and by the two others.
func TestMadeFilesAgainstOtherReaders(t *testing.T) {
	block := exifwrite.Block(binary.LittleEndian,
		fields{
			set(tagMake, exifwrite.Text("Larkfield")), set(tagModel, exifwrite.Text("Pocket 2")),
			set(tagSoftware, exifwrite.Text("1.4")), set(tagOrientation, exifwrite.Short(6)),
			set(tagDateTime, exifwrite.Text("2026:05:04 10:00:00")),
		},
		fields{
			set(tagDateTimeOriginal, exifwrite.Text("2026:05:04 09:30:07")), set(tagOffsetTimeOriginal, exifwrite.Text("-04:00")),
			set(tagSubSecTimeOriginal, exifwrite.Text("016")),
		},
		append(append(exifwrite.Degrees(tagGPSLatitudeRef, -41.2865, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -174.7762, "E", "W")...),
			set(tagGPSAltitudeRef, exifwrite.Bytes{1}), set(tagGPSAltitude, exifwrite.Rationals{{25, 10}}),
			set(tagGPSHPositioningError, exifwrite.Rationals{{48, 10}}),
			set(tagGPSDateStamp, exifwrite.Text("2026:05:04")), set(tagGPSTimeStamp, exifwrite.Rationals{{13, 1}, {30, 1}, {7, 1}})))
	inJPEG, err := exifwrite.Insert(jpegOf(t, drawn(16, 16)), block)
	if err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		name   string
		file   []byte
		format imagemeta.ImageFormat
	}{
		{"sample.jpg", inJPEG, imagemeta.JPEG},
		{"sample.png", withChunk(pngOf(t, drawn(16, 16)), "eXIf", block), imagemeta.PNG},
		{"sample.webp", webpOf(0x08, "EXIF", string(block)), imagemeta.WebP},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := readExif(t, c.file)
			compareWithSecondReader(t, got, secondReader(t, c.file, c.format))
			path := filepath.Join(t.TempDir(), c.name)
			if err := os.WriteFile(path, c.file, 0o600); err != nil {
				t.Fatal(err)
			}
			if held := compareWithExiftool(t, got, exiftool(t, path)[path]); held != 6 {
				t.Errorf("%d fields held something, want 6", held)
			}
		})
	}
}
