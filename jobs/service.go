package jobs

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"
)

// Service is the use cases: each method is one thing that somebody does, in one transaction, and leaves its events.
type Service struct {
	store Store
	now   func() time.Time

	mu    sync.Mutex
	cache map[string]*Record // newest record seen of each job; used only while the stored head is the same
}

// NewService joins the use cases to a store and a clock.
func NewService(store Store, now func() time.Time) *Service {
	return &Service{store: store, now: now, cache: map[string]*Record{}}
}

// Now is the service's clock.
func (s *Service) Now() time.Time { return s.now().UTC() }

// NewID makes a permanent id: 60 random bits in lower-case base 32.
func NewID() string {
	b := make([]byte, 10)
	rand.Read(b)
	return strings.ToLower(base32.StdEncoding.EncodeToString(b))[:12]
}

// Jobs lists every job, newest first.
func (s *Service) Jobs(ctx context.Context) ([]Summary, error) {
	var out []Summary
	err := s.store.View(ctx, func(tx Tx) (err error) {
		out, err = tx.Jobs()
		return err
	})
	return out, err
}

// Record is a job's record at its head. It is shared: read it, never change it.
func (s *Service) Record(ctx context.Context, jobID string) (*Record, error) {
	var rec *Record
	err := s.store.View(ctx, func(tx Tx) (err error) {
		rec, err = s.load(tx, jobID)
		return err
	})
	return rec, err
}

// RecordWithEvents is a job's record and its whole chain, of one snapshot.
func (s *Service) RecordWithEvents(ctx context.Context, jobID string) (*Record, []Event, error) {
	var rec *Record
	var events []Event
	err := s.store.View(ctx, func(tx Tx) (err error) {
		if rec, err = s.load(tx, jobID); err != nil {
			return err
		}
		events, err = tx.Events(jobID, 1)
		return err
	})
	return rec, events, err
}

func (s *Service) load(tx Tx, jobID string) (*Record, error) {
	head, err := tx.Head(jobID)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	rec := s.cache[jobID]
	s.mu.Unlock()
	if rec != nil && rec.Head == head {
		return rec, nil
	}
	if rec, err = tx.Load(jobID); err != nil {
		return nil, fmt.Errorf("load job %s: %w", jobID, err)
	}
	s.keep(rec)
	return rec, nil
}

func (s *Service) keep(rec *Record) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if old := s.cache[rec.Job.ID]; old == nil || old.Head.Seq <= rec.Head.Seq {
		s.cache[rec.Job.ID] = rec
	}
}

// work is one use case under way: the record as it becomes, and the transaction that its events go into.
type work struct {
	tx  Tx
	rec *Record
	by  Actor
	at  time.Time
}

// update runs one use case on a job. A form seen before gives the result it gave then, and nothing happens twice.
func (s *Service) update(ctx context.Context, jobID string, by By, f func(w *work) (result string, err error)) (string, error) {
	var result string
	var done *Record
	err := s.store.Update(ctx, func(tx Tx) error {
		done = nil
		if earlier, repeated, err := seen(tx, by); err != nil || repeated {
			result = earlier
			return err
		}
		w := &work{tx: tx, rec: NewRecord(), by: by.Actor, at: s.Now()}
		if jobID != "" {
			rec, err := s.load(tx, jobID)
			if err != nil {
				return err
			}
			w.rec = rec.next()
		}
		var err error
		if result, err = f(w); err != nil {
			return err
		}
		done = w.rec
		return s.remember(tx, by, result, w.at)
	})
	if err == nil && done != nil {
		s.keep(done)
	}
	return result, err
}

// Repeated looks a form up before long work: whether it was sent before with the same body, and what came of it. Another
// body under the same form is a FormReusedError.
func (s *Service) Repeated(ctx context.Context, by By) (result string, repeated bool, err error) {
	err = s.store.View(ctx, func(tx Tx) (err error) {
		result, repeated, err = seen(tx, by)
		return err
	})
	return result, repeated, err
}

// seen looks a form up. A known form with the same body is a repeat; with another body it is refused.
func seen(tx Tx, by By) (result string, repeated bool, err error) {
	if by.Form == "" {
		return "", false, nil
	}
	form, err := tx.Form(by.Form)
	switch {
	case errors.Is(err, ErrNotFound):
		return "", false, nil
	case err != nil:
		return "", false, err
	case form.Body != by.Body:
		return "", false, &FormReusedError{Result: form.Result}
	}
	return form.Result, true, nil
}

func (s *Service) remember(tx Tx, by By, result string, at time.Time) error {
	if by.Form == "" {
		return nil
	}
	return tx.SaveForm(Form{ID: by.Form, Body: by.Body, Result: result, At: at})
}

// emit seals one event, stores it with the row that it changes, and takes it into the record.
func (w *work) emit(kind string, c Change) error {
	payload, err := json.Marshal(c)
	if err != nil {
		return fmt.Errorf("encode %s: %w", kind, err)
	}
	salt := make([]byte, 16)
	rand.Read(salt)
	if c.Job != nil {
		w.rec.Job = *c.Job // the first event needs the zone it was written in
	}
	e := Event{
		JobID: w.rec.Job.ID, At: w.at, Offset: w.at.In(w.rec.Job.Location()).Format("-07:00"), Actor: w.by,
		Type: kind, Salt: hex.EncodeToString(salt), Payload: string(payload),
	}.Seal(w.rec.Head)
	if err := w.tx.Append(e); err != nil {
		return fmt.Errorf("append %s to job %s: %w", kind, e.JobID, err)
	}
	return w.rec.Apply(e)
}

// builder refuses whoever is not the builder.
func (w *work) builder() error {
	if w.by.Role != RoleBuilder {
		return fmt.Errorf("%w: only the builder may do this", ErrForbidden)
	}
	return nil
}
