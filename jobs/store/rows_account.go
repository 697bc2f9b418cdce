package store

import (
	"time"

	"newelbook/jobs"
)

type accountRow struct {
	ID       string `gorm:"primaryKey"`
	Name     string
	Login    string
	Hash     string
	Role     string
	Disabled bool
	MadeAt   time.Time
	Version  int
}

// TableName is the table.
func (accountRow) TableName() string { return "accounts" }

func accountRowOf(a jobs.Account) accountRow {
	return accountRow{
		ID: a.ID, Name: a.Name, Login: a.Login, Hash: a.Hash, Role: string(a.Role), Disabled: a.Disabled, MadeAt: a.Made.UTC(), Version: a.Version,
	}
}

func (r accountRow) account() jobs.Account {
	return jobs.Account{
		ID: r.ID, Name: r.Name, Login: r.Login, Hash: r.Hash, Role: jobs.Role(r.Role), Disabled: r.Disabled, Made: r.MadeAt, Version: r.Version,
	}
}

type formRow struct {
	ID       string `gorm:"primaryKey"`
	BodyHash string
	Result   string
	At       time.Time
}

// TableName is the table.
func (formRow) TableName() string { return "forms" }

func formRowOf(f jobs.Form) formRow {
	return formRow{ID: f.ID, BodyHash: f.Body, Result: f.Result, At: f.At.UTC()}
}

func (r formRow) form() jobs.Form {
	return jobs.Form{ID: r.ID, Body: r.BodyHash, Result: r.Result, At: r.At}
}

type settingRow struct {
	Key   string `gorm:"primaryKey"`
	Value string
}

// TableName is the table.
func (settingRow) TableName() string { return "settings" }

// sessionRow is a session. It has no domain object: Data is the session library's own.
type sessionRow struct {
	TokenHash string `gorm:"primaryKey"`
	Data      []byte
	ExpiresAt time.Time
	AccountID *string
	Ended     bool
}

// TableName is the table.
func (sessionRow) TableName() string { return "sessions" }
