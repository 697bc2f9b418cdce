package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) listRuns(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetLayout, "Runs", nil)
	if err != nil {
		return err
	}
	page, err := views.NewRunList(frame, rec, s.isBuilder(c))
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// layoutPage shows the layout of the run that the path names.
func (s *server) layoutPage(c *gin.Context, page func(views.Frame, *jobs.Record, jobs.Run) (any, error)) error {
	rec, frame, err := s.jobForm(c, views.SheetLayout, "Layout", nil)
	if err != nil {
		return err
	}
	run, err := s.run(c, rec)
	if err != nil {
		return err
	}
	made, err := page(frame, rec, run)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, made)
}

func (s *server) showRun(c *gin.Context) error {
	return s.layoutPage(c, func(f views.Frame, rec *jobs.Record, run jobs.Run) (any, error) {
		return views.NewRunShow(f, rec, run, s.isBuilder(c))
	})
}

func (s *server) showRunFraming(c *gin.Context) error {
	return s.layoutPage(c, func(f views.Frame, rec *jobs.Record, run jobs.Run) (any, error) {
		return views.NewRunFraming(f, rec, run)
	})
}

func (s *server) showRunSheet(c *gin.Context) error {
	return s.layoutPage(c, func(f views.Frame, rec *jobs.Record, run jobs.Run) (any, error) {
		return views.NewRunSheet(f, rec, run)
	})
}
