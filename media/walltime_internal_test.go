package media

import (
	"testing"
	"time"
)

func TestParseExifTime(t *testing.T) {
	want := WallTime{2026, time.May, 4, 9, 30, 7}
	cases := []struct {
		in   string
		want WallTime
		zone string
	}{
		// Exif 2.32, section 4.6.5, and its two ways of saying "unknown".
		{"2026:05:04 09:30:07", want, ""},
		{"    :  :     :  :  ", WallTime{}, ""},
		{"", WallTime{}, ""},
		{"0000:00:00 00:00:00", WallTime{}, ""},
		// Seen in files of cameras and programs.
		{"2026-05-04 09:30:07", want, ""},
		{"2026/05/04 09:30:07", want, ""},
		{"2026:05:04T09:30:07", want, ""},
		{"2026:05:04  9:30:07", want, ""},
		{"2026:05:04 09:30:07.250", want, ""},
		{"2026:05:04 09:30:07+02:00", want, "+02:00"},
		{"2026-05-04T09:30:07Z", want, "Z"},
		{"2026:05:04 09:30", WallTime{2026, time.May, 4, 9, 30, 0}, ""},
		{"2024:02:29 00:00:00", WallTime{2024, time.February, 29, 0, 0, 0}, ""},
	}
	for _, c := range cases {
		got, zone, err := parseExifTime(c.in)
		if err != nil || got != c.want || zone != c.zone {
			t.Errorf("parseExifTime(%q) = %v, %q, %v, want %v, %q", c.in, got, zone, err, c.want, c.zone)
		}
	}
	for _, in := range []string{
		"2026:13:04 09:30:07", "2026:02:30 09:30:07", "2025:02:29 00:00:00", "2026:05:04 24:00:00", "2026:05:04 09:60:00",
		"2026:05:04", "4 May 2026", "2026:05:04 09:30:07 and more", "99999:05:04 09:30:07",
	} {
		if got, _, err := parseExifTime(in); err == nil || !got.IsZero() {
			t.Errorf("parseExifTime(%q) = %v, %v, want an error", in, got, err)
		}
	}
}

func TestParseOffset(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "   :  ": "", "+02:00": "+02:00", "-07:00": "-07:00", "+0530": "+05:30", "Z": "+00:00", " +14:00 ": "+14:00",
	} {
		if got, err := parseOffset(in); err != nil || got != want {
			t.Errorf("parseOffset(%q) = %q, %v, want %q", in, got, err, want)
		}
	}
	for _, in := range []string{"02:00", "+2", "+16:00", "+02:60", "CEST", "+02:00:00"} {
		if got, err := parseOffset(in); err == nil || got != "" {
			t.Errorf("parseOffset(%q) = %q, %v, want an error", in, got, err)
		}
	}
}
