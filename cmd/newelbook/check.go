package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media"
	"newelbook/views/pack"
)

// leftoverAge is how old a half-written file must be before check sweeps it: longer than any upload lasts.
const leftoverAge = 24 * time.Hour

func checkCommand(e env) *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:   "check",
		Short: "Tell whether the data folder is sound",
		Long: `Hash every original photograph and paper again, walk every row of the database, rebuild the job tables from each job's chain of
events in an empty database and compare the two, and check every frozen pack. It changes nothing but for half-written
files that a crash left behind, which it clears away. It may run while the server is serving.

Exit code: 0 sound; 1 something is wrong, each thing on a line of its own; 2 it could not be looked at.`,
		Example: `  newelbook check
  newelbook check --data /srv/newelbook`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			d, err := openData(c.Context(), e, dir, false)
			if err != nil {
				return err
			}
			return errors.Join(d.check(c.Context(), e), d.Close())
		},
	}
	dataFlag(c, &dir)
	return c
}

func (d *data) check(ctx context.Context, e env) error {
	wrong := 0
	say := func(text string, args ...any) {
		wrong++
		fmt.Fprintf(e.out, text+"\n", args...)
	}
	swept, err := d.media.Sweep(ctx, e.now().Add(-leftoverAge))
	if err != nil {
		return err
	}
	packs, err := d.sweepPacks(e.now().Add(-leftoverAge))
	if err != nil {
		return err
	}
	swept += packs
	if swept > 0 {
		fmt.Fprintf(e.out, "Cleared away %d half-written files.\n", swept)
	}
	scratch, err := os.MkdirTemp("", "newelbook-check-")
	if err != nil {
		return fmt.Errorf("make a place to rebuild the tables: %w", err)
	}
	findings, err := d.store.CheckChains(ctx, filepath.Join(scratch, databaseFile))
	if err := errors.Join(err, os.RemoveAll(scratch)); err != nil {
		return err
	}
	for _, f := range findings {
		say("%s", describe(f))
	}
	held := map[media.ID]bool{} // true where a record refers to it
	err = d.media.Originals().Walk(ctx, func(id media.ID, _ int64) error {
		held[id] = false
		if err := d.media.Originals().Verify(ctx, id); errors.Is(err, media.ErrCorrupt) {
			say("Original %s: its bytes are no longer those that were received.", id)
		} else if err != nil {
			return err
		}
		return nil
	})
	if err != nil {
		return err
	}
	all, err := d.service.Jobs(ctx)
	if err != nil {
		return err
	}
	packs = 0
	for _, j := range all {
		rec, err := d.service.Record(ctx, j.ID)
		if err != nil {
			say("Job %s: its record could not be read: %v.", j.Ref, err)
			continue
		}
		for _, p := range rec.Photos {
			need := []media.ID{p.Media}
			if p.Supplied != nil {
				need = append(need, p.Supplied.Media)
			}
			for i, id := range need {
				if there, err := d.refers(ctx, held, id); err != nil {
					return err
				} else if !there {
					say("Job %s, photograph %d: its %s %s is missing.", j.Ref, p.Number, []string{"original", "supplied view"}[i], id)
				}
			}
		}
		for _, p := range rec.Papers {
			if there, err := d.refers(ctx, held, p.Media); err != nil {
				return err
			} else if !there {
				say("Job %s, paper %d: its file %s is missing.", j.Ref, p.Number, p.Media)
			}
		}
		for _, p := range rec.Packs {
			packs++
			for _, text := range d.checkPack(ctx, rec, p) {
				say("Job %s, pack %d: %s", j.Ref, p.Number, text)
			}
		}
	}
	if wrong > 0 {
		return &foundError{text: fmt.Sprintf("%d faults in %s", wrong, d.dir)}
	}
	fmt.Fprintf(e.out, "Sound: %d jobs, %d originals, %d packs.\n", len(all), len(held), packs)
	if n := inNoRecord(held); n > 0 {
		fmt.Fprintf(e.out, "Held and in no record: %d originals. They do no harm: sent again, or taken in again, they come into the record.\n", n)
	}
	return nil
}

// refers notes that a record refers to an original, and says whether that is held.
func (d *data) refers(ctx context.Context, held map[media.ID]bool, id media.ID) (bool, error) {
	if _, there := held[id]; there {
		held[id] = true
		return true, nil
	}
	return d.media.Originals().Has(ctx, id) // taken in while this check ran
}

// inNoRecord counts the originals that no record refers to.
func inNoRecord(held map[media.ID]bool) int {
	n := 0
	for _, referred := range held {
		if !referred {
			n++
		}
	}
	return n
}

func describe(f store.Finding) string {
	if f.Job == "" {
		return f.Sentence
	}
	return fmt.Sprintf("Job %s: %s", f.Job, f.Sentence)
}

// sweepPacks clears away the folders of packs that a crash left half made, where they were last touched before an instant.
func (d *data) sweepPacks(before time.Time) (int, error) {
	left, err := filepath.Glob(filepath.Join(d.packs.Dir, "*", ".*"))
	if err != nil {
		return 0, fmt.Errorf("look for half-made packs: %w", err)
	}
	swept := 0
	for _, name := range left {
		info, err := os.Lstat(name)
		if errors.Is(err, fs.ErrNotExist) || err == nil && !info.ModTime().Before(before) {
			continue
		} else if err != nil {
			return swept, fmt.Errorf("look at a half-made pack: %w", err)
		}
		if err := os.RemoveAll(name); err != nil {
			return swept, fmt.Errorf("clear away a half-made pack: %w", err)
		}
		swept++
	}
	return swept, nil
}

// checkPack reads every file of a frozen pack again.
func (d *data) checkPack(ctx context.Context, rec *jobs.Record, p jobs.IssuedPack) []string {
	bag, err := d.packs.Open(rec.Job.ID, p)
	if err != nil {
		return []string{plain(err) + "."}
	}
	var out []string
	if got := bag.Hash().String(); got != p.Hash {
		out = append(out, "its hash is no longer the one that was recorded.")
	}
	if s := bag.Signed(); s.State == pack.WrongSigned || s.State == pack.Signed && s.Key.String() != p.SignedBy || s.State == pack.Unsigned && p.SignedBy != "" {
		out = append(out, "its signature is not the one that was made when it was issued.")
	}
	for _, f := range bag.Files {
		if err := f.Verify(ctx); errors.Is(err, pack.ErrChanged) {
			out = append(out, f.Path+" was changed.")
		} else if err != nil {
			out = append(out, fmt.Sprintf("%s could not be read: %v.", f.Path, err))
		}
	}
	return out
}
