package pack_test

import (
	"bytes"
	"crypto/sha256"
	"crypto/sha512"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"newelbook/views/pack"
)

// retagged writes the tag manifests of an unpacked bag anew, so that a changed tag file is found by what is in it alone.
func retagged(t *testing.T, dir string) {
	t.Helper()
	for name, sum := range map[string]func([]byte) string{
		"tagmanifest-sha256.txt": func(b []byte) string { return fmt.Sprintf("%x", sha256.Sum256(b)) },
		"tagmanifest-sha512.txt": func(b []byte) string { return fmt.Sprintf("%x", sha512.Sum512(b)) },
	} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		for line := range strings.Lines(string(text)) {
			_, file, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
			body, err := os.ReadFile(filepath.Join(dir, file))
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, "%s  %s\n", sum(body), file)
		}
		if err := os.WriteFile(filepath.Join(dir, name), out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// rewritten changes one tag file of an unpacked bag, with a tag manifest that lists it as it is now, and verifies the bag.
func rewritten(t *testing.T, name string, change func(text string) string) pack.Report {
	t.Helper()
	dir := unzipped(t, zipped(t, smallBag()))
	path := filepath.Join(dir, name)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	after := change(string(text))
	if err := os.WriteFile(path, []byte(after), 0o644); err != nil {
		t.Fatal(err)
	}
	retagged(t, dir)
	r, err := pack.Verify(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The check values of the trade on bags (RFC 8493), by their ids.
func TestCheckValues(t *testing.T) {
	t.Run("G03", func(t *testing.T) {
		b := pack.Bag{Name: "x", Files: []pack.Payload{pack.Bytes("data/a", make([]byte, 10)), pack.Bytes("data/b", make([]byte, 20))}}
		text, err := os.ReadFile(filepath.Join(unzipped(t, zipped(t, b)), "bag-info.txt"))
		if err != nil {
			t.Fatal(err)
		}
		if lines := strings.Split(string(text), "\n"); !slices.Contains(lines, "Payload-Oxum: 30.2") {
			t.Errorf("bag-info.txt is %q, want a line Payload-Oxum: 30.2", text)
		}
	})
	t.Run("G04", func(t *testing.T) {
		want := pack.Finding{File: "bagit.txt", Problem: "It is not the two lines that a bag of version 1.0 begins with."}
		for _, v := range []struct {
			name   string
			change func(text string) string
		}{
			{"byte-order mark", func(text string) string { return "\ufeff" + text }},
			{"lines swapped", func(text string) string {
				first, second, _ := strings.Cut(text, "\n")
				return second + first + "\n"
			}},
			{"third line", func(text string) string { return text + "Bag-Count: 1 of 1\n" }},
		} {
			if r := rewritten(t, "bagit.txt", v.change); len(r.Findings) != 1 || r.Findings[0] != want {
				t.Errorf("%s: found %v, want only %v", v.name, r.Findings, want)
			}
		}
		// What is found is found in the text: written anew as it was, it is no fault.
		if r := rewritten(t, "bagit.txt", func(text string) string { return text }); !r.Sound {
			t.Errorf("unchanged: found %v", r.Findings)
		}
	})
	t.Run("G07", func(t *testing.T) {
		capitals := func(text string) string {
			var out strings.Builder
			for line := range strings.Lines(text) {
				sum, file, _ := strings.Cut(line, "  ")
				out.WriteString(strings.ToUpper(sum) + "  " + file)
			}
			if out.String() == text {
				t.Fatal("there is nothing to write in capitals")
			}
			return out.String()
		}
		if r := rewritten(t, "manifest-sha256.txt", capitals); !r.Sound {
			t.Errorf("found %v, want nothing", r.Findings)
		}
	})
}
