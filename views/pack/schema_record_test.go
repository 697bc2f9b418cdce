package pack_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"newelbook/jobs"
)

// recordSchemaOf compiles record.schema.json with a validator that shares nothing with the maker of the schema.
func recordSchemaOf(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("record.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("record.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// todaysSchema is the schema that a pack of this release carries.
func todaysSchema(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile("record.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// held is the record out of a kept pack.
func held(t *testing.T, name string) (record []byte) {
	t.Helper()
	whole := keptPack(t, name)
	z, err := zip.NewReader(bytes.NewReader(whole), int64(len(whole)))
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range z.File {
		if !strings.HasSuffix(entry.Name, "/data/record.json") {
			continue
		}
		r, err := entry.Open()
		if err != nil {
			t.Fatal(err)
		}
		if record, err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return record
}

// The record of each kept pack, written by this release, is what its schema says, by a validator of another hand; one that breaks it is
// refused. The schemas of releases 1 and 2 called an empty list no null and a hash no text, so their own records do not fit them.
func TestRecordsFitTheirSchema(t *testing.T) {
	today := recordSchemaOf(t, todaysSchema(t))
	for name := range kept(t) {
		record := held(t, name)
		var x jobs.Export
		if err := json.Unmarshal(record, &x); err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		var now map[string]any
		if err := json.Unmarshal(again, &now); err != nil {
			t.Fatal(err)
		}
		if err := today.Validate(now); err != nil {
			t.Errorf("%s, written again: %v", name, err)
		}
		for _, wrong := range []struct {
			what   string
			change func(map[string]any)
		}{
			{"a field that no record has", func(m map[string]any) { m["weather"] = "fair" }},
			{"no chain", func(m map[string]any) { delete(m, "chain") }},
			{"a head that is text", func(m map[string]any) { m["head"] = "x" }},
		} {
			broken := maps.Clone(now)
			wrong.change(broken)
			if today.Validate(broken) == nil {
				t.Errorf("%s: a record with %s fits", name, wrong.what)
			}
		}
	}
}
