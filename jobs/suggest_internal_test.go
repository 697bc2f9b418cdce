package jobs

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/media"
)

// atClock is a wall time on 4 May 2026.
func atClock(text string) media.WallTime {
	t, err := time.Parse("15:04", text)
	if err != nil {
		panic(err)
	}
	return media.WallTime{Year: 2026, Month: 5, Day: 4, Hour: t.Hour(), Minute: t.Minute()}
}

func TestSuggest(t *testing.T) {
	p1, p2 := checklist.Place{ID: "a/P1", Label: "R1-P1"}, checklist.Place{ID: "a/P2", Label: "R1-P2"}
	read := func(at string, p checklist.Place, s checklist.Stage) Moment {
		return Moment{Wall: atClock(at), Place: p, Stage: s}
	}
	closed := func(at string, s checklist.Stage) Moment { return Moment{Wall: atClock(at), Stage: s, Closed: true} }
	stages := checklist.Stages()
	framing, next, third := stages[0], stages[1], stages[2]
	for _, c := range []struct {
		name    string
		moments []Moment
		at      string
		place   string
		stage   checklist.Stage
		why     string
	}{
		{"between two at one post", []Moment{read("09:00", p1, framing), read("11:00", p1, framing)}, "10:00", "a/P1", framing, "between two readings at R1-P1"},
		{"nearer to one of two", []Moment{read("09:00", p1, framing), read("09:12", p2, framing)}, "09:02", "a/P1", framing, "2 minutes after a reading at R1-P1"},
		{"nearer to the later", []Moment{read("09:00", p1, framing), read("09:12", p2, framing)}, "09:11", "a/P2", framing, "a minute before a reading at R1-P2"},
		{"between two posts", []Moment{read("09:00", p1, framing), read("09:12", p2, framing)}, "09:05", "", framing, "either may be meant"},
		{"at the very second", []Moment{read("09:00", p1, framing), read("09:12", p2, framing)}, "09:12", "a/P2", framing, "less than a minute"},
		{"after the last", []Moment{read("09:00", p1, framing)}, "09:15", "a/P1", framing, "15 minutes after"},
		{"long after the last", []Moment{read("09:00", p1, framing)}, "09:16", "", framing, "more than 15 minutes away"},
		{"hours after the last", []Moment{read("09:00", p1, framing)}, "13:01", "", "", "more than 15 minutes away"},
		{"before the first", []Moment{read("09:00", p1, next)}, "08:50", "a/P1", next, "10 minutes before"},
		{"a closing between", []Moment{read("09:00", p1, framing), closed("09:05", framing), read("09:20", p1, next)}, "09:06", "a/P1", next, "between two readings"},
		{"before the closing", []Moment{read("09:00", p1, framing), closed("09:15", framing), read("09:20", p1, next)}, "09:14", "a/P1", framing, "between two readings"},
		{"a reading of a closed stage says no stage", []Moment{read("09:00", p1, framing), closed("09:05", framing)}, "09:10", "a/P1", "", "10 minutes after"},
		{"one stage open between two closings", []Moment{closed("09:00", framing), closed("15:00", next)}, "12:00", "", next, "No reading"},
		{"two stages open between", []Moment{closed("09:00", framing), closed("15:00", third)}, "12:00", "", "", "No reading"},
		{"nothing known", nil, "12:00", "", "", "No reading"},
	} {
		got := Suggest(c.moments, atClock(c.at))
		if got.Place.ID != c.place || got.Stage != c.stage || !strings.Contains(got.Why, c.why) {
			t.Errorf("%s: %q, %q, %q; want %q, %q, %q", c.name, got.Place.ID, got.Stage, got.Why, c.place, c.stage, c.why)
		}
	}
	if got := Suggest([]Moment{read("00:00", p1, framing)}, media.WallTime{}); got.Whole() || !strings.Contains(got.Why, "no time of capture") {
		t.Errorf("without a time: %+v", got)
	}
}

// TestMomentsOfTheSite reads the clock at the site: the same reading is at one wall time whatever the server's zone is, also on the
// night when clocks go back.
func TestMomentsOfTheSite(t *testing.T) {
	r := NewRecord()
	r.Take(Change{Job: &Job{ID: "deck", Zone: "America/Chicago"}})
	job, _ := r.Place("job")
	for _, at := range []string{"2026-05-05T03:30:00Z", "2026-11-01T06:30:00Z", "2026-11-01T07:30:00Z"} {
		when, err := time.Parse(time.RFC3339, at)
		if err != nil {
			t.Fatal(err)
		}
		x := Reading{Check: checklist.Check{Place: job, Stage: checklist.Framing}, Received: when}
		if at[5:7] == "11" {
			x.Claimed, x.Received = when, when.Add(time.Hour)
		}
		r.Take(Change{Reading: &x})
	}
	want := []string{"2026-05-04 22:30:00", "2026-11-01 01:30:00", "2026-11-01 01:30:00"}
	for i, m := range r.Moments() {
		if m.Wall.String() != want[i] {
			t.Errorf("moment %d at %s, want %s", i, m.Wall, want[i])
		}
	}
}

// TestBatches keeps neighbours in time together, those without a time last, and holds to its limits.
func TestBatches(t *testing.T) {
	r := NewRecord()
	r.Take(Change{Job: &Job{ID: "deck", Zone: "UTC"}})
	job, _ := r.Place("job")
	r.Take(Change{Reading: &Reading{Check: checklist.Check{Place: job, Stage: checklist.Framing}, Received: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}})
	for i, at := range []string{"", "09:05", "09:04", "23:00"} {
		p := Photo{ID: at + "x", Number: i + 1, Place: job}
		if at != "" {
			p.Exif.Capture.Local = atClock(at)
		}
		r.Take(Change{Photo: &p})
	}
	got := r.Batches(100)
	if len(got) != 2 || len(got[0].Photos) != 2 || got[0].Photos[0].ID != "09:04x" || got[0].Suggestion.Place.ID != "job" || got[1].Photos[1].ID != "x" {
		t.Errorf("batches %+v", got)
	}
	for i := range 2 * batchMost {
		r.Take(Change{Photo: &Photo{ID: NewID(), Number: 10 + i, Place: job}})
	}
	total := 0
	for _, b := range r.Batches(40) {
		if len(b.Photos) > batchMost {
			t.Errorf("a batch of %d", len(b.Photos))
		}
		total += len(b.Photos)
	}
	if total != 40 {
		t.Errorf("%d photographs in all batches, want 40", total)
	}
}
