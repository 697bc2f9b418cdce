package store

import (
	"time"

	"newelbook/checklist/length"
	"newelbook/jobs"
)

type tickRow struct {
	Stamp         stamp  `gorm:"embedded"`
	ID            string `gorm:"primaryKey"`
	PieceID       string
	RunID         string
	Label         string
	What          string
	Section       string
	LengthNM      int64 `gorm:"column:length_nm"`
	Count         int
	Step          string
	Done          int
	LayoutVersion int
	At            time.Time
	By            actorColumns `gorm:"embedded;embeddedPrefix:by_"`
}

// TableName is the table.
func (tickRow) TableName() string { return "ticks" }

func tickRowOf(e jobs.Event, t jobs.Tick) (tickRow, error) {
	return tickRow{
		Stamp: stampOf(e), ID: t.ID, PieceID: t.PieceID, RunID: t.RunID, Label: t.Label, What: t.What, Section: t.Section, LengthNM: int64(t.Length),
		Count: t.Count, Step: string(t.Step), Done: t.Done, LayoutVersion: t.Layout, At: t.At.UTC(), By: actorColumnsOf(t.By),
	}, nil
}

func (r tickRow) tick() (jobs.Tick, error) {
	return jobs.Tick{
		ID: r.ID, PieceID: r.PieceID, RunID: r.RunID, Label: r.Label, What: r.What, Section: r.Section, Length: length.Length(r.LengthNM),
		Count: r.Count, Step: jobs.Step(r.Step), Done: r.Done, Layout: r.LayoutVersion, At: r.At, By: r.By.actor(),
	}, nil
}

type onHandRow struct {
	Stamp    stamp  `gorm:"embedded"`
	ID       string `gorm:"primaryKey"`
	Section  string
	Species  string
	LengthNM int64 `gorm:"column:length_nm"`
	Count    int
	Offcut   bool
	From     string `gorm:"column:come_from"`
	Why      string
	At       time.Time
	By       actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	Version  int
	FirstSeq int `gorm:"<-:create"`
}

// TableName is the table.
func (onHandRow) TableName() string { return "on_hand" }

func onHandRowOf(e jobs.Event, o jobs.OnHand) (onHandRow, error) {
	return onHandRow{
		Stamp: stampOf(e), ID: o.ID, Section: o.Section, Species: o.Species, LengthNM: int64(o.Length), Count: o.Count, Offcut: o.Offcut, From: o.From,
		Why: o.Why, At: o.At.UTC(), By: actorColumnsOf(o.By), Version: o.Version, FirstSeq: e.Seq,
	}, nil
}

func (r onHandRow) onHand() (jobs.OnHand, error) {
	return jobs.OnHand{
		ID: r.ID, Section: r.Section, Species: r.Species, Length: length.Length(r.LengthNM), Count: r.Count, Offcut: r.Offcut, From: r.From,
		Why: r.Why, At: r.At, By: r.By.actor(), Version: r.Version,
	}, nil
}
