package main

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// One record issued by two processes with nothing in common but its facts gives the same archive, byte for byte: another zone, language,
// user, home, folder, number of processors, and files that bear other dates. The time of issue is a fact, and the same.
func TestSamePackEverywhere(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var archives [][]byte
	for _, c := range []struct {
		folder, purpose string
		env             []string
		dated           time.Time
	}{
		{"here", "handover", []string{"TZ=UTC", "LANG=C", "LC_ALL=C", "USER=ada", "HOME=/nowhere", "GOMAXPROCS=1"}, time.Date(2026, 5, 11, 9, 0, 0, 0, time.UTC)},
		{"a longer way/there", "handover", []string{"TZ=Pacific/Auckland", "LANG=de_DE.UTF-8", "LC_ALL=tr_TR.UTF-8", "USER=björn", "HOME=/tmp", "GOMAXPROCS=4", "GODEBUG=randseednop=0"}, time.Date(2031, 12, 31, 23, 59, 0, 0, time.UTC)},
		{"other", "second look", []string{"TZ=UTC"}, time.Date(2026, 5, 11, 9, 0, 0, 0, time.UTC)},
	} {
		dir := filepath.Join(t.TempDir(), c.folder)
		if err := copyDemo(dir); err != nil {
			t.Fatal(err)
		}
		err := filepath.WalkDir(dir, func(name string, _ fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			return os.Chtimes(name, c.dated, c.dated)
		})
		if err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(dir, "out.zip")
		cmd := exec.CommandContext(t.Context(), self, "pack", "H-114", "--as", "maren", "--purpose", c.purpose, "--data", dir, "--out", out)
		cmd.Env = append(c.env, asProgramAtMoment+"=1")
		if text, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", c.folder, err, text)
		}
		archive, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		archives = append(archives, archive)
	}
	if !bytes.Equal(archives[0], archives[1]) {
		a, b := entries(t, archives[0]), entries(t, archives[1])
		for name, body := range a {
			if !bytes.Equal(body, b[name]) {
				t.Errorf("%s differs", name)
			}
		}
		t.Errorf("the archives differ, of %d and %d bytes", len(archives[0]), len(archives[1]))
	}
	if bytes.Equal(archives[0], archives[2]) {
		t.Error("another purpose gives the same archive: what is compared is not what was issued")
	}
}
