package media_test

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

// The check values of the trade on originals (SHA-256) and on Exif, by their ids.
func TestCheckValues(t *testing.T) {
	for _, v := range []struct{ id, content, want string }{
		{"G01", "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
		{"G02", "", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
	} {
		files, _ := openFiles(t, 0)
		got, err := media.Put(t.Context(), files, strings.NewReader(v.content))
		if err != nil || got.ID.String() != v.want {
			t.Errorf("%s: Put(%q) = %s, %v, want %s", v.id, v.content, got.ID, err, v.want)
		}
	}
	t.Run("G11", func(t *testing.T) {
		const orientation, dateTimeOriginal, offsetTimeOriginal, gpsPointer = 274, 36867, 36881, 34853
		const at, offset = "2026:05:04 09:30:07", "-04:00"
		block := exifwrite.Block(binary.BigEndian,
			fields{set(orientation, exifwrite.Short(6))},
			fields{set(dateTimeOriginal, exifwrite.Text(at)), set(offsetTimeOriginal, exifwrite.Text(offset))},
			append(exifwrite.Degrees(tagGPSLatitudeRef, 43.25, "N", "S"), exifwrite.Degrees(tagGPSLongitudeRef, -79.5, "E", "W")...))
		whole := readExif(t, headOfJPEG(block))
		want := media.Exif{Present: true, Orientation: 6, Capture: media.Capture{Local: wall(9, 30, 7), Offset: offset, Source: "DateTimeOriginal"}, Position: &media.Position{Lat: 43.25, Lon: -79.5}}
		if got, want := asJSON(t, whole), asJSON(t, want); got != want {
			t.Fatalf("ReadExif = %s, want %s", got, want)
		}
		// Under another id none of them is read: the id is what counts.
		for _, tag := range []struct {
			id    uint16
			other uint16 // next to it, and so still in order
			gone  func(*media.Exif)
		}{
			{orientation, 275, func(x *media.Exif) { x.Orientation = 1 }},
			{dateTimeOriginal, 36866, func(x *media.Exif) { x.Capture = media.Capture{} }},
			{offsetTimeOriginal, 36883, func(x *media.Exif) { x.Capture.Offset = "" }},
			{gpsPointer, 34854, func(x *media.Exif) { x.Position = nil }},
		} {
			id := binary.BigEndian.AppendUint16(nil, tag.id)
			if n := bytes.Count(block, id); n != 1 {
				t.Fatalf("the block holds %x %d times, want once", id, n)
			}
			got, left := readExif(t, headOfJPEG(bytes.Replace(block, id, binary.BigEndian.AppendUint16(nil, tag.other), 1))), want
			tag.gone(&left)
			if got, want := asJSON(t, got), asJSON(t, left); got != want {
				t.Errorf("with %d in place of %d ReadExif = %s, want %s", tag.other, tag.id, got, want)
			}
		}
	})
}
