// Command intake times how photographs are taken in, beside the usual tools doing the same work in the same run on the same processors.
//
//	go run ./testdata/intake [-rounds 3] [-dir FOLDER]
//
// It makes 100 photographs of 12 and 10 of 48 megapixels with noise like a sensor's and Exif like a telephone's, and then, in turn and in changing
// order, times
//
//	whole   newelbook photos, into a new folder, to its end    against  cp, sha256sum, exiftool, vipsthumbnail for both sizes, sync
//	safe    newelbook photos, until all originals are safe     against  cp, sha256sum, sync
//
// each tool called once for all files. Then it takes in two photographs of 48 megapixels at once, baseline and progressive, and tells the peak memory.
// It wants exiftool, sha256sum, vipsthumbnail and vips.
package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"log"
	"log/slog"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media/exifwrite"
)

func main() {
	log.SetFlags(0)
	rounds := flag.Int("rounds", 3, "how often each is timed")
	dir := flag.String("dir", "", "folder for the photographs and the data; a temporary one by default")
	few := flag.Int("few", 1, "take only one in so many photographs, for a quick look")
	flag.Parse()
	if err := run(*dir, *rounds, *few); err != nil {
		log.Fatal(err)
	}
}

func run(dir string, rounds, few int) (err error) {
	if dir == "" {
		if dir, err = os.MkdirTemp("", "newelbook-intake-"); err != nil {
			return err
		}
		defer os.RemoveAll(dir)
	}
	program := filepath.Join(dir, "newelbook")
	build := exec.Command("go", "build", "-tags", "nomsgpack", "-o", program, "./cmd/newelbook")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("build: %w: %s", err, out)
	}
	card := filepath.Join(dir, "card")
	if err := shoot(card, 100/few, 10/few); err != nil {
		return err
	}
	var wholes, safes []float64
	for round := range rounds {
		var ours, theirs times
		steps := []func() error{
			func() (err error) { ours, err = product(program, dir, card); return err },
			func() (err error) { theirs, err = reference(dir, card); return err },
		}
		if round%2 == 1 {
			slices.Reverse(steps)
		}
		for _, step := range steps {
			if err := step(); err != nil {
				return err
			}
		}
		wholes, safes = append(wholes, ratio(ours.whole, theirs.whole)), append(safes, ratio(ours.safe, theirs.safe))
		fmt.Printf("round %d: whole %.1f s against %.1f s, x%.2f; safe %.2f s against %.2f s, x%.2f; peak %d MB\n", round+1,
			ours.whole.Seconds(), theirs.whole.Seconds(), ratio(ours.whole, theirs.whole), ours.safe.Seconds(), theirs.safe.Seconds(), ratio(ours.safe, theirs.safe), ours.peak>>10)
	}
	fmt.Printf("whole x%.2f to x%.2f; safe x%.2f to x%.2f\n", slices.Min(wholes), slices.Max(wholes), slices.Min(safes), slices.Max(safes))
	return memory(program, dir)
}

func ratio(a, b time.Duration) float64 { return a.Seconds() / b.Seconds() }

// times is what one round took, and the peak memory in KiB.
type times struct {
	whole, safe time.Duration
	peak        int64
}

// photograph is a picture with broad shapes and the noise of a sensor, as JPEG of quality 92, 4:2:0.
func photograph(width, height int, seed uint64) ([]byte, error) {
	img := image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420)
	random := rand.New(rand.NewPCG(seed, 1))
	noise := make([]int8, 1<<16)
	for i := range noise {
		noise[i] = int8(max(-12, min(12, random.NormFloat64()*3)))
	}
	for y := range height {
		at := random.IntN(1 << 15)
		for x := range width {
			base := 90 + 60*((x/97+y/61)%2) + 40*x/width
			img.Y[y*img.YStride+x] = uint8(base + int(noise[(at+x)&0xffff]))
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = uint8(120+int(noise[i*3&0xffff])/2), uint8(134+int(noise[i*5&0xffff])/2)
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 92})
	return b.Bytes(), err
}

