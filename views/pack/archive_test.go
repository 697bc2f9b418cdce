package pack_test

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/views/pack"
)

// The rules of ISO 19005-3:2012 (PDF/A-3, level A) that the PDFs of packs are made to, clause by clause. The numbers of the clauses
// and what they ask are from memory of the standard; no validator was at hand. Each is held against the file's own objects as qpdf
// reads them, which shares no code with what wrote them.
var archivalRules = []struct {
	clause string
	holds  func(archived) []string // what is wrong
}{
	{"6.1.2 header", archived.header},
	{"6.1.3 trailer, no encryption", archived.ending},
	{"6.1.7 streams and filters", archived.streams},
	{"6.1.13 limits of an implementation", archived.limits},
	{"6.2.2 operators and resources", archived.operators},
	{"6.2.3 output intent", archived.intent},
	{"6.2.4 colours of the output intent alone", archived.colours},
	{"6.2.5, 6.2.10 no graphics state, no transparency", archived.opaque},
	{"6.2.8 images", archived.images},
	{"6.2.11.3, .4 fonts are embedded", archived.fonts},
	{"6.2.11.5 widths agree with the font", archived.widths},
	{"6.2.11.7 characters of glyphs", archived.characters},
	{"6.2.11.8 no empty box", archived.boxes},
	{"6.3 annotations", archived.annotations},
	{"6.4 to 6.5, 6.9 to 6.11 no forms, actions, layers, presentations or requirements", archived.active},
	{"6.6.2, 6.6.3 metadata", archived.metadata},
	{"6.6.4 part and level", archived.level},
	{"6.7 structure, language, alternatives", archived.structure},
	{"6.8 embedded files", archived.attachments},
}

// archived is a PDF under examination.
type archived struct {
	objects
	bytes    []byte
	contents [][]operation // by page
}

func examined(t testing.TB, file []byte) archived {
	t.Helper()
	a := archived{objects: objectsOf(t, saved(t, "archive.pdf", file)), bytes: file}
	for _, p := range a.pages() {
		a.contents = append(a.contents, operations(t, string(a.body(p["/Contents"]))))
	}
	if len(a.contents) == 0 {
		t.Fatal("no pages")
	}
	return a
}

func TestArchivalRules(t *testing.T) {
	strange := sample(t)
	strange.Sections = append(strange.Sections, pack.Section{Heading: "手すり 👍", Level: 1, Blocks: []pack.Block{
		pack.Para{Runs: []pack.Run{{Text: "Seen by 建築 on site 👷🏽 at 3 1/2 in."}}}}})
	record := []byte(`{"format":"sample"}` + "\n")
	var held bytes.Buffer
	if err := pack.WritePDF(&held, strange, pack.Options{Paper: pack.Letter, Fonts: pack.Fonts(),
		Files: []pack.Attached{{Name: "record.json", Type: "application/json", Says: "The record", Changed: strange.Created, Body: record}}}); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{"sample with a file and characters of no face": held.Bytes(), "nothing in it": pdf(t, pack.Document{Title: "Nothing yet", Lang: "en"}, pack.A4)}
	tree := pack.Build(facts(t))
	for _, e := range tree.Editions() {
		files[string(e)] = pdf(t, tree.Edition(e), pack.A4)
	}
	for name, s := range stripFiles(t) {
		files["strip, "+name] = written(t, s)
	}
	for name, file := range files {
		t.Run(name, func(t *testing.T) {
			a := examined(t, file)
			for _, r := range archivalRules {
				for _, fault := range r.holds(a) {
					t.Errorf("%s: %s", r.clause, fault)
				}
			}
		})
	}
	dir := t.TempDir()
	tool(t, "pdfdetach", "-saveall", "-o", dir, saved(t, "held.pdf", held.Bytes()))
	if got, err := os.ReadFile(filepath.Join(dir, "record.json")); err != nil || !bytes.Equal(got, record) {
		t.Errorf("the file within comes out as %q, %v", got, err)
	}
	if text := tool(t, "pdftotext", "-raw", saved(t, "held.pdf", held.Bytes()), "-"); !strings.Contains(text, "建築") || !strings.Contains(text, "👷🏽") {
		t.Error("characters that no face has are not copied as they were written")
	}
}

