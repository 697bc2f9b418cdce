package views

import (
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// question is one thing to check, at every place of a stage that owes it.
type question struct {
	key, title string
	checks     []*jobs.CheckState
}

// questions groups the checks of a stage by what they ask, in the order in which they come up.
func questions(st *jobs.StageSheet) []question {
	var out []question
	at := map[string]int{}
	for _, c := range st.Checks {
		id := c.Check.Key + "\n" + c.Check.Title
		i, ok := at[id]
		if !ok {
			i = len(out)
			at[id] = i
			out = append(out, question{key: c.Check.Key, title: c.Check.Title})
		}
		out[i].checks = append(out[i].checks, c)
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
	r := Row{Label: q.title, URL: AskURL(jobID, first.Stage, first.Key), Figure: itoa(len(left)), Note: "at " + labels(left)}
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

// labels names places, the first few and then how many more.
func labels(checks []*jobs.CheckState) string {
	const most = 4
	var out []string
	for i, c := range checks {
		if i == most && len(checks) > most+1 {
			return strings.Join(out, ", ") + " and " + itoa(len(checks)-most) + " more"
		}
		out = append(out, c.Check.Place.Label)
	}
	return strings.Join(out, ", ")
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
