package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/media/exifwrite"
)

// writeShots writes photographs LK_nnnn.jpg into a folder, each of its own bytes, with Exif as a camera that does not exist writes it.
func writeShots(dir string, first, last int) error {
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return err
	}
	for n := first; n <= last; n++ {
		img := image.NewGray(image.Rect(0, 0, 160, 120))
		for i := range img.Pix {
			img.Pix[i] = uint8(i*5 + i/160*17*n)
		}
		img.SetGray(0, 0, color.Gray{Y: uint8(n)})
		var b bytes.Buffer
		if err := jpeg.Encode(&b, img, nil); err != nil {
			return err
		}
		shot, err := exifwrite.Encode(b.Bytes(), exifwrite.Tags{
			Make: "Larkfield", Model: "Pocket 2", DateTimeOriginal: fmt.Sprintf("2026:05:04 09:%02d:%02d", n/60, n%60), OffsetTimeOriginal: "-05:00",
		})
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("LK_%04d.jpg", n)), shot, 0o640); err != nil {
			return err
		}
	}
	return nil
}

// subprocess is the program as a process of its own.
func subprocess(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.CommandContext(t.Context(), self, args...)
	c.Env = append(os.Environ(), asProgram+"=1")
	return c
}

var onRecord = regexp.MustCompile(`^\[\d+ of \d+\] (.*): (?:on the record|there already) as photo (\d+)\.$`)

// An intake killed at any moment loses nothing that it told of, leaves no half of a photograph under a name, and run again goes on:
// in the end each file is in the record once.
func TestIntakeKilled(t *testing.T) {
	kills, files := 200, 12
	if testing.Short() {
		kills = 20
	}
	card := filepath.Join(t.TempDir(), "card")
	if err := writeShots(card, 1, files); err != nil {
		t.Fatal(err)
	}
	fresh := filepath.Join(t.TempDir(), "fresh")
	job := newFolder(t, fresh)
	random := rand.New(rand.NewPCG(7, 11))
	whole := time.Duration(0)
	killed, round := 0, 0
	for killed < kills {
		dir := filepath.Join(t.TempDir(), "d")
		if err := os.CopyFS(dir, os.DirFS(fresh)); err != nil {
			t.Fatal(err)
		}
		told := map[string]int{} // file to its number, as the program said
		for try := 0; ; try++ {
			c := subprocess(t, "photos", "NB-42", card, "--data", dir)
			says, err := c.StderrPipe()
			if err != nil {
				t.Fatal(err)
			}
			began := time.Now()
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			// The first run of all goes to its end and gives the time that the others are killed within.
			if whole > 0 && killed < kills && try < 30 {
				after := time.Duration(random.Int64N(int64(whole)))
				timer := time.AfterFunc(after, func() { _ = c.Process.Kill() }) // it may have ended
				defer timer.Stop()
			}
			lines := bufio.NewScanner(says)
			for lines.Scan() {
				if m := onRecord.FindStringSubmatch(lines.Text()); m != nil {
					number, err := strconv.Atoi(m[2])
					if err != nil {
						t.Fatal(err)
					}
					if before, again := told[m[1]]; again && before != number {
						t.Errorf("%s was photo %d and is photo %d", m[1], before, number)
					}
					told[m[1]] = number
				}
			}
			err = c.Wait()
			var exit *exec.ExitError
			switch {
			case err == nil:
				whole = max(whole, time.Since(began))
			case errors.As(err, &exit) && exit.ExitCode() == -1:
				killed++
			default:
				t.Fatalf("photos: %v", err)
			}
			holdsWhatWasTold(t, dir, job, told)
			if err == nil {
				break
			}
		}
		round++
		endsWhole(t, dir, job, card, files)
	}
	t.Logf("%d kills in %d folders; a run takes %s", killed, round, whole.Round(time.Millisecond))
}

