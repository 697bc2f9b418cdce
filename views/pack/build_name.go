package pack

import (
	"fmt"

	"newelbook/views/draw"
)

// nameHash is how many digits of the SHA-256 of record.json stand in the code that names a pack: what a person compares with the
// last page.
const nameHash = 16

// name is the code on the first page. It names the pack by job, number and record, all of which the pack prints, and leads nowhere: no
// address and no secret. A reference too long for a code is cut.
func (b *builder) name() *QR {
	ref := []rune(b.x.Job.Ref)
	says := fmt.Sprintf("%s, pack %d, record %s", string(ref[:min(len(ref), 60)]), b.x.Pack, b.RecordHash.String()[:nameHash])
	code, err := draw.NewCode(says)
	if err != nil {
		panic(err) // a code holds more than ten times as much
	}
	return &QR{Says: says, Side: code.Side, Black: code.Black}
}
