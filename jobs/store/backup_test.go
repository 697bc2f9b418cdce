package store_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"newelbook/jobs"
	"newelbook/jobs/store"
)

func TestBackup(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, filepath.Join(dir, "newelbook.db"))
	x := newSite(t, s)
	x.whole(t)
	head := x.record(t).Head

	// While it serves: a writer under way neither stops the backup nor gets into it.
	to := filepath.Join(dir, "copy of 'monday'.db")
	if err := s.Update(t.Context(), func(tx jobs.Tx) error {
		if err := tx.SetSetting("k", "v"); err != nil {
			return err
		}
		return s.Backup(t.Context(), to)
	}); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(to)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm()&0o077 != 0 {
		t.Errorf("the copy has mode %v: others can read it", info.Mode())
	}
	copied, _ := openAt(t, to)
	if err := copied.View(t.Context(), func(tx jobs.Tx) error {
		if _, err := tx.Setting("k"); !errors.Is(err, jobs.ErrNotFound) {
			t.Errorf("the copy has what was not committed: %v", err)
		}
		got, err := tx.Head(x.job)
		if got != head {
			t.Errorf("the copy's head = %v, want %v", got, head)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if found := findings(t, copied); len(found) > 0 {
		t.Errorf("CheckChains of the copy found %+v", found)
	}
	if err := s.Backup(t.Context(), to); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second backup to the same file = %v, want fs.ErrExist", err)
	}

	// A backup that cannot be finished leaves nothing that looks like one.
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	half := filepath.Join(dir, "half.db")
	if err := s.Backup(ctx, half); err == nil {
		t.Error("Backup took a context that was over")
	}
	if _, err := os.Stat(half); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a backup that failed left a file: %v", err)
	}
}

func TestCheckRefusesExistingScratch(t *testing.T) {
	s := open(t)
	scratch := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(scratch, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := s.CheckChains(t.Context(), scratch); !errors.Is(err, fs.ErrExist) {
		t.Errorf("CheckChains over a file = %v, want fs.ErrExist", err)
	}
	if b, err := os.ReadFile(scratch); err != nil || string(b) != "mine" {
		t.Errorf("the file is now %q, %v", b, err)
	}
}

func TestCheckCleansUp(t *testing.T) {
	s := open(t)
	newSite(t, s)
	dir := t.TempDir()
	if _, err := s.CheckChains(t.Context(), filepath.Join(dir, "scratch.db")); err != nil {
		t.Fatal(err)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) > 0 {
		t.Errorf("the check left %v, %v", left, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.CheckChains(ctx, filepath.Join(dir, "scratch.db")); !errors.Is(err, context.Canceled) {
		t.Errorf("CheckChains out of time = %v, want the context's error", err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("the check that was stopped left %v, %v", left, err)
	}
}

// lockVar tells the test binary to hold a folder's lock until it is killed.
const lockVar = "NEWELBOOK_TEST_HOLD_LOCK"

func TestMain(m *testing.M) {
	if dir := os.Getenv(lockVar); dir != "" {
		holdLock(dir)
	}
	os.Exit(m.Run())
}

func holdLock(dir string) {
	if _, err := store.LockFolder(dir); err != nil {
		os.Exit(3)
	}
	if _, err := os.Stdout.WriteString("held\n"); err != nil {
		os.Exit(4)
	}
	select {}
}

func TestLockFolder(t *testing.T) {
	dir := t.TempDir()
	first, err := store.LockFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.LockFolder(dir); !errors.Is(err, store.ErrLocked) {
		t.Errorf("a second lock = %v, want ErrLocked", err)
	}
	other, err := store.LockFolder(t.TempDir())
	if err != nil {
		t.Fatalf("another folder: %v", err)
	}
	if err := errors.Join(first.Unlock(), other.Unlock()); err != nil {
		t.Fatal(err)
	}
	again, err := store.LockFolder(dir)
	if err != nil {
		t.Fatalf("after Unlock: %v", err)
	}
	if err := again.Unlock(); err != nil {
		t.Fatal(err)
	}
	if _, err := store.LockFolder(filepath.Join(dir, "not there")); err == nil || errors.Is(err, store.ErrLocked) {
		t.Errorf("a folder that is not there = %v", err)
	}
}

// The lock holds against another process, and goes with it when it is killed.
func TestLockGoesWithTheProcess(t *testing.T) {
	dir := t.TempDir()
	holder := exec.Command(os.Args[0])
	holder.Env = append(os.Environ(), lockVar+"="+dir)
	out, err := holder.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := holder.Start(); err != nil {
		t.Fatal(err)
	}
	line := make([]byte, len("held\n"))
	if _, err := out.Read(line); err != nil || string(line) != "held\n" {
		t.Errorf("the holder said %q, %v", line, err)
	}
	if _, err := store.LockFolder(dir); !errors.Is(err, store.ErrLocked) {
		t.Errorf("a lock that another process holds = %v, want ErrLocked", err)
	}
	if err := holder.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	if err := holder.Wait(); err == nil {
		t.Error("the holder ended by itself")
	}
	lock, err := store.LockFolder(dir)
	if err != nil {
		t.Fatalf("after the holder was killed: %v", err)
	}
	if err := lock.Unlock(); err != nil {
		t.Fatal(err)
	}
}
