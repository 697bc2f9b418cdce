package views

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/codes"
)

// RulesURL is the path of a rule set; of the list of them where id is empty.
func RulesURL(id string) string {
	if id == "" {
		return "/rules"
	}
	return "/rules/" + id
}

// RulesListPage lists the rule sets that there are.
type RulesListPage struct {
	Frame
	Sets Table
}

// NewRulesList is the list of rule sets, with how their figures were seen.
func NewRulesList(f Frame) RulesListPage {
	f.Lead = "The rule sets that a job may be held to. The edition adopted by the authority and its local amendments govern."
	p := RulesListPage{Frame: f, Sets: Table{Caption: "Rule sets", Heads: []Head{
		{Label: "Rule set"}, {Label: "Place"}, {Label: "Edition"}, {Label: "Figures", Number: true}, {Label: "Official text", Number: true}, {Label: "Secondary text", Number: true}, {Label: "Memory", Number: true},
	}}}
	for _, set := range codes.All() {
		seen := map[codes.Standing]int{}
		for _, x := range set.Figures {
			seen[x.Standing]++
		}
		p.Sets.Rows = append(p.Sets.Rows, []Cell{
			{Text: set.Name, URL: RulesURL(set.ID)}, {Text: set.Place}, {Text: set.Edition}, {Text: itoa(len(set.Figures))},
			{Text: itoa(seen[codes.OfficialText])}, {Text: itoa(seen[codes.SecondaryText])}, {Text: itoa(seen[codes.Memory])},
		})
	}
	return p
}

// RulesSetPage shows every figure of one rule set as its code has it.
type RulesSetPage struct {
	Frame
	ID     string
	Groups []RuleTable
	Notes  []string
}

// RuleTable is the figures of one subject as a table, and those in words.
type RuleTable struct {
	Name  string
	Table Table
	Words []Fact
}

// NewRulesSet is the sheet of one rule set. The error says in a sentence which rule sets there are.
func NewRulesSet(f Frame, id string) (RulesSetPage, error) {
	set, err := codes.Get(id)
	if err != nil {
		return RulesSetPage{}, err
	}
	rules, err := codes.Apply(set, nil)
	if err != nil {
		return RulesSetPage{}, err
	}
	f.Title = set.Name
	f.Lead = fmt.Sprintf("%s. Edition: %s. Lengths in %s, as the code is written.", set.Place, lowerFirst(set.Edition), unitWord(string(set.Units)))
	p := RulesSetPage{Frame: f, ID: id, Notes: set.Notes}
	for _, name := range ruleGroups() {
		p.Groups = append(p.Groups, newRuleTable(name))
	}
	for _, r := range rules.Rows(set.Units.Style()) {
		prefix, _, _ := strings.Cut(r.Key, ".")
		p.add(ruleGroupName(prefix), r)
	}
	p.Groups = slices.DeleteFunc(p.Groups, func(g RuleTable) bool { return len(g.Table.Rows)+len(g.Words) == 0 })
	return p, nil
}

// newRuleTable is the table of a subject, without a figure.
func newRuleTable(name string) RuleTable {
	return RuleTable{Name: name, Table: Table{Caption: name + ", figure by figure", Heads: []Head{
		{Label: "Figure"}, {Label: "Value"}, {Label: "Exactly at it"}, {Label: "Clause"}, {Label: "Edition"}, {Label: "How it was seen"},
	}}}
}

// add puts a figure into the table of its subject.
func (p *RulesSetPage) add(name string, r codes.Row) {
	i := slices.IndexFunc(p.Groups, func(g RuleTable) bool { return g.Name == name })
	g := &p.Groups[i]
	if r.Limit == "" {
		g.Words = append(g.Words, Fact{Label: r.Title, Value: r.Value, Note: fmt.Sprintf("%s, %s, %s.", r.Clause, r.Edition, r.Standing)})
		return
	}
	g.Table.Rows = append(g.Table.Rows, []Cell{
		{Text: r.Title, Note: r.Applies + "."}, {Text: r.Bounded()}, {Text: atTheFigure(r)}, {Text: r.Clause}, {Text: r.Edition}, {Text: string(r.Standing)},
	})
}

// atTheFigure says what a value of exactly the figure comes to.
func atTheFigure(r codes.Row) string {
	if r.Limit == "inclusive" {
		return "inclusive: inside"
	}
	return "strict: outside"
}

func unitWord(unit string) string {
	if unit == "mm" {
		return "millimetres"
	}
	return "inches"
}
