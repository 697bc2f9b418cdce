package server

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) listRules(c *gin.Context) error {
	return s.show(c, http.StatusOK, views.NewRulesList(s.frame(c, "Rule sets")))
}

func (s *server) showRuleSet(c *gin.Context) error {
	page, err := views.NewRulesSet(s.frame(c, ""), c.Param("set"))
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

func (s *server) showRules(c *gin.Context) error {
	if other := c.Query("against"); other != "" {
		return s.rulesAgainst(c, other)
	}
	return s.showForm(c, s.rules)
}

func (s *server) rules(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetJob, "Rules", faults)
	if err != nil {
		return nil, err
	}
	return views.NewRulesShow(frame, rec, form, c.Query("key"), s.isBuilder(c))
}

func (s *server) amend(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := jobs.AmendmentInput{Version: f.number("version"), Key: f.text("key"), Value: f.text("value"), SaidBy: f.text("said_by"), Office: f.text("office"), On: strings.TrimSpace(f.text("on")), Note: f.text("note")}
	if err := s.Service.Amend(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.rules))
	}
	return s.done(c, views.JobURL(c.Param("job"), "rules"), "The authority's figure is entered. Readings taken already keep the figure they were judged against.")
}

func (s *server) withdraw(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := jobs.WithdrawalInput{Version: f.number("version"), Key: f.text("withdrawn"), Why: f.text("why")}
	if err := s.Service.Withdraw(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.rules))
	}
	return s.done(c, views.JobURL(c.Param("job"), "rules"), "The figure is withdrawn: the code's own holds again. Readings taken already keep the figure they were judged against.")
}

// rulesAgainst shows what the job would come to under another rule set.
func (s *server) rulesAgainst(c *gin.Context, other string) error {
	rec, what, err := s.Service.WhatIf(c.Request.Context(), s.account(c).Actor(), c.Param("job"), other)
	if err != nil {
		return err
	}
	frame, err := s.jobFrame(c, rec, views.SheetJob, "Rules")
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, views.NewRulesAgainst(frame, rec, what))
}
