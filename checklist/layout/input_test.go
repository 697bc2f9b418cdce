package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

func TestReadJob(t *testing.T) {
	job, faults := layout.ReadJob(strings.NewReader(`{"units":"mm","rules":"ontario-9.8",
		"spec":{"post_width":88.5,"infill_gap":"3 3/4 in","connector_top":null,"connector_bottom":"0","stock_lengths":[2400,"12 ft"]},
		"runs":[{"kind":"rake","tread":280,"risers":"4","overrides":{"kerf":"2.5"}}],
		"built":[{"run":"R1","bay":1,"top":"1,200"}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := job.Spec
	if s.PostWidth != 88500*length.Millimetre/1000 || s.InfillGap != 15*length.Inch/4 || s.ConnectorTopGiven || !s.ConnectorBottomGiven {
		t.Errorf("specification = %+v", s)
	}
	if !slices.Equal(s.StockLengths, []length.Length{2400 * length.Millimetre, 144 * length.Inch}) {
		t.Errorf("stock lengths = %v", s.StockLengths)
	}
	if s.PostMaxCentres != 1800*length.Millimetre {
		t.Errorf("greatest centres = %v, want the metric default", s.PostMaxCentres)
	}
	r := job.Runs[0]
	if r.Label != "R1" || r.ID != "R1" || r.Kind != layout.Rake || r.Risers != 4 || r.Tread != 280*length.Millimetre || r.Overrides[0] != (layout.Override{Key: "kerf", Text: "2.5"}) {
		t.Errorf("run = %+v", r)
	}
	if got := job.Built["R1"][1]; got != (layout.Opening{Top: 1200 * length.Millimetre}) {
		t.Errorf("built = %v", got)
	}
}

func TestReadJobRefuses(t *testing.T) {
	const whole = `{"units":"in","rules":"irc-2018","runs":[{"length":72}]%s}`
	tests := []struct {
		name, body string
		want       []layout.FieldError
	}{
		{"nothing", ``, []layout.FieldError{{"", "The job description must be a JSON object, in braces."}}},
		{"half an object", `{"units":"in"`, []layout.FieldError{{"", "The job description is not sound JSON: it ends too early."}}},
		{"something after it", fmt.Sprintf(whole, "") + "{}", []layout.FieldError{{"", "Something follows the end of the job description."}}},
		{"everything missing", `{}`, []layout.FieldError{
			{"units", `Units must be "in" or "mm".`}, {"rules", "Rules must be one of: " + strings.Join(codes.IDs(), ", ") + "."}, {"runs", "Enter at least one run."}}},
		{"unknown key", fmt.Sprintf(whole, `,"specs":{}`), []layout.FieldError{{"specs", `"specs" is not a key of a job description; the nearest is "spec".`}}},
		{"unknown field", fmt.Sprintf(whole, `,"spec":{"post_widht":3.5}`), []layout.FieldError{{"spec.post_widht", `"post_widht" is not a specification field; the nearest is "post_width".`}}},
		{"unknown field, nothing like it", fmt.Sprintf(whole, `,"spec":{"zzzzzzzzzzzzzz":1}`), []layout.FieldError{{"spec.zzzzzzzzzzzzzz", `"zzzzzzzzzzzzzz" is not a specification field.`}}},
		{"twice", fmt.Sprintf(whole, `,"spec":{"grid":1,"grid":1}`), []layout.FieldError{{"spec.grid", `"grid" is written twice.`}}},
		{"out of range", fmt.Sprintf(whole, `,"spec":{"post_width":13}`), []layout.FieldError{{"spec.post_width", `Post width must be between 1" and 12".`}}},
		{"not a length", fmt.Sprintf(whole, `,"spec":{"post_width":"wide"}`), []layout.FieldError{{"spec.post_width", `Post width must be a length such as 41 3/8 or 3' 5 3/8".`}}},
		{"too fine", fmt.Sprintf(whole, `,"spec":{"post_width":"3 1/3"}`), []layout.FieldError{{"spec.post_width", `Post width must be a decimal or a fraction no finer than 1/64, such as 41 3/8 or 3' 5 3/8".`}}},
		{"empty", fmt.Sprintf(whole, `,"spec":{"post_width":""}`), []layout.FieldError{{"spec.post_width", "Enter the post width."}}},
		{"wrong type", fmt.Sprintf(whole, `,"spec":{"post_width":true}`), []layout.FieldError{{"spec.post_width", `Post width must be a length as text, such as "41 3/8", or a number in the job's units.`}}},
		{"wrong choice", fmt.Sprintf(whole, `,"spec":{"post_mount":"glued"}`), []layout.FieldError{{"spec.post_mount", "Post mount must be one of: bolted, sleeve, base."}}},
		{"unknown run field and two more faults", `{"units":"in","rules":"irc-2018","runs":[{"lenght":72},{"label":"R1","length":-1},{"kind":"ramp"}]}`, []layout.FieldError{
			{"runs[0].lenght", `"lenght" is not a field of a run; the nearest is "length".`},
			{"runs[1].length", `Run length must be between 0" and 12000".`},
			{"runs[1].label", `Run label must not be used twice: "R1" is another run's.`},
			{"runs[2].kind", "Kind of run must be one of: level, rake, removable."}}},
		{"unknown run to start at", `{"units":"in","rules":"irc-2018","runs":[{"length":72,"start_at":"R9"}]}`, []layout.FieldError{
			{"runs[0].start_at", `Starts at run must name a run before this one; none is called "R9".`}}},
		{"override out of range", `{"units":"in","rules":"irc-2018","runs":[{"length":72,"overrides":{"grid":"2 ft"}}]}`, []layout.FieldError{
			{"runs[0].overrides.grid", `Marking grid must be between 1/64" and 1".`}}},
		{"amendment", fmt.Sprintf(whole, `,"amendments":[{"key":"guard.height_level","value":"42 in"}]`), []layout.FieldError{
			{"amendments[0]", "Height of a level guard: enter the name of whoever gave this figure."}}},
		{"opening of no run", fmt.Sprintf(whole, `,"built":[{"run":"R7","bay":1,"top":60}]`), []layout.FieldError{{"built[0].run", `Run must be the label of a run; none is called "R7".`}}},
		{"opening without a length", fmt.Sprintf(whole, `,"built":[{"run":"R1","bay":1}]`), []layout.FieldError{{"built[0]", "Enter the opening at the bottom rail, at the top rail or at both."}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, got := layout.ReadJob(strings.NewReader(tt.body)); !slices.Equal(got, tt.want) {
				t.Errorf("ReadJob(%s)\n got %v\nwant %v", tt.body, got, tt.want)
			}
		})
	}
}

// FuzzReadJob: whatever is read, a job without faults is laid out without panic.
func FuzzReadJob(f *testing.F) {
	f.Add([]byte(`{"units":"in","rules":"irc-2018","runs":[{"length":"12'"}]}`))
	f.Add([]byte(`{"units":"mm","rules":"ontario-9.8","spec":{"grid":1},"runs":[{"kind":"rake","total_rise":900,"tread":280}],"built":[]}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		job, faults := layout.ReadJob(strings.NewReader(string(body)))
		if len(faults) > 0 {
			for _, fault := range faults {
				if fault.Message == "" {
					t.Errorf("a fault of %q says nothing", fault.Field)
				}
			}
			return
		}
		if _, err := layout.ComputeJob(job); err != nil {
			t.Errorf("a job without faults is refused: %v", err)
		}
	})
}
