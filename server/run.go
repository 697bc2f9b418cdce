package server

import (
	"errors"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) newRun(c *gin.Context) error { return s.showForm(c, s.newRunPage) }

func (s *server) newRunPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetLayout, "New run", faults)
	if err != nil {
		return nil, err
	}
	return views.NewRunNew(frame, rec, c.Query("kind"), form), nil
}

func (s *server) makeRun(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	id, err := s.Service.SaveRun(c.Request.Context(), s.by(c, f), c.Param("job"), runInput(f, ""))
	if err != nil {
		return s.again(c, f, err, s.with(c, s.newRunPage))
	}
	return s.done(c, views.RunURL(c.Param("job"), id), strings.TrimSpace(f.text("label"))+" is laid out. Look at the drawing before cutting anything.")
}

// runInput is a run as posted: its own fields, and what it has otherwise than the job.
func runInput(f form, id string) jobs.RunInput {
	in := jobs.RunInput{ID: id, Fields: f.some(views.RunKeys(f.text("kind"))), Overrides: f.some(views.SpecKeys())}
	if id != "" {
		in.Version = f.number("version")
	}
	return in
}

// run is the run that the path names.
func (s *server) run(c *gin.Context, rec *jobs.Record) (jobs.Run, error) {
	run, ok := rec.Run(c.Param("run"))
	if !ok {
		return jobs.Run{}, jobs.ErrNotFound
	}
	return run, nil
}

func (s *server) editRun(c *gin.Context) error { return s.showForm(c, s.editRunPage) }

func (s *server) editRunPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetLayout, "Change the run", faults)
	if err != nil {
		return nil, err
	}
	run, err := s.run(c, rec)
	if err != nil {
		return nil, err
	}
	frame.Title = "Change run " + run.Label
	return views.NewRunEdit(frame, rec, run, form, jobs.NewID()), nil
}

func (s *server) saveRun(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if _, err := s.Service.SaveRun(c.Request.Context(), s.by(c, f), c.Param("job"), runInput(f, c.Param("run"))); err != nil {
		return s.again(c, f, err, s.with(c, s.editRunPage))
	}
	return s.done(c, views.RunURL(c.Param("job"), c.Param("run")), "The run is saved and laid out again where it came out otherwise.")
}

func (s *server) retireRun(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if err := s.Service.RetireRun(c.Request.Context(), s.by(c, f), c.Param("job"), c.Param("run"), f.number("version")); err != nil {
		return s.again(c, f, err, func(_ views.Form, faults []views.FieldError) (any, error) { return s.editRunPage(c, s.fresh(), faults) })
	}
	return s.done(c, views.JobURL(c.Param("job")), "The run is taken out. Its readings and photographs stay in the record.")
}

func (s *server) showCover(c *gin.Context) error { return s.showForm(c, s.coverPage) }

func (s *server) coverPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetStages, "Decked over", faults)
	if err != nil {
		return nil, err
	}
	run, err := s.run(c, rec)
	if err != nil {
		return nil, err
	}
	return views.NewRunCover(frame, rec, run, form, rec.Job.Day(s.Now()), s.isBuilder(c))
}

// saveCover records that a run was decked over. With hold-point evidence missing the page comes back with what is missing
// and a box for the reason.
func (s *server) saveCover(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.CoverRun(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.CoverInput{RunID: c.Param("run"), On: strings.TrimSpace(f.text("on")), Note: f.text("note"), Reason: f.text("reason")})
	var blocked *jobs.BlockedError
	if errors.As(err, &blocked) {
		fault := views.FieldError{Message: "Only the builder records a cover with something missing."}
		if s.isBuilder(c) {
			fault = views.FieldError{Field: "reason", Message: "Enter why it is covered with that missing, or put it right first."}
		}
		page, failed := s.coverPage(c, views.Form{ID: f.text("form_id"), Typed: views.Typed(f.values)}, []views.FieldError{fault})
		if failed != nil {
			return failed
		}
		return s.show(c, http.StatusConflict, page)
	}
	if err != nil {
		return s.again(c, f, err, s.with(c, s.coverPage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "stages", "framing"), "The cover is recorded.")
}
