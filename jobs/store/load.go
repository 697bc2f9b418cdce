package store

import (
	"fmt"

	"newelbook/jobs"
)

// Load reads a job's whole record from the job tables. ErrNotFound for a job that was never made. The order of each list
// is that in which its objects came into the chain.
func (t *tx) Load(jobID string) (*jobs.Record, error) {
	head, err := t.Head(jobID)
	if err != nil {
		return nil, err
	}
	r := jobs.NewRecord()
	var job jobRow
	if err := t.db.Select("body").Where("id = ?", jobID).Take(&job).Error; err != nil {
		return nil, fmt.Errorf("load job %s: %w", jobID, storeError(err))
	}
	object, err := job.job()
	if err != nil {
		return nil, fmt.Errorf("load job %s: %w", jobID, err)
	}
	r.Take(jobs.Change{Job: &object})
	l := loading{tx: t, record: r, jobID: jobID}
	// Deep objects come whole from their bodies, so no other column is fetched for them.
	load(&l, "first_seq", "body", runRow.run, func(v *jobs.Run) jobs.Change { return jobs.Change{Run: v} })
	load(&l, "seq", "body", layoutRow.layout, func(v *jobs.LayoutVersion) jobs.Change { return jobs.Change{Layout: v} })
	load(&l, "seq", "body", readingRow.reading, func(v *jobs.Reading) jobs.Change { return jobs.Change{Reading: v} })
	load(&l, "first_seq", "body", photoRow.photo, func(v *jobs.Photo) jobs.Change { return jobs.Change{Photo: v} })
	load(&l, "first_seq", "*", deviationRow.deviation, func(v *jobs.Deviation) jobs.Change { return jobs.Change{Deviation: v} })
	load(&l, "seq", "*", stageRow.stage, func(v *jobs.StageState) jobs.Change { return jobs.Change{Stage: v} })
	load(&l, "first_seq", "*", coveredRow.covered, func(v *jobs.Covered) jobs.Change { return jobs.Change{Covered: v} })
	load(&l, "first_seq", "*", diaryRow.page, func(v *jobs.DiaryPage) jobs.Change { return jobs.Change{Diary: v} })
	load(&l, "seq", "*", packRow.pack, func(v *jobs.IssuedPack) jobs.Change { return jobs.Change{Pack: v} })
	load(&l, "first_seq", "*", linkRow.link, func(v *jobs.Link) jobs.Change { return jobs.Change{Link: v} })
	load(&l, "seq", "*", answerRow.answer, func(v *jobs.Answer) jobs.Change { return jobs.Change{Answer: v} })
	load(&l, "seq", "*", tickRow.tick, func(v *jobs.Tick) jobs.Change { return jobs.Change{Tick: v} })
	load(&l, "first_seq", "*", onHandRow.onHand, func(v *jobs.OnHand) jobs.Change { return jobs.Change{OnHand: v} })
	load(&l, "first_seq", "*", paperRow.paper, func(v *jobs.Paper) jobs.Change { return jobs.Change{Paper: v} })
	if l.err != nil {
		return nil, fmt.Errorf("load job %s: %w", jobID, storeError(l.err))
	}
	r.Head = head
	return r, nil
}

// loading is a record being loaded table by table. The first error sticks.
type loading struct {
	tx     *tx
	record *jobs.Record
	jobID  string
	err    error
}

// load takes the rows of one table into the record, in the given order.
func load[R interface{ TableName() string }, T any](l *loading, order, columns string, from func(R) (T, error), change func(*T) jobs.Change) {
	if l.err != nil {
		return
	}
	var rows []R
	if l.err = l.tx.db.Select(columns).Where("job_id = ?", l.jobID).Order(order).Find(&rows).Error; l.err != nil {
		return
	}
	for _, row := range rows {
		object, err := from(row)
		if err != nil {
			l.err = fmt.Errorf("read a row of %s: %w", row.TableName(), err)
			return
		}
		l.record.Take(change(&object))
	}
}
