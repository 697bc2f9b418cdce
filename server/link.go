package server

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// makeLink makes a link to one pack and shows its address, this once: there is no address to come back to. A server that guests
// cannot reach makes none.
func (s *server) makeLink(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if s.PublicURL == "" {
		return jobs.ErrForbidden
	}
	ctx := c.Request.Context()
	days, err := strconv.Atoi(strings.TrimSpace(f.text("days")))
	if err != nil {
		days = 0
	}
	id, token, err := s.Service.MakeLink(ctx, s.by(c, f), c.Param("job"), jobs.LinkInput{Pack: f.number("pack"), For: f.text("for"), Name: f.text("name"), Days: days})
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			return s.packsPage(c, views.PackForms{Issue: s.fresh(), Link: form}, faults)
		})
	}
	if token == "" {
		return s.done(c, views.PacksURL(c.Param("job")), "That link was made before and its address shown once. Take it back and make another if the address is lost.")
	}
	rec, frame, err := s.jobForm(c, views.SheetPack, "A new link", nil)
	if err != nil {
		return err
	}
	l, ok := rec.Link(id)
	if !ok {
		return jobs.ErrNotFound
	}
	c.Header("Cache-Control", "no-store")
	return s.show(c, http.StatusOK, views.NewLinkShow(frame, rec, l, strings.TrimSuffix(s.PublicURL, "/")+views.GuestURL(token)))
}

func (s *server) revokeLink(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if err := s.Service.RevokeLink(c.Request.Context(), s.by(c, f), c.Param("job"), c.Param("link")); err != nil {
		return err
	}
	return s.done(c, views.PacksURL(c.Param("job")), "The link is taken back. It opens nothing any more.")
}
