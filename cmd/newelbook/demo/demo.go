// Package demo makes the demonstration job: an invented deck with two level runs that meet at a corner, a stair and a
// removable length, taken through a week from set-up to handover pack. Every person, place, number and picture in it is
// invented.
//
// It is made only through the use cases that a person would use. What the tape reads is taken from the layout, give or
// take a grain of the marking grid; no verdict, length or hash stands in this package. The few slips of the story (a bolt
// too near the edge, a gap too close to call, an overhang off the layout) are told as so much beyond the figure they miss.
package demo

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// Job is the job description of the demonstration, in the form that the layout command reads.
//
//go:embed job.json
var Job []byte

// Clock is the story's own clock: the service that Seed works on reads it.
type Clock struct{ at time.Time }

// NewClock is a clock that stands at the story's beginning.
func NewClock() *Clock { return &Clock{at: day(0, 7, 30)} }

// Now is the story's time.
func (c *Clock) Now() time.Time { return c.at }

func (c *Clock) set(to time.Time) { c.at = to }

// pass lets some time go by, as it does between one thing and the next.
func (c *Clock) pass(d time.Duration) { c.at = c.at.Add(d) }

// Team is what Seed works with. Builder and Crew are accounts that stand already.
type Team struct {
	Service *jobs.Service
	Media   *media.Library
	Packs   *pack.Issuer
	Clock   *Clock
	Builder jobs.Account
	Crew    jobs.Account
}

// story is a Team at work on the one job.
type story struct {
	Team
	ctx context.Context
	job string // id
	// links is what the story's guests were sent.
	ownerLink, inspectorLink string
	acknowledgement          string // id of the owner's paper on the removable length
}

// Links are the tokens of the links that the story made, which are kept nowhere else.
type Links struct{ Owner, Inspector string }

// Seed tells the story and returns the links it made.
func Seed(ctx context.Context, t Team) (Links, error) {
	s := &story{Team: t, ctx: ctx}
	for _, chapter := range []struct {
		name string
		tell func() error
	}{
		{"set up the job", s.setUp}, {"frame", s.frame}, {"put the framing right", s.putRight}, {"close the framing", s.closeFraming},
		{"set posts", s.posts}, {"fit rails", s.rails}, {"fill in", s.infill}, {"cap", s.caps}, {"hand over", s.handOver},
	} {
		if err := chapter.tell(); err != nil {
			return Links{}, fmt.Errorf("demonstration: %s: %w", chapter.name, err)
		}
	}
	return Links{Owner: s.ownerLink, Inspector: s.inspectorLink}, nil
}

func (s *story) builder() jobs.By { return jobs.By{Actor: s.Builder.Actor()} }
func (s *story) crew() jobs.By    { return jobs.By{Actor: s.Crew.Actor()} }

// description is job.json as text: what somebody would type into the forms.
type description struct {
	Units string            `json:"units"`
	Rules string            `json:"rules"`
	Spec  map[string]string `json:"spec"`
	Runs  []map[string]any  `json:"runs"`
}

func (s *story) setUp() error {
	var d description
	if err := json.Unmarshal(Job, &d); err != nil {
		return fmt.Errorf("read job.json: %w", err)
	}
	in := particulars()
	in.Units, in.RuleSet, in.Spec = d.Units, d.Rules, d.Spec
	var err error
	if s.job, err = s.Service.MakeJob(s.ctx, s.builder(), in); err != nil {
		return err
	}
	if err := s.Service.Amend(s.ctx, s.builder(), s.job, townsDrop); err != nil {
		return err
	}
	for _, run := range d.Runs {
		s.Clock.pass(4 * time.Minute)
		in := jobs.RunInput{Fields: map[string]string{}, Overrides: map[string]string{}}
		for key, value := range run {
			if more, ok := value.(map[string]any); ok {
				for k, v := range more {
					in.Overrides[k] = fmt.Sprint(v)
				}
				continue
			}
			in.Fields[key] = fmt.Sprint(value)
		}
		if _, err := s.Service.SaveRun(s.ctx, s.builder(), s.job, in); err != nil {
			return fmt.Errorf("run %s: %w", in.Fields["label"], err)
		}
	}
	if err := s.approved(); err != nil {
		return err
	}
	return s.writeDiary(0)
}

// sheet is the job's record as it stands, and what it comes to.
func (s *story) sheet() (*jobs.Record, *jobs.Sheet, error) {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return nil, nil, err
	}
	sheet, err := rec.Sheet()
	return rec, sheet, err
}

// named is the check at a place of a key, written as "R1-P1 framing.bolt_upper".
func named(sheet *jobs.Sheet, name string) (checklist.Check, error) {
	for _, c := range sheet.Checks {
		if c.Check.Place.Label+" "+c.Check.Key == name {
			return c.Check, nil
		}
	}
	return checklist.Check{}, fmt.Errorf("%s is no check", name)
}

// run is the live run of a label.
func (s *story) run(label string) (jobs.Run, error) {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return jobs.Run{}, err
	}
	for _, r := range rec.Live() {
		if r.Label == label {
			return r, nil
		}
	}
	return jobs.Run{}, fmt.Errorf("no run %s", label)
}

// deviation is the newest deviation that is open at a place and stage.
func (s *story) deviation(place, stage string) (jobs.Deviation, error) {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return jobs.Deviation{}, err
	}
	for i := len(rec.Deviations) - 1; i >= 0; i-- {
		d := rec.Deviations[i]
		if d.State == jobs.DevOpen && strings.HasPrefix(d.Place.Label, place) && string(d.Stage) == stage {
			return d, nil
		}
	}
	return jobs.Deviation{}, fmt.Errorf("no deviation is open at %s in %s", place, stage)
}

// accept ends a deviation with a reason and a name.
func (s *story) accept(d jobs.Deviation, name, reason string) error {
	return s.Service.EndDeviation(s.ctx, s.builder(), s.job, jobs.DeviationInput{ID: d.ID, Version: d.Version, State: string(jobs.DevAccepted), Name: name, Reason: reason})
}

// close closes a stage.
func (s *story) close(stage string) error {
	s.Clock.pass(10 * time.Minute)
	_, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	st, ok := sheet.Stage(checklist.Stage(stage))
	if !ok {
		return fmt.Errorf("no stage %s", stage)
	}
	return s.Service.CloseStage(s.ctx, s.builder(), s.job, jobs.CloseInput{Stage: stage, Version: st.State.Version})
}
