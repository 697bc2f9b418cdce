package jobstest

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// at is when everything in the suite happens.
func at() time.Time { return time.Date(2026, 5, 4, 14, 30, 0, 123_456_789, time.UTC) }

// job is an invented job of that id.
func job(id string) jobs.Job {
	return jobs.Job{
		ID: id, Ref: "T-" + id, Name: "Back deck", Site: "1 Sample Lane, Nowhere", Owner: "A. Sample", Builder: "Example Decks",
		Contact: "decks@example.invalid", RuleSet: "none", Units: length.Inches, Zone: "America/Chicago", Begun: "2026-05-01",
		Spec: layout.Spec{PostNominal: "4x4"}, Version: 1, Made: at(),
	}
}

// event is the sealed event that follows head with a change in it.
func event(jobID string, head jobs.Head, kind string, c jobs.Change) (jobs.Event, error) {
	payload, err := json.Marshal(c)
	if err != nil {
		return jobs.Event{}, err
	}
	return jobs.Event{
		JobID: jobID, At: at().Add(time.Duration(head.Seq) * time.Minute), Offset: "-05:00",
		Actor: jobs.Actor{ID: "a1", Name: "Sam Sample", Role: jobs.RoleBuilder},
		Type:  kind, Salt: strings.Repeat("5a", 16), Payload: string(payload),
	}.Seal(head), nil
}

// makeJob appends the first event of a job.
func makeJob(tx jobs.Tx, id string) error {
	j := job(id)
	return appendChange(tx, id, jobs.Head{}, jobs.EvJobMade, jobs.Change{Job: &j})
}

// appendChange appends a change after a head.
func appendChange(tx jobs.Tx, jobID string, head jobs.Head, kind string, c jobs.Change) error {
	e, err := event(jobID, head, kind, c)
	if err != nil {
		return err
	}
	return tx.Append(e)
}

// saveDiary appends a diary page after a job's head.
func saveDiary(tx jobs.Tx, jobID, day string) error {
	head, err := tx.Head(jobID)
	if err != nil {
		return err
	}
	page := jobs.DiaryPage{Day: day, Weather: "Dry", Work: "Posts", At: at(), Version: 1, By: jobs.Actor{ID: "a1", Name: "Sam Sample", Role: jobs.RoleCrew}}
	return appendChange(tx, jobID, head, jobs.EvDiarySaved, jobs.Change{Diary: &page})
}

// increment counts a job's version up by one: read, add, write.
func increment(tx jobs.Tx, jobID string) error {
	r, err := tx.Load(jobID)
	if err != nil {
		return err
	}
	j := r.Job
	j.Version++
	j.Name = fmt.Sprintf("Deck, change %d", j.Version)
	return appendChange(tx, jobID, r.Head, jobs.EvJobChanged, jobs.Change{Job: &j})
}
