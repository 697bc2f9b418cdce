// Command issue times how a pack is written, beside the usual tools doing the same work in the same run on the same processors.
//
//	go run ./testdata/issue [-rounds 3] [-dir FOLDER]
//
// It makes 500 pictures of 1600 x 1200 pixels, about as large as what is derived from photographs of 12 megapixels with a sensor's noise in
// them, and 200 files as large as such photographs, and then, in turn and in changing order, each in a process of its own, times
//
//	pdf500   a PDF of 500 pictures with captions, tags and contents   against  img2pdf of the same files
//	pdf20    the same of 20 pictures                                  against  img2pdf of the same files
//	pack20   newelbook pack, a job with these 20 photographs issued   against  img2pdf of the same files, which does a small part of it
//	zip      a frozen pack to its ZIP, every file's hash checked      against  zip -0 and sha256sum, one after the other
//	seal     that pack hashed (SHA-256, SHA-512), signed and zipped   against  zip -0, sha256sum and sha512sum
//
// and tells the peak memory of each. zip is told for 50 and for 200 files, since its memory must not grow with them. It wants img2pdf, zip,
// sha256sum and sha512sum.
package main

import (
	"bytes"
	"context"
	"crypto/sha256"
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
	"newelbook/views/pack"
)

func main() {
	log.SetFlags(0)
	rounds := flag.Int("rounds", 3, "how often each is timed")
	dir := flag.String("dir", "", "folder for the pictures and what is made of them; a temporary one by default")
	do := flag.String("do", "", "what a process of its own does; for this program itself")
	few := flag.Int("few", 1, "take only one in so many pictures, for a quick look")
	flag.Parse()
	var err error
	if *do != "" {
		err = part(*do, flag.Args())
	} else {
		err = run(*dir, *rounds, *few)
	}
	if err != nil {
		log.Fatal(err)
	}
}

// contest is one thing that both sides do, ours by what a process of its own does, or by the program where do is empty. tools is a shell script that finds the files in $FILES and writes $OUT.
type contest struct {
	name, do, files, tools string
}

func run(dir string, rounds, few int) (err error) {
	if dir == "" {
		if dir, err = os.MkdirTemp("", "newelbook-issue-"); err != nil {
			return err
		}
		defer os.RemoveAll(dir)
	}
	self, program := filepath.Join(dir, "issue"), filepath.Join(dir, "newelbook")
	for to, from := range map[string]string{self: "./testdata/issue", program: "./cmd/newelbook"} {
		build := exec.Command("go", "build", "-tags", "nomsgpack", "-o", to, from)
		build.Env = append(os.Environ(), "CGO_ENABLED=0")
		if out, err := build.CombinedOutput(); err != nil {
			return fmt.Errorf("build: %w: %s", err, out)
		}
	}
	// What this process has in memory when it starts another counts as that one's peak, so it does nothing itself.
	prepare := func(do string, args ...string) error {
		c := exec.Command(self, append([]string{"-do", do}, args...)...)
		c.Stdout, c.Stderr = os.Stdout, os.Stderr
		return c.Run()
	}
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, set := range []struct {
		name        string
		count, size int
	}{{"pictures500", 500 / few, 0}, {"pictures20", 20, 0}, {"files50", 50 / few, 3_400_000}, {"files200", 200 / few, 3_400_000}} {
		if err := prepare("fill", at(set.name), fmt.Sprintf("%d,%d", set.count, set.size)); err != nil {
			return err
		}
	}
	for _, frozen := range []string{"files50", "files200"} {
		if err := prepare("freeze", at(frozen), at(frozen+"-frozen")); err != nil {
			return err
		}
	}
	if err := prepare("job", at("pictures20"), at("data")); err != nil {
		return err
	}
	if out, err := exec.Command(program, "photos", "NB-1", at("pictures20"), "--data", at("data")).CombinedOutput(); err != nil {
		return fmt.Errorf("take the photographs in: %w: %s", err, out)
	}
	const img2pdf = `img2pdf -o "$OUT" "$FILES"/*`
	for _, c := range []contest{
		{"pack20", "", at("pictures20"), img2pdf},
		{"pdf500", "pdf", at("pictures500"), img2pdf},
		{"pdf20", "pdf", at("pictures20"), img2pdf},
		{"zip of 50", "zip", at("files50"), `cd "$FILES" && zip -0 -q -r "$OUT" . && sha256sum * > "$OUT.sums"`},
		{"zip of 200", "zip", at("files200"), `cd "$FILES" && zip -0 -q -r "$OUT" . && sha256sum * > "$OUT.sums"`},
		{"seal of 200", "seal", at("files200"), `cd "$FILES" && zip -0 -q -r "$OUT" . && sha256sum * > "$OUT.sums" && sha512sum * > "$OUT.long"`},
	} {
		if err := c.fight(self, program, dir, rounds); err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
	}
	return nil
}

