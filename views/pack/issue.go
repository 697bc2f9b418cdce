package pack

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"newelbook/jobs"
	"newelbook/media"
)

// Issuer issues packs and opens issued ones. Dir is the folder of frozen packs; each stands under its job's id. KeyFile holds
// the installation's key, which signs every pack; it is made when the first one is issued.
type Issuer struct {
	Service *jobs.Service
	Media   *media.Library
	Dir     string
	KeyFile string
	// Told, where it is set, hears how far an issue is, one call at a time.
	Told func(Progress)
}

// Order is what a pack is to be.
type Order = jobs.ExportInput

// Issue freezes the job as it stands into the next pack: record.json, PDF, HTML, tables, the pictures shown and, where
// asked, the originals, then records the issue. When somebody else issued a pack meanwhile the answer is a
// jobs.ConflictError and nothing is kept. The same form again returns the pack that it made the first time.
func (i Issuer) Issue(ctx context.Context, by jobs.By, jobID string, o Order) (issued jobs.IssuedPack, err error) {
	if err := jobs.MayIssue(by.Actor); err != nil {
		return jobs.IssuedPack{}, err
	}
	if o.Originals && o.NoPositions {
		return jobs.IssuedPack{}, &jobs.InvalidError{Fields: []jobs.FieldError{{Field: "originals", Message: "Leave the originals out too, or let the positions go with them: what the camera wrote stands in an original and is never taken out of it."}}}
	}
	if earlier, repeated, err := i.Service.Repeated(ctx, by); err != nil {
		return jobs.IssuedPack{}, err
	} else if repeated {
		return i.issued(ctx, by, jobID, earlier)
	}
	rec, events, err := i.Service.RecordWithEvents(ctx, jobID)
	if err != nil {
		return jobs.IssuedPack{}, err
	}
	key, err := i.Key(ctx)
	if err != nil {
		return jobs.IssuedPack{}, err
	}
	x, err := rec.Export(events, by.Actor, o, i.Service.Now())
	if err != nil {
		return jobs.IssuedPack{}, err
	}
	x.SignedBy = key.Fingerprint().String()
	parent := filepath.Join(i.Dir, jobID)
	if err := os.MkdirAll(parent, 0o750); err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("make pack folder: %w", err)
	}
	temp, err := os.MkdirTemp(parent, ".issue-")
	if err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("make pack %d of job %s: %w", x.Pack, jobID, err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(temp)) }()
	bag, record, err := i.bag(ctx, rec, &x, temp)
	if err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("make pack %d of job %s: %w", x.Pack, jobID, err)
	}
	if bag, err = bag.measured(ctx, i.Told); err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("make pack %d of job %s: %w", x.Pack, jobID, err)
	}
	if bag, err = bag.Sign(key); err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("make pack %d of job %s: %w", x.Pack, jobID, err)
	}
	p := jobs.IssuedPack{
		Editions: editionNames(bag),
		Number:   x.Pack, Issued: x.Frozen, By: by.Actor, Purpose: o.Purpose, Hash: bag.Hash().String(), RecordHash: record.String(),
		HeadSeq: x.Head.Seq, HeadHash: x.Head.Hash, Originals: o.Originals, NoPositions: o.NoPositions, SignedBy: x.SignedBy, Open: x.Open,
	}
	if err := freeze(ctx, i.folder(jobID, p), bag, i.Told); err != nil {
		return jobs.IssuedPack{}, err
	}
	return i.record(ctx, by, jobID, p)
}

// editionNames are the documents that a bag holds.
func editionNames(b Bag) []string {
	var out []string
	for _, e := range []Edition{OwnerEdition, InspectorEdition, FramingRequest} {
		if slices.ContainsFunc(b.Files, func(f Payload) bool { return f.Path == "data/"+e.PDF() }) {
			out = append(out, string(e))
		}
	}
	return out
}

