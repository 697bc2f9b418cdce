package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media/codes/scenes"
)

// tagTexts are the texts of the tags of a job's posts and bays, by label.
func tagTexts(t *testing.T, rec *jobs.Record) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, p := range rec.Places() {
		if p.Kind != checklist.PlacePost && p.Kind != checklist.PlaceBay {
			continue
		}
		text, err := jobs.TagText(rec.Job.ID, p)
		if err != nil {
			t.Fatal(err)
		}
		out[p.Label] = text
	}
	return out
}

// TestTagsRead prints the tags of the demonstration in both sizes and on both papers and reads them off the pages with another reader: each post and bay has
// its own, and the page says its label.
func TestTagsRead(t *testing.T) {
	painter, lettering, reader := tool(t, "pdftoppm"), tool(t, "pdftotext"), tool(t, "zbarimg")
	dir := t.TempDir()
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	d := open(t, dir)
	rec := d.record(t, demoID(t, d))
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	var want []string
	texts := tagTexts(t, rec)
	for _, text := range texts {
		want = append(want, text)
	}
	slices.Sort(want)
	for _, form := range [][]string{{"--paper", "a4"}, {"--paper", "letter"}, {"--paper", "a4", "--size", "large"}, {"--paper", "letter", "--size", "Large"}} {
		file := filepath.Join(t.TempDir(), "tags.pdf")
		out := must(t, "", append([]string{"tags", "H-114", "--data", dir, "-o", file}, form...)...)
		sheets, finely := (len(want)+5)/6, []string{"100", "150", "200", "300"}
		if len(form) > 2 {
			sheets, finely = len(want), []string{"40", "60", "75"}
		}
		if !strings.Contains(out, fmt.Sprintf("; sheets of paper: %d. ", sheets)) {
			t.Errorf("%q: tags says %q, want %d sheets", form, out, sheets)
		}
		if first := fmt.Sprintf("%d place tags are in ", len(want)); !strings.HasPrefix(out, first) {
			t.Errorf("tags says %q, want %q", out, first)
		}
		var got []string
		for _, perInch := range finely {
			got = append(got, readOff(t, painter, reader, file, perInch)...)
		}
		slices.Sort(got)
		if got = slices.Compact(got); !slices.Equal(got, want) {
			t.Errorf("%q: zbarimg reads %q, want %q", form, got, want)
		}
		text, err := exec.Command(lettering, file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		for label := range texts {
			if !bytes.Contains(text, []byte(label+"\n")) {
				t.Errorf("%q: the pages do not say %s", form, label)
			}
		}
	}
}

// readOff lists the codes that the other reader finds on the pages of a PDF, painted with so many pixels per inch. It overlooks up to one in
// twenty at one resolution, where pixels and modules fall badly, and others at the next: of 600 tags none was overlooked at two of them.
func readOff(t *testing.T, painter, reader, file, perInch string) []string {
	t.Helper()
	pages := filepath.Join(t.TempDir(), "page")
	if out, err := exec.Command(painter, "-r", perInch, "-png", file, pages).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	all, err := filepath.Glob(pages + "*.png")
	if err != nil || len(all) == 0 {
		t.Fatalf("no pages: %v", err)
	}
	read, err := exec.Command(reader, append([]string{"--raw", "--quiet"}, all...)...).Output()
	if err != nil {
		t.Fatalf("zbarimg: %v", err)
	}
	return strings.Fields(string(read))
}

// TestTagsOf prints those of runs that are named, the same bytes each time, and refuses what is not there.
func TestTagsOf(t *testing.T) {
	dir := t.TempDir()
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	var files [2][]byte
	for i := range files {
		file := filepath.Join(t.TempDir(), "tags.pdf")
		must(t, "", "tags", "H-114", "r1", "--data", dir, "-o", file)
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		files[i] = content
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("the same tags gave other bytes")
	}
	for want, args := range map[string][]string{
		`There is no run "R9": the job has R1`:                     {"R9"},
		`There is no paper "a0"`:                                   {"--paper", "a0"},
		`There is no size "huge" for tags: choose small or large.`: {"--size", "huge"},
	} {
		if code, _, errs := newelbook(t, "", append([]string{"tags", "H-114", "--data", dir, "-o", filepath.Join(t.TempDir(), "t.pdf")}, args...)...); code != exitFound || !strings.Contains(errs, want) {
			t.Errorf("tags %q: exit code %d, %q; want %q", args, code, errs, want)
		}
	}
}

// TestPhotosByTag takes in a card of which some photographs show a tag: they are filed by it, the others wait. Run again it files nothing
// twice, and a server finds what was taken in and not read.
func TestPhotosByTag(t *testing.T) {
	dir, card := t.TempDir(), filepath.Join(t.TempDir(), "card")
	job := newFolder(t, dir)
	d := open(t, dir)
	texts := tagTexts(t, d.record(t, job))
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	if err := writeShots(card, 1, 1); err != nil {
		t.Fatal(err)
	}
	for i, label := range []string{"R1-P2", "R1-B1"} {
		if err := os.WriteFile(filepath.Join(card, fmt.Sprintf("TAG_%d.jpg", i)), scenes.Photo(texts[label], i), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	out := must(t, "", "photos", job, card, "--data", dir)
	for _, want := range []string{"Taken in: 3", "Filed by the tag in the picture: 2", "TAG_0.jpg, photo ", ": R1-P2, ", ": R1-B1, "} {
		if !strings.Contains(out, want) {
			t.Errorf("photos says %q, want %q", out, want)
		}
	}
	again := must(t, "", "photos", job, card, "--data", dir)
	if !strings.Contains(again, "Taken in: 0") {
		t.Errorf("run again, photos says %q", again)
	}
	d = open(t, dir)
	rec := d.record(t, job)
	if len(rec.Photos) != 3 {
		t.Errorf("%d photographs, want 3", len(rec.Photos))
	}
	// As a server that was killed before it read: on record, and neither pictures nor a note of codes.
	other := scenes.Photo(texts["R1-P1"], 9)
	facts, err := d.media.Intake(t.Context(), bytes.NewReader(other))
	if err != nil {
		t.Fatal(err)
	}
	added, err := d.service.AddPhotos(t.Context(), byBuilder(), rec.Job.ID, []jobs.PhotoInput{{Facts: facts, Name: "late.jpg", Unfiled: true}})
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := d.service.ReadAllTags(t.Context(), d.media); err != nil {
			t.Fatal(err)
		}
	}
	if p, _ := d.record(t, job).Photo(added[0].ID); p.Place.Label != "R1-P1" || p.FiledBy != jobs.FiledByTag {
		t.Errorf("found again, it is filed at %s by %q", p.Place.Label, p.FiledBy)
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	sound(t, dir)
}

// demoID is the id of the demonstration's job.
func demoID(t *testing.T, d *data) string {
	t.Helper()
	job, err := d.job(t.Context(), "H-114")
	if err != nil {
		t.Fatal(err)
	}
	return job.ID
}
