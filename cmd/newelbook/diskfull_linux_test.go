package main

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"newelbook/jobs"
)

// smallDisk mounts a file system of so many bytes and returns its folder. Mounting takes root, and a sandbox may forbid it
// to root as well: then the test is skipped.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	dir := t.TempDir()
	err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size))
	switch {
	case err == nil:
	case os.Geteuid() == 0 && (errors.Is(err, fs.ErrPermission) || errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.ENODEV)):
		t.Skipf("this machine lets nobody mount a small disk: %v", err)
	case os.Getenv("NEWELBOOK_REQUIRE_TOOLS") == "1":
		t.Fatalf("mount a small disk: %v", err)
	default:
		t.Skipf("a small disk can't be mounted here, which takes root: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmount the small disk: %v", errors.Join(err, syscall.Unmount(dir, syscall.MNT_DETACH)))
		}
	})
	return dir
}

// fill writes a file until there is no room left on its disk.
func fill(t *testing.T, name string) {
	t.Helper()
	f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	block := make([]byte, 4096)
	for err == nil {
		_, err = f.Write(block)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("fill the disk: %v", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// On a full disk photographs and readings are refused with the status and the words for it. What was saved before is all
// there, nothing of what was refused is, and once there is room again work goes on.
func TestDiskFull(t *testing.T) {
	disk := smallDisk(t, 4<<20)
	dir := filepath.Join(disk, "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	opening := checkAt(t, d.record(t, job), "R1-B1", "posts.opening_bottom").Check.ID
	s := mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0")
	v := visit(t, s.address).signIn("ada", password)
	taken := 0
	reading := func() reply {
		form := url.Values{"form_id": {jobs.NewID()}, "text:" + opening: {fmt.Sprintf("65 %d/16", taken%15+1)}, "back": {"/jobs/" + job}}
		got := v.post("/jobs/"+job+"/readings", form)
		if got.status == http.StatusSeeOther {
			taken++
		}
		return got
	}
	if got := reading(); got.status != http.StatusSeeOther {
		t.Fatalf("a reading with room: status %d\n%s", got.status, got.body)
	}
	if got := v.upload(job, photo(t, 1)); got.status != http.StatusSeeOther {
		t.Fatalf("a photograph with room: status %d\n%s", got.status, got.body)
	} else if got = v.get(got.location); got.status != http.StatusOK {
		t.Fatalf("the photographs: status %d\n%s", got.status, got.body)
	}

	filler := filepath.Join(disk, "filler")
	fill(t, filler)
	const full = "Nothing was saved: the server&#39;s disk is full. Keep what you have on the phone and tell the builder."
	for shade := range 3 {
		got := v.upload(job, photo(t, uint8(10+shade)))
		if want := "IMG_0001.jpg: There is no room left on the server. Keep it where it is, and tell the builder."; got.status != http.StatusInsufficientStorage || !strings.Contains(got.body, want) {
			t.Fatalf("a photograph on a full disk: status %d, want 507 and %q\n%s", got.status, want, got.body)
		}
	}
	// The database may have room of its own left in its log: readings are taken while there is, each for good.
	var got reply
	for range 2000 {
		if got = reading(); got.status != http.StatusSeeOther {
			break
		}
	}
	if got.status != http.StatusInsufficientStorage || !strings.Contains(got.body, full) {
		t.Fatalf("a reading on a full disk: status %d, want 507 and %q\n%s", got.status, full, got.body)
	}
	if got := v.get("/jobs/" + job); got.status != http.StatusOK {
		t.Errorf("the job's page on a full disk: status %d\n%s", got.status, got.body)
	}
	check := func(photos int) {
		t.Helper()
		rec := d.record(t, job)
		if len(rec.Readings) != taken || len(rec.Photos) != photos {
			t.Errorf("the record has %d readings and %d photographs, want %d and %d", len(rec.Readings), len(rec.Photos), taken, photos)
		}
		sound(t, dir)
	}
	check(1)

	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if got := reading(); got.status != http.StatusSeeOther {
		t.Errorf("a reading once there is room again: status %d\n%s", got.status, got.body)
	}
	if got := v.upload(job, photo(t, 10)); got.status != http.StatusSeeOther {
		t.Errorf("a photograph once there is room again: status %d\n%s", got.status, got.body)
	}
	check(2)
}
