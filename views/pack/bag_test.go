package pack_test

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/views/pack"
)

// smallBag is a bag of three small files and a README, as small as a whole pack can be.
func smallBag() pack.Bag {
	original := []byte("\xff\xd8 an original, untouched \xff\xd9")
	sum := sha256.Sum256(original)
	first := pack.Bytes("data/originals/"+hex.EncodeToString(sum[:])+".jpg", original)
	first.CRCKnown = false
	return pack.Bag{
		Name: "NB-0107-pack-2",
		Info: pack.Info{Created: time.Date(2026, 11, 25, 23, 30, 0, 0, time.FixedZone("", -5*3600)), Organization: "Sample Builders (invented)",
			Identifier: "NB-0107/2", Description: "Handover pack of an invented job"},
		Files: []pack.Payload{
			pack.Bytes("data/record.json", []byte(`{"job":"NB-0107"}`)),
			pack.Bytes("data/csv/checks.csv", []byte("check,result\r\nheight,good\r\n")),
			first,
			pack.Bytes("data/papers/paper-1.pdf", []byte("%PDF-1.4 a paper as received %%EOF\n")),
		},
		Tags: []pack.Payload{pack.Bytes("README.txt", []byte("To check this pack, run newelbook verify on it.\n"))},
	}
}

// testKey is a key that everybody knows.
func testKey(n byte) pack.Key { return pack.KeyOf([32]byte{n}) }

