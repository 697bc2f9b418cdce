package pack_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"newelbook/views/pack"
)

func verifyZIP(t testing.TB, b []byte, checks ...pack.Check) pack.Report {
	t.Helper()
	r, err := pack.VerifyZIP(bytes.NewReader(b), int64(len(b)), checks...)
	if err != nil {
		t.Fatal(err)
	}
	if r.Sound != (len(r.Findings) == 0) {
		t.Fatalf("sound %v with %d findings", r.Sound, len(r.Findings))
	}
	return r
}

func TestVerifySound(t *testing.T) {
	b := smallBag()
	out := zipped(t, b)
	for _, path := range []string{saved(t, "pack.zip", out), unzipped(t, out), filepath.Dir(unzipped(t, out))} {
		r, err := pack.Verify(path)
		if err != nil {
			t.Fatal(err)
		}
		if !r.Sound || r.Hash != b.Hash() || r.Files != 4 {
			t.Errorf("%s: %+v, want a sound pack of 4 files with hash %s", filepath.Base(path), r, b.Hash())
		}
	}
}

// names says whether a finding names the file, or says that it may be the one at fault.
func names(r pack.Report, file string) bool {
	return slices.ContainsFunc(r.Findings, func(f pack.Finding) bool { return f.File == file || strings.Contains(f.Problem, file) })
}

// owners says of every byte of a canonical ZIP to which file it belongs, pack.ArchiveStructure for the headers.
func owners(t *testing.T, b []byte) []string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	out := make([]string, len(b))
	for i := range out {
		out[i] = pack.ArchiveStructure
	}
	for _, f := range z.File {
		off, err := f.DataOffset()
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(f.Name, "/")
		for i := off; i < off+int64(f.CompressedSize64); i++ {
			out[i] = name
		}
	}
	return out
}

// Every byte of a pack, changed alone in three ways, is noticed, and the file that it belongs to is named. It works on a pack of a
// few kilobytes in memory, on all processors, so that no byte need be left out.
func TestVerifyNoticesEveryByteOfZIP(t *testing.T) {
	t.Parallel()
	out := zipped(t, signedBag(t))
	owner := owners(t, out)
	flipped(t, out, []byte{0x01, 0x20, 0xff}, 1, func(r pack.Report, at int, flip byte) {
		if r.Sound {
			t.Errorf("byte %d (%s) changed by %#x: called sound", at, owner[at], flip)
		} else if !names(r, owner[at]) {
			t.Errorf("byte %d (%s) changed by %#x: found only %v", at, owner[at], flip, r.Findings)
		}
	})
}

// flipped verifies copies of an archive, each with one byte changed, and has every report looked at. Of the bytes it takes each
// n-th.
func flipped(t *testing.T, archive, flips []byte, nth int, look func(r pack.Report, at int, flip byte), checks ...pack.Check) {
	t.Helper()
	var work sync.WaitGroup
	var one sync.Mutex
	workers := runtime.GOMAXPROCS(0)
	for first := range workers {
		work.Go(func() {
			damaged := slices.Clone(archive)
			for at := first * nth; at < len(archive); at += workers * nth {
				for _, flip := range flips {
					damaged[at] = archive[at] ^ flip
					r, err := pack.VerifyZIP(bytes.NewReader(damaged), int64(len(damaged)), checks...)
					one.Lock()
					if err != nil {
						t.Errorf("byte %d changed by %#x: %v", at, flip, err)
					}
					look(r, at, flip)
					one.Unlock()
				}
				damaged[at] = archive[at]
			}
		})
	}
	work.Wait()
}

// A byte changed within a file is one finding about that file and none about the archive around it.
func TestVerifyNamesOnlyTheChangedFile(t *testing.T) {
	out := zipped(t, signedBag(t))
	owner := owners(t, out)
	for i := range out {
		if !strings.HasPrefix(owner[i], "data/") {
			continue
		}
		damaged := slices.Clone(out)
		damaged[i] ^= 0x40
		r := verifyZIP(t, damaged)
		if len(r.Findings) != 1 || r.Findings[0].File != owner[i] {
			t.Fatalf("byte %d of %s: found %v", i, owner[i], r.Findings)
		}
	}
}

