package main

import (
	"errors"
	"flag"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"newelbook/jobs"
)

var (
	hangings = flag.Int("hangings", 1, "how many times TestTagsInPhotos hangs a tag at each distance in each photograph")
	keepHung = flag.String("keep-hung", "", "`folder` that keeps the photographs of TestTagsInPhotos")
)

// litScreen is a photograph of a screen in the dark: its light is its own and says nothing of what would fall on a tag.
const litScreen = "upstream66.jpg"

// cameraFiles are the real photographs at hand, by path: those beside this checkout, without which the test is skipped, and those that the
// second reader of Exif is tested with.
func cameraFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "..", "shared", "photos", "*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		if os.Getenv("NEWELBOOK_REQUIRE_SHARED") == "1" {
			t.Fatal("no camera files in ../shared/photos")
		}
		t.Skip("no camera files in ../shared/photos")
	}
	module, err := exec.CommandContext(t.Context(), "go", "list", "-m", "-f", "{{.Dir}}", "github.com/bep/imagemeta").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	more := 0
	err = filepath.WalkDir(filepath.Join(strings.TrimSpace(string(module)), "testdata", "images"), func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() && strings.EqualFold(filepath.Ext(path), ".jpg") {
			files, more = append(files, path), more+1
		}
		return err
	})
	if err != nil || more == 0 {
		t.Fatalf("no camera files in the module cache: %v", err)
	}
	return files
}

// TestPhotosWithoutTags takes in every real photograph there is: none of them shows a tag, and in none is a code read.
func TestPhotosWithoutTags(t *testing.T) {
	dir, card := t.TempDir(), filepath.Join(t.TempDir(), "card")
	if err := os.Mkdir(card, 0o750); err != nil {
		t.Fatal(err)
	}
	for i, path := range cameraFiles(t) {
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(card, fmt.Sprintf("%03d-%s", i, filepath.Base(path))), content, 0o640); err != nil {
			t.Fatal(err)
		}
	}
	job := newFolder(t, dir)
	newelbook(t, "", "photos", job, card, "--data", dir) // which refuses what is no photograph
	d := open(t, dir)
	defer d.Close()
	looked := 0
	for _, p := range d.record(t, job).Photos {
		texts, known := d.media.KnownCodes(p.Media)
		if len(texts) > 0 || len(p.Tags) > 0 || p.Filed() {
			t.Errorf("%s: read %q, tags %+v, filed at %q", p.Name, texts, p.Tags, p.Place.Label)
		}
		if known {
			looked++
		}
	}
	t.Logf("looked for codes in %d photographs of cameras", looked)
	if looked < 40 {
		t.Errorf("looked for codes in %d photographs, want 40 at least", looked)
	}
}

