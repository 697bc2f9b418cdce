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
	// Deep objects come whole from their bodies, so no other column is fetched for them.
	for _, table := range []func() error{
		func() error {
			return load(t, r, jobID, "first_seq", "body", runRow.run, func(v *jobs.Run) jobs.Change { return jobs.Change{Run: v} })
		},
		func() error {
			return load(t, r, jobID, "seq", "body", layoutRow.layout, func(v *jobs.LayoutVersion) jobs.Change { return jobs.Change{Layout: v} })
		},
		func() error {
			return load(t, r, jobID, "seq", "body", readingRow.reading, func(v *jobs.Reading) jobs.Change { return jobs.Change{Reading: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "body", photoRow.photo, func(v *jobs.Photo) jobs.Change { return jobs.Change{Photo: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "*", deviationRow.deviation, func(v *jobs.Deviation) jobs.Change { return jobs.Change{Deviation: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "*", stageRow.stage, func(v *jobs.StageState) jobs.Change { return jobs.Change{Stage: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "*", coveredRow.covered, func(v *jobs.Covered) jobs.Change { return jobs.Change{Covered: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "*", diaryRow.page, func(v *jobs.DiaryPage) jobs.Change { return jobs.Change{Diary: v} })
		},
		func() error {
			return load(t, r, jobID, "seq", "*", packRow.pack, func(v *jobs.IssuedPack) jobs.Change { return jobs.Change{Pack: v} })
		},
		func() error {
			return load(t, r, jobID, "first_seq", "*", linkRow.link, func(v *jobs.Link) jobs.Change { return jobs.Change{Link: v} })
		},
		func() error {
			return load(t, r, jobID, "seq", "*", answerRow.answer, func(v *jobs.Answer) jobs.Change { return jobs.Change{Answer: v} })
		},
	} {
		if err := table(); err != nil {
			return nil, fmt.Errorf("load job %s: %w", jobID, storeError(err))
		}
	}
	r.Head = head
	return r, nil
}

// load takes the rows of one table into a record.
func load[R interface{ TableName() string }, T any](t *tx, r *jobs.Record, jobID, order, columns string, from func(R) (T, error), change func(*T) jobs.Change) error {
	var rows []R
	if err := t.db.Select(columns).Where("job_id = ?", jobID).Order(order).Find(&rows).Error; err != nil {
		return err
	}
	for _, row := range rows {
		object, err := from(row)
		if err != nil {
			return fmt.Errorf("read a row of %s: %w", row.TableName(), err)
		}
		r.Take(change(&object))
	}
	return nil
}
