package server

import (
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// listDiary lists the days; with a day in the query it leads to that day's page.
func (s *server) listDiary(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetDiary, "Site diary", nil)
	if err != nil {
		return err
	}
	if day := c.Query("day"); day != "" {
		return s.done(c, views.DiaryURL(rec.Job.ID, day), "")
	}
	return s.show(c, http.StatusOK, views.NewDiaryList(frame, rec, rec.Job.Day(s.Now())))
}

func (s *server) showDiary(c *gin.Context) error { return s.showForm(c, s.diaryPage) }

// diaryPage is the page of a day that is one and is not still to come.
func (s *server) diaryPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetDiary, "Site diary", faults)
	if err != nil {
		return nil, err
	}
	day, today := c.Param("day"), rec.Job.Day(s.Now())
	if t, err := time.Parse(time.DateOnly, day); err != nil || t.Format(time.DateOnly) != day || day > today {
		return nil, jobs.ErrNotFound
	}
	return views.NewDiaryDay(frame, rec, day, today, form)
}

func (s *server) saveDiary(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.SaveDiary(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.DiaryInput{
		Day: c.Param("day"), Version: f.number("version"), Weather: f.text("weather"), People: f.text("people"), Work: f.text("work"), Deliveries: f.text("deliveries"),
		Delays: f.text("delays"), Visitors: f.text("visitors"), FallProtection: f.text("fall_protection"),
	})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.diaryPage))
	}
	return s.done(c, views.DiaryURL(c.Param("job"), c.Param("day")), "The page is saved.")
}
