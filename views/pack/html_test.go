package pack_test

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"newelbook/views/pack"
)

func page(t *testing.T, write func(io.Writer, pack.Document, pack.HTML) error, o pack.HTML) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, sample(t), o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func folder() pack.HTML {
	return pack.HTML{Style: "pack.css", Picture: func(name string) string { return "../" + name }}
}

func TestWriteHTMLGolden(t *testing.T) {
	first, second := page(t, pack.WriteHTML, folder()), page(t, pack.WriteHTML, folder())
	golden(t, "html/sample.golden", first)
	if first != second {
		t.Error("two pages of the same document differ")
	}
}

// walk calls f for every element.
func walk(n *html.Node, f func(*html.Node)) {
	if n.Type == html.ElementNode {
		f(n)
	}
	for c := range n.ChildNodes() {
		walk(c, f)
	}
}

func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

func text(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := range n.ChildNodes() {
		b.WriteString(text(c))
	}
	return b.String()
}

func TestWriteHTMLIsAccessible(t *testing.T) {
	doc, err := html.Parse(strings.NewReader(page(t, pack.WriteHTML, folder())))
	if err != nil {
		t.Fatal(err)
	}
	ids, targets := map[string]bool{}, []string{}
	level, h1 := 0, 0
	walk(doc, func(n *html.Node) {
		if id, ok := attr(n, "id"); ok {
			if ids[id] {
				t.Errorf("the id %q is used twice", id)
			}
			ids[id] = true
		}
		if href, ok := attr(n, "href"); ok && strings.HasPrefix(href, "#") {
			targets = append(targets, href[1:])
		}
		for _, key := range []string{"aria-labelledby", "aria-describedby"} {
			if v, ok := attr(n, key); ok {
				targets = append(targets, v)
			}
		}
		if _, ok := attr(n, "style"); ok {
			t.Errorf("<%s> has a style of its own, which a strict policy refuses", n.Data)
		}
		switch n.DataAtom {
		case atom.H1, atom.H2, atom.H3, atom.H4:
			at := int(n.Data[1] - '0')
			if at > level+1 {
				t.Errorf("heading %q is of level %d after level %d", text(n), at, level)
			}
			if level = at; at == 1 {
				h1++
			}
		case atom.Img:
			if alt, _ := attr(n, "alt"); alt == "" {
				t.Error("a picture without words for who can't see it")
			}
			if src, _ := attr(n, "src"); !strings.HasPrefix(src, "../derived/") {
				t.Errorf("a picture at %q", src)
			}
		case atom.Th:
			if scope, _ := attr(n, "scope"); scope == "" {
				t.Errorf("the head %q has no scope", text(n))
			}
		case atom.Script, atom.Form, atom.Style, atom.Iframe:
			t.Errorf("a <%s> in a page that must need none", n.Data)
		case atom.Html:
			if lang, _ := attr(n, "lang"); lang != "en-US" {
				t.Errorf("the language is %q", lang)
			}
		}
		for _, key := range []string{"href", "src"} {
			if v, ok := attr(n, key); ok && (strings.Contains(v, ":") || strings.HasPrefix(v, "/")) {
				t.Errorf("%s=%q leads out of the folder", key, v)
			}
		}
	})
	if h1 != 1 {
		t.Errorf("%d headings of level 1, want 1", h1)
	}
	for _, id := range targets {
		if !ids[id] {
			t.Errorf("#%s leads nowhere", id)
		}
	}
}

// The page says every word that the PDF says, and fractions read as they are written.
func TestWriteHTMLTextIsComplete(t *testing.T) {
	doc, err := html.Parse(strings.NewReader(page(t, pack.WriteHTML, folder())))
	if err != nil {
		t.Fatal(err)
	}
	said := text(doc)
	for _, want := range []string{"3 15/16 in", "42 1/2 in", "3′-6 1/2″"} {
		if !strings.Contains(said, want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	has := map[string]bool{}
	for _, w := range strings.Fields(said) {
		has[w] = true
	}
	for _, w := range strings.Fields(visible(sample(t))) {
		if !has[w] && !strings.Contains(said, w) {
			t.Errorf("the text lacks the word %q", w)
		}
	}
}

func TestWriteBody(t *testing.T) {
	body := page(t, pack.WriteBody, folder())
	if !strings.HasPrefix(body, `<article class="pack"`) || !strings.HasSuffix(body, "</article>\n") {
		t.Errorf("the body is not one article: %.60q", body)
	}
	if !strings.Contains(body, "<h1>") {
		t.Error("no title")
	}
	o := folder()
	o.Untitled = true
	if strings.Contains(page(t, pack.WriteBody, o), "<h1>") {
		t.Error("a title though none was wanted")
	}
}

func TestWriteHTMLEscapes(t *testing.T) {
	const nasty = `<script>"x"</script>&'`
	d := pack.Document{Title: nasty, JobRef: nasty, Lang: "en", Cautions: []string{nasty}, Sections: []pack.Section{{Heading: nasty, Level: 1, Blocks: []pack.Block{
		pack.Para{Runs: []pack.Run{{Text: nasty, Bold: true, Tone: pack.Fails}}},
		pack.Table{Caption: nasty, Columns: []pack.Column{{Head: nasty}}, Rows: [][]pack.Cell{{{Text: nasty}}}},
		pack.Photo{Number: nasty, Alt: nasty, Picture: "javascript:alert(1)", Flags: []string{nasty}},
	}}}}
	var b bytes.Buffer
	if err := pack.WriteHTML(&b, d, pack.HTML{Style: "pack.css"}); err != nil {
		t.Fatal(err)
	}
	if out := strings.ToLower(b.String()); strings.Contains(out, "<script") || strings.Contains(out, `"javascript:`) {
		t.Errorf("text of the record became part of the page:\n%s", b.String())
	}
}

func TestHTMLFiles(t *testing.T) {
	css := string(pack.Style())
	for _, f := range pack.HTMLFiles("data/html") {
		name := strings.TrimPrefix(f.Path, "data/html/")
		if name != "pack.css" && !strings.Contains(css, `url("`+name+`")`) {
			t.Errorf("%s is not used by the style sheet", name)
		}
	}
	if n := strings.Count(css, "url("); n != len(pack.HTMLFiles("x"))-1 {
		t.Errorf("the style sheet asks for %d files, %d stand beside it", n, len(pack.HTMLFiles("x"))-1)
	}
}
