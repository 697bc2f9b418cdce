package layout_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/materials"
)

// readJob reads a job description from testdata and lays it out.
func readJob(t testing.TB, name string) (layout.Job, []layout.Layout) {
	t.Helper()
	body, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	job, faults := layout.ReadJob(bytes.NewReader(body))
	if len(faults) > 0 {
		t.Fatalf("%s: %v", name, faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	return job, layouts
}

// TestGolden holds the sheet and the JSON of whole jobs to their files, and the JSON to the published schema.
func TestGolden(t *testing.T) {
	for _, name := range []string{"deck", "metric", "infill", "stair"} {
		t.Run(name, func(t *testing.T) {
			job, layouts := readJob(t, name+".json")
			var text, out bytes.Buffer
			if err := layout.WriteText(&text, job, layouts); err != nil {
				t.Fatal(err)
			}
			golden(t, filepath.Join("testdata", "TestGolden", name+".txt.golden"), text.Bytes())
			if err := layout.WriteJSON(&out, job, layouts); err != nil {
				t.Fatal(err)
			}
			golden(t, filepath.Join("testdata", "TestGolden", name+".json.golden"), out.Bytes())
			validate(t, layout.OutputSchema(), out.Bytes())
			out.Reset()
			if err := layout.WriteJSONWith(&out, job, layouts, materials.Make(materials.Runs(job, layouts), materials.Site{}, job.Units.Style())); err != nil {
				t.Fatal(err)
			}
			validate(t, layout.OutputSchema(), out.Bytes())
			body, err := os.ReadFile(filepath.Join("testdata", name+".json"))
			if err != nil {
				t.Fatal(err)
			}
			validate(t, layout.Schema(), body)
		})
	}
}
