package server

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) showSignIn(c *gin.Context) error {
	if _, ok := s.signedIn(c); ok {
		return s.done(c, local(c.Query("next"), "/jobs"), "")
	}
	return s.show(c, http.StatusOK, views.NewSignIn(s.frame(c, "Sign in"), s.fresh(), local(c.Query("next"), "/jobs")))
}

// signIn opens a session. Too many attempts on one account, or from one address, wait.
func (s *server) signIn(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	ctx, login, next := c.Request.Context(), strings.ToLower(strings.TrimSpace(f.text("login"))), local(f.text("next"), "/jobs")
	refuse := func(status int, faults ...views.FieldError) error {
		page := views.NewSignIn(s.frame(c, "Sign in"), views.Form{ID: jobs.NewID(), Typed: views.Typed(f.values)}, next)
		page.Errors = faults
		return s.show(c, status, page)
	}
	var faults []views.FieldError
	if login == "" {
		faults = append(faults, views.FieldError{Field: "login", Message: "Enter your sign-in name."})
	}
	if f.text("password") == "" {
		faults = append(faults, views.FieldError{Field: "password", Message: "Enter your password."})
	}
	if len(faults) > 0 {
		return refuse(http.StatusUnprocessableEntity, faults...)
	}
	from, now := network(c.ClientIP()), s.Now()
	if !s.callers.allow(from, now) || !s.tries.allow(login+" "+from, now) || !s.logins.allow(login, now) {
		s.Log.Warn("sign-in limited", "from", c.ClientIP())
		c.Header("Retry-After", "60")
		return refuse(http.StatusTooManyRequests, views.FieldError{Message: "Too many attempts: wait a minute and try again."})
	}
	a, ok, err := s.verify(ctx, login, f.text("password"))
	if err != nil {
		return err
	}
	if !ok {
		return refuse(http.StatusUnprocessableEntity, views.FieldError{Field: "login", Message: "Enter a sign-in name and the password that belongs to it: these two do not."})
	}
	if err := s.enter(ctx, a); err != nil {
		return err
	}
	return s.done(c, next, "")
}

func (s *server) signOut(c *gin.Context) error {
	if err := s.sessions.Destroy(c.Request.Context()); err != nil {
		return err
	}
	return s.done(c, "/sign-in", "")
}

// setupOpen refuses a set-up address that no longer opens. Guessing at it is limited by address.
func (s *server) setupOpen(c *gin.Context) error {
	if !s.callers.allow(network(c.ClientIP()), s.Now()) {
		return errTooOften
	}
	open, err := s.Service.SetupOpen(c.Request.Context(), c.Param("token"))
	if err == nil && !open {
		err = jobs.ErrNotFound
	}
	return err
}

func (s *server) showSetup(c *gin.Context) error {
	if err := s.setupOpen(c); err != nil {
		return err
	}
	return s.show(c, http.StatusOK, views.NewSetup(s.frame(c, "Set up"), s.fresh()))
}

// saveSetup makes the builder's account and signs the builder in.
func (s *server) saveSetup(c *gin.Context) error {
	if err := s.setupOpen(c); err != nil {
		return err
	}
	f, err := s.form(c)
	if err != nil {
		return err
	}
	ctx := c.Request.Context()
	hash, err := s.newPassword(c, f)
	var a jobs.Account
	if err == nil {
		a, err = s.Service.Setup(ctx, c.Param("token"), jobs.AccountInput{Name: f.text("name"), Login: f.text("login"), Hash: hash})
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			page := views.NewSetup(s.frame(c, "Set up"), form)
			page.Errors = faults
			return page, nil
		})
	}
	if err := s.enter(ctx, a); err != nil {
		return err
	}
	return s.done(c, "/jobs", "The builder's account is made. The set-up address opens no more.")
}

// newPassword is the hash of the password of a form that makes an account.
func (s *server) newPassword(c *gin.Context, f form) (string, error) {
	password := f.text("password")
	var bad jobs.InvalidError
	if fault := PasswordFault(password); fault != "" {
		bad.Add("password", fault)
	} else if password != f.text("repeat") {
		bad.Add("repeat", "Enter the same password twice.")
	}
	if err := bad.Err(); err != nil {
		return "", err
	}
	return s.hash(c.Request.Context(), password)
}

func (s *server) showPeople(c *gin.Context) error {
	page, err := s.people(c, s.fresh(), nil)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

func (s *server) people(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	accounts, err := s.Service.Accounts(c.Request.Context())
	if err != nil {
		return nil, err
	}
	keys, err := s.Service.SigningKeys(c.Request.Context())
	if err != nil {
		return nil, err
	}
	page := views.NewPeople(s.frame(c, "People"), accounts, keys, form)
	page.Errors = faults
	return page, nil
}

func (s *server) addPerson(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	hash, err := s.newPassword(c, f)
	if err == nil {
		_, err = s.Service.AddAccount(c.Request.Context(), s.passwordless(c, f), jobs.AccountInput{Name: f.text("name"), Login: f.text("login"), Role: jobs.Role(f.text("role")), Hash: hash})
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) { return s.people(c, form, faults) })
	}
	return s.done(c, "/people", strings.TrimSpace(f.text("name"))+" can sign in now.")
}

// passwordless is by without the password in the digest, which is kept.
func (s *server) passwordless(c *gin.Context, f form) jobs.By {
	kept := form{values: map[string][]string{}}
	for name, v := range f.values {
		if name != "password" && name != "repeat" {
			kept.values[name] = v
		}
	}
	return s.by(c, kept)
}
