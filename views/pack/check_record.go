package pack

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"newelbook/jobs"
)

// maxRecord is the most that a record may be: a great many times the largest job, and what a machine can still read in one go. A
// hostile archive can unpack to any size.
const maxRecord = 512 << 20

// CheckRecord is a Check of what record.json says of itself: that its chain of events is whole and ends at the head that
// it names.
func CheckRecord(open func(name string) (io.ReadCloser, error)) []Finding {
	const name = "data/record.json"
	fault := func(text string) []Finding { return []Finding{{File: name, Problem: text}} }
	r, err := open(name)
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
		out = append(out, Finding{File: name, Problem: text})
	}
	if len(x.Chain) == 0 || x.Chain[len(x.Chain)-1].Head() != x.Head {
		out = append(out, Finding{File: name, Problem: "The chain of events does not end at the head that the record names."})
	}
	return out
}
