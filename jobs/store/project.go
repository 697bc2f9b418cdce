package store

import (
	"encoding/json"
	"fmt"

	"gorm.io/gorm/clause"

	"newelbook/jobs"
)

// project writes the row of the object that an event changed. It is the only code that writes the job tables: Append runs
// it, and the check runs it again over an empty database.
//
// The body of a deep object is the event's own bytes, not the object encoded again: a release that adds a field would
// otherwise write other bodies for old events, and the check would find fault with every one.
func (t *tx) project(e jobs.Event) error {
	var objects map[string]json.RawMessage
	if err := json.Unmarshal([]byte(e.Payload), &objects); err != nil {
		return fmt.Errorf("decode payload: %w", err)
	}
	if len(objects) != 1 {
		return fmt.Errorf("payload names %d objects, want one", len(objects))
	}
	var body string
	for _, raw := range objects {
		body = string(raw)
	}
	var c jobs.Change
	if err := json.Unmarshal([]byte(e.Payload), &c); err != nil {
		return fmt.Errorf("decode payload: %w", err)
	}
	switch {
	case c.Job != nil:
		if c.Job.ID != e.JobID {
			return fmt.Errorf("payload is job %s", c.Job.ID)
		}
		return t.put(new(jobRowOf(e, *c.Job, body)))
	case c.Run != nil:
		return t.put(new(runRowOf(e, *c.Run, body)))
	case c.Layout != nil:
		return t.add(new(layoutRowOf(e, *c.Layout, body)))
	case c.Reading != nil:
		return t.add(new(readingRowOf(e, *c.Reading, body)))
	case c.Photo != nil:
		return t.put(new(photoRowOf(e, *c.Photo, body)))
	case c.Deviation != nil:
		return flat(t.put, e, *c.Deviation, deviationRowOf, deviationRow.deviation)
	case c.Stage != nil:
		return flat(t.put, e, *c.Stage, stageRowOf, stageRow.stage)
	case c.Covered != nil:
		return flat(t.put, e, *c.Covered, coveredRowOf, coveredRow.covered)
	case c.Diary != nil:
		return flat(t.put, e, *c.Diary, diaryRowOf, diaryRow.page)
	case c.Pack != nil:
		return flat(t.add, e, *c.Pack, packRowOf, packRow.pack)
	case c.Link != nil:
		return flat(t.put, e, *c.Link, linkRowOf, linkRow.link)
	case c.Answer != nil:
		return flat(t.add, e, *c.Answer, answerRowOf, answerRow.answer)
	case c.Tick != nil:
		return flat(t.add, e, *c.Tick, tickRowOf, tickRow.tick)
	case c.OnHand != nil:
		return flat(t.put, e, *c.OnHand, onHandRowOf, onHandRow.onHand)
	case c.Paper != nil:
		return flat(t.put, e, *c.Paper, paperRowOf, paperRow.paper)
	}
	return fmt.Errorf("payload names no object that this release knows")
}

// add inserts a row of a table that is written once.
func (t *tx) add(row any) error { return t.db.Create(row).Error }

// put inserts a row, or writes over the one with its key, all but first_seq.
func (t *tx) put(row any) error {
	return t.db.Clauses(clause.OnConflict{UpdateAll: true}).Create(row).Error
}

// flat writes an object that is columns through and through, after seeing that they would give it back.
func flat[T, R any](write func(any) error, e jobs.Event, object T, to func(jobs.Event, T) (R, error), from func(R) (T, error)) error {
	row, err := to(e, object)
	if err != nil {
		return err
	}
	back, err := from(row)
	if err := faithful(object, back, err); err != nil {
		return err
	}
	return write(&row)
}
