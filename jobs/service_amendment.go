package jobs

import (
	"context"
	"errors"
	"slices"
	"strings"

	"newelbook/checklist/codes"
)

// AmendmentInput is the authority's own figure for one figure of the rule set, as typed.
type AmendmentInput struct {
	Version                              int // of the job
	Key, Value, SaidBy, Office, On, Note string
}

// Amend lays an authority's own figure over the rule set, or over the practice beside it. An earlier one for the same figure is
// replaced, and kept among the past ones.
func (s *Service) Amend(ctx context.Context, by By, jobID string, in AmendmentInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		job := w.rec.Job
		if err := stale("the job", "", job.Version, in.Version); err != nil {
			return "", err
		}
		a, err := in.amendment(job, job.Day(w.at))
		if err != nil {
			return "", err
		}
		if before, ok := job.takeAmendment(a.Key); ok {
			job.Past = append(job.Past, PastAmendment{Amendment: before, Ended: w.at, EndedBy: w.by, Replaced: true, Why: "The authority gave another figure: " + a.Value + "."})
		}
		job.Amendments = append(job.Amendments, a)
		return "", w.saveJob(EvJobChanged, job)
	})
	return err
}

// amendment is the amendment as it would be kept, or each fault of it once, at its own field.
func (in AmendmentInput) amendment(job Job, today string) (codes.Amendment, error) {
	var bad InvalidError
	a := codes.Amendment{
		Key: in.Key, Value: strings.TrimSpace(in.Value), SaidBy: strings.TrimSpace(in.SaidBy), Office: strings.TrimSpace(in.Office), On: in.On, Note: strings.TrimSpace(in.Note),
	}
	base, err := codes.Get(job.RuleSet)
	if err != nil {
		return codes.Amendment{}, err
	}
	// The figure is tried by itself: who said it and when are looked at below.
	_, err = codes.Apply(base, []codes.Amendment{{Key: a.Key, Value: a.Value, SaidBy: "anybody"}})
	switch {
	case errors.Is(err, codes.ErrNoFigure):
		bad.Add("key", sentence(err))
	case err != nil:
		bad.Add("value", sentence(err))
	}
	if a.SaidBy == "" {
		bad.Add("said_by", "Enter who said so: a name at the authority.")
	}
	if !isDate(a.On) || a.On > today {
		bad.Add("on", "Enter the date it was said as 2026-05-04, not later than today.")
	}
	return a, bad.Err()
}

// WithdrawalInput takes an authority's own figure back, as typed.
type WithdrawalInput struct {
	Version  int // of the job
	Key, Why string
}

// Withdraw takes an authority's own figure back, so that the code's own holds again. The figure is kept among the past ones
// with who withdrew it, when and why; readings keep what they were judged against.
func (s *Service) Withdraw(ctx context.Context, by By, jobID string, in WithdrawalInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		job := w.rec.Job
		if err := stale("the job", "", job.Version, in.Version); err != nil {
			return "", err
		}
		var bad InvalidError
		a, ok := job.takeAmendment(in.Key)
		if !ok {
			bad.Add("withdrawn", "Choose one of the authority's own figures that holds now.")
		}
		why := strings.TrimSpace(in.Why)
		if why == "" {
			bad.Add("why", "Enter why the figure no longer holds, so that whoever reads the pack can follow it.")
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		job.Past = append(job.Past, PastAmendment{Amendment: a, Ended: w.at, EndedBy: w.by, Why: why})
		return "", w.saveJob(EvJobChanged, job)
	})
	return err
}

// takeAmendment takes the amendment of that key out of those in force, without touching the lists that other copies of the job
// share.
func (j *Job) takeAmendment(key string) (codes.Amendment, bool) {
	a, ok := find(j.Amendments, func(x codes.Amendment) bool { return x.Key == key })
	if ok {
		j.Amendments = slices.DeleteFunc(slices.Clone(j.Amendments), func(x codes.Amendment) bool { return x.Key == key })
	}
	j.Past = slices.Clip(j.Past)
	return a, ok
}
