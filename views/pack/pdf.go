package pack

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"io"
	"sync"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"

	"newelbook/checklist/length"
)

// Paper is the sheet that the PDF is made for.
type Paper int

// Papers.
const (
	A4 Paper = iota
	Letter
)

// PaperFor is the paper that goes with units: A4 with millimetres, Letter with inches.
func PaperFor(units length.Unit) Paper {
	if units == length.Millimetres {
		return A4
	}
	return Letter
}

// points is the size of the upright sheet in points.
func (p Paper) points() (w, h float64) {
	if p == Letter {
		return document.PageSizeLetter.Width, document.PageSizeLetter.Height
	}
	return document.PageSizeA4.Width, document.PageSizeA4.Height
}

// Options are what WritePDF is told besides the document. Fonts holds the family that the pack is set in and then those
// that are asked for the characters it lacks.
type Options struct {
	Paper Paper
	Fonts []Family
	Files []Attached // carried whole within the PDF, in the order of their names
}

// WritePDF writes the document as a tagged PDF 1.7 made to the rules of PDF/A-3: fonts embedded as subsets, JPEG bytes as they are,
// drawings as vectors, contents, bookmarks and links. The same document and options give the same bytes. An error says which font or
// photograph was at fault; what was written until then is no PDF.
//
// The pages are placed here and written through the library's object layer rather than through its page type, because
// that one tags nothing and holds every picture in memory.
func WritePDF(w io.Writer, d Document, o Options) error {
	if err := d.Check(); err != nil {
		return fmt.Errorf("write PDF of %s: %w", d.Number, err)
	}
	fonts, err := newFontSet(o.Fonts)
	if err != nil {
		return fmt.Errorf("write PDF of %s: %w", d.Number, err)
	}
	c := compose(&d, o.Paper, fonts)
	pdf := newFile(&d, c, []byte(Text(d)))
	pdf.files = o.Files
	if err := pdf.build(); err != nil {
		return fmt.Errorf("write PDF of %s: %w", d.Number, err)
	}
	if _, err := pdf.writer.WriteToWithOptions(w, asStreams); err != nil {
		return fmt.Errorf("write PDF of %s: %w", d.Number, err)
	}
	return nil
}

// compose lays the document out on its pages.
func compose(d *Document, paper Paper, fonts *fontSet) *composer {
	f := &flow{paper: paper, frame: frame{left: 20 * mm, right: 17 * mm, top: 23 * mm, bottom: 19 * mm}}
	f.newPage = func(w, h float64) *page { return &page{w: w, h: h, out: content.NewStream()} }
	c := &composer{doc: d, set: &setter{fonts}, flow: f, top: &element{tag: "Document"}, anchors: map[string]place{}}
	c.within = c.top
	c.cover()
	for i, s := range d.Sections {
		c.section(i, s)
	}
	f.place(c.boxes)
	c.numberContents()
	for _, p := range f.pages {
		c.running(p)
	}
	return c
}

// file gathers the objects of the PDF.
type file struct {
	doc      *Document
	c        *composer
	writer   *document.Writer
	files    []Attached
	unscaled bool // asks whoever prints it not to scale it
}

// newFile begins a file that is known by the hash of says.
func newFile(d *Document, c *composer, says []byte) *file {
	f := &file{doc: d, c: c, writer: document.NewWriter("1.7")}
	id := sha256.Sum256(says)
	f.writer.SetFileID(id[:16])
	return f
}

// dict makes a dictionary of a type from alternating keys and values.
func dict(kind string, entries ...any) *core.PdfDictionary {
	d := core.NewPdfDictionary()
	if kind != "" {
		d.Set("Type", core.NewPdfName(kind))
	}
	for i := 0; i+1 < len(entries); i += 2 {
		d.Set(entries[i].(string), entries[i+1].(core.PdfObject))
	}
	return d
}

