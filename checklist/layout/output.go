package layout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"

	"newelbook/checklist/length"
)

// Output is what the layout command prints as JSON.
type Output struct {
	Format  string      `json:"format"` // OutputFormat
	Units   length.Unit `json:"units"`  // the unit that texts are written in
	Rules   string      `json:"rules"`  // id of the rule set
	Edition string      `json:"edition"`
	Plan    Plan        `json:"plan"`
	Runs    []Layout    `json:"runs"`
	// Materials is what to order and how to cut it, where that was asked for. It is made by package materials, which stands above this
	// one.
	Materials any `json:"materials,omitempty"`
}

// OutputFormat names what WriteJSON writes. A change that breaks a reader changes the number.
const OutputFormat = "newelbook layout 1"

// WriteJSON writes the layouts of a job. Every length is an object of its exact nanometres, its text in the job's units,
// and decimal inches and millimetres for drawing and spreadsheets; see OutputSchema.
func WriteJSON(w io.Writer, job Job, layouts []Layout) error {
	return WriteJSONWith(w, job, layouts, nil)
}

// WriteJSONWith is WriteJSON with a materials.List, or nil for none.
func WriteJSONWith(w io.Writer, job Job, layouts []Layout, materials any) error {
	out := Output{Format: OutputFormat, Units: job.Units, Rules: job.Rules, Plan: NewPlan(job.Runs, layouts, job.Spec, job.Units), Runs: emptyNotNil(layouts), Materials: materials}
	if rules, err := job.Applied(); err == nil {
		out.Edition = rules.RuleSet().Edition
	}
	var buf bytes.Buffer
	e := lengthEncoder{buf: &buf, style: job.Units.Style()}
	if err := e.value(reflect.ValueOf(out)); err != nil {
		return fmt.Errorf("write layout as JSON: %w", err)
	}
	var pretty bytes.Buffer
	if err := json.Indent(&pretty, buf.Bytes(), "", "  "); err != nil {
		return fmt.Errorf("write layout as JSON: %w", err)
	}
	pretty.WriteByte('\n')
	_, err := w.Write(pretty.Bytes())
	return err
}

// lengthEncoder writes values as encoding/json does, but lengths as objects.
type lengthEncoder struct {
	buf   *bytes.Buffer
	style length.Style
}

// shownLength is a length in the output.
type shownLength struct {
	Nanometres  int64   `json:"nm"`
	Text        string  `json:"text"`
	Inches      float64 `json:"in"`
	Millimetres float64 `json:"mm"`
}

func (e lengthEncoder) value(v reflect.Value) error {
	if l, ok := v.Interface().(length.Length); ok {
		return e.plain(shownLength{int64(l), l.Format(e.style), l.Inches(), l.Millimetres()})
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			e.buf.WriteString("null")
			return nil
		}
		return e.value(v.Elem())
	case reflect.Slice:
		e.buf.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				e.buf.WriteByte(',')
			}
			if err := e.value(v.Index(i)); err != nil {
				return err
			}
		}
		e.buf.WriteByte(']')
		return nil
	case reflect.Struct:
		return e.object(v)
	}
	return e.plain(v.Interface())
}

// object writes the fields of a struct by their tags, leaving out empty ones that say so.
func (e lengthEncoder) object(v reflect.Value) error {
	e.buf.WriteByte('{')
	first := true
	for i := range v.NumField() {
		name, options, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if options == "omitempty" && v.Field(i).IsZero() {
			continue
		}
		if !first {
			e.buf.WriteByte(',')
		}
		first = false
		if err := e.plain(name); err != nil {
			return err
		}
		e.buf.WriteByte(':')
		if err := e.value(v.Field(i)); err != nil {
			return err
		}
	}
	e.buf.WriteByte('}')
	return nil
}

// plain writes anything that holds no length.
func (e lengthEncoder) plain(v any) error {
	encoder := json.NewEncoder(e.buf)
	encoder.SetEscapeHTML(false)
	return encoder.Encode(v)
}
