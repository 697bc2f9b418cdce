package pack_test

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// tool runs a program of the machine and returns what it printed; where it is absent the test is skipped, or fails with
// NEWELBOOK_REQUIRE_TOOLS=1.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1" {
			t.Fatalf("%s is not on this machine", name)
		}
		t.Skipf("%s is not on this machine", name)
	}
	var out, errs bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s%s", name, args, err, out.String(), errs.String())
	}
	return out.String()
}

// golden compares text with the reviewed file; a missing file fails.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with -update and review the change\n%s", path, firstDifference(got, string(want)))
	}
}

func firstDifference(got, want string) string {
	g, w := bytes.Split([]byte(got), []byte("\n")), bytes.Split([]byte(want), []byte("\n"))
	for i := range max(len(g), len(w)) {
		a, b := []byte("(nothing)"), []byte("(nothing)")
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if !bytes.Equal(a, b) {
			return "got:  " + string(a) + "\nwant: " + string(b)
		}
	}
	return ""
}
