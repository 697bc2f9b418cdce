package server

import (
	"errors"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// stage is the sheet of the stage that the path names.
func (s *server) stage(c *gin.Context, rec *jobs.Record) (*jobs.StageSheet, error) {
	stage, ok := views.StageOf(c.Param("stage"))
	if !ok {
		return nil, jobs.ErrNotFound
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return nil, err
	}
	st, ok := sheet.Stage(stage)
	if !ok {
		return nil, jobs.ErrNotFound
	}
	return st, nil
}

func (s *server) showStage(c *gin.Context) error { return s.showForm(c, s.stagePage) }

func (s *server) stagePage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetStages, "Stage", faults)
	if err != nil {
		return nil, err
	}
	st, err := s.stage(c, rec)
	if err != nil {
		return nil, err
	}
	return views.NewStageShow(frame, rec, st, form, strings.Fields(c.Query("taken")), s.isBuilder(c))
}

// askStage asks one question: at which places, and once they are picked, the question itself.
func (s *server) askStage(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetStages, "Ask", nil)
	if err != nil {
		return err
	}
	st, err := s.stage(c, rec)
	if err != nil {
		return err
	}
	picked := append(c.QueryArray("at"), c.QueryArray("again")...)
	checks := views.Asking(st, c.Query("key"), c.Query("as"), picked)
	if len(checks) == 0 {
		return jobs.ErrNotFound
	}
	if len(picked) == 0 {
		sheet, err := rec.Sheet()
		if err != nil {
			return err
		}
		return s.show(c, http.StatusOK, views.NewStagePick(frame, rec, sheet, checks))
	}
	return s.show(c, http.StatusOK, views.NewStageAsk(frame, rec, checks, s.fresh(), views.StageURL(rec.Job.ID, st.Stage)))
}

// closeStage closes a stage. With something outstanding and no reason it lists what is, with a box for the reason.
func (s *server) closeStage(c *gin.Context) error {
	f, in, err := s.closing(c)
	if err != nil {
		return err
	}
	err = s.Service.CloseStage(c.Request.Context(), s.by(c, f), c.Param("job"), in)
	var blocked *jobs.BlockedError
	if errors.As(err, &blocked) {
		return s.blocked(c, f, blocked)
	}
	if err != nil {
		return s.again(c, f, err, s.with(c, s.stagePage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "stages", c.Param("stage")), "The stage is closed.")
}

// blocked lists what is outstanding. The list asks for a reason; sent again without one, it says so at its box.
func (s *server) blocked(c *gin.Context, f form, blocked *jobs.BlockedError) error {
	var faults []views.FieldError
	if f.values.Has("reason") && s.isBuilder(c) {
		faults = append(faults, views.FieldError{Field: "reason", Message: "Enter why the stage is closed without it, or put it right first."})
	}
	rec, frame, err := s.jobForm(c, views.SheetStages, "Not ready to close", faults)
	if err != nil {
		return err
	}
	st, err := s.stage(c, rec)
	if err != nil {
		return err
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return err
	}
	back := views.Form{ID: f.text("form_id"), Typed: views.Typed(f.values)}
	return s.show(c, http.StatusConflict, views.NewStageBlocked(frame, rec, sheet, st, blocked, back, s.isBuilder(c)))
}

func (s *server) reopenStage(c *gin.Context) error {
	f, in, err := s.closing(c)
	if err != nil {
		return err
	}
	if err := s.Service.ReopenStage(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.stagePage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "stages", c.Param("stage")), "The stage is open again.")
}

// closing reads the form that closes a stage or opens it again.
func (s *server) closing(c *gin.Context) (form, jobs.CloseInput, error) {
	f, err := s.form(c)
	if err != nil {
		return form{}, jobs.CloseInput{}, err
	}
	stage, ok := views.StageOf(c.Param("stage"))
	if !ok {
		return form{}, jobs.CloseInput{}, jobs.ErrNotFound
	}
	return f, jobs.CloseInput{Stage: string(stage), Version: f.number("version"), Reason: f.text("reason")}, nil
}
