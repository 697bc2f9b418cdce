package jobs_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/jobs"
)

// TestTagText holds the form of a tag to worked examples, whose checks sha256sum and base32 gave:
// printf NB1... | sha256sum | xxd -r -p | base32 | cut -c1-4
func TestTagText(t *testing.T) {
	const job, run = "k7d2m3n4p5q6", "abcdef"
	for _, c := range []struct {
		place checklist.Place
		want  string
	}{
		{checklist.Place{ID: run + "/P3", Kind: checklist.PlacePost, RunID: run, Number: 3}, "NB1K7D2M3N4P5Q6ABCDEFP3UOZZ"},
		{checklist.Place{ID: run + "/B12", Kind: checklist.PlaceBay, RunID: run, Number: 12}, "NB1K7D2M3N4P5Q6ABCDEFB1256RR"},
		{checklist.Place{ID: run + "/P999", Kind: checklist.PlacePost, RunID: run, Number: 999}, "NB1K7D2M3N4P5Q6ABCDEFP999J23T"},
	} {
		if got, err := jobs.TagText(job, c.place); err != nil || got != c.want {
			t.Errorf("TagText(%s) = %q, %v; want %q", c.place.ID, got, err, c.want)
		}
	}
}

// TestNoTagText has no tag for what none can name.
func TestNoTagText(t *testing.T) {
	const job, run = "k7d2m3n4p5q6", "abcdef"
	for _, p := range []checklist.Place{
		{ID: "job", Kind: checklist.PlaceJob}, {ID: run, Kind: checklist.PlaceRun, RunID: run},
		{ID: run + "/P1000", Kind: checklist.PlacePost, RunID: run, Number: 1000}, {ID: run + "/P0", Kind: checklist.PlacePost, RunID: run},
		{ID: "r1/P1", Kind: checklist.PlacePost, RunID: "r1", Number: 1}, {ID: run + "/P2", Kind: checklist.PlacePost, RunID: run, Number: 1},
	} {
		if text, err := jobs.TagText(job, p); err == nil {
			t.Errorf("TagText(%+v) = %q, want an error", p, text)
		}
	}
	if text, err := jobs.TagText("j1", checklist.Place{ID: run + "/P1", Kind: checklist.PlacePost, RunID: run, Number: 1}); err == nil {
		t.Errorf("TagText of a short id = %q, want an error", text)
	}
}

// TestTagThereAndBack: what is written is read, fits a small code, and with one character other than it was is no tag.
func TestTagThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, run := jobs.NewID(), jobs.NewID()[:6]
		p := checklist.Place{Kind: checklist.PlacePost, RunID: run, Number: rapid.IntRange(1, 999).Draw(t, "number")}
		letter := "P"
		if rapid.Bool().Draw(t, "bay") {
			p.Kind, letter = checklist.PlaceBay, "B"
		}
		p.ID = run + "/" + letter + strconv.Itoa(p.Number)
		text, err := jobs.TagText(job, p)
		if err != nil {
			t.Fatal(err)
		}
		tag, ok := jobs.ReadTag(text)
		if !ok || tag.PlaceID() != p.ID || tag.Job != job {
			t.Fatalf("ReadTag(%q) = %+v, %v; want %s of %s", text, tag, ok, p.ID, job)
		}
		if len(text) > 29 || !regexp.MustCompile(`^[A-Z0-9]+$`).MatchString(text) {
			t.Fatalf("%q does not fit a code of 25 modules that stands a quarter of damage", text)
		}
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		other := text[:at] + rapid.StringMatching(`[A-Z0-9]`).Draw(t, "other") + text[at+1:]
		if tag, ok := jobs.ReadTag(other); ok && other != text {
			t.Fatalf("ReadTag(%q) = %+v, want none", other, tag)
		}
	})
}

// TestReadNoTag takes other people's codes for none.
func TestReadNoTag(t *testing.T) {
	for _, text := range []string{"", "NB1", "https://example.invalid/", "NB1K7D2M3N4P5Q6ABCDEFP3", "nb1k7d2m3n4p5q6abcdefp3abcd", "NB2K7D2M3N4P5Q6ABCDEFP3ABCD", strings.Repeat("NB1ABCDEF", 1000)} {
		if tag, ok := jobs.ReadTag(text); ok {
			t.Errorf("ReadTag(%q) = %+v, want none", text, tag)
		}
	}
}