// TestArchivalRulesBite breaks a sound file where a rule looks, and demands that the rule says so.
func TestArchivalRulesBite(t *testing.T) {
	sound := pdf(t, sample(t), pack.A4)
	for clause, breaks := range map[string]func(a *archived){
		"6.1.2":    func(a *archived) { a.bytes = append([]byte(" "), a.bytes...) },
		"6.1.13":   func(a *archived) { a.pages()[0]["/MediaBox"] = []any{0.0, 0.0, 2.0, 800.0} },
		"6.6.4":    func(a *archived) { a.catalog().(map[string]any)["/Metadata"] = nil },
		"6.8":      func(a *archived) { a.catalog().(map[string]any)["/AF"] = []any{map[string]any{}} },
		"6.1.3":    func(a *archived) { a.trailer["/Encrypt"] = map[string]any{} },
		"6.1.7":    func(a *archived) { a.first("/Image")["/Filter"] = "/LZWDecode" },
		"6.2.2":    func(a *archived) { a.contents[0] = append(a.contents[0], operation{name: "xx"}) },
		"6.2.3":    func(a *archived) { delete(a.catalog().(map[string]any), "/OutputIntents") },
		"6.2.4":    func(a *archived) { a.contents[0] = append(a.contents[0], operation{name: "k"}) },
		"6.2.5":    func(a *archived) { a.first("/Image")["/SMask"] = "9 0 R" },
		"6.2.8":    func(a *archived) { a.first("/Image")["/Interpolate"] = true },
		"6.2.11.3": func(a *archived) { delete(a.first("/FontDescriptor"), "/FontFile2") },
		"6.2.11.5": func(a *archived) { a.first("/CIDFontType2")["/W"] = []any{3.0, []any{1.0}} },
		"6.2.11.7": func(a *archived) { delete(a.first("/Type0"), "/ToUnicode") },
		"6.2.11.8": func(a *archived) { a.contents[0] = append(a.contents[0], operation{"Tj", []any{[]byte{0, 0}}}) },
		"6.3":      func(a *archived) { a.first("/Link")["/F"] = 2.0 },
		"6.4":      func(a *archived) { a.catalog().(map[string]any)["/OpenAction"] = map[string]any{} },
		"6.6.2":    func(a *archived) { a.first("/Metadata")["/Filter"] = "/FlateDecode" },
		"6.7":      func(a *archived) { a.contents[0] = append(a.contents[0], operation{name: "f"}) },
	} {
		a := examined(t, sound)
		breaks(&a)
		said := false
		for _, r := range archivalRules {
			if strings.HasPrefix(r.clause, clause) {
				said = said || len(r.holds(a)) > 0
			}
		}
		if !said {
			t.Errorf("%s: a file that breaks it passes", clause)
		}
	}
}

// first is a dictionary of a type or subtype.
func (a archived) first(kind string) (found map[string]any) {
	a.dicts(func(_ string, d map[string]any) {
		if d["/Type"] == kind || d["/Subtype"] == kind {
			found = d
		}
	})
	return found
}

func (a archived) header() (wrong []string) {
	line := regexp.MustCompile(`^%PDF-1\.[0-7]\r?\n%[\x80-\xff]{4}`)
	if !line.Match([]byte(latin(a.bytes[:32]))) {
		wrong = append(wrong, fmt.Sprintf("begins with %q", a.bytes[:20]))
	}
	return wrong
}

// latin turns bytes into characters one by one, so that a pattern can name them.
func latin(b []byte) string {
	r := make([]rune, len(b))
	for i, c := range b {
		r[i] = rune(c)
	}
	return string(r)
}

func (a archived) ending() (wrong []string) {
	if a.trailer["/Encrypt"] != nil {
		wrong = append(wrong, "is encrypted")
	}
	if ids := a.list(a.trailer["/ID"]); len(ids) != 2 {
		wrong = append(wrong, "has no identifier of two strings")
	}
	if i := bytes.LastIndex(a.bytes, []byte("%%EOF")); i < 0 || len(bytes.TrimRight(a.bytes[i+5:], "\r\n")) > 0 || len(a.bytes)-i-5 > 2 {
		wrong = append(wrong, "has data behind its end")
	}
	return wrong
}

func (a archived) streams() (wrong []string) {
	a.dicts(func(where string, d map[string]any) {
		if d["/Length"] == nil && d["/Filter"] == nil {
			return
		}
		for _, key := range []string{"/F", "/FFilter", "/FDecodeParms"} {
			if d["/Length"] != nil && d[key] != nil {
				wrong = append(wrong, where+" is kept outside")
			}
		}
		for _, f := range append(a.list(d["/Filter"]), d["/Filter"]) {
			if name, ok := f.(string); ok && name != "/FlateDecode" && name != "/DCTDecode" {
				wrong = append(wrong, where+" is packed by "+name)
			}
		}
	})
	return wrong
}

