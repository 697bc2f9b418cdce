package pack_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/invopop/jsonschema"

	"newelbook/jobs"
)

var updateSchema = flag.Bool("update-schema", false, "write record.schema.json again")

// TestRecordSchema holds record.schema.json to the types that record.json is written from.
func TestRecordSchema(t *testing.T) {
	r := &jsonschema.Reflector{Anonymous: true, AllowAdditionalProperties: false}
	s := r.Reflect(&jobs.Export{})
	s.Title, s.Description = "Record of a deck-guard job", "record.json of a pack. Lengths are whole nanometres; times are RFC 3339, in UTC."
	want, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
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
