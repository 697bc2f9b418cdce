package views_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"newelbook/views"
)

func TestAssets(t *testing.T) {
	shape := regexp.MustCompile(`^/assets/.+\.[0-9a-f]{12}\.[a-z0-9]+$`)
	n := 0
	err := fs.WalkDir(views.Assets(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		n++
		p, err := views.AssetPath(name)
		if err != nil || !shape.MatchString(p) {
			t.Errorf("AssetPath(%q) = %q, %v", name, p, err)
		}
		body, kind, ok := views.Asset(p)
		if !ok || len(body) == 0 || kind == "" || kind == "application/octet-stream" {
			t.Errorf("Asset(%q) = %d bytes, %q, %t", p, len(body), kind, ok)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 8 {
		t.Errorf("%d assets, want the sheet, the script and the fonts", n)
	}
}

// Every file that the style sheet names is served under the name that it has there.
func TestStyleSheetNamesServedFiles(t *testing.T) {
	p, err := views.AssetPath("sheet.css")
	if err != nil {
		t.Fatal(err)
	}
	css, kind, _ := views.Asset(p)
	if kind != "text/css; charset=utf-8" {
		t.Errorf("content type %q", kind)
	}
	urls := regexp.MustCompile(`url\(["']?([^"')]*)["']?\)`).FindAllStringSubmatch(string(css), -1)
	if len(urls) < 6 {
		t.Fatalf("%d files named, want the fonts at least", len(urls))
	}
	for _, u := range urls {
		if _, _, ok := views.Asset(u[1]); !ok {
			t.Errorf("the style sheet names %q, which is not served", u[1])
		}
	}
	if strings.Contains(string(css), "@import") {
		t.Error("the style sheet imports another")
	}
}

func TestUnknownAsset(t *testing.T) {
	if p, err := views.AssetPath("sheet.less"); err == nil {
		t.Errorf("AssetPath of an unknown file = %q", p)
	}
	for _, p := range []string{"", "/assets/", "/assets/sheet.css", "/assets/../views.go", "/assets/sheet.000000000000.css"} {
		if _, _, ok := views.Asset(p); ok {
			t.Errorf("Asset(%q) is served", p)
		}
	}
}
