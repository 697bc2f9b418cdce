package codes

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"newelbook/checklist/length"
)

// RuleSet is the figures of one code, edition and place.
type RuleSet struct {
	ID      string      `json:"id"` // irc-2018
	Name    string      `json:"name"`
	Place   string      `json:"place"`
	Edition string      `json:"edition"`
	Units   length.Unit `json:"units"`   // that the code is written in
	Figures []Figure    `json:"figures"` // sorted by key
	Notes   []string    `json:"notes"`
}

// Figure returns the figure of that key; false means that there is no figure in this rule set.
func (r RuleSet) Figure(key string) (Figure, bool) {
	i, found := slices.BinarySearchFunc(r.Figures, key, func(f Figure, key string) int { return strings.Compare(f.Key, key) })
	if !found {
		return Figure{}, false
	}
	return r.Figures[i], true
}

// clone returns a copy that shares nothing that can be changed.
func (r RuleSet) clone() RuleSet {
	r.Figures, r.Notes = slices.Clone(r.Figures), slices.Clone(r.Notes)
	return r
}

// figureRow is a figure as the data files write it: its value is the text that people write.
type figureRow struct {
	Key      string   `json:"key"`
	Title    string   `json:"title"`
	Kind     Kind     `json:"kind"`
	Value    string   `json:"value"`
	Bound    Bound    `json:"bound"`
	Clause   string   `json:"clause"`
	Edition  string   `json:"edition"`
	Standing Standing `json:"standing"`
	Note     string   `json:"note"`
}

// ReadRuleSet reads one data file and checks it. All that is wrong with it is in the error, one line each.
func ReadRuleSet(r io.Reader) (RuleSet, error) {
	var file struct {
		RuleSet
		Figures []figureRow `json:"figures"`
	}
	if err := readJSON(r, &file); err != nil {
		return RuleSet{}, fmt.Errorf("read rule set: %w", err)
	}
	set := file.RuleSet
	wrong := set.wrong()
	seen := map[string]bool{}
	for _, row := range file.Figures {
		figure, err := row.figure(set.ID == referenceID)
		if err != nil {
			wrong = append(wrong, fmt.Errorf("figure %q: %w", row.Key, err))
		}
		if seen[row.Key] {
			wrong = append(wrong, fmt.Errorf("figure %q: written twice", row.Key))
		}
		seen[row.Key] = true
		set.Figures = append(set.Figures, figure)
	}
	if len(wrong) > 0 {
		return RuleSet{}, fmt.Errorf("read rule set %q: %w", set.ID, errors.Join(wrong...))
	}
	slices.SortFunc(set.Figures, func(a, b Figure) int { return strings.Compare(a.Key, b.Key) })
	return set, nil
}

// wrong lists what is missing from the head of the file.
func (r RuleSet) wrong() []error {
	var wrong []error
	for _, field := range []struct{ name, value string }{
		{"id", r.ID}, {"name", r.Name}, {"place", r.Place}, {"edition", r.Edition},
	} {
		if field.value == "" {
			wrong = append(wrong, fmt.Errorf("no %s", field.name))
		}
	}
	if r.Units.Style() == "" {
		wrong = append(wrong, fmt.Errorf("units are %q, not in or mm", r.Units))
	}
	return wrong
}

// figure checks the row and reads its value.
func (row figureRow) figure(reference bool) (Figure, error) {
	var wrong []error
	for _, field := range []struct{ name, value string }{
		{"title", row.Title}, {"clause", row.Clause}, {"edition", row.Edition},
	} {
		if field.value == "" {
			wrong = append(wrong, fmt.Errorf("no %s", field.name))
		}
	}
	if kind, known := kindOf(row.Key); !known {
		wrong = append(wrong, errors.New("not a known key"))
	} else if kind != row.Kind {
		wrong = append(wrong, fmt.Errorf("kind is %q, not %q", row.Kind, kind))
	}
	switch row.Standing {
	case OfficialText, SecondaryText, Memory:
	case CommonPractice:
		if !reference {
			wrong = append(wrong, fmt.Errorf("standing %q is for reference figures only", row.Standing))
		}
	default:
		wrong = append(wrong, fmt.Errorf("standing is %q", row.Standing))
	}
	if (row.Kind == KindText) == row.Bound.Known() || row.Kind == KindText && row.Bound != "" {
		wrong = append(wrong, fmt.Errorf("bound is %q", row.Bound))
	}
	figure, err := Figure{
		Key: row.Key, Title: row.Title, Kind: row.Kind, Bound: row.Bound,
		Clause: row.Clause, Edition: row.Edition, Standing: row.Standing, Note: row.Note,
	}.withValue(row.Value, "")
	if err != nil {
		wrong = append(wrong, err)
	}
	return figure, errors.Join(wrong...)
}

// readJSON reads one JSON value, refusing names that it has no place for and anything after it.
func readJSON(r io.Reader, into any) error {
	decoder := json.NewDecoder(r)
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(into); err != nil {
		return err
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something follows the end of the data")
	}
	return nil
}
