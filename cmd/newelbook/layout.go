package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"newelbook/checklist/layout"
	"newelbook/checklist/materials"
)

func layoutCommand(e env) *cobra.Command {
	var as listing
	var schema, outputSchema bool
	c := &cobra.Command{
		Use:   "layout FILE",
		Short: "Compute the layout of a job description",
		Long: `Read a job description in JSON and print where posts, rails, balusters and marks go. FILE may be - for standard input.
Lengths are written as people write them ("6' 4 1/2\"", "76 1/2", "1940 mm"); bare ones take the job's units. The
form of the description is published as a JSON Schema (--schema), and so is that of --json (--output-schema). With
--materials the list of what to order and how to cut it follows, with the spares that the description asks for; with --csv
the order alone is printed, as a table for a spreadsheet.

Exit code: 0 laid out; 1 the description is at fault, or a bay could not be laid out; 2 the file could not be read.`,
		Example: `  newelbook layout job.json
  newelbook layout --json job.json
  newelbook layout --materials job.json
  newelbook layout --materials --csv job.json > order.csv
  newelbook layout --schema`,
		Args: func(c *cobra.Command, args []string) error {
			if schema || outputSchema {
				return cobra.NoArgs(c, args)
			}
			if len(args) != 1 {
				return errors.New("name the file that holds the job description, or - for standard input; newelbook layout --schema prints its form")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case schema:
				_, err := e.out.Write(layout.Schema())
				return err
			case outputSchema:
				_, err := e.out.Write(layout.OutputSchema())
				return err
			}
			if as.csv && (as.json || !as.materials) {
				return errors.New("--csv prints the order of materials: give it with --materials and without --json")
			}
			return layOut(e, args[0], as)
		},
	}
	c.Flags().BoolVar(&as.json, "json", false, "print the layout as JSON")
	c.Flags().BoolVar(&as.materials, "materials", false, "print also what to order and how to cut it")
	c.Flags().BoolVar(&as.csv, "csv", false, "with --materials: print the order alone, as CSV")
	c.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of a job description")
	c.Flags().BoolVar(&outputSchema, "output-schema", false, "print the JSON Schema of what --json prints")
	return c
}

// listing is what is printed of a layout, and how.
type listing struct{ json, materials, csv bool }

func layOut(e env, name string, as listing) error {
	job, err := readDescription(e, name)
	if err != nil {
		return err
	}
	return writeLayout(e.out, job, as)
}

// readDescription reads a job description, - for standard input, and prints what is at fault.
func readDescription(e env, name string) (layout.Job, error) {
	in := e.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return layout.Job{}, fmt.Errorf("read the job description: %w", err)
		}
		defer f.Close()
		in = f
	}
	return described(e.err, in, name)
}

// watched remembers why its reader could not be read on.
type watched struct {
	io.Reader
	err error
}

func (w *watched) Read(p []byte) (int, error) {
	n, err := w.Reader.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		w.err = err
	}
	return n, err
}

// described reads a job description and prints what is at fault.
func described(faults io.Writer, in io.Reader, name string) (layout.Job, error) {
	source := &watched{Reader: in}
	job, wrong := layout.ReadJob(source)
	if source.err != nil {
		return layout.Job{}, fmt.Errorf("read the job description: %w", source.err)
	}
	if len(wrong) > 0 {
		for _, f := range wrong {
			if f.Field == "" {
				fmt.Fprintf(faults, "%s: %s\n", name, f.Message)
			} else {
				fmt.Fprintf(faults, "%s: %s: %s\n", name, f.Field, f.Message)
			}
		}
		return layout.Job{}, &foundError{text: fmt.Sprintf("%s: nothing was laid out; put the above right and try again", name)}
	}
	return job, nil
}

func writeLayout(out io.Writer, job layout.Job, as listing) error {
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		return &foundError{text: plain(err)}
	}
	if err := printLayout(out, job, layouts, as); err != nil {
		return fmt.Errorf("write the layout: %w", err)
	}
	for _, l := range layouts {
		for _, p := range l.Problems {
			if p.Fatal {
				return &foundError{text: fmt.Sprintf("%s could not be laid out; the rest is above", p.Place)}
			}
		}
	}
	return nil
}

// printLayout prints the layouts, and the materials where they are asked for.
func printLayout(out io.Writer, job layout.Job, layouts []layout.Layout, as listing) error {
	if !as.materials {
		if as.json {
			return layout.WriteJSON(out, job, layouts)
		}
		return layout.WriteText(out, job, layouts)
	}
	style := job.Units.Style()
	list := materials.Make(materials.Runs(job, layouts), materials.Site{Spares: materials.SparesOf(job.Spec)}, style)
	if as.csv {
		return materials.WriteCSV(out, list, style)
	}
	if as.json {
		return layout.WriteJSONWith(out, job, layouts, list)
	}
	if err := layout.WriteText(out, job, layouts); err != nil {
		return err
	}
	return materials.WriteText(out, list, style)
}
