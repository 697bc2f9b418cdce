package layout_test

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestFieldsDescribeEverything: keys are unique and spelt alike, every length has a range that its defaults keep to, and
// every field of Spec and Run belongs to exactly one description.
func TestFieldsDescribeEverything(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range layout.SpecFields() {
		if seen[f.Key] || f.Key != strings.ToLower(f.Key) || f.Label == "" || f.Group == "" || f.Kind == "" {
			t.Errorf("field %q is not fully described, or is twice", f.Key)
		}
		seen[f.Key] = true
		if f.Kind == layout.KindLength && f.Min == 0 && f.Max == 0 {
			t.Errorf("length %s has no range", f.Key)
		}
		if f.Kind == layout.KindChoice && len(f.Choices) < 2 {
			t.Errorf("choice %s has %d choices", f.Key, len(f.Choices))
		}
		if !f.Optional && (f.US == "" || f.Metric == "" || f.Source == "") {
			t.Errorf("field %s must be given, yet has no default or no source for it", f.Key)
		}
		if strings.HasSuffix(f.Hint, " ") || f.Hint != "" && !strings.HasSuffix(f.Hint, ".") {
			t.Errorf("hint of %s is not a sentence: %q", f.Key, f.Hint)
		}
	}
	// The three flags of the connector allowances, that of the shoes and that of the bases belong to the fields that they are flags of.
	if want := reflect.TypeFor[layout.Spec]().NumField() - 5; len(seen) != want {
		t.Errorf("%d fields described, Spec has %d", len(seen), want)
	}
	if want := reflect.TypeFor[layout.Run]().NumField() - 2; len(layout.RunFields()) != want {
		t.Errorf("%d fields described, Run has %d and its id and overrides", len(layout.RunFields()), want)
	}
}

// TestEveryFieldReachesItsOwnPlace: setting one field changes one field of the specification and no other.
func TestEveryFieldReachesItsOwnPlace(t *testing.T) {
	other := map[layout.FieldKind]string{layout.KindLength: "7/8", layout.KindLengths: "100, 200", layout.KindText: "something else", layout.KindCount: "7", layout.KindWeight: "33"}
	reached := map[string]bool{}
	for _, f := range layout.SpecFields() {
		spec := layout.DefaultSpec(length.Inches)
		before := spec
		text := other[f.Kind]
		switch {
		case f.Kind == layout.KindChoice:
			text = f.Choices[len(f.Choices)-1].Value
			if f.Text(&spec, length.InchFraction) == text {
				text = f.Choices[0].Value
			}
		case f.Kind == layout.KindLength && f.Min > 7*length.Inch/8:
			text = (f.Min + f.Max).Round(2*length.Inch).FormatBare(length.InchFraction) + " in"
			if half := (f.Min + f.Max) / 2; half > 0 {
				text = half.String()
			}
		}
		if err := f.Set(&spec, text, length.Inches); err != nil {
			t.Errorf("%s = %q: %v", f.Key, text, err)
			continue
		}
		var changed []string
		a, b := reflect.ValueOf(before), reflect.ValueOf(spec)
		for i := range a.NumField() {
			if !reflect.DeepEqual(a.Field(i).Interface(), b.Field(i).Interface()) && !strings.HasSuffix(a.Type().Field(i).Name, "Given") {
				changed = append(changed, a.Type().Field(i).Name)
			}
		}
		if len(changed) != 1 || reached[changed[0]] {
			t.Errorf("setting %s to %q changed %v", f.Key, text, changed)
			continue
		}
		reached[changed[0]] = true
	}
}

// TestFieldRoundTrip: what Text shows, Set reads back exactly, in either unit.
func TestFieldRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields := layout.SpecFields()
		f := fields[rapid.IntRange(0, len(fields)-1).Draw(t, "field")]
		unit := rapid.SampledFrom([]length.Unit{length.Inches, length.Millimetres}).Draw(t, "unit")
		spec := layout.DefaultSpec(unit)
		if f.Kind == layout.KindLength {
			l := length.Length(rapid.Int64Range(int64(f.Min), int64(f.Max)).Draw(t, "nm"))
			if err := f.Set(&spec, l.String(), unit); err != nil {
				t.Fatalf("%s = %v: %v", f.Key, l, err)
			}
		}
		text := f.Text(&spec, unit.Style())
		again := layout.DefaultSpec(unit)
		if err := f.Set(&again, text, unit); err != nil {
			t.Fatalf("%s = %q: %v", f.Key, text, err)
		}
		if !reflect.DeepEqual(again, spec) {
			t.Fatalf("%s: %q reads back as %q", f.Key, text, f.Text(&again, unit.Style()))
		}
	})
}

