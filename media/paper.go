package media

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// PDF is the kind of a paper that is no picture: a drawing, a letter or a report as a document. It is kept and handed on, and
// never opened, drawn or run here.
const PDF Kind = "pdf"

// Paper is what is known of a paper once it is taken in.
type Paper struct {
	// ID names the file as received, Bytes is its length.
	ID    ID    `json:"id"`
	Bytes int64 `json:"bytes"`
	// Kind is the type of the file, by its content: PDF, JPEG, PNG or WebP.
	Kind Kind `json:"kind"`
	// AlreadyHeld is true when the same bytes were held before.
	AlreadyHeld bool `json:"already_held"`
}

// IntakePaper takes a paper in: it reads r to its end and holds the file as it came, under its SHA-256, like the original of a
// photograph and within the same limit of bytes. What it says of errors, refusals and what is kept is as with Intake.
//
// Of a PDF the outline is looked at (ISO 32000-1, 7.5): that it goes on to its proper end and that its cross-references stand
// where the end says. One that is encrypted is refused: what needs a password is of no use to somebody who reads the pack in ten
// years. Nothing within it is decoded, so memory does not grow with the file.
func (l *Library) IntakePaper(ctx context.Context, r io.Reader) (Paper, error) {
	head, err := readStart(ctx, r)
	if err != nil {
		return Paper{}, fmt.Errorf("take paper in: %w", err)
	}
	kind, err := sniffPaper(head)
	if err != nil {
		return Paper{}, fmt.Errorf("take paper in: %w", err)
	}
	received, err := l.hold(ctx, head, r, refusePaperBytes, func(staged Staged) error {
		if kind == PDF {
			return examinePDF(ctx, staged, staged.Bytes())
		}
		_, err := examine(ctx, staged, kind, l.limits)
		return err
	})
	if err != nil {
		return Paper{}, fmt.Errorf("take paper in: %w", err)
	}
	return Paper{ID: received.ID, Bytes: received.Bytes, Kind: kind, AlreadyHeld: received.AlreadyHeld}, nil
}

