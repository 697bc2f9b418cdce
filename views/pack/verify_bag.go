package pack

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// sums are the checksums of one file by the name of the algorithm, in lower case, and its length.
type sums struct {
	hex  map[string]string
	size int64
}

// examination is one bag being checked.
type examination struct {
	source
	findings []Finding
	sums     map[string]sums
	suspect  map[string]bool // files whose bytes don't fit the archive's own checksum
	unlike   [][2]string     // files and the manifest that lists other bytes for them
	like     map[string]bool // files whose bytes some manifest lists
	signed   Signature
	hash     Hash
	files    int
}

func (e *examination) find(file, format string, args ...any) {
	e.findings = append(e.findings, Finding{file, fmt.Sprintf(format, args...)})
}

// faulty says whether something was found about a file.
func (e *examination) faulty(file string) bool {
	return slices.ContainsFunc(e.findings, func(f Finding) bool { return f.File == file })
}

// bag checks a bag against RFC 8493 and against what WriteZIP writes: every manifest complete and right, every tag file
// listed, nothing besides.
func (e *examination) bag() error {
	text, ok, err := e.read(bagItFile)
	if err != nil {
		return err
	}
	switch {
	case !ok:
		e.find(bagItFile, "It is missing: this is no pack, or part of one.")
	case string(text) != bagItText:
		e.find(bagItFile, "It is not the two lines that a bag of version 1.0 begins with.")
	}
	if err := e.signature(); err != nil {
		return err
	}
	manifests, tagManifests := []string{}, []string{}
	for _, name := range e.names {
		if strings.HasPrefix(name, "manifest-") && strings.HasSuffix(name, ".txt") {
			manifests = append(manifests, name)
		}
		if strings.HasPrefix(name, "tagmanifest-") && strings.HasSuffix(name, ".txt") {
			tagManifests = append(tagManifests, name)
		}
	}
	if err := e.sumAll(); err != nil {
		return err
	}
	payload := func(name string) bool { return strings.HasPrefix(name, "data/") }
	for _, m := range needed(manifests, manifestFile) {
		listed, err := e.manifest(m, payload)
		if err != nil {
			return err
		}
		if m == manifestFile {
			e.files = listed
		}
	}
	if h, ok := e.sums[manifestFile]; ok {
		if e.hash, err = ParseHash(h.hex["sha256"]); err != nil {
			return err
		}
	}
	if err := e.oxum(); err != nil {
		return err
	}
	tags := func(name string) bool {
		return !payload(name) && name != signatureFile && !slices.Contains(tagManifests, name)
	}
	need := needed(tagManifests, tagsFile)
	if slices.Contains(manifests, longFile) {
		need = needed(need, longTagsFile)
	}
	for _, m := range need {
		if _, err := e.manifest(m, tags); err != nil {
			return err
		}
	}
	e.judge()
	if e.signed.State == WrongSigned {
		e.find(signatureFile, "It is not what its key makes over %s as that stands: one of the two was changed after the pack was signed.", tagsFile)
	}
	for _, m := range []string{tagsFile, longTagsFile} {
		if err := e.lastWord(m); err != nil {
			return err
		}
	}
	return nil
}

// signature checks the signature, if there is one, before anything else: where it is good, the tag manifest is as it was signed
// and whatever does not fit it was changed.
func (e *examination) signature() error {
	text, ok, err := e.read(signatureFile)
	if err != nil || !ok {
		return err
	}
	over, _, err := e.read(tagsFile)
	if err != nil {
		return err
	}
	e.signed = readSignature(text, over)
	return nil
}

// needed is the names with the one that must be there.
func needed(names []string, must string) []string {
	if slices.Contains(names, must) {
		return names
	}
	return append(names, must)
}

// sumAll reads every file once.
func (e *examination) sumAll() error {
	for _, name := range e.names {
		r, err := e.open(name)
		if err != nil {
			return fmt.Errorf("open %s: %w", name, err)
		}
		hashes := map[string]hash.Hash{"sha256": sha256.New(), "sha512": sha512.New()}
		n, err := io.Copy(io.MultiWriter(hashes["sha256"], hashes["sha512"]), r)
		r.Close()
		switch {
		case errors.Is(err, zip.ErrChecksum):
			e.suspect[name] = true
		case damaged(err):
			e.find(name, "It can't be read from the archive; its header or its bytes are damaged.")
		case err != nil:
			return fmt.Errorf("read %s: %w", name, err)
		}
		s := sums{hex: map[string]string{}, size: n}
		for alg, h := range hashes {
			s.hex[alg] = hex.EncodeToString(h.Sum(nil))
		}
		e.sums[name] = s
	}
	return nil
}

