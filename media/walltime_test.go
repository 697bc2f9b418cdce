package media_test

import (
	"encoding/json"
	"testing"
	"time"

	"newelbook/media"
)

func TestWallTimeText(t *testing.T) {
	cases := []struct {
		in         media.WallTime
		text, json string
	}{
		{media.WallTime{}, "", `""`},
		{media.WallTime{2026, time.May, 4, 9, 30, 7}, "2026-05-04 09:30:07", `"2026-05-04T09:30:07"`},
		{media.WallTime{1999, time.December, 31, 23, 59, 59}, "1999-12-31 23:59:59", `"1999-12-31T23:59:59"`},
	}
	for _, c := range cases {
		if got := c.in.String(); got != c.text {
			t.Errorf("String() = %q, want %q", got, c.text)
		}
		got, err := json.Marshal(c.in)
		if err != nil || string(got) != c.json {
			t.Errorf("Marshal(%v) = %s, %v, want %s", c.in, got, err, c.json)
		}
		var back media.WallTime
		if err := json.Unmarshal(got, &back); err != nil || back != c.in {
			t.Errorf("Unmarshal(%s) = %v, %v, want %v", got, back, err, c.in)
		}
	}
	for _, text := range []string{`"2026-05-04"`, `"2026-05-04T09:30:07Z"`, `"2026-13-04T09:30:07"`, `"yesterday"`} {
		var back media.WallTime
		if err := json.Unmarshal([]byte(text), &back); err == nil || !back.IsZero() {
			t.Errorf("Unmarshal(%s) = %v, %v, want an error", text, back, err)
		}
	}
}

func TestCaptureInstant(t *testing.T) {
	local := media.WallTime{2026, time.May, 4, 9, 30, 0}
	cases := []struct {
		name string
		in   media.Capture
		want string // RFC 3339, "" for no instant
	}{
		{"nothing", media.Capture{}, ""},
		{"no offset is no instant", media.Capture{Local: local}, ""},
		{"east", media.Capture{Local: local, Offset: "+05:30"}, "2026-05-04T04:00:00Z"},
		{"west, with fraction", media.Capture{Local: local, Offset: "-07:00", SubSec: "016"}, "2026-05-04T16:30:00.016Z"},
		{"offset unread", media.Capture{Local: local, Offset: "west"}, ""},
	}
	for _, c := range cases {
		got, ok := c.in.Instant()
		text := ""
		if ok {
			text = got.UTC().Format(time.RFC3339Nano)
		}
		if text != c.want {
			t.Errorf("%s: Instant() = %q, want %q", c.name, text, c.want)
		}
	}
}
