package pack

import (
	"context"
	"errors"
	"slices"
	"sync"

	"newelbook/jobs"
)

// ErrUnderWay says that another pack of the job is being issued.
var ErrUnderWay = errors.New("another pack of this job is being issued")

// issuesAtOnce is over how many jobs packs are made at once. Each takes all processors by itself; a second lets a small job pass a
// large one.
const issuesAtOnce = 2

// Desk issues packs in the background, one at a time for each job. What is under way is known here; what became of it is also noted in
// the store (jobs.Issuing), so that a server that starts anew can say what happened. Close it before the store.
type Desk struct {
	issuer Issuer
	failed func(jobID string, err error) string
	ctx    context.Context
	cancel context.CancelFunc
	work   sync.WaitGroup
	slots  chan struct{}

	mu     sync.Mutex
	runs   map[string]*run // by job, under way alone
	closed bool
}

// run is one pack being issued.
type run struct {
	note  jobs.Issuing
	steps []Progress // as far as they began
	begun bool       // not waiting for others any more
	ended chan struct{}
}

// Standing is how it stands with the pack of a job that was asked for last.
type Standing struct {
	jobs.Issuing
	UnderWay bool       // here and now
	Waiting  bool       // for packs of other jobs
	Steps    []Progress // that have begun, in their order
	CutOff   bool       // its server ended before it was done: nothing was issued
}

// NewDesk makes a desk for an issuer. failed logs why an issue failed and says it to the builder, in finished sentences.
func NewDesk(i Issuer, failed func(jobID string, err error) string) *Desk {
	d := &Desk{issuer: i, failed: failed, slots: make(chan struct{}, issuesAtOnce), runs: map[string]*run{}}
	d.ctx, d.cancel = context.WithCancel(context.Background())
	return d
}

// Issue begins to issue a pack and returns at once. The same form again begins nothing anew. ErrUnderWay means that another pack of
// the job is under way; jobs.FormReusedError that the form was sent before with another body.
func (d *Desk) Issue(ctx context.Context, by jobs.By, jobID string, o Order) error {
	if err := jobs.MayIssue(by.Actor); err != nil {
		return err
	}
	if _, repeated, err := d.issuer.Service.Repeated(ctx, by); err != nil || repeated {
		return err
	}
	if by.Form == "" { // what becomes of it is told by its form
		by.Form = jobs.NewID()
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if r := d.runs[jobID]; r != nil {
		switch {
		case r.note.Form != by.Form:
			return ErrUnderWay
		case r.note.Body != by.Body:
			return &jobs.FormReusedError{}
		}
		return nil
	}
	if d.closed {
		return context.Canceled
	}
	r := &run{ended: make(chan struct{}), note: jobs.Issuing{Form: by.Form, Body: by.Body, By: by.Actor, Purpose: o.Purpose, Began: d.issuer.Service.Now(), State: jobs.IssuingNow}}
	if err := d.issuer.Service.NoteIssuing(ctx, jobID, r.note); err != nil {
		return err
	}
	d.runs[jobID] = r
	d.work.Go(func() { d.run(r, by, jobID, o) })
	return nil
}

// run issues one pack and notes what became of it. Where the desk is closed meanwhile the note stays as it is: it was cut off.
func (d *Desk) run(r *run, by jobs.By, jobID string, o Order) {
	note := r.note
	select {
	case d.slots <- struct{}{}:
		issuer := d.issuer
		issuer.Told = func(p Progress) { d.tell(r, p) }
		d.mu.Lock()
		r.begun = true
		d.mu.Unlock()
		var p jobs.IssuedPack
		err := safely(func() (err error) {
			p, err = issuer.Issue(d.ctx, by, jobID, o)
			return err
		})
		<-d.slots
		note.State, note.Pack = jobs.IssuingDone, p.Number
		if err != nil {
			note.State, note.Says = jobs.IssuingFailed, d.failed(jobID, err)
		}
	case <-d.ctx.Done():
	}
	if d.ctx.Err() == nil || note.State == jobs.IssuingDone {
		note.Ended = d.issuer.Service.Now()
		if err := d.issuer.Service.NoteIssuing(context.WithoutCancel(d.ctx), jobID, note); err != nil {
			d.failed(jobID, err) // it reads as cut off, or as done where its form is known
		}
	}
	d.mu.Lock()
	delete(d.runs, jobID)
	d.mu.Unlock()
	close(r.ended)
}

// tell takes progress in.
func (d *Desk) tell(r *run, p Progress) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if i := slices.IndexFunc(r.steps, func(s Progress) bool { return s.Step == p.Step }); i >= 0 {
		r.steps[i] = p
		return
	}
	r.steps = append(r.steps, p)
}

// Standing is how it stands with the pack of a job that was asked for last; ok is false where none was.
func (d *Desk) Standing(ctx context.Context, jobID string) (s Standing, ok bool, err error) {
	d.mu.Lock()
	if r := d.runs[jobID]; r != nil {
		defer d.mu.Unlock()
		return Standing{Issuing: r.note, UnderWay: true, Waiting: !r.begun, Steps: slices.Clone(r.steps)}, true, nil
	}
	d.mu.Unlock()
	s.Issuing, err = d.issuer.Service.LastIssuing(ctx, jobID)
	if errors.Is(err, jobs.ErrNotFound) {
		return Standing{}, false, nil
	} else if err != nil {
		return Standing{}, false, err
	}
	s.CutOff = s.State == jobs.IssuingNow
	return s, true, nil
}

// Wait waits until no pack of the job is under way, or ctx ends.
func (d *Desk) Wait(ctx context.Context, jobID string) error {
	d.mu.Lock()
	r := d.runs[jobID]
	d.mu.Unlock()
	if r == nil {
		return nil
	}
	select {
	case <-r.ended:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// Close takes no more packs, lets those under way finish until ctx ends, and breaks off the others: nothing of them is kept, and the
// note says that they were cut off.
func (d *Desk) Close(ctx context.Context) {
	d.mu.Lock()
	d.closed = true
	d.mu.Unlock()
	done := make(chan struct{})
	go func() {
		d.work.Wait()
		close(done)
	}()
	select {
	case <-done:
	case <-ctx.Done():
	}
	d.cancel()
	<-done
}
