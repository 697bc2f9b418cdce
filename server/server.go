package server

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"
	"github.com/klauspost/compress/gzhttp"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
	"newelbook/views/pack"
)

// Sessions keeps sessions, and can end all of one account at once.
type Sessions interface {
	scs.Store
	// BindSession says whose session a token opens.
	BindSession(ctx context.Context, token, accountID string) error
}

// Deps is what the server is joined to.
type Deps struct {
	Service  *jobs.Service
	Media    *media.Library
	Packs    *pack.Issuer
	Desk     *pack.Desk // issues packs in the background; whoever made it closes it
	Sessions Sessions
	Log      *slog.Logger
	Now      func() time.Time

	// PublicURL is the address that owners and inspectors reach the server at, such as https://record.example; empty on a
	// server that only this machine can reach, and then no links are made.
	PublicURL string
	// Secure keeps the session cookie to HTTPS. Set it whenever PublicURL is https.
	Secure bool
	// TrustedProxies are the addresses or networks whose word on the client's address is taken; none by default.
	TrustedProxies []string
}

// server is the handlers and what they share.
type server struct {
	Deps
	sessions *scs.SessionManager
	callers  *limits // attempts to sign in and guesses at tokens, by network
	tries    *limits // attempts to sign in, by account and network
	logins   *limits // the same by account from everywhere: so loose that one caller alone cannot use them up for whose account it is
	frozen   frozen  // what guests' pages show of packs
	hashing  chan struct{}
	pages    sync.Pool // buffers that pages are rendered into
	nobody   string    // a hash to compare with when there is no such account, so that both take as long
}

// sessionLife is how long a session lasts before one signs in again.
const sessionLife = 14 * 24 * time.Hour

// quiet keeps gin from writing to the terminal.
var quiet = sync.OnceFunc(func() { gin.SetMode(gin.ReleaseMode) })

// New makes the handler of the whole site. It fails when a template does not parse or a dependency is missing.
func New(d Deps) (http.Handler, error) {
	s, engine, err := build(d)
	if err != nil {
		return nil, err
	}
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(s.identify(s.headers(http.HandlerFunc(s.crossSite))))
	small, err := compressed()
	if err != nil {
		return nil, err
	}
	return small(protection.Handler(s.identify(s.headers(s.sessions.LoadAndSave(engine))))), nil
}

// compressed makes pages, drawings and tables smaller on their way to whoever reads gzip: a stage of a large job is half a megabyte of
// much the same words, and a site has a slow link. Photographs, archives, typefaces and PDFs are small already.
func compressed() (func(http.Handler) http.HandlerFunc, error) {
	w, err := gzhttp.NewWrapper(gzhttp.ContentTypes([]string{
		"text/html", "text/css", "text/javascript", "text/csv", "text/plain", "text/calendar", "application/json", "image/svg+xml",
	}))
	if err != nil {
		return nil, fmt.Errorf("compress pages: %w", err)
	}
	return w, nil
}

func build(d Deps) (*server, *gin.Engine, error) {
	switch {
	case d.Service == nil, d.Media == nil, d.Packs == nil, d.Desk == nil, d.Sessions == nil, d.Log == nil, d.Now == nil:
		return nil, nil, errors.New("server: Service, Media, Packs, Desk, Sessions, Log and Now are needed")
	}
	if err := views.Load(); err != nil {
		return nil, nil, fmt.Errorf("load pages: %w", err)
	}
	s := &server{
		Deps: d, nobody: nobodysHash(), hashing: make(chan struct{}, 2),
		callers: newLimits(30, 5*time.Second),
		tries:   newLimits(5, 30*time.Second),
		logins:  newLimits(100, time.Second),
	}
	s.sessions = scs.New()
	s.sessions.Store = d.Sessions
	s.sessions.Lifetime = sessionLife
	s.sessions.Cookie.Name = "newelbook"
	s.sessions.Cookie.HttpOnly = true
	s.sessions.Cookie.SameSite = http.SameSiteLaxMode
	s.sessions.Cookie.Secure = d.Secure
	s.sessions.ErrorFunc = func(w http.ResponseWriter, r *http.Request, err error) { s.plain(w, r, err) }

	quiet()
	engine := gin.New()
	engine.HandleMethodNotAllowed = true
	engine.RedirectTrailingSlash = false
	if err := engine.SetTrustedProxies(d.TrustedProxies); err != nil {
		return nil, nil, fmt.Errorf("trusted proxies: %w", err)
	}
	engine.Use(s.logged, s.recovered, s.patient, s.known)
	for _, r := range s.routes() {
		engine.Handle(r.method, r.path, s.allowed(r.who), s.bounded(r.body), s.adapt(r.do))
		if r.method == http.MethodGet {
			engine.Handle(http.MethodHead, r.path, s.allowed(r.who), s.adapt(r.do))
		}
	}
	engine.NoRoute(s.adapt(func(*gin.Context) error { return jobs.ErrNotFound }))
	engine.NoMethod(s.adapt(func(*gin.Context) error { return errMethod }))
	return s, engine, nil
}
