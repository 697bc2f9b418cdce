package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
)

// Files and folders of the data folder that others make: media's originals, and the server's lock.
const (
	originalsFolder = "originals"
	lockFile        = "serve.lock"
)

func backupCommand(e env) *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:   "backup FOLDER",
		Short: "Copy the data folder while it is being served",
		Long: `Write a copy of the database, the originals, the packs and the key that signs them into a new folder. The server may go on
serving: the database is copied as it stood at one moment, and originals and packs are only ever added to. Derived
pictures are left out; they are made again. Accounts are in the copy, sessions and the signing key too: keep it as safe
as the original.`,
		Example: `  newelbook backup /media/stick/newelbook-2026-05-09`,
		Args:    one("one new folder for the copy"),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := openData(c.Context(), e, dir, false)
			if err != nil {
				return err
			}
			return errors.Join(d.backup(c.Context(), e, args[0]), d.Close())
		},
	}
	dataFlag(c, &dir)
	return c
}

func (d *data) backup(ctx context.Context, e env, to string) error {
	if err := os.Mkdir(to, 0o750); errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s exists already: name a new folder", to)
	} else if err != nil {
		return fmt.Errorf("make the backup folder: %w", err)
	}
	err := d.store.Backup(ctx, filepath.Join(to, databaseFile))
	files := 0
	for _, folder := range []string{originalsFolder, packsFolder} {
		if err == nil {
			var n int
			n, err = copyTree(ctx, filepath.Join(d.dir, folder), filepath.Join(to, folder))
			files += n
		}
	}
	if err == nil {
		err = copyFile(filepath.Join(d.dir, keyFile), filepath.Join(to, keyFile))
		if errors.Is(err, fs.ErrNotExist) { // no pack was issued yet
			err = nil
		} else if err == nil {
			files++
		}
	}
	if err != nil {
		return errors.Join(fmt.Errorf("back up: %w", err), os.RemoveAll(to))
	}
	fmt.Fprintf(e.out, "Backed up to %s: the database and %d files. Check it with: newelbook check --data %s\n", to, files, to)
	return nil
}

func restoreCommand(e env) *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:   "restore FOLDER",
		Short: "Make a data folder from a backup",
		Long: `Copy a backup into a data folder that does not exist yet, and check it. Every job comes back with the same chain of
events, so packs issued before still belong to it. Nothing that exists is written over.`,
		Example: `  newelbook restore /media/stick/newelbook-2026-05-09 --data newelbook-data`,
		Args:    one("one folder that holds a backup"),
		RunE:    func(c *cobra.Command, args []string) error { return restore(c.Context(), e, args[0], dir) },
	}
	dataFlag(c, &dir)
	return c
}

func restore(ctx context.Context, e env, from, to string) error {
	if _, err := os.Stat(filepath.Join(from, databaseFile)); err != nil {
		return fmt.Errorf("%s is not a backup: it holds no %s", from, databaseFile)
	}
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("%s exists already and is left as it is: move it away first, or name another folder with --data", to)
	}
	temp, err := os.MkdirTemp(filepath.Dir(filepath.Clean(to)), ".restore-")
	if err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	files, err := copyTree(ctx, from, temp)
	if err == nil {
		err = os.Chmod(temp, 0o750)
	}
	if err == nil {
		err = os.Rename(temp, to)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("restore: %w", err), os.RemoveAll(temp))
	}
	fmt.Fprintf(e.out, "Restored %d files to %s.\n", files, to)
	d, err := openData(ctx, e, to, false)
	if err != nil {
		return err
	}
	return errors.Join(d.check(ctx, e), d.Close())
}

// copyTree copies the plain files below from to the same places below to and returns how many. Half-written files and the
// server's lock are passed over; a folder that is not there copies as nothing.
func copyTree(ctx context.Context, from, to string) (int, error) {
	files := 0
	err := filepath.WalkDir(from, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		rel, err := filepath.Rel(from, name)
		if err != nil {
			return err
		}
		base := entry.Name()
		switch {
		case entry.IsDir() && rel != "." && strings.HasPrefix(base, "."):
			return filepath.SkipDir
		case entry.IsDir():
			return os.MkdirAll(filepath.Join(to, rel), 0o750)
		case !entry.Type().IsRegular(), strings.HasPrefix(base, "tmp-"), rel == lockFile:
			return nil
		}
		if err := copyFile(name, filepath.Join(to, rel)); err != nil {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			return err
		}
		files++
		return nil
	})
	return files, err
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		return err
	}
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, info.Mode().Perm()|0o200)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err := errors.Join(err, out.Sync(), out.Close()); err != nil {
		return err
	}
	return os.Chmod(to, info.Mode().Perm())
}
