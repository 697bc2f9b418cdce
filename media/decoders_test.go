package media_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// Importing the resizing library registers decoders for formats that are refused here, one of them with a known
// panic. So nothing in the package may ask the registry, or the library, to decode.
func TestNothingAsksTheRegistryOfFormats(t *testing.T) {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	forbidden := map[string]bool{
		"image.Decode": true, "image.DecodeConfig": true, "imaging.Decode": true, "imaging.Open": true,
	}
	read := 0
	for _, entry := range entries {
		name := entry.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		read++
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && forbidden[x.Name+"."+s.Sel.Name] {
					t.Errorf("%s uses %s.%s", files.Position(n.Pos()), x.Name, s.Sel.Name)
				}
			}
			return true
		})
	}
	if read < 10 {
		t.Errorf("read %d files of the package, want all", read)
	}
}
