package views

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/jobs"
)

// RulesShowPage shows every figure of the job's rule set with where it comes from, and the authority's own figures.
type RulesShowPage struct {
	Frame
	Form     Form
	URL      string
	Version  string
	Name     string
	Where    string // whom the rule set is for
	Notes    []string
	Own      []Fact // the authority's own figures
	Past     []Fact // those that no longer hold
	Groups   []RuleGroup
	Practice []Fact
	Stands   []Fact
	Builder  bool

	Figures                              []Option
	Key, Value, SaidBy, Office, On, Note string

	WithdrawURL    string
	Withdrawable   []Option
	Withdrawn, Why string

	Against    []Option // the other rule sets
	AgainstURL string
}

// RuleGroup is the figures of one subject.
type RuleGroup struct {
	Name    string
	Figures []Fact
}

// NewRulesShow is the sheet of rules of a job. key picks the figure that the form is about; builder says whether the form is
// offered.
func NewRulesShow(f Frame, rec *jobs.Record, form Form, key string, builder bool) (RulesShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return RulesShowPage{}, err
	}
	set := sheet.Rules.RuleSet()
	f.Lead = "What readings are held to. The adopted code and its local amendments govern; each figure says how it was seen."
	p := RulesShowPage{
		Frame: f, Form: form, URL: JobURL(rec.Job.ID, "amendments"), Version: form.Version(rec.Job.Version), Name: set.Name, Where: set.Place, Notes: set.Notes,
		Builder: builder, Key: form.Text("key", key), Value: form.Text("value", ""), SaidBy: form.Text("said_by", ""), Office: form.Text("office", rec.Job.Authority),
		On: form.Text("on", ""), Note: form.Text("note", ""),
		WithdrawURL: JobURL(rec.Job.ID, "withdrawals"), Withdrawn: form.Text("withdrawn", ""), Why: form.Text("why", ""), Against: ruleSetOptions(set.ID), AgainstURL: JobURL(rec.Job.ID, "rules"),
	}
	for _, x := range sheet.Rules.Figures() {
		value := bounded(string(x.Bound), x.Show(sheet.Style))
		fact := Fact{Label: x.Title, Value: value, Note: join(x.Source()+".", x.Note)}
		if builder {
			fact.URL = JobURL(rec.Job.ID, "rules") + "?key=" + x.Key + "#amend"
		}
		if a := x.Amendment; a != nil {
			own := Fact{Label: x.Title, Value: value, Note: join(sayFull(x.Source()), a.Note)}
			p.Own = append(p.Own, own)
			p.Withdrawable = append(p.Withdrawable, Option{Value: x.Key, Label: x.Title + ": " + value})
		}
		name, _, _ := strings.Cut(x.Key, ".")
		p.Groups = addRule(p.Groups, ruleGroupName(name), fact)
		p.Figures = append(p.Figures, Option{Value: x.Key, Label: x.Title + ": " + value})
	}
	slices.SortStableFunc(p.Groups, func(a, b RuleGroup) int { return cmp.Compare(ruleGroupAt(a.Name), ruleGroupAt(b.Name)) })
	for _, x := range rec.Job.Past {
		p.Past = append(p.Past, pastAmendment(rec.Job, x))
	}
	for _, x := range codes.Reference().Figures {
		if _, own := sheet.Rules.Figure(x.Key); own {
			continue
		}
		value := bounded(string(x.Bound), x.Show(sheet.Style))
		p.Practice = append(p.Practice, Fact{Label: x.Title, Value: value, Note: join(x.Source()+".", x.Note)})
		p.Figures = append(p.Figures, Option{Value: x.Key, Label: "Practice: " + lowerFirst(x.Title) + ": " + value})
	}
	if form.Stale {
		for _, a := range rec.Job.Amendments {
			if a.Key == p.Key {
				p.Stands = form.Stands([]Stand{{"value", "Figure", a.Value}, {"said_by", "Who said so", a.SaidBy}, {"office", "Office", a.Office}, {"on", "Date", a.On}, {"note", "Note", a.Note}})
			}
		}
	}
	return p, nil
}

// pastAmendment is a figure of the authority's that no longer holds: what it was, who said it, and how it ended.
func pastAmendment(job jobs.Job, p jobs.PastAmendment) Fact {
	ended := "withdrawn"
	if p.Replaced {
		ended = "replaced"
	}
	said := p.Amendment.SaidBy
	if p.Amendment.Office != "" {
		said += ", " + p.Amendment.Office
	}
	note := fmt.Sprintf("Said by %s; %s %s by %s: %s", said, ended, stamp(p.Ended, job.Location()), p.EndedBy.Name, sayFull(p.Why))
	if own, found := job.Own(p.Amendment.Key); found {
		note += fmt.Sprintf(" The code itself: %s.", bounded(string(own.Bound), own.Text))
	}
	return Fact{Label: codes.Title(p.Amendment.Key), Value: p.Amendment.Value, Note: note}
}

// bounded is a figure behind its bound: under 4".
func bounded(bound, value string) string { return strings.TrimSpace(bound + " " + value) }

// sayFull makes a source a sentence.
func sayFull(text string) string { return upperFirst(strings.TrimSuffix(text, ".")) + "." }

func addRule(groups []RuleGroup, name string, f Fact) []RuleGroup {
	for i := range groups {
		if groups[i].Name == name {
			groups[i].Figures = append(groups[i].Figures, f)
			return groups
		}
	}
	return append(groups, RuleGroup{Name: name, Figures: []Fact{f}})
}

// ruleGroups are the headings of the figures of a rule set, in the order of a job.
func ruleGroups() []string {
	var names []string
	for _, prefix := range []string{"guard", "opening", "climb", "stair", "handrail", "load", "post", "other"} {
		names = append(names, ruleGroupName(prefix))
	}
	return names
}

func ruleGroupAt(name string) int { return slices.Index(ruleGroups(), name) }

// ruleGroupName is the heading of the figures whose keys begin so.
func ruleGroupName(prefix string) string {
	switch prefix {
	case "guard":
		return "Guards"
	case "opening":
		return "Openings"
	case "climb":
		return "Climbing"
	case "stair":
		return "Stairs"
	case "handrail":
		return "Handrails"
	case "load":
		return "Loads"
	case "post":
		return "Posts"
	}
	return "Other figures"
}
