package media_test

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"newelbook/media"
)

// suites are the folders of the pictures that the libraries and the standard decoders are tested with, as they lie in the module cache: among
// them files that were broken on purpose. taken is how many of each are to be taken in at least, so that an empty folder proves nothing.
func suites(t *testing.T) map[string]int {
	t.Helper()
	module := func(path string) string { return goFolder(t, "", "list", "-m", "-f", "{{.Dir}}", path) }
	standard := goFolder(t, "src/image", "env", "GOROOT")
	return map[string]int{
		standard: 60, module("golang.org/x/image"): 60, module("github.com/rwcarlsen/goexif"): 0, // its samples are cut behind their Exif
		module("github.com/disintegration/imaging"): 20, module("github.com/bep/imagemeta"): 20,
	}
}

// Every picture of the libraries' own suites goes through the intake: it is taken in, kept byte for byte and shown without a claim of its own,
// or refused in a sentence. What those taken in claim is what exiftool reads.
func TestPublishedSuites(t *testing.T) {
	library, _ := openLibrary(t, media.Limits{})
	claims := map[string]media.Exif{}
	refused := map[string]int{}
	for dir, least := range suites(t) {
		taken := 0
		err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !slices.Contains([]string{".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif", ".gif", ".tif", ".tiff", ".bmp", ".dng", ".cr2", ".nef", ".arw"}, strings.ToLower(filepath.Ext(path))) {
				return err
			}
			content, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			photo, err := library.Intake(t.Context(), bytes.NewReader(content))
			var refusal *media.Refusal
			if errors.As(err, &refusal) {
				refused[refusal.Sentence()]++
				return nil
			}
			if err != nil {
				t.Errorf("%s: %v, want it taken in or refused", path, err)
				return nil
			}
			taken++
			keptAndShown(t, library, photo, path, content)
			claims[path] = photo.Exif
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if taken < least {
			t.Errorf("%s: %d pictures taken in, want %d at least", dir, taken, least)
		}
		t.Logf("%s: %d taken in", dir, taken)
	}
	for sentence, n := range refused {
		t.Logf("%d refused: %s", n, sentence)
	}
	var paths []string
	for path := range claims {
		paths = append(paths, path)
	}
	slices.Sort(paths)
	held := 0
	for path, want := range exiftool(t, paths...) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			got := claims[path]
			switch filepath.Base(path) {
			case "geodegrees_as_string.jpg":
				want = degreesAsText(t, &got, want)
			case "infinite_loop_exif.jpg": // its directories lead back to themselves; exiftool reads what lies behind, the guard stops there and says so
				if got.Problem == "" {
					t.Error("nothing is said of directories that lead back to themselves")
				}
				return
			}
			held += compareWithExiftool(t, got, want)
		})
	}
	if held < 40 {
		t.Errorf("%d fields held something in %d files: too few to say anything", held, len(paths))
	}
	t.Logf("%d fields of %d files compared", held, len(paths))
}

// keptAndShown holds a picture that was taken in against its file, and its view against what no view may carry.
func keptAndShown(t *testing.T, library *media.Library, photo media.Photo, path string, content []byte) {
	t.Helper()
	original, size, err := library.Originals().Open(t.Context(), photo.ID)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	kept, err := io.ReadAll(original)
	if err := errors.Join(err, original.Close()); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if size != int64(len(content)) || !bytes.Equal(kept, content) {
		t.Errorf("%s is not kept as it came", path)
	}
	view, err := library.OpenView(t.Context(), photo.ID, media.View)
	var refusal *media.Refusal
	if errors.As(err, &refusal) {
		return // damage within the pixels, or a kind that is kept and not shown
	}
	if err != nil {
		t.Errorf("%s: %v", path, err)
		return
	}
	shown, err := io.ReadAll(view)
	if err := errors.Join(err, view.Close()); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if max(view.Width, view.Height) > int(media.View) || bytes.Contains(shown, []byte("Exif\x00\x00")) || bytes.Contains(shown, []byte("http://ns.adobe.com/xap")) {
		t.Errorf("%s: its view is %d by %d pixels, or says something of its own", path, view.Width, view.Height)
	}
}
