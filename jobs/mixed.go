package jobs

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
)

// Mixed is one question of one run whose readings were taken from different references, so that they do not compare.
type Mixed struct {
	Stage    checklist.Stage `json:"stage"`
	Run      checklist.Place `json:"run"`
	Question string          `json:"question"` // Finished heights
	Taken    []TakenFrom     `json:"taken"`    // by reference, in the order of the places
	Sentence string          `json:"sentence"` // all of it in words
}

// TakenFrom is where readings were taken from one reference.
type TakenFrom struct {
	From   checklist.Reference `json:"from"`
	Places []string            `json:"places"` // labels; where the place is the run itself, the station along it
	Checks []string            `json:"checks"` // ids of the checks
}

// mixed finds what was taken from more than one reference, in the order of checks. Readings from before references were asked for
// have none and say nothing.
func mixed(checks []CheckState, runs []Run) []Mixed {
	type asked struct{ run, question string }
	var all []Mixed
	at := map[asked]int{}
	for i := range checks {
		c := &checks[i]
		if c.Current == nil || c.Current.Answer.From == "" {
			continue
		}
		id, title := checklist.Question(c.Check)
		this := asked{c.Check.Place.RunID, id}
		n, ok := at[this]
		if !ok {
			run, _ := find(runs, func(r Run) bool { return r.ID == this.run })
			n, at[this] = len(all), len(all)
			all = append(all, Mixed{Stage: c.Check.Stage, Question: title, Run: checklist.Place{ID: run.ID, Kind: checklist.PlaceRun, RunID: run.ID, Label: run.Label}})
		}
		all[n].take(c)
	}
	all = slices.DeleteFunc(all, func(m Mixed) bool { return len(m.Taken) < 2 })
	for i := range all {
		all[i].Sentence = all[i].words()
	}
	return all
}

// take adds one reading.
func (m *Mixed) take(c *CheckState) {
	where := c.Check.Place.Label
	if c.Check.Place.Kind == checklist.PlaceRun {
		where = checklist.Station(c.Check)
	}
	i := slices.IndexFunc(m.Taken, func(t TakenFrom) bool { return t.From == c.Current.Answer.From })
	if i < 0 {
		i = len(m.Taken)
		m.Taken = append(m.Taken, TakenFrom{From: c.Current.Answer.From})
	}
	t := &m.Taken[i]
	if !slices.Contains(t.Places, where) {
		t.Places = append(t.Places, where)
	}
	t.Checks = append(t.Checks, c.Check.ID)
}

// words names every reference with its places.
func (m Mixed) words() string {
	var parts []string
	for _, t := range m.Taken {
		parts = append(parts, fmt.Sprintf("from %s at %s", t.From, strings.Join(t.Places, ", ")))
	}
	return fmt.Sprintf("%s of %s were not taken from one reference: %s. They do not compare until they are.", m.Question, m.Run.Label, strings.Join(parts, "; "))
}
