package jobs

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// JobInput is a job as typed. Spec holds the text of specification fields by key; a key left out keeps its value.
type JobInput struct {
	Version                                        int // of the job that the form was opened on; 0 for a new one
	Ref, Name, Site, Owner, Builder, Contact       string
	Permit, Authority, RuleSet, Units, Zone, Begun string
	Lat, Lon, Photo                                string
	Spec                                           map[string]string
}

// MakeJob makes a job and returns its id.
func (s *Service) MakeJob(ctx context.Context, by By, in JobInput) (string, error) {
	return s.update(ctx, "", by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		job := Job{ID: NewID(), Made: w.at}
		if err := in.into(&job); err != nil {
			return "", err
		}
		return job.ID, w.saveJob(EvJobMade, job)
	})
}

// ChangeJob changes a job's particulars and specification. Layouts that come out otherwise are made again as new
// versions; readings keep what they were judged against.
func (s *Service) ChangeJob(ctx context.Context, by By, jobID string, in JobInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		job := w.rec.Job
		if err := stale("the job", "", job.Version, in.Version); err != nil {
			return "", err
		}
		if err := in.into(&job); err != nil {
			return "", err
		}
		return "", w.saveJob(EvJobChanged, job)
	})
	return err
}

func (w *work) saveJob(kind string, job Job) error {
	job.Version++
	before := w.rec.Job.Units
	if err := w.emit(kind, Change{Job: &job}); err != nil {
		return err
	}
	if before != "" && before != job.Units {
		if err := w.restate(before); err != nil {
			return err
		}
	}
	return w.relayout("", "The job's specification or rules were changed.")
}

// into parses a job's fields, all faults at once.
func (in JobInput) into(job *Job) error {
	var bad InvalidError
	text := func(field, label, v string, to *string, must bool) {
		*to = strings.TrimSpace(v)
		if must && *to == "" {
			bad.Add(field, "Enter "+label+".")
		}
	}
	text("ref", "the job's reference", in.Ref, &job.Ref, true)
	text("name", "a name for the job", in.Name, &job.Name, true)
	text("site", "where the site is", in.Site, &job.Site, true)
	text("owner", "the owner's name", in.Owner, &job.Owner, true)
	text("builder", "the builder's name", in.Builder, &job.Builder, true)
	text("contact", "how to reach the builder", in.Contact, &job.Contact, true)
	text("permit", "", in.Permit, &job.Permit, false)
	text("authority", "", in.Authority, &job.Authority, false)

	if _, err := codes.Get(in.RuleSet); err != nil {
		bad.Add("rule_set", "Choose the rule set that the authority has adopted.")
	} else {
		job.RuleSet = in.RuleSet
		if _, err := job.Rules(); err != nil {
			bad.Add("rule_set", "An amendment of this job does not fit that rule set; withdraw it first, on the sheet of rules. "+sentence(err))
		}
	}
	switch u := length.Unit(in.Units); u {
	case length.Inches, length.Millimetres:
		if job.Units != u || job.Version == 0 {
			if job.Version == 0 {
				job.Spec = layout.DefaultSpec(u)
			}
			job.Units = u
		}
	default:
		bad.Add("units", "Choose feet and inches or millimetres.")
	}
	if _, err := time.LoadLocation(in.Zone); err != nil || in.Zone == "" || in.Zone == "Local" {
		bad.Add("zone", "Enter the time zone by its name, such as America/Chicago or Europe/Dublin.")
	} else {
		job.Zone = in.Zone
	}
	if job.Begun = strings.TrimSpace(in.Begun); job.Begun != "" && !isDate(job.Begun) {
		bad.Add("begun", "Enter the date work began as 2026-05-04, or leave it empty.")
	}
	job.Lat, job.Lon = degrees(&bad, "lat", in.Lat, 90), degrees(&bad, "lon", in.Lon, 180)
	if (job.Lat == nil) != (job.Lon == nil) && len(bad.Fields) == 0 {
		bad.Add("lat", "Enter both latitude and longitude, or neither.")
	}
	switch p := checklist.PhotoPolicy(in.Photo); p {
	case checklist.PhotosAsked, checklist.PermitInFrame, checklist.PhotosRefused:
		job.Photo = p
	default:
		bad.Add("photo", "Choose what the authority makes of photographs.")
	}
	if job.Units != "" {
		for _, f := range layout.SpecFields() {
			typed, ok := in.Spec[f.Key]
			if !ok {
				continue
			}
			if err := f.Set(&job.Spec, typed, job.Units); err != nil {
				bad.Add(f.Key, sentence(err))
			}
		}
	}
	return bad.Err()
}

func degrees(bad *InvalidError, field, text string, most float64) *float64 {
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > most {
		bad.Add(field, fmt.Sprintf("Enter degrees between -%g and %g, such as 44.9512.", most, most))
		return nil
	}
	return &v
}

func isDate(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// sentence is the finished sentence of an error that carries one.
func sentence(err error) string {
	var s interface{ Sentence() string }
	if errors.As(err, &s) {
		return s.Sentence()
	}
	text := err.Error()
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}