// fight times both sides of a contest, in changing order, and prints every round's ratio.
func (c contest) fight(self, program, dir string, rounds int) error {
	var ratios []float64
	var peak, theirPeak int64
	for round := range rounds {
		var ours, theirs time.Duration
		product := func() (err error) {
			out := filepath.Join(dir, "ours")
			cmd := exec.Command(self, "-do", c.do, c.files, out)
			if c.do == "" {
				cmd = exec.Command(program, "pack", "NB-1", "--as", "ada", "--data", filepath.Join(dir, "data"), "--out", out)
			}
			ours, peak, err = timed(out, cmd)
			return err
		}
		tools := func() (err error) {
			out := filepath.Join(dir, "theirs.zip") // zip appends its ending to a name without one
			cmd := exec.Command("sh", "-c", c.tools)
			cmd.Env = append(os.Environ(), "FILES="+c.files, "OUT="+out)
			theirs, theirPeak, err = timed(out, cmd)
			return err
		}
		steps := []func() error{product, tools}
		if round%2 == 1 {
			slices.Reverse(steps)
		}
		for _, step := range steps {
			if err := step(); err != nil {
				return err
			}
		}
		ratios = append(ratios, ours.Seconds()/theirs.Seconds())
		fmt.Printf("%s, round %d: %.2f s against %.2f s, x%.2f; peak %d MB against %d MB\n", c.name, round+1, ours.Seconds(), theirs.Seconds(), ratios[round], peak>>10, theirPeak>>10)
	}
	fmt.Printf("%s: x%.2f to x%.2f\n", c.name, slices.Min(ratios), slices.Max(ratios))
	return nil
}

// timed runs a command that writes a file which is not there yet, and tells its time and its peak memory in KiB.
func timed(out string, c *exec.Cmd) (time.Duration, int64, error) {
	if err := os.Remove(out); err != nil && !errors.Is(err, os.ErrNotExist) {
		return 0, 0, err
	}
	c.Stderr = os.Stderr
	syscall.Sync()
	began := time.Now()
	if err := c.Run(); err != nil {
		return 0, 0, err
	}
	took := time.Since(began)
	if info, err := os.Stat(out); err != nil || info.Size() == 0 {
		return 0, 0, fmt.Errorf("nothing was written: %w", err)
	}
	var peak int64
	if usage, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		peak = usage.Maxrss
	}
	return took, peak, nil
}

// fill makes a folder of pictures; each differs from the others. A size makes files of that many bytes, which begin with a picture.
func fill(folder string, count, size int) error {
	if _, err := os.Stat(folder); err == nil {
		return nil // of an earlier run in the same folder
	}
	if err := os.MkdirAll(folder, 0o750); err != nil {
		return err
	}
	var drawn [][]byte
	for seed := range uint64(4) {
		body, err := picture(seed + 1)
		if err != nil {
			return err
		}
		drawn = append(drawn, body)
	}
	random := rand.NewChaCha8([32]byte{1})
	total := 0
	for n := range count {
		note := fmt.Appendf(nil, "picture %06d", n)
		body := drawn[n%len(drawn)]
		body = slices.Concat(body[:2], []byte{0xff, 0xfe, 0, byte(len(note) + 2)}, note, body[2:]) // a comment after the first marker
		if size > len(body) {
			rest := bytes.Repeat([]byte{0}, size-len(body))
			if _, err := random.Read(rest); err != nil {
				return err
			}
			body = append(body, rest...)
		}
		total += len(body)
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%06d.jpg", n)), body, 0o640); err != nil {
			return err
		}
	}
	fmt.Printf("%s: %d files, %d MB\n", filepath.Base(folder), count, total/1e6)
	return nil
}

const width, height = 1600, 1200

// picture is a JPEG with broad shapes and the noise that is left of a sensor's in a smaller picture.
func picture(seed uint64) ([]byte, error) {
	img := image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420)
	random := rand.New(rand.NewPCG(seed, 1))
	for y := range height {
		for x := range width {
			base := 90 + 60*((x/97+y/61)%2) + 40*x/width
			img.Y[y*img.YStride+x] = uint8(base + int(random.NormFloat64()*4.5))
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 120, 134
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 85})
	return b.Bytes(), err
}