func (a archived) limits() (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if len(a.all) > 8388607 {
		say("%d objects", len(a.all))
	}
	var check func(where string, v any)
	check = func(where string, v any) {
		switch v := v.(type) {
		case string:
			if strings.HasPrefix(v, "/") && len(v) > 128 || len(v) > 32767 {
				say("%s has a name or string of %d bytes", where, len(v))
			}
		case float64:
			if math.Abs(v) > math.MaxInt32 {
				say("%s has the number %g", where, v)
			}
		case []any:
			for _, x := range v {
				check(where, x)
			}
		}
	}
	a.dicts(func(where string, d map[string]any) {
		for k, v := range d {
			check(where+k, v)
		}
	})
	for i, p := range a.pages() {
		box := a.list(p["/MediaBox"])
		for _, k := range []int{2, 3} {
			if side := box[k].(float64); side < 3 || side > 14400 {
				say("page %d has a side of %g", i+1, side)
			}
		}
		depth, deepest := 0, 0
		for _, op := range a.contents[i] {
			switch op.name {
			case "q":
				depth++
			case "Q":
				depth--
			}
			deepest = max(deepest, depth)
		}
		if deepest > 28 || depth != 0 {
			say("page %d nests its graphics state %d deep and ends at %d", i+1, deepest, depth)
		}
	}
	return wrong
}

// known are the operators of ISO 32000-1, annex A.
var known = strings.Fields("b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n q Q re RG rg ri s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' \"")

func (a archived) operators() (wrong []string) {
	for i, p := range a.pages() {
		if a.at(p, "/Resources") == nil {
			wrong = append(wrong, fmt.Sprintf("page %d names no resources of its own", i+1))
		}
		for _, op := range a.contents[i] {
			kind := map[string]string{"Tf": "/Font", "Do": "/XObject"}[op.name]
			if !slices.Contains(known, op.name) {
				wrong = append(wrong, fmt.Sprintf("page %d has the operator %q", i+1, op.name))
			} else if kind != "" && a.at(p, "/Resources", kind, op.args[0].(string)) == nil {
				wrong = append(wrong, fmt.Sprintf("page %d uses %s, which it does not name", i+1, op.args[0]))
			}
		}
	}
	return wrong
}

func (a archived) intent() (wrong []string) {
	intents := a.list(a.catalog("/OutputIntents"))
	if len(intents) != 1 {
		return []string{fmt.Sprintf("%d output intents", len(intents))}
	}
	d := a.at(intents[0]).(map[string]any)
	profile := a.body(d["/DestOutputProfile"])
	if d["/S"] != "/GTS_PDFA1" || d["/OutputConditionIdentifier"] == nil || len(profile) < 128 {
		return []string{fmt.Sprintf("the intent is %v with a profile of %d bytes", d, len(profile))}
	}
	if a.at(d["/DestOutputProfile"], "/N") != 3.0 || string(profile[16:20]) != "RGB " || string(profile[36:40]) != "acsp" || profile[8] > 4 ||
		int(binary.BigEndian.Uint32(profile)) != len(profile) {
		wrong = append(wrong, "the profile is not one of three colours, whole, of a version up to 4")
	}
	return wrong
}

