package server

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// showRecord shows the chain of a job's events, from the event that the query names downward.
func (s *server) showRecord(c *gin.Context) error {
	rec, events, err := s.Service.RecordWithEvents(c.Request.Context(), c.Param("job"))
	if err != nil {
		return err
	}
	from := 0
	if text := c.Query("from"); text != "" {
		if from, err = strconv.Atoi(text); err != nil || from < 1 || from > len(events) {
			return jobs.ErrNotFound
		}
	}
	frame, err := s.jobFrame(c, rec, views.SheetJob, "Record")
	if err != nil {
		return err
	}
	page, err := views.NewRecordShow(frame, rec, events, from)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}
