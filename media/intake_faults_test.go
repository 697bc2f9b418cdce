package media_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"newelbook/media"
	"newelbook/media/exifwrite"
)

// claimingWebP is a WebP whose extended header claims a canvas of the given size (WebP container specification, VP8X).
func claimingWebP(width, height int) []byte {
	less := func(n int) string { n--; return string([]byte{byte(n), byte(n >> 8), byte(n >> 16)}) }
	body := "WEBPVP8X\x0a\x00\x00\x00\x00\x00\x00\x00" + less(width) + less(height) + "VP8L\x06\x00\x00\x00\x2f\x00\x00\x00\x00\x00"
	return []byte("RIFF" + string([]byte{byte(len(body)), 0, 0, 0}) + body)
}

// TestIntakeOfTheWidestPictures refuses pictures that claim the longest side JPEG can name, of each kind, and takes no memory to speak
// of for it: what they claim would take gigabytes.
func TestIntakeOfTheWidestPictures(t *testing.T) {
	const most = 4 << 20 // bytes asked for, all in all; the buffers of reading and hashing are the most of it
	library, dir := openLibrary(t, media.Limits{})
	for _, c := range []struct {
		name    string
		picture []byte
	}{
		{"JPEG", claimingJPEG(t, 65_535, 65_535)}, {"a low JPEG", claimingJPEG(t, 65_535, 100)}, {"a narrow JPEG", claimingJPEG(t, 100, 65_535)},
		{"PNG", claimingPNG(t, 65_535, 65_535)}, {"a low PNG", claimingPNG(t, 65_535, 100)},
		{"WebP of almost 2^31 pixels, where its decoder ends", claimingWebP(65_535, 32_767)}, {"a low WebP", claimingWebP(65_535, 100)},
		{"WebP beyond its decoder", claimingWebP(65_535, 65_535)}, {"WebP as wide as the head can say", claimingWebP(16_777_216, 65_535)},
		{"PNG beyond its decoder", claimingPNG(t, 2_147_465_535, 2_147_465_535)},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		photo, err := library.Intake(t.Context(), bytes.NewReader(c.picture))
		runtime.ReadMemStats(&after)
		var refusal *media.Refusal
		if !errors.As(err, &refusal) || !errors.Is(err, media.ErrTooLarge) || !strings.Contains(refusal.Sentence(), "65,535") || !photo.ID.IsZero() {
			t.Errorf("%s: %+v, %v, want a refusal that names 65,535", c.name, photo, err)
		}
		if asked := after.TotalAlloc - before.TotalAlloc; asked > most {
			t.Errorf("%s: %d bytes asked for, at most %d", c.name, asked, most)
		}
	}
	nothingHeld(t, dir)
}

// TestIntakeOfBombs refuses pictures that are small as files and hundreds of megabytes once unpacked, and takes no memory to speak of for it.
func TestIntakeOfBombs(t *testing.T) {
	const most = 4 << 20
	library, dir := openLibrary(t, media.Limits{})
	for _, c := range []struct {
		name                string
		width, height, bits int
		says                string
	}{
		{"64 megapixels", 8000, 8000, 8, "8,000 by 8,000 pixels, more than the 60 million"},
		{"36 megapixels of 16 bits", 6000, 6000, 16, "6,000 by 6,000 pixels, more than the 30 million"},
	} {
		bomb := emptyPNG(t, c.width, c.height, c.bits)
		if len(bomb) > 1<<20 {
			t.Fatalf("%s: the file has %d bytes, which is no bomb", c.name, len(bomb))
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := library.Intake(t.Context(), bytes.NewReader(bomb))
		runtime.ReadMemStats(&after)
		var refusal *media.Refusal
		if !errors.As(err, &refusal) || !errors.Is(err, media.ErrTooLarge) || !strings.Contains(refusal.Sentence(), c.says) {
			t.Errorf("%s: %v, want a refusal that says %q", c.name, err, c.says)
		}
		if asked := after.TotalAlloc - before.TotalAlloc; asked > most {
			t.Errorf("%s: %d bytes asked for, at most %d", c.name, asked, most)
		}
	}
	nothingHeld(t, dir)
	if photo, err := library.Intake(t.Context(), bytes.NewReader(emptyPNG(t, 7000, 5000, 8))); err != nil || photo.Width != 7000 {
		t.Errorf("a scanned drawing of 35 megapixels: %+v, %v, want it taken in", photo, err)
	}
}

// emptyPNG is a PNG of four colours, each of so many bits, in which nothing is drawn.
func emptyPNG(t *testing.T, width, height, bits int) []byte {
	t.Helper()
	chunk := func(name string, data []byte) []byte {
		out := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), name...)
		out = append(out, data...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
	}
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	row := make([]byte, 1+width*4*bits/8)
	for range height {
		if _, err := z.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(width)), uint32(height))
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, byte(bits), 6, 0, 0, 0)), chunk("IDAT", packed.Bytes()), chunk("IEND", nil))
}

