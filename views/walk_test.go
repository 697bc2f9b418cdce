package views_test

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// walk checks what holds for every page: unique ids, a label for every control, described-by and in-page link targets that
// exist, one h1, headings in order, no inline style or script, no placeholder, required or maxlength.
func walk(t *testing.T, name string, page []byte) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	ids, labelled := map[string]bool{}, map[string]bool{}
	each(root, func(n *html.Node) {
		if id := attr(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("%s: id %q is used twice", name, id)
			}
			ids[id] = true
		}
		if n.Data == "label" {
			labelled[attr(n, "for")] = true
		}
	})
	h1, level := 0, 1
	each(root, func(n *html.Node) {
		for _, a := range n.Attr {
			switch {
			case a.Key == "style" || strings.HasPrefix(a.Key, "on"):
				t.Errorf("%s: inline %s on %s", name, a.Key, n.Data)
			case a.Key == "placeholder" || a.Key == "required" || a.Key == "maxlength":
				t.Errorf("%s: %s on %s", name, a.Key, n.Data)
			case a.Key == "aria-describedby" || a.Key == "aria-labelledby":
				for _, id := range strings.Fields(a.Val) {
					if !ids[id] {
						t.Errorf("%s: %s names %q, which is not there", name, a.Key, id)
					}
				}
			}
		}
		switch n.Data {
		case "input", "select", "textarea":
			if attr(n, "type") != "hidden" && !labelled[attr(n, "id")] {
				t.Errorf("%s: no label for %s %q", name, n.Data, attr(n, "name"))
			}
		case "script":
			if n.FirstChild != nil || attr(n, "src") == "" {
				t.Errorf("%s: inline script", name)
			}
		case "a":
			if h := attr(n, "href"); strings.HasPrefix(h, "#f-") && !ids[h[1:]] {
				t.Errorf("%s: the error summary links to %q, which is not there", name, h)
			}
		case "form":
			if !hasAttr(n, "novalidate") {
				t.Errorf("%s: a form validates by itself", name)
			}
		case "img":
			if !hasAttr(n, "alt") {
				t.Errorf("%s: an img without alt", name)
			}
		case "h1", "h2", "h3", "h4":
			l := int(n.Data[1] - '0')
			if l == 1 {
				h1++
			}
			if l > level+1 {
				t.Errorf("%s: %s follows h%d", name, n.Data, level)
			}
			level = l
		}
	})
	if h1 != 1 {
		t.Errorf("%s: %d h1, want 1", name, h1)
	}
}

func each(n *html.Node, f func(*html.Node)) {
	if n.Type == html.ElementNode {
		f(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		each(c, f)
	}
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func hasAttr(n *html.Node, key string) bool {
	for _, a := range n.Attr {
		if a.Key == key {
			return true
		}
	}
	return false
}

// find returns the element with the id.
func find(t *testing.T, page []byte, id string) *html.Node {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var found *html.Node
	each(root, func(n *html.Node) {
		if attr(n, "id") == id {
			found = n
		}
	})
	if found == nil {
		t.Fatalf("no element with id %q", id)
	}
	return found
}

// textOf is the text of an element and all below it.
func textOf(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(textOf(c))
	}
	return b.String()
}
