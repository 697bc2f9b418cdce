package server

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path"
	"runtime/debug"
	"strings"
	"time"

	"github.com/gin-gonic/gin"
)

// requestKey is the context key of the request's id.
type requestKey struct{}

// identify gives every request an id, for the log and for a page that says that something went wrong.
func (s *server) identify(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		b := make([]byte, 6)
		rand.Read(b)
		id := hex.EncodeToString(b)
		w.Header().Set("X-Request-Id", id)
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), requestKey{}, id)))
	})
}

func requestID(ctx context.Context) string {
	id, _ := ctx.Value(requestKey{}).(string)
	return id
}

// policy is what pages may load: the server's own files, and no script, style or frame written into a page.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"

// headers sets the security headers. Pages are kept by nobody but the reader's own browser, which asks again. The referrer stays on
// this site: it names links and jobs. It is not withheld from the site itself, since browsers then withhold the origin of a
// post as well, by which cross-site posts are told.
func (s *server) headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "private, no-cache")
		next.ServeHTTP(w, r)
	})
}

// logged writes one line a request, also for one that is cut short. The query is left out: it may hold what somebody typed.
func (s *server) logged(c *gin.Context) {
	began := s.Now()
	defer func() {
		s.Log.Info("request", "id", requestID(c.Request.Context()), "method", c.Request.Method, "path", redact(c.Request.URL.Path),
			"status", c.Writer.Status(), "bytes", max(c.Writer.Size(), 0), "took", s.Now().Sub(began), "from", c.ClientIP())
	}()
	c.Next()
}

// redact takes the token out of the path of a link or of the set-up address, also out of one that was put together wrongly.
func redact(address string) string {
	address = path.Clean("/" + address)
	for _, secret := range []string{"/g/", "/setup/"} {
		if len(address) > len(secret) && strings.EqualFold(address[:len(secret)], secret) {
			_, after, more := strings.Cut(address[len(secret):], "/")
			address = secret + "(token)"
			if more {
				address += "/" + after
			}
		}
	}
	return address
}

// recovered turns a panic into a logged error and a plain page.
func (s *server) recovered(c *gin.Context) {
	defer func() {
		v := recover()
		if v == nil {
			return
		}
		if v == http.ErrAbortHandler {
			panic(v)
		}
		s.fail(c, fmt.Errorf("panic: %v\n%s", v, debug.Stack()))
		c.Abort()
	}()
	c.Next()
}

// patient lets whoever asks for something take as long as it takes: a request without a body is read already, and the deadline by
// which it had to be would end a long download.
func (s *server) patient(c *gin.Context) {
	if c.Request.Method != http.MethodGet && c.Request.Method != http.MethodHead {
		return
	}
	if err := unhurried(c); err != nil {
		s.fail(c, err)
		c.Abort()
	}
}

// unhurried lifts the deadline by which the server must have read a request. It stays on a form until that is read.
func unhurried(c *gin.Context) error {
	if err := http.NewResponseController(c.Writer).SetReadDeadline(time.Time{}); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return fmt.Errorf("lift the deadline of a request: %w", err)
	}
	return nil
}

// bounded refuses bodies longer than the route takes: formBytes where it names no other length.
func (s *server) bounded(most int64) gin.HandlerFunc {
	if most == 0 {
		most = formBytes
	}
	return func(c *gin.Context) {
		c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, most)
	}
}

// allowed lets in who may open a route: whoever is not signed in is asked to, and crew are told what is the builder's.
func (s *server) allowed(who access) gin.HandlerFunc {
	return func(c *gin.Context) {
		a, signedIn := s.signedIn(c)
		switch {
		case who == anyone:
		case !signedIn:
			to := "/sign-in"
			if c.Request.Method == http.MethodGet {
				to += "?next=" + url.QueryEscape(c.Request.URL.RequestURI())
			}
			c.Redirect(http.StatusSeeOther, to)
			c.Abort()
		case !who.admits(a.Role):
			s.fail(c, errBuilderOnly)
			c.Abort()
		}
	}
}

// crossSite answers a post that came from another site.
func (s *server) crossSite(w http.ResponseWriter, r *http.Request) {
	s.Log.Warn("cross-site post refused", "id", requestID(r.Context()), "path", redact(r.URL.Path), "from", r.RemoteAddr)
	s.plain(w, r, errCrossSite)
}
