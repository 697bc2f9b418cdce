package pack

import (
	"bufio"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"regexp"
	"strings"

	"newelbook/jobs"
)

const recordFile = "data/record.json"

// printed are the files of a pack that say which record they were made from.
func printed() []string {
	out := []string{"data/pack.pdf", "data/html/index.html"} // of the first release
	for _, e := range []Edition{OwnerEdition, InspectorEdition, FramingRequest} {
		out = append(out, "data/"+e.PDF(), "data/"+e.HTML())
	}
	return out
}

// maxRecord is the most that a record may be: a great many times the largest job, and what a machine can still read in one go. A
// hostile archive can unpack to any size.
const maxRecord = 512 << 20

// CheckRecord is a Check of what record.json says of itself and of the pack: that its chain of events is whole and ends at the head
// that it names, that the pack is signed with the key that it names, and that what is to be read was made from it.
func CheckRecord(open func(name string) (io.ReadCloser, error)) []Finding {
	fault := func(text string) []Finding { return []Finding{{File: recordFile, Problem: text}} }
	r, err := open(recordFile)
	if err != nil {
		return fault("It could not be opened: " + err.Error() + ".")
	}
	body, err := io.ReadAll(io.LimitReader(r, maxRecord+1))
	if err := errors.Join(err, r.Close()); err != nil {
		return fault("It could not be read: " + err.Error() + ".")
	}
	if len(body) > maxRecord {
		return fault(fmt.Sprintf("It has more than %d bytes, which no record has.", maxRecord))
	}
	var x jobs.Export
	if err := json.Unmarshal(body, &x); err != nil {
		return fault("It is not a record: " + err.Error() + ".")
	}
	if x.Format != jobs.ExportFormat {
		return fault(fmt.Sprintf("It is of the form %q, and this program reads %q.", x.Format, jobs.ExportFormat))
	}
	var out []Finding
	for _, text := range jobs.VerifyChain(x.Chain) {
		out = append(out, Finding{File: recordFile, Problem: text})
	}
	if len(x.Chain) == 0 || x.Chain[len(x.Chain)-1].Head() != x.Head {
		out = append(out, Finding{File: recordFile, Problem: "The chain of events does not end at the head that the record names."})
	}
	out = append(out, checkPapers(open, x.Papers)...)
	if x.SignedBy == "" { // of the first release, which signed nothing and whose files name no record
		return out
	}
	out = append(out, checkSigner(open, x.SignedBy)...)
	return append(out, checkPrinted(open, sha256.Sum256(body))...)
}

// checkPapers holds the attached papers that the record says are enclosed against their files.
func checkPapers(open func(name string) (io.ReadCloser, error), papers []jobs.ExportPaper) []Finding {
	var out []Finding
	for _, p := range papers {
		if p.Enclosed == "" {
			continue
		}
		name := "data/" + p.Enclosed
		r, err := open(name)
		if errors.Is(err, fs.ErrNotExist) {
			out = append(out, Finding{name, "It is missing; by the record, " + strings.ToLower(p.Label()) + " is enclosed."})
			continue
		}
		sum := sha256.New()
		if err == nil {
			_, err = io.Copy(sum, r)
			err = errors.Join(err, r.Close())
		}
		switch {
		case err != nil && damaged(err): // found where the archive is examined
		case err != nil:
			out = append(out, Finding{name, "It could not be read: " + err.Error() + "."})
		case Hash(sum.Sum(nil)) != Hash(p.Media):
			out = append(out, Finding{name, "It is not the file that the record names as " + strings.ToLower(p.Label()) + "."})
		}
	}
	return out
}

// checkSigner holds the key in the signature against the one that the record names.
func checkSigner(open func(name string) (io.ReadCloser, error), named string) []Finding {
	r, err := open(signatureFile)
	if errors.Is(err, fs.ErrNotExist) {
		return []Finding{{signatureFile, "It is missing; by the record, the pack was signed with the key " + named + "."}}
	} else if err != nil {
		return []Finding{{signatureFile, "It could not be opened: " + err.Error() + "."}}
	}
	text, err := readAll(r)
	if err := errors.Join(err, r.Close()); err != nil {
		return []Finding{{signatureFile, "It could not be read: " + err.Error() + "."}}
	}
	if s := readSignature(text, nil); s.Key != (Hash{}) && s.Key.String() != named {
		return []Finding{{signatureFile, fmt.Sprintf("It was made with the key %s; by the record, the pack was signed with the key %s.", s.Key, named)}}
	}
	return nil
}

var madeFrom = regexp.MustCompile(`sha256:([0-9a-f]{64})`)

// checkPrinted demands of every page of the pack that it names the record beside it as what it was made from.
func checkPrinted(open func(name string) (io.ReadCloser, error), record Hash) []Finding {
	var out []Finding
	for _, name := range printed() {
		r, err := open(name)
		if errors.Is(err, fs.ErrNotExist) {
			continue // its manifest says so
		}
		if err == nil {
			var made string
			made, err = source256(r)
			if err = errors.Join(err, r.Close()); err == nil && made != record.String() {
				out = append(out, Finding{name, fmt.Sprintf("It was made from another record than the one in this pack: from %s.", orText(made, "none that it names"))})
			}
		}
		if err != nil && !damaged(err) { // damage is found where the archive is examined
			out = append(out, Finding{name, "It could not be read: " + err.Error() + "."})
		}
	}
	return out
}

// source256 is the hash of the record that a PDF or a page of HTML names in its metadata: the last one in it, since a picture before
// that may hold anything. Memory doesn't grow with the file.
func source256(r io.Reader) (string, error) {
	in, last := bufio.NewReaderSize(r, 1<<16), ""
	for {
		part, err := in.Peek(1 << 16)
		if found := madeFrom.FindAllSubmatch(part, -1); len(found) > 0 {
			last = string(found[len(found)-1][1])
		}
		switch {
		case errors.Is(err, io.EOF):
			return last, nil
		case err != nil && !errors.Is(err, bufio.ErrBufferFull):
			return last, err
		}
		if _, err := in.Discard(len(part) - overlap); err != nil {
			return last, err
		}
	}
}

// overlap is how much is looked at twice, so that what lies across two parts is found: no less than "sha256:" and a hash.
const overlap = 80
