// Package server is the HTTP side: it reads forms, calls one method of jobs.Service, and answers with a page or a redirect.
// It computes nothing and holds no rules. Callers start with New.
//
// # Adding a page
//
//   - A line in routes(): method, path, who may open it, and the handler. The access is checked before the handler runs:
//     anyone, crew (whoever is signed in) or builder. A route that takes files names its greatest body in bytes.
//   - A handler, func (s *server) showThing(c *gin.Context) error, in the file of its noun. Order: path values, form, one
//     service call, s.done (303) or s.show. It returns errors as they come; the adapter answers with the status that
//     errors.go gives them. Pass c.Request.Context() down, never c.
//   - The frame: s.frame(c, title) outside a job, s.jobFrame(c, rec, views.SheetPhotos, title) inside one; rec comes from
//     s.record(c), the account from s.account(c).
//   - A form: page structs carry a views.Form. Fresh: s.fresh(). Posted: f, err := s.form(c); f.text, f.all, f.number read
//     text; s.by(c, f) is the jobs.By of the submission. When the service refuses, return s.again(c, f, err, page): a
//     callback builds the same page once more with what was typed. It answers 422 for an InvalidError and 409 for a
//     ConflictError or FormReusedError, with Form.Stale set, so that the page shows what stands saved beside it; Form.Made names
//     what the form made when it was sent before.
//   - URLs are made by views (JobURL, StageURL, CheckURL …), so that pages and redirects agree.
//
// Tests use a real service on a temporary store: see newSite in site_test.go. TestAccess walks every route by itself. A form gets
// its rows in TestBadInput: what it must refuse, the sentence, what it keeps of what was typed, and what it may leave behind.
//
// # Security
//
// From the outside in: http.CrossOriginProtection refuses cross-site posts; one middleware sets the security headers and a
// request id; scs keeps sessions on the server, a random token in an HttpOnly cookie, bound to its account so that a new
// password ends them all. Sign-in is limited by account and by address. Log lines carry no query, and no token of a link
// or of the set-up address. A link reaches the files that its own pack's manifest lists and nothing else; what it opens is
// neither kept by browsers, listed, nor told to another site. Photographs are sent with the type that was found in them and no
// right to do anything. Files are taken in as they arrive and never held in memory.
package server
