package pack

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path"
	"slices"
	"strings"
	"time"
)

// ErrChanged says that a file no longer has the bytes that were listed for it.
var ErrChanged = errors.New("the file is not what was listed")

// Hash is a SHA-256.
type Hash [sha256.Size]byte

// String is the hash in lower-case hexadecimal.
func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// ParseHash reads a SHA-256 in hexadecimal, in capitals or not.
func ParseHash(s string) (Hash, error) {
	var h Hash
	b, err := hex.DecodeString(s)
	if err != nil || len(b) != len(h) {
		return Hash{}, fmt.Errorf("%q is no SHA-256", s)
	}
	copy(h[:], b)
	return h, nil
}

// Payload is one file of a pack. Path is relative to the top of the bag, with forward slashes: what the pack is about
// stands under data/. Open gives the bytes as often as asked. CRC32 is the checksum that a ZIP wants; CRCKnown says that
// it is set, which saves one reading of the file. Elsewhere says that a frozen folder lists the file without holding it,
// as it does with originals.
type Payload struct {
	Path      string
	Size      int64
	SHA256    Hash
	CRC32     uint32
	CRCKnown  bool
	Elsewhere bool
	Open      func() (io.ReadCloser, error)
}

// Bytes makes a payload of bytes in memory.
func Bytes(name string, b []byte) Payload {
	return Payload{
		Path: name, Size: int64(len(b)), SHA256: sha256.Sum256(b), CRC32: crc32.ChecksumIEEE(b), CRCKnown: true,
		Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(b)), nil },
	}
}

// written makes a payload of a file that is written at a path of the disk and stays there as long as the payload is used.
func written(name, at string, write func(io.Writer) error) (Payload, error) {
	out, err := os.OpenFile(at, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return Payload{}, err
	}
	buffered, sum, crc, size := bufio.NewWriterSize(out, 1<<16), sha256.New(), crc32.NewIEEE(), new(counter)
	err = write(io.MultiWriter(buffered, sum, crc, size))
	if err := errors.Join(err, buffered.Flush(), out.Close()); err != nil {
		return Payload{}, fmt.Errorf("write %s: %w", name, err)
	}
	return Payload{
		Path: name, Size: int64(*size), SHA256: Hash(sum.Sum(nil)), CRC32: crc.Sum32(), CRCKnown: true,
		Open: func() (io.ReadCloser, error) { return os.Open(at) },
	}, nil
}

// Info is what bag-info.txt says, besides the number of bytes and files.
type Info struct {
	Created      time.Time // Bagging-Date is its day in its own zone
	Organization string    // Source-Organization: the builder's firm
	Identifier   string    // External-Identifier: the pack's own name, for instance "NB-0107/2"
	Description  string    // External-Description: one line
}

// Bag is a pack as a BagIt bag (RFC 8493): its folder name, what is said of it, the files that it is about (under data/) and
// further tag files at its top, such as a README.txt.
type Bag struct {
	Name  string
	Info  Info
	Files []Payload
	Tags  []Payload
}

// The tag files that every bag has.
const (
	bagItFile    = "bagit.txt"
	bagInfoFile  = "bag-info.txt"
	manifestFile = "manifest-sha256.txt"
	tagsFile     = "tagmanifest-sha256.txt"
	bagItText    = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
)

// check refuses what could not be unpacked everywhere, or would not come back as it went in.
func (b Bag) check() error {
	if !plainName(b.Name) {
		return fmt.Errorf("bag %q: the folder's name must be letters, digits, dots and dashes", b.Name)
	}
	var faults []error
	seen := map[string]string{}
	for _, f := range slices.Concat(b.Files, b.Tags) {
		parts := strings.Split(f.Path, "/")
		if slices.ContainsFunc(parts, func(p string) bool { return !plainName(p) }) || path.Clean(f.Path) != f.Path {
			faults = append(faults, fmt.Errorf("file %q: a path must be letters, digits, dots and dashes between slashes", f.Path))
		}
		if before, twice := seen[strings.ToLower(f.Path)]; twice {
			faults = append(faults, fmt.Errorf("file %q: its name is taken by %q", f.Path, before))
		}
		seen[strings.ToLower(f.Path)] = f.Path
		if f.Open == nil || f.Size < 0 || f.Size > maxEntry {
			faults = append(faults, fmt.Errorf("file %q: it has no bytes, or more than a ZIP entry holds", f.Path))
		}
	}
	for _, f := range b.Files {
		if !strings.HasPrefix(f.Path, "data/") {
			faults = append(faults, fmt.Errorf("file %q: it must stand under data/", f.Path))
		}
	}
	for _, f := range b.Tags {
		if strings.Contains(f.Path, "/") || slices.Contains([]string{bagItFile, bagInfoFile, manifestFile, tagsFile, "fetch.txt"}, f.Path) ||
			strings.HasPrefix(f.Path, "manifest-") || strings.HasPrefix(f.Path, "tagmanifest-") {
			faults = append(faults, fmt.Errorf("file %q: it can't be a tag file", f.Path))
		}
	}
	return errors.Join(faults...)
}

