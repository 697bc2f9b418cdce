package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"path/filepath"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2"

	"newelbook/jobs"
	"newelbook/jobs/store"
)

var _ scs.CtxStore = (*store.SessionStore)(nil)

// openSessions opens a store whose clock the test moves.
func openSessions(t *testing.T) (s *store.Store, path string, now *time.Time) {
	t.Helper()
	at := clock()
	path = filepath.Join(t.TempDir(), "newelbook.db")
	s, err := store.Open(t.Context(), path, store.Options{Now: func() time.Time { return at }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s, path, &at
}

func find(t *testing.T, s *store.Store, token string) string {
	t.Helper()
	data, ok, err := s.Sessions().Find(token)
	if err != nil {
		t.Fatalf("Find: %v", err)
	}
	if !ok {
		return "not found"
	}
	return string(data)
}

func commit(t *testing.T, s *store.Store, token, data string) {
	t.Helper()
	if err := s.Sessions().Commit(token, []byte(data), clock().Add(time.Hour)); err != nil {
		t.Fatalf("Commit: %v", err)
	}
}

func TestSessions(t *testing.T) {
	s, path, now := openSessions(t)
	if got := find(t, s, "token"); got != "not found" {
		t.Errorf("before a Commit = %q", got)
	}
	commit(t, s, "token", "first")
	commit(t, s, "other", "other")
	commit(t, s, "token", "second")
	if got := find(t, s, "token"); got != "second" {
		t.Errorf("Find = %q, want second", got)
	}
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var hash string
	if err := db.QueryRow("SELECT token_hash FROM sessions WHERE data = CAST('second' AS BLOB)").Scan(&hash); err != nil || hash != jobs.TokenHash("token") {
		t.Errorf("the row is kept under %q, %v, want the token's hash", hash, err)
	}
	if err := s.Sessions().Delete("token"); err != nil {
		t.Fatal(err)
	}
	if err := s.Sessions().Delete("never there"); err != nil {
		t.Errorf("Delete of no session = %v", err)
	}
	// A request that was under way when the session ended saves it once more.
	commit(t, s, "token", "third")
	if got := find(t, s, "token"); got != "not found" {
		t.Errorf("an ended session came back as %q", got)
	}
	if got := find(t, s, "other"); got != "other" {
		t.Errorf("the other session = %q", got)
	}
	*now = clock().Add(time.Hour)
	if got := find(t, s, "other"); got != "not found" {
		t.Errorf("an expired session = %q", got)
	}
	if n, err := s.Sessions().Sweep(t.Context()); n != 0 || err != nil {
		t.Errorf("Sweep just after expiry = %d, %v, want 0", n, err)
	}
	*now = clock().Add(26 * time.Hour)
	if n, err := s.Sessions().Sweep(t.Context()); n != 2 || err != nil {
		t.Errorf("Sweep a day later = %d, %v, want 2", n, err)
	}
}

func TestSessionsOfAnAccount(t *testing.T) {
	s, _, _ := openSessions(t)
	for _, login := range []string{"sam", "pat"} {
		if err := s.Update(t.Context(), func(tx jobs.Tx) error {
			return tx.SaveAccount(jobs.Account{ID: "id of " + login, Name: login, Login: login, Role: jobs.RoleCrew, Made: clock()})
		}); err != nil {
			t.Fatal(err)
		}
	}
	bind := func(token, account string) {
		t.Helper()
		if err := s.Sessions().BindSession(t.Context(), token, account); err != nil {
			t.Fatalf("BindSession: %v", err)
		}
	}
	// Signing in binds before the session is saved for the first time; nothing is found until then.
	bind("sam 1", "id of sam")
	if got := find(t, s, "sam 1"); got != "not found" {
		t.Errorf("a bound session without a Commit = %q", got)
	}
	commit(t, s, "sam 1", "one")
	commit(t, s, "sam 2", "two")
	bind("sam 2", "id of sam")
	commit(t, s, "pat 1", "three")
	bind("pat 1", "id of pat")
	commit(t, s, "nobody", "four")
	if err := s.Sessions().BindSession(t.Context(), "sam 3", "id of nobody"); err == nil {
		t.Error("a session was bound to an account that is not there")
	}

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := s.Sessions().CommitCtx(ctx, "sam 1", nil, clock()); err == nil {
		t.Error("CommitCtx took a context that was over")
	}
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.DeleteSessions("id of sam") }); err != nil {
		t.Fatal(err)
	}
	commit(t, s, "sam 1", "again") // a request under way
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.DeleteAccount("id of sam") }); err != nil {
		t.Fatal(err)
	}
	for token, want := range map[string]string{"sam 1": "not found", "sam 2": "not found", "pat 1": "three", "nobody": "four"} {
		if got := find(t, s, token); got != want {
			t.Errorf("session %s = %q, want %q", token, got, want)
		}
	}
	// Taking an account away takes the sessions that it still has.
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.DeleteAccount("id of pat") }); err != nil {
		t.Fatal(err)
	}
	if got := find(t, s, "pat 1"); got != "not found" {
		t.Errorf("the session of an account that is gone = %q", got)
	}
	if data, ok, err := s.Sessions().FindCtx(t.Context(), "nobody"); err != nil || !ok || !bytes.Equal(data, []byte("four")) {
		t.Errorf("FindCtx = %q, %v, %v", data, ok, err)
	}
}
