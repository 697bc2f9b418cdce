package server

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// guests wraps what a link opens: nothing of it is kept, listed or told to another site, and only the one pack is in reach. Whoever
// holds the link is not signed in by it.
func (s *server) guests(do func(c *gin.Context, g jobs.Guest) error) handler {
	return func(c *gin.Context) error {
		c.Header("Referrer-Policy", "no-referrer")
		c.Header("X-Robots-Tag", "noindex, nofollow")
		c.Header("Cache-Control", "no-store")
		token := c.Param("token")
		g, err := s.Service.Open(c.Request.Context(), token)
		switch {
		case errors.Is(err, jobs.ErrGone):
			return s.show(c, http.StatusGone, views.NewGuestClosed(g, token))
		case errors.Is(err, jobs.ErrNotFound):
			if !s.callers.allow(network(c.ClientIP()), s.Now()) {
				return errTooOften
			}
			return s.noSuchLink(c)
		case err != nil:
			return err
		}
		if err := do(c, g); errors.Is(err, jobs.ErrNotFound) {
			return s.noSuchLink(c)
		} else if err != nil {
			return err
		}
		return nil
	}
}

// noSuchLink is the page for an address that no link has. It says no more than that.
func (s *server) noSuchLink(c *gin.Context) error {
	return s.show(c, http.StatusNotFound, views.NoticePage{Frame: views.Frame{Title: "There is nothing at this address"}, Says: "Check that the whole address was copied. Otherwise ask the builder who sent it."})
}

func (s *server) showGuest(c *gin.Context, g jobs.Guest) error {
	page, err := s.guestPage(c, g, s.fresh(), nil)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

func (s *server) guestPage(c *gin.Context, g jobs.Guest, form views.Form, faults []views.FieldError) (any, error) {
	x, err := s.frozen.of(g.Pack.Hash, func() (views.Frozen, error) { return s.readFrozen(g) })
	if err != nil {
		return nil, err
	}
	return views.NewGuestShow(g, c.Param("token"), x, c.Query("place"), form, faults), nil
}

// readFrozen reads the pack's own record.json: a guest sees the job as it was when the pack was issued.
func (s *server) readFrozen(g jobs.Guest) (views.Frozen, error) {
	bag, err := s.Packs.Open(g.Record.Job.ID, g.Pack)
	if err != nil {
		return views.Frozen{}, err
	}
	for _, f := range bag.Files {
		if f.Path != "data/record.json" {
			continue
		}
		body, err := f.Open()
		if err != nil {
			return views.Frozen{}, err
		}
		defer body.Close()
		var x jobs.Export
		if err := json.NewDecoder(body).Decode(&x); err != nil {
			return views.Frozen{}, fmt.Errorf("read record.json of pack %d of job %s: %w", g.Pack.Number, g.Record.Job.ID, err)
		}
		return views.NewFrozen(x), nil
	}
	return views.Frozen{}, fmt.Errorf("pack %d of job %s has no record.json", g.Pack.Number, g.Record.Job.ID)
}

func (s *server) guestPDF(c *gin.Context, g jobs.Guest) error { return s.sendPDF(c, g.Record, g.Pack) }
func (s *server) guestZIP(c *gin.Context, g jobs.Guest) error { return s.sendZIP(c, g.Record, g.Pack) }
func (s *server) guestRead(c *gin.Context, g jobs.Guest) error {
	return s.sendPage(c, g.Record, g.Pack)
}

// answerPack records what a guest says of the pack, and leads to the receipt.
func (s *server) answerPack(c *gin.Context, g jobs.Guest) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if !s.callers.allow("link "+g.Link.ID, s.Now()) {
		return errTooOften
	}
	token, by := c.Param("token"), s.by(c, f)
	id, err := s.Service.Answer(c.Request.Context(), token, by.Form, by.Body, jobs.AnswerInput{
		Kind: f.text("kind"), Outcome: f.text("outcome"), Stage: f.text("stage"), Place: f.text("place"), Text: f.text("text"), Name: f.text("name"), Office: f.text("office"), On: f.text("on"), Signature: f.text("signature"),
	})
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) { return s.guestPage(c, g, form, faults) })
	}
	return s.done(c, views.GuestURL(token, "receipts", id), "")
}

// showReceipt shows an answer to whoever holds the link that it was given by.
func (s *server) showReceipt(c *gin.Context, g jobs.Guest) error {
	for _, a := range g.Record.Answers {
		if a.ID == c.Param("answer") && a.LinkID == g.Link.ID {
			return s.show(c, http.StatusOK, views.NewGuestReceipt(g, c.Param("token"), a))
		}
	}
	return jobs.ErrNotFound
}