// The same in a folder, where no archive tells which of two files was changed.
func TestVerifyNoticesEveryByteOfFolder(t *testing.T) {
	t.Parallel()
	dir := unzipped(t, zipped(t, signedBag(t)))
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		whole, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for i := range whole {
			for _, flip := range []byte{0x01, 0x20} {
				damaged := slices.Clone(whole)
				damaged[i] ^= flip
				if err := os.WriteFile(path, damaged, 0o644); err != nil {
					return err
				}
				r, err := pack.Verify(dir)
				if err != nil {
					return err
				}
				if r.Sound || !names(r, filepath.ToSlash(name)) {
					t.Errorf("byte %d of %s changed by %#x: %+v", i, name, flip, r)
				}
			}
		}
		return os.WriteFile(path, whole, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestVerifyZIPCutOrGrown(t *testing.T) {
	out := zipped(t, signedBag(t))
	for n := range len(out) {
		if verifyZIP(t, out[:n]).Sound {
			t.Errorf("cut to %d of %d bytes: called sound", n, len(out))
		}
	}
	for _, grown := range [][]byte{append(slices.Clone(out), 0), append([]byte{0}, out...)} {
		if r := verifyZIP(t, grown); r.Sound || !names(r, pack.ArchiveStructure) {
			t.Errorf("one byte more: %v", r.Findings)
		}
	}
}

// repacked is the same files in a ZIP of the standard library's making.
func repacked(t *testing.T, b []byte, method uint16, change func(files map[string][]byte)) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if files[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	change(files)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for name, text := range files {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Another archive of the same files is not the pack as it was issued, but its files are still checked one by one.
func TestVerifyRepackedZIP(t *testing.T) {
	out := zipped(t, smallBag())
	same := verifyZIP(t, repacked(t, out, zip.Deflate, func(map[string][]byte) {}))
	if len(same.Findings) != 1 || same.Findings[0].File != pack.ArchiveStructure || same.Hash != smallBag().Hash() {
		t.Errorf("repacked: %+v, want one finding about the archive", same)
	}
	other := verifyZIP(t, repacked(t, out, zip.Store, func(files map[string][]byte) {
		files["NB-0107-pack-2/data/record.json"] = []byte("{}")
		files["NB-0107-pack-2/data/extra.txt"] = []byte("x")
		delete(files, "NB-0107-pack-2/README.txt")
	}))
	for _, want := range []string{"data/record.json", "data/extra.txt", "README.txt", pack.ArchiveStructure} {
		if !names(other, want) {
			t.Errorf("nothing found about %s: %v", want, other.Findings)
		}
	}
}

// Damage to a folder, one thing at a time, is one finding about one file.
func TestVerifyFolderDamage(t *testing.T) {
	write := func(name, text string) func(string) error {
		return func(dir string) error { return os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644) }
	}
	const first, second = "BagIt-Version: 1.0\n", "Tag-File-Character-Encoding: UTF-8\n"
	cases := []struct {
		name   string
		damage func(dir string) error
		file   string
		says   string
	}{
		{"payload changed", write("data/record.json", "{}"), "data/record.json", "It was changed"},
		{"payload missing", func(dir string) error { return os.Remove(filepath.Join(dir, "data/record.json")) }, "data/record.json", "It is missing"},
		{"payload added", write("data/more.txt", "x"), "data/more.txt", "It was added"},
		{"tag file changed", write("README.txt", "x"), "README.txt", "It was changed; its bytes are not those that tagmanifest-sha256.txt lists"},
		{"tag file missing", func(dir string) error { return os.Remove(filepath.Join(dir, "README.txt")) }, "README.txt", "It is missing"},
		{"tag file added", write("notes.txt", "x"), "notes.txt", "It was added"},
		{"hidden file added", write(".DS_Store", "x"), ".DS_Store", "It was added"},
		{"tag manifest missing", func(dir string) error { return os.Remove(filepath.Join(dir, "tagmanifest-sha256.txt")) }, "tagmanifest-sha256.txt", "It is missing"},
		{"another kind of manifest", write("manifest-md5.txt", ""), "manifest-md5.txt", "not checked here"},
		{"a link", func(dir string) error { return os.Symlink("record.json", filepath.Join(dir, "data/link")) }, "data/link", "no plain file"},
		// G04: bagit.txt with a byte-order mark, its lines swapped, or a third line (RFC 8493).
		{"byte-order mark", write("bagit.txt", "\ufeff"+first+second), "bagit.txt", "not the two lines"},
		{"lines swapped", write("bagit.txt", second+first), "bagit.txt", "not the two lines"},
		{"third line", write("bagit.txt", first+second+"x\n"), "bagit.txt", "not the two lines"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir := unzipped(t, zipped(t, smallBag()))
			if err := c.damage(dir); err != nil {
				t.Fatal(err)
			}
			r, err := pack.Verify(dir)
			if err != nil {
				t.Fatal(err)
			}
			found := slices.DeleteFunc(slices.Clone(r.Findings), func(f pack.Finding) bool { return f.File == "bag-info.txt" })
			if len(found) == 0 || found[0].File != c.file || !strings.Contains(found[0].Problem, c.says) {
				t.Errorf("found %v, want %s: %s", r.Findings, c.file, c.says)
			}
		})
	}
}

// G07: checksums in capitals are accepted (RFC 8493), as long as the files that list them fit together.
func TestVerifyAcceptsCapitals(t *testing.T) {
	dir := unzipped(t, zipped(t, smallBag()))
	capitals := func(name string) {
		path := filepath.Join(dir, name)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var out []byte
		for l := range bytes.Lines(text) {
			out = append(append(out, bytes.ToUpper(l[:64])...), l[64:]...)
		}
		if err := os.WriteFile(path, out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	capitals("tagmanifest-sha256.txt")
	if r, err := pack.Verify(dir); err != nil || !r.Sound {
		t.Errorf("tag manifest in capitals: %v (%v)", r.Findings, err)
	}
	capitals("manifest-sha256.txt")
	r, err := pack.Verify(dir)
	if err != nil || len(r.Findings) != 1 || r.Findings[0].File != "manifest-sha256.txt" {
		t.Errorf("manifest in capitals: %v (%v), want only that it is not the one in the tag manifests", r.Findings, err)
	}
}

func TestVerifyRunsChecks(t *testing.T) {
	saw := ""
	check := func(open func(string) (io.ReadCloser, error)) []pack.Finding {
		if _, err := open("data/nothing"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("a missing file: %v, want fs.ErrNotExist", err)
		}
		f, err := open("data/record.json")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		b, err := io.ReadAll(f)
		if err != nil {
			t.Fatal(err)
		}
		saw = string(b)
		return []pack.Finding{{File: "data/record.json", Problem: "The chain of events breaks at event 7."}}
	}
	out := zipped(t, smallBag())
	if r := verifyZIP(t, out, check); len(r.Findings) != 1 || r.Sound || saw != `{"job":"NB-0107"}` {
		t.Errorf("findings %v, read %q", r.Findings, saw)
	}
	if r, err := pack.Verify(unzipped(t, out), check); err != nil || len(r.Findings) != 1 {
		t.Errorf("findings %v (%v)", r.Findings, err)
	}
}

func TestVerifyWhatIsNoPack(t *testing.T) {
	if _, err := pack.Verify(filepath.Join(t.TempDir(), "absent.zip")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("absent file: %v", err)
	}
	for name, b := range map[string][]byte{"empty": nil, "text": []byte("hello")} {
		if r := verifyZIP(t, b); r.Sound || !names(r, pack.ArchiveStructure) {
			t.Errorf("%s: %+v", name, r)
		}
	}
	if r, err := pack.Verify(t.TempDir()); err != nil || r.Sound || !names(r, "bagit.txt") {
		t.Errorf("empty folder: %+v (%v)", r, err)
	}
}
