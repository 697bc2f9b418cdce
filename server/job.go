package server

import (
	"errors"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) listJobs(c *gin.Context) error {
	list, err := s.Service.Jobs(c.Request.Context())
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, views.NewJobList(s.frame(c, "Jobs"), list, s.isBuilder(c)))
}

func (s *server) newJob(c *gin.Context) error {
	page, err := s.newJobPage(c, s.fresh(), nil)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// newJobPage offers what the last job had where it does not change from job to job.
func (s *server) newJobPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	ctx := c.Request.Context()
	list, err := s.Service.Jobs(ctx)
	if err != nil {
		return nil, err
	}
	var last jobs.Job
	if len(list) > 0 {
		rec, err := s.Service.Record(ctx, list[0].ID)
		if err != nil {
			return nil, err
		}
		last = rec.Job
	}
	f := s.frame(c, "New job")
	f.Errors = faults
	page := views.NewJobNew(f, last, form)
	made, err := s.Service.Record(ctx, form.Made)
	switch {
	case errors.Is(err, jobs.ErrNotFound):
		return page, nil
	case err != nil:
		return nil, err
	}
	return page.Beside(made.Job), nil
}

func (s *server) makeJob(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	id, err := s.Service.MakeJob(c.Request.Context(), s.by(c, f), jobInput(f))
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) { return s.newJobPage(c, form, faults) })
	}
	return s.done(c, views.JobURL(id), "The job is made. Look at its specification, then describe the first run.")
}

// jobInput is the particulars of a job as posted.
func jobInput(f form) jobs.JobInput {
	return jobs.JobInput{
		Version: f.number("version"), Ref: f.text("ref"), Name: f.text("name"), Site: f.text("site"), Owner: f.text("owner"), Builder: f.text("builder"),
		Contact: f.text("contact"), Permit: f.text("permit"), Authority: f.text("authority"), RuleSet: f.text("rule_set"), Units: f.text("units"),
		Zone: strings.TrimSpace(f.text("zone")), Begun: f.text("begun"), Lat: f.text("lat"), Lon: f.text("lon"), Photo: f.text("photo"),
	}
}

func (s *server) showJob(c *gin.Context) error {
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	frame, err := s.jobFrame(c, rec, views.SheetJob, "Job")
	if err != nil {
		return err
	}
	page, err := views.NewJobShow(frame, rec, s.isBuilder(c))
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

func (s *server) showParticulars(c *gin.Context) error {
	return s.showForm(c, s.particulars)
}

func (s *server) particulars(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetJob, "Particulars", faults)
	if err != nil {
		return nil, err
	}
	return views.NewJobParticulars(frame, rec, form), nil
}

func (s *server) saveParticulars(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	if err := s.Service.ChangeJob(c.Request.Context(), s.by(c, f), c.Param("job"), jobInput(f)); err != nil {
		return s.again(c, f, err, s.with(c, s.particulars))
	}
	return s.done(c, views.JobURL(c.Param("job")), "The particulars are saved.")
}

func (s *server) showSpecification(c *gin.Context) error {
	return s.showForm(c, s.specification)
}

func (s *server) specification(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetJob, "Specification", faults)
	if err != nil {
		return nil, err
	}
	return views.NewJobSpecification(frame, rec, form), nil
}

func (s *server) saveSpecification(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	in := views.JobInputOf(rec.Job)
	in.Version, in.Spec = f.number("version"), f.some(views.SpecKeys())
	if err := s.Service.ChangeJob(c.Request.Context(), s.by(c, f), rec.Job.ID, in); err != nil {
		return s.again(c, f, err, s.with(c, s.specification))
	}
	return s.done(c, views.JobURL(rec.Job.ID), "The specification is saved. Runs that come out otherwise were laid out again; readings keep what they were judged against.")
}
