package jobs

import (
	"context"
	"fmt"
	"strings"

	"newelbook/checklist"
)

// CloseInput closes a stage. Reason names the deviation that it is closed over, where something is outstanding.
type CloseInput struct {
	Stage   string
	Version int
	Reason  string
}

// CloseStage closes a stage. With something outstanding and no reason it answers with a BlockedError that lists it all;
// with a reason it opens a deviation that names every outstanding thing, and closes over it. Only the builder closes over
// a deviation.
func (s *Service) CloseStage(ctx context.Context, by By, jobID string, in CloseInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		stage := checklist.Stage(in.Stage)
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		st, ok := sheet.Stage(stage)
		if !ok {
			return "", ErrNotFound
		}
		if err := stale("the stage "+string(stage), st.State.By.Name, st.State.Version, in.Version); err != nil {
			return "", err
		}
		if st.State.Closed {
			return "", nil
		}
		state := StageState{Stage: stage, Closed: true, At: w.at, By: w.by, Version: st.State.Version + 1}
		if len(st.Outstanding) > 0 {
			reason := strings.TrimSpace(in.Reason)
			if reason == "" {
				return "", &BlockedError{What: string(stage), Outstanding: st.Outstanding}
			}
			if err := w.builder(); err != nil {
				return "", err
			}
			id, err := w.missing(stage, checklist.Place{ID: "job", Kind: checklist.PlaceJob, Label: "Whole job"},
				fmt.Sprintf("The stage %s was closed with %s outstanding. Reason given: %s", stage, things(len(st.Outstanding)), finished(reason)), st.Outstanding)
			if err != nil {
				return "", err
			}
			state.Deviations = []string{id}
		}
		return "", w.emit(EvStageClosed, Change{Stage: &state})
	})
	return err
}

// ReopenStage opens a closed stage again, with a reason.
func (s *Service) ReopenStage(ctx context.Context, by By, jobID string, in CloseInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		state, ok := w.rec.Stages[checklist.Stage(in.Stage)]
		if !ok || !state.Closed {
			return "", ErrNotFound
		}
		if err := stale("the stage "+in.Stage, state.By.Name, state.Version, in.Version); err != nil {
			return "", err
		}
		if strings.TrimSpace(in.Reason) == "" {
			return "", &InvalidError{Fields: []FieldError{{Field: "reason", Message: "Enter why the stage is opened again."}}}
		}
		state.Closed, state.At, state.By, state.Reason = false, w.at, w.by, strings.TrimSpace(in.Reason)
		state.Version++
		return "", w.emit(EvStageReopened, Change{Stage: &state})
	})
	return err
}

// CoverInput says that a run was decked over.
type CoverInput struct {
	RunID  string
	On     string // date
	Note   string
	Reason string // names the deviation, where hold-point evidence of the run is missing
}

// CoverRun records that a run was decked over. With hold-point evidence of that run missing and no reason it answers with a
// BlockedError; with a reason it records the cover over a deviation, because the record never pretends.
func (s *Service) CoverRun(ctx context.Context, by By, jobID string, in CoverInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		run, ok := w.rec.Run(in.RunID)
		if !ok || run.Retired {
			return "", ErrNotFound
		}
		if _, ok := w.rec.CoveredRun(run.ID); ok {
			return "", &ConflictError{What: "the covering of " + run.Label}
		}
		if !isDate(in.On) || in.On > w.rec.Job.Day(w.at) {
			return "", &InvalidError{Fields: []FieldError{{Field: "on", Message: "Enter the date it was covered as 2026-05-04, not later than today."}}}
		}
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		framing, _ := sheet.Stage(checklist.Framing)
		var missing []Outstanding
		for _, o := range framing.Outstanding {
			if c, ok := sheet.Check(o.CheckID); ok && o.Hold && c.Check.Place.RunID == run.ID {
				missing = append(missing, o)
			}
		}
		for _, d := range w.rec.Deviations {
			if o, owed := sheet.owed(d); owed && d.Stage == checklist.Framing && d.Place.RunID == run.ID {
				o.Hold = true
				missing = append(missing, o)
			}
		}
		covered := Covered{RunID: run.ID, On: in.On, At: w.at, By: w.by, Note: strings.TrimSpace(in.Note)}
		if len(missing) > 0 {
			reason := strings.TrimSpace(in.Reason)
			if reason == "" {
				return "", &BlockedError{What: "Covering " + run.Label, Outstanding: missing}
			}
			if err := w.builder(); err != nil {
				return "", err
			}
			id, err := w.missing(checklist.Framing, checklist.Place{ID: run.ID, Kind: checklist.PlaceRun, RunID: run.ID, Label: run.Label},
				fmt.Sprintf("%s was covered on %s with %s missing that decking now hides. Reason given: %s", run.Label, DayText(in.On), things(len(missing)), finished(reason)), missing)
			if err != nil {
				return "", err
			}
			covered.Deviations = []string{id}
		}
		return "", w.emit(EvRunCovered, Change{Covered: &covered})
	})
	return err
}

// missing opens the deviation that names what is not recorded, and returns its id.
func (w *work) missing(stage checklist.Stage, place checklist.Place, what string, owed []Outstanding) (string, error) {
	d := Deviation{Kind: DevMissing, Stage: stage, Place: place, What: what}
	for _, o := range owed {
		d.Missing = append(d.Missing, o.text())
	}
	if err := w.open(d); err != nil {
		return "", err
	}
	return w.rec.Deviations[len(w.rec.Deviations)-1].ID, nil
}

func things(n int) string {
	if n == 1 {
		return "one thing"
	}
	return fmt.Sprintf("%d things", n)
}

// finished closes a sentence.
func finished(text string) string {
	text = strings.TrimSpace(text)
	if strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}
