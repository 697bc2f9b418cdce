package store

import (
	"time"

	"newelbook/jobs"
	"newelbook/media"
)

type paperRow struct {
	Stamp       stamp  `gorm:"embedded"`
	ID          string `gorm:"primaryKey"`
	Number      int
	Media       string
	Name        string
	File        string
	Bytes       int64
	Kind        string
	Title       string
	Dated       string
	Issuer      string
	Place       placeColumns `gorm:"embedded;embeddedPrefix:place_"`
	DeviationID *string
	Amendment   string
	By          actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	ReceivedAt  time.Time
	WithdrawnAt *time.Time
	WithdrawnBy actorColumns `gorm:"embedded;embeddedPrefix:withdrawn_by_"`
	Why         string
	Version     int
	FirstSeq    int `gorm:"<-:create"`
}

// TableName is the table.
func (paperRow) TableName() string { return "papers" }

func paperRowOf(e jobs.Event, p jobs.Paper) (paperRow, error) {
	return paperRow{
		Stamp: stampOf(e), ID: p.ID, Number: p.Number, Media: p.Media.String(), Name: p.Name, File: string(p.File), Bytes: p.Bytes, Kind: string(p.Kind),
		Title: p.Title, Dated: p.On, Issuer: p.Issuer, Place: placeColumnsOf(p.Place), DeviationID: reference(p.DeviationID), Amendment: p.Amendment,
		By: actorColumnsOf(p.By), ReceivedAt: p.Received.UTC(), WithdrawnAt: moment(p.Withdrawn), WithdrawnBy: actorColumnsOf(p.WithdrawnBy), Why: p.Why,
		Version: p.Version, FirstSeq: e.Seq,
	}, nil
}

func (r paperRow) paper() (jobs.Paper, error) {
	id, err := media.ParseID(r.Media)
	return jobs.Paper{
		ID: r.ID, Number: r.Number, Media: id, Name: r.Name, File: media.Kind(r.File), Bytes: r.Bytes, Kind: jobs.PaperKind(r.Kind),
		Title: r.Title, On: r.Dated, Issuer: r.Issuer, Place: r.Place.place(), DeviationID: referred(r.DeviationID), Amendment: r.Amendment,
		By: r.By.actor(), Received: r.ReceivedAt, Withdrawn: momentOf(r.WithdrawnAt), WithdrawnBy: r.WithdrawnBy.actor(), Why: r.Why, Version: r.Version,
	}, err
}
