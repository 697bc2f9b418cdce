package pack

import (
	"strings"

	"github.com/carlos7ags/folio/core"
)

// maker is what the file's metadata name as the program that made it. Neither the library's nor the program's version
// stands here: it would change the bytes of a pack that says the same.
const maker = "Newelbook"

// destination is the top of an anchor, in the reader's own magnification.
func destination(at place) *core.PdfArray {
	return core.NewPdfArray(at.page.ref, core.NewPdfName("XYZ"), core.NewPdfNull(), number(at.page.h-at.y), core.NewPdfNull())
}

// outline writes the bookmarks: one a section, nested as the sections are. It is nil when there are none.
func (f *file) outline() *core.PdfIndirectReference {
	if len(f.c.titles) == 0 {
		return nil
	}
	root := dict("Outlines")
	ref := f.writer.AddObject(root)
	f.bookmarks(root, ref, f.c.titles)
	return ref
}

// bookmarks writes titles under parent and returns how many there are: those of the first one's level, each with the
// deeper ones that follow it.
func (f *file) bookmarks(parent *core.PdfDictionary, parentRef *core.PdfIndirectReference, titles []*title) int {
	var refs []*core.PdfIndirectReference
	var items []*core.PdfDictionary
	count := 0
	for i := 0; i < len(titles); {
		j := i + 1
		for j < len(titles) && titles[j].level > titles[i].level {
			j++
		}
		item := dict("", "Title", core.NewPdfTextString(titles[i].heading), "Parent", parentRef, "Dest", destination(titles[i].at))
		ref := f.writer.AddObject(item)
		count++
		if j > i+1 {
			count += f.bookmarks(item, ref, titles[i+1:j])
		}
		items, refs = append(items, item), append(refs, ref)
		i = j
	}
	for i, item := range items {
		if i > 0 {
			item.Set("Prev", refs[i-1])
		}
		if i < len(items)-1 {
			item.Set("Next", refs[i+1])
		}
	}
	parent.Set("First", refs[0])
	parent.Set("Last", refs[len(refs)-1])
	parent.Set("Count", core.NewPdfInteger(count))
	return count
}

// subject is the pack's line of description.
func (d *Document) subject() string {
	var said []string
	for _, s := range []string{d.Number, d.Edition, d.JobRef, d.Site} {
		if s != "" {
			said = append(said, s)
		}
	}
	return strings.Join(said, ", ")
}

func (f *file) info() *core.PdfDictionary {
	d := dict("", "Title", core.NewPdfTextString(f.doc.Title), "Creator", core.NewPdfTextString(maker),
		"Producer", core.NewPdfTextString(maker))
	if f.doc.Author != "" {
		d.Set("Author", core.NewPdfTextString(f.doc.Author))
	}
	if s := f.doc.subject(); s != "" {
		d.Set("Subject", core.NewPdfTextString(s))
	}
	if !f.doc.Created.IsZero() {
		at := pdfDate(f.doc.Created)
		d.Set("CreationDate", at)
		d.Set("ModDate", at)
	}
	return d
}

// xmp is the same metadata as the info dictionary, in the form that archives read.
func (f *file) xmp() string {
	d := f.doc
	var b strings.Builder
	esc := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
	put := func(open, text, end string) {
		if text != "" {
			b.WriteString(open + esc.Replace(text) + end + "\n")
		}
	}
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n")
	b.WriteString(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` + "\n")
	b.WriteString(`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"` +
		` xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">` + "\n")
	b.WriteString(archival)
	put("<dc:format>", "application/pdf", "</dc:format>")
	put(`<dc:title><rdf:Alt><rdf:li xml:lang="x-default">`, d.Title, "</rdf:li></rdf:Alt></dc:title>")
	put(`<dc:description><rdf:Alt><rdf:li xml:lang="x-default">`, d.subject(), "</rdf:li></rdf:Alt></dc:description>")
	put("<dc:creator><rdf:Seq><rdf:li>", d.Author, "</rdf:li></rdf:Seq></dc:creator>")
	put("<dc:language><rdf:Bag><rdf:li>", d.Lang, "</rdf:li></rdf:Bag></dc:language>")
	put("<dc:source>", d.Source, "</dc:source>")
	put("<xmp:CreatorTool>", maker, "</xmp:CreatorTool>")
	put("<pdf:Producer>", maker, "</pdf:Producer>")
	if !d.Created.IsZero() {
		at := d.Created.UTC().Format("2006-01-02T15:04:05Z")
		put("<xmp:CreateDate>", at, "</xmp:CreateDate>")
		put("<xmp:ModifyDate>", at, "</xmp:ModifyDate>")
	}
	b.WriteString("</rdf:Description>\n</rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>")
	return b.String()
}