func TestRunFieldsForKinds(t *testing.T) {
	tests := []struct {
		key                    string
		level, rake, removable bool
	}{
		{"length", true, true, true},
		{"tread", false, true, false},
		{"joists", true, false, true},
		{"removable_why", false, false, true},
	}
	for _, tt := range tests {
		for _, f := range layout.RunFields() {
			if f.Key != tt.key {
				continue
			}
			if got := [3]bool{f.For(layout.Level), f.For(layout.Rake), f.For(layout.Removable)}; got != [3]bool{tt.level, tt.rake, tt.removable} {
				t.Errorf("%s is asked for on %v", tt.key, got)
			}
		}
	}
	run := layout.DefaultRun(layout.Removable, length.Inches)
	if run.SideClearance != length.Inch/4 || run.Tread != 0 || run.Start != layout.EndFree {
		t.Errorf("default removable run = %+v", run)
	}
	for _, f := range layout.RunFields() {
		if f.Key != "posts" {
			continue
		}
		if err := f.Set(&run, `36; 1,200 mm, 6'`, length.Inches); err != nil {
			t.Fatal(err)
		}
		if got := f.Text(&run, length.InchFraction); got != "36, 1200 mm, 72" {
			t.Errorf("posts = %q", got)
		}
	}
}

// TestConnectorAllowance: an allowance of nothing is given; an emptied one is not.
func TestConnectorAllowance(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	for _, f := range layout.SpecFields() {
		if f.Key != "connector_top" {
			continue
		}
		for _, tt := range []struct {
			text  string
			given bool
		}{{"0", true}, {"", false}, {"3/16", true}} {
			if err := f.Set(&spec, tt.text, length.Inches); err != nil {
				t.Fatal(err)
			}
			if spec.ConnectorTopGiven != tt.given || f.Text(&spec, length.InchFraction) != tt.text {
				t.Errorf("%q: given %v, text %q", tt.text, spec.ConnectorTopGiven, f.Text(&spec, length.InchFraction))
			}
		}
	}
}

func TestSpecWith(t *testing.T) {
	base := layout.DefaultSpec(length.Inches)
	got, faults := base.With([]layout.Override{{"kerf", "3/32"}, {"kerff", "1"}, {"grid", "2"}, {"post_width", ""}}, length.Inches)
	want := []layout.FieldError{
		{"kerff", `"kerff" is not a specification field; the nearest is "kerf".`},
		{"grid", `Marking grid must be between 1/64" and 1".`},
		{"post_width", "Enter the post width."},
	}
	if !reflect.DeepEqual(faults, want) {
		t.Errorf("faults = %v, want %v", faults, want)
	}
	base.Kerf = 3 * length.Inch / 32
	if !reflect.DeepEqual(got, base) {
		t.Error("faulty overrides changed the specification, or the sound one did not")
	}
}

func TestSetErrorLeavesTheSpecification(t *testing.T) {
	for _, f := range layout.SpecFields() {
		spec := layout.DefaultSpec(length.Inches)
		before := spec
		text := "not that"
		if f.Kind == layout.KindText {
			text = strings.Repeat("x", 2001)
		}
		err := f.Set(&spec, text, length.Inches)
		var fault layout.FieldError
		if !errors.As(err, &fault) || fault.Field != f.Key || !strings.HasSuffix(fault.Message, ".") {
			t.Errorf("Set(%s, %.20q) = %v", f.Key, text, err)
		}
		if !reflect.DeepEqual(spec, before) {
			t.Errorf("a refused %s changed the specification", f.Key)
		}
	}
}

