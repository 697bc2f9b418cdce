package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"

	"github.com/pressly/goose/v3"
)

// migrationTable is where goose counts what was applied.
const migrationTable = "migration_versions"

// migrate brings the schema up to date with the numbered SQL files of fsys. Before anything is applied to a database that
// has a schema, the whole database is copied beside itself, named for the version it had.
func (s *Store) migrate(ctx context.Context, fsys fs.FS) error {
	p, err := goose.NewProvider(goose.DialectSQLite3, s.write, fsys,
		goose.WithSlog(s.opt.Log), goose.WithDisableGlobalRegistry(true), goose.WithTableName(migrationTable))
	if err != nil {
		return fmt.Errorf("read migrations: %w", err)
	}
	had, newest, err := p.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("read schema version: %w", err)
	}
	if had > newest {
		return fmt.Errorf("%w: its schema is %d, this release knows %d", ErrNewer, had, newest)
	}
	files, err := migrationFiles(fsys, p.ListSources())
	if err != nil {
		return err
	}
	if had > 0 {
		if err := s.compareApplied(ctx, files); err != nil {
			return err
		}
	}
	if had > 0 && had < newest {
		copied := fmt.Sprintf("%s.schema-%d.%s", s.path, had, s.opt.Now().UTC().Format("20060102T150405Z"))
		if err := vacuumInto(ctx, s.write, copied); err != nil {
			return fmt.Errorf("copy before migrating: %w", err)
		}
		s.opt.Log.InfoContext(ctx, "database copied before migrating", "copy", copied)
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("migrate from schema %d to %d: %w", had, newest, err)
	}
	return s.recordApplied(ctx, files)
}

// migrationFile is one numbered file and its SHA-256.
type migrationFile struct {
	version int64
	name    string
	sum     string
}

func migrationFiles(fsys fs.FS, sources []*goose.Source) ([]migrationFile, error) {
	var out []migrationFile
	for _, src := range sources {
		text, err := fs.ReadFile(fsys, src.Path)
		if err != nil {
			return nil, fmt.Errorf("read migration %d: %w", src.Version, err)
		}
		sum := sha256.Sum256(text)
		out = append(out, migrationFile{version: src.Version, name: path.Base(src.Path), sum: hex.EncodeToString(sum[:])})
	}
	return out, nil
}

// compareApplied refuses a file that is not what it was when it was applied here.
func (s *Store) compareApplied(ctx context.Context, files []migrationFile) error {
	for _, f := range files {
		var name, sum string
		switch err := s.write.QueryRowContext(ctx, "SELECT name, sha256 FROM migration_files WHERE version = ?", f.version).Scan(&name, &sum); {
		case err == sql.ErrNoRows: // not applied yet, or its recording was cut short
			continue
		case err != nil:
			return fmt.Errorf("read applied migrations: %w", err)
		}
		if sum != f.sum || name != f.name {
			return fmt.Errorf("%w: %s was applied here with SHA-256 %s and is %s with %s now", ErrMigrationChanged, name, sum, f.name, f.sum)
		}
	}
	return nil
}

// recordApplied keeps the SHA-256 of files that were applied just now. Where all are kept already it writes nothing: an insert would
// wait for whoever else writes, at every opening.
func (s *Store) recordApplied(ctx context.Context, files []migrationFile) error {
	for _, f := range files {
		var kept int
		if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM migration_files WHERE version = ?", f.version).Scan(&kept); err != nil {
			return fmt.Errorf("read applied migrations: %w", err)
		}
		if kept > 0 {
			continue
		}
		if _, err := s.write.ExecContext(ctx,
			"INSERT INTO migration_files (version, name, sha256, applied_at) VALUES (?, ?, ?, ?) ON CONFLICT (version) DO NOTHING",
			f.version, f.name, f.sum, s.opt.Now().UTC()); err != nil {
			return fmt.Errorf("record migration %s: %w", f.name, err)
		}
	}
	return nil
}
