package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"newelbook/jobs"
	"newelbook/views/pack"
)

func packCommand(e env) *cobra.Command {
	var dir, as, out, purpose string
	var number int
	var without, unplaced bool
	var papers []string
	c := &cobra.Command{
		Use:   "pack JOB",
		Short: "Issue a job's pack, or write an issued one to a file",
		Long: `Issue the next pack of a job, named by its reference: freeze the record as it stands, number it, and write the archive.
With --number an issued pack is written again, byte for byte as before, and nothing is issued. What is missing or open
does not stop an issue; it is printed in the pack.`,
		Example: `  newelbook pack H-114 --as maren
  newelbook pack H-114 --as maren --purpose "framing inspection" --out framing.zip
  newelbook pack H-114 --as maren --without-papers 2,5
  newelbook pack H-114 --number 1`,
		Args: one("one job by its reference"),
		RunE: func(c *cobra.Command, args []string) error {
			ctx := c.Context()
			d, err := openData(ctx, e, dir, false)
			if err != nil {
				return err
			}
			order := pack.Order{Purpose: purpose, Originals: !without && !unplaced, NoPositions: unplaced}
			return errors.Join(d.pack(ctx, e, args[0], as, number, order, papers, out), d.Close())
		},
	}
	dataFlag(c, &dir)
	c.Flags().StringVar(&as, "as", "", "sign-in `name` of the builder who issues it")
	c.Flags().IntVar(&number, "number", 0, "write this issued pack again instead of issuing one")
	c.Flags().StringVar(&out, "out", "", "`file` to write the archive to; by default named after job and number")
	c.Flags().StringVar(&purpose, "purpose", "", "what it is issued for; by default handover")
	c.Flags().BoolVar(&without, "without-originals", false, "leave the original photographs out of the archive")
	c.Flags().BoolVar(&unplaced, "without-positions", false, "leave out where the photographs claim to have been taken, and the originals, which carry it")
	c.Flags().StringSliceVar(&papers, "without-papers", nil, "leave out the files of these attached papers, by their `numbers`, or of all; the pack still lists them")
	return c
}

func (d *data) pack(ctx context.Context, e env, name, as string, number int, order pack.Order, papers []string, out string) error {
	job, err := d.job(ctx, name)
	if err != nil {
		return err
	}
	var issued jobs.IssuedPack
	if number == 0 {
		if as == "" {
			return errors.New("name the builder who issues the pack with --as, or an issued pack with --number")
		}
		who, err := d.actor(ctx, as)
		if err != nil {
			return err
		}
		if order.LeftOut, err = d.leftOut(ctx, job, papers); err != nil {
			return err
		}
		issuer := *d.packs
		if f, ok := e.err.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
			issuer.Told = progressOn(f)
		}
		if issued, err = issuer.Issue(ctx, jobs.By{Actor: who}, job.ID, order); err != nil {
			return err
		}
	} else {
		rec, err := d.service.Record(ctx, job.ID)
		if err != nil {
			return err
		}
		var ok bool
		if issued, ok = rec.Pack(number); !ok {
			return fmt.Errorf("%s has no pack %d: %d issued so far", job.Ref, number, len(rec.Packs))
		}
	}
	bag, err := d.packs.Open(job.ID, issued)
	if err != nil {
		return err
	}
	if out == "" {
		out = fileName(job.Ref) + "-pack-" + fmt.Sprint(issued.Number) + ".zip"
	}
	if err := writeNew(out, "--out", func(w io.Writer) error { return bag.WriteZIP(ctx, w) }); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Pack %d of %s is in %s\nIts hash is %s\n", issued.Number, job.Ref, out, issued.Hash)
	for _, line := range issued.Open {
		fmt.Fprintln(e.out, "It prints as missing or open: "+line)
	}
	return nil
}

// leftOut are the ids of the papers that stay behind, named by their numbers or as all of them.
func (d *data) leftOut(ctx context.Context, job jobs.Summary, named []string) ([]string, error) {
	if len(named) == 0 {
		return nil, nil
	}
	rec, err := d.service.Record(ctx, job.ID)
	if err != nil {
		return nil, err
	}
	var ids, numbers []string
	left := map[string]bool{}
	for _, p := range rec.PapersInForce() {
		number := fmt.Sprint(p.Number)
		numbers = append(numbers, number)
		if slices.Contains(named, number) || slices.Contains(named, "all") {
			ids, left[number] = append(ids, p.ID), true
		}
	}
	for _, n := range named {
		switch {
		case n == "all" || left[n]:
		case len(numbers) == 0:
			return nil, fmt.Errorf("%s has no paper to leave out", job.Ref)
		default:
			return nil, fmt.Errorf("%s has no paper %s to leave out: name %s with --without-papers, or all", job.Ref, n, strings.Join(numbers, ", "))
		}
	}
	return ids, nil
}

// progressOn writes how far an issue is on one line of a terminal, over what stood there, and clears the line at its end.
func progressOn(w io.Writer) func(pack.Progress) {
	says := map[pack.Step]string{
		pack.StepPictures: "pictures made and read", pack.StepEditions: "editions written", pack.StepFiles: "files enclosed as received, read", pack.StepFreeze: "files put into the pack",
	}
	const clear = "\r\x1b[K"
	return func(p pack.Progress) {
		line := fmt.Sprintf("%s%d of %d %s", clear, p.Done, p.Of, says[p.Step])
		if p.Step == pack.StepFreeze && p.Done == p.Of {
			line = clear
		}
		io.WriteString(w, line)
	}
}

// writeNew writes a file beside its place and moves it there when it is whole. What is there already is kept: the error says to name
// another file with the flag.
func writeNew(name, flag string, write func(io.Writer) error) error {
	if _, err := os.Lstat(name); err == nil {
		return fmt.Errorf("%s exists already: name another file with %s", name, flag)
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".new-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	err = errors.Join(write(f), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("write %s: %w", name, err), os.Remove(f.Name()))
	}
	return nil
}

// fileName makes a reference fit for a file's name.
func fileName(ref string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.', r == '_':
			return r
		}
		return '-'
	}, ref)
}
