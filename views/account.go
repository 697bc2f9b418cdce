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
}

// NewPeople is the page of people.
func NewPeople(f Frame, accounts []jobs.Account, form Form) PeoplePage {
	p := PeoplePage{Frame: f, Form: form, Name: form.Text("name", ""), Login: form.Text("login", ""), Role: form.Text("role", "")}
	p.Lead = "Owners and inspectors need no account: they get a link to an issued pack."
	for _, a := range accounts {
		note := string(a.Role) + ", signs in as " + a.Login
		if a.Disabled {
			note += ", cannot sign in"
		}
		p.People = append(p.People, Row{Label: a.Name, Note: note})
	}
	return p
}
