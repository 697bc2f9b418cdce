// Package exifwrite puts Exif into a JPEG that was drawn by a program, for samples and tests: the capture data of a
// camera that does not exist. It starts from a plain JPEG without Exif; it does not edit photographs.
//
// Encode does what samples need. Block and Insert are the two steps beneath it, for tests that need other tags,
// another byte order or a damaged block. Its tests read everything back through package media and, where it is
// installed, exiftool.
package exifwrite

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"regexp"
)

// Tags are the claims to write. A field with its zero value is left out.
type Tags struct {
	// Make and Model name the camera, Software the program.
	Make, Model, Software string
	// DateTimeOriginal is the wall time of capture in the form of the standard, 2026:05:04 09:30:00.
	DateTimeOriginal string
	// OffsetTimeOriginal is the distance from UTC of that time, in the form +02:00.
	OffsetTimeOriginal string
	// SubSec is the fraction of its second as decimal digits.
	SubSec string
	// Orientation is 1 to 8.
	Orientation int
	// Lat and Lon are in decimal degrees, north and east above zero; both or neither. They are written to 1/10,000 of
	// a second of arc, about 3 mm.
	Lat, Lon *float64
}

const exifIntro = "Exif\x00\x00"

var (
	dateForm   = regexp.MustCompile(`^\d{4}:\d\d:\d\d \d\d:\d\d:\d\d$`)
	offsetForm = regexp.MustCompile(`^[+-]\d\d:\d\d$`)
	digitsForm = regexp.MustCompile(`^\d+$`)
)

// check refuses claims that no reader could read back as they stand.
func (t Tags) check() error {
	switch {
	case t.DateTimeOriginal != "" && !dateForm.MatchString(t.DateTimeOriginal):
		return fmt.Errorf("time %q is not in the form 2026:05:04 09:30:00", t.DateTimeOriginal)
	case t.OffsetTimeOriginal != "" && !offsetForm.MatchString(t.OffsetTimeOriginal):
		return fmt.Errorf("offset %q is not in the form +02:00", t.OffsetTimeOriginal)
	case t.SubSec != "" && !digitsForm.MatchString(t.SubSec):
		return fmt.Errorf("fraction of a second %q is not digits", t.SubSec)
	case t.Orientation < 0 || t.Orientation > 8:
		return fmt.Errorf("orientation %d is not 1 to 8", t.Orientation)
	case (t.Lat == nil) != (t.Lon == nil):
		return errors.New("a position needs both latitude and longitude")
	case t.Lat != nil && !(math.Abs(*t.Lat) <= 90 && math.Abs(*t.Lon) <= 180):
		return fmt.Errorf("position %v, %v is not on earth", *t.Lat, *t.Lon)
	}
	return nil
}

// Encode returns a copy of a JPEG with the tags in an Exif segment. It refuses a picture that is not JPEG, one that
// has Exif already, and tags that don't have the form that their comments state.
func Encode(picture []byte, tags Tags) ([]byte, error) {
	if err := tags.check(); err != nil {
		return nil, fmt.Errorf("write exif: %w", err)
	}
	var main, exif, gps []Field
	text := func(fields *[]Field, tag uint16, value string) {
		if value != "" {
			*fields = append(*fields, Field{tag, Text(value)})
		}
	}
	text(&main, 0x010f, tags.Make)
	text(&main, 0x0110, tags.Model)
	text(&main, 0x0131, tags.Software)
	if tags.Orientation != 0 {
		main = append(main, Field{0x0112, Short(tags.Orientation)})
	}
	exif = append(exif, Field{0x9000, Undefined("0232")})
	text(&exif, 0x9003, tags.DateTimeOriginal)
	text(&exif, 0x9011, tags.OffsetTimeOriginal)
	text(&exif, 0x9291, tags.SubSec)
	if tags.Lat != nil {
		gps = append(Degrees(0x0001, *tags.Lat, "N", "S"), Degrees(0x0003, *tags.Lon, "E", "W")...)
		gps = append(gps, Field{0x0000, Bytes{2, 3, 0, 0}})
	}
	return Insert(picture, Block(binary.BigEndian, main, exif, gps))
}

// Degrees returns the two fields of one coordinate, the hemisphere under tag ref and degrees, minutes and seconds
// under the next tag.
func Degrees(ref uint16, value float64, plus, minus string) []Field {
	hemisphere := plus
	if value < 0 {
		hemisphere, value = minus, -value
	}
	const unit = 10_000
	arc := uint64(math.Round(value * 3600 * unit))
	return []Field{
		{ref, Text(hemisphere)},
		{ref + 1, Rationals{
			{uint32(arc / (3600 * unit)), 1},
			{uint32(arc / (60 * unit) % 60), 1},
			{uint32(arc % (60 * unit)), unit},
		}},
	}
}

// Insert returns a copy of a JPEG with a TIFF block in an Exif segment right after its first marker, where the
// standard wants it (Exif 2.32, section 4.5.4). It refuses a picture that is not JPEG or has Exif, and a block that
// does not fit a segment. The block is not looked at.
func Insert(picture, block []byte) ([]byte, error) {
	if !bytes.HasPrefix(picture, []byte("\xff\xd8\xff")) {
		return nil, errors.New("write exif: the picture is not JPEG")
	}
	has, err := hasExif(picture)
	if err != nil {
		return nil, fmt.Errorf("write exif: %w", err)
	}
	if has {
		return nil, errors.New("write exif: the picture has Exif already")
	}
	length := 2 + len(exifIntro) + len(block)
	if length > math.MaxUint16 {
		return nil, fmt.Errorf("write exif: block of %d bytes does not fit a segment", len(block))
	}
	out := make([]byte, 0, len(picture)+2+length)
	out = append(out, picture[:2]...)
	out = append(out, 0xff, 0xe1)
	out = binary.BigEndian.AppendUint16(out, uint16(length))
	out = append(out, exifIntro...)
	out = append(out, block...)
	return append(out, picture[2:]...), nil
}

// hasExif looks through the segments before the first scan.
func hasExif(picture []byte) (bool, error) {
	for at := 2; ; {
		if at+4 > len(picture) || picture[at] != 0xff {
			return false, fmt.Errorf("no segment at byte %d", at)
		}
		length := int(binary.BigEndian.Uint16(picture[at+2:]))
		if marker := picture[at+1]; marker == 0xda {
			return false, nil
		} else if marker == 0xe1 && bytes.HasPrefix(picture[at+4:], []byte(exifIntro)) {
			return true, nil
		}
		at += 2 + length
	}
}
