package main

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

var update = flag.Bool("update", false, "write the golden files again")

// goldenParts are the parts of the demonstration's pack that are more than tables of readings: without those the golden file can be
// reviewed.
var goldenParts = map[pack.Edition][]string{
	pack.OwnerEdition:     {"guard", "unusual", "care", "lift-R4", "instructions", "never", "call", "changes", "signoffs"},
	pack.InspectorEdition: {"attention", "open", "changes", "scope", "drops", "papers", "fixings", "concealed", "deviations", "built", "signoffs"},
}

// TestPackText holds what the demonstration's handover pack says. Ids and hashes are new at each making and are left out.
func TestPackText(t *testing.T) {
	dir, err := seeded()
	if err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob(filepath.Join(dir, packsFolder, "*", "2-*", "data", "record.json"))
	if err != nil || len(found) != 1 {
		t.Fatalf("record of pack 2: %v, %v", found, err)
	}
	body, err := os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	var x jobs.Export
	if err := json.Unmarshal(body, &x); err != nil {
		t.Fatal(err)
	}
	for i := range x.Layouts {
		for k := range x.Covered {
			if x.Covered[k].RunID == x.Layouts[i].RunID {
				x.Covered[k].RunID = x.Layouts[i].Label
			}
		}
		for k := range x.Runs {
			if x.Runs[k].ID == x.Layouts[i].RunID {
				x.Runs[k].ID = x.Layouts[i].Label
			}
		}
		x.Layouts[i].RunID = x.Layouts[i].Label
	}
	for i := range x.Papers {
		x.Papers[i].Media = media.ID{}
	}
	tree := pack.Build(pack.Facts{Record: x, Pictures: map[media.ID]pack.Picture{}})
	got := ""
	for _, e := range tree.Editions() {
		doc := tree.Edition(e)
		if err := doc.Check(); err != nil {
			t.Error(err)
		}
		doc.Sections = slices.DeleteFunc(doc.Sections, func(s pack.Section) bool { return !slices.Contains(goldenParts[e], s.ID) })
		if len(doc.Sections) != len(goldenParts[e]) {
			t.Errorf("%s: %d sections, want %d", e, len(doc.Sections), len(goldenParts[e]))
		}
		got += pack.Text(doc) + "\n"
	}
	name := filepath.Join("testdata", "pack.txt.golden")
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the pack's text is not %s: run with -update and read the difference", name)
	}
}
