package layout

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"newelbook/checklist/length"
)

// FieldKind says what a field holds and so how it is asked for.
type FieldKind string

// Kinds of field.
const (
	KindLength  FieldKind = "length"  // one length
	KindCount   FieldKind = "count"   // a whole number, not negative
	KindChoice  FieldKind = "choice"  // one of Choices
	KindText    FieldKind = "text"    // words
	KindLengths FieldKind = "lengths" // several lengths, separated by commas or semicolons when typed
	KindDrops   FieldKind = "drops"   // spots of a survey of drops, "0: 48; 72: 51 1/2 out 36" when typed
	KindDegrees FieldKind = "degrees" // a whole number of degrees, -180 to 180
	KindWeight  FieldKind = "weight"  // a weight, "45 lb" or "20 kg"
)

// Choice is one answer of a choice field: the word stored and what is shown.
type Choice struct {
	Value, Label string
}

// Field describes one field of a specification or a run: the only place where its key, words, unit, default and range stand.
type Field struct {
	Key     string // in a job description and in forms
	Group   string // heading it stands under
	Label   string
	Hint    string // one short sentence, may be empty
	Kind    FieldKind
	Choices []Choice
	// US and Metric are the defaults as typed; empty where there is none.
	US, Metric string
	// Min and Max bound a length, inclusive. Both zero: only the range of length.Parse holds.
	Min, Max length.Length
	Signed   bool   // a negative length has a meaning here
	Optional bool   // may be left empty
	Job      bool   // of the whole job: a run cannot have it otherwise
	Source   string // where the default comes from

	spec func(*Spec) slot // nil on a field of a run
}

// practice is the source of a site default that no standard prints.
const practice = "common practice, no source"

// slot points at the place where a field keeps its value; exactly one of the first six is set. given, where present,
// tells an empty length from a length of nothing.
type slot struct {
	length  *length.Length
	text    *string
	count   *int
	lengths *[]length.Length
	drops   *[]DropSpot
	weight  *Weight
	given   *bool
}

// FieldError is one field's fault: its key and a finished sentence.
type FieldError struct {
	Field   string `json:"field"`
	Message string `json:"message"`
}

// Error returns the sentence.
func (e FieldError) Error() string { return e.Message }

// Text returns the field's value in s as a person would type it, lengths in the style's bare unit. Set reads it back exactly.
func (f Field) Text(s *Spec, style length.Style) string { return f.textOf(f.spec(s), style) }

// Set reads text into the field of s; bare numbers take unit. The error is a FieldError with a finished sentence, and
// leaves s as it was.
func (f Field) Set(s *Spec, text string, unit length.Unit) error {
	return f.setIn(f.spec(s), text, unit)
}

// Default returns the default as typed for jobs in unit.
func (f Field) Default(unit length.Unit) string {
	if unit == length.Millimetres {
		return f.Metric
	}
	return f.US
}

// textOf shows what a slot holds.
func (f Field) textOf(at slot, style length.Style) string {
	switch {
	case at.length != nil:
		if *at.length == 0 && f.Optional && (at.given == nil || !*at.given) {
			return ""
		}
		return exactText(*at.length, style)
	case at.lengths != nil:
		texts := make([]string, len(*at.lengths))
		for i, l := range *at.lengths {
			texts[i] = exactText(l, style)
		}
		return strings.Join(texts, ", ")
	case at.drops != nil:
		return dropText(*at.drops, style)
	case at.weight != nil:
		if *at.weight == 0 {
			return ""
		}
		return exactWeight(*at.weight, style)
	case at.count != nil:
		if *at.count == 0 && f.Optional {
			return ""
		}
		return strconv.Itoa(*at.count)
	}
	return *at.text
}

// exactText shows a length in the style's bare unit, or in full where that would lose something.
func exactText(l length.Length, style length.Style) string {
	bare := length.Inches
	if style == length.Metric {
		bare = length.Millimetres
	}
	text := l.FormatBare(style)
	if back, err := length.Parse(text, bare); err != nil || back != l {
		return l.String()
	}
	return text
}

