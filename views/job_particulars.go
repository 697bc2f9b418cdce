package views

import (
	"strconv"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// JobFields are the particulars of a job as text.
type JobFields struct {
	Ref, Name, Site, Owner, Builder, Contact string
	Permit, Authority, RuleSet, Units, Zone  string
	Begun, Lat, Lon, Photo                   string
	RuleSets                                 []Option
}

// JobNewPage asks for the particulars of a new job.
type JobNewPage struct {
	Frame
	JobFields
	Form   Form
	Stands []Fact
}

// NewJobNew is the page for a new job. What does not change from job to job is taken from the last one.
func NewJobNew(f Frame, last jobs.Job, form Form) JobNewPage {
	f.Lead = "The stock, heights and tolerances start from site defaults and can be changed afterwards."
	same := jobs.Job{Builder: last.Builder, Contact: last.Contact, Authority: last.Authority, RuleSet: last.RuleSet, Units: last.Units, Zone: last.Zone}
	return JobNewPage{Frame: f, Form: form, JobFields: jobFields(same, form)}
}

// Beside is the page beside the job that its form made when it was sent before with other content.
func (p JobNewPage) Beside(job jobs.Job) JobNewPage {
	p.Stands = p.Form.made(job.Ref, JobURL(job.ID), jobFields(job, Form{}).stands())
	return p
}

// JobParticularsPage shows and changes the particulars of a job.
type JobParticularsPage struct {
	Frame
	JobFields
	Form         Form
	URL, Version string
	Stands       []Fact
}

// NewJobParticulars is the page of a job's particulars.
func NewJobParticulars(f Frame, rec *jobs.Record, form Form) JobParticularsPage {
	job := rec.Job
	return JobParticularsPage{
		Frame: f, Form: form, JobFields: jobFields(job, form), URL: JobURL(job.ID, "particulars"), Version: form.Version(job.Version),
		Stands: form.Stands(jobFields(job, Form{}).stands()),
	}
}

func jobFields(job jobs.Job, form Form) JobFields {
	v := JobFields{
		Ref: form.Text("ref", job.Ref), Name: form.Text("name", job.Name), Site: form.Text("site", job.Site), Owner: form.Text("owner", job.Owner),
		Builder: form.Text("builder", job.Builder), Contact: form.Text("contact", job.Contact), Permit: form.Text("permit", job.Permit),
		Authority: form.Text("authority", job.Authority), RuleSet: form.Text("rule_set", job.RuleSet), Units: form.Text("units", string(job.Units)),
		Zone: form.Text("zone", job.Zone), Begun: form.Text("begun", job.Begun), Lat: form.Text("lat", degreesText(job.Lat)),
		Lon: form.Text("lon", degreesText(job.Lon)), Photo: form.Text("photo", string(job.Photo)),
	}
	for _, set := range codes.All() {
		v.RuleSets = append(v.RuleSets, Option{Value: set.ID, Label: set.Name, Hint: set.Place})
	}
	return v
}

func (v JobFields) stands() []Stand {
	return []Stand{
		{"ref", "Reference", v.Ref}, {"name", "Name", v.Name}, {"site", "Site", v.Site}, {"owner", "Owner", v.Owner}, {"builder", "Builder", v.Builder},
		{"contact", "How to reach the builder", v.Contact}, {"permit", "Permit number", v.Permit}, {"authority", "Authority", v.Authority},
		{"rule_set", "Rule set", v.RuleSet}, {"units", "Units", v.Units}, {"zone", "Time zone", v.Zone}, {"begun", "Work began", v.Begun},
		{"lat", "Latitude", v.Lat}, {"lon", "Longitude", v.Lon}, {"photo", "Photographs", v.Photo},
	}
}

// degreesText is a position as it is typed.
func degreesText(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}

// JobInputOf is a job's particulars as they would be typed again; its specification is left as it is.
func JobInputOf(job jobs.Job) jobs.JobInput {
	return jobs.JobInput{
		Version: job.Version, Ref: job.Ref, Name: job.Name, Site: job.Site, Owner: job.Owner, Builder: job.Builder, Contact: job.Contact,
		Permit: job.Permit, Authority: job.Authority, RuleSet: job.RuleSet, Units: string(job.Units), Zone: job.Zone, Begun: job.Begun,
		Lat: degreesText(job.Lat), Lon: degreesText(job.Lon), Photo: string(job.Photo),
	}
}

// JobSpecificationPage shows and changes the build specification of a job.
type JobSpecificationPage struct {
	Frame
	Form         Form
	URL, Version string
	Stands       []Fact
	Groups       []FieldGroup
	Unit         string
}

// NewJobSpecification is the page of a job's specification.
func NewJobSpecification(f Frame, rec *jobs.Record, form Form) JobSpecificationPage {
	job := rec.Job
	f.Lead = "Actual sizes, as measured. A run may have any of it otherwise."
	unit := "inches"
	if job.Units == length.Millimetres {
		unit = "millimetres"
	}
	return JobSpecificationPage{
		Frame: f, Form: form, URL: JobURL(job.ID, "specification"), Version: form.Version(job.Version), Unit: unit,
		Stands: form.Stands(specStands(job.Spec, job.Units)), Groups: specGroups(f, job.Spec, job.Units, form),
	}
}
