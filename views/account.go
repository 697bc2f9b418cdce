package views

import (
	"newelbook/jobs"
)

// SignInPage asks who it is.
type SignInPage struct {
	Frame
	Form        Form
	Login, Next string
}

// NewSignIn is the sign-in page; next is where one goes afterwards.
func NewSignIn(f Frame, form Form, next string) SignInPage {
	return SignInPage{Frame: f, Form: form, Login: form.Text("login", ""), Next: next}
}

// SetupPage makes the builder's account at the first start.
type SetupPage struct {
	Frame
	Form        Form
	Name, Login string
}

// NewSetup is the set-up page.
func NewSetup(f Frame, form Form) SetupPage {
	f.Lead = "This account is yours, the builder's: it makes jobs, adds crew, issues packs and answers for deviations."
	return SetupPage{Frame: f, Form: form, Name: form.Text("name", ""), Login: form.Text("login", "")}
}

// PeoplePage lists who can sign in and adds somebody.
type PeoplePage struct {
	Frame
	Form              Form
	People            []Row
	Name, Login, Role string
	Keys              []Row // those that packs are and were signed with, the one in use first
}

// NewPeople is the page of people and of the installation's keys, given in order of first use.
func NewPeople(f Frame, accounts []jobs.Account, keys []jobs.SigningKey, form Form) PeoplePage {
	p := PeoplePage{Frame: f, Form: form, Name: form.Text("name", ""), Login: form.Text("login", ""), Role: form.Text("role", "")}
	p.Lead = "Owners and inspectors need no account: they get a link to an issued pack."
	for _, a := range accounts {
		note := string(a.Role) + ", signs in as " + a.Login
		if a.Disabled {
			note += ", cannot sign in"
		}
		p.People = append(p.People, Row{Label: a.Name, Note: note})
	}
	for i := len(keys) - 1; i >= 0; i-- {
		note := "in use since " + keys[i].Since.Format("2 Jan 2006")
		if i < len(keys)-1 {
			note = "used from " + keys[i].Since.Format("2 Jan 2006") + ", until another took its place"
		}
		p.Keys = append(p.Keys, Row{Label: groupsOf(keys[i].Fingerprint, 8), Note: note})
	}
	return p
}
