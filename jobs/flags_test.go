package jobs_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
)

// taken is a capture time as a file claims it.
func taken(month time.Month, day, hour, minute, second int, offset string) media.Capture {
	return media.Capture{Local: media.WallTime{Year: 2026, Month: month, Day: day, Hour: hour, Minute: minute, Second: second}, Offset: offset, Source: "DateTimeOriginal"}
}

func gps(text string) *time.Time {
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		panic(err)
	}
	return &at
}

func at(lat, lon float64, accuracy *float64) *media.Position {
	return &media.Position{Lat: lat, Lon: lon, Accuracy: accuracy}
}

// Each flag is raised by the facts that disagree, with both of them in its sentence, and not by facts that only look alike. The job lies in
// Minnesota in the summer, five hours behind UTC (IANA, America/Chicago: -05:00 from 8 March to 1 November 2026, else -06:00).
func TestFlags(t *testing.T) {
	lat, lon := 44.9512, -93.1
	fair, poor := 150.0, 1000.0
	job := jobs.Job{Zone: "America/Chicago", Begun: "2026-05-01", Lat: &lat, Lon: &lon}
	received := time.Date(2026, 5, 4, 20, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		name string
		exif media.Exif
		want []string // key, then parts of its sentence after a bar
	}{
		{"all in order", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(44.9513, -93.1001, nil)}, nil},
		{"the offset of winter in summer", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-06:00")}, []string{"zone|-06:00|-05:00"}},
		{"a phone still on the time of another country", media.Exif{Capture: taken(5, 4, 16, 30, 0, "+02:00")}, []string{"zone|+02:00|-05:00"}},
		{"no offset, satellites agree", media.Exif{Capture: taken(5, 4, 9, 30, 40, ""), GPSTime: gps("2026-05-04T14:30:21Z")}, nil},
		{"no offset, satellites tell the zone", media.Exif{Capture: taken(5, 4, 16, 30, 40, ""), GPSTime: gps("2026-05-04T14:30:21Z")}, []string{"zone|4 May 2026 16:30:40|4 May 2026 14:30:21 UTC|+02:00|-05:00"}},
		{"no offset, a zone of three quarters of an hour", media.Exif{Capture: taken(5, 4, 20, 15, 0, ""), GPSTime: gps("2026-05-04T14:30:00Z")}, []string{"zone|+05:45"}},
		{"no offset, the satellites' time is of an earlier fix", media.Exif{Capture: taken(5, 4, 16, 30, 40, ""), GPSTime: gps("2026-05-04T14:22:00Z")}, nil},
		{"no offset and no satellites: nothing can be told", media.Exif{Capture: taken(5, 4, 18, 30, 0, "")}, nil},
		{"taken after it was received", media.Exif{Capture: taken(5, 4, 15, 30, 0, "-05:00")}, []string{"after_receipt|4 May 2026 15:30|4 May 2026 15:00"}},
		{"within the slack of clocks", media.Exif{Capture: taken(5, 4, 15, 4, 0, "-05:00")}, nil},
		{"no zone, possible in some zone", media.Exif{Capture: taken(5, 5, 9, 0, 0, "")}, nil},
		{"no zone, after it in every zone", media.Exif{Capture: taken(5, 5, 12, 0, 0, "")}, []string{"after_receipt|with no zone|in any zone"}},
		{"before work began", media.Exif{Capture: taken(4, 30, 12, 0, 0, "-05:00")}, []string{"before_job|30 Apr 2026|1 May 2026"}},
		// One minute of latitude is a nautical mile, 1,852 m by definition; on the sphere of 6,371 km used here 1,853.2 m.
		{"a mile north", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(lat+1.0/60, lon, nil)}, []string{"far|1.9 km"}},
		{"a mile north by a poor receiver", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(lat+1.0/60, lon, &poor)}, []string{"far|1.9 km from the site, give or take 1000 m"}},
		{"six hundred metres by a fair receiver", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(lat+600.0/1853.2/60, lon, nil)}, []string{"far|0.6 km"}},
		{"the same, within what the receiver allows itself", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(lat+600.0/1853.2/60, lon, &fair)}, nil},
		{"around the other side of the date line", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), Position: at(-lat, lon+180, nil)}, []string{"far|20015.1 km"}}, // half of 2 pi 6,371 km
		{"no time", media.Exif{}, []string{"no_time|4 May 2026 15:00"}},
		{"saved again", media.Exif{Capture: taken(5, 4, 9, 30, 0, "-05:00"), ModifyDate: taken(5, 4, 11, 0, 0, ""), Software: "Sample Retouch"}, []string{"edited|09:30:00|11:00:00|Sample Retouch"}},
	} {
		tt.exif.Present = true
		p := jobs.Photo{ID: "p", Number: 1, Exif: tt.exif, Received: received, Stage: checklist.Framing, Place: checklist.Place{ID: "job", Kind: checklist.PlaceJob}}
		rec := &jobs.Record{Job: job}
		rec.Take(jobs.Change{Photo: &p})
		got := rec.Clone().Flags(p)
		var keys, want []string
		for _, f := range got {
			keys = append(keys, f.Key)
		}
		for _, w := range tt.want {
			key, _, _ := strings.Cut(w, "|")
			want = append(want, key)
		}
		if !slices.Equal(keys, want) {
			t.Errorf("%s: flags %v, want %v: %+v", tt.name, keys, want, got)
			continue
		}
		for i, w := range tt.want {
			for _, part := range strings.Split(w, "|")[1:] {
				if !strings.Contains(got[i].Sentence, part) {
					t.Errorf("%s: %q does not name %q", tt.name, got[i].Sentence, part)
				}
			}
		}
	}
	if math.Abs(math.Pi*6371-20015.1) > 0.05 {
		t.Error("half the way around is not what the table says")
	}
}
