package layout

import (
	"encoding/json"
	"fmt"
	"slices"

	"newelbook/checklist/length"
)

// runs reads every run of a job description.
func (r *jobReader) runs(body []byte, unit length.Unit) []Run {
	elements := r.array("runs", body)
	switch {
	case elements != nil && len(elements) == 0:
		r.fault("runs", "Enter at least one run.")
	case len(elements) > mostRuns:
		r.fault("runs", "Runs must be %d or fewer.", mostRuns)
		return nil
	}
	var runs []Run
	for i, element := range elements {
		run := r.run(fmt.Sprintf("runs[%d]", i), element, unit)
		if run.Label == "" {
			run.Label = fmt.Sprintf("R%d", i+1)
		}
		if run.ID == "" {
			run.ID = run.Label
		}
		for _, other := range runs {
			if other.Label == run.Label {
				r.fault(fmt.Sprintf("runs[%d].label", i), "Run label must not be used twice: %q is another run's.", run.Label)
			}
			if other.ID == run.ID && other.Label != run.Label {
				r.fault(fmt.Sprintf("runs[%d].id", i), "Run id must not be used twice: %q is another run's.", run.ID)
			}
		}
		runs = append(runs, run)
	}
	for i, run := range runs {
		if run.StartAt != "" && !slices.ContainsFunc(runs[:i], func(before Run) bool { return before.Label == run.StartAt }) {
			r.fault(fmt.Sprintf("runs[%d].start_at", i), "Starts at run must name a run before this one; none is called %q.", run.StartAt)
		}
	}
	return runs
}

// run reads one run over the defaults of its kind.
func (r *jobReader) run(path string, body []byte, unit length.Unit) Run {
	members := r.object(path, body)
	fields := RunFields()
	kind := Run{Kind: Level}
	for _, m := range members {
		if m.key != "kind" {
			continue
		}
		// A wrong kind is reported when its member is read below.
		var text string
		if json.Unmarshal(m.value, &text) == nil {
			for _, f := range fields {
				if f.Key == "kind" && f.Set(&kind, text, unit) != nil {
					kind.Kind = Level
				}
			}
		}
	}
	run := DefaultRun(kind.Kind, unit)
	for _, m := range members {
		at := joinPath(path, m.key)
		switch m.key {
		case "id":
			run.ID = r.word(at, m.value)
			continue
		case "overrides":
			run.Overrides = r.overrides(at, m.value, unit)
			continue
		}
		i := slices.IndexFunc(fields, func(f RunField) bool { return f.Key == m.key })
		if i < 0 {
			r.fault(at, "%s", unknownKey("field of a run", m.key, runKeys(fields)))
			continue
		}
		if text, ok := r.typed(at, fields[i].Field, m.value); ok {
			r.keep(at, fields[i].Set(&run, text, unit))
		}
	}
	return run
}

// overrides reads the specification fields that a run has otherwise: an object of the same keys as the specification.
func (r *jobReader) overrides(path string, body []byte, unit length.Unit) []Override {
	var all []Override
	fields, scratch := SpecFields(), DefaultSpec(unit)
	for _, m := range r.object(path, body) {
		at := joinPath(path, m.key)
		f, ok := findField(fields, m.key)
		if !ok {
			r.fault(at, "%s", unknownKey("specification field", m.key, fieldKeys(fields)))
			continue
		}
		text, ok := r.typed(at, f, m.value)
		if !ok {
			continue
		}
		if err := f.setOver(&scratch, text, unit); err != nil {
			r.keep(at, err)
			continue
		}
		all = append(all, Override{Key: m.key, Text: text})
	}
	return all
}

// builtKeys are the keys of one measured opening.
var builtKeys = [...]string{"run", "bay", "bottom", "top", "lean_from", "lean_to"}

// built reads the clear openings as measured.
func (r *jobReader) built(body []byte, job Job) map[string]map[int]Opening {
	all := map[string]map[int]Opening{}
	for i, element := range r.array("built", body) {
		path := fmt.Sprintf("built[%d]", i)
		var label string
		var bay int
		var opening Opening
		for _, m := range r.object(path, element) {
			at := joinPath(path, m.key)
			switch m.key {
			case "run":
				label = r.word(at, m.value)
			case "bay":
				if err := json.Unmarshal(m.value, &bay); err != nil {
					r.fault(at, "Bay must be a whole number, such as 2.")
				}
			case "bottom":
				opening.Bottom = r.opening(at, "Opening at the bottom rail", m.value, job.Units)
			case "top":
				opening.Top = r.opening(at, "Opening at the top rail", m.value, job.Units)
			case "lean_from":
				opening.LeanFrom = r.lean(at, "Lean of the post at the datum-side end", m.value, job.Units)
			case "lean_to":
				opening.LeanTo = r.lean(at, "Lean of the post at the other end", m.value, job.Units)
			default:
				r.fault(at, "%s", unknownKey("key of a measured opening", m.key, builtKeys[:]))
			}
		}
		switch known := slices.ContainsFunc(job.Runs, func(run Run) bool { return run.Label == label }); {
		case !known:
			r.fault(path+".run", "Run must be the label of a run; none is called %q.", label)
			continue
		case bay < 1:
			r.fault(path+".bay", "Bay must be counted from 1.")
			continue
		case opening.Bottom == 0 && opening.Top == 0:
			r.fault(path, "Enter the opening at the bottom rail, at the top rail or at both.")
			continue
		}
		if all[label] == nil {
			all[label] = map[int]Opening{}
		}
		if _, twice := all[label][bay]; twice {
			r.fault(path, "The opening of %s-B%d is given twice.", label, bay)
		}
		all[label][bay] = opening
	}
	return all
}

// opening reads one measured length.
func (r *jobReader) opening(path, label string, body json.RawMessage, unit length.Unit) length.Length {
	f := Field{Label: label, Kind: KindLength, Min: 0, Max: 1200 * in}
	text, ok := r.typed(path, f, body)
	if !ok {
		return 0
	}
	var l length.Length
	r.keep(path, f.setIn(slot{length: &l}, text, unit))
	return l
}

// lean reads one lean of a post over LeanOver, with its sign; nil where it cannot be read.
func (r *jobReader) lean(path, label string, body json.RawMessage, unit length.Unit) *length.Length {
	f := Field{Label: label, Kind: KindLength, Min: -12 * in, Max: 12 * in}
	text, ok := r.typed(path, f, body)
	if !ok || text == "" {
		return nil
	}
	var l length.Length
	r.keep(path, f.setIn(slot{length: &l}, text, unit))
	return &l
}
