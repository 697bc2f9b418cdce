package server_test

import (
	"database/sql"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// ledger is every row of the record and every original, by table, so that two of them show what a request changed.
type ledger map[string][]string

// unread are the tables that are no part of the record: who is signed in, and which migrations were applied.
func unread() []string {
	return []string{"sessions", "migration_files", "goose_db_version", "sqlite_sequence"}
}

// ledger reads every table of the data folder, and the names of the files in originals.
func (s *site) ledger() ledger {
	s.t.Helper()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(s.dir, "newelbook.db")+"?mode=ro")
	if err != nil {
		s.t.Fatal(err)
	}
	defer db.Close()
	out := ledger{"originals": s.originals()}
	for _, table := range s.rows(db, "SELECT name FROM sqlite_master WHERE type = 'table'") {
		if !slices.Contains(unread(), table) {
			out[table] = s.rows(db, "SELECT * FROM "+table)
		}
	}
	return out
}

// rows is the answer to a query, each row as one text.
func (s *site) rows(db *sql.DB, query string) []string {
	s.t.Helper()
	rows, err := db.QueryContext(s.t.Context(), query)
	if err != nil {
		s.t.Fatal(err)
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		s.t.Fatal(err)
	}
	var out []string
	for rows.Next() {
		values := make([]sql.NullString, len(columns))
		into := make([]any, len(columns))
		for i := range values {
			into[i] = &values[i]
		}
		if err := rows.Scan(into...); err != nil {
			s.t.Fatal(err)
		}
		var row []string
		for _, v := range values {
			row = append(row, v.String)
		}
		out = append(out, strings.Join(row, "\x1f"))
	}
	if err := rows.Err(); err != nil {
		s.t.Fatal(err)
	}
	return out
}

// originals are the names of the files under originals/.
func (s *site) originals() []string {
	s.t.Helper()
	var out []string
	err := filepath.WalkDir(filepath.Join(s.dir, "originals"), func(path string, d fs.DirEntry, err error) error {
		if os.IsNotExist(err) {
			return nil
		}
		if err == nil && !d.IsDir() {
			out = append(out, d.Name())
		}
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return out
}

// since says what was changed after an earlier ledger: "events +2, runs +1 -1" is two events more and one run changed. Empty is
// nothing at all.
func (l ledger) since(before ledger) string {
	var out []string
	for table, rows := range l {
		more, gone := missing(rows, before[table]), missing(before[table], rows)
		text := table
		if more > 0 {
			text += fmt.Sprintf(" +%d", more)
		}
		if gone > 0 {
			text += fmt.Sprintf(" -%d", gone)
		}
		if text != table {
			out = append(out, text)
		}
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// missing counts the rows that others lack.
func missing(rows, others []string) int {
	had := map[string]int{}
	for _, row := range others {
		had[row]++
	}
	n := 0
	for _, row := range rows {
		if had[row] == 0 {
			n++
			continue
		}
		had[row]--
	}
	return n
}
