// Package mediatest has the tests that every media.Store must pass.
package mediatest

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"newelbook/media"
)

// TestStore runs the contract of media.Store. open returns a new, empty store that takes at least 1 MiB and cleans up
// after itself.
func TestStore(t *testing.T, open func(t *testing.T) media.Store) {
	cases := []struct {
		name string
		run  func(t *testing.T, s media.Store)
	}{
		{"put then open", testPutOpen},
		{"same content twice", testPutTwice},
		{"content nobody put", testAbsent},
		{"walk in order", testWalk},
		{"walk stops at an error", testWalkStops},
		{"failing reader leaves nothing", testFailingReader},
		{"cancelled context leaves nothing", testCancelled},
		{"same content at once", testPutAtOnce},
		{"staged content", testStaged},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { c.run(t, open(t)) })
	}
}

// mustPut puts content that the store does not hold yet.
func mustPut(t *testing.T, s media.Store, content string) media.ID {
	t.Helper()
	got, err := media.Put(t.Context(), s, strings.NewReader(content))
	if err != nil {
		t.Fatalf("Put(%d bytes) = %v, want no error", len(content), err)
	}
	want := media.Received{ID: sha256.Sum256([]byte(content)), Bytes: int64(len(content))}
	if got != want {
		t.Fatalf("Put(%d bytes) = %+v, want %+v", len(content), got, want)
	}
	return got.ID
}

// wantEmpty fails unless the store holds nothing.
func wantEmpty(t *testing.T, s media.Store) {
	t.Helper()
	err := s.Walk(context.WithoutCancel(t.Context()), func(id media.ID, size int64) error {
		t.Errorf("store holds %s (%d bytes), want nothing", id, size)
		return nil
	})
	if err != nil {
		t.Errorf("Walk = %v, want no error", err)
	}
}

func testPutOpen(t *testing.T, s media.Store) {
	for _, content := range []string{"", "a post", strings.Repeat("rail and baluster ", 50_000)} {
		id := mustPut(t, s, content)
		r, size, err := s.Open(t.Context(), id)
		if err != nil {
			t.Fatalf("Open = %v, want no error", err)
		}
		for range 2 { // the second time after a seek to the start
			got, err := io.ReadAll(r)
			if err != nil || string(got) != content || size != int64(len(content)) {
				t.Errorf("Open gave %d bytes, stated %d, error %v; want the %d that were put", len(got), size, err, len(content))
			}
			if _, err := r.Seek(0, io.SeekStart); err != nil {
				t.Errorf("Seek = %v, want no error", err)
			}
		}
		if err := r.Close(); err != nil {
			t.Errorf("Close = %v, want no error", err)
		}
		if held, err := s.Has(t.Context(), id); err != nil || !held {
			t.Errorf("Has = %v, %v, want true", held, err)
		}
		if err := s.Verify(t.Context(), id); err != nil {
			t.Errorf("Verify = %v, want no error", err)
		}
	}
}

func testPutTwice(t *testing.T, s media.Store) {
	id := mustPut(t, s, "the same photograph")
	again, err := media.Put(t.Context(), s, strings.NewReader("the same photograph"))
	if err != nil || again.ID != id || !again.AlreadyHeld {
		t.Errorf("second Put = %+v, %v, want the same ID, already held", again, err)
	}
	if n := len(walked(t, s)); n != 1 {
		t.Errorf("store holds %d originals, want 1", n)
	}
}

func testAbsent(t *testing.T, s media.Store) {
	id := media.ID(sha256.Sum256([]byte("never put")))
	if _, _, err := s.Open(t.Context(), id); !errors.Is(err, media.ErrNotFound) {
		t.Errorf("Open = %v, want ErrNotFound", err)
	}
	if err := s.Verify(t.Context(), id); !errors.Is(err, media.ErrNotFound) {
		t.Errorf("Verify = %v, want ErrNotFound", err)
	}
	if held, err := s.Has(t.Context(), id); err != nil || held {
		t.Errorf("Has = %v, %v, want false", held, err)
	}
	wantEmpty(t, s)
}

func walked(t *testing.T, s media.Store) map[media.ID]int64 {
	t.Helper()
	found := map[media.ID]int64{}
	var last media.ID
	err := s.Walk(t.Context(), func(id media.ID, size int64) error {
		if len(found) > 0 && bytes.Compare(last[:], id[:]) >= 0 {
			t.Errorf("Walk gave %s after %s, want ascending order", id, last)
		}
		last = id
		found[id] = size
		return nil
	})
	if err != nil {
		t.Fatalf("Walk = %v, want no error", err)
	}
	return found
}

