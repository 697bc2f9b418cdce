// Package migrations holds the database schema as numbered SQL, one folder a dialect.
//
// Callers start with FS, which jobs/store hands to goose. Migrations go forward only. A file that was applied anywhere is
// never edited again: jobs/store keeps the SHA-256 of each applied file and refuses to start over one that changed. The
// package exists because go:embed cannot reach up out of jobs/store.
//
// Test it with: go test ./jobs/store -run Schema (add -update to write the golden schema again).
package migrations

import "embed"

// FS holds sqlite/NNNN_name.sql, in goose's annotation of SQL.
//
//go:embed sqlite/*.sql
var FS embed.FS
