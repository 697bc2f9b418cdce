package layout_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/checklist/materials"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares got with a file, or writes the file with -update. A missing file fails.
func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("read golden file (write it with -update): %v", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	gotLines, wantLines := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(gotLines), len(wantLines)) {
		g, w := lineAt(gotLines, i), lineAt(wantLines, i)
		if g != w {
			t.Fatalf("%s differs at line %d:\n got %q\nwant %q", path, i+1, g, w)
		}
	}
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(end of file)"
}

func TestSchemaFile(t *testing.T) { golden(t, "job.schema.json", layout.Schema()) }

// TestOutputSchemaFile makes the output's schema from the types and their comments, and holds the embedded file to it.
func TestOutputSchemaFile(t *testing.T) {
	m := schemaMaker{comments: typeComments(t, "layout.go", "output.go", "run.go", "../materials/materials.go", "../materials/stock.go", "../materials/site.go"), defs: map[string]any{}}
	root := m.object(reflect.TypeFor[layout.Output]())
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "The layout of a job"
	root["description"] = "What newelbook layout --json writes. Every length carries its exact nanometres."
	m.defs["length"] = map[string]any{
		"type": "object", "additionalProperties": false, "required": []string{"nm", "text", "in", "mm"},
		"description": "A length: exact nanometres, text in the job's units, and decimals for drawing.",
		"properties": map[string]any{
			"nm": map[string]any{"type": "integer"}, "text": map[string]any{"type": "string"},
			"in": map[string]any{"type": "number"}, "mm": map[string]any{"type": "number"},
		},
	}
	root["$defs"] = m.defs
	body, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "layout.schema.json", append(body, '\n'))
	if !*update && !bytes.Equal(layout.OutputSchema(), append(body, '\n')) {
		t.Error("OutputSchema() is not the file layout.schema.json")
	}
}

// schemaMaker turns types into schemas, with the comments of their fields as descriptions.
type schemaMaker struct {
	comments map[string]string // by Type.Field
	defs     map[string]any
}

func (m schemaMaker) schema(t reflect.Type) map[string]any {
	if t == reflect.TypeFor[length.Length]() {
		return map[string]any{"$ref": "#/$defs/length"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return m.schema(t.Elem())
	case reflect.Interface: // Output.Materials, the one of its kind
		return m.schema(reflect.TypeFor[materials.List]())
	case reflect.Slice:
		return map[string]any{"type": "array", "items": m.schema(t.Elem())}
	case reflect.Struct:
		if _, done := m.defs[t.Name()]; !done {
			m.defs[t.Name()] = nil // against endless descent
			m.defs[t.Name()] = m.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + t.Name()}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	}
	return map[string]any{"type": "string"}
}

func (m schemaMaker) object(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		n := m.schema(f.Type)
		if words := m.comments[t.Name()+"."+f.Name]; words != "" {
			n["description"] = words
		}
		properties[name] = n
		if options != "omitempty" {
			required = append(required, name)
		}
	}
	n := map[string]any{"type": "object", "additionalProperties": false, "properties": properties, "required": required}
	if words := m.comments[t.Name()]; words != "" {
		n["description"] = words
	}
	return n
}

// typeComments reads the comments of types and of their fields.
func typeComments(t *testing.T, files ...string) map[string]string {
	t.Helper()
	comments := map[string]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			decl, ok := d.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, s := range decl.Specs {
				spec, ok := s.(*ast.TypeSpec)
				if !ok {
					continue
				}
				words := func(groups ...*ast.CommentGroup) string {
					var all []string
					for _, g := range groups {
						if text := strings.Join(strings.Fields(g.Text()), " "); text != "" {
							all = append(all, text)
						}
					}
					return strings.Join(all, " ")
				}
				comments[spec.Name.Name] = words(decl.Doc)
				body, ok := spec.Type.(*ast.StructType)
				if !ok {
					continue
				}
				for _, f := range body.Fields.List {
					for _, n := range f.Names {
						comments[spec.Name.Name+"."+n.Name] = words(f.Doc, f.Comment)
					}
				}
			}
		}
	}
	return comments
}
