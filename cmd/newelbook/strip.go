package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/pack"
)

func stripCommand(e env) *cobra.Command {
	var dir, job, paper, out string
	c := &cobra.Command{
		Use:   "strip JOB RAIL",
		Short: "Write the marks of one rail at full size, to print",
		Long: `Write the marks of one rail at full size as a PDF, spread over as many sheets of paper as they take, to be joined and laid on
the rail. JOB is a job's reference in the data folder; with --job FILE it is left out, and a job description is laid out instead
(see newelbook layout). RAIL is the rail's label, such as R1-B2 bottom; R1-B2 alone is its bottom rail.

Print it at 100 %, never "fit to page", and measure the proof bar on every sheet before it is used. The paper goes with the job's
units, Letter for inches and A4 for millimetres, unless --paper names the other.

Exit code: 0 written; 1 there is no such rail, its marks are not laid out, or the description is at fault; 2 it could not be
read or written.`,
		Example: `  newelbook strip H-114 R1-B2 bottom
  newelbook strip H-114 R1-B2 top --paper a4 -o top.pdf
  newelbook strip --job job.json R1-B2`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) < 1 || job == "" && len(args) < 2 {
				return fmt.Errorf("name one job by its reference, and one rail by its label: %s --help shows how", c.CommandPath())
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			var s pack.StripFile
			var ref string
			var err error
			if job != "" {
				ref = strings.TrimSuffix(filepath.Base(job), filepath.Ext(job))
				s, err = stripDescribed(e, job, strings.Join(args, " "), paper)
			} else {
				s, ref, err = stripRecorded(c.Context(), e, dir, args[0], strings.Join(args[1:], " "), paper)
			}
			var refused *pack.StripError
			if errors.As(err, &refused) {
				return &foundError{text: refused.Sentence()}
			}
			if err != nil {
				return err
			}
			if out == "" {
				out = fileName(ref + "-" + s.Strip.Rail.Label + ".pdf")
			}
			if err := writeNew(out, "-o", func(w io.Writer) error { return pack.WriteStrip(w, s, pack.Fonts()) }); err != nil {
				return err
			}
			fmt.Fprintf(e.out, "The marks of %s are in %s; sheets of paper: %d. Print at 100 %%, and measure the proof bar on every sheet before use.\n", s.Strip.Rail.Label, out, len(s.Sheets()))
			return nil
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&job, "job", "", "lay out this job description instead, - for standard input")
	c.Flags().StringVar(&paper, "paper", "", "a4 or letter")
	c.Flags().StringVarP(&out, "output", "o", "", "`file` to write; by default named after job and rail")
	return c
}

// stripRecorded is the strip of a rail of a job in a data folder, with the job's reference.
func stripRecorded(ctx context.Context, e env, dir, name, rail, paper string) (s pack.StripFile, ref string, err error) {
	err = printing(ctx, e, dir, name, paper, func(rec *jobs.Record, sheet pack.Paper) error {
		ref = rec.Job.Ref
		runs := rec.Live()
		labels := make([]string, len(runs))
		for i, run := range runs {
			labels[i] = run.Label
		}
		at, err := runOf(rail, labels)
		if err != nil {
			return err
		}
		s, err = pack.StripOf(rec, runs[at], rail, sheet)
		return err
	})
	return s, ref, err
}

// printing opens a data folder to print something of one of its jobs: do gets the job's record and the paper, by its name or the usual
// one for the job's units.
func printing(ctx context.Context, e env, dir, name, paper string, do func(rec *jobs.Record, sheet pack.Paper) error) (err error) {
	d, err := openData(ctx, e, dir, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, d.Close()) }()
	job, err := d.job(ctx, name)
	if err != nil {
		return err
	}
	rec, err := d.service.Record(ctx, job.ID)
	if err != nil {
		return err
	}
	sheet, err := pack.ParsePaper(paper, rec.Job.Units)
	if err != nil {
		return err
	}
	return do(rec, sheet)
}

// stripDescribed is the strip of a rail of a job description.
func stripDescribed(e env, name, rail, paper string) (pack.StripFile, error) {
	job, err := readDescription(e, name)
	if err != nil {
		return pack.StripFile{}, err
	}
	sheet, err := pack.ParsePaper(paper, job.Units)
	if err != nil {
		return pack.StripFile{}, err
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		return pack.StripFile{}, &foundError{text: plain(err)}
	}
	labels := make([]string, len(layouts))
	for i, l := range layouts {
		labels[i] = l.Label
	}
	at, err := runOf(rail, labels)
	if err != nil {
		return pack.StripFile{}, err
	}
	run := job.Runs[at]
	spec, _ := job.Spec.With(run.Overrides, job.Units) // faults were refused when the description was read
	s, err := layout.FindStrip(layouts[at], run, spec, rail)
	if err != nil {
		return pack.StripFile{}, err
	}
	from := name
	if name == "-" {
		from = "standard input"
	}
	return pack.StripFile{Strip: s, Units: job.Units, Paper: sheet, Job: "Job description " + filepath.Base(from), Layout: fmt.Sprintf("%s, %s, in no record and without a version", run.Label, s.Version)}, nil
}

// runOf is the place of the run that a rail belongs to, by the beginning of its label.
func runOf(rail string, labels []string) (int, error) {
	for i, label := range labels {
		if n := len(label); len(rail) > n && strings.EqualFold(rail[:n], label) && rail[n] == '-' {
			return i, nil
		}
	}
	return 0, &pack.StripError{Reason: fmt.Sprintf("No run has a rail %q: a rail is named as %s-B1 bottom is, and the runs are %s.", rail, firstOr(labels, "R1"), strings.Join(labels, ", "))}
}

// firstOr is the first of names, or another where there is none.
func firstOr(names []string, other string) string {
	if len(names) == 0 {
		return other
	}
	return names[0]
}