// HeldPaper says of a file that is held already what IntakePaper said of it when it came. ErrNotFound is wrapped where it is not
// held, and a Refusal where it is no paper.
func (l *Library) HeldPaper(ctx context.Context, id ID) (paper Paper, err error) {
	r, size, err := l.store.Open(ctx, id)
	if err != nil {
		return Paper{}, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	head, err := readStart(ctx, r)
	if err != nil {
		return Paper{}, fmt.Errorf("read held paper: %w", err)
	}
	kind, err := sniffPaper(head)
	if err != nil {
		return Paper{}, fmt.Errorf("read held paper: %w", err)
	}
	return Paper{ID: id, Bytes: size, Kind: kind, AlreadyHeld: true}, nil
}

const papersTaken = " Papers are taken here as PDF, or as pictures: JPEG, PNG or WebP."

const (
	sentencePaperEmpty  = "This file is empty. Choose the paper again and send it."
	sentencePaperHEIC   = "This is a HEIC picture, which not every reader of the pack can open. Save or export it as JPEG or PDF and send that." + papersTaken
	sentencePaperOffice = "This is an office document or an archive, which not every reader of the pack can open. Print or save it as PDF and send that." + papersTaken
	sentencePaperText   = "This is a text file, whatever its name says. Print or save it as PDF and send that." + papersTaken
	sentencePaperOther  = "This file is not a kind that is taken here. Print or save it as PDF and send that." + papersTaken
	sentencePDFDamaged  = "This PDF is damaged or was cut short on its way here. Send it again; if that does not help, open it where it came from, print it to a new PDF and send that."
	sentencePDFLocked   = "This PDF is encrypted: whoever reads the pack later may be asked for a password that nobody has. Ask its maker for one without protection, or print it to a new PDF, and send that."
)

func refusePaperBytes(limit int64) error {
	return refuse(ErrTooLarge, fmt.Sprintf("This file is larger than %s MB, the most that one paper may be here. "+
		"Save it with smaller pictures, or send it in parts.", strconv.FormatFloat(float64(limit)/1e6, 'f', -1, 64)))
}

// sniffPaper says what kind of paper a file is from its first bytes, or returns the Refusal.
func sniffPaper(head []byte) (Kind, error) {
	if bytes.HasPrefix(head, []byte("%PDF-")) {
		return PDF, nil
	}
	kind, err := sniff(head)
	var refusal *Refusal
	switch {
	case kind == HEIC:
		return "", refuse(ErrUnsupported, sentencePaperHEIC)
	case err == nil:
		return kind, nil
	case len(head) == 0:
		return "", refuse(ErrUnsupported, sentencePaperEmpty)
	case errors.As(err, &refusal) && (refusal.sentence == sentenceDocument || refusal.sentence == sentenceArchive):
		return "", refuse(ErrUnsupported, sentencePaperOffice)
	case errors.As(err, &refusal) && refusal.sentence == sentenceText:
		return "", refuse(ErrUnsupported, sentencePaperText)
	}
	return "", refuse(ErrUnsupported, sentencePaperOther)
}

// The ends of a PDF are looked for within so many bytes: its last line by every reader's habit within 1,024 (ISO 32000-1, annex H,
// note 18), a trailer dictionary within more than any holds (common practice, no source).
const (
	pdfTail    = 2 << 10
	pdfTrailer = 64 << 10
)

// examinePDF refuses a PDF whose end is missing, whose cross-references are not where its end says, or which is encrypted.
func examinePDF(ctx context.Context, r io.ReadSeeker, size int64) error {
	from := max(0, size-pdfTail)
	tail, err := readAt(ctx, r, from, pdfTail)
	if err != nil {
		return err
	}
	end := bytes.LastIndex(tail, []byte("%%EOF"))
	if end < 0 {
		return refusePDF("no end")
	}
	mark := bytes.LastIndex(tail[:end], []byte("startxref"))
	if mark < 0 {
		return refusePDF("no startxref")
	}
	at, err := strconv.ParseInt(strings.TrimSpace(string(tail[mark+len("startxref"):end])), 10, 64)
	if err != nil || at < 0 || at >= size {
		return refusePDF("startxref points nowhere")
	}
	dict, err := trailerAt(ctx, r, at, size)
	if err != nil {
		return err
	}
	if names(dict, "/Encrypt") {
		return refuse(ErrUnsupported, sentencePDFLocked)
	}
	return nil
}

// trailerAt is the dictionary that belongs to the cross-references at a place: of a table the one after the word trailer, of a
// stream its own.
func trailerAt(ctx context.Context, r io.ReadSeeker, at, size int64) ([]byte, error) {
	part, err := readAt(ctx, r, at, pdfTrailer)
	if err != nil {
		return nil, err
	}
	text := bytes.TrimLeft(part, "\x00\t\n\f\r ")
	if !bytes.HasPrefix(text, []byte("xref")) {
		dict, _, ok := bytes.Cut(text, []byte("stream"))
		if !ok || !startsObject(text) || !names(dict, "/XRef") {
			return nil, refusePDF("no cross-references where it says")
		}
		return dict, nil
	}
	const word = "trailer"
	for {
		if i := bytes.Index(part, []byte(word)); i >= 0 {
			if part, err = readAt(ctx, r, at+int64(i), pdfTrailer); err != nil {
				return nil, err
			}
			dict, _, ok := bytes.Cut(part, []byte("startxref"))
			if !ok {
				return nil, refusePDF("no end of its trailer")
			}
			return dict, nil
		}
		if at += int64(max(1, len(part)-len(word))); at >= size || len(part) < pdfTrailer {
			return nil, refusePDF("no trailer")
		}
		if part, err = readAt(ctx, r, at, pdfTrailer); err != nil {
			return nil, err
		}
	}
}

// startsObject says whether text begins as an indirect object does: two numbers and the word obj.
func startsObject(text []byte) bool {
	fields := bytes.Fields(text[:min(len(text), 64)])
	if len(fields) < 3 || !bytes.HasPrefix(fields[2], []byte("obj")) {
		return false
	}
	for _, f := range fields[:2] {
		if _, err := strconv.ParseUint(string(f), 10, 32); err != nil {
			return false
		}
	}
	return true
}

// names says whether a dictionary holds a name, and not one that only begins with it.
func names(dict []byte, name string) bool {
	for {
		i := bytes.Index(dict, []byte(name))
		if i < 0 {
			return false
		}
		dict = dict[i+len(name):]
		if len(dict) == 0 || bytes.IndexByte([]byte("\x00\t\n\f\r ()<>[]{}/%"), dict[0]) >= 0 {
			return true
		}
	}
}

// readAt reads at most n bytes from a place on.
func readAt(ctx context.Context, r io.ReadSeeker, at int64, n int) ([]byte, error) {
	if _, err := r.Seek(at, io.SeekStart); err != nil {
		return nil, fmt.Errorf("read paper: %w", err)
	}
	b := make([]byte, n)
	got, err := io.ReadFull(ctxReader{ctx, r}, b)
	if !ended(err) {
		return nil, fmt.Errorf("read paper: %w", err)
	}
	return b[:got], nil
}

func refusePDF(why string) error {
	return refuse(fmt.Errorf("%w: PDF: %s", ErrCorrupt, why), sentencePDFDamaged)
}
