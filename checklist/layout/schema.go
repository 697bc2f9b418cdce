package layout

import (
	_ "embed"
	"encoding/json"
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

const schemaDialect = "https://json-schema.org/draft/2020-12/schema"

//go:embed layout.schema.json
var outputSchema []byte

// OutputSchema returns the JSON Schema (draft 2020-12) of what WriteJSON writes.
func OutputSchema() []byte { return append([]byte(nil), outputSchema...) }

// node is a part of a JSON Schema. Maps are written with their keys sorted, so the same tables give the same bytes.
type node map[string]any

// Schema returns the JSON Schema (draft 2020-12) of a job description as ReadJob reads it, made from the field tables.
// It says which keys there are and what kind of value each takes; ranges of lengths are in words, since a length is
// mostly text.
func Schema() []byte {
	spec, run := node{}, node{
		"id":        node{"type": "string", "description": "Permanent id of the run; the label where it is left out."},
		"overrides": node{"$ref": "#/$defs/spec", "description": "Specification fields that this run has otherwise. Those of the whole job are refused."},
	}
	for _, f := range SpecFields() {
		spec[f.Key] = f.schema()
	}
	for _, f := range RunFields() {
		n := f.schema()
		kinds := make([]string, len(f.Kinds))
		for i, k := range f.Kinds {
			kinds[i] = string(k)
		}
		n["$comment"] = fmt.Sprintf("Asked for on these kinds of run: %v.", kinds)
		run[f.Key] = n
	}
	text := func(words string) node { return node{"type": "string", "description": words} }
	schema := node{
		"$schema":     schemaDialect,
		"title":       "A job description for the layout",
		"description": "Lengths are text as people write them (\"3 15/16\", \"3'-4 1/2\\\"\", \"95 mm\") or bare numbers in the job's units. A key left out keeps its default. Unknown keys are refused.",
		"type":        "object", "additionalProperties": false, "required": []string{"units", "rules", "runs"},
		"properties": node{
			"units": node{"enum": []length.Unit{length.Inches, length.Millimetres}, "description": "The unit that bare numbers take and that results are written in."},
			"rules": node{"enum": codes.IDs(), "description": "The rule set."},
			"amendments": node{"type": "array", "description": "The authority's own figures, and who said so.", "items": node{
				"type": "object", "additionalProperties": false, "required": []string{"key", "value", "said_by"},
				"properties": node{
					"key": text("Key of a figure of the rule set, such as guard.height_level."), "value": text("The figure as people write it, such as 42 in."),
					"said_by": text("Who said so."), "office": text("Their office."), "on": text("The day it was said, such as 2026-03-14."), "note": text("Anything else."),
				}}},
			"spec": node{"$ref": "#/$defs/spec", "description": "The build specification of the job."},
			"runs": node{"type": "array", "minItems": 1, "maxItems": mostRuns, "items": node{"type": "object", "additionalProperties": false, "properties": run}},
			"built": node{"type": "array", "description": "Clear openings as measured; the bay is laid out again from them.", "items": node{
				"type": "object", "additionalProperties": false, "required": []string{"run", "bay"},
				"properties": node{
					"run": text("Label of the run."), "bay": node{"type": "integer", "minimum": 1, "description": "Bay number, counted from the datum end."},
					"bottom":    node{"$ref": "#/$defs/length", "description": "Clear opening at the bottom rail, measured horizontally."},
					"top":       node{"$ref": "#/$defs/length", "description": "Clear opening at the top rail, measured horizontally."},
					"lean_from": node{"$ref": "#/$defs/length", "description": "Lean along the run of the post at the bay's datum-side end, over 4 ft or 1200 mm, positive away from the datum; the top rail's marks follow it."},
					"lean_to":   node{"$ref": "#/$defs/length", "description": "The same of the post at its other end."},
				}}},
		},
		"$defs": node{
			"length": node{"type": []string{"string", "number", "null"}, "description": "A length: text, a bare number in the job's units, or null for none."},
			"spec":   node{"type": "object", "additionalProperties": false, "properties": spec},
		},
	}
	return indented(schema)
}

// schema describes one field.
func (f Field) schema() node {
	n := node{"title": f.Label}
	words := f.Hint
	add := func(format string, args ...any) {
		if words != "" {
			words += " "
		}
		words += fmt.Sprintf(format, args...)
	}
	switch f.Kind {
	case KindLength:
		n["$ref"] = "#/$defs/length"
		f.rangeWords(add)
	case KindLengths:
		n["type"], n["items"] = []string{"array", "string", "null"}, node{"$ref": "#/$defs/length"}
		f.rangeWords(add)
	case KindDrops:
		n["type"], n["items"] = []string{"array", "string", "null"}, node{"type": "string"}
	case KindCount:
		n["type"], n["minimum"], n["maximum"] = []string{"integer", "null"}, 0, mostCount
	case KindWeight:
		n["type"] = []string{"string", "number", "null"}
	case KindDegrees:
		n["type"], n["minimum"], n["maximum"] = []string{"integer", "null"}, -180, 180
	case KindChoice:
		values := make([]any, 0, len(f.Choices)+1)
		for _, c := range f.Choices {
			values = append(values, c.Value)
		}
		if f.Optional {
			values = append(values, "", nil)
		}
		n["enum"] = values
	default:
		n["type"] = []string{"string", "null"}
	}
	switch {
	case f.US != "" && f.US == f.Metric:
		add("Default %s.", f.US)
	case f.US != "" || f.Metric != "":
		add("Default %s in inches, %s in millimetres.", orNone(f.US), orNone(f.Metric))
	}
	if f.Job {
		add("Of the whole job.")
	}
	if f.Source != "" {
		add("Source of the default: %s.", f.Source)
	}
	if words != "" {
		n["description"] = words
	}
	return n
}

// rangeWords puts the range of a length in words.
func (f Field) rangeWords(add func(string, ...any)) {
	if f.Min != 0 || f.Max != 0 {
		add("From %s to %s.", f.Min.Format(length.InchFraction), f.Max.Format(length.InchFraction))
	}
}

// orNone names an absent default.
func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// indented writes a schema for people to read.
func indented(v any) []byte {
	body, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic("layout: schema: " + err.Error())
	}
	return append(body, '\n')
}
