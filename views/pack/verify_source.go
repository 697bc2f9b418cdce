package pack

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"hash/crc32"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
)

// damage is what keeps a file of an archive from being read to its end. It is a finding and no reason to stop; what was
// read until then is checked.
type damage struct{ error }

// Unwrap gives the cause.
func (d damage) Unwrap() error { return d.error }

func damaged(err error) bool {
	var d damage
	return errors.As(err, &d)
}

// damageReader marks the errors of an entry as damage. A nil reader is an entry that could not be opened.
type damageReader struct {
	io.ReadCloser
	err error
}

func (d damageReader) Read(p []byte) (int, error) {
	if d.ReadCloser == nil {
		return 0, damage{d.err}
	}
	n, err := d.ReadCloser.Read(p)
	if err != nil && err != io.EOF {
		err = damage{err}
	}
	return n, err
}

// Close closes the entry.
func (d damageReader) Close() error {
	if d.ReadCloser == nil {
		return nil
	}
	return d.ReadCloser.Close()
}

// folderSource lists an unzipped pack: the folder given or, where that holds nothing but one folder, that one.
func folderSource(dir string) (source, []Finding, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return source{}, nil, err
	}
	files := root.FS()
	if _, err := fs.Stat(files, bagItFile); errors.Is(err, fs.ErrNotExist) {
		if list, err := fs.ReadDir(files, "."); err == nil && len(list) == 1 && list[0].IsDir() {
			if files, err = fs.Sub(files, list[0].Name()); err != nil {
				return source{}, nil, err
			}
		}
	}
	var src source
	var findings []Finding
	err = fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
		case !d.Type().IsRegular():
			findings = append(findings, Finding{name, "It is no plain file, so it was not part of the pack."})
		default:
			src.names = append(src.names, name)
		}
		return nil
	})
	slices.Sort(src.names)
	src.open = func(name string) (io.ReadCloser, error) { return files.Open(name) }
	return src, findings, err
}

// archive is a ZIP being verified.
type archive struct {
	source
	top   string // the folder that all files stand in
	files map[string]*zip.File
}

// zipSource lists the files of a ZIP by its directory. The archive is nil, with a finding, when it has none that can be
// read.
func zipSource(r io.ReaderAt, size int64) (*archive, []Finding, error) {
	var first [1]byte
	if _, err := r.ReadAt(first[:], 0); err != nil && err != io.EOF {
		return nil, nil, err
	}
	z, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, []Finding{{ArchiveStructure, "It can't be read as a ZIP: its directory is damaged, or it is none."}}, nil
	}
	count := map[string]int{}
	for _, f := range z.File {
		top, _, _ := strings.Cut(f.Name, "/")
		count[top]++
	}
	a := &archive{files: map[string]*zip.File{}}
	for _, top := range slices.Sorted(maps.Keys(count)) {
		if count[top] > count[a.top] {
			a.top = top
		}
	}
	var findings []Finding
	for _, f := range z.File {
		name, inside := strings.CutPrefix(f.Name, a.top+"/")
		_, twice := a.files[name]
		switch {
		case strings.HasSuffix(f.Name, "/"):
		case !inside || twice || name == "" || path.Clean(name) != name || strings.HasPrefix(name, "../"):
			findings = append(findings, Finding{ArchiveStructure, "It has an entry that stands outside its folder, or a second one of the same name: " + quoted(f.Name) + "."})
		default:
			a.files[name] = f
		}
	}
	a.names = slices.Sorted(maps.Keys(a.files))
	a.open = func(name string) (io.ReadCloser, error) {
		f, ok := a.files[name]
		if !ok {
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
		rc, err := f.Open()
		if err != nil {
			return damageReader{err: err}, nil
		}
		return damageReader{ReadCloser: rc}, nil
	}
	return a, findings, nil
}

// quoted keeps a name from a damaged archive harmless on a terminal.
func quoted(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, name[:min(len(name), 200)])
}

// errDiffers stops the comparison at the first byte that differs.
var errDiffers = errors.New("the archive differs")

// compare writes the archive anew from the files in it, in the canonical layout, and returns where the given bytes first
// differ from that, -1 where they don't. A file that is known to be changed keeps the checksum that its entry states, so
// that one fault is not reported as two.
func (a *archive) compare(r io.Reader, changed map[string]bool) (int64, error) {
	against := &comparer{r: bufio.NewReaderSize(r, 1<<15)}
	z := newZIPWriter(against)
	for _, name := range a.names {
		e := entry{name: a.top + "/" + name, crc: a.files[name].CRC32}
		size, crc, err := a.measured(name)
		if err != nil {
			return 0, err
		}
		if size > maxEntry {
			return z.at, nil
		}
		e.size = uint32(size)
		if !changed[name] {
			e.crc = crc
		}
		z.header(e)
		if err := a.copy(z, name); err != nil && !errors.Is(err, errDiffers) {
			return 0, err
		}
		if z.err != nil {
			break
		}
	}
	if err := z.finish(); err != nil && !errors.Is(err, errDiffers) {
		return 0, err
	}
	return against.end()
}

// measured is the length and CRC of what a file of the archive holds.
func (a *archive) measured(name string) (int64, uint32, error) {
	crc := crc32.NewIEEE()
	var n counter
	err := a.copy(io.MultiWriter(crc, &n), name)
	return int64(n), crc.Sum32(), err
}

type counter int64

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

// copy copies a file of the archive. One that can't be decompressed to its end is copied as far as it goes.
func (a *archive) copy(w io.Writer, name string) error {
	r, err := a.open(name)
	if err != nil {
		return err
	}
	defer r.Close()
	if _, err = io.Copy(w, r); damaged(err) {
		return nil
	}
	return err
}

// comparer compares what is written to it with what it reads.
type comparer struct {
	r   *bufio.Reader
	at  int64
	buf []byte
	off bool
	err error
}

func (c *comparer) Write(p []byte) (int, error) {
	if c.off || c.err != nil {
		return 0, errDiffers
	}
	if cap(c.buf) < len(p) {
		c.buf = make([]byte, len(p))
	}
	got := c.buf[:len(p)]
	n, err := io.ReadFull(c.r, got)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		c.err = err
		return 0, errDiffers
	}
	if n == len(p) && bytes.Equal(got, p) {
		c.at += int64(n)
		return n, nil
	}
	same := 0
	for same < n && got[same] == p[same] {
		same++
	}
	c.at += int64(same)
	c.off = true
	return 0, errDiffers
}

// end says where the first difference is, bytes left over included, or -1.
func (c *comparer) end() (int64, error) {
	if c.err != nil {
		return 0, c.err
	}
	if c.off {
		return c.at, nil
	}
	if _, err := c.r.ReadByte(); err == io.EOF {
		return -1, nil
	} else if err != nil {
		return 0, err
	}
	return c.at, nil
}
