package views

import (
	"slices"
	"strconv"
	"strings"
)

// Field is one question of a form. Templates make one with the field function and pipe it through hint, value, unit and
// the others; the error beside it comes from the page's Errors, so that summary and field cannot differ.
type Field struct {
	Name, Label, Hint, Error string
	Value                    string
	Values                   []string // of a group of boxes
	Unit                     string   // shown after the box: in, mm
	Kind                     string   // type of the input: text, password, email, date, time, file
	Mode                     string   // inputmode
	Size                     string   // width class: short, medium, or empty for the full width
	Complete                 string   // autocomplete
	Accept                   string   // types of file
	Rows                     int
	Options                  []Option
	Ticked                   bool
	Many                     bool     // a file input that takes several
	Signed                   bool     // the number pad has a key for the direction
	Heading                  bool     // the label is the h1 of a page that asks one question
	Inline                   bool     // short choices side by side
	Settle                   []Button // answers to what the error asks, each with one tap
}

// Button is a button that sends its form with one field more.
type Button struct{ Name, Value, Label string }

// Option is one answer that can be picked.
type Option struct{ Value, Label, Hint string }

// FieldID is the id of the control of the named field; the error summary links to it.
func FieldID(name string) string {
	return "f-" + strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_', r == '-':
			return r
		}
		return '-'
	}, name)
}

// ID is the id of the field's control, or of the first of them.
func (f Field) ID() string { return FieldID(f.Name) }

// OptionID is the id of the i-th answer, from 0; the first has the field's own id, so that the summary's link finds it.
func (f Field) OptionID(i int) string {
	if i == 0 {
		return f.ID()
	}
	return f.ID() + "-" + strconv.Itoa(i+1)
}

// DescribedBy names the ids of hint, unit and error, for aria-describedby.
func (f Field) DescribedBy() string {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, f.ID()+"-hint")
	}
	if f.Unit != "" {
		ids = append(ids, f.ID()+"-unit")
	}
	if f.Error != "" {
		ids = append(ids, f.ID()+"-error")
	}
	return strings.Join(ids, " ")
}

// Picked says whether the answer is the chosen one, or among them.
func (f Field) Picked(o Option) bool {
	return f.Value == o.Value && f.Value != "" || slices.Contains(f.Values, o.Value)
}

// newField begins a field; page is the page itself, for its errors.
func newField(page Framed, name, label string) Field {
	return Field{Name: name, Label: label, Kind: "text", Rows: 4, Error: page.ErrorFor(name)}
}

// fieldFuncs are the steps that a field is piped through in a template.
func fieldFuncs() map[string]any {
	return map[string]any{
		"field":    newField,
		"hint":     func(s string, f Field) Field { f.Hint = s; return f },
		"value":    func(s string, f Field) Field { f.Value = s; return f },
		"values":   func(s []string, f Field) Field { f.Values = s; return f },
		"unit":     func(s string, f Field) Field { f.Unit = s; return f },
		"kind":     func(s string, f Field) Field { f.Kind = s; return f },
		"mode":     func(s string, f Field) Field { f.Mode = s; return f },
		"size":     func(s string, f Field) Field { f.Size = s; return f },
		"complete": func(s string, f Field) Field { f.Complete = s; return f },
		"accept":   func(s string, f Field) Field { f.Accept = s; return f },
		"rows":     func(n int, f Field) Field { f.Rows = n; return f },
		"ticked":   func(b bool, f Field) Field { f.Ticked = b; return f },
		"many":     func(f Field) Field { f.Many = true; return f },
		"signed":   func(f Field) Field { f.Signed = true; return f },
		"heading":  func(f Field) Field { f.Heading = true; return f },
		"inline":   func(f Field) Field { f.Inline = true; return f },
		"options":  func(o []Option, f Field) Field { f.Options = append(slices.Clip(f.Options), o...); return f },
		"option": func(value, label string, f Field) Field {
			f.Options = append(slices.Clip(f.Options), Option{Value: value, Label: label})
			return f
		},
		"optionHint": func(value, label, hint string, f Field) Field {
			f.Options = append(slices.Clip(f.Options), Option{Value: value, Label: label, Hint: hint})
			return f
		},
		"fieldID": FieldID,
	}
}