// holdsWhatWasTold demands that what the program said it put on record is there, and that whatever is on record or under the name of an original
// is whole.
func holdsWhatWasTold(t *testing.T, dir, job string, told map[string]int) {
	t.Helper()
	d, err := openData(t.Context(), env{err: os.Stderr, now: moment}, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	rec := d.record(t, job)
	names := map[int]string{}
	for _, p := range rec.Photos {
		names[p.Number] = p.Name
		if err := d.media.Originals().Verify(t.Context(), p.Media); err != nil {
			t.Errorf("photo %d of the record: %v", p.Number, err)
		}
	}
	for name, number := range told {
		if names[number] != name {
			t.Errorf("the program told that %s is photo %d, and the record has %q there", name, number, names[number])
		}
	}
	err = d.media.Originals().Walk(t.Context(), func(id media.ID, _ int64) error { return d.media.Originals().Verify(t.Context(), id) })
	if err != nil {
		t.Error(err)
	}
}

// endsWhole demands that a run which came to its end left each file in the record once, with its pictures, and nothing else once what the kills
// left is cleared away.
func endsWhole(t *testing.T, dir, job, card string, files int) {
	t.Helper()
	d := open(t, dir)
	rec := d.record(t, job)
	had := map[string]int{}
	for _, p := range rec.Photos {
		had[p.Name]++
		for _, size := range []media.Size{media.View, media.Thumb} {
			view, err := d.media.OpenView(t.Context(), p.Media, size)
			if err != nil {
				t.Errorf("photo %d has no picture: %v", p.Number, err)
				continue
			}
			if err := view.Close(); err != nil {
				t.Error(err)
			}
		}
	}
	for i := 1; i <= files; i++ {
		if name := fmt.Sprintf("LK_%04d.jpg", i); had[name] != 1 {
			t.Errorf("%s is in the record %d times, want once", name, had[name])
		}
	}
	if _, err := d.media.Sweep(t.Context(), time.Now().Add(time.Hour)); err != nil {
		t.Error(err)
	}
	err := filepath.WalkDir(filepath.Join(dir, "originals"), func(path string, entry os.DirEntry, err error) error {
		if err == nil && strings.HasPrefix(entry.Name(), "tmp-") {
			t.Errorf("%s is left after a sweep", path)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
	sound(t, dir)
}

// What a fault between two steps leaves is harmless, is told, and is made good by doing the same again.
func TestIntakeFaultsBetweenSteps(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	card := filepath.Join(t.TempDir(), "card")
	if err := writeShots(card, 1, 2); err != nil {
		t.Fatal(err)
	}
	d := open(t, dir)
	hold := func(name string) media.Photo {
		t.Helper()
		body, err := os.ReadFile(filepath.Join(card, name))
		if err != nil {
			t.Fatal(err)
		}
		facts, err := d.media.Intake(t.Context(), bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		return facts
	}
	// Stopped between the original and the row.
	hold("LK_0001.jpg")
	code, out, _ := newelbook(t, "", "check", "--data", dir)
	if code != exitOK || !strings.HasPrefix(out, "Sound: ") || !strings.Contains(out, "Held and in no record: 1 originals.") {
		t.Errorf("check over an original without a row ended with %d\n%s", code, out)
	}
	// Stopped between the row and the pictures.
	facts := hold("LK_0002.jpg")
	if _, err := d.service.AddPhotos(t.Context(), byBuilder(), job, []jobs.PhotoInput{{Facts: facts, Name: "LK_0002.jpg", Unfiled: true}}); err != nil {
		t.Fatal(err)
	}
	if view, err := d.media.OpenView(t.Context(), facts.ID, media.View); err != nil {
		t.Errorf("a photograph whose pictures were never made: %v", err)
	} else if err := view.Close(); err != nil {
		t.Error(err)
	}
	code, out, errs := newelbook(t, "", "photos", "NB-42", card, "--data", dir)
	if want := "Taken in: 1\n  LK_0001.jpg, photo 2\nThere already, not taken twice: 1\n  LK_0002.jpg, photo 1\nNot taken in: 0\n"; code != exitOK || out != want {
		t.Errorf("photos after the faults ended with %d\n%s%s\nwant\n%s", code, out, errs, want)
	}
	sound(t, dir)
}

// What is damaged within is kept as it came, and told. A folder that can't be read does not keep the others out.
func TestPhotosThatCannotBeShown(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	newFolder(t, dir)
	card := filepath.Join(t.TempDir(), "card")
	if err := writeShots(card, 1, 2); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(card, "LK_0002.jpg")
	body, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(body[:len(body)*2/3], 0xff, 0xd9), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, filepath.Join(card, "link.jpg")); err != nil {
		t.Fatal(err)
	}
	code, out, errs := newelbook(t, "", "photos", "NB-42", card, "--data", dir)
	for _, want := range []string{
		"Taken in: 2\n", "Not taken in: 1\n  link.jpg: It is a link or a device, not a file.\n",
		"Taken in or there already, and can't be shown: 1\n  LK_0002.jpg: This picture is damaged or was cut short on its way here.",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("the list does not hold %q:\n%s", want, out)
		}
	}
	if code != exitFound || !strings.Contains(errs, "newelbook: 1 of 3 files were not taken in\n") {
		t.Errorf("photos ended with %d\n%s", code, errs)
	}
	sound(t, dir)
}

// stopAt calls stop once the text was written to it.
type stopAt struct {
	bytes.Buffer
	text string
	stop func()
}

func (s *stopAt) Write(p []byte) (int, error) {
	n, err := s.Buffer.Write(p)
	if strings.Contains(s.String(), s.text) {
		s.stop()
	}
	return n, err
}

// An intake that had to stop after some files says so and does not end as if it had taken all of them; what it told of is in the record.
func TestIntakeStopped(t *testing.T) {
	dir, card := filepath.Join(t.TempDir(), "d"), filepath.Join(t.TempDir(), "card")
	if err := writeShots(card, 1, 5); err != nil {
		t.Fatal(err)
	}
	job := newFolder(t, dir)
	d := open(t, dir)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	told := &stopAt{text: "[2 of 5]", stop: cancel}
	var out bytes.Buffer
	in := intake{data: d, e: env{out: &out, err: told, now: moment}, folder: card}
	err := in.run(ctx, "NB-42")
	if want := "stopped with 3 of 5 files to go"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("error %v, want %q", err, want)
	}
	if want := "Taken in: 2\n"; !strings.Contains(out.String(), want) {
		t.Errorf("the list %q does not say %q", out.String(), want)
	}
	if n := len(d.record(t, job).Photos); n != 2 {
		t.Errorf("%d photographs in the record, want 2", n)
	}
}
