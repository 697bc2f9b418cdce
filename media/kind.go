package media

import (
	"bytes"
	"context"
	"encoding/binary"
	"io"
	"slices"
	"unicode/utf8"
)

// Kind says what a file is, found from its content and never from its name. The zero value is unknown.
type Kind string

// The kinds of picture that are accepted.
const (
	JPEG Kind = "jpeg"
	PNG  Kind = "png"
	WebP Kind = "webp"
	// HEIC is kept and not decoded here: its picture to show comes from whoever sent it, or there is none.
	HEIC Kind = "heic"
)

// MediaType returns the type to serve the original with, "" for an unknown kind.
func (k Kind) MediaType() string {
	switch k {
	case JPEG, PNG, WebP, HEIC:
		return "image/" + string(k)
	case PDF:
		return "application/pdf"
	}
	return ""
}

// Extension returns the file name ending for a copy of the original, dot included, "" for an unknown kind.
func (k Kind) Extension() string {
	switch k {
	case JPEG:
		return ".jpg"
	case PNG, WebP, HEIC, PDF:
		return "." + string(k)
	}
	return ""
}

// sniffLength is how many bytes of a file decide what it is.
const sniffLength = 512

// readHead reads the bytes of a file that decide what it is, and says what it is; the error is a Refusal where that is nothing that is
// taken here, and otherwise that of r.
func readHead(ctx context.Context, r io.Reader) (head []byte, kind Kind, err error) {
	if head, err = readStart(ctx, r); err != nil {
		return nil, "", err
	}
	kind, err = sniff(head)
	return head, kind, err
}

// readStart reads those bytes, or all of a shorter file. The error is that of r.
func readStart(ctx context.Context, r io.Reader) ([]byte, error) {
	head := make([]byte, sniffLength)
	n, err := io.ReadFull(ctxReader{ctx, r}, head)
	if !ended(err) {
		return nil, err
	}
	return head[:n], nil
}

const takenHere = " JPEG, PNG, WebP and HEIC photographs are taken here."

const (
	sentenceEmpty = "This file is empty. Choose the photograph again and send it."
	sentenceAVIF  = "This is an AVIF picture, which can't be opened here. Save or export it as JPEG and send that." + takenHere
	sentenceRaw   = "This is a TIFF or camera raw picture, which can't be opened here. Save or export it as JPEG and send that." +
		takenHere
	sentenceGIF      = "This is a GIF picture, which can't be opened here. Save it as PNG or JPEG and send that." + takenHere
	sentenceBMP      = "This is a BMP picture, which can't be opened here. Save it as PNG or JPEG and send that." + takenHere
	sentenceNewer    = "This is a JPEG XL or JPEG 2000 picture, which can't be opened here. Save it as plain JPEG and send that." + takenHere
	sentenceVideo    = "This is a video, not a photograph. Take a still picture and send that." + takenHere
	sentenceDocument = "This is a document, not a photograph. Send the photograph itself." + takenHere
	sentenceArchive  = "This is an archive, not a photograph. Take the photographs out of it and send them one by one." + takenHere
	sentenceText     = "This is a text file, not a photograph, whatever its name says. Choose the photograph itself." + takenHere
	sentenceUnknown  = "This file is not a picture that can be recognised. Send the photograph as JPEG." + takenHere
	sentenceMoving   = "This is a moving picture. Send a still photograph." + takenHere
)

// signature is a run of bytes at a place in the head of a file that gives a refused type away.
type signature struct {
	at       int
	bytes    string
	sentence string
}

