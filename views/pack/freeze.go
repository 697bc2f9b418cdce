package pack

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// frozenFile is the list of a frozen pack's files, beside the bag that it was made from.
const frozenFile = "pack.json"

// frozenVersion is the form of pack.json that is written. Version 1, of the first release, has no SHA-512 and no signature.
const frozenVersion = 2

// frozen is what pack.json holds: all that is needed to write the ZIP again, byte for byte.
type frozen struct {
	Version      int         `json:"version"`
	Name         string      `json:"name"`
	Created      time.Time   `json:"created"`
	Organization string      `json:"organization"`
	Identifier   string      `json:"identifier"`
	Description  string      `json:"description"`
	Hash         string      `json:"hash"`
	Signed       bool        `json:"signed,omitempty"` // signature.txt stands beside it
	Files        []frozenRow `json:"files"`
	Tags         []frozenRow `json:"tags"`
}

type frozenRow struct {
	Path      string `json:"path"`
	Size      int64  `json:"size"`
	SHA256    string `json:"sha256"`
	SHA512    string `json:"sha512,omitempty"` // since version 2
	CRC32     uint32 `json:"crc32"`
	Elsewhere bool   `json:"elsewhere,omitempty"`
}

// Freeze writes the bag into the new folder dir: every file but those that stand elsewhere, each checked as it is copied;
// the manifests; and pack.json, from which OpenFrozen makes the same bag again. What stands elsewhere is read once and
// checked too. The folder appears whole or not at all; it must not exist yet, and errors.Is(err, fs.ErrExist) says that
// it does.
func Freeze(ctx context.Context, dir string, b Bag) error { return freeze(ctx, dir, b, nil) }

func freeze(ctx context.Context, dir string, b Bag, told func(Progress)) (err error) {
	if _, err := os.Lstat(dir); err == nil {
		return fmt.Errorf("freeze %s: %w", dir, fs.ErrExist)
	}
	if b, err = b.Measured(ctx); err != nil {
		return fmt.Errorf("freeze %s: %w", dir, err)
	}
	temp, err := os.MkdirTemp(filepath.Dir(dir), "."+filepath.Base(dir)+"-")
	if err != nil {
		return fmt.Errorf("freeze: %w", err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("freeze %s: %w", dir, err), os.RemoveAll(temp))
		}
	}()
	held := slices.DeleteFunc(b.complete(), func(f Payload) bool { return f.Elsewhere }) // what stands elsewhere was read when it was measured
	done := counting(told, StepFreeze, len(held))
	const waiting = 8 // a disk that makes eight files last at once is done sooner than one by one
	err = byHands(ctx, waiting, len(held), func(ctx context.Context, k int) error {
		defer done.one()
		return held[k].keep(ctx, temp)
	})
	if err != nil {
		return err
	}
	rows := func(files []Payload) []frozenRow {
		out := make([]frozenRow, 0, len(files))
		for _, f := range files {
			out = append(out, frozenRow{f.Path, f.Size, f.SHA256.String(), f.SHA512, f.CRC32, f.Elsewhere})
		}
		return out
	}
	list, err := json.MarshalIndent(frozen{
		Version: frozenVersion, Name: b.Name, Created: b.Info.Created, Organization: b.Info.Organization, Identifier: b.Info.Identifier,
		Description: b.Info.Description, Hash: b.Hash().String(), Signed: len(b.Signature) > 0, Files: rows(b.Files), Tags: rows(b.Tags),
	}, "", " ")
	if err != nil {
		return err
	}
	if err := writeSynced(filepath.Join(temp, frozenFile), strings.NewReader(string(list)+"\n")); err != nil {
		return err
	}
	if err := syncTree(temp); err != nil {
		return err
	}
	if err := os.Chmod(temp, 0o755); err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		return err
	}
	return syncDir(filepath.Dir(dir))
}

// keep copies a file into the folder and checks it meanwhile, or moves it there where it was written to be moved.
func (f Payload) keep(ctx context.Context, dir string) error {
	name := filepath.Join(dir, filepath.FromSlash(f.Path))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	if f.move != "" {
		return moveSynced(f.move, name)
	}
	out, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = f.measure(ctx, out)
	return errors.Join(err, out.Sync(), out.Close())
}

// moveSynced moves a file of this disk to where nothing stands yet.
func moveSynced(from, name string) error {
	if err := os.Rename(from, name); err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Chmod(0o644), f.Sync(), f.Close())
}

func writeSynced(name string, r io.Reader) error {
	out, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, r)
	return errors.Join(err, out.Sync(), out.Close())
}

// syncTree makes the folders below dir last, as far as the system allows.
func syncTree(dir string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		return syncDir(name)
	})
}

// syncDir makes what a folder lists last. A system that can't sync a folder is no reason to fail.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	if err := d.Sync(); err != nil && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrPermission) {
		return errors.Join(err, d.Close())
	}
	return d.Close()
}

// OpenFrozen reads a folder that Freeze wrote. elsewhere opens, by its SHA-256, a file that the folder lists without
// holding it. The bag is the one that was frozen, so that its ZIP has the same bytes; its files are checked when they are
// read, and their Hash against the one written down is checked here.
func OpenFrozen(dir string, elsewhere func(Hash) (io.ReadCloser, error)) (Bag, error) {
	fail := func(err error) (Bag, error) { return Bag{}, fmt.Errorf("open frozen pack %s: %w", dir, err) }
	text, err := os.ReadFile(filepath.Join(dir, frozenFile))
	if err != nil {
		return fail(err)
	}
	var list frozen
	if err := json.Unmarshal(text, &list); err != nil {
		return fail(fmt.Errorf("read %s: %w", frozenFile, err))
	}
	if list.Version < 1 || list.Version > frozenVersion {
		return fail(fmt.Errorf("%s is of version %d, and this program reads up to version %d", frozenFile, list.Version, frozenVersion))
	}
	payloads := func(rows []frozenRow) ([]Payload, error) {
		var out []Payload
		for _, r := range rows {
			h, err := ParseHash(r.SHA256)
			if err != nil {
				return nil, fmt.Errorf("file %s: %w", r.Path, err)
			}
			p := Payload{Path: r.Path, Size: r.Size, SHA256: h, SHA512: r.SHA512, CRC32: r.CRC32, CRCKnown: true, Elsewhere: r.Elsewhere}
			if r.Elsewhere {
				p.Open = func() (io.ReadCloser, error) {
					if elsewhere == nil {
						return nil, &fs.PathError{Op: "open", Path: r.Path, Err: fs.ErrNotExist}
					}
					return elsewhere(h)
				}
			} else {
				p.Open = func() (io.ReadCloser, error) { return os.OpenInRoot(dir, filepath.FromSlash(r.Path)) }
			}
			out = append(out, p)
		}
		return out, nil
	}
	b := Bag{Name: list.Name, Info: Info{list.Created, list.Organization, list.Identifier, list.Description}, First: list.Version == 1}
	if list.Signed {
		if b.Signature, err = os.ReadFile(filepath.Join(dir, signatureFile)); err != nil {
			return fail(err)
		}
	}
	if b.Files, err = payloads(list.Files); err != nil {
		return fail(err)
	}
	if b.Tags, err = payloads(list.Tags); err != nil {
		return fail(err)
	}
	if err := b.check(); err != nil {
		return fail(err)
	}
	if b.Hash().String() != list.Hash {
		return fail(fmt.Errorf("%s: %w", frozenFile, ErrChanged))
	}
	return b, nil
}