// manifest checks the files that cover says it must list against the manifest or tag manifest of that name, and returns how
// many it lists.
func (e *examination) manifest(name string, cover func(string) bool) (listed int, err error) {
	text, ok, err := e.read(name)
	if err != nil {
		return 0, err
	}
	if !ok {
		e.find(name, "It is missing, so nothing in the pack can be checked against it.")
		return 0, nil
	}
	alg := algorithm(name)
	if alg != "sha256" && alg != "sha512" {
		e.find(name, "Its checksums are of a kind that is not checked here, so it should not be in a pack.")
		return 0, nil
	}
	lines := strings.Split(string(text), "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	want := map[string]string{}
	for i, l := range lines {
		sum, file, ok := manifestLine(l)
		switch _, twice := want[file]; {
		case !ok || len(sum) != len(e.zero(alg)):
			e.find(name, "Line %d is not a checksum and a path.", i+1)
		case !cover(file):
			e.find(name, "Line %d lists %s, which it may not.", i+1, file)
		case twice:
			e.find(name, "Line %d lists %s a second time.", i+1, file)
		default:
			want[file] = sum
		}
	}
	for _, file := range slices.Sorted(maps.Keys(want)) {
		switch got, there := e.sums[file]; {
		case !there:
			e.find(file, "It is missing; %s lists it.", name)
		case got.hex[alg] != want[file]:
			e.unlike = append(e.unlike, [2]string{file, name})
		default:
			e.like[file] = true
		}
	}
	for _, file := range e.names {
		if _, ok := want[file]; !ok && cover(file) {
			e.find(file, "It was added after the pack was made; %s does not list it.", name)
		}
	}
	return len(want), nil
}

// zero is a checksum of the right length.
func (e *examination) zero(alg string) string {
	if alg == "sha512" {
		return strings.Repeat("0", 2*sha512.Size)
	}
	return strings.Repeat("0", 2*sha256.Size)
}

// judge words what was found about files that a manifest lists otherwise, and says which of the two was changed where that can be
// told: two manifests never err in the same file by chance, and a good signature vouches for the tag manifest.
func (e *examination) judge() {
	against := map[string]int{}
	for _, u := range e.unlike {
		against[u[0]]++
	}
	for _, u := range e.unlike {
		file, manifest := u[0], u[1]
		payload := strings.HasPrefix(file, "data/")
		switch {
		case e.like[file]:
			if !e.faulty(manifest) {
				e.find(manifest, "It was changed; %s is right by another manifest and is listed otherwise.", file)
			}
		case e.faulty(file):
		case payload && e.faulty(manifest):
			e.find(file, "It does not match %s, which was changed itself.", manifest)
		case payload, against[file] > 1, e.signed.State == Signed && manifest == tagsFile:
			e.find(file, "It was changed; its bytes are not those that %s lists.", manifest)
		case file == manifestFile && !e.payloadFaulty() || file == bagItFile || e.suspect[manifest] && !e.suspect[file]:
			e.find(manifest, "It was changed; %s is right and is listed otherwise.", file)
		default:
			e.find(file, "It does not match %s; one of the two was changed.", manifest)
		}
	}
}

// payloadFaulty says whether anything was found about the payload or its manifest.
func (e *examination) payloadFaulty() bool {
	return slices.ContainsFunc(e.findings, func(f Finding) bool {
		return f.File == manifestFile || strings.HasPrefix(f.File, "data/")
	})
}

// manifestLine reads a checksum in hexadecimal, in capitals or not, blanks, and a path, whose %0A, %0D and %25 stand for
// a line feed, a carriage return and the sign itself (RFC 8493, 2.1.3).
func manifestLine(l string) (sum, file string, ok bool) {
	i := strings.IndexAny(l, " \t")
	if i <= 0 {
		return "", "", false
	}
	file = strings.TrimLeft(l[i:], " \t")
	if _, err := hex.DecodeString(l[:i]); err != nil || file == "" {
		return "", "", false
	}
	file = strings.NewReplacer("%0A", "\n", "%0a", "\n", "%0D", "\r", "%0d", "\r", "%25", "%").Replace(file)
	return strings.ToLower(l[:i]), file, true
}

// oxum checks the count of bytes and files in bag-info.txt, which is no substitute for the checksums.
func (e *examination) oxum() error {
	text, ok, err := e.read(bagInfoFile)
	if err != nil {
		return err
	}
	if !ok {
		e.find(bagInfoFile, "It is missing.")
		return nil
	}
	var octets, streams int64
	for _, name := range e.names {
		if strings.HasPrefix(name, "data/") {
			octets += e.sums[name].size
			streams++
		}
	}
	said := 0
	for l := range strings.Lines(string(text)) {
		value, ok := strings.CutPrefix(strings.TrimRight(l, "\n"), "Payload-Oxum:")
		if !ok {
			continue
		}
		said++
		a, b, _ := strings.Cut(strings.TrimLeft(value, " \t"), ".")
		o, err1 := strconv.ParseInt(a, 10, 64)
		s, err2 := strconv.ParseInt(b, 10, 64)
		if err1 != nil || err2 != nil || o != octets || s != streams {
			e.find(bagInfoFile, "It counts%s as bytes and files; the pack has %d.%d.", value, octets, streams)
		}
	}
	if said != 1 {
		e.find(bagInfoFile, "It must count the bytes and files once, in a line Payload-Oxum.")
	}
	return nil
}

// lastWord checks what no checksum covers: a tag manifest must be written as WriteZIP writes it, or the same with its checksums
// in capitals.
func (e *examination) lastWord(manifest string) error {
	text, ok, err := e.read(manifest)
	if err != nil || !ok || len(e.findings) > 0 {
		return err
	}
	alg := algorithm(manifest)
	var plain, capitals []byte
	for _, name := range e.names { // in byte order, as a manifest lists them
		if strings.HasPrefix(name, "data/") || strings.HasPrefix(name, "tagmanifest-") || name == signatureFile {
			continue
		}
		sum := e.sums[name].hex[alg]
		plain = append(plain, sum+"  "+name+"\n"...)
		capitals = append(capitals, strings.ToUpper(sum)+"  "+name+"\n"...)
	}
	if !bytes.Equal(text, plain) && !bytes.Equal(text, capitals) {
		e.find(manifest, "It was changed; its checksums are right but it is not written as it was.")
	}
	return nil
}

// algorithm is the name of a manifest's algorithm.
func algorithm(manifest string) string {
	return strings.TrimSuffix(manifest[strings.Index(manifest, "-")+1:], ".txt")
}
