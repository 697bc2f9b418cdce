package views

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/jobs"
)

// RulesAgainstPage sets a job's rules against another rule set: a what-if, kept nowhere.
type RulesAgainstPage struct {
	Frame
	Back     string // the job's sheet of rules
	Set      string // where the other rule set is shown
	SetName  string
	Compared string  // how many readings were held to the other one
	Words    []Sides // readings that would come to another word
	Layout   []Sides
	More     []Row // what would be asked beside
	Less     []Row // what would not be asked
	Figures  []Sides
}

// Sides is one thing as it stands under the adopted rules and as it would under others. Note says in what they differ.
type Sides struct {
	Place, URL, Title, Note string
	Sides                   []Side
}

// Side is one of the two.
type Side struct {
	Label, Value, Note string
	Status             *Status
}

// sides puts the two beside each other.
func sides(adopted, other Side) []Side {
	adopted.Label, other.Label = "As adopted", "Under the other"
	return []Side{adopted, other}
}

// NewRulesAgainst is the what-if of a job under another rule set.
func NewRulesAgainst(f Frame, rec *jobs.Record, what jobs.WhatIf) RulesAgainstPage {
	adopted, other := what.Adopted.RuleSet(), what.Other.RuleSet()
	f.Title = "Rules against " + other.Name
	f.Lead = fmt.Sprintf("What would change if this job stood under %s instead of %s. A what-if: the rules that the authority adopted govern, nothing is judged again and nothing of this page is kept.", other.Name, adopted.Name)
	p := RulesAgainstPage{Frame: f, Back: JobURL(rec.Job.ID, "rules"), Set: RulesURL(other.ID), SetName: other.Name,
		Compared: fmt.Sprintf("%s held to the other rule set, each with its own layout, tolerance and tool; only the limits are exchanged.", readingsWere(what.Compared))}
	for _, o := range what.Words {
		p.Words = append(p.Words, Sides{Place: o.Check.Place.Label, URL: CheckURL(rec.Job.ID, o.Check.ID), Title: o.Check.Title, Sides: sides(
			Side{Status: NewStatus(o.Reading.Result.Verdict.Word()), Note: o.Reading.Result.Why},
			Side{Status: NewStatus(o.Would.Word()), Note: o.WouldWhy},
		)})
	}
	for _, c := range what.Layout {
		p.Layout = append(p.Layout, Sides{Place: c.Place, Title: c.What, Sides: sides(Side{Value: c.A}, Side{Value: c.B})})
	}
	p.More, p.Less = askedRows(what.More), askedRows(what.Less)
	for _, x := range what.Figures {
		p.Figures = append(p.Figures, Sides{Title: x.Title, Note: "Differs: " + strings.Join(x.Differs, ", "),
			Sides: sides(Side{Value: x.A, Note: x.ASource}, Side{Value: x.B, Note: x.BSource})})
	}
	return p
}

func readingsWere(n int) string {
	switch n {
	case 0:
		return "No reading was"
	case 1:
		return "One reading was"
	}
	return fmt.Sprintf("%d readings were", n)
}

func askedRows(asked []jobs.Asked) []Row {
	var rows []Row
	for _, a := range asked {
		rows = append(rows, Row{Label: a.Title, Figure: counted(a.Places, "place")})
	}
	return rows
}

// ruleSetOptions offers every rule set but one.
func ruleSetOptions(but string) []Option {
	var all []Option
	for _, set := range codes.All() {
		if set.ID != but {
			all = append(all, Option{Value: set.ID, Label: set.Name})
		}
	}
	return all
}
