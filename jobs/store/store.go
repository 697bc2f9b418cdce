package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"time"

	"gorm.io/gorm"

	"newelbook/jobs"
	"newelbook/migrations"
)

// Options are what a Store needs from its surroundings.
type Options struct {
	Now func() time.Time // clock; required
	Log *slog.Logger     // slow statements and migrations; nil logs nothing
}

// Store is one open database.
type Store struct {
	path  string
	opt   Options
	write *sql.DB // one connection: writers queue here, first come first served
	read  *sql.DB
	w, r  *gorm.DB
}

var _ jobs.Store = (*Store)(nil)

// readers is how many views run at once; more wait.
const readers = 8

// Open opens the database at path, making it where there is none, and brings its schema up to date. An existing
// database is copied beside itself before it is migrated. Errors: ErrMigrationChanged, ErrNewer, ErrBusy, ErrFull.
func Open(ctx context.Context, path string, opt Options) (*Store, error) {
	if opt.Log == nil {
		opt.Log = slog.New(slog.DiscardHandler)
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open database: %w", err)
	}
	if err := makePrivate(path); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("open database: %w", err)
	}
	s := &Store{path: path, opt: opt}
	if err := s.open(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("open database %s: %w", path, storeError(err)), s.Close())
	}
	return s, nil
}

// makePrivate makes an empty file that only its owner can read, and refuses one that exists.
func makePrivate(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

func (s *Store) open(ctx context.Context) (err error) {
	if s.write, err = sql.Open(driverName, dsn(s.path, writing)); err != nil {
		return err
	}
	s.write.SetMaxOpenConns(1)
	sqlite, err := fs.Sub(migrations.FS, "sqlite")
	if err != nil {
		return err
	}
	if err := s.migrate(ctx, sqlite); err != nil {
		return err
	}
	if s.read, err = sql.Open(driverName, dsn(s.path, reading)); err != nil {
		return err
	}
	s.read.SetMaxOpenConns(readers)
	s.read.SetMaxIdleConns(readers)
	if s.w, err = openGORM(s.write, s.opt.Now, s.opt.Log); err != nil {
		return err
	}
	s.r, err = openGORM(s.read, s.opt.Now, s.opt.Log)
	return err
}

// Close closes the database. Transactions under way are waited for.
func (s *Store) Close() error {
	var errs []error
	// The writer goes last: the last connection to close folds the write-ahead log into the file, and a reader may not.
	for _, pool := range []*sql.DB{s.read, s.write} {
		if pool != nil {
			errs = append(errs, pool.Close())
		}
	}
	return errors.Join(errs...)
}

// View runs f in a read-only transaction on one snapshot. What f tries to write is refused.
func (s *Store) View(ctx context.Context, f func(jobs.Tx) error) error {
	return s.inTx(ctx, s.r, f, &sql.TxOptions{ReadOnly: true})
}

// Update runs f in a writing transaction: nil commits, an error or a panic rolls back everything.
func (s *Store) Update(ctx context.Context, f func(jobs.Tx) error) error {
	return s.inTx(ctx, s.w, f)
}

func (s *Store) inTx(ctx context.Context, db *gorm.DB, f func(jobs.Tx) error, opts ...*sql.TxOptions) error {
	return storeError(db.WithContext(ctx).Transaction(func(db *gorm.DB) error { return f(&tx{db}) }, opts...))
}

// Backup copies the database into a new file at path, as of one instant, while the store goes on serving. It refuses to
// overwrite (fs.ErrExist). Originals and packs are files of their own and are not in it.
func (s *Store) Backup(ctx context.Context, path string) error {
	if err := vacuumInto(ctx, s.read, path); err != nil {
		return fmt.Errorf("back up to %s: %w", path, storeError(err))
	}
	return nil
}

// vacuumInto writes a whole copy of a database into a new file, and leaves none behind when it cannot.
func vacuumInto(ctx context.Context, pool *sql.DB, path string) (err error) {
	if path, err = filepath.Abs(path); err != nil {
		return err
	}
	if err := makePrivate(path); err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(path))
		}
	}()
	if _, err := pool.ExecContext(ctx, "VACUUM INTO ?", path); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