// part is what a process of its own does with the files of a folder.
func part(do string, args []string) error {
	if len(args) != 2 {
		return fmt.Errorf("%s: name a folder and what to write", do)
	}
	from, to := args[0], args[1]
	ctx := context.Background()
	switch do {
	case "fill":
		var count, size int
		if _, err := fmt.Sscanf(to, "%d,%d", &count, &size); err != nil {
			return err
		}
		return fill(from, count, size)
	case "job":
		return job(to)
	case "freeze":
		b, err := sealed(ctx, from)
		if err != nil {
			return err
		}
		if _, err := os.Stat(to); err == nil {
			return nil
		}
		return pack.Freeze(ctx, to, b)
	case "pdf":
		d, err := document(from)
		if err != nil {
			return err
		}
		return into(to, func(w io.Writer) error { return pack.WritePDF(w, d, pack.Options{Fonts: pack.Fonts()}) })
	case "zip":
		b, err := pack.OpenFrozen(from+"-frozen", nil)
		if err != nil {
			return err
		}
		return into(to, func(w io.Writer) error { return b.WriteZIP(ctx, w) })
	case "seal":
		b, err := sealed(ctx, from)
		if err != nil {
			return err
		}
		return into(to, func(w io.Writer) error { return b.WriteZIP(ctx, w) })
	}
	return fmt.Errorf("nothing is called %q", do)
}

// job makes a new data folder with a builder and one job with one run.
func job(dir string) (err error) {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return err
	}
	ctx := context.Background()
	st, err := store.Open(ctx, filepath.Join(dir, "newelbook.db"), store.Options{Now: time.Now, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()
	s := jobs.NewService(st, time.Now)
	token, err := s.SetupToken(ctx)
	if err != nil {
		return err
	}
	ada, err := s.Setup(ctx, token, jobs.AccountInput{Name: "Ada Sample", Login: "ada", Hash: "nobody signs in"})
	if err != nil {
		return err
	}
	by := jobs.By{Actor: ada.Actor()}
	id, err := s.MakeJob(ctx, by, jobs.JobInput{
		Ref: "NB-1", Name: "Deck", Site: "14 Example Lane", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100", RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago",
	})
	if err != nil {
		return err
	}
	_, err = s.SaveRun(ctx, by, id, jobs.RunInput{Fields: map[string]string{"kind": "level", "label": "R1", "length": "140", "deck_height": "48", "joists": "across", "first_joist": "0"}})
	return err
}

func into(to string, write func(io.Writer) error) error {
	f, err := os.Create(to)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
}

// document shows every picture of a folder with a caption.
func document(folder string) (pack.Document, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	if err != nil {
		return pack.Document{}, err
	}
	s := pack.Section{ID: "photographs", Heading: "Photographs", Level: 1}
	for n, file := range files {
		info, err := os.Stat(file)
		if err != nil {
			return pack.Document{}, err
		}
		s.Blocks = append(s.Blocks, pack.Photo{
			Number: fmt.Sprintf("Photo %d", n+1), ID: fmt.Sprintf("photo-%d", n+1), Picture: filepath.Base(file), Size: info.Size(), W: width, H: height,
			Open:    func() (io.ReadCloser, error) { return os.Open(file) },
			Caption: "The inside face of the post: blocking, both bolts, the hold-down.", Place: fmt.Sprintf("R1-P%d", n%9+1),
			Claimed: "2026-05-04 09:12:31 -05:00", Received: "4 May 2026 17:40 -05:00 from Jo Sample", ShortHash: "60d418abcdef", Alt: "The inside face of the post.",
		})
	}
	return pack.Document{Title: "Deck guard", JobRef: "NB-1", Number: "Pack 1", Lang: "en", Created: time.Unix(1795600000, 0), Sections: []pack.Section{s}}, nil
}

// sealed is the files of a folder as a pack, hashed and signed.
func sealed(ctx context.Context, folder string) (pack.Bag, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	if err != nil {
		return pack.Bag{}, err
	}
	b := pack.Bag{Name: "pack-1"}
	for _, file := range files {
		sum, size, err := hashed(file)
		if err != nil {
			return pack.Bag{}, err
		}
		b.Files = append(b.Files, pack.Payload{
			Path: "data/originals/" + strings.ToLower(filepath.Base(file)), Size: size, SHA256: sum, Open: func() (io.ReadCloser, error) { return os.Open(file) },
		})
	}
	if b, err = b.Measured(ctx); err != nil {
		return pack.Bag{}, err
	}
	return b.Sign(pack.KeyOf([32]byte{1}))
}

// hashed is what intake knows of an original.
func hashed(file string) (sum pack.Hash, size int64, err error) {
	f, err := os.Open(file)
	if err != nil {
		return sum, 0, err
	}
	defer f.Close()
	h := sha256.New()
	if size, err = io.Copy(h, f); err != nil {
		return sum, 0, err
	}
	return pack.Hash(h.Sum(nil)), size, nil
}
