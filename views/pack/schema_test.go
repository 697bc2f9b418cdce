package pack_test

import (
	"bytes"
	"encoding"
	"encoding/json"
	"flag"
	"os"
	"path"
	"reflect"
	"testing"
	"time"

	"github.com/invopop/jsonschema"

	"newelbook/jobs"
	"newelbook/media"
)

var updateSchema = flag.Bool("update-schema", false, "write record.schema.json again")

// TestRecordSchema holds record.schema.json to the types that record.json is written from.
func TestRecordSchema(t *testing.T) {
	r := &jsonschema.Reflector{Anonymous: true, AllowAdditionalProperties: false, Mapper: asWritten, Namer: named}
	s := r.Reflect(&jobs.Export{})
	s.Title, s.Description = "Record of a deck-guard job", "record.json of a pack. Lengths are whole nanometres; times are RFC 3339, in UTC."
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	want := emptyIsNull(t, text)
	if *updateSchema {
		if err := os.WriteFile("record.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("record.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("record.schema.json is not what the types say: run go test ./views/pack -run TestRecordSchema -update-schema")
	}
}

// asWritten is the schema of a type that writes itself as text, which its Go type does not show.
func asWritten(t reflect.Type) *jsonschema.Schema {
	switch {
	case t == reflect.TypeFor[media.ID]():
		return &jsonschema.Schema{Type: "string", Pattern: "^[0-9a-f]{64}$"}
	case t != reflect.TypeFor[time.Time]() && t.Implements(reflect.TypeFor[encoding.TextMarshaler]()):
		return &jsonschema.Schema{Type: "string"}
	}
	return nil
}

// emptyIsNull lets null stand for every list: an empty one is written so. Members keep their order.
func emptyIsNull(t *testing.T, schema []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := json.Indent(&out, schema, "", " "); err != nil {
		t.Fatal(err)
	}
	return append(bytes.ReplaceAll(out.Bytes(), []byte(`"type": "array"`), []byte(`"type": ["array", "null"]`)), '\n')
}

// named is a type's name in the schema, with its package: more than one has an Answer.
func named(t reflect.Type) string {
	if t.Name() == "" { // a list
		return ""
	}
	return path.Base(t.PkgPath()) + "." + t.Name()
}