// TestFactsLeadSomewhere: facts have unique ids, a source and somewhere to go, and the figures they lead to are fields.
func TestFactsLeadSomewhere(t *testing.T) {
	keys := map[string]bool{}
	for _, f := range layout.SpecFields() {
		keys[f.Key] = true
	}
	seen := map[string]bool{}
	for _, f := range layout.Facts() {
		if seen[f.ID] || !strings.HasPrefix(f.ID, "fact.") || f.Source == "" || len(f.Leads) == 0 || !strings.HasSuffix(f.Sentence, ".") {
			t.Errorf("fact %q is not fully described, or is twice", f.ID)
		}
		seen[f.ID] = true
		for _, lead := range f.Leads {
			kind, key, _ := strings.Cut(lead, " ")
			if kind != "figure" && kind != "check" && lead != "caution" || kind == "figure" && !keys[key] {
				t.Errorf("fact %s leads to %q, which is nothing", f.ID, lead)
			}
		}
	}
}

// TestListsWithoutBlanks: a list typed with commas and no blanks is read as a list where it can be nothing else; a comma that may as well group
// thousands or stand for the decimal point is asked about, and a length that can be one alone stays one.
func TestListsWithoutBlanks(t *testing.T) {
	const mm, in = length.Millimetre, length.Inch
	for _, tt := range []struct {
		key, text string
		unit      length.Unit
		want      []length.Length
		asked     string // part of the sentence
	}{
		{"risers_measured", "181,181,190", length.Millimetres, []length.Length{181 * mm, 181 * mm, 190 * mm}, ""},
		{"risers_measured", "181,190", length.Millimetres, []length.Length{181 * mm, 190 * mm}, ""}, // 181 m is no riser
		{"risers_measured", "181.5,190", length.Millimetres, []length.Length{181*mm + mm/2, 190 * mm}, ""},
		{"risers_measured", "181;190, 181", length.Millimetres, []length.Length{181 * mm, 190 * mm, 181 * mm}, ""},
		{"risers_measured", "7 1/4,7 1/2,7 5/8", length.Inches, []length.Length{7*in + in/4, 7*in + in/2, 7*in + 5*in/8}, ""},
		{"risers_measured", "7,7,7", length.Inches, []length.Length{7 * in, 7 * in, 7 * in}, ""},
		{"risers_measured", "181,5", length.Millimetres, nil, "may stand inside a number"},
		{"risers_measured", "181,5; 190,5", length.Millimetres, nil, "in 181,5 a comma may"},
		{"risers_measured", "181,5 mm", length.Millimetres, nil, "may stand inside a number"},
		{"risers_measured", "181,5,190,5", length.Millimetres, nil, "may stand inside a number"},
		{"risers_measured", "7,5", length.Inches, nil, "may stand inside a number"},
		{"posts", "1,800", length.Millimetres, []length.Length{1800 * mm}, ""},
		{"posts", "0, 1,800, 3,600", length.Millimetres, []length.Length{0, 1800 * mm, 3600 * mm}, ""},
		{"posts", "1,200 mm", length.Inches, []length.Length{1200 * mm}, ""},
		{"posts", "100,200", length.Millimetres, nil, "may stand inside a number"},
		{"posts", "0,72,144", length.Inches, []length.Length{0, 72 * in, 144 * in}, ""},
		{"posts", "1,800,3,600", length.Millimetres, nil, "may stand inside a number"},
		{"risers_measured", "181,banana", length.Millimetres, nil, "Each riser as measured: banana must be a length such as"},
		{"risers_measured", "181,181,1900", length.Millimetres, nil, "Each riser as measured: 1900 must be between 0 mm and"},
		{"posts", "0, 3, x", length.Inches, nil, "Post centres from the datum: x must be a length such as"},
		{"posts", "0, -3", length.Inches, nil, "Post centres from the datum: -3 must be"},
	} {
		fields := layout.RunFields()
		f := fields[slices.IndexFunc(fields, func(f layout.RunField) bool { return f.Key == tt.key })]
		run := layout.DefaultRun(layout.Rake, tt.unit)
		err := f.Set(&run, tt.text, tt.unit)
		got := run.RisersMeasured
		if tt.key == "posts" {
			got = run.Posts
		}
		switch {
		case tt.asked == "" && (err != nil || !slices.Equal(got, tt.want)):
			t.Errorf("%s %q: %v, %v, want %v", tt.key, tt.text, got, err, tt.want)
		case tt.asked != "" && (err == nil || !strings.Contains(err.Error(), tt.asked)):
			t.Errorf("%s %q: %v, %v, want to be told %q", tt.key, tt.text, got, err, tt.asked)
		case tt.asked != "" && len(got) != 0:
			t.Errorf("%s %q was refused and kept %v", tt.key, tt.text, got)
		}
	}
}
