package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// whatIf is said wherever two rule sets are set side by side on a job.
const whatIf = "What would change if it stood under B. This is a what-if: the rules that the authority adopted govern, and nothing is judged again."

func rulesCommand(e env) *cobra.Command {
	var asJSON bool
	var against, job string
	c := &cobra.Command{
		Use:   "rules [SET]",
		Short: "Print a rule set, or two side by side",
		Long: `Print the figures of a rule set: value, strict or inclusive, clause, edition, how the figure was seen (official text,
secondary text, memory) and what it applies to. Without SET, list the rule sets there are.

With --against, print where another rule set differs; with --job also what would come out otherwise on a job. FILE is a job
description (see newelbook layout), which is laid out under both, or the record.json of a pack, whose readings are held to
the other limits as well. The authority's own figures are laid over the job's own rule set alone. That is a what-if: it
judges nothing.

Exit code: 0 printed; 1 there is no such rule set, or the description is at fault; 2 the file could not be read.`,
		Example: `  newelbook rules
  newelbook rules irc-2021
  newelbook rules irc-2021 --against nbc-2020
  newelbook rules irc-2021 --against wisconsin-sps-325 --job job.json
  newelbook rules irc-2021 --json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0 && (against != "" || job != ""):
				return &foundError{text: "name the rule set that the other one is set against: newelbook rules SET --against OTHER"}
			case job != "" && against == "":
				return &foundError{text: "name the other rule set too: newelbook rules SET --against OTHER --job FILE"}
			case len(args) == 0:
				return listRules(e.out, asJSON)
			case against == "":
				return printRules(e.out, args[0], asJSON)
			}
			return compareRules(e, args[0], against, job, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&against, "against", "", "another rule set, to print where it differs")
	c.Flags().StringVar(&job, "job", "", "a job description, or the record.json of a pack, to look at under both; - for standard input")
	return c
}

// ruleSet is the rule set of that id, without amendments.
func ruleSet(id string) (codes.Applied, error) {
	set, err := codes.Get(id)
	if err != nil {
		return codes.Applied{}, &foundError{text: plain(err)}
	}
	return codes.Apply(set, nil)
}

// listed is a rule set as one line of the list.
type listed struct {
	ID      string                 `json:"id"`
	Name    string                 `json:"name"`
	Place   string                 `json:"place"`
	Edition string                 `json:"edition"`
	Figures int                    `json:"figures"`
	Seen    map[codes.Standing]int `json:"seen"` // how many figures were seen how
}

func listRules(out io.Writer, asJSON bool) error {
	var all []listed
	for _, set := range codes.All() {
		l := listed{ID: set.ID, Name: set.Name, Place: set.Place, Edition: set.Edition, Figures: len(set.Figures), Seen: map[codes.Standing]int{}}
		for _, f := range set.Figures {
			l.Seen[f.Standing]++
		}
		all = append(all, l)
	}
	if asJSON {
		return writeIndented(out, all)
	}
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "SET\tNAME\tPLACE\tEDITION\tFIGURES\tOFFICIAL\tSECONDARY\tMEMORY")
	for _, l := range all {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%d\t%d\t%d\t%d\n", l.ID, l.Name, l.Place, l.Edition, l.Figures, l.Seen[codes.OfficialText], l.Seen[codes.SecondaryText], l.Seen[codes.Memory])
	}
	return t.Flush()
}

func printRules(out io.Writer, id string, asJSON bool) error {
	rules, err := ruleSet(id)
	if err != nil {
		return err
	}
	if asJSON {
		return rules.WriteJSON(out)
	}
	return rules.WriteText(out)
}

// comparison is two rule sets side by side, as JSON.
type comparison struct {
	WhatIf   string          `json:"what_if,omitempty"`
	A        string          `json:"a"`
	B        string          `json:"b"`
	Figures  []codes.Pair    `json:"figures"`
	Job      []layout.Change `json:"job,omitempty"`
	Readings []otherWord     `json:"readings,omitempty"`
	Compared int             `json:"compared,omitempty"` // readings that were held to the other rule set
}

// otherWord is a reading that would come to another word.
type otherWord struct {
	Place string            `json:"place"`
	Check string            `json:"check"`
	Was   checklist.Verdict `json:"was"`
	Would checklist.Verdict `json:"would"`
	Why   string            `json:"why"`
}

func compareRules(e env, a, b, file string, asJSON bool) error {
	x, err := ruleSet(a)
	if err != nil {
		return err
	}
	y, err := ruleSet(b)
	if err != nil {
		return err
	}
	c := comparison{A: a, B: b}
	if file != "" {
		c.WhatIf = whatIf
		if x, y, err = c.onJob(e, file); err != nil {
			return err
		}
	}
	c.Figures = codes.Pairs(x, y)
	if asJSON {
		return writeIndented(e.out, c)
	}
	if err := codes.WritePairs(e.out, x, y); err != nil || file == "" {
		return err
	}
	return c.writeJob(e.out, file)
}

// onJob looks at the job in the file under both rule sets, and returns them as they stand for it.
func (c *comparison) onJob(e env, file string) (x, y codes.Applied, err error) {
	in := e.in
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return x, y, fmt.Errorf("read the job: %w", err)
		}
		defer f.Close()
		in = f
	}
	text, err := io.ReadAll(in)
	if err != nil {
		return x, y, fmt.Errorf("read the job: %w", err)
	}
	var record jobs.Export
	if err := json.Unmarshal(text, &record); err == nil && record.Format == jobs.ExportFormat {
		return c.onRecord(record)
	}
	job, err := described(e.err, bytes.NewReader(text), file)
	if err != nil {
		return x, y, err
	}
	x, y, c.Job, err = layoutUnderBoth(job, c.A, c.B)
	return x, y, err
}

// onRecord looks at the record of a pack. It is held to its own rule set on the one side.
func (c *comparison) onRecord(record jobs.Export) (x, y codes.Applied, err error) {
	if record.Job.RuleSet != c.A {
		return x, y, &foundError{text: fmt.Sprintf("this record stands under %s: newelbook rules %s --against %s", record.Job.RuleSet, record.Job.RuleSet, c.B)}
	}
	rec, err := record.Record()
	if err != nil {
		return x, y, &foundError{text: "the record cannot be read: its chain is damaged, which newelbook verify tells more of"}
	}
	set, err := codes.Get(c.B)
	if err != nil {
		return x, y, err
	}
	what, err := rec.WhatIf(set)
	if err != nil {
		return x, y, err
	}
	c.Job, c.Compared = what.Layout, what.Compared
	for _, o := range what.Words {
		c.Readings = append(c.Readings, otherWord{Place: o.Check.Place.Label, Check: o.Check.Title, Was: o.Reading.Result.Verdict, Would: o.Would, Why: o.WouldWhy})
	}
	return what.Adopted, what.Other, nil
}

// writeJob prints what would change on the job.
func (c *comparison) writeJob(out io.Writer, file string) error {
	fmt.Fprintf(out, "\nThe job in %s\n%s\n\n", file, whatIf)
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	if len(c.Job) == 0 {
		fmt.Fprintln(t, "Nothing of its layout comes out otherwise.")
	} else {
		fmt.Fprintln(t, "PLACE\tWHAT\tUNDER A\tUNDER B")
	}
	for _, d := range c.Job {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", d.Place, d.What, d.A, d.B)
	}
	if err := t.Flush(); err != nil || c.Compared == 0 {
		return err
	}
	fmt.Fprintf(out, "\nOf %d readings held to the limits of B, %d would come to another word.\n", c.Compared, len(c.Readings))
	if len(c.Readings) > 0 {
		fmt.Fprintln(t, "PLACE\tCHECK\tAS RECORDED\tWOULD BE\tWHY")
	}
	for _, r := range c.Readings {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", r.Place, r.Check, r.Was.Word(), r.Would.Word(), r.Why)
	}
	return t.Flush()
}

// layoutUnderBoth lays the job out under two rule sets and returns them as they stand for the job, and what differs.
func layoutUnderBoth(job layout.Job, a, b string) (x, y codes.Applied, changes []layout.Change, err error) {
	under := func(id string) (codes.Applied, []layout.Layout, error) {
		other := job
		if id != job.Rules {
			other.Rules, other.Amendments = id, nil
		}
		rules, err := other.Applied()
		if err != nil {
			return codes.Applied{}, nil, &foundError{text: plain(err)}
		}
		layouts, err := layout.ComputeJob(other)
		return rules, layouts, err
	}
	x, first, err := under(a)
	if err != nil {
		return x, y, nil, err
	}
	y, second, err := under(b)
	if err != nil {
		return x, y, nil, err
	}
	return x, y, layout.Differences(first, second, job.Units.Style()), nil
}

// writeIndented writes a value as JSON.
func writeIndented(out io.Writer, value any) error {
	text, err := json.MarshalIndent(value, "", "  ")
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, strings.TrimSpace(string(text)))
	return err
}
