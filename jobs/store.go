package jobs

import (
	"context"
	"time"
)

// Store keeps jobs. View and Update run one transaction each; inside it, only the Tx is in scope.
type Store interface {
	// View runs f in a read-only transaction on one snapshot.
	View(ctx context.Context, f func(Tx) error) error
	// Update runs f in a writing transaction: nil commits, an error rolls back everything. Writers wait for one another.
	Update(ctx context.Context, f func(Tx) error) error
}

// Tx is one transaction. Lookups return ErrNotFound for what is not there.
type Tx interface {
	// Jobs lists every job, newest first.
	Jobs() ([]Summary, error)
	// Head is the last event of a job's chain.
	Head(jobID string) (Head, error)
	// Load reads a job's whole record from the job tables.
	Load(jobID string) (*Record, error)
	// Append writes a sealed event and, in the same transaction, the row of the object that it changed. Events must follow
	// the stored head one by one; a gap or a repeat is an error.
	Append(e Event) error
	// Events reads a job's chain from sequence from on, in order.
	Events(jobID string, from int) ([]Event, error)

	// Form is a form submitted before.
	Form(id string) (Form, error)
	// SaveForm keeps a submitted form; the same id twice is an error.
	SaveForm(Form) error

	// LinkJob is the job that a link belongs to, by the hash of its token.
	LinkJob(tokenHash string) (jobID string, err error)

	Accounts() ([]Account, error)
	Account(id string) (Account, error)
	AccountByLogin(login string) (Account, error)
	// SaveAccount adds an account, or replaces it where Version is the stored one (and counts it up).
	SaveAccount(Account) error
	DeleteAccount(id string) error
	// DeleteSessions ends every session of an account.
	DeleteSessions(accountID string) error

	// Setting and SetSetting keep the installation's own facts (the hash of the set-up token).
	Setting(key string) (string, error)
	SetSetting(key, value string) error
}

// Summary is a job in the list of jobs.
type Summary struct {
	ID, Ref, Name, Site string
	Made                time.Time
	Changed             time.Time // of the last event
	Events              int
}

// Form is a submitted form: its id, the hash of its body and what came of it.
type Form struct {
	ID     string
	Body   string
	Result string
	At     time.Time
}
