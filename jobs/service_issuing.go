package jobs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// IssuingState is what became of a pack that was asked for.
type IssuingState string

// States of issuing.
const (
	IssuingNow    IssuingState = "under way"
	IssuingDone   IssuingState = "done"
	IssuingFailed IssuingState = "failed"
)

// Issuing is the pack of a job that was asked for last, as it is noted beside the record: it is no part of the chain, since a pack that
// was never issued is nothing that happened to the job. What is noted as under way by a server that is no more was cut off, unless its
// form is known by then: a pack is recorded together with its form.
type Issuing struct {
	Form    string       `json:"form"`
	Body    string       `json:"body"`
	By      Actor        `json:"by"`
	Purpose string       `json:"purpose"`
	Began   time.Time    `json:"began"`
	Ended   time.Time    `json:"ended"`
	State   IssuingState `json:"state"`
	Pack    int          `json:"pack"` // where it is done
	Says    string       `json:"says"` // why it failed, in finished sentences
}

func issuingKey(jobID string) string { return "issuing " + jobID }

// NoteIssuing keeps what became of the pack that was asked for last.
func (s *Service) NoteIssuing(ctx context.Context, jobID string, n Issuing) error {
	text, err := json.Marshal(n)
	if err != nil {
		return fmt.Errorf("note the issuing of a pack: %w", err)
	}
	return s.store.Update(ctx, func(tx Tx) error { return tx.SetSetting(issuingKey(jobID), string(text)) })
}

// LastIssuing is the pack of a job that was asked for last; ErrNotFound where none was, or where it was issued by a command.
func (s *Service) LastIssuing(ctx context.Context, jobID string) (Issuing, error) {
	var n Issuing
	err := s.store.View(ctx, func(tx Tx) error {
		text, err := tx.Setting(issuingKey(jobID))
		if err != nil {
			return err
		}
		if err := json.Unmarshal([]byte(text), &n); err != nil {
			return fmt.Errorf("read the note of an issuing: %w", err)
		}
		if n.State != IssuingNow {
			return nil
		}
		form, err := tx.Form(n.Form)
		if errors.Is(err, ErrNotFound) {
			return nil
		} else if err != nil {
			return err
		}
		n.State, n.Ended = IssuingDone, form.At
		_, err = fmt.Sscan(form.Result, &n.Pack)
		return err
	})
	return n, err
}
