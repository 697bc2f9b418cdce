package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) listDeviations(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetDeviations, "Deviations", nil)
	if err != nil {
		return err
	}
	page, err := views.NewDeviationList(frame, rec)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

func (s *server) newDeviation(c *gin.Context) error { return s.showForm(c, s.newDeviationPage) }

func (s *server) newDeviationPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetDeviations, "Open a deviation", faults)
	if err != nil {
		return nil, err
	}
	return views.NewDeviationNew(frame, rec, c.Query("place"), c.Query("stage"), form), nil
}

func (s *server) openDeviation(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	id, err := s.Service.OpenDeviation(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.DeviationInput{PlaceID: f.text("place"), Stage: f.text("stage"), What: f.text("what")})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.newDeviationPage))
	}
	return s.done(c, views.DeviationURL(c.Param("job"), id), "The deviation is open. It stays in the record whatever becomes of it.")
}

func (s *server) showDeviation(c *gin.Context) error { return s.showForm(c, s.deviationPage) }

func (s *server) deviationPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetDeviations, "Deviation", faults)
	if err != nil {
		return nil, err
	}
	d, ok := rec.Deviation(c.Param("dev"))
	if !ok {
		return nil, jobs.ErrNotFound
	}
	return views.NewDeviationShow(frame, rec, d, form, s.isBuilder(c))
}

// endDeviation accepts or refers.
func (s *server) endDeviation(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.EndDeviation(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.DeviationInput{
		ID: c.Param("dev"), Version: f.number("version"), State: f.text("state"), Reason: f.text("reason"), Name: f.text("name"),
	})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.deviationPage))
	}
	return s.done(c, views.DeviationURL(c.Param("job"), c.Param("dev")), "Entered, with the reason and the name.")
}