// refusedSignatures returns the types worth naming, each from its own published format, first match wins. TIFF-based camera raw (DNG, CR2,
// NEF, ARW) begins like TIFF; CR3 is an ISO base media file of brand "crx ".
func refusedSignatures() []signature {
	return []signature{
		{4, "ftypcrx ", sentenceRaw},
		{4, "ftyp", sentenceVideo},
		{0, "II*\x00", sentenceRaw}, {0, "MM\x00*", sentenceRaw}, {0, "II+\x00", sentenceRaw}, {0, "MM\x00+", sentenceRaw},
		{0, "IIRO", sentenceRaw}, {0, "IIRS", sentenceRaw}, {0, "MMOR", sentenceRaw}, {0, "IIU\x00", sentenceRaw},
		{0, "FUJIFILMCCD-RAW", sentenceRaw},
		{0, "GIF8", sentenceGIF},
		{0, "BM", sentenceBMP},
		{0, "\x00\x00\x00\x0cJXL ", sentenceNewer}, {0, "\xff\x0a", sentenceNewer}, {0, "\x00\x00\x00\x0cjP  ", sentenceNewer},
		{8, "AVI ", sentenceVideo}, {0, "\x1aE\xdf\xa3", sentenceVideo},
		{0, "%PDF-", sentenceDocument}, {0, "\xd0\xcf\x11\xe0", sentenceDocument},
		{0, "PK\x03\x04", sentenceArchive}, {0, "\x1f\x8b", sentenceArchive}, {0, "7z\xbc\xaf", sentenceArchive},
		{0, "\xff\xfe", sentenceText}, {0, "\xfe\xff", sentenceText},
	}
}

// sniff says what kind of picture a file is from its first bytes, or returns the Refusal.
func sniff(head []byte) (Kind, error) {
	switch {
	case len(head) == 0:
		return "", refuse(ErrUnsupported, sentenceEmpty)
	case bytes.HasPrefix(head, []byte("\xff\xd8\xff")):
		return JPEG, nil
	case bytes.HasPrefix(head, []byte(pngSignature)):
		return PNG, nil
	case len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP":
		return WebP, nil
	}
	if brands := fileBrands(head); len(brands) > 0 {
		switch {
		case slices.Contains(brands, "avif"), slices.Contains(brands, "avis"):
			return "", refuse(ErrUnsupported, sentenceAVIF)
		case slices.Contains([]string{"hevc", "hevx", "hevm", "hevs", "msf1"}, brands[0]):
			return "", refuse(ErrUnsupported, sentenceMoving)
		case slices.ContainsFunc(brands, func(b string) bool { return slices.Contains([]string{"heic", "heix", "heim", "heis"}, b) }):
			return HEIC, nil
		}
	}
	for _, s := range refusedSignatures() {
		if len(head) >= s.at+len(s.bytes) && string(head[s.at:s.at+len(s.bytes)]) == s.bytes {
			return "", refuse(ErrUnsupported, s.sentence)
		}
	}
	if looksLikeText(head) {
		return "", refuse(ErrUnsupported, sentenceText)
	}
	return "", refuse(ErrUnsupported, sentenceUnknown)
}

// fileBrands returns the brands that an ISO base media file gives itself (ISO/IEC 14496-12, section 4.3; those of HEIC are in
// 23008-12, annex B), its own first, as far as the head goes. It is empty for files of other kinds.
func fileBrands(head []byte) []string {
	if len(head) < 16 || string(head[4:8]) != "ftyp" {
		return nil
	}
	brands := []string{string(head[8:12])}
	for at := 16; at+4 <= min(len(head), int(min(binary.BigEndian.Uint32(head), sniffLength))); at += 4 {
		brands = append(brands, string(head[at:at+4]))
	}
	return brands
}

// looksLikeText reports whether the head is UTF-8 without control characters. A character cut by the end of the head
// does not count against it.
func looksLikeText(head []byte) bool {
	for len(head) > 0 {
		r, size := utf8.DecodeRune(head)
		switch {
		case r == utf8.RuneError && size == 1:
			return !utf8.FullRune(head)
		case r < ' ' && r != '\t' && r != '\n' && r != '\r' && r != '\f':
			return false
		}
		head = head[size:]
	}
	return true
}
