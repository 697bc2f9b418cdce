package main_test

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// arrows is the law of who may import whom, of ours and from outside. A new arrow needs a reviewed line here. Outside
// entries are module path prefixes; the standard library is always allowed but for the packages in banned.
var arrows = map[string]struct{ ours, outside []string }{
	"checklist/length":            {},
	"checklist/codes":             {ours: []string{"checklist/length"}},
	"checklist/cutting":           {ours: []string{"checklist/length"}},
	"checklist/layout":            {ours: []string{"checklist/length", "checklist/codes"}},
	"checklist/layout/layouttest": {},
	"checklist/materials":         {ours: []string{"checklist/length", "checklist/codes", "checklist/layout", "checklist/cutting"}},
	"checklist":                   {ours: []string{"checklist/length", "checklist/codes", "checklist/layout"}},
	"media":                       {ours: []string{"media/codes"}, outside: []string{"github.com/rwcarlsen/goexif", "github.com/disintegration/imaging", "golang.org/x/image"}},
	"media/codes":                 {outside: []string{"github.com/makiuchi-d/gozxing"}},
	"media/codes/scenes":          {outside: []string{"rsc.io/qr"}},
	"media/exifwrite":             {},
	"media/mediatest":             {ours: []string{"media", "media/exifwrite"}},
	"migrations":                  {},
	"jobs":                        {ours: []string{"checklist", "checklist/length", "checklist/codes", "checklist/layout", "media"}},
	"jobs/jobstest":               {ours: []string{"jobs", "checklist", "checklist/length", "checklist/layout", "media"}},
	"jobs/store": {
		ours:    []string{"jobs", "migrations", "checklist", "checklist/length", "checklist/layout", "media"},
		outside: []string{"gorm.io", "modernc.org/sqlite", "github.com/pressly/goose", "github.com/alexedwards/scs"},
	},
	"views/draw":  {ours: []string{"checklist/length", "checklist/layout"}, outside: []string{"rsc.io/qr"}},
	"views/fonts": {},
	"views": {
		ours: []string{"jobs", "checklist", "checklist/length", "checklist/codes", "checklist/layout", "checklist/materials", "media", "views/draw", "views/fonts"},
	},
	"views/pack": {
		ours:    []string{"jobs", "checklist", "checklist/length", "checklist/codes", "checklist/layout", "media", "views/draw", "views/fonts", "views"},
		outside: []string{"github.com/carlos7ags/folio"},
	},
	"server": {
		ours:    []string{"jobs", "media", "views", "views/pack", "checklist/length"},
		outside: []string{"github.com/gin-gonic/gin", "github.com/alexedwards/scs", "github.com/alexedwards/argon2id", "github.com/klauspost/compress/gzhttp", "golang.org/x/time"},
	},
}

// TestImports holds the arrows. cmd and what lies under it wires everything and is not held.
func TestImports(t *testing.T) {
	const module = "newelbook/"
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,Standard", "newelbook/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := map[string]bool{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, module)
		if strings.HasPrefix(name, "cmd/") {
			continue
		}
		law, ok := arrows[name]
		if !ok {
			t.Errorf("package %s has no line in the table of arrows", name)
			continue
		}
		seen[name] = true
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, module); ok {
				if !slices.Contains(law.ours, own) {
					t.Errorf("%s imports %s: no such arrow", name, own)
				}
				continue
			}
			if first, _, _ := strings.Cut(imp, "/"); strings.Contains(first, ".") && !slices.ContainsFunc(law.outside, func(m string) bool { return imp == m || strings.HasPrefix(imp, m+"/") }) {
				t.Errorf("%s imports %s from outside: no such arrow", name, imp)
			}
		}
	}
	for name := range arrows {
		if !seen[name] {
			t.Errorf("the table of arrows names %s, which is no package", name)
		}
	}
}
