package server

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"
	"github.com/gin-gonic/gin"

	"newelbook/jobs"
)

// hashParams are argon2id's: 19 MiB, two passes, one lane. About 30 ms on a small machine.
func hashParams() *argon2id.Params {
	return &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}
}

// HashPassword makes the argon2id hash that an account keeps.
func HashPassword(password string) (string, error) {
	hash, err := argon2id.CreateHash(password, hashParams())
	if err != nil {
		return "", fmt.Errorf("hash password: %w", err)
	}
	return hash, nil
}

// nobodysHash is written as HashPassword writes a hash, but of random bytes: no password matches it, and to find that out takes as
// long as for any other. Making a real one took more time and memory than the rest of the start.
func nobodysHash() string {
	p := hashParams() // and version 19 of the algorithm, that of RFC 9106
	random := make([]byte, p.SaltLength+p.KeyLength)
	rand.Read(random)
	text := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=19$m=%d,t=%d,p=%d$%s$%s", p.Memory, p.Iterations, p.Parallelism, text(random[:p.SaltLength]), text(random[p.SaltLength:]))
}

// Lengths of a password, in characters and in bytes.
const (
	leastPassword = 10
	mostPassword  = 200
)

// PasswordFault is what is wrong with a new password, a finished sentence, or empty.
func PasswordFault(password string) string {
	switch {
	case utf8.RuneCountInString(password) < leastPassword:
		return fmt.Sprintf("Enter a password of at least %d characters; a few words in a row are good.", leastPassword)
	case len(password) > mostPassword:
		return fmt.Sprintf("Enter a password of at most %d characters.", mostPassword)
	}
	return ""
}

// turn waits for one of the two places where passwords are hashed, since each takes 19 MiB, and returns how to leave it.
func (s *server) turn(ctx context.Context) (leave func(), err error) {
	select {
	case s.hashing <- struct{}{}:
		return func() { <-s.hashing }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (s *server) hash(ctx context.Context, password string) (string, error) {
	leave, err := s.turn(ctx)
	if err != nil {
		return "", err
	}
	defer leave()
	return HashPassword(password)
}

func (s *server) matches(ctx context.Context, password, hash string) (bool, error) {
	if len(password) > mostPassword {
		return false, nil
	}
	leave, err := s.turn(ctx)
	if err != nil {
		return false, err
	}
	defer leave()
	return argon2id.ComparePasswordAndHash(password, hash)
}

// verify looks an account up and compares the password. An unknown name takes as long as a wrong password.
func (s *server) verify(ctx context.Context, login, password string) (jobs.Account, bool, error) {
	a, err := s.Service.AccountByLogin(ctx, login)
	unknown := errors.Is(err, jobs.ErrNotFound)
	if err != nil && !unknown {
		return jobs.Account{}, false, err
	}
	hash := a.Hash
	if unknown || hash == "" {
		hash = s.nobody
	}
	same, err := s.matches(ctx, password, hash)
	return a, same && !unknown && a.Hash != "" && !a.Disabled, err
}

// enter opens a session for an account, under a new token.
func (s *server) enter(ctx context.Context, a jobs.Account) error {
	if err := s.sessions.RenewToken(ctx); err != nil {
		return fmt.Errorf("renew session: %w", err)
	}
	s.sessions.Put(ctx, accountKey, a.ID)
	return s.Sessions.BindSession(ctx, s.sessions.Token(ctx), a.ID)
}

// known finds the account of the session. A session whose account is gone or disabled is no session.
func (s *server) known(c *gin.Context) {
	ctx := c.Request.Context()
	id := s.sessions.GetString(ctx, accountKey)
	if id == "" {
		return
	}
	a, err := s.Service.Account(ctx, id)
	switch {
	case err == nil && !a.Disabled:
		c.Set(accountKey, a)
	case err == nil || errors.Is(err, jobs.ErrNotFound):
		if err := s.sessions.Destroy(ctx); err != nil {
			s.fail(c, fmt.Errorf("end session: %w", err))
			c.Abort()
		}
	default:
		s.fail(c, err)
		c.Abort()
	}
}

// signedIn is the account of the session.
func (s *server) signedIn(c *gin.Context) (jobs.Account, bool) {
	v, ok := c.Get(accountKey)
	if !ok {
		return jobs.Account{}, false
	}
	a, ok := v.(jobs.Account)
	return a, ok
}

// account is the account of the session on a route that asks for one.
func (s *server) account(c *gin.Context) jobs.Account {
	a, _ := s.signedIn(c)
	return a
}

// isBuilder says whether the builder is signed in, for what a page offers.
func (s *server) isBuilder(c *gin.Context) bool { return s.account(c).Role == jobs.RoleBuilder }
