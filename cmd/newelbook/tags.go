package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"newelbook/jobs"
	"newelbook/views/pack"
)

func tagsCommand(e env) *cobra.Command {
	var dir, size, paper, out string
	c := &cobra.Command{
		Use:   "tags JOB [RUN...]",
		Short: "Write the place tags of a job, to print",
		Long: `Write a place tag for every post and bay of a job as a PDF, to be cut out and stapled up; of the runs that are named by their
labels, or of all. Small ones stand six to a sheet, large ones fill one and are read from across the deck. A photograph that shows one tag is filed at its place by itself: sent "by its tag" in the pages, or
taken in by newelbook photos without a place. The code holds ids and a check, no name and no address.

The paper goes with the job's units, Letter for inches and A4 for millimetres, unless --paper names the other.

Exit code: 0 written; 1 there is nothing to make a tag of; 2 it could not be read or written.`,
		Example: `  newelbook tags H-114
  newelbook tags H-114 R1 R2 --size large --paper a4 -o tags.pdf`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			f, ref, err := tagsRecorded(c.Context(), e, dir, args[0], args[1:], size, paper)
			var refused *pack.StripError
			if errors.As(err, &refused) {
				return &foundError{text: refused.Sentence()}
			}
			if err != nil {
				return err
			}
			if out == "" {
				out = fileName(ref + "-tags.pdf")
			}
			if err := writeNew(out, "-o", func(w io.Writer) error { return pack.WriteTags(w, f, pack.Fonts()) }); err != nil {
				return err
			}
			fmt.Fprintf(e.out, "%d place tags are in %s; sheets of paper: %d. Print at 100 %%, in black on white.\n", len(f.Tags), out, len(f.Sheets()))
			return nil
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&size, "size", "", "small or large; small by default")
	c.Flags().StringVar(&paper, "paper", "", "a4 or letter")
	c.Flags().StringVarP(&out, "output", "o", "", "`file` to write; by default named after the job")
	return c
}

// tagsRecorded is the tags of runs, named by their labels, of a job in a data folder, with the job's reference.
func tagsRecorded(ctx context.Context, e env, dir, name string, labels []string, size, paper string) (f pack.TagFile, ref string, err error) {
	drawn, err := pack.ParseTagSize(size)
	if err != nil {
		return f, "", err
	}
	err = printing(ctx, e, dir, name, paper, func(rec *jobs.Record, sheet pack.Paper) error {
		ref = rec.Job.Ref
		runs, err := runsNamed(rec, labels)
		if err != nil {
			return err
		}
		f, err = pack.TagsOf(rec, runs, drawn, sheet)
		return err
	})
	return f, ref, err
}

// runsNamed are the ids of the live runs with these labels, letters large or small.
func runsNamed(rec *jobs.Record, labels []string) (ids []string, err error) {
	var known []string
	for _, run := range rec.Live() {
		known = append(known, run.Label)
	}
labels:
	for _, label := range labels {
		for _, run := range rec.Live() {
			if strings.EqualFold(run.Label, label) {
				ids = append(ids, run.ID)
				continue labels
			}
		}
		return nil, &pack.StripError{Reason: fmt.Sprintf("There is no run %q: the job has %s.", label, strings.Join(known, ", "))}
	}
	return ids, nil
}
