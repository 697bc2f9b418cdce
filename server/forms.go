package server

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// formBytes is the longest body of a form without files.
const formBytes = 1 << 20

// formFields is how many values one form may hold.
const formFields = 5000

// form is what was posted, as text: what cannot be understood stays in the fields.
type form struct{ values url.Values }

// form reads the body of a post. A multipart body is read too; its files stay in c.Request.MultipartForm.
func (s *server) form(c *gin.Context) (form, error) {
	r := c.Request
	var err error
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		err = r.ParseMultipartForm(formBytes)
	} else {
		err = r.ParseForm()
	}
	var long *http.MaxBytesError
	switch {
	case errors.As(err, &long):
		return form{}, fmt.Errorf("%w: %w", errTooLarge, err)
	case err != nil:
		return form{}, fmt.Errorf("%w: %w", errForm, err)
	}
	if err := unhurried(c); err != nil {
		return form{}, err
	}
	n := 0
	for _, v := range r.PostForm {
		n += len(v)
		if slices.ContainsFunc(v, notText) {
			return form{}, errForm
		}
	}
	if n > formFields {
		return form{}, fmt.Errorf("%w: %d fields", errTooLarge, n)
	}
	return form{r.PostForm}, nil
}

// notText says whether a value cannot be kept as it is: bytes that are no UTF-8, or a zero byte, at which SQLite ends a text.
func notText(v string) bool { return !utf8.ValidString(v) || strings.ContainsRune(v, 0) }

// text is the first value of a field, line ends made plain.
func (f form) text(name string) string {
	return strings.ReplaceAll(f.values.Get(name), "\r\n", "\n")
}

// all is every value of a field.
func (f form) all(name string) []string { return f.values[name] }

// number is a field that the page itself filled in, such as a version; -1 when it is not a number.
func (f form) number(name string) int {
	n, err := strconv.Atoi(f.values.Get(name))
	if err != nil {
		return -1
	}
	return n
}

var formIDPattern = regexp.MustCompile(`^[A-Za-z0-9-]{6,64}$`)

// digest is SHA-256 over the posted values in order of their names, without the form's id. Where it was posted to and its
// files come in by more: the hash of each file.
func (f form) digest(more ...string) string {
	names := make([]string, 0, len(f.values))
	for name := range f.values {
		if name != "form_id" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	h := sha256.New()
	for _, name := range names {
		for _, v := range f.values[name] {
			fmt.Fprintf(h, "%d:%s%d:%s", len(name), name, len(v), v)
		}
	}
	for _, m := range more {
		fmt.Fprintf(h, "+%d:%s", len(m), m)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// by is who submits this form. more are the hashes of its files.
func (s *server) by(c *gin.Context, f form, more ...string) jobs.By {
	by := jobs.By{Actor: s.account(c).Actor()}
	if id := f.text("form_id"); formIDPattern.MatchString(id) {
		by.Form, by.Body = id, f.digest(append(more, c.Request.URL.Path)...)
	}
	return by
}

// fresh is a form that nobody has typed into.
func (s *server) fresh() views.Form { return views.Form{ID: jobs.NewID()} }

// again answers a form that was refused with the same page, holding what was typed: 422 when something must be put right,
// 409 when somebody else saved meanwhile or the form was sent before. Any other error goes back to the adapter.
func (s *server) again(c *gin.Context, f form, err error, page func(views.Form, []views.FieldError) (any, error)) error {
	var invalid *jobs.InvalidError
	var conflict *jobs.ConflictError
	var reused *jobs.FormReusedError
	back := views.Form{ID: f.text("form_id"), Typed: views.Typed(f.values)}
	var faults []views.FieldError
	switch {
	case errors.As(err, &invalid):
		for _, x := range invalid.Fields {
			faults = append(faults, views.FieldError{Field: x.Field, Message: x.Message, Meant: x.Meant, Typed: x.Typed})
		}
	case errors.As(err, &conflict):
		back.ID, back.Stale = jobs.NewID(), true
		faults = []views.FieldError{{Message: conflict.Sentence()}}
	case errors.As(err, &reused):
		back.ID, back.Stale, back.Made = jobs.NewID(), true, reused.Result
		faults = []views.FieldError{{Message: reused.Sentence()}}
	default:
		return err
	}
	p, failed := page(back, faults)
	if failed != nil {
		return failed
	}
	return s.show(c, answerTo(err).status, p)
}

// local keeps an address that a form or a query names to this site; anything else becomes otherwise.
func local(address, otherwise string) string {
	u, err := url.Parse(address)
	if err != nil || u.Scheme != "" || u.Host != "" || u.User != nil || !strings.HasPrefix(u.Path, "/") ||
		strings.HasPrefix(address, "//") || strings.ContainsAny(address, "\\\r\n\t") {
		return otherwise
	}
	return u.String()
}

// some are the fields of those names that were posted.
func (f form) some(names []string) map[string]string {
	out := map[string]string{}
	for _, name := range names {
		if f.values.Has(name) {
			out[name] = f.text(name)
		}
	}
	return out
}

// formPage builds a page with a form: fresh, or as it came back.
type formPage func(c *gin.Context, form views.Form, faults []views.FieldError) (any, error)

// showForm shows a page with a form that nobody has typed into.
func (s *server) showForm(c *gin.Context, page formPage) error {
	p, err := page(c, s.fresh(), nil)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, p)
}

// with is a page for again.
func (s *server) with(c *gin.Context, page formPage) func(views.Form, []views.FieldError) (any, error) {
	return func(form views.Form, faults []views.FieldError) (any, error) { return page(c, form, faults) }
}
