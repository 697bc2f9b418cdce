package media_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/media"
)

// plainPDF is a one-page PDF of version 1.4 with a table of cross-references, about as small as one can be. extra stands in its
// trailer.
func plainPDF(extra string) []byte {
	var b bytes.Buffer
	var at []int
	b.WriteString("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
	for i, body := range []string{"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>", "<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]>>"} {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj%sendobj\n", i+1, body)
	}
	xref := b.Len()
	b.WriteString("xref\n0 4\n0000000000 65535 f \n")
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer<</Size 4/Root 1 0 R%s>>\nstartxref\n%d\n%%%%EOF\n", extra, xref)
	return b.Bytes()
}

func TestIntakePaper(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	for _, c := range []struct {
		name string
		body []byte
		kind media.Kind
	}{
		{"PDF with a table of cross-references", plainPDF(""), media.PDF},
		{"PDF with bytes behind its end", append(plainPDF(""), "\r\n\r\n"...), media.PDF},
		{"PDF with a name that begins like that of encryption", plainPDF("/EncryptNothing 4"), media.PDF},
		{"JPEG", jpegOf(t, drawn(40, 30)), media.JPEG},
		{"PNG", pngOf(t, drawn(40, 30)), media.PNG},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := library.IntakePaper(t.Context(), bytes.NewReader(c.body))
			if err != nil || p.Kind != c.kind || p.Bytes != int64(len(c.body)) || p.AlreadyHeld {
				t.Fatalf("IntakePaper = %+v, %v", p, err)
			}
			if again, err := library.IntakePaper(t.Context(), bytes.NewReader(c.body)); err != nil || !again.AlreadyHeld || again.ID != p.ID {
				t.Errorf("the same again = %+v, %v", again, err)
			}
			if held, err := library.HeldPaper(t.Context(), p.ID); err != nil || held.Kind != p.Kind || held.Bytes != p.Bytes {
				t.Errorf("HeldPaper = %+v, %v", held, err)
			}
			r, _, err := library.Originals().Open(t.Context(), p.ID)
			if err != nil {
				t.Fatal(err)
			}
			defer r.Close()
			if held, err := io.ReadAll(r); err != nil || !bytes.Equal(held, c.body) {
				t.Errorf("%d bytes are held, %v; %d came", len(held), err, len(c.body))
			}
		})
	}
	for _, name := range filesUnder(t, dir) {
		if strings.Contains(name, "tmp-") {
			t.Errorf("%s was left behind", name)
		}
	}
}

func TestIntakePaperRefuses(t *testing.T) {
	sound := plainPDF("")
	library, dir := openLibrary(t, media.Limits{Bytes: 100_000})
	for _, c := range []struct {
		name string
		body []byte
		is   error
		says string
	}{
		{"nothing", nil, media.ErrUnsupported, "empty"},
		{"a PDF cut within its objects", sound[:len(sound)/3], media.ErrCorrupt, "damaged or was cut short"},
		{"a PDF without its last line", bytes.TrimSuffix(sound, []byte("%%EOF\n")), media.ErrCorrupt, "damaged or was cut short"},
		{"a PDF whose start is missing from within", append(append([]byte{}, sound[:40]...), sound[90:]...), media.ErrCorrupt, "damaged or was cut short"},
		{"a PDF whose end points past it", bytes.Replace(sound, []byte("startxref\n1"), []byte("startxref\n9"), 1), media.ErrCorrupt, "damaged or was cut short"},
		{"a PDF whose end points at no number", bytes.Replace(sound, []byte("startxref\n1"), []byte("startxref\nx"), 1), media.ErrCorrupt, "damaged or was cut short"},
		{"a PDF without a trailer", bytes.Replace(sound, []byte("trailer"), []byte("trolley"), 1), media.ErrCorrupt, "damaged or was cut short"},
		{"an encrypted PDF", plainPDF("/Encrypt 9 0 R"), media.ErrUnsupported, "encrypted"},
		{"a longer one than is taken", append(append([]byte{}, sound...), make([]byte, 100_000)...), media.ErrTooLarge, "larger than 0.1 MB"},
		{"a picture cut short", jpegOf(t, drawn(40, 30))[:400], media.ErrCorrupt, "damaged or was cut short"},
		{"an office document", []byte("PK\x03\x04 and more"), media.ErrUnsupported, "office document"},
		{"an old office document", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), media.ErrUnsupported, "office document"},
		{"a text", []byte("Dear Mr Holt,\n"), media.ErrUnsupported, "text file"},
		{"a page of HTML that calls itself a PDF further on", []byte("<html><script>%PDF-1.4</script>"), media.ErrUnsupported, "text file"},
		{"a film", []byte("\x00\x00\x00\x18ftypisom\x00\x00\x02\x00isom"), media.ErrUnsupported, "not a kind"},
		{"a HEIC picture", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), media.ErrUnsupported, "HEIC"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := library.IntakePaper(t.Context(), bytes.NewReader(c.body))
			var refusal *media.Refusal
			if !errors.Is(err, c.is) || !errors.As(err, &refusal) || !strings.Contains(refusal.Sentence(), c.says) {
				t.Fatalf("IntakePaper: %v, want %v that says %q", err, c.is, c.says)
			}
		})
	}
	if _, err := library.HeldPaper(t.Context(), media.ID{1}); !errors.Is(err, media.ErrNotFound) {
		t.Errorf("HeldPaper of nothing: %v", err)
	}
	if left := filesUnder(t, dir); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A PDF as other programs write one: with streams of cross-references, laid out for the web, and encrypted without a password to
