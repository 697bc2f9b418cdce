package pack

import "fmt"

// integrity is the small print at the back: how anyone tells that nothing was changed, with the hashes.
func (b *builder) integrity() Section {
	s := Section{ID: "integrity", Heading: "How to tell that nothing was changed", Level: 1, Whole: true, Blocks: []Block{
		small("Every change to this job is an event in a chain in which each carries the hash of the one before. The whole chain is in record.json, in the archive of this pack. The archive is a BagIt bag (RFC 8493): sha256sum -c manifest-sha256.txt checks every file in it without this program, and sha512sum -c manifest-sha512.txt does it a second way."),
	}}
	facts := []Fact{
		{Key: "SHA-256 of record.json", Value: Cell{Text: b.RecordHash.String()}},
		{Key: fmt.Sprintf("Head of the chain, event %d", b.x.Head.Seq), Value: Cell{Text: b.x.Head.Hash}},
	}
	if b.x.SignedBy != "" {
		s.Blocks = append(s.Blocks, small("The archive is signed (Ed25519, RFC 8032) with the key of the builder's installation. Compare the fingerprint below with the one that the builder gives you: newelbook verify --key and the fingerprint does the rest. A signature by another key means that the key was changed or that somebody else made the pack; it does not mean that a file was changed."))
		facts = append(facts, Fact{Key: "Fingerprint of the signing key", Value: Cell{Text: b.x.SignedBy}})
	}
	s.Blocks = append(s.Blocks, small("The PDF of this edition is made to the rules of ISO 19005-3 (PDF/A-3, level A) for archives. It was not validated: no validator was at hand. The clauses that it is made to are held by this program's own tests against the file as qpdf and poppler read it. The inspector's PDF carries record.json within it, as an attachment, so that the hash below can be checked with that file alone."))
	facts = append(facts, Fact{Key: "Frozen", Value: Cell{Text: fmt.Sprintf("%s by %s", b.moment(b.x.Frozen), b.x.FrozenBy.Name)}})
	s.Blocks = append(s.Blocks, Integrity{Facts: facts})
	return s
}

func small(text string) Para { return Para{Runs: []Run{{Text: text}}, Small: true} }
