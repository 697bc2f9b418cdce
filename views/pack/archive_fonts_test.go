package pack_test

import (
	"encoding/binary"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// shown are the codes that pages show, by the reference of the font.
func (a archived) shown() map[string]map[int]bool {
	out := map[string]map[int]bool{}
	for i, p := range a.pages() {
		fonts, _ := a.at(p, "/Resources", "/Font").(map[string]any)
		font := ""
		for _, op := range a.contents[i] {
			if op.name == "Tf" {
				font, _ = fonts[op.args[0].(string)].(string)
			}
			if !slices.Contains([]string{"Tj", "TJ", "'", "\""}, op.name) {
				continue
			}
			if out[font] == nil {
				out[font] = map[int]bool{}
			}
			for _, arg := range op.args {
				codes, _ := arg.([]byte)
				for k := 0; k+1 < len(codes); k += 2 {
					out[font][int(binary.BigEndian.Uint16(codes[k:]))] = true
				}
			}
		}
	}
	return out
}

func (a archived) fonts() (wrong []string) {
	for ref := range a.shown() {
		say := func(what string) { wrong = append(wrong, fmt.Sprintf("%s, %v: %s", ref, a.at(ref, "/BaseFont"), what)) }
		below := a.list(ref, "/DescendantFonts")
		if a.at(ref, "/Subtype") != "/Type0" || a.at(ref, "/Encoding") != "/Identity-H" || len(below) != 1 {
			say("is no composite font by glyph numbers")
			continue
		}
		if a.at(below[0], "/Subtype") != "/CIDFontType2" || a.at(below[0], "/CIDToGIDMap") != "/Identity" || a.at(below[0], "/BaseFont") != a.at(ref, "/BaseFont") {
			say("its descendant is no TrueType font of the same name, or has a map")
		}
		name, _ := a.at(ref, "/BaseFont").(string)
		if !regexp.MustCompile(`^/[A-Z]{6}\+`).MatchString(name) || a.at(below[0], "/FontDescriptor", "/FontName") != name {
			say("is no named subset")
		}
		if a.at(below[0], "/FontDescriptor", "/CIDSet") != nil {
			say("lists its glyphs, which then would have to be complete")
		}
		if len(a.program(ref)) == 0 {
			say("is not embedded")
		}
	}
	return wrong
}

// program is the embedded font file of a composite font.
func (a archived) program(ref string) []byte {
	below := a.list(ref, "/DescendantFonts")
	d, _ := a.at(below[0], "/FontDescriptor").(map[string]any)
	return a.body(d["/FontFile2"])
}

// advances are those of a TrueType file's glyphs in thousandths of the em (OpenType, tables head, hhea and hmtx).
func advances(file []byte) []float64 {
	table := func(tag string) []byte {
		for k := range int(binary.BigEndian.Uint16(file[4:])) {
			row := file[12+16*k:]
			if string(row[:4]) == tag {
				from := binary.BigEndian.Uint32(row[8:])
				return file[from : from+binary.BigEndian.Uint32(row[12:])]
			}
		}
		return nil
	}
	em := float64(binary.BigEndian.Uint16(table("head")[18:]))
	n := int(binary.BigEndian.Uint16(table("hhea")[34:]))
	var out []float64
	for k := range int(binary.BigEndian.Uint16(table("maxp")[4:])) {
		out = append(out, float64(binary.BigEndian.Uint16(table("hmtx")[4*min(k, n-1):]))*1000/em)
	}
	return out
}

func (a archived) widths() (wrong []string) {
	for ref, codes := range a.shown() {
		if len(a.program(ref)) == 0 {
			continue
		}
		below := a.list(ref, "/DescendantFonts")[0]
		said, w := map[int]float64{}, a.list(below, "/W")
		for k := 0; k+1 < len(w); k += 2 {
			for i, v := range w[k+1].([]any) {
				said[int(w[k].(float64))+i] = v.(float64)
			}
		}
		own := advances(a.program(ref))
		for code := range codes {
			width, ok := said[code]
			if !ok {
				width, _ = a.at(below, "/DW").(float64)
			}
			if code >= len(own) || math.Abs(width-own[code]) > 1 {
				wrong = append(wrong, fmt.Sprintf("%s: glyph %d of %d is %g wide", ref, code, len(own), width))
			}
		}
	}
	return wrong
}

func (a archived) characters() (wrong []string) {
	row := regexp.MustCompile(`<([0-9A-F]{4})> <([0-9A-F]+)>`)
	for ref, codes := range a.shown() {
		d, _ := a.at(ref).(map[string]any)
		says := map[int]string{}
		for _, m := range row.FindAllStringSubmatch(string(a.body(d["/ToUnicode"])), -1) {
			code, _ := strconv.ParseUint(m[1], 16, 16)
			var units []uint16
			for k := 0; k+4 <= len(m[2]); k += 4 {
				u, _ := strconv.ParseUint(m[2][k:k+4], 16, 16)
				units = append(units, uint16(u))
			}
			says[int(code)] = string(utf16.Decode(units))
		}
		for code := range codes {
			text := says[code]
			if text == "" || strings.ContainsFunc(text, func(r rune) bool {
				return r == 0 || r == 0xfeff || r == 0xfffe || r >= 0xe000 && r <= 0xf8ff || r >= 0xf0000
			}) {
				wrong = append(wrong, fmt.Sprintf("%s: glyph %d stands for %q", ref, code, text))
			}
		}
	}
	return wrong
}

func (a archived) boxes() (wrong []string) {
	for ref, codes := range a.shown() {
		if codes[0] {
			wrong = append(wrong, ref+" shows its empty box")
		}
	}
	return wrong
}

// standard are the structure types of ISO 32000-1, 14.8.4 that a pack may use; any other would need a role map.
var standard = strings.Fields("Document Part Art Sect Div BlockQuote Caption TOC TOCI Index P H H1 H2 H3 H4 H5 H6 L LI Lbl LBody Table TR TH TD THead TBody TFoot Span Quote Note Reference Code Link Annot Figure Formula Form")

// paints are the operators that leave something on the page.
var paints = strings.Fields("S s f F f* B B* b b* Do Tj TJ ' \" sh EI")

func (a archived) structure() (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if a.catalog("/MarkInfo", "/Marked") != true || a.catalog("/StructTreeRoot") == nil {
		say("is not tagged")
	}
	if lang, _ := a.catalog("/Lang").(string); len(lang) < 4 {
		say("has no language")
	}
	if a.catalog("/ViewerPreferences", "/DisplayDocTitle") != true {
		say("does not show its title")
	}
	a.dicts(func(where string, d map[string]any) {
		if d["/Type"] != "/StructElem" {
			return
		}
		tag, _ := d["/S"].(string)
		if !slices.Contains(standard, strings.TrimPrefix(tag, "/")) {
			say("%s is a %s", where, tag)
		}
		if alt, _ := d["/Alt"].(string); tag == "/Figure" && len(alt) < 5 {
			say("%s is a figure without words", where)
		}
	})
	owners := map[int][]any{}
	nums := a.list(a.catalog("/StructTreeRoot", "/ParentTree", "/Nums"))
	for k := 0; k+1 < len(nums); k += 2 {
		owners[int(nums[k].(float64))] = a.list(nums[k+1])
	}
	id := regexp.MustCompile(`/MCID (\d+)`)
	for i, p := range a.pages() {
		index, _ := p["/StructParents"].(float64)
		var open []string
		marked := 0
		for _, op := range a.contents[i] {
			switch {
			case op.name == "BDC" || op.name == "BMC":
				kind := op.args[0].(string)
				if len(op.args) > 1 {
					if m := id.FindStringSubmatch(op.args[1].(string)); m != nil {
						n, _ := strconv.Atoi(m[1])
						kind = "content"
						if n != marked || n >= len(owners[int(index)]) || a.at(owners[int(index)][n]) == nil {
							say("page %d: content %d belongs to nothing", i+1, n)
						}
						marked++
					}
				}
				open = append(open, kind)
			case op.name == "EMC":
				open = open[:len(open)-1]
			case slices.Contains(paints, op.name):
				if !slices.Contains(open, "content") && !slices.Contains(open, "/Artifact") {
					say("page %d paints by %s outside structure and ornaments", i+1, op.name)
				}
				if slices.Contains(open, "content") && slices.Contains(open, "/Artifact") {
					say("page %d has an ornament within content", i+1)
				}
			}
		}
	}
	return wrong
}

func (a archived) attachments() (wrong []string) {
	together := a.list(a.catalog("/AF"))
	names := a.list(a.catalog("/Names", "/EmbeddedFiles", "/Names"))
	if len(names) != 2*len(together) {
		wrong = append(wrong, fmt.Sprintf("%d associated files and %d names", len(together), len(names)/2))
	}
	for _, ref := range together {
		spec, _ := a.at(ref).(map[string]any)
		body := a.at(spec, "/EF", "/F")
		kind, _ := a.at(body, "/Subtype").(string)
		if spec["/Type"] != "/Filespec" || spec["/F"] == nil || spec["/UF"] == nil || spec["/Desc"] == nil || spec["/AFRelationship"] != "/Source" {
			wrong = append(wrong, fmt.Sprintf("a file is %v", spec))
		}
		if !strings.Contains(kind, "/") || !strings.Contains(kind[1:], "/") || a.at(body, "/Params", "/ModDate") == nil {
			wrong = append(wrong, fmt.Sprintf("a file within is of type %q with %v", kind, a.at(body, "/Params")))
		}
	}
	return wrong
}
