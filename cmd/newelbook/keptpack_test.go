package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"newelbook/jobs"
	"newelbook/views/pack"
)

var keepPack = flag.String("keep-pack", "", "write a small pack, compressed, to this file: what a later release must still verify")

// TestFixturePack makes the pack of a small job and, where it is asked to, keeps it: see testdata/packs/README.md. The fonts of its
// pages are left out, so that one of each release can be kept.
func TestFixturePack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	newFolder(t, dir)
	d := open(t, dir)
	job, err := d.service.MakeJob(t.Context(), byBuilder(), jobs.JobInput{
		Ref: "NB-1", Name: "Porch", Site: "2 Example Lane, Sampleton", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100",
		RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago", Begun: "2026-05-01",
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.service.SaveRun(t.Context(), byBuilder(), job, jobs.RunInput{Fields: map[string]string{
		"kind": "level", "label": "R1", "length": "40", "deck_height": "48", "joists": "across", "first_joist": "0",
	}}); err != nil {
		t.Fatal(err)
	}
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 160, 120)), nil); err != nil {
		t.Fatal(err)
	}
	facts, err := d.media.Intake(t.Context(), &picture)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.service.AddPhotos(t.Context(), byBuilder(), job, []jobs.PhotoInput{{Facts: facts, PlaceID: "job", Stage: "framing", Caption: "Joists"}}); err != nil {
		t.Fatal(err)
	}
	issued, err := d.packs.Issue(t.Context(), byBuilder(), job, pack.Order{Originals: true})
	if err != nil {
		t.Fatal(err)
	}
	bag, err := d.packs.Open(job, issued)
	if err != nil {
		t.Fatal(err)
	}
	bag.Files = slices.DeleteFunc(bag.Files, func(f pack.Payload) bool { return strings.HasPrefix(f.Path, "data/html/fonts/") })
	key, err := d.packs.Key(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if bag, err = bag.Sign(key); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if err := bag.WriteZIP(t.Context(), z); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if out.Len() > 260_000 { // two editions with their pictures
		t.Errorf("the pack of a small job takes %d bytes compressed, too many to keep one of each release", out.Len())
	}
	if *keepPack != "" {
		if err := os.WriteFile(*keepPack, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
