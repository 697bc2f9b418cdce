package pack

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"hash/crc32"
	"io"
	"os"
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
// stands under data/. Open gives the bytes as often as asked. SHA512 is in lower-case hexadecimal, empty where it is not known
// yet. CRC32 is the checksum that a ZIP wants; CRCKnown says that it is set, which saves one reading of the file. Elsewhere
// says that a frozen folder lists the file without holding it, as it does with originals.
type Payload struct {
	Path      string
	Size      int64
	SHA256    Hash
	SHA512    string
	CRC32     uint32
	CRCKnown  bool
	Elsewhere bool
	Open      func() (io.ReadCloser, error)

	move string // where it stands on the disk of a frozen pack, to be moved into it instead of copied; empty for most
}

// Bytes makes a payload of bytes in memory.
func Bytes(name string, b []byte) Payload {
	sums := newDigests()
	sums.Write(b)
	p := sums.of(name)
	p.Open = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(b)), nil }
	return p
}

// written makes a payload of a file that is written at a path of the disk and stays there until the payload is frozen, which moves it.
func written(name, at string, write func(io.Writer) error) (Payload, error) {
	out, err := os.OpenFile(at, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return Payload{}, err
	}
	sums := newDigests()
	buffered := bufio.NewWriterSize(io.MultiWriter(out, sums), 1<<16)
	err = write(buffered)
	if err := errors.Join(err, buffered.Flush(), out.Close()); err != nil {
		return Payload{}, fmt.Errorf("write %s: %w", name, err)
	}
	p := sums.of(name)
	p.Open, p.move = func() (io.ReadCloser, error) { return os.Open(at) }, at
	return p, nil
}

// digests are the checksums of what is written to them.
type digests struct {
	short, long hash.Hash
	crc         hash.Hash32
	size        int64
}

func newDigests() *digests {
	return &digests{short: sha256.New(), long: sha512.New(), crc: crc32.NewIEEE()}
}

func (s *digests) Write(b []byte) (int, error) {
	s.short.Write(b)
	s.long.Write(b)
	s.crc.Write(b)
	s.size += int64(len(b))
	return len(b), nil
}

// of is the payload of the bytes, still to be given what opens it.
func (s *digests) of(name string) Payload {
	return Payload{Path: name, Size: s.size, SHA256: Hash(s.short.Sum(nil)), SHA512: hex.EncodeToString(s.long.Sum(nil)), CRC32: s.crc.Sum32(), CRCKnown: true}
}

// Verify reads the file once and says whether it still has the bytes that were listed: errors.Is(err, ErrChanged).
func (f Payload) Verify(ctx context.Context) error {
	_, err := f.measure(ctx, io.Discard)
	return err
}

// measure reads a payload once, checks it against what was listed and returns it with its CRC and its SHA-512.
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
	into := []io.Writer{w, sum, crc}
	long := sha512.New()
	if f.SHA512 == "" {
		into = append(into, long)
	}
	n, err := io.Copy(io.MultiWriter(into...), io.LimitReader(r, f.Size+1))
	switch {
	case err != nil:
		return f, fmt.Errorf("read %s: %w", f.Path, err)
	case n != f.Size || Hash(sum.Sum(nil)) != f.SHA256 || f.CRCKnown && crc.Sum32() != f.CRC32:
		return f, fmt.Errorf("read %s: %w", f.Path, ErrChanged)
	}
	f.CRC32, f.CRCKnown = crc.Sum32(), true
	if f.SHA512 == "" {
		f.SHA512 = hex.EncodeToString(long.Sum(nil))
	}
	return f, nil
}
