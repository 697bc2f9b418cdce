package jobs

import (
	"cmp"
	"context"
	"slices"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
)

// UnknownRulesError: there is no rule set of that id. It says in a sentence which there are.
type UnknownRulesError = codes.UnknownError

// WhatIf is what a job would come to under another rule set than the one that its authority adopted. It is worked out when it is
// asked for and kept nowhere: no reading is judged again, no layout made, nothing opened or closed.
type WhatIf struct {
	Adopted, Other codes.Applied
	Figures        []codes.Pair    // that differ
	Layout         []layout.Change // results of the layouts that would come out otherwise
	Words          []OtherWord     // readings that would come to another word
	Compared       int             // readings that were held to the other rule set
	More           []Asked         // what the other rule set would ask beside, and nobody was asked here
	Less           []Asked         // what it would not ask
}

// OtherWord is one reading that would come to another word.
type OtherWord struct {
	Check    checklist.Check
	Reading  Reading
	Would    checklist.Verdict
	WouldWhy string // one finished sentence
}

// Asked is a check by its title, and at how many places.
type Asked struct {
	Title  string
	Places int
}

// WhatIf sets the job's rules, with the authority's own figures, against another rule set as its code has it. It is for the
// builder alone: the crew is told the adopted rule only, so that nobody works to another.
func (s *Service) WhatIf(ctx context.Context, by Actor, jobID, other string) (*Record, WhatIf, error) {
	if by.Role != RoleBuilder {
		return nil, WhatIf{}, ErrForbidden
	}
	set, err := codes.Get(other)
	if err != nil {
		return nil, WhatIf{}, err
	}
	rec, err := s.Record(ctx, jobID)
	if err != nil {
		return nil, WhatIf{}, err
	}
	what, err := rec.WhatIf(set)
	return rec, what, err
}

// WhatIf works out what the record would come to under the rule set. A reading is held to the limits that the other rule set would give its check, on the layout as
// it stands, with its own nominal, tolerance and tool: what differs is then the rules' doing alone.
func (r *Record) WhatIf(set codes.RuleSet) (WhatIf, error) {
	sheet, err := r.Sheet()
	if err != nil {
		return WhatIf{}, err
	}
	other, err := codes.Apply(set, nil)
	if err != nil {
		return WhatIf{}, err
	}
	what := WhatIf{Adopted: sheet.Rules, Other: other, Figures: codes.Pairs(sheet.Rules, other)}
	history := r.history()
	asked := map[string]checklist.Check{}
	var now, then []layout.Layout
	for _, run := range r.Live() {
		v, ok := r.Layout(run.ID)
		if !ok {
			continue
		}
		made := r.layOut(run, other)
		now, then = append(now, v.Layout), append(then, made)
		stands := v.Layout // as built, asked for and held to as the other rule set has it
		stands.Required, stands.Stair = made.Required, made.Stair
		for _, c := range r.checks(run, stands, other, sheet.Style, history) {
			asked[c.ID] = c
		}
	}
	what.Layout = layout.Differences(now, then, sheet.Style)
	what.readings(sheet, asked)
	return what, nil
}

// readings compares the checks, and the current reading of each.
func (w *WhatIf) readings(sheet *Sheet, asked map[string]checklist.Check) {
	more, less := tally{}, tally{}
	for i := range sheet.Checks {
		c := &sheet.Checks[i]
		if c.Check.Place.Kind == checklist.PlaceJob {
			continue
		}
		other, ok := asked[c.Check.ID]
		if !ok {
			less.add(c.Check.Title)
			continue
		}
		if c.Current == nil {
			continue
		}
		w.Compared++
		held := c.Current.Check
		held.Limits = other.Limits
		result := checklist.Evaluate(held, c.Current.Answer, c.Current.Tool, sheet.Style)
		if result.Verdict != c.Verdict() {
			w.Words = append(w.Words, OtherWord{Check: c.Check, Reading: *c.Current, Would: result.Verdict, WouldWhy: result.Why})
		}
	}
	for id, c := range asked {
		if _, ok := sheet.Check(id); !ok {
			more.add(c.Title)
		}
	}
	w.More, w.Less = more.list(), less.list()
}

// tally counts places by the title of a check.
type tally map[string]int

func (t tally) add(title string) { t[title]++ }

// list is the tally by title.
func (t tally) list() []Asked {
	var all []Asked
	for title, places := range t {
		all = append(all, Asked{Title: title, Places: places})
	}
	slices.SortFunc(all, func(a, b Asked) int { return cmp.Compare(a.Title, b.Title) })
	return all
}