func (a archived) colours() (wrong []string) {
	for i, ops := range a.contents {
		for _, op := range ops {
			if slices.Contains([]string{"k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "BI"}, op.name) {
				wrong = append(wrong, fmt.Sprintf("page %d sets a colour by %s", i+1, op.name))
			}
		}
	}
	a.dicts(func(where string, d map[string]any) {
		if space := d["/ColorSpace"]; d["/Subtype"] == "/Image" && space != "/DeviceRGB" && space != "/DeviceGray" {
			wrong = append(wrong, fmt.Sprintf("%s is a picture in %v", where, space))
		}
	})
	return wrong
}

func (a archived) opaque() (wrong []string) {
	a.dicts(func(where string, d map[string]any) {
		for _, key := range []string{"/ExtGState", "/Group", "/SMask", "/Shading", "/Pattern", "/Properties"} {
			if d[key] != nil {
				wrong = append(wrong, where+" has "+key)
			}
		}
	})
	for i, ops := range a.contents {
		if slices.ContainsFunc(ops, func(op operation) bool { return op.name == "gs" || op.name == "ri" }) {
			wrong = append(wrong, fmt.Sprintf("page %d sets a graphics state", i+1))
		}
	}
	return wrong
}

func (a archived) images() (wrong []string) {
	a.dicts(func(where string, d map[string]any) {
		if d["/Subtype"] == "/Image" && (d["/Alternates"] != nil || d["/OPI"] != nil || d["/Interpolate"] == true || d["/BitsPerComponent"] != 8.0) {
			wrong = append(wrong, where+" has alternates, is interpolated, or is not of 8 bits")
		}
		if sub := d["/Subtype"]; d["/Type"] == "/XObject" && sub != "/Image" {
			wrong = append(wrong, fmt.Sprintf("%s is a %v", where, sub))
		}
	})
	return wrong
}

func (a archived) annotations() (wrong []string) {
	a.dicts(func(where string, d map[string]any) {
		if d["/Type"] != "/Annot" {
			return
		}
		const print, unseen = 4, 1 | 2 | 32 | 256 // invisible, hidden, no view, toggled
		if flags, _ := d["/F"].(float64); d["/Subtype"] != "/Link" || int(flags)&print == 0 || int(flags)&unseen != 0 || d["/Contents"] == nil {
			wrong = append(wrong, fmt.Sprintf("%s is %v with flags %v", where, d["/Subtype"], d["/F"]))
		}
	})
	return wrong
}

func (a archived) active() (wrong []string) {
	for _, key := range []string{"/AcroForm", "/AA", "/OpenAction", "/OCProperties", "/Requirements", "/Collection"} {
		if a.catalog(key) != nil {
			wrong = append(wrong, "the catalogue has "+key)
		}
	}
	for _, key := range []string{"/AlternatePresentations", "/JavaScript"} {
		if a.catalog("/Names", key) != nil {
			wrong = append(wrong, "the names have "+key)
		}
	}
	a.dicts(func(where string, d map[string]any) {
		if d["/PresSteps"] != nil || d["/AA"] != nil || d["/S"] == "/JavaScript" || d["/S"] == "/Launch" || d["/Type"] == "/Annot" && d["/A"] != nil {
			wrong = append(wrong, where+" acts")
		}
	})
	return wrong
}

// said is the text of the properties of an XMP packet, by namespace and name, the members of a list joined.
func said(packet []byte) (map[string]string, error) {
	out, path := map[string]string{}, []xml.Name{}
	for d := xml.NewDecoder(bytes.NewReader(packet)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		switch x := token.(type) {
		case xml.StartElement:
			path = append(path, x.Name)
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			if text := strings.TrimSpace(string(x)); text != "" && len(path) > 3 {
				out[path[3].Space+path[3].Local] += text
			}
		}
	}
}

func (a archived) metadata() (wrong []string) {
	ref := a.at(a.trailer["/Root"]).(map[string]any)["/Metadata"]
	d, packet := a.at(ref).(map[string]any), a.body(ref)
	if d["/Type"] != "/Metadata" || d["/Subtype"] != "/XML" || d["/Filter"] != nil {
		wrong = append(wrong, "is no plain stream of XML")
	}
	if head := regexp.MustCompile(`^<\?xpacket begin="\x{feff}" id="W5M0MpCehiHzreSzNTczkc9d"\?>`); !head.Match(packet) {
		wrong = append(wrong, "does not begin as a packet")
	}
	props, err := said(packet)
	if err != nil {
		return append(wrong, err.Error())
	}
	const dc, xmp, adobe = "http://purl.org/dc/elements/1.1/", "http://ns.adobe.com/xap/1.0/", "http://ns.adobe.com/pdf/1.3/"
	for name := range props {
		if !slices.ContainsFunc([]string{dc, xmp, adobe, aiim}, func(ns string) bool { return strings.HasPrefix(name, ns) }) {
			wrong = append(wrong, name+" is of no schema that needs no description")
		}
	}
	date := func(s string) string { // of the information dictionary, as XMP writes it
		at, err := time.Parse("D:20060102150405Z", s)
		if err != nil {
			return s
		}
		return at.Format("2006-01-02T15:04:05Z")
	}
	for key, name := range map[string]string{"/Title": dc + "title", "/Author": dc + "creator", "/Subject": dc + "description", "/Creator": xmp + "CreatorTool",
		"/Producer": adobe + "Producer", "/CreationDate": xmp + "CreateDate", "/ModDate": xmp + "ModifyDate"} {
		info, _ := a.at(a.trailer["/Info"], key).(string)
		if got := date(strings.TrimPrefix(info, "u:")); got != props[name] {
			wrong = append(wrong, fmt.Sprintf("%s is %q and %s is %q", key, got, name, props[name]))
		}
	}
	return wrong
}

const aiim = "http://www.aiim.org/pdfa/ns/id/"

func (a archived) level() []string {
	props, err := said(a.body(a.at(a.trailer["/Root"]).(map[string]any)["/Metadata"]))
	if err != nil || props[aiim+"part"] != "3" || props[aiim+"conformance"] != "A" {
		return []string{fmt.Sprintf("part %q, level %q, %v", props[aiim+"part"], props[aiim+"conformance"], err)}
	}
	return nil
}
