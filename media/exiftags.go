package media

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/rwcarlsen/goexif/tiff"
)

const maxText = 200

// tagSet reads the tags of a guarded block and gathers what was wrong with them.
type tagSet struct {
	exif     *exif.Exif
	problems []string
}

// readTags decodes a guarded block and adds the tags that came after the reader beneath was written.
func readTags(block []byte) (*tagSet, error) {
	x, err := exif.Decode(bytes.NewReader(block))
	if x == nil || exif.IsCriticalError(err) && err != nil {
		return nil, fmt.Errorf("decode exif: %w", err)
	}
	t := &tagSet{exif: x}
	// Exif 2.31.
	t.loadMore(exif.ExifIFDPointer, map[uint16]exif.FieldName{
		0x9010: "OffsetTime", 0x9011: "OffsetTimeOriginal", 0x9012: "OffsetTimeDigitized",
	})
	// Exif 2.31.
	t.loadMore(exif.GPSInfoIFDPointer, map[uint16]exif.FieldName{0x001f: "GPSHPositioningError"})
	return t, nil
}

func (t *tagSet) loadMore(pointer exif.FieldName, fields map[uint16]exif.FieldName) {
	offset, ok := t.integer(pointer)
	if !ok {
		return
	}
	dir, _, err := tiff.DecodeDir(tailReader(t.exif.Raw, offset), t.exif.Tiff.Order)
	if err != nil {
		return
	}
	t.exif.LoadTags(dir, fields, false)
}

// tailReader reads on from offset but keeps absolute positions for values, as DecodeDir wants it.
func tailReader(block []byte, offset int64) *bytes.Reader {
	r := bytes.NewReader(block)
	if _, err := r.Seek(offset, 0); err != nil {
		return bytes.NewReader(nil)
	}
	return r
}

// problem notes what was wrong, in a finished sentence, once.
func (t *tagSet) problem(sentence string) {
	if !slices.Contains(t.problems, sentence) {
		t.problems = append(t.problems, sentence)
	}
}

// text returns a text value up to its first NUL, without control and formatting characters or outer blanks, cut to
// maxText characters. Bytes that are not UTF-8 become U+FFFD. It is "" when the tag is absent or not text.
func (t *tagSet) text(name exif.FieldName) string {
	tag, err := t.exif.Get(name)
	if err != nil || tag.Format() != tiff.StringVal && tag.Format() != tiff.UndefVal {
		return ""
	}
	value, _, _ := bytes.Cut(tag.Val, []byte{0})
	clean := strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) || unicode.IsControl(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(string(value), "\ufffd"))
	if runes := []rune(clean); len(runes) > maxText {
		clean = string(runes[:maxText])
	}
	return strings.TrimSpace(clean)
}

// integer returns the first value of a whole-number tag.
func (t *tagSet) integer(name exif.FieldName) (int64, bool) {
	tag, err := t.exif.Get(name)
	if err != nil {
		return 0, false
	}
	n, err := tag.Int64(0)
	return n, err == nil
}

// rationals returns the values of a rational tag. It is false when the tag is absent, not rational, or has a zero
// denominator, which the standard uses for "unknown".
func (t *tagSet) rationals(name exif.FieldName) ([]float64, bool) {
	tag, err := t.exif.Get(name)
	if err != nil || tag.Format() != tiff.RatVal || tag.Count > 16 {
		return nil, false
	}
	values := make([]float64, tag.Count)
	for i := range values {
		num, den, err := tag.Rat2(i)
		if err != nil || den == 0 {
			return nil, false
		}
		values[i] = float64(num) / float64(den)
	}
	return values, true
}

func (t *tagSet) has(name exif.FieldName) bool {
	_, err := t.exif.Get(name)
	return err == nil
}

func (t *tagSet) orientation() int {
	n, ok := t.integer(exif.Orientation)
	switch {
	case ok && n >= 1 && n <= 8:
		return int(n)
	case ok && n == 0 || !t.has(exif.Orientation):
		// Cameras without a level sensor write 0 or nothing.
		return 1
	}
	t.problem("The camera data give no valid orientation, so the picture is shown as it is stored.")
	return 1
}

