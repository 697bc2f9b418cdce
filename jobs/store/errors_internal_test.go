package store

import (
	"errors"
	"fmt"
	"testing"

	"gorm.io/gorm"

	"newelbook/jobs"
)

// storeErrorIs says whether an error comes out of the store as target.
func storeErrorIs(err, target error) bool { return errors.Is(storeError(err), target) }

// coded is an error with a result code, as the driver's are.
type coded int

func (c coded) Error() string { return fmt.Sprintf("code %d", int(c)) }
func (c coded) Code() int     { return int(c) }

func TestErrors(t *testing.T) {
	translate := dialector{}.Translate
	for _, c := range []struct {
		err  error
		want error
	}{
		{coded(13), ErrFull},                   // SQLITE_FULL
		{coded(5), ErrBusy},                    // SQLITE_BUSY
		{coded(5 | 1<<8), ErrBusy},             // SQLITE_BUSY_RECOVERY
		{coded(6), ErrBusy},                    // SQLITE_LOCKED
		{translate(coded(2067)), ErrDuplicate}, // SQLITE_CONSTRAINT_UNIQUE
		{translate(coded(1555)), ErrDuplicate}, // SQLITE_CONSTRAINT_PRIMARYKEY
		{gorm.ErrRecordNotFound, jobs.ErrNotFound},
		{fmt.Errorf("save: %w", coded(13)), ErrFull},
	} {
		got := storeError(c.err)
		if !errors.Is(got, c.want) || !errors.Is(got, c.err) {
			t.Errorf("storeError(%v) = %v, want %v with the error in it", c.err, got, c.want)
		}
		if again := storeError(got); again != got {
			t.Errorf("storeError of %v wraps it again: %v", got, again)
		}
	}
	if !errors.Is(translate(coded(787)), gorm.ErrForeignKeyViolated) { // SQLITE_CONSTRAINT_FOREIGNKEY
		t.Error("a violated reference is not marked")
	}
	for _, err := range []error{nil, errors.New("other"), coded(1), &jobs.ConflictError{What: "x"}} {
		if got := storeError(err); got != err {
			t.Errorf("storeError(%v) = %v, want it unchanged", err, got)
		}
	}
}
