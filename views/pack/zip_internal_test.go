package pack

import (
	"archive/zip"
	"bytes"
	"hash/crc32"
	"io"
	"testing"
)

// beyond is an archive whose first bytes, as many as are skipped, are all zero and held nowhere.
type beyond struct {
	skipped int64
	rest    []byte
}

func (b beyond) ReadAt(p []byte, off int64) (int, error) {
	clear(p)
	n := 0
	for n < len(p) && off+int64(n) < b.skipped {
		n = int(min(int64(len(p)), b.skipped-off))
	}
	if n < len(p) {
		at := off + int64(n) - b.skipped
		if at >= int64(len(b.rest)) {
			return n, io.EOF
		}
		n += copy(p[n:], b.rest[at:])
	}
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// A file that begins beyond 4 GiB is found by readers of ZIP64.
func TestZIPBeyondFourGigabytes(t *testing.T) {
	const skipped = 5 << 30
	text := []byte("far out")
	var out bytes.Buffer
	z := newZIPWriter(&out)
	z.at = skipped
	z.header(entry{name: "bag/data/far.txt", size: uint32(len(text)), crc: crc32.ChecksumIEEE(text)})
	if _, err := z.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := z.finish(); err != nil {
		t.Fatal(err)
	}
	r, err := zip.NewReader(beyond{skipped, out.Bytes()}, skipped+int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	if len(r.File) != 1 {
		t.Fatalf("%d entries, want 1", len(r.File))
	}
	f, err := r.File[0].Open()
	if err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(f)
	if err != nil || !bytes.Equal(got, text) {
		t.Errorf("read %q (%v), want %q", got, err, text)
	}
}

// More entries than the plain end of a directory can count are counted in its ZIP64 form.
func TestZIPOfManyEntries(t *testing.T) {
	var out bytes.Buffer
	z := newZIPWriter(&out)
	const many = 1<<16 + 5
	for range many {
		z.header(entry{name: "bag/data/x"})
	}
	if err := z.finish(); err != nil {
		t.Fatal(err)
	}
	r, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil || len(r.File) != many {
		t.Fatalf("%v entries (%v), want %d", r, err, many)
	}
}
