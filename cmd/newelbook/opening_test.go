package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// inPack reads a file of an issued archive.
func inPack(t *testing.T, archive, name string) []byte {
	t.Helper()
	r, err := zip.OpenReader(archive)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	for _, f := range r.File {
		if _, path, ok := bytes.Cut([]byte(f.Name), []byte("/")); ok && string(path) == name {
			body, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			defer body.Close()
			text, err := io.ReadAll(body)
			if err != nil {
				t.Fatal(err)
			}
			return text
		}
	}
	t.Fatalf("%s has no %s", archive, name)
	return nil
}

// pieces reads pieces.csv of an issued archive: length and version by label.
func pieces(t *testing.T, archive string) map[string][2]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(inPack(t, archive, "data/csv/pieces.csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := func(name string) int {
		i := slices.Index(rows[0], name)
		if i < 0 {
			t.Fatalf("pieces.csv has no column %s: %q", name, rows[0])
		}
		return i
	}
	out := map[string][2]string{}
	for _, r := range rows[1:] {
		out[r[col("label")]] = [2]string{r[col("length")], r[col("version")]}
	}
	return out
}

// One opening comes out 3/16 in wider than planned: its rails and balusters are laid out again, the plan is kept beside
// them, the other bay stays as it was, and what was judged or issued before stays as it was.
func TestOneOpeningMeasuredWider(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	take := func(in ...jobs.ReadingInput) []string {
		t.Helper()
		ids, err := d.service.TakeReadings(t.Context(), byBuilder(), job, in)
		if err != nil {
			t.Fatal(err)
		}
		return ids
	}
	style := length.Inches.Style()

	// A rail was cut and measured by the plan, and a pack was issued.
	plan, _ := d.record(t, job).Layout(d.record(t, job).Runs[0].ID)
	planned := *plan.Layout.Bays[0].Planned
	rail := checkAt(t, d.record(t, job), "R1-B1", "rails.top_length")
	if rail.Check.Built || rail.Check.Was != nil || rail.Check.Nominal == nil || *rail.Check.Nominal != planned.Top.Cut {
		t.Fatalf("before the opening is measured the rail's check is %+v", rail.Check)
	}
	early := take(jobs.ReadingInput{Field: "text", CheckID: rail.Check.ID, Text: planned.Top.Cut.Format(style)})[0]
	first := filepath.Join(t.TempDir(), "first.zip")
	must(t, "", "pack", "NB-42", "--data", dir, "--as", "ada", "--out", first)
	wasPieces := pieces(t, first)

	const wider = 3 * length.Inch / 16
	opening := planned.ClearBottom + wider
	bottom, top := checkAt(t, d.record(t, job), "R1-B1", checklist.KeyOpeningBottom), checkAt(t, d.record(t, job), "R1-B1", checklist.KeyOpeningTop)
	take(jobs.ReadingInput{Field: "b", CheckID: bottom.Check.ID, Text: opening.Format(style)}, jobs.ReadingInput{Field: "t", CheckID: top.Check.ID, Text: opening.Format(style)})

	// The layout has a new version with the plan kept.
	rec := d.record(t, job)
	now, _ := rec.Layout(plan.RunID)
	if now.Version != plan.Version+1 || now.Layout.Version != now.Version {
		t.Errorf("the layout has version %d, want %d", now.Version, plan.Version+1)
	}
	if old := rec.Layouts[plan.RunID][plan.Version-1]; !reflect.DeepEqual(old, plan) {
		t.Error("the version before was changed")
	}
	bay := now.Layout.Bays[0]
	switch {
	case bay.Planned == nil || !reflect.DeepEqual(*bay.Planned, planned):
		t.Errorf("the plan of R1-B1 is now %+v, want it as it was", bay.Planned)
	case bay.Built == nil:
		t.Fatal("R1-B1 has nothing as built")
	case bay.Built.ClearBottom != opening || bay.Built.ClearTop != opening:
		t.Errorf("as built the opening is %v and %v, want %v", bay.Built.ClearBottom, bay.Built.ClearTop, opening)
	case bay.Built.Top.Cut != planned.Top.Cut+wider || bay.Built.Bottom.Cut != planned.Bottom.Cut+wider:
		t.Errorf("as built the rails are %v and %v, want %v more than planned", bay.Built.Top.Cut, bay.Built.Bottom.Cut, wider)
	}
	if !reflect.DeepEqual(now.Layout.Bays[1], plan.Layout.Bays[1]) {
		t.Error("R1-B2 was laid out otherwise, though nothing of it was measured")
	}

	// What the rail is held to now says both; what was judged before is not judged again.
	rail = checkAt(t, rec, "R1-B1", "rails.top_length")
	if c := rail.Check; !c.Built || c.Nominal == nil || *c.Nominal != bay.Built.Top.Cut || c.Was == nil || *c.Was != planned.Top.Cut {
		t.Errorf("the rail's check is %+v, want %v as built and %v planned", c, bay.Built.Top.Cut, planned.Top.Cut)
	}
	if r := rail.Current; r == nil || r.ID != early || r.LayoutVersion != plan.Version || r.Result.Verdict != checklist.Good || *r.Check.Nominal != planned.Top.Cut || !rail.Moved {
		t.Errorf("the reading from before is %+v, moved %v; want it good, by version %d, and the check moved", r, rail.Moved, plan.Version)
	}

	// So does the pack that is issued now; the one from before has the same bytes.
	second := filepath.Join(t.TempDir(), "second.zip")
	must(t, "", "pack", "NB-42", "--data", dir, "--as", "ada", "--out", second)
	var x jobs.Export
	if err := json.Unmarshal(inPack(t, second, "data/record.json"), &x); err != nil {
		t.Fatal(err)
	}
	if got := x.Layouts[0].Bays[0]; !reflect.DeepEqual(got, bay) {
		t.Errorf("record.json has R1-B1 as %+v, want %+v", got, bay)
	}
	exported := false
	for _, st := range x.Stages {
		for _, c := range st.Checks {
			if c.Check.ID != rail.Check.ID {
				continue
			}
			exported = true
			if !c.Check.Built || c.Check.Was == nil || *c.Check.Was != planned.Top.Cut || len(c.Readings) != 1 || c.Readings[0].LayoutVersion != plan.Version || !c.Moved {
				t.Errorf("record.json has the rail's check as %+v", c)
			}
		}
	}
	if !exported {
		t.Error("record.json has no check of the rail")
	}
	isPieces := pieces(t, second)
	for label, want := range map[string][2]string{
		"R1-B1 top": {bay.Built.Top.Cut.Format(style), "as built"}, "R1-B1 bottom": {bay.Built.Bottom.Cut.Format(style), "as built"},
		"R1-B2 top": wasPieces["R1-B2 top"], "R1-B2 bottom": wasPieces["R1-B2 bottom"],
	} {
		if got := isPieces[label]; got != want {
			t.Errorf("pieces.csv has %s as %q, want %q", label, got, want)
		}
	}
	if got := wasPieces["R1-B1 top"]; got != [2]string{planned.Top.Cut.Format(style), "planned"} {
		t.Errorf("the first pack's pieces.csv has R1-B1 top as %q", got)
	}
	again := filepath.Join(t.TempDir(), "again.zip")
	must(t, "", "pack", "NB-42", "--data", dir, "--number", "1", "--out", again)
	if !bytes.Equal(read(t, first), read(t, again)) {
		t.Error("the first pack came out with other bytes after the second was issued")
	}
	sound(t, dir)
}

func read(t *testing.T, name string) []byte {
	t.Helper()
	body, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return body
}
