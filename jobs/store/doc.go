// Package store keeps jobs in SQLite through GORM: it is jobs.Store.
//
// Callers start with Open and hand the Store to jobs.NewService. Sessions gives the session rows of a server, Backup
// copies the database while it serves, CheckChains looks for damage, and LockFolder keeps a data folder to one server.
//
// Invariants. Update is one immediate transaction on the one writing connection: writers wait for one another, and a
// second process waits up to five seconds. View is one snapshot on a pool of read-only connections. Append writes an event
// and, through project, the row of the object that the event changed; Load reads those rows alone, and gives what Replay
// of the events gives. Rows refuse what they could not give back.
//
// Lengths are whole nanometres. Times are UTC. Foreign keys, WAL and full synchronisation are set on each connection by
// the connection string, which one function makes. The schema is numbered SQL in package migrations, run by goose; a file
// that was applied and has changed since stops Open, and an existing database is copied beside itself before it is migrated.
//
// Errors: jobs.ErrNotFound for what is not there, ErrFull for a full disk, ErrBusy for a database that another process
// holds, ErrDuplicate for a key that exists. Other errors are faults of the program or the file.
//
// It judges nothing and opens no photograph. Test it with: go test ./jobs/store (add -update to write the golden schema
// again).
package store
