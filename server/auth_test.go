package server_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/server"
)

func TestPasswordFault(t *testing.T) {
	for _, c := range []struct {
		password string
		ok       bool
	}{{"short", false}, {"123456789", false}, {"1234567890", true}, {"αβγδεζηθικ", true}, {strings.Repeat("x", 200), true}, {strings.Repeat("x", 201), false}} {
		if got := server.PasswordFault(c.password); (got == "") != c.ok {
			t.Errorf("PasswordFault(%d characters) = %q, want ok %v", len([]rune(c.password)), got, c.ok)
		}
	}
}

func TestSetup(t *testing.T) {
	s := newSite(t)
	token, err := s.service.SetupToken(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b, path := s.visitor(), "/setup/"+token
	b.get("/setup/guess").want(http.StatusNotFound)
	b.page(path).says("the builder's")
	a := b.post(path, url.Values{"form_id": {jobs.NewID()}, "name": {"Ada Sample"}, "login": {"a b"}, "password": {"four posts in a row"}, "repeat": {"four posts in a row"}}).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"login": "2 to 32 small letters"})
	if got := a.body; strings.Contains(got, "four posts in a row") {
		t.Error("the page that came back holds the password")
	}
	b.post(path, url.Values{"name": {"Ada Sample"}, "login": {"ada"}, "password": {"short"}}).want(http.StatusUnprocessableEntity).
		faults(map[string]string{"password": "at least 10 characters"})
	b.post(path, url.Values{"name": {"Ada Sample"}, "login": {"ada"}, "password": {password}, "repeat": {"something else"}}).want(http.StatusUnprocessableEntity).
		faults(map[string]string{"repeat": "same password twice"})
	a = b.post(path, url.Values{"name": {"Ada Sample"}, "login": {"ada"}, "password": {password}, "repeat": {password}})
	b.follow(a).says("The builder's account is made", "Ada Sample", "No job yet")
	b.get(path).want(http.StatusNotFound)
}

func TestSignIn(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.visitor()
	if a := b.get("/jobs/abc?x=1"); a.status != http.StatusSeeOther || a.location != "/sign-in?next=%2Fjobs%2Fabc%3Fx%3D1" {
		t.Errorf("signed out: %d to %q", a.status, a.location)
	}
	b.post("/sign-in", url.Values{}).want(http.StatusUnprocessableEntity).faults(map[string]string{"login": "Enter your sign-in name", "password": "Enter your password"})
	a := b.post("/sign-in", url.Values{"login": {"ada"}, "password": {"not this one"}, "next": {"/people"}}).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"login": "these two do not"})
	if got := a.fields("/sign-in"); got.Get("login") != "ada" || got.Get("next") != "/people" || got.Get("password") != "" {
		t.Errorf("fields kept = %v", got)
	}
	b.post("/sign-in", url.Values{"login": {"nobody"}, "password": {password}}).want(http.StatusUnprocessableEntity)
	a = b.post("/sign-in", url.Values{"login": {" ADA "}, "password": {password}, "next": {"https://elsewhere.example/"}})
	if a.location != "/jobs" {
		t.Errorf("sign-in with a foreign next leads to %q, want /jobs", a.location)
	}
	cookie := a.header.Get("Set-Cookie")
	for _, part := range []string{"HttpOnly", "SameSite=Lax"} {
		if !strings.Contains(cookie, part) {
			t.Errorf("cookie %q lacks %s", cookie, part)
		}
	}
	if a := b.get("/sign-in?next=/people"); a.location != "/people" {
		t.Errorf("sign-in when signed in leads to %q", a.location)
	}
	b.post("/sign-out", nil).want(http.StatusSeeOther)
	if a := b.get("/jobs"); a.status != http.StatusSeeOther {
		t.Errorf("after signing out: %d", a.status)
	}
}

func TestSignInLimit(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.visitor()
	try := func(login string) int {
		return b.post("/sign-in", url.Values{"login": {login}, "password": {"not this one"}}).status
	}
	for i := range 5 {
		if got := try("ada"); got != http.StatusUnprocessableEntity {
			t.Fatalf("attempt %d: %d, want 422", i+1, got)
		}
	}
	a := b.post("/sign-in", url.Values{"login": {"ada"}, "password": {password}}).want(http.StatusTooManyRequests)
	a.says("Too many attempts")
	if a.header.Get("Retry-After") == "" {
		t.Error("no Retry-After")
	}
	s.as("ben") // another account is not held up
	s.clock.forward(31 * time.Second)
	s.as("ada")
	limited := false
	for range 40 {
		limited = limited || try(jobs.NewID()) == http.StatusTooManyRequests
	}
	if !limited {
		t.Error("forty accounts tried from one address were not limited")
	}
}

// TestSignInHeldUp guesses at an account from elsewhere: its owner still gets in, until guesses come from so many networks that they are
// too many for any account.
func TestSignInHeldUp(t *testing.T) {
	s := newSite(t).withPeople()
	guess := func(from string) int {
		form := url.Values{"login": {"ada"}, "password": {"not this one"}}
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/sign-in", strings.NewReader(form.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("X-Forwarded-For", from)
		return s.visitor().do(r).status
	}
	for i := range 40 { // one line of the network, an address of its own each time
		want := http.StatusUnprocessableEntity
		if i >= 5 {
			want = http.StatusTooManyRequests
		}
		if got := guess(fmt.Sprintf("2001:db8:7:1::%x", i)); got != want {
			t.Fatalf("guess %d from one network: %d, want %d", i+1, got, want)
		}
	}
	s.as("ada")
	limited := 0
	for i := range 110 {
		if guess(fmt.Sprintf("198.51.100.%d", i)) == http.StatusTooManyRequests {
			limited++
		}
	}
	if limited == 0 || limited > 20 {
		t.Errorf("%d of 110 guesses from as many networks were limited, want some ten of them", limited)
	}
}

func TestSessionEnds(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ben")
	b.page("/jobs")
	hash, err := server.HashPassword("another one by now")
	if err != nil {
		t.Fatal(err)
	}
	if err := s.service.SetPassword(t.Context(), "ben", hash); err != nil {
		t.Fatal(err)
	}
	if a := b.get("/jobs"); a.status != http.StatusSeeOther {
		t.Errorf("with an old session after a new password: %d, want 303", a.status)
	}
	ada := s.as("ada")
	if err := s.service.RemoveAccount(t.Context(), "ben"); err != nil {
		t.Fatal(err)
	}
	ada.page("/people").silent("Ben Sample")
}

func TestPeople(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	v := with(b.page("/people").fields("/people"), "name", "Cy Sample", "login", "ben", "role", "crew", "password", password, "repeat", password)
	b.post("/people", v).want(http.StatusUnprocessableEntity).faults(map[string]string{"login": "taken"})
	v.Set("login", "cy")
	first := b.post("/people", v)
	b.follow(first).says("Cy Sample can sign in now", "signs in as cy")
	if again := b.post("/people", v); again.status != http.StatusSeeOther {
		t.Errorf("the same form again: %d, want 303", again.status)
	}
	accounts, err := s.service.Accounts(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(accounts) != 3 {
		t.Errorf("%d accounts, want 3", len(accounts))
	}
	s.as("cy").page("/jobs").says("Signed in as Cy Sample")
}
