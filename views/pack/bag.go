package pack

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"time"
)

// Info is what bag-info.txt says, besides the number of bytes and files.
type Info struct {
	Created      time.Time // Bagging-Date is its day in its own zone
	Organization string    // Source-Organization: the builder's firm
	Identifier   string    // External-Identifier: the pack's own name, for instance "NB-0107/2"
	Description  string    // External-Description: one line
}

// Bag is a pack as a BagIt bag (RFC 8493): its folder name, what is said of it, the files that it is about (under data/) and
// further tag files at its top, such as a README.txt. Signature is the text of signature.txt as Sign made it, empty for none.
// First says that the bag is one of the first release, which had manifests of SHA-256 alone.
type Bag struct {
	Name      string
	Info      Info
	Files     []Payload
	Tags      []Payload
	Signature []byte
	First     bool
}

// The tag files of a bag. The first two manifests and their tag manifests are in every bag; those of SHA-512 since the second
// release.
const (
	bagItFile    = "bagit.txt"
	bagInfoFile  = "bag-info.txt"
	manifestFile = "manifest-sha256.txt"
	tagsFile     = "tagmanifest-sha256.txt"
	longFile     = "manifest-sha512.txt"
	longTagsFile = "tagmanifest-sha512.txt"
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
		if strings.Contains(f.Path, "/") || slices.Contains([]string{bagItFile, bagInfoFile, signatureFile, "fetch.txt"}, f.Path) ||
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

// Measured is the bag with every checksum of its files known: those that are not yet are read through once.
func (b Bag) Measured(ctx context.Context) (Bag, error) { return b.measured(ctx, nil) }

func (b Bag) measured(ctx context.Context, told func(Progress)) (Bag, error) {
	if err := b.check(); err != nil {
		return Bag{}, err
	}
	b.Files, b.Tags = slices.Clone(b.Files), slices.Clone(b.Tags)
	var unknown []*Payload
	for _, files := range [][]Payload{b.Files, b.Tags} {
		for i := range files {
			if f := &files[i]; !f.CRCKnown || f.SHA512 == "" && !b.First {
				unknown = append(unknown, f)
			}
		}
	}
	done := counting(told, StepFiles, len(unknown))
	err := atOnce(ctx, len(unknown), func(ctx context.Context, k int) error {
		f, err := unknown[k].measure(ctx, io.Discard)
		if err == nil {
			*unknown[k] = f
			done.one()
		}
		return err
	})
	if err != nil {
		return Bag{}, err
	}
	return b, nil
}

// tags are the tag files that the tag manifests list, those that follow from the bag's files included. The bag must be measured.
func (b Bag) tags() []Payload {
	out := []Payload{Bytes(bagItFile, []byte(bagItText)), Bytes(bagInfoFile, b.info()), Bytes(manifestFile, manifestOf(b.Files, sum256Of))}
	if !b.First {
		out = append(out, Bytes(longFile, manifestOf(b.Files, sum512Of)))
	}
	return append(out, b.Tags...)
}

// complete returns the files of a measured bag with all its tag files, in byte order of their paths. The signature is in no tag
// manifest: it is made over one.
func (b Bag) complete() []Payload {
	tags := b.tags()
	all := slices.Concat(b.Files, tags, []Payload{Bytes(tagsFile, manifestOf(tags, sum256Of))})
	if !b.First {
		all = append(all, Bytes(longTagsFile, manifestOf(tags, sum512Of)))
	}
	if len(b.Signature) > 0 {
		all = append(all, Bytes(signatureFile, b.Signature))
	}
	slices.SortFunc(all, func(x, y Payload) int { return strings.Compare(x.Path, y.Path) })
	return all
}

// Hash is the hash of the pack: the SHA-256 of its manifest, which lists the hash of every file in it.
func (b Bag) Hash() Hash { return sha256.Sum256(manifestOf(b.Files, sum256Of)) }

func sum256Of(f Payload) string { return f.SHA256.String() }
func sum512Of(f Payload) string { return f.SHA512 }

// manifestOf lists files in byte order of their paths, as sha256sum and sha512sum do.
func manifestOf(files []Payload, sum func(Payload) string) []byte {
	sorted := slices.Clone(files)
	slices.SortFunc(sorted, func(x, y Payload) int { return strings.Compare(x.Path, y.Path) })
	var b strings.Builder
	for _, f := range sorted {
		b.WriteString(sum(f) + "  " + f.Path + "\n")
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
