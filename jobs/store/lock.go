package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
)

// lockName is the file that a server holds while it serves a data folder.
const lockName = "serve.lock"

// FolderLock keeps a data folder to one server. It is a small SQLite file held in an exclusive transaction: SQLite knows
// how to lock a file on each system, and the lock goes with the process, however it ends. On a network file system it is
// worth what that system's locks are worth. A PID in a file would need to be believed, and cleared away after a crash.
type FolderLock struct {
	pool *sql.DB
	conn *sql.Conn
}

// LockFolder takes the lock of a data folder. ErrLocked says that another server has it.
func LockFolder(dir string) (*FolderLock, error) {
	path, err := filepath.Abs(filepath.Join(dir, lockName))
	if err != nil {
		return nil, fmt.Errorf("lock data folder: %w", err)
	}
	pool, err := sql.Open(driverName, fileURI(path)+"?_pragma=locking_mode(EXCLUSIVE)")
	if err != nil {
		return nil, fmt.Errorf("lock data folder %s: %w", dir, err)
	}
	l := &FolderLock{pool: pool}
	if l.conn, err = pool.Conn(context.Background()); err == nil {
		_, err = l.conn.ExecContext(context.Background(), "BEGIN EXCLUSIVE")
	}
	if err != nil {
		if errors.Is(storeError(err), ErrBusy) {
			err = ErrLocked
		}
		return nil, errors.Join(fmt.Errorf("lock data folder %s: %w", dir, err), l.Unlock())
	}
	return l, nil
}

// Unlock gives the folder free.
func (l *FolderLock) Unlock() error {
	var err error
	if l.conn != nil {
		err = l.conn.Close()
	}
	return errors.Join(err, l.pool.Close())
}
