package layout

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Job is a job description for the layout alone: what the layout command reads.
type Job struct {
	Units      length.Unit
	Rules      string // id of a rule set
	Amendments []codes.Amendment
	Spec       Spec
	Runs       []Run
	Built      map[string]map[int]Opening // clear openings as measured, by run label and bay number
}

// Applied returns the job's rule set with its amendments laid over it.
func (j Job) Applied() (codes.Applied, error) {
	base, err := codes.Get(j.Rules)
	if err != nil {
		return codes.Applied{}, err
	}
	return codes.Apply(base, j.Amendments)
}

const (
	largestJob = 4 << 20 // bytes of a job description
	mostRuns   = 500
)

// jobKeys are the keys of a job description.
var jobKeys = [...]string{"units", "rules", "amendments", "spec", "runs", "built"}

// ReadJob reads a job description in JSON. Its keys are those of SpecFields and RunFields; a length is text as people
// write it, or a bare number in the job's units; lists of lengths are arrays of these. A field left out keeps its default.
//
// Every fault is collected, each a FieldError whose Field is a path such as runs[0].tread; with any fault the Job is as far
// as it could be read and must not be used.
func ReadJob(r io.Reader) (Job, []FieldError) {
	body, err := io.ReadAll(io.LimitReader(r, largestJob+1))
	if err != nil {
		return Job{}, []FieldError{{Message: "The job description could not be read: " + err.Error() + "."}}
	}
	if len(body) > largestJob {
		return Job{}, []FieldError{{Message: fmt.Sprintf("The job description must be no larger than %d MB.", largestJob>>20)}}
	}
	reader := &jobReader{}
	job := reader.job(body)
	return job, reader.faults
}

// jobReader collects the faults of one job description.
type jobReader struct{ faults []FieldError }

func (r *jobReader) fault(path, format string, args ...any) {
	r.faults = append(r.faults, FieldError{Field: path, Message: fmt.Sprintf(format, args...)})
}

// member is one key of a JSON object with its value.
type member struct {
	key   string
	value json.RawMessage
}

// object reads the members of a JSON object in order, refusing a key written twice.
func (r *jobReader) object(path string, body []byte) []member {
	name := path
	if name == "" {
		name = "the job description"
	}
	decoder := json.NewDecoder(bytes.NewReader(body))
	start, err := decoder.Token()
	if err != nil || start != json.Delim('{') {
		r.fault(path, "%s must be a JSON object, in braces.", upperFirst(name))
		return nil
	}
	var members []member
	seen := map[string]bool{}
	for decoder.More() {
		key, err := decoder.Token()
		var m member
		if err == nil {
			m.key = fmt.Sprint(key)
			err = decoder.Decode(&m.value)
		}
		if err != nil {
			r.fault(path, "%s is not sound JSON: %s.", upperFirst(name), syntaxWords(err))
			return nil
		}
		if seen[m.key] {
			r.fault(joinPath(path, m.key), "%q is written twice.", m.key)
			continue
		}
		seen[m.key] = true
		members = append(members, m)
	}
	if _, err := decoder.Token(); err != nil {
		r.fault(path, "%s is not sound JSON: %s.", upperFirst(name), syntaxWords(err))
		return nil
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		r.fault(path, "Something follows the end of %s.", name)
		return nil
	}
	return members
}

// array reads the elements of a JSON array.
func (r *jobReader) array(path string, body []byte) []json.RawMessage {
	var elements []json.RawMessage
	if err := json.Unmarshal(body, &elements); err != nil {
		r.fault(path, "%s must be a JSON array, in square brackets.", upperFirst(path))
		return nil
	}
	return elements
}

// job reads the whole description.
func (r *jobReader) job(body []byte) Job {
	job := Job{Units: length.Inches}
	members := r.object("", body)
	if len(r.faults) > 0 {
		return job
	}
	part := map[string]json.RawMessage{}
	for _, m := range members {
		if !slices.Contains(jobKeys[:], m.key) {
			r.fault(m.key, "%s", unknownKey("key of a job description", m.key, jobKeys[:]))
			continue
		}
		part[m.key] = m.value
	}
	// The units come first: every bare number takes them.
	switch units := length.Unit(r.word("units", part["units"])); {
	case units.Style() != "":
		job.Units = units
	default:
		r.fault("units", `Units must be "in" or "mm".`)
	}
	job.Rules = r.word("rules", part["rules"])
	if !slices.Contains(codes.IDs(), job.Rules) {
		r.fault("rules", "Rules must be one of: %s.", strings.Join(codes.IDs(), ", "))
	}
	if body, ok := part["amendments"]; ok {
		job.Amendments = r.amendments(job, body)
	}
	job.Spec = DefaultSpec(job.Units)
	if body, ok := part["spec"]; ok {
		r.spec(&job.Spec, body, job.Units)
	}
	body, ok := part["runs"]
	if !ok {
		r.fault("runs", "Enter at least one run.")
		return job
	}
	job.Runs = r.runs(body, job.Units)
	if body, ok := part["built"]; ok {
		job.Built = r.built(body, job)
	}
	return job
}

