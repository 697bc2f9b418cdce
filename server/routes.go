package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// access is who may open a route.
type access int

// Kinds of access.
const (
	anyone  access = iota // no account needed
	crew                  // whoever is signed in
	builder               // the builder alone
)

func (a access) admits(r jobs.Role) bool { return a != builder || r == jobs.RoleBuilder }

// handler answers one request, or says why it could not.
type handler func(c *gin.Context) error

// route is one address.
type route struct {
	method, path string
	who          access
	do           handler
	body         int64 // greatest length of the body in bytes; 0 is formBytes
}

// routes lists every address of the site.
func (s *server) routes() []route {
	get, post := http.MethodGet, http.MethodPost
	return []route{
		{method: get, path: "/", who: crew, do: s.home},
		{method: get, path: views.AssetRoot + "*name", who: anyone, do: s.showAsset},
		{method: get, path: "/setup/:token", who: anyone, do: s.showSetup},
		{method: post, path: "/setup/:token", who: anyone, do: s.saveSetup},
		{method: get, path: "/sign-in", who: anyone, do: s.showSignIn},
		{method: post, path: "/sign-in", who: anyone, do: s.signIn},
		{method: post, path: "/sign-out", who: anyone, do: s.signOut},
		{method: get, path: "/people", who: builder, do: s.showPeople},
		{method: post, path: "/people", who: builder, do: s.addPerson},

		{method: get, path: "/jobs", who: crew, do: s.listJobs},
	}
}

// home leads to the jobs.
func (s *server) home(c *gin.Context) error { return s.done(c, "/jobs", "") }

// showAsset sends a style sheet, script, font or picture of the program's own. Its name has a checksum, so it may be kept
// for ever.
func (s *server) showAsset(c *gin.Context) error {
	body, kind, ok := views.Asset(c.Request.URL.Path)
	if !ok {
		return jobs.ErrNotFound
	}
	c.Header("Cache-Control", "public, max-age=31536000, immutable")
	c.Data(http.StatusOK, kind, body)
	return nil
}