func testWalk(t *testing.T, s media.Store) {
	want := map[media.ID]int64{}
	for i := range 40 {
		content := strings.Repeat("x", i) + fmt.Sprint(i)
		want[mustPut(t, s, content)] = int64(len(content))
	}
	got := walked(t, s)
	if len(got) != len(want) {
		t.Errorf("Walk gave %d originals, want %d", len(got), len(want))
	}
	for id, size := range want {
		if got[id] != size {
			t.Errorf("Walk gave %d bytes for %s, want %d", got[id], id, size)
		}
	}
}

func testWalkStops(t *testing.T, s media.Store) {
	mustPut(t, s, "one")
	mustPut(t, s, "two")
	stop := errors.New("stop")
	calls := 0
	err := s.Walk(t.Context(), func(media.ID, int64) error { calls++; return stop })
	if err != stop || calls != 1 {
		t.Errorf("Walk = %v after %d calls, want its own error after 1", err, calls)
	}
}

func testFailingReader(t *testing.T, s media.Store) {
	broken := errors.New("line dropped")
	r := io.MultiReader(strings.NewReader(strings.Repeat("half a photograph ", 20_000)), iotest.ErrReader(broken))
	got, err := media.Put(t.Context(), s, r)
	if !errors.Is(err, broken) || got != (media.Received{}) {
		t.Errorf("Put = %+v, %v, want the reader's error and nothing received", got, err)
	}
	wantEmpty(t, s)
}

func testCancelled(t *testing.T, s media.Store) {
	ctx, cancel := context.WithCancel(t.Context())
	cancelling := readerFunc(func(p []byte) (int, error) {
		cancel()
		return copy(p, "a photograph"), nil
	})
	if _, err := media.Put(ctx, s, cancelling); !errors.Is(err, context.Canceled) {
		t.Errorf("Put = %v, want context.Canceled", err)
	}
	wantEmpty(t, s)
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }

func testPutAtOnce(t *testing.T, s media.Store) {
	content := strings.Repeat("sent by the whole crew ", 10_000)
	var wait sync.WaitGroup
	held := make([]bool, 8)
	for i := range held {
		wait.Go(func() {
			got, err := media.Put(t.Context(), s, strings.NewReader(content))
			if err != nil {
				t.Errorf("Put = %v, want no error", err)
			}
			held[i] = got.AlreadyHeld
		})
	}
	wait.Wait()
	first := 0
	for _, h := range held {
		if !h {
			first++
		}
	}
	if first != 1 {
		t.Errorf("%d of %d calls at once say that it was not held, want 1", first, len(held))
	}
	if n := len(walked(t, s)); n != 1 {
		t.Errorf("store holds %d originals, want 1", n)
	}
}

// What is staged can be read from any place and is not held; discarded, it is as if it had never been.
func testStaged(t *testing.T, s media.Store) {
	const content = "a photograph of the blocking"
	id := media.ID(sha256.Sum256([]byte(content)))
	for _, commit := range []bool{false, true} {
		staged, err := s.Stage(t.Context(), strings.NewReader(content))
		if err != nil {
			t.Fatalf("Stage = %v, want no error", err)
		}
		if staged.ID() != id || staged.Bytes() != int64(len(content)) {
			t.Errorf("Stage gave %s, %d bytes, want %s, %d", staged.ID(), staged.Bytes(), id, len(content))
		}
		for _, from := range []int64{0, 2, 13} {
			if _, err := staged.Seek(from, io.SeekStart); err != nil {
				t.Fatal(err)
			}
			if got, err := io.ReadAll(staged); err != nil || string(got) != content[from:] {
				t.Errorf("read from %d = %q, %v, want %q", from, got, err, content[from:])
			}
		}
		wantEmpty(t, s)
		if commit {
			got, err := staged.Commit(t.Context())
			if want := (media.Received{ID: id, Bytes: int64(len(content))}); err != nil || got != want {
				t.Errorf("Commit = %+v, %v, want %+v", got, err, want)
			}
		}
		if err := staged.Discard(); err != nil {
			t.Errorf("Discard = %v, want no error", err)
		}
		if held, err := s.Has(t.Context(), id); err != nil || held != commit {
			t.Errorf("Has = %v, %v, want %v", held, err, commit)
		}
	}
	if err := s.Verify(t.Context(), id); err != nil {
		t.Errorf("Verify = %v, want no error", err)
	}
}
