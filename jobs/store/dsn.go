package store

import (
	"net/url"
	"path/filepath"
	"strings"
)

// access is what a connection may do.
type access bool

const (
	writing access = true
	reading access = false
)

// dsn is the connection string of a database file: the only one that this package opens databases with. Pragmas belong
// to a connection, not to a file, so they stand here, where each new connection of a pool gets them.
//
// The writing string begins every transaction as immediate, which takes the write lock at once: a transaction that
// reads first and writes later could otherwise find that the database has moved on under it. The reading string is
// another one because there the same setting would make readers wait for the writer.
//
// _time_format and _timezone fix the text of times: without the first the driver writes Go's own debugging format, and
// without the second texts of different offsets would not compare.
func dsn(path string, a access) string {
	pragmas := []string{"busy_timeout(5000)", "foreign_keys(1)"}
	q := url.Values{"_time_format": {"sqlite"}, "_timezone": {"UTC"}}
	if a == writing {
		pragmas = append(pragmas, "journal_mode(WAL)", "synchronous(FULL)")
		q.Set("_txlock", "immediate")
	} else {
		q.Set("mode", "ro") // query_only(1) would refuse VACUUM INTO as well
	}
	q["_pragma"] = pragmas
	return fileURI(path) + "?" + q.Encode()
}

// fileURI is a path as SQLite reads it in a file: URI, whatever characters it has.
func fileURI(path string) string {
	path = filepath.ToSlash(path)
	if filepath.VolumeName(path) != "" && !strings.HasPrefix(path, "/") {
		path = "/" + path // file:///C:/data
	}
	return "file:" + (&url.URL{Path: path}).EscapedPath()
}
