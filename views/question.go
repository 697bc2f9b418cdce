package views

import (
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// question is one thing to check, at every place of a stage that owes it. Two questions of one key differ in how they are
// answered: the datum post is looked at, the others are measured from it.
type question struct {
	key, title string
	as         checklist.Ask // set where the key alone does not tell the question
	checks     []*jobs.CheckState
}

// questions groups the checks of a stage by what they ask and how it is answered, in the order in which they come up.
func questions(st *jobs.StageSheet) []question {
	var out []question
	type id struct {
		key string
		ask checklist.Ask
	}
	at, keys := map[id]int{}, map[string]int{}
	for _, c := range st.Checks {
		this := id{c.Check.Key, c.Check.Ask}
		i, ok := at[this]
		if !ok {
			i = len(out)
			at[this] = i
			keys[c.Check.Key]++
			out = append(out, question{key: c.Check.Key, title: c.Check.Title})
		}
		out[i].checks = append(out[i].checks, c)
	}
	for i := range out {
		if keys[out[i].key] > 1 {
			out[i].as = out[i].checks[0].Check.Ask
		}
	}
	return out
}

// left is the checks that have no answer yet.
func (q question) left() []*jobs.CheckState {
	var out []*jobs.CheckState
	for _, c := range q.checks {
		if !c.Answered() {
			out = append(out, c)
		}
	}
	return out
}

// row is the question with what is left of it, leading to where it is asked.
func (q question) row(jobID string) Row {
	left := q.left()
	first := left[0].Check
	r := Row{Label: q.title, URL: AskURL(jobID, first.Stage, first.Key) + asParam(q.as), Figure: itoa(len(left)), Note: "at " + labels(left)}
	if len(q.checks) == 1 {
		r.URL, r.Figure, r.Note, r.Place = AskURL(jobID, first.Stage, first.Key, first.Place.ID), "", "", first.Place.Label
	}
	switch {
	case first.Hold, first.Photo == checklist.PhotoHold:
		r.Status = NewStatus("hold point")
	case first.Photo == checklist.PhotoWanted:
		r.Status = NewStatus("wanted")
	default:
		r.Status = NewStatus("not checked")
	}
	return r
}

// asParam tells a question from another one of the same key.
func asParam(as checklist.Ask) string {
	if as == "" {
		return ""
	}
	return "&as=" + string(as)
}

// labels names the places of checks.
func labels(checks []*jobs.CheckState) string {
	var out []string
	for _, c := range checks {
		out = append(out, c.Check.Place.Label)
	}
	return named(out)
}

// named lists names, the first few and then how many more.
func named(names []string) string {
	const most = 4
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most], ", ") + " and " + itoa(len(names)-most) + " more"
}

// nextQuestion is the first question of a stage with something left.
func nextQuestion(st *jobs.StageSheet) (question, bool) {
	for _, q := range questions(st) {
		if len(q.left()) > 0 {
			return q, true
		}
	}
	return question{}, false
}
