package pack

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar is the care days of the facts as an iCalendar file (RFC 5545): whole days, those that come again with their rule. The
// same facts give the same bytes; an event keeps its UID from pack to pack of a job, so that a later file takes the place of the
// earlier one's events.
func Calendar(f Facts) []byte {
	b := &builder{Facts: f, x: &f.Record, style: f.Record.Job.Units.Style(), loc: f.Record.Job.Location()}
	var out strings.Builder
	line := func(name, value string) { out.WriteString(folded(name + ":" + value)) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", "-//Newelbook//Care of a guard//EN")
	line("CALSCALE", "GREGORIAN")
	for _, t := range b.careTasks() {
		line("BEGIN", "VEVENT")
		line("UID", fmt.Sprintf("%x", sha256.Sum256([]byte(b.x.Job.ID+"/care/"+t.key)))[:32])
		line("DTSTAMP", b.x.Frozen.UTC().Format("20060102T150405Z"))
		line("SEQUENCE", fmt.Sprint(b.x.Pack))
		line("DTSTART;VALUE=DATE", t.on.Format("20060102"))
		if t.months > 0 {
			line("RRULE", recurring(t))
		}
		line("SUMMARY", escaped(t.title))
		line("DESCRIPTION", escaped(fmt.Sprintf("%s\nJob %s. The builder: %s", t.what, b.x.Job.Ref, orText(strings.TrimSpace(b.x.Job.Builder+", "+b.x.Job.Contact), "not recorded"))))
		if b.x.Job.Site != "" {
			line("LOCATION", escaped(b.x.Job.Site))
		}
		line("TRANSP", "TRANSPARENT")
		line("END", "VEVENT")
	}
	line("END", "VCALENDAR")
	return []byte(out.String())
}

// recurring is the rule by which a task comes again. One that fell on 29 February would come every fourth year by it, so its day is the
// last of its month.
func recurring(t careTask) string {
	rule := fmt.Sprintf("FREQ=YEARLY;INTERVAL=%d", t.months/12)
	if t.on.Month() == time.February && t.on.Day() == 29 {
		rule += ";BYMONTH=2;BYMONTHDAY=-1"
	}
	return rule
}

// escaped is text as a value of type TEXT (RFC 5545, 3.3.11).
func escaped(s string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`).Replace(s)
}

// folded breaks a content line after at most 75 octets, never within a character (RFC 5545, 3.1).
func folded(s string) string {
	var out strings.Builder
	room := 75
	for _, r := range s {
		if n := utf8.RuneLen(r); n > room {
			out.WriteString("\r\n ")
			room = 74
		}
		out.WriteRune(r)
		room -= utf8.RuneLen(r)
	}
	out.WriteString("\r\n")
	return out.String()
}
