package pack_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"newelbook/views/pack"
)

// pdf writes the document and returns its bytes.
func pdf(t testing.TB, d pack.Document, p pack.Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pack.WritePDF(&b, d, pack.Options{Paper: p, Fonts: pack.Fonts()}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// saved puts bytes into a file of the test's own.
func saved(t testing.TB, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTextDump(t *testing.T) { golden(t, "text/sample.golden", pack.Text(sample(t))) }

func TestWritePDFSameBytes(t *testing.T) {
	for _, p := range []pack.Paper{pack.A4, pack.Letter} {
		a, b := pdf(t, sample(t), p), pdf(t, sample(t), p)
		if !bytes.Equal(a, b) {
			t.Errorf("paper %d: two builds of the same document differ", p)
		}
	}
}

func TestWritePDFPassesPicturesThrough(t *testing.T) {
	d := sample(t)
	out := pdf(t, d, pack.A4)
	for _, picture := range [][]byte{jpegOf(t, 1, 640, 480), jpegOf(t, 2, 480, 640)} {
		if !bytes.Contains(out, picture) {
			t.Error("the bytes of a picture are not in the PDF as they are")
		}
	}
}

func TestWritePDFIsSound(t *testing.T) {
	for _, p := range []pack.Paper{pack.A4, pack.Letter} {
		path := saved(t, "pack.pdf", pdf(t, sample(t), p))
		if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("qpdf --check says:\n%s", out)
		}
	}
}

func TestWritePDFFontsAreEmbeddedSubsets(t *testing.T) {
	out := tool(t, "pdffonts", saved(t, "pack.pdf", pdf(t, sample(t), pack.A4)))
	lines := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(lines) == 0 {
		t.Fatalf("no fonts:\n%s", out)
	}
	row := regexp.MustCompile(`^[A-Z]{6}\+\S+\s+CID TrueType\s+Identity-H\s+yes yes yes`)
	for _, l := range lines {
		if !row.MatchString(l) {
			t.Errorf("not embedded, subset and mapped to Unicode: %s", l)
		}
	}
}

func TestWritePDFPictureFiles(t *testing.T) {
	dir := t.TempDir()
	tool(t, "pdfimages", "-j", saved(t, "pack.pdf", pdf(t, sample(t), pack.A4)), filepath.Join(dir, "p"))
	files, err := filepath.Glob(filepath.Join(dir, "*.jpg"))
	if err != nil || len(files) != 4 {
		t.Fatalf("pdfimages found %d pictures (%v), want 4", len(files), err)
	}
	want := [][]byte{jpegOf(t, 1, 640, 480), jpegOf(t, 2, 480, 640)}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(b, want[0]) && !bytes.Equal(b, want[1]) {
			t.Errorf("%s is none of the pictures given", filepath.Base(f))
		}
	}
}

// Whatever is in the document is in the text of the PDF: no layout loses words, and fractions read as they are written.
func TestWritePDFTextIsComplete(t *testing.T) {
	for _, p := range []pack.Paper{pack.A4, pack.Letter} {
		d := sample(t)
		text := tool(t, "pdftotext", "-raw", saved(t, "pack.pdf", pdf(t, d, p)), "-")
		for _, want := range []string{"3 15/16 in", "42 1/2 in", "4 1/16 in", "3′-6 1/2″", "71 15/16", "36 1/2", "Σάμπλ", "Пример", "1½ turns",
			"Two fail a limit, one", d.Title, d.JobRef} {
			if !strings.Contains(text, want) {
				t.Errorf("paper %d: the text of the PDF lacks %q", p, want)
			}
		}
		has := map[string]bool{}
		for _, w := range strings.Fields(text) {
			has[w] = true
		}
		for _, w := range strings.Fields(visible(d)) {
			if !has[w] {
				t.Errorf("paper %d: the text of the PDF lacks the word %q", p, w)
			}
		}
	}
}

// visible is every word that a document shows.
func visible(d pack.Document) string {
	var b strings.Builder
	say := func(s ...string) { b.WriteString(strings.Join(s, " ") + " ") }
	prime := strings.NewReplacer("'-", "′-", "2\" ", "2″ ", "12'", "12′")
	runs := func(rs []pack.Run) {
		for _, r := range rs {
			b.WriteString(prime.Replace(r.Text))
		}
		b.WriteString(" ")
	}
	say(d.Title, d.Subtitle, d.Edition, d.JobRef, d.Site, d.Number, d.Issued, d.RuleSet)
	say(d.Cautions...)
	for _, f := range d.Facts {
		say(f.Key, f.Value.Text)
	}
	for _, s := range d.Sections {
		say(s.Heading)
		for _, block := range s.Blocks {
			switch x := block.(type) {
			case pack.Para:
				runs(x.Runs)
			case pack.Note:
				say(x.Label + ".")
				runs(x.Runs)
			case pack.KeyValues:
				for _, f := range x.Facts {
					say(f.Key, f.Value.Text)
				}
			case pack.Integrity:
				for _, f := range x.Facts {
					say(f.Key, f.Value.Text)
				}
			case pack.Numbers:
				for _, n := range x.Items {
					say(prime.Replace(n.Value), n.Label, n.Source)
				}
			case pack.Table:
				say(x.Caption)
				for _, c := range x.Columns {
					say(c.Head)
				}
				for _, row := range x.Rows {
					for _, c := range row {
						say(c.Text)
					}
				}
			case pack.Drawing:
				say(x.Number, x.Caption)
			case pack.Photo:
				say(x.Number, x.Caption, x.Place, x.Claimed, x.Received, x.ShortHash)
				say(x.Flags...)
			case pack.SignOff:
				for _, l := range x.Lines {
					say(l.Says, l.Name, l.Office, l.Date)
				}
			}
		}
	}
	return b.String()
}

func TestWritePDFPages(t *testing.T) {
	d := sample(t)
	path := saved(t, "pack.pdf", pdf(t, d, pack.A4))
	pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-layout", path, "-"), "\f"), "\f")
	rows := regexp.MustCompile(`Clear gap, baluster`)
	for i, p := range pages {
		for _, want := range []string{d.JobRef, d.Issued, d.RuleSet, fmt.Sprintf("page %d of %d", i+1, len(pages))} {
			if !strings.Contains(p, want) {
				t.Errorf("page %d lacks %q", i+1, want)
			}
		}
		if rows.MatchString(p) && !regexp.MustCompile(`Item\s+Where\s+Layout\s+Measured`).MatchString(p) {
			t.Errorf("page %d has rows of the table without its head", i+1)
		}
	}
}

func TestWritePDFStructure(t *testing.T) {
	path := saved(t, "pack.pdf", pdf(t, sample(t), pack.A4))
	tree := tool(t, "pdfinfo", "-struct", path)
	for tag, want := range map[string]int{"H1": 1, "Table": 5, "Figure": 7, "Note": 4, "TOC": 1} {
		if got := len(regexp.MustCompile(`(?m)^\s*`+tag+`\b`).FindAllString(tree, -1)); got != want {
			t.Errorf("%d elements %s in the structure, want %d", got, tag, want)
		}
	}
	info := tool(t, "pdfinfo", path)
	for _, want := range []string{"Tagged:          yes", "Title:           Rear deck guard, Sample Lane 12", "25 16:30:00 2026"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
}

func TestWritePDFRefuses(t *testing.T) {
	file := jpegOf(t, 1, 64, 48)
	cases := []struct {
		name   string
		change func(*pack.Document)
		says   string
	}{
		{"a picture of another size", func(d *pack.Document) { set(d, photo(1, file, 65, 48)) }, "the picture is 64 x 48 pixels, not 65 x 48"},
		{"a picture with bytes missing", func(d *pack.Document) { p := photo(1, file, 64, 48); p.Size++; set(d, p) }, "bytes, not"},
		{"no picture", func(d *pack.Document) { p := photo(1, file, 64, 48); p.Open = nil; set(d, p) }, "no picture given"},
		{"no JPEG", func(d *pack.Document) { set(d, photo(1, []byte("GIF89a"), 64, 48)) }, "read picture"},
		{"a link to nothing", func(d *pack.Document) { set(d, pack.Para{Runs: []pack.Run{{Text: "x", To: "nowhere"}}}) }, `the link to "nowhere" leads nowhere`},
		{"an anchor twice", func(d *pack.Document) { d.Sections = append(d.Sections, d.Sections[0]) }, "is used twice"},
		{"a code with modules missing", func(d *pack.Document) { d.QR = &pack.QR{Side: 21, Black: make([]bool, 3)} }, "the code has 3 modules"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := pack.Document{Title: "x", Sections: []pack.Section{{ID: "a", Heading: "A", Level: 1}}}
			c.change(&d)
			err := pack.WritePDF(&bytes.Buffer{}, d, pack.Options{Fonts: pack.Fonts()})
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one that says %q", err, c.says)
			}
		})
	}
	if err := pack.WritePDF(&bytes.Buffer{}, pack.Document{}, pack.Options{}); err == nil {
		t.Error("no fonts: no error")
	}
}

func set(d *pack.Document, b pack.Block) { d.Sections[0].Blocks = []pack.Block{b} }

// A pack with next to nothing in it is still a whole file.
func TestWritePDFSmallest(t *testing.T) {
	path := saved(t, "pack.pdf", pdf(t, pack.Document{Title: "Nothing yet", JobRef: "NB-0001"}, pack.Letter))
	tool(t, "qpdf", "--check", path)
}