// nothingHeld fails where a file of an original or of an unfinished one lies in a data folder.
func nothingHeld(t *testing.T, dir string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(dir), "originals", func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			t.Errorf("%s is left", path)
		}
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

// failingStore is a store whose disk is full at one step: while content is staged, after so many bytes, or when it is committed.
type failingStore struct {
	media.Store
	room     int64 // that is left for staging; below zero for no end
	atCommit bool
}

func (s *failingStore) Stage(ctx context.Context, r io.Reader) (media.Staged, error) {
	if s.room >= 0 {
		r = io.MultiReader(io.LimitReader(r, s.room), fullDisk{})
	}
	staged, err := s.Store.Stage(ctx, r)
	if err != nil || !s.atCommit {
		return staged, err
	}
	return failingStaged{staged}, nil
}

// fullDisk fails as writing to a full disk does.
type fullDisk struct{}

func (fullDisk) Read([]byte) (int, error) {
	return 0, fmt.Errorf("%w: %w", media.ErrStorageFull, syscall.ENOSPC)
}

type failingStaged struct{ media.Staged }

func (failingStaged) Commit(context.Context) (media.Received, error) {
	return media.Received{}, fmt.Errorf("%w: %w", media.ErrStorageFull, syscall.ENOSPC)
}

// TestIntakeOnAFullDisk lets the disk be full at the first byte, in the middle, at the last and at the commit: each time nothing is
// kept and nothing is left, and with room again the same photograph is taken in as new.
func TestIntakeOnAFullDisk(t *testing.T) {
	picture := jpegOf(t, grainy(300, 200))
	for _, c := range []struct {
		name  string
		store failingStore
	}{
		{"at once", failingStore{room: 0}}, {"in the middle", failingStore{room: int64(len(picture) / 2)}}, {"at the last byte", failingStore{room: int64(len(picture) - 1)}},
		{"at the commit", failingStore{room: -1, atCommit: true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			root, err := os.OpenRoot(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer root.Close()
			files, err := media.OpenFiles(root, 1<<20)
			if err != nil {
				t.Fatal(err)
			}
			c.store.Store = files
			library, err := media.NewLibrary(&c.store, root, media.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			defer library.Close()
			photo, err := library.Intake(t.Context(), bytes.NewReader(picture))
			if !errors.Is(err, media.ErrStorageFull) || !photo.ID.IsZero() {
				t.Errorf("%+v, %v, want ErrStorageFull and no photograph", photo, err)
			}
			nothingHeld(t, dir)

			c.store.room, c.store.atCommit = -1, false
			if photo, err = library.Intake(t.Context(), bytes.NewReader(picture)); err != nil || photo.AlreadyHeld || photo.Bytes != int64(len(picture)) {
				t.Errorf("with room again: %+v, %v", photo, err)
			}
		})
	}
}

// TestIntakeAtOnce takes one file in many times at once: one original, which one of them brought.
func TestIntakeAtOnce(t *testing.T) {
	const times = 12
	library, _ := openLibrary(t, media.Limits{})
	picture := jpegOf(t, grainy(300, 200))
	photos, errs := make([]media.Photo, times), make([]error, times)
	var start, all sync.WaitGroup
	start.Add(1)
	for i := range times {
		all.Go(func() {
			start.Wait()
			photos[i], errs[i] = library.Intake(t.Context(), bytes.NewReader(picture))
		})
	}
	start.Done()
	all.Wait()
	brought := 0
	for i, p := range photos {
		if errs[i] != nil || p.ID != photos[0].ID || p.ID.IsZero() {
			t.Fatalf("call %d: %s, %v", i, p.ID, errs[i])
		}
		if !p.AlreadyHeld {
			brought++
		}
	}
	held := 0
	if err := library.Originals().Walk(t.Context(), func(media.ID, int64) error { held++; return nil }); err != nil {
		t.Fatal(err)
	}
	if brought != 1 || held != 1 {
		t.Errorf("%d calls say that they brought it and %d originals are held, want 1 and 1", brought, held)
	}
}

// TestMarkedCopiesCarryNoExif draws over a picture that says where it was taken: the copy does not say it.
func TestMarkedCopiesCarryNoExif(t *testing.T) {
	lat, lon := 43.25, -79.5
	said, err := exifwrite.Encode(jpegOf(t, drawn(400, 300)), exifwrite.Tags{Make: "Larkfield", Lat: &lat, Lon: &lon})
	if err != nil {
		t.Fatal(err)
	}
	if x, err := media.ReadExif(bytes.NewReader(said)); err != nil || x.Position == nil {
		t.Fatalf("the picture has no position (%v), so the test says nothing", err)
	}
	marked, err := media.DrawMarks(bytes.NewReader(said), []media.Mark{{Kind: media.MarkArrow, ToX: 500, ToY: 500}})
	if err != nil {
		t.Fatal(err)
	}
	if x, err := media.ReadExif(bytes.NewReader(marked)); err != nil || x != (media.Exif{Orientation: 1}) || bytes.Contains(marked, []byte("Larkfield")) {
		t.Errorf("the marked copy says %+v, %v", x, err)
	}
}