// TestTagsInPhotos prints tags, hangs them into real photographs as a telephone would see them 1 to 3 m away, and takes these in from a card.
// What is read is filed at its place; nothing is ever read as something else.
func TestTagsInPhotos(t *testing.T) {
	var backdrops []*backdrop
	for _, path := range cameraFiles(t) {
		file, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		head, _, err := image.DecodeConfig(file)
		if err := errors.Join(err, file.Close()); err != nil || head.Width*head.Height < 7_900_000 || filepath.Base(path) == litScreen {
			continue
		}
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		b, err := asBackdrop(filepath.Base(path), content)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		t.Logf("%s: %d by %d; its sharpest edges are blurred by %.2f pixels, its noise is %.1f greys", b.name, head.Width, head.Height, b.soft, b.grain)
		backdrops = append(backdrops, b)
	}
	if len(backdrops) < 4 {
		t.Fatalf("%d photographs of 8 megapixels and more, want 4 at least", len(backdrops))
	}
	dir, card := t.TempDir(), filepath.Join(t.TempDir(), "card")
	if *keepHung != "" {
		card = *keepHung
	}
	if err := os.MkdirAll(card, 0o750); err != nil {
		t.Fatal(err)
	}
	job := newFolder(t, dir)
	d := open(t, dir)
	texts := tagTexts(t, d.record(t, job))
	var labels []string
	for label := range texts {
		labels = append(labels, label)
	}
	slices.Sort(labels)
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	classes := []struct {
		size   string
		metres float64
		least  int // in a hundred; of 24 each at least that many were read
	}{
		{"small", 0.7, 95}, {"small", 1, 85}, {"small", 1.5, 40}, {"small", 2, 0}, {"small", 3, 0},
		{"large", 1, 95}, {"large", 2, 95}, {"large", 3, 80}, {"large", 4, 50}, {"large", 5, 0},
	}
	type made struct {
		class int
		label string
	}
	hanging := map[string]made{}
	tags := map[string]map[string]printed{"small": tagsPrinted(t, dir, "small"), "large": tagsPrinted(t, dir, "large")}
	var wait sync.WaitGroup
	work := make(chan func() error)
	failed := make(chan error, 1000)
	for range 2 {
		wait.Go(func() {
			for do := range work {
				if err := do(); err != nil {
					failed <- err
				}
			}
		})
	}
	for k, c := range classes {
		if c.least == 0 && *hangings == 1 {
			continue // too far away to say anything of with four photographs
		}
		for j, b := range backdrops {
			for i := range *hangings {
				rnd := rand.New(rand.NewPCG(uint64(k), uint64(100*j+i)))
				label := labels[(k+j+i)%len(labels)]
				tag := tags[c.size][label]
				room := tag.height * phoneFocal / c.metres / 1000 * 0.6
				h := hung{
					x: room + rnd.Float64()*(phoneWide-2*room), y: room + rnd.Float64()*(phoneHigh-2*room), far: 1000 * c.metres,
					yaw: 60*rnd.Float64() - 30, pitch: 30*rnd.Float64() - 15, roll: 20*rnd.Float64() - 10, shake: 3 * rnd.Float64(),
				}
				name := fmt.Sprintf("%s-%.1fm-%d-%d.jpg", c.size, c.metres, j, i)
				hanging[name] = made{k, label}
				work <- func() error {
					file, err := b.hang(tag, h, rnd)
					if err != nil {
						return err
					}
					return os.WriteFile(filepath.Join(card, name), file, 0o640)
				}
			}
		}
	}
	close(work)
	wait.Wait()
	close(failed)
	for err := range failed {
		t.Fatal(err)
	}
	must(t, "", "photos", job, card, "--data", dir)
	d = open(t, dir)
	defer d.Close()
	read, of := make([]int, len(classes)), make([]int, len(classes))
	for _, p := range d.record(t, job).Photos {
		m, ok := hanging[p.Name]
		if !ok {
			t.Errorf("a photograph %q", p.Name)
			continue
		}
		of[m.class]++
		codes, known := d.media.KnownCodes(p.Media)
		switch {
		case !known:
			t.Errorf("%s: no codes were looked for", p.Name)
		case len(codes) == 0 && !p.Filed():
		case slices.Equal(codes, []string{texts[m.label]}) && p.Place.Label == m.label && p.FiledBy == jobs.FiledByTag:
			read[m.class]++
		default:
			t.Errorf("%s: read %q and filed at %q by %q, want %s", p.Name, codes, p.Place.Label, p.FiledBy, m.label)
		}
	}
	for k, c := range classes {
		if c.least == 0 && *hangings == 1 {
			continue
		}
		t.Logf("%s at %.1f m: read %d of %d", c.size, c.metres, read[k], of[k])
		if of[k] != len(backdrops)**hangings || 100*(read[k]+1) < c.least*of[k] { // one less than that many, since few are hung
			t.Errorf("%s at %.1f m: read %d of %d, want %d in a hundred of %d", c.size, c.metres, read[k], of[k], c.least, len(backdrops)**hangings)
		}
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	sound(t, dir)
}

// tagsPrinted are the tags of the folder's job of a size as they come out of a printer of 300 dots an inch, on Letter, by their labels: cut
// out where the sheet's broken lines are.
func tagsPrinted(t *testing.T, dir, size string) map[string]printed {
	t.Helper()
	file := filepath.Join(t.TempDir(), size+".pdf")
	must(t, "", "tags", "NB-42", "--data", dir, "--size", size, "--paper", "letter", "-o", file)
	pages := filepath.Join(t.TempDir(), "page")
	if out, err := exec.Command(tool(t, "pdftoppm"), "-r", "300", "-gray", "-png", file, pages).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	all, err := filepath.Glob(pages + "*.png")
	if err != nil {
		t.Fatal(err)
	}
	const dots = 300 / 25.4 // a millimetre
	width, height, across, down := 88.0, 86.0, 2, 3
	if size == "large" {
		width, height, across, down = 190, 251, 1, 1
	}
	d := open(t, dir)
	defer d.Close()
	job, err := d.job(t.Context(), "NB-42")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]printed{}
	n := 0
	for _, p := range d.record(t, job.ID).Places() {
		if _, err := jobs.TagText(job.ID, p); err != nil {
			continue // neither post nor bay
		}
		page := pngGrey(t, all[n/(across*down)])
		i := n % (across * down)
		left := (215.9-float64(across)*width)/2 + float64(i%across)*width
		top := (279.4-float64(down)*height)/2 + float64(i/across)*height
		cut := image.Rect(int(left*dots+0.5), int(top*dots+0.5), int((left+width)*dots+0.5), int((top+height)*dots+0.5))
		out[p.Label] = printed{page.SubImage(cut).(*image.Gray), width, height}
		n++
	}
	return out
}

// pngGrey is a PNG in greys.
func pngGrey(t *testing.T, path string) *image.Gray {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewGray(img.Bounds())
	draw.Draw(out, out.Rect, img, out.Rect.Min, draw.Src)
	return out
}
