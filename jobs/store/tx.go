package store

import (
	"fmt"
	"time"

	"gorm.io/gorm"

	"newelbook/jobs"
)

// tx is one transaction: jobs.Tx. The outer pools are out of its reach.
type tx struct{ db *gorm.DB }

var _ jobs.Tx = (*tx)(nil)

// Jobs lists every job, newest first.
func (t *tx) Jobs() ([]jobs.Summary, error) {
	var rows []struct {
		ID, Ref, Name, Site string
		MadeAt              time.Time
		Events              int
		ChangedAt           time.Time
	}
	err := t.db.Raw(`SELECT j.id, j.ref, j.name, j.site, j.made_at, e.seq AS events, e.at AS changed_at
		FROM jobs j JOIN events e ON e.job_id = j.id AND e.seq = (SELECT max(seq) FROM events WHERE job_id = j.id)
		ORDER BY j.made_at DESC, j.id`).Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("list jobs: %w", storeError(err))
	}
	var out []jobs.Summary
	for _, r := range rows {
		out = append(out, jobs.Summary{ID: r.ID, Ref: r.Ref, Name: r.Name, Site: r.Site, Made: r.MadeAt, Changed: r.ChangedAt, Events: r.Events})
	}
	return out, nil
}

// Head is the last event of a job's chain. ErrNotFound for a job that was never made.
func (t *tx) Head(jobID string) (jobs.Head, error) {
	var row eventRow
	if err := t.db.Select("seq", "hash").Where("job_id = ?", jobID).Order("seq DESC").Take(&row).Error; err != nil {
		return jobs.Head{}, fmt.Errorf("head of job %s: %w", jobID, storeError(err))
	}
	return jobs.Head{Seq: row.Seq, Hash: row.Hash}, nil
}

// Append writes a sealed event and the row of the object that it changed. An event that does not follow the head, or that
// is not sealed to it, is refused.
func (t *tx) Append(e jobs.Event) error {
	var head jobs.Head
	var rows []eventRow
	if err := t.db.Select("seq", "hash").Where("job_id = ?", e.JobID).Order("seq DESC").Limit(1).Find(&rows).Error; err != nil {
		return fmt.Errorf("append event %d to job %s: %w", e.Seq, e.JobID, storeError(err))
	}
	if len(rows) == 1 {
		head = rows[0].event().Head()
	}
	if e.Seq != head.Seq+1 || e.Prev != head.Hash {
		return fmt.Errorf("append event %d to job %s: it does not follow event %d, the last one", e.Seq, e.JobID, head.Seq)
	}
	if sealed := e.Seal(head); e.Version == sealed.Version && (e.Digest != sealed.Digest || e.Hash != sealed.Hash) {
		return fmt.Errorf("append event %d to job %s: it is not sealed", e.Seq, e.JobID)
	}
	row := eventRowOf(e)
	if err := t.db.Create(&row).Error; err != nil {
		return fmt.Errorf("append event %d to job %s: %w", e.Seq, e.JobID, storeError(err))
	}
	if err := t.project(e); err != nil {
		return fmt.Errorf("append event %d (%s) to job %s: %w", e.Seq, e.Type, e.JobID, storeError(err))
	}
	return nil
}

// Events reads a job's chain from sequence from on, in order. ErrNotFound for a job that was never made; none where the
// chain ends before from.
func (t *tx) Events(jobID string, from int) ([]jobs.Event, error) {
	if _, err := t.Head(jobID); err != nil {
		return nil, err
	}
	var rows []eventRow
	if err := t.db.Where("job_id = ? AND seq >= ?", jobID, from).Order("seq").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("events of job %s: %w", jobID, storeError(err))
	}
	var out []jobs.Event
	for _, r := range rows {
		out = append(out, r.event())
	}
	return out, nil
}

// LinkJob is the job that a link belongs to, by the hash of its token.
func (t *tx) LinkJob(tokenHash string) (string, error) {
	var row linkRow
	if err := t.db.Select("job_id").Where("token_hash = ?", tokenHash).Take(&row).Error; err != nil {
		return "", fmt.Errorf("link: %w", storeError(err))
	}
	return row.Stamp.JobID, nil
}