// setIn reads text into a slot.
func (f Field) setIn(at slot, text string, unit length.Unit) error {
	text = strings.TrimSpace(text)
	if text == "" {
		if !f.Optional {
			return f.refuse("Enter the %s.", f.inSentence())
		}
		at.clear()
		return nil
	}
	switch f.Kind {
	case KindLength:
		l, err := f.parse(text, unit)
		if err != nil {
			return err
		}
		*at.length = l
		if at.given != nil {
			*at.given = true
		}
	case KindLengths:
		var all []length.Length
		for _, part := range splitLengths(text) {
			some, err := f.parseSome(part, unit)
			if err != nil {
				return err
			}
			all = append(all, some...)
		}
		*at.lengths = all
	case KindDrops:
		spots, err := f.drops(text, unit)
		if err != nil {
			return err
		}
		*at.drops = spots
	case KindWeight:
		g, err := parseWeight(text, unit)
		if err != nil {
			return f.refuse("%s must be a weight such as 45 lb or 20 kg, no more than 1,000 kg.", f.Label)
		}
		*at.weight = g
	case KindCount, KindDegrees:
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(text, "°")))
		switch {
		case err != nil && f.Kind == KindDegrees:
			return f.refuse("%s must be a whole number of degrees, such as 90.", f.Label)
		case err != nil:
			return f.refuse("%s must be a whole number, such as 4.", f.Label)
		case f.Kind == KindDegrees && (n < -180 || n > 180):
			return f.refuse("%s must be between -180 and 180 degrees.", f.Label)
		case f.Kind == KindCount && (n < 0 || n > mostCount):
			return f.refuse("%s must be between 0 and %d.", f.Label, mostCount)
		}
		*at.count = n
	case KindChoice:
		for _, c := range f.Choices {
			if strings.EqualFold(c.Value, text) || strings.EqualFold(c.Label, text) {
				*at.text = c.Value
				return nil
			}
		}
		return f.refuse("%s must be one of: %s.", f.Label, f.choiceWords())
	default:
		if len(text) > longestWords {
			return f.refuse("%s must be %d characters or fewer.", f.Label, longestWords)
		}
		*at.text = text
	}
	return nil
}

const (
	mostCount    = 200  // risers of a flight and the like
	longestWords = 2000 // a note, in bytes
)

// clear empties a slot.
func (at slot) clear() {
	switch {
	case at.length != nil:
		*at.length = 0
		if at.given != nil {
			*at.given = false
		}
	case at.lengths != nil:
		*at.lengths = nil
	case at.drops != nil:
		*at.drops = nil
	case at.weight != nil:
		*at.weight = 0
	case at.count != nil:
		*at.count = 0
	default:
		*at.text = ""
	}
}

// splitLengths takes a typed list apart at semicolons, commas followed by a blank and line ends; other commas stay.
func splitLengths(text string) []string {
	text = strings.NewReplacer(";", "\n", ", ", "\n", "\r", "\n").Replace(text + " ")
	var parts []string
	for part := range strings.SplitSeq(text, "\n") {
		if part = strings.Trim(part, " ,"); part != "" {
			parts = append(parts, part)
		}
	}
	return parts
}

// Commas without a blank, in a list.
var (
	groupedNumber  = regexp.MustCompile(`^\d{1,2}(,\d{3})+(\.\d+)?$`) // 1,800: with three digits in the first place it reads more like two lengths
	namedUnit      = regexp.MustCompile(`[a-z'"]\s*$`)                // 1,800 mm
	decimalComma   = regexp.MustCompile(`^\d+,\d{1,2}\s*[a-z'"]*$`)   // 181,5
	decimalsInList = regexp.MustCompile(`(^|,)\d{2,},\d{1,2}(,|$)`)   // 181,5,190
)