// plainName says that a name means the same on every system.
func plainName(s string) bool {
	if s == "" || len(s) > 200 || s[0] == '.' || s[len(s)-1] == '.' {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if !(c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' || c == '.' || c == '-' || c == '_') {
			return false
		}
	}
	return true
}

// complete returns the bag's files with the tag files that follow from them, in byte order of their paths.
func (b Bag) complete() ([]Payload, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	manifest := Bytes(manifestFile, manifestOf(b.Files))
	tags := append([]Payload{
		Bytes(bagItFile, []byte(bagItText)), Bytes(bagInfoFile, b.info()), manifest,
	}, b.Tags...)
	all := slices.Concat(b.Files, tags, []Payload{Bytes(tagsFile, manifestOf(tags))})
	slices.SortFunc(all, func(x, y Payload) int { return strings.Compare(x.Path, y.Path) })
	return all, nil
}

// Hash is the hash of the pack: the SHA-256 of its manifest, which lists the hash of every file in it.
func (b Bag) Hash() Hash { return sha256.Sum256(manifestOf(b.Files)) }

// manifestOf lists files in byte order of their paths, as sha256sum does.
func manifestOf(files []Payload) []byte {
	sorted := slices.Clone(files)
	slices.SortFunc(sorted, func(x, y Payload) int { return strings.Compare(x.Path, y.Path) })
	var b strings.Builder
	for _, f := range sorted {
		fmt.Fprintf(&b, "%s  %s\n", f.SHA256, f.Path)
	}
	return []byte(b.String())
}

// info is the text of bag-info.txt.
func (b Bag) info() []byte {
	var octets int64
	for _, f := range b.Files {
		octets += f.Size
	}
	var out strings.Builder
	line := func(label, value string) {
		value = strings.Join(strings.Fields(value), " ")
		if value != "" {
			out.WriteString(label + ": " + value + "\n")
		}
	}
	line("Source-Organization", b.Info.Organization)
	line("External-Identifier", b.Info.Identifier)
	line("External-Description", b.Info.Description)
	if !b.Info.Created.IsZero() {
		line("Bagging-Date", b.Info.Created.Format("2006-01-02"))
	}
	line("Payload-Oxum", fmt.Sprintf("%d.%d", octets, len(b.Files)))
	return []byte(out.String())
}

// Verify reads the file once and says whether it still has the bytes that were listed: errors.Is(err, ErrChanged).
func (f Payload) Verify(ctx context.Context) error {
	_, err := f.measure(ctx, io.Discard)
	return err
}

// measure reads a payload once, checks it against what was listed and returns it with its CRC.
func (f Payload) measure(ctx context.Context, w io.Writer) (Payload, error) {
	if err := ctx.Err(); err != nil {
		return f, err
	}
	r, err := f.Open()
	if err != nil {
		return f, fmt.Errorf("open %s: %w", f.Path, err)
	}
	defer r.Close()
	sum, crc := sha256.New(), crc32.NewIEEE()
	n, err := io.Copy(io.MultiWriter(w, sum, crc), io.LimitReader(r, f.Size+1))
	switch {
	case err != nil:
		return f, fmt.Errorf("read %s: %w", f.Path, err)
	case n != f.Size || Hash(sum.Sum(nil)) != f.SHA256 || f.CRCKnown && crc.Sum32() != f.CRC32:
		return f, fmt.Errorf("read %s: %w", f.Path, ErrChanged)
	}
	f.CRC32, f.CRCKnown = crc.Sum32(), true
	return f, nil
}
