package store

import (
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

type readingRow struct {
	Stamp         stamp  `gorm:"embedded"`
	ID            string `gorm:"primaryKey"`
	CheckID       string
	CheckKey      string
	Stage         string
	Place         placeColumns `gorm:"embedded;embeddedPrefix:place_"`
	LengthNM      *int64       `gorm:"column:length_nm"`
	Count         *int         // of things; of a moisture content, tenths of a percent
	Seen          string
	Gauge         string
	Tool          string
	NominalNM     *int64 `gorm:"column:nominal_nm"`
	LimitOutcome  string
	LayoutOutcome string
	Verdict       string
	MarginNM      int64        `gorm:"column:margin_nm"`
	DoubtNM       int64        `gorm:"column:doubt_nm"`
	By            actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	ClaimedAt     time.Time
	ReceivedAt    time.Time
	Device        string
	DeviceSeq     int
	RuleSet       string
	LayoutVersion int
	Supersedes    *string
	SameAs        *string
	Body          string
}

// TableName is the table.
func (readingRow) TableName() string { return "readings" }

func readingRowOf(e jobs.Event, r jobs.Reading, body string) readingRow {
	return readingRow{
		Stamp: stampOf(e), ID: r.ID, CheckID: r.CheckID, CheckKey: r.Check.Key, Stage: string(r.Check.Stage), Place: placeColumnsOf(r.Check.Place),
		LengthNM: nanometres(r.Answer.Length), Count: counted(r.Answer), Seen: string(r.Answer.Seen), Gauge: string(r.Answer.Gauge), Tool: string(r.Tool),
		NominalNM: nanometres(r.Check.Nominal), LimitOutcome: string(r.Result.Limit), LayoutOutcome: string(r.Result.Layout),
		Verdict: string(r.Result.Verdict), MarginNM: int64(r.Result.Margin), DoubtNM: int64(r.Result.Doubt), By: actorColumnsOf(r.By),
		ClaimedAt: r.Claimed.UTC(), ReceivedAt: r.Received.UTC(), Device: r.Device, DeviceSeq: r.DeviceSeq, RuleSet: r.RuleSet, LayoutVersion: r.LayoutVersion,
		Supersedes: reference(r.Supersedes), SameAs: reference(r.SameAs), Body: body,
	}
}

func (r readingRow) reading() (jobs.Reading, error) { return bodyOf[jobs.Reading](r.Body) }

// counted is an answer that is a number and no length.
func counted(a checklist.Answer) *int {
	if a.Moisture != nil {
		return new(int(*a.Moisture))
	}
	return a.Count
}

// nanometres is a length that may not be there as a column.
func nanometres(l *length.Length) *int64 {
	if l == nil {
		return nil
	}
	n := int64(*l)
	return &n
}

type photoRow struct {
	Stamp      stamp  `gorm:"embedded"`
	ID         string `gorm:"primaryKey"`
	Number     int
	Media      string
	Kind       string
	Bytes      int64
	Width      int
	Height     int
	Place      placeColumns `gorm:"embedded;embeddedPrefix:place_"`
	Stage      string
	CheckID    string
	By         actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	ReceivedAt time.Time
	Version    int
	FirstSeq   int `gorm:"<-:create"`
	Body       string
}

// TableName is the table.
func (photoRow) TableName() string { return "photos" }

func photoRowOf(e jobs.Event, p jobs.Photo, body string) photoRow {
	return photoRow{
		Stamp: stampOf(e), ID: p.ID, Number: p.Number, Media: p.Media.String(), Kind: p.Kind, Bytes: p.Bytes, Width: p.Width, Height: p.Height,
		Place: placeColumnsOf(p.Place), Stage: string(p.Stage), CheckID: p.CheckID, By: actorColumnsOf(p.By), ReceivedAt: p.Received.UTC(),
		Version: p.Version, FirstSeq: e.Seq, Body: body,
	}
}

func (r photoRow) photo() (jobs.Photo, error) { return bodyOf[jobs.Photo](r.Body) }
