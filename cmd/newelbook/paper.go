package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"newelbook/jobs"
)

// paperOrder is one paper to attach, as the flags say.
type paperOrder struct{ kind, title, issuer, date, about, as string }

func paperCommand(e env) *cobra.Command {
	var dir string
	var o paperOrder
	c := &cobra.Command{
		Use:   "paper JOB FILE",
		Short: "Attach a paper to a job: a drawing, a letter, a test report, a label",
		Long: `Attach a paper to a job's record: a PDF, or a picture of it as JPEG, PNG or WebP. The file is copied as it is, never
changed, and enclosed with every pack unless it is left out. It may run while the server is serving. The pages withdraw it
again, with a reason.

Exit code: 0 attached; 1 the file is not taken, or something that is said of it is at fault; 2 it could not be done.`,
		Example: `  newelbook paper H-114 A-3.pdf --kind "approved drawing" --title "Guard, sheet A-3" --issuer "Building office" --date 2026-04-28
  newelbook paper H-114 label.jpg --kind "product label or instructions" --title "Rail connector" --issuer "Its maker" --about R1`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("name one job by its reference, and one file: %s --help shows how", c.CommandPath())
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			d, err := openData(c.Context(), e, dir, false)
			if err != nil {
				return err
			}
			return errors.Join(d.paper(c.Context(), e, args[0], args[1], o), d.Close())
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&o.kind, "kind", "", "what it `is`: "+kindNames())
	c.Flags().StringVar(&o.title, "title", "", "`title` as it stands on the paper")
	c.Flags().StringVar(&o.issuer, "issuer", "", "`who` issued it")
	c.Flags().StringVar(&o.date, "date", "", "`date` on it as 2026-05-04, where it bears one")
	c.Flags().StringVar(&o.about, "about", "job", "`label` of the run, post or bay that it is about, such as R1-P3, or job for the whole job")
	c.Flags().StringVar(&o.as, "as", "", "sign-in `name` of who attaches it; by default the record says: command line")
	return c
}

func kindNames() string {
	var names []string
	for _, k := range jobs.PaperKinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

// paper attaches a file. What is said of it is looked at before the file is.
func (d *data) paper(ctx context.Context, e env, name, file string, o paperOrder) error {
	job, err := d.job(ctx, name)
	if err != nil {
		return err
	}
	who, err := d.actor(ctx, o.as)
	if err != nil {
		return err
	}
	rec, err := d.service.Record(ctx, job.ID)
	if err != nil {
		return err
	}
	in := jobs.PaperInput{Name: filepath.Base(file), Kind: strings.ToLower(o.kind), Title: o.title, Issuer: o.issuer, On: o.date}
	if in.PlaceID, err = placeID(rec, o.about); err != nil {
		return err
	}
	if err := rec.CheckPaper(in, rec.Job.Day(d.service.Now())); err != nil {
		return atFault(err)
	}
	f, err := os.Open(file)
	if err != nil {
		return fmt.Errorf("open the paper: %w", err)
	}
	in.Facts, err = d.media.IntakePaper(ctx, f)
	if err := errors.Join(err, f.Close()); err != nil {
		return atFault(err)
	}
	id, err := d.service.AddPaper(ctx, jobs.By{Actor: who}, job.ID, in)
	if err != nil {
		return atFault(err)
	}
	if rec, err = d.service.Record(ctx, job.ID); err != nil {
		return err
	}
	p, _ := rec.Paper(id)
	fmt.Fprintf(e.out, "%s of %s: %s, %s.\nSHA-256 %s\n", p.Label(), job.Ref, p.Title, p.Kind, p.Media)
	return nil
}

// atFault is an error that the person at the terminal can put right, in finished sentences; any other stays as it is.
func atFault(err error) error {
	var invalid *jobs.InvalidError
	if errors.As(err, &invalid) {
		var says []string
		for _, f := range invalid.Fields {
			says = append(says, f.Message)
			if f.Field == "kind" {
				says = append(says, "With --kind, one of: "+kindNames()+".")
			}
		}
		return &foundError{text: strings.Join(says, " ")}
	}
	var sentence interface{ Sentence() string }
	if errors.As(err, &sentence) {
		return &foundError{text: sentence.Sentence()}
	}
	return err
}
