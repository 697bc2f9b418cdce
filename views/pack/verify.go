package pack

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode"
)

// ArchiveStructure stands for a file's name in a Finding about the archive itself: its headers, its directory, or bytes
// that belong to no file.
const ArchiveStructure = "archive structure"

// Finding is one thing that is wrong with a pack. File is its path in the pack, or ArchiveStructure; Problem is a finished
// sentence.
type Finding struct{ File, Problem string }

// String is the finding as one line. Names and words out of a damaged pack may hold anything: what would steer a terminal is
// left out.
func (f Finding) String() string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, f.File+": "+f.Problem)
}

// Report is what Verify found. A pack is sound when there is no finding. Hash is the pack's hash, the SHA-256 of
// manifest-sha256.txt as it stands in the pack: only when it is the one that was written down elsewhere is the pack
// the one that was issued. Files is the number of files that the manifest lists. A pack that was signed by another key than one
// expects, or by none, is sound all the same: Signature says which.
type Report struct {
	Findings  []Finding
	Hash      Hash
	Files     int
	Signature Signature
	Sound     bool
}

// Check looks at what is in a pack, for instance at the chain of events in data/record.json. open gives the file at a path
// of the pack, or an error that is fs.ErrNotExist.
type Check func(open func(name string) (io.ReadCloser, error)) []Finding

// Verify examines a pack, either the ZIP or a folder that it was unzipped into, and names every file that was changed, is
// missing or was added. A ZIP must besides be laid out byte for byte as WriteZIP writes it. The error is for what could
// not be read at all; a damaged pack is a Report with findings.
func Verify(path string, checks ...Check) (Report, error) {
	info, err := os.Stat(path)
	if err != nil {
		return Report{}, fmt.Errorf("verify: %w", err)
	}
	if info.IsDir() {
		src, findings, err := folderSource(path)
		if err != nil {
			return Report{}, fmt.Errorf("verify %s: %w", path, err)
		}
		return examine(src, findings, checks)
	}
	f, err := os.Open(path)
	if err != nil {
		return Report{}, fmt.Errorf("verify: %w", err)
	}
	defer f.Close()
	return VerifyZIP(f, info.Size(), checks...)
}

// VerifyZIP is Verify for a ZIP that is open already, size bytes long.
func VerifyZIP(r io.ReaderAt, size int64, checks ...Check) (Report, error) {
	archive, findings, err := zipSource(r, size)
	if err != nil {
		return Report{}, fmt.Errorf("verify: %w", err)
	}
	if archive == nil {
		return Report{Findings: findings}, nil
	}
	report, err := examine(archive.source, findings, checks)
	if err != nil {
		return report, err
	}
	changed := map[string]bool{}
	for _, f := range report.Findings {
		changed[f.File] = true
	}
	at, err := archive.compare(io.NewSectionReader(r, 0, size), changed)
	if err != nil {
		return report, fmt.Errorf("verify: %w", err)
	}
	if at >= 0 && !changed[ArchiveStructure] {
		report.Findings = append(report.Findings, Finding{ArchiveStructure,
			fmt.Sprintf("From byte %d on the archive is not laid out as it was written: something between the files was changed, added or taken away.", at)})
	}
	report.Sound = len(report.Findings) == 0
	return report, nil
}

// source is the files of a bag, wherever they stand.
type source struct {
	names []string // paths in the bag, in byte order
	open  func(name string) (io.ReadCloser, error)
}

func (s source) has(name string) bool {
	_, ok := slices.BinarySearch(s.names, name)
	return ok
}

// read gives the bytes of a small file; ok is false when it is missing.
func (s source) read(name string) (b []byte, ok bool, err error) {
	if !s.has(name) {
		return nil, false, nil
	}
	r, err := s.open(name)
	if err != nil {
		return nil, false, fmt.Errorf("open %s: %w", name, err)
	}
	defer r.Close()
	b, err = readAll(r)
	if err != nil {
		return nil, false, fmt.Errorf("read %s: %w", name, err)
	}
	return b, true, nil
}

// maxTagFile is the most that a manifest may be, about half a million files.
const maxTagFile = 64 << 20

// readAll reads a tag file, a damaged one as far as it goes.
func readAll(r io.Reader) ([]byte, error) {
	b, err := io.ReadAll(io.LimitReader(r, maxTagFile+1))
	if err != nil && !damaged(err) {
		return nil, err
	}
	if len(b) > maxTagFile {
		return nil, fmt.Errorf("it has more than %d bytes", maxTagFile)
	}
	return b, nil
}

// examine checks the bag and what the caller wants looked at.
func examine(src source, findings []Finding, checks []Check) (Report, error) {
	e := &examination{source: src, findings: findings, sums: map[string]sums{}, suspect: map[string]bool{}, like: map[string]bool{}}
	if err := e.bag(); err != nil {
		return Report{}, fmt.Errorf("verify: %w", err)
	}
	for _, check := range checks {
		e.findings = append(e.findings, check(src.open)...)
	}
	slices.SortStableFunc(e.findings, func(a, b Finding) int { return strings.Compare(a.File, b.File) })
	e.findings = slices.Compact(e.findings)
	return Report{Findings: e.findings, Hash: e.hash, Files: e.files, Signature: e.signed, Sound: len(e.findings) == 0}, nil
}
