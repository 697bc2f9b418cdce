package media

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// Exif is what a picture's Exif block claims. Every field is a claim by whoever wrote the file. Text is cut to 200
// characters and has no control characters. The zero value, but for Orientation, means that nothing is claimed.
type Exif struct {
	// Present is true when the file has an Exif block, readable or not.
	Present bool `json:"present"`
	// Problem says in finished sentences what of the block could not be read, "" when nothing was wrong.
	Problem string `json:"problem,omitempty"`
	// Capture is when the picture was taken: DateTimeOriginal, else DateTimeDigitized. The DateTime tag is not
	// used, since it says when the file was last changed.
	Capture Capture `json:"capture,omitzero"`
	// ModifyDate is when the file was last changed, by the DateTime tag.
	ModifyDate Capture `json:"modify_date,omitzero"`
	// Make, Model and Software name the camera and the program that last wrote the file.
	Make     string `json:"make,omitempty"`
	Model    string `json:"model,omitempty"`
	Software string `json:"software,omitempty"`
	// Orientation is 1 to 8 as in tag 0x0112 of the standard: how the stored rows and columns are to be turned to
	// stand upright. 1, as stored, when the file does not say.
	Orientation int `json:"orientation"`
	// Position is where the picture was taken, nil when the file does not say.
	Position *Position `json:"position,omitempty"`
	// GPSTime is the instant, in UTC, that the satellite receiver gave (GPSDateStamp and GPSTimeStamp), nil when the
	// file has none. It may be that of an earlier fix.
	GPSTime *time.Time `json:"gps_time,omitempty"`
}

// Position is a place on earth as a file claims it, in decimal degrees, in the datum that the file used (WGS 84 in
// all but old cameras).
type Position struct {
	// Lat is -90 to 90, north above zero. Lon is -180 to 180, east above zero.
	Lat float64 `json:"lat"`
	Lon float64 `json:"lon"`
	// Alt is the height in metres above sea level, negative below; nil when not given.
	Alt *float64 `json:"alt,omitempty"`
	// Accuracy is the horizontal error in metres (GPSHPositioningError, tag 0x001F); nil when not given.
	Accuracy *float64 `json:"accuracy,omitempty"`
}

const (
	problemUnreadable = "The camera data in this file are damaged and could not be read."
	problemPartly     = "Part of the camera data in this file is damaged; the rest was read."
	problemTooBig     = "The camera data in this file are larger than any camera writes and were not read."
)

// ReadExif reads the Exif of a JPEG, PNG, WebP or HEIC picture from its bytes, as far as they go: a file cut after its
// header gives what the header holds. It never fails on content; damage is told in Problem, and content of another
// kind has no Exif. The error is that of r.
//
// What it allocates is bounded: by the size of the block, which is at most 256 KiB, whatever the block says of itself,
// and for a HEIC by 1 MiB more.
func ReadExif(r io.ReadSeeker) (Exif, error) {
	head := make([]byte, sniffLength)
	n, err := io.ReadFull(r, head)
	if !ended(err) {
		return Exif{}, fmt.Errorf("read exif: %w", err)
	}
	kind, refusal := sniff(head[:n])
	if refusal != nil {
		return Exif{Orientation: 1}, nil
	}
	c, err := readContainer(r, kind)
	if err != nil {
		return Exif{}, fmt.Errorf("read exif: %w", err)
	}
	return c.readExif(), nil
}

// readExif reads the block that was found in the container.
func (c container) readExif() Exif {
	switch {
	case c.exifTooBig:
		return Exif{Present: true, Orientation: 1, Problem: problemTooBig}
	case c.exif == nil:
		return Exif{Orientation: 1}
	}
	e := readBlock(c.exif)
	if c.exifDamaged && e.Problem == "" {
		e.Problem = problemPartly
	}
	return e
}

// readBlock reads a bare TIFF block. It recovers from whatever the reader beneath does.
func readBlock(block []byte) (e Exif) {
	defer func() {
		if recover() != nil {
			e = Exif{Present: true, Orientation: 1, Problem: problemUnreadable}
		}
	}()
	repaired, lost, err := guardBlock(block)
	if err != nil {
		return Exif{Present: true, Orientation: 1, Problem: problemUnreadable}
	}
	tags, err := readTags(repaired)
	if err != nil {
		return Exif{Present: true, Orientation: 1, Problem: problemUnreadable}
	}
	e = Exif{
		Present:     true,
		Make:        tags.text("Make"),
		Model:       tags.text("Model"),
		Software:    tags.text("Software"),
		Orientation: tags.orientation(),
		Capture:     tags.capture("DateTimeOriginal", "OffsetTimeOriginal", "SubSecTimeOriginal"),
		ModifyDate:  tags.capture("DateTime", "OffsetTime", "SubSecTime"),
		Position:    tags.position(),
		GPSTime:     tags.gpsTime(),
	}
	if e.Capture.IsZero() {
		e.Capture = tags.capture("DateTimeDigitized", "OffsetTimeDigitized", "SubSecTimeDigitized")
	}
	if lost > 0 {
		tags.problem(problemPartly)
	}
	e.Problem = strings.Join(tags.problems, " ")
	return e
}