// parseSome reads what splitLengths left together: one length, or several with commas and no blank between them. What can be read both ways
// is asked about: a comma may group thousands, stand for the decimal point where people work in millimetres, or part two lengths.
func (f Field) parseSome(text string, unit length.Unit) ([]length.Length, error) {
	one, failed := f.parse(text, unit)
	if !strings.Contains(text, ",") {
		return []length.Length{one}, failed
	}
	metric := unit == length.Millimetres
	if failed == nil && (metric && groupedNumber.MatchString(text) || namedUnit.MatchString(text)) {
		return []length.Length{one}, nil
	}
	var all []length.Length
	for part := range strings.SplitSeq(text, ",") {
		l, err := f.parse(strings.TrimSpace(part), unit)
		if err != nil && failed == nil {
			return []length.Length{one}, nil
		}
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	if failed == nil || decimalComma.MatchString(text) || metric && decimalsInList.MatchString(text) {
		return nil, f.refuse("%s: in %s a comma may stand inside a number or part two lengths. Put a blank after each comma that parts two lengths, and write decimals with a point and thousands without a comma.", f.Label, text)
	}
	return all, nil
}

// parse reads one length of the field and tests its range. Of several lengths it says which is at fault.
func (f Field) parse(text string, unit length.Unit) (length.Length, error) {
	what := f.Label
	if f.Kind == KindLengths {
		what += ": " + text
	}
	l, err := length.Parse(text, unit)
	switch {
	case errors.Is(err, length.ErrTooFine):
		return 0, f.refuse("%s must be a decimal or a fraction no finer than 1/64, such as %s.", what, example(unit))
	case errors.Is(err, length.ErrUnit):
		return 0, f.refuse("%s must have its unit, such as 41 3/8 in or 1040 mm.", what)
	case errors.Is(err, length.ErrRange):
		return 0, f.refuse("%s must be no longer than 3,280 ft (1,000 m).", what)
	case err != nil:
		return 0, f.refuse("%s must be a length such as %s.", what, example(unit))
	}
	style := unit.Style()
	switch {
	case f.Min == 0 && f.Max == 0 && (f.Signed || l >= 0):
		return l, nil
	case f.Min == 0 && f.Max == 0:
		return 0, f.refuse("%s must not be negative.", what)
	case l < f.Min || l > f.Max:
		return 0, f.refuse("%s must be between %s and %s.", what, f.Min.Format(style), f.Max.Format(style))
	}
	return l, nil
}

// example is a length as people write it in the unit.
func example(unit length.Unit) string {
	if unit == length.Millimetres {
		return "1940 or 1940 mm"
	}
	return `41 3/8 or 3' 5 3/8"`
}

// inSentence is the label as it stands inside a sentence: its first letter lower case unless the word is written in capitals.
func (f Field) inSentence() string {
	if len(f.Label) > 1 && f.Label[1] >= 'a' && f.Label[1] <= 'z' {
		return strings.ToLower(f.Label[:1]) + f.Label[1:]
	}
	return f.Label
}

// choiceWords lists the values of a choice.
func (f Field) choiceWords() string {
	words := make([]string, len(f.Choices))
	for i, c := range f.Choices {
		words[i] = c.Value
	}
	return strings.Join(words, ", ")
}

// refuse makes the field's error.
func (f Field) refuse(format string, args ...any) error {
	return FieldError{Field: f.Key, Message: fmt.Sprintf(format, args...)}
}

// DefaultSpec returns the site defaults for jobs in unit. Connector allowances are left "not given": they are found by a
// dry fit. Heights left empty follow the rule set.
func DefaultSpec(unit length.Unit) Spec {
	var s Spec
	for _, f := range SpecFields() {
		text := f.Default(unit)
		if text == "" {
			continue
		}
		if err := f.Set(&s, text, unit); err != nil {
			panic("layout: default of " + f.Key + ": " + err.Error())
		}
	}
	return s
}

// With returns the specification with the overrides of a run laid over it, and the overrides that could not be read,
// which change nothing. Bare numbers take unit.
func (s Spec) With(overrides []Override, unit length.Unit) (Spec, []FieldError) {
	if len(overrides) == 0 {
		return s, nil
	}
	var faults []FieldError
	fields := SpecFields()
	for _, o := range overrides {
		f, ok := findField(fields, o.Key)
		if !ok {
			faults = append(faults, FieldError{Field: o.Key, Message: unknownKey("specification field", o.Key, fieldKeys(fields))})
			continue
		}
		var fault FieldError
		if err := f.setOver(&s, o.Text, unit); errors.As(err, &fault) {
			faults = append(faults, fault)
		}
	}
	return s, faults
}

// setOver is Set for a run that has the field otherwise than the job, which one of the whole job refuses.
func (f Field) setOver(s *Spec, text string, unit length.Unit) error {
	if f.Job {
		return f.refuse("%s is set for the whole job: take it out of the run.", f.Label)
	}
	return f.Set(s, text, unit)
}

// findField returns the field of a key.
func findField(fields []Field, key string) (Field, bool) {
	for _, f := range fields {
		if f.Key == key {
			return f, true
		}
	}
	return Field{}, false
}

// fieldKeys lists the keys of fields.
func fieldKeys(fields []Field) []string {
	keys := make([]string, len(fields))
	for i, f := range fields {
		keys[i] = f.Key
	}
	return keys
}