// capture reads a time with its offset and fraction.
func (t *tagSet) capture(source, offsetTag, subSecTag exif.FieldName) Capture {
	local, zone, err := parseExifTime(t.text(source))
	if err != nil {
		t.problem(fmt.Sprintf("The time in the camera data can't be read: “%.40s”.", t.text(source)))
		return Capture{}
	}
	if local.IsZero() {
		return Capture{}
	}
	c := Capture{Local: local, Source: string(source)}
	if zone == "" {
		zone = t.text(offsetTag)
	}
	if c.Offset, err = parseOffset(zone); err != nil {
		t.problem(fmt.Sprintf("The zone in the camera data can't be read: “%.40s”.", zone))
	}
	if digits := t.text(subSecTag); strings.Trim(digits, "0123456789") == "" {
		c.SubSec = digits
	}
	return c
}

const problemPosition = "The position in the camera data can't be read."

// position reads latitude, longitude, height and accuracy. A position without both hemispheres, outside the earth or
// with unknown parts is no position.
func (t *tagSet) position() *Position {
	if !t.has(exif.GPSLatitude) && !t.has(exif.GPSLongitude) {
		return nil
	}
	lat, latOK := t.degrees(exif.GPSLatitude, exif.GPSLatitudeRef, "N", "S")
	lon, lonOK := t.degrees(exif.GPSLongitude, exif.GPSLongitudeRef, "E", "W")
	if !latOK || !lonOK {
		lat, lon, latOK = t.degreesAsText()
		lonOK = latOK
	}
	if !latOK || !lonOK || !(math.Abs(lat) <= 90) || !(math.Abs(lon) <= 180) {
		t.problem(problemPosition)
		return nil
	}
	p := &Position{Lat: lat, Lon: lon}
	if alt, ok := t.rationals(exif.GPSAltitude); ok {
		// 1 is below sea level; Exif 3.0 adds 2 and 3, above and below the ellipsoid.
		if ref, _ := t.integer(exif.GPSAltitudeRef); ref == 1 || ref == 3 {
			alt[0] = -alt[0]
		}
		p.Alt = &alt[0]
	}
	if accuracy, ok := t.rationals("GPSHPositioningError"); ok && accuracy[0] >= 0 {
		p.Accuracy = &accuracy[0]
	}
	return p
}

// degrees reads up to three rationals, degrees, minutes and seconds, and the hemisphere.
func (t *tagSet) degrees(name, refName exif.FieldName, plus, minus string) (float64, bool) {
	parts, ok := t.rationals(name)
	if !ok || len(parts) > 3 {
		return 0, false
	}
	value, unit := 0.0, 1.0
	for _, part := range parts {
		value += part / unit
		unit *= 60
	}
	switch ref := strings.ToUpper(t.text(refName)); {
	case strings.HasPrefix(ref, plus):
		return value, true
	case strings.HasPrefix(ref, minus):
		return -value, true
	}
	return 0, false
}

// degreesAsText reads the comma-separated text that some telephones wrote instead of rationals.
func (t *tagSet) degreesAsText() (lat, lon float64, ok bool) {
	tag, err := t.exif.Get(exif.GPSLatitude)
	if err != nil || tag.Format() != tiff.StringVal {
		return 0, 0, false
	}
	lat, lon, err = t.exif.LatLong()
	return lat, lon, err == nil
}

// gpsTime reads the receiver's date and time, which are UTC by the standard.
func (t *tagSet) gpsTime() *time.Time {
	day, err := time.Parse("2006:01:02", strings.ReplaceAll(t.text(exif.GPSDateStamp), "-", ":"))
	clock, ok := t.rationals(exif.GPSTimeStamp)
	if err != nil || !ok || len(clock) != 3 {
		return nil
	}
	seconds := clock[0]*3600 + clock[1]*60 + clock[2]
	if !(seconds >= 0 && seconds < 86400) {
		return nil
	}
	instant := day.Add(time.Duration(math.Round(seconds*1000)) * time.Millisecond)
	return &instant
}
