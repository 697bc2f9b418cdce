package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"newelbook/jobs"
)

func photosCommand(e env) *cobra.Command {
	var dir string
	var in intake
	c := &cobra.Command{
		Use:   "photos JOB FOLDER",
		Short: "Take in the photographs of a folder or card",
		Long: `Take every photograph of a folder or a camera's card, and of the folders in it, into a job's record. The originals are
copied as they are and never changed; the folder is only read. Files and folders whose names begin with a point are
passed over. Photographs come in unfiled, to be filed in the pages; one that shows a place tag (see newelbook tags) is filed
there; --place and --stage file them all at once.

It may be stopped at any time, also by a power cut, and run again: an original that the job has already, known by the
SHA-256 of its bytes and not by its name, is not taken twice. It may run while the server is serving.

A line is written for each file on the error stream as soon as its original is safe on disk, and the list of what was taken, what was there
already and what was refused at the end on standard output.

Exit code: 0 every file is in the record; 1 some were refused or can't be shown, each named with the reason; 2 it could
not be done, or was stopped before the end.`,
		Example: `  newelbook photos H-114 /media/card/DCIM
  newelbook photos H-114 pictures --place R1-P3 --stage framing --as maren
  newelbook photos H-114 pictures --dry-run`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("name one job by its reference, and one folder: %s --help shows how", c.CommandPath())
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if (in.place == "") != (in.stage == "") {
				return errors.New("name both --place and --stage, or neither: photographs then come in unfiled")
			}
			d, err := openData(c.Context(), e, dir, false)
			if err != nil {
				return err
			}
			in.data, in.e, in.folder = d, e, args[1]
			return errors.Join(in.run(c.Context(), args[0]), d.Close())
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&in.as, "as", "", "sign-in `name` of who takes them in; by default the record says: command line")
	c.Flags().StringVar(&in.place, "place", "", "`label` of the run, post or bay that they all show, such as R1-P3, or job for the whole job")
	c.Flags().StringVar(&in.stage, "stage", "", "`stage` that they all belong to, such as framing")
	c.Flags().BoolVar(&in.dry, "dry-run", false, "say what would be taken, and take nothing")
	return c
}

// intake is one run of the command.
type intake struct {
	*data
	e                        env
	folder, as, place, stage string
	dry                      bool

	job jobs.Summary
	who jobs.Actor
	at  string // id of the place
}

func (in *intake) run(ctx context.Context, name string) error {
	var err error
	if in.job, err = in.data.job(ctx, name); err != nil {
		return err
	}
	if err := in.prepare(ctx); err != nil {
		return err
	}
	if info, err := os.Stat(in.folder); err != nil {
		return fmt.Errorf("look into the folder: %w", err)
	} else if !info.IsDir() {
		return fmt.Errorf("%s is not a folder: name the folder that the photographs are in", in.folder)
	}
	files := picturesIn(in.folder)
	if len(files) == 0 {
		return fmt.Errorf("there is no file in %s", in.folder)
	}
	tally, stopped := in.takeAll(ctx, files)
	tally.write(in.e.out, in.dry)
	switch {
	case errors.Is(stopped, context.Canceled):
		return fmt.Errorf("stopped with %d of %d files to go: run it again, and it goes on from there", len(files)-tally.done(), len(files))
	case stopped != nil && tally.done() == len(files):
		return fmt.Errorf("every original is safe, but not all pictures for the pages could be made; they are made when a page asks for them: %w", stopped)
	case stopped != nil:
		return fmt.Errorf("stopped with %d of %d files to go: %w", len(files)-tally.done(), len(files), stopped)
	case len(tally.refused) > 0:
		return &foundError{text: fmt.Sprintf("%d of %d files were not taken in", len(tally.refused), len(files))}
	case len(tally.unshown) > 0:
		return &foundError{text: fmt.Sprintf("%d photographs were taken in and can't be shown", len(tally.unshown))}
	}
	return nil
}

// prepare looks up who takes photographs in and where they are filed, before any file is read.
func (in *intake) prepare(ctx context.Context) error {
	var err error
	if in.who, err = in.actor(ctx, in.as); err != nil || in.place == "" {
		return err
	}
	rec, err := in.service.Record(ctx, in.job.ID)
	if err != nil {
		return err
	}
	if in.at, err = placeID(rec, in.place); err != nil {
		return err
	}
	in.stage = strings.ToLower(in.stage)
	var invalid *jobs.InvalidError
	if err := rec.Filing(in.at, in.stage, ""); errors.As(err, &invalid) {
		return fmt.Errorf("there is no stage %q: name one of %s", in.stage, stageNames())
	} else if err != nil {
		return err
	}
	return nil
}

// actor is who signs in under a name; without one the record says: command line.
func (d *data) actor(ctx context.Context, as string) (jobs.Actor, error) {
	if as == "" {
		return jobs.Actor{ID: "command line", Name: "command line", Role: jobs.RoleBuilder}, nil
	}
	account, err := d.service.AccountByLogin(ctx, as)
	if errors.Is(err, jobs.ErrNotFound) {
		return jobs.Actor{}, fmt.Errorf("nobody signs in as %q here: newelbook account list shows who does", as)
	}
	return account.Actor(), err
}

// placeID is the id of the place of a label, or an error that lists the labels that there are.
func placeID(rec *jobs.Record, label string) (string, error) {
	var labels []string
	for _, p := range rec.Places() {
		if p.ID == label || strings.EqualFold(p.Label, label) {
			return p.ID, nil
		}
		labels = append(labels, p.Label)
	}
	return "", fmt.Errorf("%s has no place %q: it has %s", rec.Job.Ref, label, strings.Join(labels, ", "))
}
