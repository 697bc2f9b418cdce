package store

import (
	"time"

	"newelbook/jobs"
)

type jobRow struct {
	ID          string `gorm:"primaryKey"`
	Ref         string
	Name        string
	Site        string
	RuleSet     string
	Units       string
	Zone        string
	Begun       *string
	Lat         *float64
	Lon         *float64
	PhotoPolicy string
	MadeAt      time.Time
	Version     int
	Seq         int
	Body        string
}

// TableName is the table.
func (jobRow) TableName() string { return "jobs" }

func jobRowOf(e jobs.Event, j jobs.Job, body string) jobRow {
	return jobRow{
		ID: j.ID, Ref: j.Ref, Name: j.Name, Site: j.Site, RuleSet: j.RuleSet, Units: string(j.Units), Zone: j.Zone, Begun: reference(j.Begun),
		Lat: j.Lat, Lon: j.Lon, PhotoPolicy: string(j.Photo), MadeAt: j.Made.UTC(), Version: j.Version, Seq: e.Seq, Body: body,
	}
}

func (r jobRow) job() (jobs.Job, error) { return bodyOf[jobs.Job](r.Body) }

type runRow struct {
	Stamp        stamp  `gorm:"embedded"`
	ID           string `gorm:"primaryKey"`
	Label        string
	Kind         string
	Position     int
	Retired      bool
	LengthNM     int64 `gorm:"column:length_nm"`
	DeckHeightNM int64 `gorm:"column:deck_height_nm"`
	Version      int
	FirstSeq     int `gorm:"<-:create"`
	Body         string
}

// TableName is the table.
func (runRow) TableName() string { return "runs" }

func runRowOf(e jobs.Event, r jobs.Run, body string) runRow {
	return runRow{
		Stamp: stampOf(e), ID: r.ID, Label: r.Label, Kind: string(r.Kind), Position: r.Order, Retired: r.Retired, LengthNM: int64(r.Length),
		DeckHeightNM: int64(r.DeckHeight), Version: r.Version, FirstSeq: e.Seq, Body: body,
	}
}

func (r runRow) run() (jobs.Run, error) { return bodyOf[jobs.Run](r.Body) }

type layoutRow struct {
	Stamp   stamp  `gorm:"embedded"`
	RunID   string `gorm:"primaryKey"`
	Version int    `gorm:"primaryKey"`
	At      time.Time
	Basis   string
	Body    string
}

// TableName is the table.
func (layoutRow) TableName() string { return "layouts" }

func layoutRowOf(e jobs.Event, v jobs.LayoutVersion, body string) layoutRow {
	return layoutRow{Stamp: stampOf(e), RunID: v.RunID, Version: v.Version, At: v.At.UTC(), Basis: v.Basis, Body: body}
}

func (r layoutRow) layout() (jobs.LayoutVersion, error) { return bodyOf[jobs.LayoutVersion](r.Body) }
