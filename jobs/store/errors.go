package store

import (
	"errors"
	"fmt"

	"gorm.io/gorm"

	"newelbook/jobs"
)

// What callers branch on, beside jobs.ErrNotFound. The error itself is wrapped with them.
var (
	// ErrFull says that the disk, or the quota on it, is full. Nothing was saved.
	ErrFull = errors.New("no room left on the disk")
	// ErrBusy says that another process held the database for longer than five seconds. Nothing was saved.
	ErrBusy = errors.New("database is held by another process")
	// ErrDuplicate says that something with that key, id or name is there already.
	ErrDuplicate = errors.New("already there")
	// ErrLocked says that another server serves this data folder.
	ErrLocked = errors.New("data folder is in use")
	// ErrMigrationChanged says that the file of an applied migration is not what it was when it was applied.
	ErrMigrationChanged = errors.New("applied migration changed")
	// ErrNewer says that a newer release of the program has written the database.
	ErrNewer = errors.New("database is of a newer release")
)

// storeError puts the sentinel that fits on an error of GORM or the driver. Other errors pass as they are, so that what
// a use case returns from within a transaction comes out unchanged.
func storeError(err error) error {
	if err == nil {
		return nil
	}
	var sentinel error
	code, _ := errorCode(err)
	switch code & 0xff {
	case 13: // SQLITE_FULL
		sentinel = ErrFull
	case 5, 6: // SQLITE_BUSY, SQLITE_LOCKED
		sentinel = ErrBusy
	}
	switch {
	case errors.Is(err, gorm.ErrRecordNotFound):
		sentinel = jobs.ErrNotFound
	case errors.Is(err, gorm.ErrDuplicatedKey):
		sentinel = ErrDuplicate
	}
	if sentinel == nil || errors.Is(err, sentinel) {
		return err
	}
	return fmt.Errorf("%w: %w", sentinel, err)
}
