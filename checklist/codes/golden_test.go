package codes_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"newelbook/checklist/codes"
)

var update = flag.Bool("update", false, "write the golden files again")

// golden holds text to a file of testdata, and names the first line that differs.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run with -update to write it)", err)
	}
	if bytes.Equal(got, want) {
		return
	}
	a, b := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range min(len(a), len(b)) {
		if !bytes.Equal(a[i], b[i]) {
			t.Fatalf("%s differs at line %d:\n got %q\nwant %q", path, i+1, a[i], b[i])
		}
	}
	t.Fatalf("%s has %d lines, want %d", path, len(a), len(b))
}

// Every figure of every rule set on a line of its own, so that a new one, a changed one or one from memory is seen in review.
func TestFiguresGolden(t *testing.T) {
	var out bytes.Buffer
	for _, set := range append(codes.All(), codes.Reference()) {
		count := map[codes.Standing]int{}
		for _, f := range set.Figures {
			count[f.Standing]++
		}
		fmt.Fprintf(&out, "%s: %s; %s; %s\n", set.ID, set.Name, set.Place, set.Edition)
		fmt.Fprintf(&out, "%d figures: %d official text, %d secondary text, %d memory, %d common practice\n", len(set.Figures),
			count[codes.OfficialText], count[codes.SecondaryText], count[codes.Memory], count[codes.CommonPractice])
		for _, f := range set.Figures {
			value := f.Text
			if f.Bound != "" {
				value = string(f.Bound) + " " + f.Text
			}
			fmt.Fprintf(&out, "  %-32s %s | %s\n", f.Key, value, f.Source())
		}
		fmt.Fprintln(&out)
	}
	golden(t, "figures.golden", out.Bytes())
}
