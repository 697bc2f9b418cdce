package media_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"newelbook/media"
	"newelbook/media/mediatest"
)

// Damage within the data of the pixels shows only when they are decoded. The original is kept; why there is no picture
// of it is told in words, also the second time, when nothing is decoded any more.
func TestViewsOfDamagedOriginals(t *testing.T) {
	sound := jpegOf(t, grainy(300, 200))
	cases := []struct {
		name string
		in   []byte
	}{
		{"half a JPEG, closed again", append(bytes.Clone(sound[:len(sound)/2]), 0xff, 0xd9)},
		{"JPEG with a Huffman table that codes nothing", bytes.Replace(sound, []byte("\xff\xc4"), []byte("\xff\xec"), 1)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			library, dir := openLibrary(t, media.Limits{})
			photo := take(t, library, c.in)
			for range 2 {
				_, err := library.OpenView(t.Context(), photo.ID, media.View)
				var refusal *media.Refusal
				if !errors.Is(err, media.ErrCorrupt) || !errors.As(err, &refusal) || !strings.Contains(refusal.Sentence(), "damaged") {
					t.Fatalf("OpenView = %v, want a refusal for ErrCorrupt", err)
				}
			}
			id := photo.ID.String()
			if note := filesUnder(t, filepath.Join(dir, "derived")); len(note) != 1 || note[0] != "v2/"+id[:2]+"/"+id+"-none.txt" {
				t.Errorf("derived holds %q, want the note of the refusal", note)
			}
			if err := library.Originals().Verify(t.Context(), photo.ID); err != nil {
				t.Errorf("Verify = %v, want the original as it was received", err)
			}
		})
	}
}

// In the background the same pictures are made as when they are waited for.
func TestLater(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	var told sync.WaitGroup
	var mu sync.Mutex
	var failed []error
	for i := range 12 {
		photo := take(t, library, jpegOf(t, drawn(200+i, 150)))
		told.Add(1)
		queued := library.Later(photo.ID, func(err error) {
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				failed = append(failed, err)
			}
			told.Done()
		})
		if !queued {
			t.Fatal("Later = false, want the picture to be made")
		}
	}
	told.Wait()
	if len(failed) > 0 {
		t.Errorf("Later told %v, want no error", failed)
	}
	if made := filesUnder(t, filepath.Join(dir, "derived")); len(made) != 36 {
		t.Errorf("%d derived files, want 24 pictures and 12 notes of codes", len(made))
	}
	if err := library.Close(); err != nil {
		t.Fatal(err)
	}
	if library.Later(media.ID{1}, nil) {
		t.Error("Later on a closed library = true, want false")
	}
}

// Many who ask for one picture at once get it, and it is decoded once: the derived files are never replaced.
func TestDeriveAtOnce(t *testing.T) {
	library, dir := openLibrary(t, media.Limits{})
	photo := take(t, library, jpegOf(t, grainy(900, 700)))
	hurried, cancel := context.WithCancel(t.Context())
	cancel()
	var all sync.WaitGroup
	for i := range 16 {
		all.Go(func() {
			if i%4 == 0 { // some give up, and the others must not
				if err := library.Derive(hurried, photo.ID); err != nil && !errors.Is(err, context.Canceled) {
					t.Errorf("Derive = %v, want context.Canceled or nothing", err)
				}
				return
			}
			if err := library.Derive(t.Context(), photo.ID); err != nil {
				t.Errorf("Derive = %v, want no error", err)
			}
		})
	}
	all.Wait()
	if made := filesUnder(t, filepath.Join(dir, "derived")); len(made) != 3 {
		t.Errorf("derived holds %q, want two pictures and a note", made)
	}
}

// withThumb is a photograph whose camera put a small picture of its own into it.
func withThumb(t *testing.T, photograph, small image.Image, orientation uint16) []byte {
	t.Helper()
	out, err := mediatest.WithThumb(jpegOf(t, photograph), jpegOf(t, small), orientation)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// letterboxed sets a picture between black bars, as cameras do with their thumbnails.
func letterboxed(img image.Image, width, height int) image.Image {
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	top := (height - img.Bounds().Dy()) / 2
	for y := range height {
		for x := range width {
			out.Set(x, y, color.Black)
			if y >= top && y < top+img.Bounds().Dy() {
				out.Set(x, y, img.At(x, y-top))
			}
		}
	}
	return out
}

// The camera's own small picture shows at once, upright and without its bars; then the real one takes its place.
func TestCameraThumbShowsAtOnce(t *testing.T) {
	upright := drawn(480, 320)
	library, _ := openLibrary(t, media.Limits{})
	small := letterboxed(asStored(drawn(160, 107), 1), 160, 120)
	photo := take(t, library, withThumb(t, asStored(upright, 1), small, 1))
	soon, err := library.OpenSoon(t.Context(), photo.ID)
	if err != nil {
		t.Fatal(err)
	}
	if !soon.Passing || soon.Width != 160 || soon.Height != 107 {
		t.Fatalf("OpenSoon = %+v, want the camera's picture of 160 by 107", soon)
	}
	img := decodeJPEG(t, readAll(t, soon))
	if d := difference(img, upright); d > 2*alike {
		t.Errorf("the camera's picture is %d off, want at most %d", d, 2*alike)
	}
	if err := library.Derive(t.Context(), photo.ID); err != nil {
		t.Fatal(err)
	}
	soon, err = library.OpenSoon(t.Context(), photo.ID)
	if err != nil || soon.Passing || soon.Width != 320 {
		t.Fatalf("OpenSoon = %+v, %v, want the real thumbnail", soon, err)
	}
	readAll(t, soon)

	// Turned with the photograph.
	photo = take(t, library, withThumb(t, asStored(upright, 6), asStored(drawn(160, 107), 6), 6))
	if soon, err = library.OpenSoon(t.Context(), photo.ID); err != nil || soon.Width != 160 || soon.Height != 107 {
		t.Fatalf("OpenSoon = %+v, %v, want 160 by 107", soon, err)
	}
	if d := difference(decodeJPEG(t, readAll(t, soon)), upright); d > 2*alike {
		t.Errorf("the turned picture of the camera is %d off, want at most %d", d, 2*alike)
	}
	// Without one, the real one is waited for.
	photo = take(t, library, jpegOf(t, drawn(400, 300)))
	if soon, err = library.OpenSoon(t.Context(), photo.ID); err != nil || soon.Passing || soon.Width != 320 {
		t.Fatalf("OpenSoon = %+v, %v, want the real thumbnail", soon, err)
	}
	readAll(t, soon)
}
