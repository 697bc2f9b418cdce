package main

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
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

// On a terminal the command says how far it is, on one line that is clear at the end; each step goes on to its last thing.
func TestIssueSaysHowFar(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	for shade := range uint8(3) {
		facts, err := d.media.Intake(t.Context(), bytes.NewReader(photo(t, shade)))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := d.service.AddPhotos(t.Context(), byBuilder(), job, []jobs.PhotoInput{{Facts: facts, PlaceID: "job", Stage: "framing"}}); err != nil {
			t.Fatal(err)
		}
	}
	var line bytes.Buffer
	shown := progressOn(&line)
	last := map[pack.Step]pack.Progress{}
	issuer := *d.packs
	issuer.Told = func(p pack.Progress) {
		if before := last[p.Step]; p.Done < before.Done || p.Done > p.Of {
			t.Errorf("after %+v came %+v", before, p)
		}
		last[p.Step] = p
		shown(p)
	}
	if _, err := issuer.Issue(t.Context(), byBuilder(), job, pack.Order{Originals: true}); err != nil {
		t.Fatal(err)
	}
	for _, step := range pack.Steps() {
		if p := last[step]; p.Done != p.Of || p.Of == 0 {
			t.Errorf("%s ended at %d of %d", step, p.Done, p.Of)
		}
	}
	if p := last[pack.StepPictures]; p.Of != 3 {
		t.Errorf("%d pictures, want 3", p.Of)
	}
	if out := line.String(); !strings.Contains(out, "3 of 3 pictures made and read") || !strings.HasSuffix(out, "\r\x1b[K") {
		t.Errorf("the terminal shows %q", out)
	}
}

// A server that is killed while it issues a pack leaves none or a whole one, and the next one knows which.
func TestIssueCutOff(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	desk := func() *pack.Desk {
		return pack.NewDesk(*d.packs, func(_ string, err error) string { return err.Error() })
	}
	if _, ok, err := desk().Standing(t.Context(), job); ok || err != nil {
		t.Errorf("before any was asked for: %v, %v", ok, err)
	}
	by := byBuilder()
	by.Form, by.Body = "form-1", "body"
	// What a server notes before it begins, and then it is gone.
	note := jobs.Issuing{Form: by.Form, Body: by.Body, By: by.Actor, Began: moment(), State: jobs.IssuingNow}
	if err := d.service.NoteIssuing(t.Context(), job, note); err != nil {
		t.Fatal(err)
	}
	if s, ok, err := desk().Standing(t.Context(), job); !ok || err != nil || !s.CutOff || s.UnderWay {
		t.Errorf("after it was cut off: %+v, %v, %v", s, ok, err)
	}
	// The same form again issues it.
	again := desk()
	if err := again.Issue(t.Context(), by, job, pack.Order{}); err != nil {
		t.Fatal(err)
	}
	again.Close(t.Context())
	if s, _, err := desk().Standing(t.Context(), job); err != nil || s.State != jobs.IssuingDone || s.Pack != 1 || s.CutOff {
		t.Errorf("issued again: %+v, %v", s, err)
	}
	// One that is recorded and not noted as done: the server went in between.
	if err := d.service.NoteIssuing(t.Context(), job, note); err != nil {
		t.Fatal(err)
	}
	if s, _, err := desk().Standing(t.Context(), job); err != nil || s.State != jobs.IssuingDone || s.Pack != 1 || s.CutOff {
		t.Errorf("recorded and not noted: %+v, %v", s, err)
	}
	if err := again.Issue(t.Context(), jobs.By{Actor: by.Actor, Form: "form-2"}, job, pack.Order{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a desk that is closed: %v", err)
	}
	// Another pack took the number meanwhile: nothing is kept, and it is said why.
	taken := *d.packs
	taken.Told = func(p pack.Progress) {
		if p.Step == pack.StepFreeze && p.Done == 0 {
			if _, err := d.packs.Issue(t.Context(), byBuilder(), job, pack.Order{Purpose: "first"}); err != nil {
				t.Error(err)
			}
		}
	}
	var conflict *jobs.ConflictError
	if _, err := taken.Issue(t.Context(), byBuilder(), job, pack.Order{Purpose: "second"}); !errors.As(err, &conflict) {
		t.Errorf("a pack under a number that was taken: %v", err)
	}
	sound(t, dir)
}

// An issue that is killed at any moment leaves no pack or a whole one; run again it issues the next, and what was left of the one that
// was cut off is in nobody's way.
func TestIssueKilled(t *testing.T) {
	kills := 12
	if testing.Short() {
		kills = 3
	}
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	issue := func() *exec.Cmd {
		return subprocess(t, "pack", "NB-42", "--as", "ada", "--data", dir, "--out", filepath.Join(t.TempDir(), "out.zip"))
	}
	began := time.Now()
	if out, err := issue().CombinedOutput(); err != nil {
		t.Fatalf("pack: %v\n%s", err, out)
	}
	whole := time.Since(began)
	random := rand.New(rand.NewPCG(3, 5))
	issued := 1
	for range kills {
		c := issue()
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		timer := time.AfterFunc(time.Duration(random.Int64N(int64(whole*5/4))), func() { _ = c.Process.Kill() }) // it may have ended
		err := c.Wait()
		timer.Stop()
		d, openErr := openData(t.Context(), env{err: os.Stderr, now: moment}, dir, false)
		if openErr != nil {
			t.Fatal(openErr)
		}
		n := len(d.record(t, job).Packs)
		if n != issued && n != issued+1 || err == nil && n != issued+1 {
			t.Errorf("%d packs are on record after %d and one that ended with %v", n, issued, err)
		}
		issued = n
		if err := d.Close(); err != nil {
			t.Fatal(err)
		}
		sound(t, dir)
	}
	t.Logf("%d kills left %d packs; an issue takes %s", kills, issued, whole.Round(time.Millisecond))
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
