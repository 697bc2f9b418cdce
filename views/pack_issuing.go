package views

import (
	"fmt"
	"time"

	"newelbook/jobs"
)

// IssuingURL is the page of the pack that is being issued.
func IssuingURL(jobID string) string { return JobURL(jobID, "packs", "issuing") }

// IssuingStep is how far one part of issuing is: Done of Of things, of which Label names the kind.
type IssuingStep struct {
	Label    string
	Begun    bool
	Done, Of int
	Status   *Status
}

// Count is the figure beside a step.
func (s IssuingStep) Count() string {
	if s.Of == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d", s.Done, s.Of)
}

// PackIssuingPage shows how far the pack is that is being issued. It may be left and opened again: the server goes on.
type PackIssuingPage struct {
	Frame
	Facts    []Fact
	Waiting  bool // for a pack of another job
	Steps    []IssuingStep
	HereURL  string
	PacksURL string
}

// NewPackIssuing is that page.
func NewPackIssuing(f Frame, rec *jobs.Record, n jobs.Issuing, waiting bool, steps []IssuingStep) PackIssuingPage {
	f.Lead = "You may leave this page or close the browser: the server goes on, and this page shows how far it is when you come back."
	p := PackIssuingPage{Waiting: waiting, Steps: steps, HereURL: IssuingURL(rec.Job.ID), PacksURL: PacksURL(rec.Job.ID)}
	p.Facts = []Fact{{Label: "For", Value: orElse(n.Purpose, PurposeHandover)}, {Label: "Asked for", Value: momentText(n.Began, rec.Job.Location()), Note: "by " + n.By.Name}}
	for i := range p.Steps {
		s := &p.Steps[i]
		switch {
		case !s.Begun:
			s.Status = NewStatus("not begun", "not checked")
		case s.Done < s.Of:
			s.Status = NewStatus("under way", "sending")
		case s.Of == 0:
			s.Status = NewStatus("nothing to do", "not needed")
		default:
			s.Status = NewStatus("done", "good")
		}
	}
	p.Frame = f
	return p
}

// Issuing shows on the sheet of packs what became of the pack that was asked for last, where that is not issued: it is under way, it
// was cut off, or it failed.
func (p *PackListPage) Issuing(rec *jobs.Record, n jobs.Issuing, underWay, cutOff bool) {
	at := func(t time.Time) string { return momentText(t, rec.Job.Location()) }
	what := fmt.Sprintf("The pack for %s that %s asked for, %s,", orElse(n.Purpose, PurposeHandover), n.By.Name, at(n.Began))
	switch {
	case underWay:
		p.UnderWay = &Row{Label: "A pack is being issued", Note: fmt.Sprintf("for %s, asked for %s by %s", orElse(n.Purpose, PurposeHandover), at(n.Began), n.By.Name), URL: IssuingURL(rec.Job.ID), Status: NewStatus("under way", "sending")}
	case cutOff:
		p.Ended = &Notice{NewStatus("cut off", "open"), what + " was cut off when the server stopped. Nothing was issued: issue it again."}
	case n.State == jobs.IssuingFailed:
		p.Ended = &Notice{NewStatus("not issued", "open"), what + " was not issued. " + n.Says}
	}
}
