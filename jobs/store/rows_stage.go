package store

import (
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
)

type deviationRow struct {
	Stamp     stamp  `gorm:"embedded"`
	ID        string `gorm:"primaryKey"`
	Number    int
	Kind      string
	CheckID   string
	Stage     string
	Place     placeColumns `gorm:"embedded;embeddedPrefix:place_"`
	What      string
	Missing   string
	ReadingID *string
	OpenedAt  time.Time
	OpenedBy  actorColumns `gorm:"embedded;embeddedPrefix:opened_by_"`
	State     string
	EndedAt   *time.Time
	EndedBy   actorColumns `gorm:"embedded;embeddedPrefix:ended_by_"`
	Reason    string
	Name      string
	EndedWith *string
	Version   int
	FirstSeq  int `gorm:"<-:create"`
}

// TableName is the table.
func (deviationRow) TableName() string { return "deviations" }

func deviationRowOf(e jobs.Event, d jobs.Deviation) (deviationRow, error) {
	missing, err := list(d.Missing)
	return deviationRow{
		Stamp: stampOf(e), ID: d.ID, Number: d.Number, Kind: string(d.Kind), CheckID: d.CheckID, Stage: string(d.Stage), Place: placeColumnsOf(d.Place),
		What: d.What, Missing: missing, ReadingID: reference(d.ReadingID), OpenedAt: d.Opened.UTC(), OpenedBy: actorColumnsOf(d.OpenedBy),
		State: string(d.State), EndedAt: moment(d.Ended), EndedBy: actorColumnsOf(d.EndedBy), Reason: d.Reason, Name: d.Name,
		EndedWith: reference(d.EndedWith), Version: d.Version, FirstSeq: e.Seq,
	}, err
}

func (r deviationRow) deviation() (jobs.Deviation, error) {
	missing, err := listOf[string](r.Missing)
	return jobs.Deviation{
		ID: r.ID, Number: r.Number, Kind: jobs.DeviationKind(r.Kind), CheckID: r.CheckID, Stage: checklist.Stage(r.Stage), Place: r.Place.place(),
		What: r.What, Missing: missing, ReadingID: referred(r.ReadingID), Opened: r.OpenedAt, OpenedBy: r.OpenedBy.actor(),
		State: jobs.DeviationState(r.State), Ended: momentOf(r.EndedAt), EndedBy: r.EndedBy.actor(), Reason: r.Reason, Name: r.Name,
		EndedWith: referred(r.EndedWith), Version: r.Version,
	}, err
}

type stageRow struct {
	Stamp      stamp  `gorm:"embedded"`
	Stage      string `gorm:"primaryKey"`
	Closed     bool
	At         time.Time
	By         actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	Deviations string
	Reason     string
	Version    int
	FirstSeq   int `gorm:"<-:create"`
}

// TableName is the table.
func (stageRow) TableName() string { return "stages" }

func stageRowOf(e jobs.Event, s jobs.StageState) (stageRow, error) {
	deviations, err := list(s.Deviations)
	return stageRow{
		Stamp: stampOf(e), Stage: string(s.Stage), Closed: s.Closed, At: s.At.UTC(), By: actorColumnsOf(s.By), Deviations: deviations,
		Reason: s.Reason, Version: s.Version, FirstSeq: e.Seq,
	}, err
}

func (r stageRow) stage() (jobs.StageState, error) {
	deviations, err := listOf[string](r.Deviations)
	return jobs.StageState{
		Stage: checklist.Stage(r.Stage), Closed: r.Closed, At: r.At, By: r.By.actor(), Deviations: deviations, Reason: r.Reason, Version: r.Version,
	}, err
}

type coveredRow struct {
	Stamp      stamp  `gorm:"embedded"`
	RunID      string `gorm:"primaryKey"`
	CoveredOn  string
	At         time.Time
	By         actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	Note       string
	Deviations string
	FirstSeq   int `gorm:"<-:create"`
}

// TableName is the table.
func (coveredRow) TableName() string { return "covered" }

func coveredRowOf(e jobs.Event, c jobs.Covered) (coveredRow, error) {
	deviations, err := list(c.Deviations)
	return coveredRow{
		Stamp: stampOf(e), RunID: c.RunID, CoveredOn: c.On, At: c.At.UTC(), By: actorColumnsOf(c.By), Note: c.Note, Deviations: deviations, FirstSeq: e.Seq,
	}, err
}

func (r coveredRow) covered() (jobs.Covered, error) {
	deviations, err := listOf[string](r.Deviations)
	return jobs.Covered{RunID: r.RunID, On: r.CoveredOn, At: r.At, By: r.By.actor(), Note: r.Note, Deviations: deviations}, err
}

type diaryRow struct {
	Stamp          stamp  `gorm:"embedded"`
	Day            string `gorm:"primaryKey"`
	Weather        string
	People         string
	Work           string
	Deliveries     string
	Delays         string
	Visitors       string
	FallProtection string
	By             actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	At             time.Time
	Version        int
	FirstSeq       int `gorm:"<-:create"`
}

// TableName is the table.
func (diaryRow) TableName() string { return "diary_pages" }

func diaryRowOf(e jobs.Event, p jobs.DiaryPage) (diaryRow, error) {
	people, err := list(p.People)
	return diaryRow{
		Stamp: stampOf(e), Day: p.Day, Weather: p.Weather, People: people, Work: p.Work, Deliveries: p.Deliveries, Delays: p.Delays,
		Visitors: p.Visitors, FallProtection: p.FallProtection, By: actorColumnsOf(p.By), At: p.At.UTC(), Version: p.Version, FirstSeq: e.Seq,
	}, err
}

func (r diaryRow) page() (jobs.DiaryPage, error) {
	people, err := listOf[jobs.DiaryHand](r.People)
	return jobs.DiaryPage{
		Day: r.Day, Weather: r.Weather, People: people, Work: r.Work, Deliveries: r.Deliveries, Delays: r.Delays, Visitors: r.Visitors,
		FallProtection: r.FallProtection, By: r.By.actor(), At: r.At, Version: r.Version,
	}, err
}
