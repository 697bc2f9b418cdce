package store

import (
	"context"
	"database/sql"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Pragmas belong to a connection: each of two open at once must have them.
func TestPragmasOnTwoConnections(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: func() time.Time { return time.Unix(0, 0) }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for name, c := range map[string]struct {
		access access
		want   map[string]string
	}{
		"writing": {writing, map[string]string{"busy_timeout": "5000", "foreign_keys": "1", "journal_mode": "wal", "synchronous": "2"}},
		"reading": {reading, map[string]string{"busy_timeout": "5000", "foreign_keys": "1", "journal_mode": "wal"}},
	} {
		pool, err := sql.Open(driverName, dsn(path, c.access))
		if err != nil {
			t.Fatal(err)
		}
		defer pool.Close()
		var conns []*sql.Conn
		for range 2 {
			conn, err := pool.Conn(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			conns = append(conns, conn)
		}
		for i, conn := range conns {
			for pragma, want := range c.want {
				var got string
				if err := conn.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
					t.Errorf("%s connection %d: %s = %q, %v, want %q", name, i+1, pragma, got, err, want)
				}
			}
			_, err := conn.ExecContext(t.Context(), "UPDATE settings SET value = ''")
			if writes := err == nil; writes != (c.access == writing) {
				t.Errorf("%s connection %d: writing gives %v", name, i+1, err)
			}
		}
	}
	if n := s.write.Stats().MaxOpenConnections; n != 1 {
		t.Errorf("the writing pool has up to %d connections, want 1", n)
	}
}

// A reading transaction neither waits for a writer nor takes the write lock; a second writer does wait.
func TestReadersDoNotWait(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: func() time.Time { return time.Unix(0, 0) }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	writer, err := s.write.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Rollback()
	reader, err := s.read.BeginTx(t.Context(), &sql.TxOptions{ReadOnly: true})
	if err != nil {
		t.Fatalf("a reader could not begin beside a writer: %v", err)
	}
	defer reader.Rollback()
	var n int
	if err := reader.QueryRow("SELECT count(*) FROM jobs").Scan(&n); err != nil {
		t.Fatalf("a reader could not read beside a writer: %v", err)
	}
	// Another process, without the patience of five seconds.
	hasty, err := sql.Open(driverName, strings.Replace(dsn(path, writing), "5000", "1", 1))
	if err != nil {
		t.Fatal(err)
	}
	defer hasty.Close()
	if _, err := hasty.BeginTx(t.Context(), nil); storeErrorIs(err, ErrBusy) != true {
		t.Errorf("a second writer = %v, want ErrBusy", err)
	}
	// A writer that waits gives up when its context does.
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	if err := s.Update(ctx, nil); storeErrorIs(err, context.DeadlineExceeded) != true {
		t.Errorf("a writer out of time = %v, want the context's error", err)
	}
}

// Times come back to the nanosecond, in UTC, and compare as text in the order of time whatever zone they were given in.
func TestTimesAreInstants(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, err := Open(t.Context(), path, Options{Now: func() time.Time { return time.Unix(0, 0) }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	first := time.Date(2026, 5, 4, 9, 30, 0, 123_456_789, time.FixedZone("CDT", -5*3600))
	second := first.Add(time.Nanosecond).In(time.FixedZone("", 9*3600))
	for i, at := range []time.Time{second, first} {
		if _, err := s.write.Exec("INSERT INTO forms VALUES (?, '', '', ?)", i, at); err != nil {
			t.Fatal(err)
		}
	}
	rows, err := s.read.Query("SELECT at FROM forms WHERE at <= ? ORDER BY at", second)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var got []time.Time
	for rows.Next() {
		var at time.Time
		if err := rows.Scan(&at); err != nil {
			t.Fatal(err)
		}
		got = append(got, at)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 || !got[0].Equal(first) || !got[1].Equal(second) || got[0].Location() != time.UTC {
		t.Errorf("times = %v, want %v and %v in UTC", got, first.UTC(), second.UTC())
	}
}