// open it.
func TestIntakePaperOfOtherPrograms(t *testing.T) {
	needTool(t, "qpdf")
	library, _ := openLibrary(t, media.Limits{})
	in := filepath.Join(t.TempDir(), "in.pdf")
	if err := os.WriteFile(in, plainPDF(""), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
		says string
	}{
		{"streams of cross-references", []string{"--object-streams=generate"}, ""},
		{"laid out for the web", []string{"--linearize"}, ""},
		{"both", []string{"--linearize", "--object-streams=generate"}, ""},
		{"encrypted for nobody", []string{"--encrypt", "", "owner", "256", "--"}, "encrypted"},
		{"encrypted with streams of cross-references", []string{"--encrypt", "user", "owner", "256", "--", "--object-streams=generate"}, "encrypted"},
		{"encrypted and laid out for the web", []string{"--linearize", "--encrypt", "", "owner", "256", "--"}, "encrypted"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out.pdf")
			if text, err := exec.CommandContext(t.Context(), "qpdf", append(c.args, in, out)...).CombinedOutput(); err != nil {
				t.Fatalf("qpdf: %v\n%s", err, text)
			}
			f, err := os.Open(out)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			_, err = library.IntakePaper(t.Context(), f)
			var refusal *media.Refusal
			switch {
			case c.says == "" && err != nil:
				t.Errorf("refused: %v", err)
			case c.says != "" && (!errors.As(err, &refusal) || !strings.Contains(refusal.Sentence(), c.says)):
				t.Errorf("err %v, want one that says %q", err, c.says)
			}
		})
	}
}

// Whatever comes, a paper is either held as it came or refused with a sentence.
func FuzzIntakePaper(f *testing.F) {
	sound := plainPDF("")
	f.Add(sound)
	f.Add(plainPDF("/Encrypt 9 0 R"))
	f.Add(sound[:len(sound)-20])
	f.Add([]byte("%PDF-1.7\nstartxref\n0\n%%EOF"))
	f.Add([]byte("%PDF-1.7\n1 0 obj<</Type/XRef/Size 1>>stream\nstartxref\n9\n%%EOF"))
	library, _ := openLibrary(f, media.Limits{Bytes: 1 << 20})
	f.Fuzz(func(t *testing.T, body []byte) {
		p, err := library.IntakePaper(context.Background(), bytes.NewReader(body))
		var refusal *media.Refusal
		switch {
		case err != nil && (!errors.As(err, &refusal) || refusal.Sentence() == ""):
			t.Fatalf("neither held nor refused: %v", err)
		case err == nil && p.Bytes != int64(len(body)):
			t.Fatalf("%d bytes of %d", p.Bytes, len(body))
		}
	})
}
