package pack

import (
	_ "embed"
	"time"

	"github.com/carlos7ags/folio/core"
)

// archival says, in the file's XMP, to which rules the PDF is made: ISO 19005-3 (PDF/A-3), conformance level A. No validator was at
// hand: TestArchivalRules lists which clauses are held, and by what.
const archival = "<pdfaid:part>3</pdfaid:part>\n<pdfaid:conformance>A</pdfaid:conformance>\n"

// colours is the output intent's profile: sRGB as IEC 61966-2-1 defines it, made from the published primaries by this program's own
// tests (TestColourProfile), which also hold these bytes to them.
//
//go:embed srgb.icc
var colours []byte

// Attached is a file that a PDF carries whole, as what it was made from.
type Attached struct {
	Name    string // the file's own name
	Type    string // its media type
	Says    string // what it is, for whoever lists the attachments
	Changed time.Time
	Body    []byte
}

// outputIntent says which colours the numbers on the pages stand for (ISO 19005-3, 6.2.3).
func (f *file) outputIntent() *core.PdfArray {
	profile := packed(colours)
	profile.Dict.Set("N", core.NewPdfInteger(3))
	const name = "sRGB IEC61966-2.1"
	return core.NewPdfArray(dict("OutputIntent", "S", core.NewPdfName("GTS_PDFA1"), "OutputConditionIdentifier", core.NewPdfTextString(name),
		"Info", core.NewPdfTextString(name), "DestOutputProfile", f.writer.AddObject(profile)))
}

// attach puts files into the PDF, each in the list of attachments and associated with the whole document (ISO 19005-3, 6.8).
func (f *file) attach(catalog *core.PdfDictionary, files []Attached) {
	if len(files) == 0 {
		return
	}
	names, all := core.NewPdfArray(), core.NewPdfArray()
	for _, a := range files {
		stream := packed(a.Body)
		stream.Dict.Set("Type", core.NewPdfName("EmbeddedFile"))
		stream.Dict.Set("Subtype", core.NewPdfName(a.Type))
		stream.Dict.Set("Params", dict("", "Size", core.NewPdfInteger(len(a.Body)), "ModDate", pdfDate(a.Changed)))
		body, name := f.writer.AddObject(stream), core.NewPdfTextString(a.Name)
		spec := f.writer.AddObject(dict("Filespec", "F", name, "UF", name, "Desc", core.NewPdfTextString(a.Says),
			"AFRelationship", core.NewPdfName("Source"), "EF", dict("", "F", body, "UF", body)))
		names.Add(name)
		names.Add(spec)
		all.Add(spec)
	}
	catalog.Set("Names", dict("", "EmbeddedFiles", dict("", "Names", names)))
	catalog.Set("AF", all)
}

// pdfDate is an instant as the file's dictionaries write it.
func pdfDate(t time.Time) core.PdfObject {
	return core.NewPdfLiteralString(t.UTC().Format("D:20060102150405Z"))
}
