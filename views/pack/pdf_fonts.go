package pack

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/font"
)

// fonts writes the faces that were used and returns the dictionary that every page shares.
func (f *file) fonts() (*core.PdfIndirectReference, error) {
	d := core.NewPdfDictionary()
	for _, face := range f.c.set.fonts.all() {
		if len(face.used) > 0 {
			ref, err := f.font(face)
			if err != nil {
				return nil, err
			}
			d.Set(face.name, ref)
		}
	}
	return f.writer.AddObject(d), nil
}

// font writes one face as a composite font, cut down to the glyphs used. The library's own embedding isn't used: where two
// glyphs stand for one character, as a figure and its raised form do, it writes them in a different order each time.
func (f *file) font(face *face) (*core.PdfIndirectReference, error) {
	add, p := f.writer.AddObject, face.parsed
	glyphs := face.glyphs()
	outside := make(map[uint16]rune, len(glyphs))
	for _, g := range glyphs {
		outside[g.gid] = 0x10000 // beyond what the subset's character map holds: readers find glyphs by number
	}
	program, err := font.Subset(p.RawData(), outside)
	if err != nil {
		return nil, fmt.Errorf("cut down font %s: %w", p.PostScriptName(), err)
	}
	name := core.NewPdfName(subsetTag(glyphs) + "+" + strings.ReplaceAll(p.PostScriptName(), " ", "-"))
	stream := packed(program)
	stream.Dict.Set("Length1", core.NewPdfInteger(len(program)))
	em := func(v int) core.PdfObject { return core.NewPdfInteger(v * 1000 / p.UnitsPerEm()) }
	box := core.NewPdfArray()
	for _, v := range p.BBox() {
		box.Add(em(v))
	}
	descriptor := dict("FontDescriptor", "FontName", name, "Flags", core.NewPdfInteger(int(p.Flags())), "FontBBox", box,
		"ItalicAngle", number(p.ItalicAngle()), "Ascent", em(p.Ascent()), "Descent", em(p.Descent()),
		"CapHeight", core.NewPdfInteger(face.cap), "StemV", core.NewPdfInteger(max(p.StemV(), 50)), "FontFile2", add(stream))
	widths := core.NewPdfArray()
	for _, g := range glyphs {
		widths.Add(core.NewPdfInteger(int(g.gid)))
		widths.Add(core.NewPdfArray(core.NewPdfInteger(g.width)))
	}
	system := dict("", "Registry", core.NewPdfLiteralString("Adobe"), "Ordering", core.NewPdfLiteralString("Identity"),
		"Supplement", core.NewPdfInteger(0))
	cid := dict("Font", "Subtype", core.NewPdfName("CIDFontType2"), "BaseFont", name, "CIDSystemInfo", system,
		"FontDescriptor", add(descriptor), "DW", core.NewPdfInteger(1000), "W", widths, "CIDToGIDMap", core.NewPdfName("Identity"))
	return add(dict("Font", "Subtype", core.NewPdfName("Type0"), "BaseFont", name, "Encoding", core.NewPdfName("Identity-H"),
		"DescendantFonts", core.NewPdfArray(add(cid)), "ToUnicode", add(packed([]byte(toUnicode(glyphs)))))), nil
}

// glyphs lists the glyphs used, by number.
func (f *face) glyphs() []glyph {
	out := make([]glyph, 0, len(f.used))
	for _, g := range f.used {
		out = append(out, g)
	}
	slices.SortFunc(out, func(a, b glyph) int { return int(a.gid) - int(b.gid) })
	return out
}

// subsetTag is the six letters before the name of a font that was cut down, made from the glyphs left.
func subsetTag(glyphs []glyph) string {
	h := sha256.New()
	for _, g := range glyphs {
		h.Write([]byte{byte(g.gid >> 8), byte(g.gid)})
	}
	tag := h.Sum(nil)[:6]
	for i := range tag {
		tag[i] = 'A' + tag[i]%26
	}
	return string(tag)
}

// toUnicode maps glyphs back to characters, for whoever copies or searches. Glyph 0, the empty box, stands for none.
func toUnicode(glyphs []glyph) string {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	glyphs = slices.DeleteFunc(slices.Clone(glyphs), func(g glyph) bool { return g.gid == 0 })
	for chunk := range slices.Chunk(glyphs, 100) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(chunk))
		for _, g := range chunk {
			code := []byte(core.EncodeTextStringUTF16BE(string(g.r)))[2:]
			fmt.Fprintf(&b, "<%04X> <%X>\n", g.gid, code)
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.String()
}
