package store

import (
	"time"

	"newelbook/jobs"
)

// eventRow is one event of a job's chain. Payload is kept to the byte: its digest is of those bytes.
type eventRow struct {
	JobID     string `gorm:"primaryKey"`
	Seq       int    `gorm:"primaryKey"`
	Version   int
	At        time.Time
	UTCOffset string       `gorm:"column:utc_offset"`
	Actor     actorColumns `gorm:"embedded;embeddedPrefix:actor_"`
	Type      string
	Salt      string
	Payload   string
	Digest    string
	Prev      string
	Hash      string
}

// TableName is the table.
func (eventRow) TableName() string { return "events" }

func eventRowOf(e jobs.Event) eventRow {
	return eventRow{
		JobID: e.JobID, Seq: e.Seq, Version: e.Version, At: e.At.UTC(), UTCOffset: e.Offset, Actor: actorColumnsOf(e.Actor),
		Type: e.Type, Salt: e.Salt, Payload: e.Payload, Digest: e.Digest, Prev: e.Prev, Hash: e.Hash,
	}
}

func (r eventRow) event() jobs.Event {
	return jobs.Event{
		Version: r.Version, JobID: r.JobID, Seq: r.Seq, At: r.At, Offset: r.UTCOffset, Actor: r.Actor.actor(),
		Type: r.Type, Salt: r.Salt, Payload: r.Payload, Digest: r.Digest, Prev: r.Prev, Hash: r.Hash,
	}
}
