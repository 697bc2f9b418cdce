package views

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"sort"
	"strings"
	"sync"
)

//go:embed static
var staticFiles embed.FS

// AssetRoot is the path under which the server offers assets.
const AssetRoot = "/assets/"

// cssURL finds the files that the style sheet names.
var cssURL = regexp.MustCompile(`url\("([^"]+)"\)`)

// asset is one file as it is served.
type asset struct {
	body []byte
	kind string
}

// shelf holds the assets by the path they are served under, and that path by plain name.
type shelf struct {
	byPath map[string]asset
	paths  map[string]string
}

var assets = sync.OnceValue(func() shelf { return stock(Assets()) })

// Assets are the style sheet, the script and the fonts under their plain names, for a folder of pages that opens with no
// server: sheet.css names its fonts relative to itself.
func Assets() fs.FS {
	sub, err := fs.Sub(staticFiles, "static")
	if err != nil {
		panic(err) // the folder is embedded: only a misspelt name comes here
	}
	return sub
}

// AssetPath is the URL path of the named asset (sheet.css), with a checksum of its content in it, so that it may be cached
// for ever. An unknown name is an error.
func AssetPath(name string) (string, error) {
	p, ok := assets().paths[name]
	if !ok {
		return "", fmt.Errorf("no asset %q", name)
	}
	return p, nil
}

// Asset returns the bytes and the content type of what AssetPath named, and false for any other path. The bytes must
// not be changed.
func Asset(urlPath string) (body []byte, contentType string, ok bool) {
	a, ok := assets().byPath[urlPath]
	return a.body, a.kind, ok
}

// stock reads every file; style sheets come last, since they carry the checksums of the files they name.
func stock(files fs.FS) shelf {
	s := shelf{byPath: map[string]asset{}, paths: map[string]string{}}
	var names []string
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		panic(err) // embedded files can be read
	}
	sort.SliceStable(names, func(i, j int) bool { return path.Ext(names[i]) != ".css" && path.Ext(names[j]) == ".css" })
	for _, name := range names {
		body, err := fs.ReadFile(files, name)
		if err != nil {
			panic(err) // embedded files can be read
		}
		if path.Ext(name) == ".css" {
			body = cssURL.ReplaceAllFunc(body, func(m []byte) []byte {
				target := path.Join(path.Dir(name), string(m[len(`url("`):len(m)-len(`")`)]))
				return []byte(`url("` + s.paths[target] + `")`)
			})
		}
		sum := sha256.Sum256(body)
		ext := path.Ext(name)
		p := AssetRoot + strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:6]) + ext
		s.byPath[p] = asset{body: bytes.Clone(body), kind: contentType(ext)}
		s.paths[name] = p
	}
	return s
}

// contentType is the type by extension; it does not depend on what the machine knows.
func contentType(ext string) string {
	switch ext {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".woff2":
		return "font/woff2"
	case ".svg":
		return "image/svg+xml"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return "application/octet-stream"
}
