package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media"
	"newelbook/views/pack"
)

// defaultData is the data folder when none is named.
const defaultData = "newelbook-data"

// Inside the data folder. media adds originals/ and derived/.
const (
	databaseFile = "newelbook.db"
	packsFolder  = "packs"
	keyFile      = "signing.key" // signs the packs; never printed
)

// data is one open data folder.
type data struct {
	dir     string
	store   *store.Store
	media   *media.Library
	service *jobs.Service
	packs   *pack.Issuer
}

// dataFlag adds the flag that names the data folder.
func dataFlag(c *cobra.Command, dir *string) {
	c.Flags().StringVar(dir, "data", defaultData, "data `folder`: the database, originals, derived pictures and packs")
}

// openData opens a data folder. With create it is made where it is missing; without, a missing one is an error.
func openData(ctx context.Context, e env, dir string, create bool) (*data, error) {
	if _, err := os.Stat(filepath.Join(dir, databaseFile)); errors.Is(err, fs.ErrNotExist) && !create {
		return nil, fmt.Errorf("there is no %s in %s: name the data folder with --data, or start the server once to make it", databaseFile, dir)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("look into the data folder: %w", err)
	}
	if err := os.MkdirAll(filepath.Join(dir, packsFolder), 0o750); err != nil {
		return nil, fmt.Errorf("make the data folder: %w", err)
	}
	st, err := store.Open(ctx, filepath.Join(dir, databaseFile), store.Options{Now: e.now, Log: e.logger()})
	if err != nil {
		return nil, err
	}
	lib, err := media.Open(dir, media.Limits{})
	if err != nil {
		return nil, errors.Join(err, st.Close())
	}
	d := &data{dir: dir, store: st, media: lib, service: jobs.NewService(roomStore{st}, e.now)}
	d.packs = &pack.Issuer{Service: d.service, Media: lib, Dir: filepath.Join(dir, packsFolder), KeyFile: filepath.Join(dir, keyFile)}
	return d, nil
}

// roomStore says of a full disk under the database what media says of one under the originals, so that whoever serves has
// one answer to both.
type roomStore struct{ *store.Store }

func (r roomStore) View(ctx context.Context, f func(jobs.Tx) error) error {
	return noRoom(r.Store.View(ctx, f))
}

func (r roomStore) Update(ctx context.Context, f func(jobs.Tx) error) error {
	return noRoom(r.Store.Update(ctx, f))
}

func noRoom(err error) error {
	if errors.Is(err, store.ErrFull) {
		return fmt.Errorf("%w: %w", media.ErrStorageFull, err)
	}
	return err
}

func (d *data) Close() error { return errors.Join(d.media.Close(), d.store.Close()) }

// job finds a job by its reference or its id.
func (d *data) job(ctx context.Context, name string) (jobs.Summary, error) {
	all, err := d.service.Jobs(ctx)
	if err != nil {
		return jobs.Summary{}, err
	}
	for _, j := range all {
		if j.ID == name || j.Ref == name {
			return j, nil
		}
	}
	text := fmt.Sprintf("there is no job %q in %s", name, d.dir)
	if len(all) > 0 {
		text += "; it holds"
		for _, j := range all {
			text += fmt.Sprintf("\n  %s  %s", j.Ref, j.Name)
		}
	}
	return jobs.Summary{}, errors.New(text)
}
