package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/media/exifwrite"
	"newelbook/views/pack"
)

// placed is a photograph whose file claims a position.
func placed(t *testing.T, shade uint8, lat, lon float64) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = uint8(i/400) + shade
	}
	img.SetGray(0, 0, color.Gray{Y: shade})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	shot, err := exifwrite.Encode(b.Bytes(), exifwrite.Tags{Make: "Larkfield", Model: "Pocket 2", DateTimeOriginal: "2026:05:04 09:30:00", OffsetTimeOriginal: "-05:00", Lat: &lat, Lon: &lon})
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// entries unpacks a pack's archive, by path below its folder.
func entries(t *testing.T, archive []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(f.Name, "/")
		out[name] = body
	}
	return out
}

// A pack shows a photograph with the marks drawn over it and whose they are, keeps the picture without them and the original as it came, and
// lets positions out only where the builder chose it: no picture in it carries any.
func TestPackOfMarkedPhotographs(t *testing.T) {
	exiftool := tool(t, "exiftool")
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	var in []jobs.PhotoInput
	for i, lat := range []float64{51.234567, 51.234568} {
		facts, err := d.media.Intake(t.Context(), bytes.NewReader(placed(t, uint8(20*i), lat, -7.654321)))
		if err != nil {
			t.Fatal(err)
		}
		in = append(in, jobs.PhotoInput{Facts: facts, PlaceID: "job", Stage: "framing", Caption: "Joists"})
	}
	added, err := d.service.AddPhotos(t.Context(), byBuilder(), job, in)
	if err != nil {
		t.Fatal(err)
	}
	label, err := d.media.IntakePaper(t.Context(), bytes.NewReader(placed(t, 90, 51.234569, -7.654321)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.service.AddPaper(t.Context(), byBuilder(), job, jobs.PaperInput{Facts: label, Name: "label.jpg", Kind: string(jobs.PaperLabel), Title: "Label of the hangers", Issuer: "Sample Works (invented)", PlaceID: "job"}); err != nil {
		t.Fatal(err)
	}
	sheet, err := d.record(t, job).Sheet()
	if err != nil {
		t.Fatal(err)
	}
	bolt := ""
	for i := range sheet.Checks {
		if c := sheet.Checks[i].Check; bolt == "" && c.Key == "framing.bolt_upper" {
			bolt = c.ID
		}
	}
	readings, err := d.service.TakeReadings(t.Context(), byBuilder(), job, []jobs.ReadingInput{{Field: "at", CheckID: bolt, Text: "2 1/8"}})
	if err != nil {
		t.Fatal(err)
	}
	mark := jobs.MarkText{Kind: string(media.MarkMeasure), FromX: "20", FromY: "50", ToX: "80", ToY: "50", Text: `2 1/8"`, Field: "mark-0"}
	if err := d.service.MarkPhoto(t.Context(), byBuilder(), job, jobs.MarkInput{ID: added[0].ID, Version: 1, Reading: readings[0], Marks: []jobs.MarkText{mark}}); err != nil {
		t.Fatal(err)
	}

	original := in[0].Facts.ID
	plain, marked := "data/pictures/"+original.String()+".jpg", fmt.Sprintf("data/pictures/%s-photo-1-marked.jpg", original)
	for _, c := range []struct {
		name      string
		order     pack.Order
		originals int
		claims    string // what the pack says of positions
		inRecord  bool
	}{
		{"views", pack.Order{}, 0, "the files of 2 of 2 photographs claim one, which stands in record.json.", true},
		{"originals", pack.Order{Originals: true}, 2, "which stands in record.json and in the enclosed originals.", true},
		{"no positions", pack.Order{NoPositions: true}, 0, "was left out of this pack, and with it the entries of the chain that say so", false},
	} {
		issued, err := d.packs.Issue(t.Context(), byBuilder(), job, c.order)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if issued.NoPositions != c.order.NoPositions {
			t.Errorf("%s: the record of the pack says of positions left out: %v", c.name, issued.NoPositions)
		}
		var archives [2]bytes.Buffer
		for i := range archives {
			bag, err := d.packs.Open(job, issued)
			if err == nil {
				err = bag.WriteZIP(t.Context(), &archives[i])
			}
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
		}
		if !bytes.Equal(archives[0].Bytes(), archives[1].Bytes()) {
			t.Errorf("%s: written twice the pack differs", c.name)
		}
		files := entries(t, archives[0].Bytes())
		page := string(files["data/html/inspector.html"])
		for _, want := range []string{
			"../pictures/" + path.Base(marked), `href="../pictures/` + path.Base(plain) + `">Without marks</a>`, "Marks were drawn over this copy by Ada Sample, ", "The original has none.",
			"Reading typed from it", "from Photo 1", c.claims,
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the inspector's page lacks %q", c.name, want)
			}
		}
		if strings.Count(page, `alt="Photograph 1 `) != 1 || strings.Contains(page, `<img src="../pictures/`+path.Base(plain)) {
			t.Errorf("%s: photograph 1 is not shown once, with its marks", c.name)
		}
		view, err := d.media.OpenView(t.Context(), original, media.View)
		if err != nil {
			t.Fatal(err)
		}
		shown, err := io.ReadAll(view)
		if err := view.Close(); err != nil {
			t.Fatal(err)
		}
		if err != nil || !bytes.Equal(files[plain], shown) {
			t.Errorf("%s: the picture without marks is not the one that was made from the original, %v", c.name, err)
		}
		if img, err := jpeg.Decode(bytes.NewReader(files[marked])); err != nil || img.Bounds().Dx() != 400 || bytes.Equal(files[marked], files[plain]) {
			t.Errorf("%s: the marked picture: %v", c.name, err)
		}

		paper := files["data/papers/paper-1.jpg"]
		if c.inRecord != (paper != nil) || paper != nil && sha256.Sum256(paper) != label.ID {
			t.Errorf("%s: a paper that is a picture with a position: enclosed %v, want %v, as it came", c.name, paper != nil, c.inRecord)
		}

		folder, pictures, enclosed := t.TempDir(), 0, 0
		for name, body := range files {
			switch {
			case strings.HasPrefix(name, "data/pictures/"):
				pictures++
			case strings.HasPrefix(name, "data/originals/"):
				enclosed++
				if sha256.Sum256(body) != original && sha256.Sum256(body) != in[1].Facts.ID {
					t.Errorf("%s: %s is not as it came", c.name, name)
				}
				continue
			case path.Ext(name) != ".pdf":
				continue
			}
			if err := os.WriteFile(filepath.Join(folder, path.Base(name)), body, 0o640); err != nil {
				t.Fatal(err)
			}
		}
		if pictures != 3 || enclosed != c.originals {
			t.Errorf("%s: %d pictures and %d originals, want 3 and %d", c.name, pictures, enclosed, c.originals)
		}
		for _, said := range claimsOf(t, exiftool, folder) {
			t.Errorf("%s: a picture or document says %s", c.name, said)
		}
		record := string(files["data/record.json"])
		if got := strings.Contains(record, "51.2345") || strings.Contains(record, "7.6543"); got != c.inRecord {
			t.Errorf("%s: position in the record %v, want %v", c.name, got, c.inRecord)
		}
		if !c.inRecord && bytes.Contains(archives[0].Bytes(), []byte("51.2345")) {
			t.Errorf("%s: a position stands somewhere in the pack", c.name)
		}
		zipped := filepath.Join(folder, "pack.zip")
		if err := os.WriteFile(zipped, archives[0].Bytes(), 0o640); err != nil {
			t.Fatal(err)
		}
		if code, out, errs := newelbook(t, "", "verify", zipped); code != exitOK {
			t.Errorf("%s: verify ended with %d\n%s%s", c.name, code, out, errs)
		}
	}
	if _, err := d.packs.Issue(t.Context(), byBuilder(), job, pack.Order{Originals: true, NoPositions: true}); err == nil {
		t.Error("a pack with originals and no positions was issued")
	}
	sound(t, dir)
}

// claimsOf is what the files of a folder say of where, when and with what they were taken, by exiftool.
func claimsOf(t *testing.T, exiftool, folder string) []string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), exiftool, "-json", "-ee", "-a", "-G1", "-EXIF:all", "-GPS:all", "-XMP-exif:all", "-IPTC:all", "-MakerNotes:all", folder).Output()
	var files []map[string]any
	if jsonErr := json.Unmarshal(out, &files); jsonErr != nil {
		t.Fatalf("exiftool: %v, %v", err, jsonErr)
	}
	if len(files) < 4 {
		t.Fatalf("exiftool looked at %d files", len(files))
	}
	var said []string
	for _, f := range files {
		for tag, value := range f {
			if tag != "SourceFile" {
				said = append(said, fmt.Sprintf("%v: %s = %v", path.Base(fmt.Sprint(f["SourceFile"])), tag, value))
			}
		}
	}
	return said
}