// word reads a JSON string, or nothing where there is none.
func (r *jobReader) word(path string, body json.RawMessage) string {
	if body == nil {
		return ""
	}
	var text string
	if err := json.Unmarshal(body, &text); err != nil {
		r.fault(path, "%s must be text in quotation marks.", upperFirst(path))
	}
	return text
}

// amendments reads the authority's own figures.
func (r *jobReader) amendments(job Job, body []byte) []codes.Amendment {
	var all []codes.Amendment
	decoder := json.NewDecoder(bytes.NewReader(body))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&all); err != nil {
		r.fault("amendments", "Amendments must be a list of objects with key, value, said_by, office, on and note, all text.")
		return nil
	}
	base, err := codes.Get(job.Rules)
	if err != nil {
		return all // the rule set's own fault is reported already
	}
	for i, a := range all {
		if _, err := codes.Apply(base, []codes.Amendment{a}); err != nil {
			var refused *codes.AmendmentError
			if errors.As(err, &refused) {
				r.fault(fmt.Sprintf("amendments[%d]", i), "%s", refused.Sentence())
			}
		}
	}
	if _, err := codes.Apply(base, all); err != nil && len(r.faults) == 0 {
		var refused *codes.AmendmentError
		if errors.As(err, &refused) {
			r.fault("amendments", "%s", refused.Sentence())
		}
	}
	return all
}

// spec reads the specification over its defaults.
func (r *jobReader) spec(s *Spec, body []byte, unit length.Unit) {
	fields := SpecFields()
	for _, m := range r.object("spec", body) {
		path := joinPath("spec", m.key)
		f, ok := findField(fields, m.key)
		if !ok {
			r.fault(path, "%s", unknownKey("specification field", m.key, fieldKeys(fields)))
			continue
		}
		if text, ok := r.typed(path, f, m.value); ok {
			r.keep(path, f.Set(s, text, unit))
		}
	}
}

// typed turns a JSON value into what a person would have typed into the field.
func (r *jobReader) typed(path string, f Field, body json.RawMessage) (string, bool) {
	decoder := json.NewDecoder(bytes.NewReader(body))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		r.fault(path, "%s is not sound JSON.", upperFirst(path))
		return "", false
	}
	switch v := value.(type) {
	case nil:
		return "", true
	case string:
		return v, true
	case json.Number:
		if f.Kind != KindText && f.Kind != KindChoice {
			return v.String(), true
		}
	case []any:
		if f.Kind != KindLengths && f.Kind != KindDrops {
			break
		}
		parts := make([]string, len(v))
		for i, element := range v {
			switch element.(type) {
			case string, json.Number:
				parts[i] = fmt.Sprint(element)
			default:
				r.fault(path, "%s must be %s.", f.Label, f.jsonWords())
				return "", false
			}
		}
		return strings.Join(parts, ";"), true
	}
	r.fault(path, "%s must be %s.", f.Label, f.jsonWords())
	return "", false
}

// jsonWords says how a field is written in JSON.
func (f Field) jsonWords() string {
	switch f.Kind {
	case KindLength:
		return `a length as text, such as "41 3/8", or a number in the job's units`
	case KindLengths:
		return "a list of lengths"
	case KindDrops:
		return `a list of spots, such as ["0: 48", "72: 51 1/2 out 36"]`
	case KindCount, KindDegrees:
		return "a whole number"
	case KindWeight:
		return `a weight as text, such as "45 lb", or a number in pounds or kilograms as the job's units are`
	}
	return "text in quotation marks"
}

// keep files the error of a field under its path.
func (r *jobReader) keep(path string, err error) {
	if err != nil {
		r.fault(path, "%s", err.Error())
	}
}

// joinPath adds a key to a path.
func joinPath(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// syntaxWords says where JSON breaks, without the decoder's own words for it.
func syntaxWords(err error) string {
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		return fmt.Sprintf("look near byte %d", syntax.Offset)
	}
	return "it ends too early"
}
