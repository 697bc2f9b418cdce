package store

import (
	"errors"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
)

type packRow struct {
	Stamp      stamp `gorm:"embedded"`
	Number     int   `gorm:"primaryKey;autoIncrement:false"`
	IssuedAt   time.Time
	By         actorColumns `gorm:"embedded;embeddedPrefix:by_"`
	Purpose    string
	Hash       string
	RecordHash string
	HeadSeq    int
	HeadHash   string
	Originals  bool
	Open       string
	SignedBy   string
	Editions   string

	NoPositions bool
}

// TableName is the table.
func (packRow) TableName() string { return "packs" }

func packRowOf(e jobs.Event, p jobs.IssuedPack) (packRow, error) {
	open, err := list(p.Open)
	editions, again := list(p.Editions)
	return packRow{
		Stamp: stampOf(e), Number: p.Number, IssuedAt: p.Issued.UTC(), By: actorColumnsOf(p.By), Purpose: p.Purpose, Hash: p.Hash,
		RecordHash: p.RecordHash, HeadSeq: p.HeadSeq, HeadHash: p.HeadHash, Originals: p.Originals, NoPositions: p.NoPositions, Open: open, SignedBy: p.SignedBy, Editions: editions,
	}, errors.Join(err, again)
}

func (r packRow) pack() (jobs.IssuedPack, error) {
	open, err := listOf[string](r.Open)
	editions, again := listOf[string](r.Editions)
	return jobs.IssuedPack{
		Number: r.Number, Issued: r.IssuedAt, By: r.By.actor(), Purpose: r.Purpose, Hash: r.Hash, RecordHash: r.RecordHash,
		HeadSeq: r.HeadSeq, HeadHash: r.HeadHash, Originals: r.Originals, NoPositions: r.NoPositions, Open: open, SignedBy: r.SignedBy, Editions: editions,
	}, errors.Join(err, again)
}

type linkRow struct {
	Stamp     stamp  `gorm:"embedded"`
	ID        string `gorm:"primaryKey"`
	TokenHash string
	ForRole   string
	Name      string
	Pack      int
	MadeAt    time.Time
	MadeBy    actorColumns `gorm:"embedded;embeddedPrefix:made_by_"`
	ExpiresAt time.Time
	RevokedAt *time.Time
	FirstSeq  int `gorm:"<-:create"`
}

// TableName is the table.
func (linkRow) TableName() string { return "links" }

func linkRowOf(e jobs.Event, l jobs.Link) (linkRow, error) {
	return linkRow{
		Stamp: stampOf(e), ID: l.ID, TokenHash: l.TokenHash, ForRole: string(l.For), Name: l.Name, Pack: l.Pack, MadeAt: l.Made.UTC(),
		MadeBy: actorColumnsOf(l.MadeBy), ExpiresAt: l.Expires.UTC(), RevokedAt: moment(momentOf(l.Revoked)), FirstSeq: e.Seq,
	}, nil
}

func (r linkRow) link() (jobs.Link, error) {
	return jobs.Link{
		ID: r.ID, TokenHash: r.TokenHash, For: jobs.Role(r.ForRole), Name: r.Name, Pack: r.Pack, Made: r.MadeAt,
		MadeBy: r.MadeBy.actor(), Expires: r.ExpiresAt, Revoked: r.RevokedAt,
	}, nil
}

type answerRow struct {
	Stamp      stamp  `gorm:"embedded"`
	ID         string `gorm:"primaryKey"`
	LinkID     string
	FromRole   string
	Pack       int
	PackHash   string
	Kind       string
	Outcome    string
	Stage      string
	Place      string
	Text       string
	Name       string
	Office     string
	AnsweredOn string
	At         time.Time
	Signature  string
}

// TableName is the table.
func (answerRow) TableName() string { return "answers" }

func answerRowOf(e jobs.Event, a jobs.Answer) (answerRow, error) {
	return answerRow{
		Stamp: stampOf(e), ID: a.ID, LinkID: a.LinkID, FromRole: string(a.From), Pack: a.Pack, PackHash: a.PackHash, Kind: string(a.Kind),
		Outcome: a.Outcome, Stage: string(a.Stage), Place: a.Place, Text: a.Text, Name: a.Name, Office: a.Office, AnsweredOn: a.On, At: a.At.UTC(), Signature: a.Signature,
	}, nil
}

func (r answerRow) answer() (jobs.Answer, error) {
	return jobs.Answer{
		ID: r.ID, LinkID: r.LinkID, From: jobs.Role(r.FromRole), Pack: r.Pack, PackHash: r.PackHash, Kind: jobs.AnswerKind(r.Kind),
		Outcome: r.Outcome, Stage: checklist.Stage(r.Stage), Place: r.Place, Text: r.Text, Name: r.Name, Office: r.Office, On: r.AnsweredOn, At: r.At, Signature: r.Signature,
	}, nil
}
