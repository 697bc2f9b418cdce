package jobs

import (
	"time"
)

// Role is what somebody may do.
type Role string

// Roles. Crew log readings, photographs and the diary; only the builder amends figures, accepts deviations, issues packs
// and makes links. Owner and inspector are guests who opened a link: a claimed identity, never a proven one.
const (
	RoleBuilder   Role = "builder"
	RoleCrew      Role = "crew"
	RoleOwner     Role = "owner"
	RoleInspector Role = "inspector"
)

// Actor is who did something, as the record keeps it.
type Actor struct {
	ID   string `json:"id"`   // account id, or the link's id for a guest
	Name string `json:"name"` // as it was then
	Role Role   `json:"role"`
}

// By is who submits, and the form that was submitted. Form may be empty for a command line or an import; where it is set,
// the same form and body again has no second effect and a different body under the same form is refused.
type By struct {
	Actor Actor
	Form  string // the id that the form carried
	Body  string // SHA-256 of the submitted body, hex
}

// Account is somebody who can sign in. Accounts stay out of the event chain.
type Account struct {
	ID       string
	Name     string // shown in the record
	Login    string // lower case, unique
	Hash     string // argon2id
	Role     Role   // builder or crew
	Disabled bool
	Made     time.Time
	Version  int
}

// Actor is the account as the record names it.
func (a Account) Actor() Actor { return Actor{ID: a.ID, Name: a.Name, Role: a.Role} }
