package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/views/pack"
)

// A form that is sent twice at once issues one pack: both sendings are told of the same one, and nothing is left of the other.
func TestIssuedTwiceAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	by := byBuilder()
	by.Form, by.Body = "form-1", jobs.TokenHash("body")
	now := moment()
	var between func()
	service := jobs.NewService(d.store, func() time.Time {
		if f := between; f != nil {
			between = nil
			f()
		}
		now = now.Add(time.Second)
		return now
	})
	issuer := pack.Issuer{Service: service, Media: d.media, Dir: filepath.Join(dir, packsFolder), KeyFile: filepath.Join(dir, keyFile)}
	var first jobs.IssuedPack
	between = func() {
		var err error
		if first, err = issuer.Issue(t.Context(), by, job, pack.Order{}); err != nil {
			t.Errorf("the sending that came first: %v", err)
		}
	}
	second, err := issuer.Issue(t.Context(), by, job, pack.Order{})
	if err != nil || first.Number != 1 || second.Number != 1 || first.Hash == "" || second.Hash != first.Hash {
		t.Errorf("the two sendings issued pack %d with %s and pack %d with %s, %v; want one", first.Number, first.Hash, second.Number, second.Hash, err)
	}
	kept, err := os.ReadDir(filepath.Join(dir, packsFolder, job))
	if err != nil || len(kept) != 1 {
		t.Errorf("%d folders of packs are left, %v, want one: %v", len(kept), err, kept)
	}
	sound(t, dir)
}

// A pack is issued over a lost original, and says so.
func TestIssuedOverALostOriginal(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	var taken []jobs.PhotoInput
	for shade := range uint8(2) {
		facts, err := d.media.Intake(t.Context(), bytes.NewReader(photo(t, shade)))
		if err != nil {
			t.Fatal(err)
		}
		taken = append(taken, jobs.PhotoInput{Facts: facts, PlaceID: "job", Stage: "framing", Caption: "Joists"})
	}
	if _, err := d.service.AddPhotos(t.Context(), byBuilder(), job, taken); err != nil {
		t.Fatal(err)
	}
	id := taken[1].Facts.ID.String()
	for _, lost := range []string{filepath.Join(dir, "originals", id[:2], id), filepath.Join(dir, "derived")} {
		if err := os.RemoveAll(lost); err != nil {
			t.Fatal(err)
		}
	}
	issued, err := d.packs.Issue(t.Context(), byBuilder(), job, pack.Order{Originals: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Photograph 2 could not be shown: its original is missing or damaged on the server.", "Photograph 2 is not enclosed as received: its original is missing on the server."} {
		if !slices.Contains(issued.Open, want) {
			t.Errorf("the pack does not print %q as missing: %q", want, issued.Open)
		}
	}
	if slices.ContainsFunc(issued.Open, func(s string) bool { return strings.HasPrefix(s, "Photograph 1 ") }) {
		t.Errorf("the pack prints a held photograph as missing: %q", issued.Open)
	}
}

// A check clears away what a crash left of a pack, once no issue can still be under way, and leaves the packs.
func TestHalfMadePacksAreCleared(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	if _, err := d.packs.Issue(t.Context(), byBuilder(), job, pack.Order{}); err != nil {
		t.Fatal(err)
	}
	old, young := filepath.Join(dir, packsFolder, job, ".issue-1"), filepath.Join(dir, packsFolder, job, ".issue-2")
	for _, name := range []string{old, young} {
		if err := os.Mkdir(name, 0o750); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chtimes(old, moment(), moment().Add(-25*time.Hour)); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(young, moment(), moment().Add(-time.Hour)); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := newelbook(t, "", "check", "--data", dir); code != exitOK || !strings.HasPrefix(out, "Cleared away 1 half-written files.\nSound: ") {
		t.Errorf("check ended with %d\n%s%s", code, out, errs)
	}
	left, err := os.ReadDir(filepath.Dir(old))
	if err != nil || len(left) != 2 || left[0].Name() != ".issue-2" {
		t.Errorf("the check left %v, %v, want the young folder and the pack", left, err)
	}
}