func (f *file) build() error {
	add, pages := f.writer.AddObject, f.c.flow.pages
	catalog, tree := dict("Catalog"), dict("Pages")
	catalogRef, treeRef := add(catalog), add(tree)
	kids := core.NewPdfArray()
	dicts := make([]*core.PdfDictionary, len(pages))
	n := 0
	for i, p := range pages {
		dicts[i] = dict("Page")
		p.ref = add(dicts[i])
		kids.Add(p.ref)
	}
	for _, p := range pages {
		for _, l := range p.links {
			l.number = n
			l.ref = add(f.annotation(l, len(pages)))
			n++
		}
	}
	tree.Set("Kids", kids)
	tree.Set("Count", core.NewPdfInteger(len(pages)))
	fonts, err := f.fonts()
	if err != nil {
		return err
	}
	for i, p := range pages {
		if err := f.page(dicts[i], p, treeRef, fonts); err != nil {
			return err
		}
	}
	s := structure{add: add, owners: map[*page][]*core.PdfIndirectReference{}}
	catalog.Set("Pages", treeRef)
	catalog.Set("StructTreeRoot", s.root(f.c.top, pages))
	catalog.Set("MarkInfo", dict("", "Marked", core.NewPdfBoolean(true)))
	viewer := dict("", "DisplayDocTitle", core.NewPdfBoolean(true))
	if f.unscaled {
		viewer.Set("PrintScaling", core.NewPdfName("None"))
	}
	catalog.Set("ViewerPreferences", viewer)
	if len(f.c.titles) > 0 {
		catalog.Set("PageMode", core.NewPdfName("UseOutlines"))
	}
	if f.doc.Lang != "" {
		catalog.Set("Lang", core.NewPdfTextString(f.doc.Lang))
	}
	if outline := f.outline(); outline != nil {
		catalog.Set("Outlines", outline)
	}
	xmp := core.NewPdfStream([]byte(f.xmp()))
	xmp.Dict.Set("Type", core.NewPdfName("Metadata"))
	xmp.Dict.Set("Subtype", core.NewPdfName("XML"))
	catalog.Set("Metadata", add(xmp))
	catalog.Set("OutputIntents", f.outputIntent())
	f.attach(catalog, f.files)
	f.writer.SetRoot(catalogRef)
	f.writer.SetInfo(add(f.info()))
	return nil
}

func (f *file) page(d *core.PdfDictionary, p *page, parent, fonts *core.PdfIndirectReference) error {
	resources := dict("", "Font", fonts)
	if len(p.pictures) > 0 {
		images := core.NewPdfDictionary()
		for _, pic := range p.pictures {
			if err := pic.check(); err != nil {
				return err
			}
			images.Set(pic.resource, f.writer.AddObject(pic))
		}
		resources.Set("XObject", images)
	}
	body := packed(p.out.Bytes())
	d.Set("Parent", parent)
	d.Set("MediaBox", core.NewPdfArray(number(0), number(0), number(p.w), number(p.h)))
	d.Set("Resources", resources)
	d.Set("Contents", f.writer.AddObject(body))
	d.Set("StructParents", core.NewPdfInteger(p.index))
	d.Set("Tabs", core.NewPdfName("S"))
	if len(p.links) > 0 {
		annots := core.NewPdfArray()
		for _, l := range p.links {
			annots.Add(l.ref)
		}
		d.Set("Annots", annots)
	}
	return nil
}

// annotation is the object of a link.
func (f *file) annotation(l *link, pages int) *core.PdfDictionary {
	box := core.NewPdfArray()
	for _, v := range l.box {
		box.Add(number(v))
	}
	at := f.c.anchors[l.to]
	return dict("Annot", "Subtype", core.NewPdfName("Link"), "Rect", box, "F", core.NewPdfInteger(4),
		"Border", core.NewPdfArray(number(0), number(0), number(0)),
		"StructParent", core.NewPdfInteger(pages+l.number),
		"Dest", destination(at),
		"Contents", core.NewPdfTextString(fmt.Sprintf("Page %d", at.page.index+1)))
}

// asStreams is how the library lays the file's objects out. Each stream of objects costs it a compressor of most of a megabyte, so they are few.
var asStreams = document.WriteOptions{UseXRefStream: true, UseObjectStreams: true, ObjectStreamCapacity: 1000}

// deflating is how hard streams are made smaller, at zlib's levels.
const deflating = zlib.DefaultCompression

// deflaters serve one stream after the other: each takes most of a megabyte, and a pack has a stream for every page.
var deflaters = sync.Pool{New: func() any {
	w, err := zlib.NewWriterLevel(nil, deflating)
	if err != nil {
		panic(err) // the level is one of zlib's
	}
	return w
}}

// packed is a stream of bytes made smaller.
func packed(body []byte) *core.PdfStream {
	w := deflaters.Get().(*zlib.Writer)
	defer deflaters.Put(w)
	var out bytes.Buffer
	w.Reset(&out)
	w.Write(body) // memory takes what it is given
	w.Close()
	s := core.NewPdfStream(out.Bytes())
	s.Dict.Set("Filter", core.NewPdfName("FlateDecode"))
	return s
}