// Key is the installation's key. It is made where there is none, and noted as the one in use.
func (i Issuer) Key(ctx context.Context) (Key, error) {
	k, err := OpenKey(i.KeyFile)
	if err != nil {
		return Key{}, err
	}
	return k, i.Service.UseSigningKey(ctx, k.Fingerprint().String())
}

// issued is the pack that a form made before.
func (i Issuer) issued(ctx context.Context, by jobs.By, jobID, result string) (jobs.IssuedPack, error) {
	var number int
	if _, err := fmt.Sscan(result, &number); err != nil {
		return jobs.IssuedPack{}, fmt.Errorf("result of form %s: %w", by.Form, err)
	}
	rec, err := i.Service.Record(ctx, jobID)
	if err != nil {
		return jobs.IssuedPack{}, err
	}
	p, ok := rec.Pack(number)
	if !ok {
		return jobs.IssuedPack{}, jobs.ErrNotFound
	}
	return p, nil
}

// record takes a frozen pack into the record and returns the one that stands there. The folder is removed only when the record
// is seen not to name it: it was refused, or the same form was sent twice at once and the other one was first.
func (i Issuer) record(ctx context.Context, by jobs.By, jobID string, p jobs.IssuedPack) (jobs.IssuedPack, error) {
	refused := i.Service.RecordIssue(ctx, by, jobID, p)
	rec, err := i.Service.Record(context.WithoutCancel(ctx), jobID)
	if err != nil {
		return jobs.IssuedPack{}, errors.Join(refused, err)
	}
	stands, ok := rec.Pack(p.Number)
	if ok && stands.Hash == p.Hash {
		return stands, nil
	}
	err = errors.Join(refused, os.RemoveAll(i.folder(jobID, p)))
	if err == nil && !ok {
		err = jobs.ErrNotFound
	}
	if err != nil {
		return jobs.IssuedPack{}, err
	}
	return stands, nil
}

// Open is an issued pack as a bag: its files, and WriteZIP for the archive.
func (i Issuer) Open(jobID string, p jobs.IssuedPack) (Bag, error) {
	return OpenFrozen(i.folder(jobID, p), func(h Hash) (io.ReadCloser, error) {
		r, _, err := i.Media.Originals().Open(context.Background(), media.ID(h))
		return r, err
	})
}

// folder is named by number and hash, so that what a crash left behind is never in the way of the next issue.
func (i Issuer) folder(jobID string, p jobs.IssuedPack) string {
	return filepath.Join(i.Dir, jobID, fmt.Sprintf("%d-%.12s", p.Number, p.Hash))
}

// bag gathers the files of a pack, and the hash of its record.json. The PDF, which holds every picture, is written into temp.
// Photographs whose original is lost are added to what the record says is missing.
func (i Issuer) bag(ctx context.Context, rec *jobs.Record, x *jobs.Export, temp string) (Bag, Hash, error) {
	pictures, marked, files, err := i.pictures(ctx, rec, x, temp)
	if err != nil {
		return Bag{}, Hash{}, err
	}
	if x.Originals {
		originals, missing, err := i.originals(ctx, rec)
		if err != nil {
			return Bag{}, Hash{}, err
		}
		for _, id := range missing {
			x.Open = append(x.Open, lostText(rec, id, "is not enclosed as received: its original is missing on the server."))
		}
		files = append(files, originals...)
	}
	papers, err := i.papers(ctx, x)
	if err != nil {
		return Bag{}, Hash{}, err
	}
	files = append(files, papers...)
	record, err := json.MarshalIndent(x, "", " ")
	if err != nil {
		return Bag{}, Hash{}, fmt.Errorf("encode record.json: %w", err)
	}
	record = append(record, '\n')
	facts := Facts{Record: *x, RecordHash: sha256.Sum256(record), Pictures: pictures, Marked: marked}
	files = append(files, Bytes("data/record.json", record), Bytes("data/record.schema.json", recordSchema))
	editions, err := i.editions(ctx, facts, record, temp)
	if err != nil {
		return Bag{}, Hash{}, err
	}
	files = append(files, editions...)
	files = append(files, Bytes("data/"+CalendarFile, Calendar(facts)))
	files = append(files, HTMLFiles("data/html")...)
	tables, err := tables(*x)
	if err != nil {
		return Bag{}, Hash{}, err
	}
	return Bag{
		Name:  fmt.Sprintf("pack-%s-%d", x.Job.ID, x.Pack),
		Info:  Info{Created: x.Frozen.In(x.Job.Location()), Organization: x.Job.Builder, Identifier: fmt.Sprintf("%s/%d", x.Job.Ref, x.Pack), Description: x.Job.Name},
		Files: append(files, tables...),
		Tags:  []Payload{Bytes("README.txt", []byte(readme))},
	}, facts.RecordHash, nil
}

