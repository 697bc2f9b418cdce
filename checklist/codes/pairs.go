package codes

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// Pair is one figure of two rule sets side by side, for people.
type Pair struct {
	Key     string   `json:"key"`
	Title   string   `json:"title"`
	A       string   `json:"a"` // bound and value as written, or "no figure"
	ASource string   `json:"a_source,omitempty"`
	B       string   `json:"b"`
	BSource string   `json:"b_source,omitempty"`
	InWords bool     `json:"in_words,omitempty"` // a rule in words, not a figure
	Differs []string `json:"differs"`            // value, strict or inclusive, clause; or "only in one"
}

// noFigure stands where a rule set has none.
const noFigure = "no figure"

// Pairs lists what Compare does, in words. Each figure stands as its own code writes it; where the two rule sets are written in
// different units, a length is told in the first one's as well.
func Pairs(a, b Applied) []Pair {
	pairs := []Pair{}
	for _, d := range Compare(a, b) {
		kind, _ := kindOf(d.Key)
		p := Pair{Key: d.Key, Title: d.Title, A: noFigure, B: noFigure, InWords: kind == KindText}
		if d.A != nil {
			p.A, p.ASource = d.A.side(a, a), d.A.Source()
		}
		if d.B != nil {
			p.B, p.BSource = d.B.side(b, a), d.B.Source()
		}
		if d.A == nil || d.B == nil {
			p.Differs = append(p.Differs, "only in one")
		}
		for _, what := range []struct {
			is   bool
			word string
		}{{d.Value, "value"}, {d.Bound, "strict or inclusive"}, {d.Clause, "clause"}} {
			if what.is {
				p.Differs = append(p.Differs, what.word)
			}
		}
		pairs = append(pairs, p)
	}
	return pairs
}

// side is the figure of one rule set beside another.
func (f AppliedFigure) side(own, beside Applied) string {
	text := strings.TrimSpace(string(f.Bound) + " " + f.Text)
	if f.Kind == KindLength && own.base.Units != beside.base.Units {
		text += ", about " + f.Value.Format(beside.base.Units.Style())
	}
	if f.Amendment != nil {
		text += ", the authority's own"
	}
	return text
}

// WritePairs writes two rule sets side by side as a table that reads on a terminal.
func WritePairs(w io.Writer, a, b Applied) error {
	var out bytes.Buffer
	fmt.Fprintf(&out, "A: %s, %s\nB: %s, %s\n\n", a.base.ID, a.base.Name, b.base.ID, b.base.Name)
	pairs := Pairs(a, b)
	if len(pairs) == 0 {
		fmt.Fprintln(&out, "No figure differs.")
	} else {
		t := tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "FIGURE\tA\tB\tDIFFERS\tSOURCE OF A\tSOURCE OF B")
		var words []Pair
		for _, p := range pairs {
			if p.InWords { // no column holds them
				words = append(words, p)
				continue
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\n", p.Title, p.A, p.B, strings.Join(p.Differs, ", "), orDash(p.ASource), orDash(p.BSource))
		}
		if err := t.Flush(); err != nil {
			return err
		}
		for _, p := range words {
			fmt.Fprintf(&out, "\n%s (%s)\n  A: %s (%s)\n  B: %s (%s)\n", p.Title, strings.Join(p.Differs, ", "), p.A, orDash(p.ASource), p.B, orDash(p.BSource))
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}
