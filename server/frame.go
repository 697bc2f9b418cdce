package server

import (
	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// Keys of the session and of gin's own values.
const (
	accountKey = "account"
	flashKey   = "flash"
)

// frame is the frame of a page outside a job.
func (s *server) frame(c *gin.Context, title string) views.Frame {
	f := views.Frame{Title: title}
	if a, ok := s.signedIn(c); ok {
		f.Who = views.Who{Name: a.Name, Role: string(a.Role)}
		f.Flash = s.sessions.PopString(c.Request.Context(), flashKey)
	}
	return f
}

// jobFrame is the frame of a page of a job: title block, sheets, who is signed in, and what was just done.
func (s *server) jobFrame(c *gin.Context, rec *jobs.Record, sheet views.JobSheet, title string) (views.Frame, error) {
	f, err := views.JobFrame(rec, sheet, title)
	if err != nil {
		return views.Frame{}, err
	}
	own := s.frame(c, title)
	f.Who, f.Flash = own.Who, own.Flash
	return f, nil
}

// record is the record of the job that the path names.
func (s *server) record(c *gin.Context) (*jobs.Record, error) {
	return s.Service.Record(c.Request.Context(), c.Param("job"))
}

// jobForm is the record of the job that the path names, and the frame of a page of it that may have come back with faults.
func (s *server) jobForm(c *gin.Context, sheet views.JobSheet, title string, faults []views.FieldError) (*jobs.Record, views.Frame, error) {
	rec, err := s.record(c)
	if err != nil {
		return nil, views.Frame{}, err
	}
	frame, err := s.jobFrame(c, rec, sheet, title)
	frame.Errors = faults
	return rec, frame, err
}
