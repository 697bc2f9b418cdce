package codes

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"newelbook/checklist/length"
)

// Row is one figure of a rule set as a line of a table.
type Row struct {
	Key      string   `json:"key"`
	Title    string   `json:"title"`
	Value    string   `json:"value"` // in the style asked for; a figure that is not a length as it was written
	Bound    Bound    `json:"bound,omitempty"`
	Limit    string   `json:"limit,omitempty"` // strict or inclusive; empty for words
	Clause   string   `json:"clause"`
	Edition  string   `json:"edition"`
	Standing Standing `json:"standing"`
	Applies  string   `json:"applies"` // what it is held to, and when
	Note     string   `json:"note,omitempty"`
	// SaidBy and Own stand where the authority gave a figure of its own: who said it, and what the code itself has.
	SaidBy string `json:"said_by,omitempty"`
	Own    string `json:"own,omitempty"`
}

// Strict says in one word whether the figure itself is inside the bound: "inclusive" where it is, "strict" where it is not;
// empty where there is no bound.
func (b Bound) Strict() string {
	switch b {
	case AtLeast, AtMost:
		return "inclusive"
	case Under, Over:
		return "strict"
	}
	return ""
}

// row returns the figure as a line of a table, lengths in the style.
func (a Applied) row(f AppliedFigure, style length.Style) Row {
	r := Row{
		Key: f.Key, Title: f.Title, Value: f.Show(style), Bound: f.Bound, Limit: f.Bound.Strict(), Clause: f.Clause, Edition: f.Edition,
		Standing: f.Standing, Applies: a.Condition(f.Key), Note: f.Note, SaidBy: f.SaidBy(),
	}
	if f.Amendment != nil {
		r.Own = strings.TrimSpace(fmt.Sprintf("%s %s, %s", f.Base.Bound, f.Base.Show(style), f.Base.Standing))
	}
	return r
}

// Rows returns every figure as a line of a table, sorted by key, lengths in the style.
func (a Applied) Rows(style length.Style) []Row {
	rows := make([]Row, 0, len(a.figures))
	for _, f := range a.figures {
		rows = append(rows, a.row(f, style))
	}
	return rows
}

// Bounded is the value behind its bound: under 4".
func (r Row) Bounded() string { return strings.TrimSpace(string(r.Bound) + " " + r.Value) }

// WriteText writes the rule set as a table that reads on a terminal, lengths in the units of the rule set, and the notes on it.
func (a Applied) WriteText(w io.Writer) error {
	var out bytes.Buffer
	set := a.base
	fmt.Fprintf(&out, "%s: %s\n%s; edition: %s; %d figures\n\n", set.ID, set.Name, set.Place, set.Edition, len(a.figures))
	t := tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "FIGURE\tVALUE\tLIMIT\tCLAUSE\tEDITION\tSTANDING\tAPPLIES TO")
	for _, r := range a.Rows(set.Units.Style()) {
		value := r.Bounded()
		if r.Limit == "" { // words stand under the table's line, since no column holds them
			value = "in words"
		}
		standing := string(r.Standing)
		if r.SaidBy != "" {
			standing = fmt.Sprintf("said by %s; the code: %s", r.SaidBy, r.Own)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", r.Title, value, r.Limit, r.Clause, r.Edition, standing, r.Applies)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(&out, "\nFigures in words")
	for _, r := range a.Rows(set.Units.Style()) {
		if r.Limit == "" {
			fmt.Fprintf(&out, "  %s: %s.\n", r.Title, strings.TrimSuffix(r.Value, "."))
		}
	}
	fmt.Fprintln(&out, "\nNotes")
	for _, n := range set.Notes {
		fmt.Fprintf(&out, "  %s\n", n)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// WriteJSON writes what WriteText does as one JSON value.
func (a Applied) WriteJSON(w io.Writer) error {
	set := a.base
	return writeJSON(w, struct {
		ID      string      `json:"id"`
		Name    string      `json:"name"`
		Place   string      `json:"place"`
		Edition string      `json:"edition"`
		Units   length.Unit `json:"units"`
		Figures []Row       `json:"figures"`
		Notes   []string    `json:"notes"`
	}{set.ID, set.Name, set.Place, set.Edition, set.Units, a.Rows(set.Units.Style()), set.Notes})
}

func writeJSON(w io.Writer, value any) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(value)
}
