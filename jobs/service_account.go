package jobs

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"regexp"
	"strings"
)

const setupKey = "setup_token_hash"

// SetupToken makes a fresh one-time set-up token while there is no account, and returns "" once there is one. Only its
// hash is kept, so a server started again prints a new address and the old one no longer works.
func (s *Service) SetupToken(ctx context.Context) (string, error) {
	secret := make([]byte, 24)
	rand.Read(secret)
	token := base64.RawURLEncoding.EncodeToString(secret)
	err := s.store.Update(ctx, func(tx Tx) error {
		accounts, err := tx.Accounts()
		if err != nil {
			return err
		}
		if len(accounts) > 0 {
			token = ""
			return nil
		}
		return tx.SetSetting(setupKey, TokenHash(token))
	})
	return token, err
}

// AccountInput is an account as typed. Hash is the password's argon2id hash, made outside any transaction; empty keeps
// the old one.
type AccountInput struct {
	Name, Login string
	Role        Role
	Hash        string
}

var loginPattern = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{1,31}$`)

func (in AccountInput) into(a *Account) error {
	var bad InvalidError
	a.Name, a.Login, a.Role = strings.TrimSpace(in.Name), strings.ToLower(strings.TrimSpace(in.Login)), in.Role
	if a.Name == "" {
		bad.Add("name", "Enter the name that stands in the record.")
	}
	if !loginPattern.MatchString(a.Login) {
		bad.Add("login", "Enter a sign-in name of 2 to 32 small letters, digits, dots, dashes or underscores.")
	}
	if a.Role != RoleBuilder && a.Role != RoleCrew {
		bad.Add("role", "Choose builder or crew.")
	}
	if in.Hash != "" {
		a.Hash = in.Hash
	}
	return bad.Err()
}

// Setup makes the builder's account with the one-time token. A wrong or used token is ErrNotFound.
func (s *Service) Setup(ctx context.Context, token string, in AccountInput) (Account, error) {
	var a Account
	err := s.store.Update(ctx, func(tx Tx) error {
		accounts, err := tx.Accounts()
		if err != nil {
			return err
		}
		want, err := tx.Setting(setupKey)
		if err != nil {
			return err
		}
		if len(accounts) > 0 || subtle.ConstantTimeCompare([]byte(want), []byte(TokenHash(token))) != 1 {
			return ErrNotFound
		}
		in.Role = RoleBuilder
		a = Account{ID: NewID(), Made: s.Now()}
		if err := in.into(&a); err != nil {
			return err
		}
		if err := tx.SetSetting(setupKey, ""); err != nil {
			return err
		}
		return tx.SaveAccount(a)
	})
	return a, err
}

// SetupOpen says whether a set-up token still opens.
func (s *Service) SetupOpen(ctx context.Context, token string) (bool, error) {
	open := false
	err := s.store.View(ctx, func(tx Tx) error {
		want, err := tx.Setting(setupKey)
		if errors.Is(err, ErrNotFound) {
			return nil
		}
		open = err == nil && want != "" && subtle.ConstantTimeCompare([]byte(want), []byte(TokenHash(token))) == 1
		return err
	})
	return open, err
}

// Accounts lists everybody who can sign in, by name.
func (s *Service) Accounts(ctx context.Context) ([]Account, error) {
	var out []Account
	err := s.store.View(ctx, func(tx Tx) (err error) {
		out, err = tx.Accounts()
		return err
	})
	return out, err
}

// Account is an account by id.
func (s *Service) Account(ctx context.Context, id string) (Account, error) {
	var a Account
	err := s.store.View(ctx, func(tx Tx) (err error) {
		a, err = tx.Account(id)
		return err
	})
	return a, err
}

// AccountByLogin is an account by its sign-in name, whatever its case.
func (s *Service) AccountByLogin(ctx context.Context, login string) (Account, error) {
	var a Account
	err := s.store.View(ctx, func(tx Tx) (err error) {
		a, err = tx.AccountByLogin(strings.ToLower(strings.TrimSpace(login)))
		return err
	})
	return a, err
}

// AddAccount adds somebody. The sign-in name must be free.
func (s *Service) AddAccount(ctx context.Context, by By, in AccountInput) (string, error) {
	var id string
	err := s.store.Update(ctx, func(tx Tx) error {
		earlier, repeated, err := seen(tx, by)
		if err != nil || repeated {
			id = earlier
			return err
		}
		if by.Actor.Role != RoleBuilder {
			return fmt.Errorf("%w: only the builder adds people", ErrForbidden)
		}
		a := Account{ID: NewID(), Made: s.Now()}
		if err := in.into(&a); err != nil {
			return err
		}
		switch _, err := tx.AccountByLogin(a.Login); {
		case err == nil:
			return &InvalidError{Fields: []FieldError{{Field: "login", Message: "That sign-in name is taken: choose another."}}}
		case !errors.Is(err, ErrNotFound):
			return err
		}
		if err := tx.SaveAccount(a); err != nil {
			return err
		}
		id = a.ID
		return s.remember(tx, by, id, s.Now())
	})
	return id, err
}

// SetPassword replaces an account's password hash and ends its sessions.
func (s *Service) SetPassword(ctx context.Context, login, hash string) error {
	return s.store.Update(ctx, func(tx Tx) error {
		a, err := tx.AccountByLogin(strings.ToLower(strings.TrimSpace(login)))
		if err != nil {
			return err
		}
		a.Hash = hash
		if err := tx.SaveAccount(a); err != nil {
			return err
		}
		return tx.DeleteSessions(a.ID)
	})
}

// RemoveAccount takes an account away and ends its sessions. What it recorded stays, under the name it had. The last
// builder cannot be removed.
func (s *Service) RemoveAccount(ctx context.Context, login string) error {
	return s.store.Update(ctx, func(tx Tx) error {
		a, err := tx.AccountByLogin(strings.ToLower(strings.TrimSpace(login)))
		if err != nil {
			return err
		}
		all, err := tx.Accounts()
		if err != nil {
			return err
		}
		others := 0
		for _, x := range all {
			if x.ID != a.ID && x.Role == RoleBuilder {
				others++
			}
		}
		if a.Role == RoleBuilder && others == 0 {
			return &InvalidError{Fields: []FieldError{{Field: "login", Message: "This is the only builder: add another builder first."}}}
		}
		if err := tx.DeleteSessions(a.ID); err != nil {
			return err
		}
		return tx.DeleteAccount(a.ID)
	})
}
