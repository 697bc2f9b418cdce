package views

import (
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// FieldGroup is the fields that stand under one heading of a form made from the layout's own tables of fields.
type FieldGroup struct {
	Name   string
	Note   string // how many a run has otherwise, or what a part of the specification holds
	Open   bool   // shown opened: something in it is filled in, at fault or still to be entered
	Fields []FieldView
}

// FieldView is one field with the part that shows it; exactly one is set.
type FieldView struct{ Box, Area, Select *Field }

// SpecKeys lists the form names of the specification fields, in the order in which they are asked.
func SpecKeys() []string {
	var keys []string
	for _, f := range layout.SpecFields() {
		keys = append(keys, f.Key)
	}
	return keys
}

// RunKeys lists the form names of the fields that a run of this kind is asked for, in their order; kind is level, rake or
// removable, and any other is taken as level.
func RunKeys(kind string) []string {
	k := runKindOf(kind)
	var keys []string
	for _, f := range layout.RunFields() {
		if f.For(k) {
			keys = append(keys, f.Key)
		}
	}
	return keys
}

// specGroups are the fields of a job's specification.
func specGroups(frame Frame, spec layout.Spec, units length.Unit, form Form) []FieldGroup {
	var groups []FieldGroup
	for _, f := range layout.SpecFields() {
		v := fieldOf(frame, f, units)
		v.Value = form.Text(f.Key, f.Text(&spec, units.Style()))
		if d := f.Default(units); d != "" && f.Kind != layout.KindChoice {
			v.Hint = join(v.Hint, "Default "+d+", "+f.Source+".")
		} else if f.Source != "" {
			v.Hint = join(v.Hint, "Default: "+f.Source+".")
		}
		groups = put(groups, f.Group, shape(v, f.Kind))
		g := &groups[len(groups)-1]
		g.Note = counted(len(g.Fields), "field")
		g.Open = g.Open || v.Error != ""
	}
	// Everything has a default but what the connectors take off a rail.
	for i := range groups {
		if g := &groups[i]; g.Name == layout.GroupRails && !(spec.ConnectorTopGiven && spec.ConnectorBottomGiven) {
			g.Open, g.Note = true, g.Note+", connectors not entered"
		}
	}
	return groups
}

// overrideGroups are the same fields for one run: empty where the run is as the job.
func overrideGroups(frame Frame, job jobs.Job, run layout.Run, form Form) []FieldGroup {
	had := map[string]string{}
	for _, o := range run.Overrides {
		had[o.Key] = o.Text
	}
	filled := map[string]int{}
	var groups []FieldGroup
	for _, f := range layout.SpecFields() {
		if f.Job {
			continue
		}
		v := fieldOf(frame, f, job.Units)
		v.Value = form.Text(f.Key, had[f.Key])
		own := f.Text(&job.Spec, job.Units.Style())
		if f.Kind == layout.KindChoice {
			v.Options = append([]Option{{Label: "As the job: " + choiceLabel(f, own)}}, v.Options...)
		} else {
			v.Hint = join(v.Hint, "The job has "+orNone(own)+".")
		}
		groups = put(groups, f.Group, shape(v, f.Kind))
		g := &groups[len(groups)-1]
		if v.Value != "" || v.Error != "" {
			filled[f.Group]++
			g.Open, g.Note = true, counted(filled[f.Group], "field")+" otherwise"
		}
	}
	return groups
}

// runGroups are the fields of a run of its kind.
func runGroups(frame Frame, run layout.Run, units length.Unit, form Form) []FieldGroup {
	var groups []FieldGroup
	for _, f := range layout.RunFields() {
		if !f.For(run.Kind) || f.Key == "kind" {
			continue
		}
		v := fieldOf(frame, f.Field, units)
		v.Value = form.Text(f.Key, f.Text(&run, units.Style()))
		if f.Optional && f.Kind == layout.KindChoice {
			v.Options = append([]Option{{Label: "Not known"}}, v.Options...)
		}
		groups = put(groups, f.Group, shape(v, f.Kind))
	}
	return groups
}

// runStands are the saved fields of a run and what it has otherwise than the job, for a form that came back stale.
func runStands(run layout.Run, units length.Unit) []Stand {
	var out []Stand
	for _, f := range layout.RunFields() {
		if f.For(run.Kind) {
			out = append(out, Stand{f.Key, f.Label, f.Text(&run, units.Style())})
		}
	}
	had := map[string]string{}
	for _, o := range run.Overrides {
		had[o.Key] = o.Text
	}
	for _, f := range layout.SpecFields() {
		if !f.Job {
			out = append(out, Stand{f.Key, f.Label + ", this run", had[f.Key]})
		}
	}
	return out
}

// specStands are the saved fields of a specification.
func specStands(spec layout.Spec, units length.Unit) []Stand {
	var out []Stand
	for _, f := range layout.SpecFields() {
		out = append(out, Stand{f.Key, f.Label, f.Text(&spec, units.Style())})
	}
	return out
}

func fieldOf(frame Frame, f layout.Field, units length.Unit) Field {
	v := newField(frame, f.Key, f.Label)
	v.Hint, v.Complete = f.Hint, "off"
	switch f.Kind {
	case layout.KindLength:
		v.Unit, v.Size = unitMark(units), "short"
	case layout.KindLengths:
		v.Unit = unitMark(units)
	case layout.KindDegrees:
		v.Unit, v.Size = "degrees", "short"
	case layout.KindCount, layout.KindWeight:
		v.Size = "short"
	}
	for _, c := range f.Choices {
		v.Options = append(v.Options, Option{Value: c.Value, Label: upperFirst(c.Label)})
	}
	return v
}

// shape picks the part that shows a field.
func shape(v Field, kind layout.FieldKind) FieldView {
	switch {
	case kind == layout.KindChoice:
		return FieldView{Select: &v}
	case v.Name == "note" || kind == layout.KindDrops:
		v.Rows = 3
		return FieldView{Area: &v}
	}
	return FieldView{Box: &v}
}

// put adds a field to its group; groups come in the order of their first field.
func put(groups []FieldGroup, name string, v FieldView) []FieldGroup {
	for i := range groups {
		if groups[i].Name == name {
			groups[i].Fields = append(groups[i].Fields, v)
			return groups
		}
	}
	return append(groups, FieldGroup{Name: name, Fields: []FieldView{v}})
}

func choiceLabel(f layout.Field, value string) string {
	for _, c := range f.Choices {
		if c.Value == value {
			return c.Label
		}
	}
	return value
}

// unitMark is the unit that a bare number takes, as shown behind a box.
func unitMark(u length.Unit) string {
	if u == length.Millimetres {
		return "mm"
	}
	return "in"
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

func orNone(text string) string {
	if text == "" {
		return "nothing entered"
	}
	return text
}
