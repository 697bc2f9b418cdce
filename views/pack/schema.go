package pack

import _ "embed"

// recordSchema is the JSON Schema (draft 2020-12) of record.json, made from jobs.Export by a test: see schema_test.go.
//
//go:embed record.schema.json
var recordSchema []byte
