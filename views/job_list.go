package views

import (
	"fmt"
	"time"

	"newelbook/jobs"
)

// JobListPage lists the jobs.
type JobListPage struct {
	Frame
	Jobs    []Row
	Builder bool // may make jobs and see to people
}

// NewJobList is the list of jobs.
func NewJobList(f Frame, list []jobs.Summary, builder bool) JobListPage {
	p := JobListPage{Frame: f, Builder: builder}
	for _, j := range list {
		p.Jobs = append(p.Jobs, Row{
			Place: j.Ref, Label: j.Name, URL: JobURL(j.ID),
			Note: fmt.Sprintf("%s; last entry %s", j.Site, j.Changed.Format("2 Jan 2006")),
		})
	}
	return p
}

// stamp shows an instant in a job's zone.
func stamp(at time.Time, loc *time.Location) string { return at.In(loc).Format("2 Jan 2006 15:04") }