// signedBag is the small bag, signed.
func signedBag(t testing.TB) pack.Bag {
	t.Helper()
	b, err := smallBag().Measured(t.Context())
	if err == nil {
		b, err = b.Sign(testKey(1))
	}
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func zipped(t testing.TB, b pack.Bag) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := b.WriteZIP(t.Context(), &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// unzipped lays a ZIP out as a folder, with the standard library's reader, and returns the top folder.
func unzipped(t testing.TB, b []byte) string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 1 {
		t.Fatalf("the ZIP unpacks to %d things (%v), want one folder", len(list), err)
	}
	return filepath.Join(dir, list[0].Name())
}

func TestZIPTextOfTagFiles(t *testing.T) {
	dir := unzipped(t, zipped(t, signedBag(t)))
	var b strings.Builder
	for _, name := range []string{"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt", "tagmanifest-sha256.txt", "tagmanifest-sha512.txt", "signature.txt"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		b.WriteString("== " + name + "\n" + string(text))
	}
	golden(t, "bag/tagfiles.golden", b.String())
}

// G03: a payload of two files, of 10 and 20 bytes, is Payload-Oxum 30.2 (RFC 8493).
func TestPayloadOxum(t *testing.T) {
	b := pack.Bag{Name: "x", Files: []pack.Payload{
		pack.Bytes("data/a", make([]byte, 10)), pack.Bytes("data/b", make([]byte, 20)),
	}}
	text, err := os.ReadFile(filepath.Join(unzipped(t, zipped(t, b)), "bag-info.txt"))
	if err != nil || !strings.Contains(string(text), "Payload-Oxum: 30.2\n") {
		t.Errorf("bag-info.txt is %q (%v), want a line Payload-Oxum: 30.2", text, err)
	}
}

func TestZIPLayout(t *testing.T) {
	out := zipped(t, smallBag())
	if !bytes.Equal(out, zipped(t, smallBag())) {
		t.Fatal("two ZIPs of the same bag differ")
	}
	z, err := zip.NewReader(bytes.NewReader(out), int64(len(out)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	at := int64(0)
	for _, f := range z.File {
		names = append(names, f.Name)
		off, err := f.DataOffset()
		if err != nil {
			t.Fatal(err)
		}
		if want := at + 30 + int64(len(f.Name)); off != want {
			t.Errorf("%s stands at %d, want %d: something lies between the files", f.Name, off, want)
		}
		at = off + int64(f.CompressedSize64)
		if f.Method != zip.Store || f.Flags != 0 || len(f.Extra) != 0 || f.Comment != "" || f.CompressedSize64 != f.UncompressedSize64 {
			t.Errorf("%s: method %d, flags %#x, extra %x", f.Name, f.Method, f.Flags, f.Extra)
		}
		if got := f.Modified.UTC().Format("2006-01-02 15:04:05"); got != "1980-01-01 00:00:00" {
			t.Errorf("%s: time %s", f.Name, got)
		}
	}
	if !slices.IsSorted(names) {
		t.Errorf("entries are not in order: %q", names)
	}
}

func TestZIPIsReadElsewhere(t *testing.T) {
	path := saved(t, "pack.zip", zipped(t, smallBag()))
	tool(t, "python3", "-c", "import sys,zipfile; z=zipfile.ZipFile(sys.argv[1]); sys.exit(z.testzip() is not None)", path)
	tool(t, "unzip", "-tq", path)
}

// The first part of verifying needs no program of ours.
func TestUnzippedPassesSumTools(t *testing.T) {
	dir := unzipped(t, zipped(t, signedBag(t)))
	for _, alg := range []string{"sha256", "sha512"} {
		for _, m := range []string{"manifest-", "tagmanifest-"} {
			tool(t, "sh", "-c", `cd "$1" && "$2" --strict -c "$3"`, "sh", dir, alg+"sum", m+alg+".txt")
		}
	}
}

// A reader of bags in another language, sharing nothing with this package.
func TestUnzippedIsAValidBag(t *testing.T) {
	tool(t, "python3", "testdata/bag/check.py", unzipped(t, zipped(t, signedBag(t))))
}

func TestWriteZIPRefuses(t *testing.T) {
	with := func(change func(*pack.Bag)) pack.Bag { b := smallBag(); change(&b); return b }
	cases := []struct {
		name string
		bag  pack.Bag
		says string
	}{
		{"a path outside data", with(func(b *pack.Bag) { b.Files[0].Path = "record.json" }), "must stand under data/"},
		{"a path that climbs", with(func(b *pack.Bag) { b.Files[0].Path = "data/../x" }), "a path must be"},
		{"a blank in a path", with(func(b *pack.Bag) { b.Files[0].Path = "data/a b" }), "a path must be"},
		{"two names that differ in capitals", with(func(b *pack.Bag) { b.Files[0].Path = "data/CSV/checks.csv" }), "its name is taken"},
		{"a tag file of our own name", with(func(b *pack.Bag) { b.Tags[0].Path = "bagit.txt" }), "can't be a tag file"},
		{"another manifest", with(func(b *pack.Bag) { b.Tags[0].Path = "manifest-md5.txt" }), "can't be a tag file"},
		{"a folder name with a slash", with(func(b *pack.Bag) { b.Name = "a/b" }), "the folder's name"},
		{"no bytes", with(func(b *pack.Bag) { b.Files[0].Open = nil }), "has no bytes"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := c.bag.WriteZIP(t.Context(), io.Discard)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one that says %q", err, c.says)
			}
		})
	}
}

// A file that changed since it was listed stops the ZIP before its first byte when its CRC has to be found, and is an
// error in any case.
func TestWriteZIPNoticesChange(t *testing.T) {
	for _, known := range []bool{false, true} {
		b := smallBag()
		b.Files[2].CRCKnown = known
		b.Files[2].Open = opener([]byte("\xff\xd8 an original, TOUCHED \xff\xd9"))
		var out bytes.Buffer
		if err := b.WriteZIP(t.Context(), &out); !errors.Is(err, pack.ErrChanged) {
			t.Errorf("CRC known %v: error %v, want ErrChanged", known, err)
		}
		if !known && out.Len() > 0 {
			t.Errorf("%d bytes were written before the change was noticed", out.Len())
		}
	}
}

func TestFreezeGivesTheSameZIP(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack-2")
	b := signedBag(t)
	b.Files[2].Elsewhere = true
	if err := pack.Freeze(t.Context(), dir, b); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, b.Files[2].Path)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the original stands in the folder though it is kept elsewhere (%v)", err)
	}
	asked := 0
	again, err := pack.OpenFrozen(dir, func(h pack.Hash) (io.ReadCloser, error) {
		asked++
		if h != b.Files[2].SHA256 {
			t.Errorf("asked for %s", h)
		}
		return b.Files[2].Open()
	})
	if err != nil {
		t.Fatal(err)
	}
	if again.Hash() != b.Hash() {
		t.Errorf("hash %s, was %s", again.Hash(), b.Hash())
	}
	if !bytes.Equal(zipped(t, again), zipped(t, b)) {
		t.Error("the ZIP of the frozen pack is another one")
	}
	if asked != 1 {
		t.Errorf("the original was opened %d times, want once", asked)
	}
	if err := pack.Freeze(t.Context(), dir, b); !errors.Is(err, fs.ErrExist) {
		t.Errorf("freezing a second time: %v, want fs.ErrExist", err)
	}
}

func TestFreezeLeavesNothingBehind(t *testing.T) {
	parent := t.TempDir()
	b := smallBag()
	b.Files[0].Open = opener([]byte("another record"))
	if err := pack.Freeze(t.Context(), filepath.Join(parent, "pack-2"), b); !errors.Is(err, pack.ErrChanged) {
		t.Errorf("error %v, want ErrChanged", err)
	}
	if list, err := os.ReadDir(parent); err != nil || len(list) != 0 {
		t.Errorf("left behind: %v (%v)", list, err)
	}
}

func TestOpenFrozenNoticesChange(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack-2")
	if err := pack.Freeze(t.Context(), dir, smallBag()); err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(dir, "pack.json")
	text, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	sum := smallBag().Files[0].SHA256.String()
	changed := strings.Replace(string(text), sum, strings.Repeat("0", 64), 1)
	if err := os.WriteFile(list, []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := pack.OpenFrozen(dir, nil); !errors.Is(err, pack.ErrChanged) {
		t.Errorf("error %v, want ErrChanged", err)
	}
}
