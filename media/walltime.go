package media

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// WallTime is a date and time of day as a clock on the wall showed it, with no zone. It is not an instant and is
// never converted. The zero value means none was given.
type WallTime struct {
	Year   int
	Month  time.Month
	Day    int
	Hour   int
	Minute int
	Second int
}

// wallLayout is the text form of a WallTime: ISO 8601 without a zone.
const wallLayout = "2006-01-02T15:04:05"

// IsZero reports whether no time was given.
func (w WallTime) IsZero() bool { return w == WallTime{} }

// String returns the time as 2026-05-04 09:30:00, "" for the zero value.
func (w WallTime) String() string {
	if w.IsZero() {
		return ""
	}
	return w.Date() + fmt.Sprintf(" %02d:%02d:%02d", w.Hour, w.Minute, w.Second)
}

// Date returns the day alone as 2026-05-04, "" for the zero value.
func (w WallTime) Date() string {
	if w.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", w.Year, int(w.Month), w.Day)
}

// In returns the instant at which a clock in loc showed this time. Use it only with a zone that somebody has stated.
func (w WallTime) In(loc *time.Location) time.Time {
	return time.Date(w.Year, w.Month, w.Day, w.Hour, w.Minute, w.Second, 0, loc)
}

// MarshalText writes 2026-05-04T09:30:00, nothing for the zero value.
func (w WallTime) MarshalText() ([]byte, error) {
	return []byte(strings.Replace(w.String(), " ", "T", 1)), nil
}

// UnmarshalText reads what MarshalText wrote and refuses anything else. On error w is left as it was.
func (w *WallTime) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*w = WallTime{}
		return nil
	}
	t, err := time.Parse(wallLayout, string(text))
	if err != nil {
		return fmt.Errorf("media: wall time %.40q: %w", text, err)
	}
	*w = wallTimeOf(t)
	return nil
}

func wallTimeOf(t time.Time) WallTime {
	return WallTime{t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second()}
}

// Capture is a time as one tag of a file claims it. The zero value means that the file claims none.
type Capture struct {
	// Local is the wall time as given.
	Local WallTime `json:"local,omitzero"`
	// Offset is the distance from UTC that the file gives for it, as +02:00 or -07:00. "" means that the zone is
	// not known; it is never filled in from elsewhere.
	Offset string `json:"offset,omitempty"`
	// SubSec is the fraction of a second as decimal digits, as given: "016" is 0.016 s. "" when there is none.
	SubSec string `json:"subsec,omitempty"`
	// Source is the name of the Exif tag that Local comes from: DateTimeOriginal (0x9003), DateTimeDigitized
	// (0x9004) or DateTime (0x0132).
	Source string `json:"source,omitempty"`
}

// IsZero reports whether the file claims no such time.
func (c Capture) IsZero() bool { return c == Capture{} }

// Instant returns the claimed instant, fraction included. It is false when the file gives no offset: then the wall
// time stands for no instant.
func (c Capture) Instant() (time.Time, bool) {
	if c.Local.IsZero() || c.Offset == "" {
		return time.Time{}, false
	}
	zone, err := time.Parse("-07:00", c.Offset)
	if err != nil {
		return time.Time{}, false
	}
	instant := c.Local.In(zone.Location())
	if fraction, err := strconv.ParseFloat("0."+c.SubSec, 64); c.SubSec != "" && err == nil {
		instant = instant.Add(time.Duration(fraction * float64(time.Second)))
	}
	return instant, true
}

// What parseExifTime and parseOffset accept; compiled once and only read.
var (
	timePattern = regexp.MustCompile(
		`^(\d{4})[:/.-](\d{1,2})[:/.-](\d{1,2})` + // year, month, day
			`[ T]+(\d{1,2}):(\d{1,2})(?::(\d{1,2})(?:\.\d+)?)?` + // hour, minute, second
			`\s*(Z|[+-]\d{2}:?\d{2})?$`) // zone
	offsetPattern = regexp.MustCompile(`^([+-])(\d{2}):?(\d{2})$`)
)

// parseExifTime reads a date-time value. The standard form is 2026:05:04 09:30:00 (Exif 2.32, section 4.6.5);
// hyphens, slashes, dots, a T, a missing second and a zone after it are seen in the wild. Blanks and zeros
// mean "unknown" in the standard: they give no time and no error. The zone, if one follows, comes back as written.
func parseExifTime(text string) (local WallTime, zone string, err error) {
	if strings.Trim(text, " :0") == "" {
		return WallTime{}, "", nil
	}
	parts := timePattern.FindStringSubmatch(strings.TrimSpace(text))
	if parts == nil {
		return WallTime{}, "", fmt.Errorf("%.40q is not a date and time", text)
	}
	var n [6]int
	for i := range n {
		if parts[i+1] == "" {
			continue
		}
		if n[i], err = strconv.Atoi(parts[i+1]); err != nil {
			return WallTime{}, "", err
		}
	}
	local = WallTime{n[0], time.Month(n[1]), n[2], n[3], n[4], n[5]}
	if wallTimeOf(local.In(time.UTC)) != local {
		return WallTime{}, "", fmt.Errorf("%.40q is not in the calendar", text)
	}
	return local, parts[7], nil
}

// parseOffset reads an offset value, +02:00 in the standard form (Exif 2.31, tags 0x9010 to 0x9012), into that
// form. Blanks mean "unknown". Offsets beyond 15 hours are refused: no place on earth has one.
func parseOffset(text string) (string, error) {
	text = strings.TrimSpace(text)
	switch {
	case strings.Trim(text, " :") == "":
		return "", nil
	case text == "Z":
		return "+00:00", nil
	}
	parts := offsetPattern.FindStringSubmatch(text)
	if parts == nil || parts[2] > "15" || parts[3] > "59" {
		return "", fmt.Errorf("%.40q is not an offset from UTC", text)
	}
	return parts[1] + parts[2] + ":" + parts[3], nil
}