// shoot writes photographs of 12 and of 48 megapixels. A few pictures are drawn; each file has Exif, and so a hash, of its own.
func shoot(card string, of12, of48 int) error {
	if err := os.MkdirAll(card, 0o750); err != nil {
		return err
	}
	n, total := 0, 0
	for _, kind := range []struct{ count, drawn, width, height int }{{of12, 4, 4032, 3024}, {of48, 2, 8064, 6048}} {
		var plain [][]byte
		for i := range min(kind.drawn, kind.count) {
			body, err := photograph(kind.width, kind.height, uint64(i+1))
			if err != nil {
				return err
			}
			plain = append(plain, body)
		}
		for i := range kind.count {
			n++
			lat, lon := 43.25+float64(n)/1e4, -79.5
			body, err := exifwrite.Encode(plain[i%len(plain)], exifwrite.Tags{
				Make: "Larkfield", Model: "Pocket 3", Orientation: []int{1, 6}[n%2], DateTimeOriginal: fmt.Sprintf("2026:05:04 09:%02d:%02d", n/60, n%60), OffsetTimeOriginal: "-04:00", Lat: &lat, Lon: &lon,
			})
			if err != nil {
				return err
			}
			total += len(body)
			if err := os.WriteFile(filepath.Join(card, fmt.Sprintf("LK_%04d.jpg", n)), body, 0o640); err != nil {
				return err
			}
		}
	}
	fmt.Printf("%d photographs, %d MB\n", n, total/1e6)
	return nil
}

// folder makes a new data folder with one job in it.
func folder(dir string) (err error) {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return err
	}
	st, err := store.Open(context.Background(), filepath.Join(dir, "newelbook.db"), store.Options{Now: time.Now, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()
	_, err = jobs.NewService(st, time.Now).MakeJob(context.Background(), jobs.By{Actor: jobs.Actor{ID: "b", Name: "Ada Sample", Role: jobs.RoleBuilder}}, jobs.JobInput{
		Ref: "NB-1", Name: "Deck", Site: "14 Example Lane", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100", RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago",
	})
	return err
}

// product takes the photographs in with the program.
func product(program, dir, card string) (t times, err error) {
	data := filepath.Join(dir, "data")
	if err := folder(data); err != nil {
		return t, err
	}
	syscall.Sync()
	c := exec.Command(program, "photos", "NB-1", card, "--data", data)
	says, err := c.StderrPipe()
	if err != nil {
		return t, err
	}
	began := time.Now()
	if err := c.Start(); err != nil {
		return t, err
	}
	last := ""
	for lines := bufio.NewScanner(says); lines.Scan(); {
		if last = lines.Text(); strings.HasPrefix(last, "The originals are safe.") {
			t.safe = time.Since(began)
		}
	}
	if err := c.Wait(); err != nil {
		return t, fmt.Errorf("photos: %w: %s", err, last)
	}
	t.whole = time.Since(began)
	if usage, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		t.peak = usage.Maxrss
	}
	return t, nil
}

// reference does the same work with the usual tools.
func reference(dir, card string) (t times, err error) {
	to := filepath.Join(dir, "tools")
	if err := os.RemoveAll(to); err != nil {
		return t, err
	}
	if err := os.MkdirAll(filepath.Join(to, "derived"), 0o750); err != nil {
		return t, err
	}
	syscall.Sync()
	sh := func(script string) error {
		c := exec.Command("sh", "-c", script)
		c.Dir = to
		c.Env = append(os.Environ(), "CARD="+card)
		c.Stdout, c.Stderr = io.Discard, os.Stderr
		return c.Run()
	}
	began := time.Now()
	if err := sh(`cp -r "$CARD" originals && sha256sum originals/* && sync`); err != nil {
		return t, err
	}
	t.safe = time.Since(began)
	began = time.Now()
	if err := sh(`exiftool -json -n originals && vipsthumbnail originals/* --size '1600x1600>' -o ../derived/%s-1600.jpg[Q=85,strip] && vipsthumbnail originals/* --size '320x320>' -o ../derived/%s-320.jpg[Q=80,strip] && sync`); err != nil {
		return t, err
	}
	t.whole = t.safe + time.Since(began)
	return t, nil
}

// memory takes in two photographs of 48 megapixels at once and tells the peak memory, baseline and progressive.
func memory(program, dir string) error {
	pair := filepath.Join(dir, "pair")
	if err := os.RemoveAll(pair); err != nil {
		return err
	}
	if err := shoot(pair, 0, 2); err != nil {
		return err
	}
	t, err := product(program, dir, pair)
	if err != nil {
		return err
	}
	fmt.Printf("two of 48 megapixels at once, baseline: peak %d MB\n", t.peak>>10)
	files, err := filepath.Glob(filepath.Join(pair, "*.jpg"))
	if err != nil {
		return err
	}
	for _, file := range files {
		again := file + ".progressive.jpg"
		if out, err := exec.Command("vips", "jpegsave", file, again, "--interlace", "--Q", "92").CombinedOutput(); err != nil {
			return fmt.Errorf("vips: %w: %s", err, out)
		}
		if err := os.Rename(again, file); err != nil {
			return err
		}
	}
	if t, err = product(program, dir, pair); err != nil {
		return err
	}
	fmt.Printf("two of 48 megapixels at once, progressive: peak %d MB\n", t.peak>>10)
	return nil
}
