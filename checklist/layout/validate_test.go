package layout_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// validate holds a document to a schema, as far as the schemas of this package go: it fails on a keyword that it does not know.
func validate(t *testing.T, schema, document []byte) {
	t.Helper()
	var root map[string]any
	if err := json.Unmarshal(schema, &root); err != nil {
		t.Fatal(err)
	}
	var value any
	if err := json.Unmarshal(document, &value); err != nil {
		t.Fatal(err)
	}
	for _, fault := range (validator{root}).faults("$", root, value) {
		t.Error(fault)
	}
}

type validator struct{ root map[string]any }

func (v validator) faults(path string, schema map[string]any, value any) []string {
	var all []string
	fault := func(format string, args ...any) { all = append(all, path+": "+fmt.Sprintf(format, args...)) }
	for keyword, rule := range schema {
		switch keyword {
		case "$schema", "$defs", "$comment", "title", "description":
		case "$ref":
			name := strings.TrimPrefix(rule.(string), "#/$defs/")
			target, ok := v.root["$defs"].(map[string]any)[name].(map[string]any)
			if !ok {
				fault("no definition %s", name)
				continue
			}
			all = append(all, v.faults(path, target, value)...)
		case "type":
			types, ok := rule.([]any)
			if !ok {
				types = []any{rule}
			}
			if !slices.ContainsFunc(types, func(want any) bool { return isType(value, want.(string)) }) {
				fault("%v is not of type %v", value, rule)
			}
		case "enum":
			if !slices.Contains(rule.([]any), value) {
				fault("%v is not one of %v", value, rule)
			}
		case "minimum":
			if n, ok := value.(float64); ok && n < rule.(float64) {
				fault("%v is under %v", n, rule)
			}
		case "maximum":
			if n, ok := value.(float64); ok && n > rule.(float64) {
				fault("%v is over %v", n, rule)
			}
		case "minItems", "maxItems":
			if list, ok := value.([]any); ok && (keyword == "minItems") == (float64(len(list)) < rule.(float64)) && float64(len(list)) != rule.(float64) {
				fault("%d items, %s %v", len(list), keyword, rule)
			}
		case "items":
			if list, ok := value.([]any); ok {
				for i, element := range list {
					all = append(all, v.faults(fmt.Sprintf("%s[%d]", path, i), rule.(map[string]any), element)...)
				}
			}
		case "required":
			if object, ok := value.(map[string]any); ok {
				for _, key := range rule.([]any) {
					if _, there := object[key.(string)]; !there {
						fault("no %v", key)
					}
				}
			}
		case "properties":
			if object, ok := value.(map[string]any); ok {
				for key, element := range object {
					if property, known := rule.(map[string]any)[key].(map[string]any); known {
						all = append(all, v.faults(path+"."+key, property, element)...)
					} else if schema["additionalProperties"] == false {
						fault("%s is not known", key)
					}
				}
			}
		case "additionalProperties":
		default:
			fault("the validator does not know the keyword %s", keyword)
		}
	}
	return all
}

func isType(value any, name string) bool {
	switch v := value.(type) {
	case nil:
		return name == "null"
	case bool:
		return name == "boolean"
	case string:
		return name == "string"
	case float64:
		return name == "number" || name == "integer" && v == math.Trunc(v)
	case []any:
		return name == "array"
	case map[string]any:
		return name == "object"
	}
	return false
}