// enclosed is what an edition's PDF carries whole: the inspector's carries the record, so that the one file is enough to check every
// figure in it against the hash on its last page. The others are for people who look after a guard, and stay small.
func enclosed(e Edition, record []byte, frozen time.Time) []Attached {
	if e != InspectorEdition {
		return nil
	}
	return []Attached{{Name: "record.json", Type: "application/json", Says: "The record that this document was made from", Changed: frozen, Body: record}}
}

// editions are the documents of the pack, each as PDF, which is written into temp, and as a page of HTML; as many at once as there
// are processors.
func (i Issuer) editions(ctx context.Context, facts Facts, record []byte, temp string) ([]Payload, error) {
	tree := Build(facts)
	names := tree.Editions()
	done := counting(i.Told, StepEditions, len(names))
	pdfs, pages := make([]Payload, len(names)), make([]Payload, len(names))
	err := atOnce(ctx, 2*len(names), func(_ context.Context, k int) (err error) {
		e := names[k%len(names)]
		doc := tree.Edition(e)
		if k >= len(names) {
			pages[k-len(names)], err = editionPage(e, doc)
			return err
		}
		defer done.one()
		pdfs[k], err = written("data/"+e.PDF(), filepath.Join(temp, e.PDF()), func(w io.Writer) error {
			o := Options{Paper: PaperFor(facts.Record.Job.Units), Fonts: Fonts(), Files: enclosed(e, record, facts.Record.Frozen)}
			return WritePDF(w, doc, o)
		})
		return err
	})
	return slices.Concat(pdfs, pages), err
}

// editionPage is an edition as a page of HTML.
func editionPage(e Edition, doc Document) (Payload, error) {
	var page bytes.Buffer
	err := WriteHTML(&page, doc, HTML{Style: "pack.css", Picture: func(name string) string { return "../" + name[len("data/"):] }})
	return Bytes("data/"+e.HTML(), page.Bytes()), err
}

const readme = `This is a pack of a deck-guard job: a BagIt bag (RFC 8493).

data/owner.pdf            what was built, what is unusual about it, how to look after it
data/inspector.pdf        every check, reading, photograph and deviation, and the rules applied
data/framing-request.pdf  one page that asks for an inspection before decking, where that was still to come
data/html/                the same, for a browser, with no server and no network: open owner.html or inspector.html
data/care.ics             the days of care for a calendar
data/record.json          every fact, reading and event; record.schema.json says its form
data/csv/                 readings, pieces, photographs, papers and events as tables
data/pictures/            the pictures that the pack shows, made from the originals; -marked ones have marks drawn over them
data/papers/              attached papers as received, where they were enclosed
data/originals/           the photographs as received, where they were enclosed

To tell that nothing was changed, with no program of ours:

    sha256sum -c manifest-sha256.txt      or: sha512sum -c manifest-sha512.txt
    sha256sum -c tagmanifest-sha256.txt   the manifests themselves, and this text

The pack's own hash is the SHA-256 of manifest-sha256.txt. signature.txt is an Ed25519 signature over
tagmanifest-sha256.txt by the key of the builder's installation: newelbook verify --key FINGERPRINT checks it, and so
does any program that knows RFC 8032. Get the fingerprint from the builder, not from this pack.
`
