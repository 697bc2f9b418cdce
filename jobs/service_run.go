package jobs

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// RunInput is a run as typed: the text of run fields by key, and the specification fields that it has otherwise.
type RunInput struct {
	ID        string // empty for a new run
	Version   int
	Fields    map[string]string
	Overrides map[string]string // an empty text takes the override away
}

// SaveRun makes or changes a run, lays it out, and returns its id.
func (s *Service) SaveRun(ctx context.Context, by By, jobID string, in RunInput) (string, error) {
	return s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		was := ""
		run := Run{Run: newRun(in.Fields["kind"], w.rec.Job.Units), Order: len(w.rec.Runs) + 1}
		if in.ID != "" {
			old, ok := w.rec.Run(in.ID)
			if !ok {
				return "", ErrNotFound
			}
			if old.Retired {
				return "", &InvalidError{Fields: []FieldError{{Message: old.Label + " was taken out of the job: describe it as a new run if it is to be built after all."}}}
			}
			if err := stale("run "+old.Label, "", old.Version, in.Version); err != nil {
				return "", err
			}
			run, was = old, old.Label
		}
		if err := in.into(&run, w.rec); err != nil {
			return "", err
		}
		run.Version++
		if err := w.emit(EvRunSaved, Change{Run: &run}); err != nil {
			return "", err
		}
		if err := w.relabel(was, run.Label); err != nil {
			return "", err
		}
		if err := w.relayout("", "Run "+run.Label+" was described or changed."); err != nil {
			return "", err
		}
		return run.ID, w.removable(run)
	})
}

// relabel lets the runs that share a post with a run follow its new label.
func (w *work) relabel(was, is string) error {
	if was == "" || was == is {
		return nil
	}
	for _, run := range slices.Clone(w.rec.Runs) {
		if run.StartAt != was {
			continue
		}
		run.StartAt = is
		run.Version++
		if err := w.emit(EvRunSaved, Change{Run: &run}); err != nil {
			return err
		}
	}
	return nil
}

// newRun starts a run of a kind from the defaults of its fields. One of no kind that there is starts as a level one without a
// kind, which is asked for.
func newRun(kind string, unit length.Unit) layout.Run {
	k := layout.RunKind(kind)
	known := k == layout.Level || k == layout.Rake || k == layout.Removable
	if !known {
		k = layout.Level
	}
	run := layout.DefaultRun(k, unit)
	if !known {
		run.Kind = ""
	}
	run.ID = NewID()[:6]
	return run
}

// RetireRun takes a run out of the job. Its readings and photographs stay in the record.
func (s *Service) RetireRun(ctx context.Context, by By, jobID, runID string, version int) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		run, ok := w.rec.Run(runID)
		if !ok {
			return "", ErrNotFound
		}
		if err := stale("run "+run.Label, "", run.Version, version); err != nil {
			return "", err
		}
		if run.Retired {
			return "", nil
		}
		run.Retired = true
		run.Version++
		if err := w.emit(EvRunSaved, Change{Run: &run}); err != nil {
			return "", err
		}
		return "", w.relayout("", "Run "+run.Label+" was taken out.")
	})
	return err
}

// restate writes what the runs have otherwise anew when the job's unit has changed: it stands as typed, and bare numbers would
// mean other lengths.
func (w *work) restate(from length.Unit) error {
	fields := layout.SpecFields()
	for _, run := range slices.Clone(w.rec.Runs) {
		overrides := slices.Clone(run.Overrides)
		for i, o := range overrides {
			var spec layout.Spec
			if f, ok := find(fields, func(f layout.Field) bool { return f.Key == o.Key }); ok && f.Set(&spec, o.Text, from) == nil {
				overrides[i].Text = f.Text(&spec, w.rec.Job.Units.Style())
			}
		}
		if slices.Equal(overrides, run.Overrides) {
			continue
		}
		run.Overrides = overrides
		run.Version++
		if err := w.emit(EvRunSaved, Change{Run: &run}); err != nil {
			return err
		}
	}
	return nil
}

func (in RunInput) into(run *Run, rec *Record) error {
	var bad InvalidError
	for _, f := range layout.RunFields() {
		typed, sent := in.Fields[f.Key]
		if !sent && (f.Optional || f.Text(&run.Run, rec.Job.Units.Style()) != "") {
			continue // it keeps what it has; what it must have and has not is asked for
		}
		if err := f.Set(&run.Run, typed, rec.Job.Units); err != nil {
			bad.Add(f.Key, sentence(err))
		}
	}
	for _, f := range layout.SpecFields() {
		typed, ok := in.Overrides[f.Key]
		if !ok {
			continue
		}
		run.Overrides = slices.DeleteFunc(slices.Clone(run.Overrides), func(o layout.Override) bool { return o.Key == f.Key })
		if typed = strings.TrimSpace(typed); typed != "" {
			run.Overrides = append(run.Overrides, layout.Override{Key: f.Key, Text: typed})
		}
	}
	if _, faults := rec.Job.Spec.With(run.Overrides, rec.Job.Units); len(faults) > 0 {
		for _, f := range faults {
			bad.Add(f.Field, f.Message)
		}
	}
	for _, other := range rec.Live() {
		if other.ID != run.ID && other.Label == run.Label {
			bad.Add("label", fmt.Sprintf("%s is taken by another run: choose another label.", run.Label))
		}
	}
	if run.StartAt != "" && !slices.ContainsFunc(rec.Live(), func(o Run) bool { return o.Label == run.StartAt && o.Order < run.Order }) {
		bad.Add("start_at", fmt.Sprintf("Enter the label of a run before this one: none of them is called %s.", run.StartAt))
	}
	if len(bad.Fields) == 0 {
		return rec.triable(*run)
	}
	return bad.Err()
}

// triable refuses a run of which nothing at all can be laid out. A run in which one bay cannot be laid out is saved, and
// its layout says which and why.
func (r *Record) triable(run Run) error {
	rules, err := r.Job.Rules()
	if err != nil {
		return err
	}
	made := r.layOut(run, rules)
	if len(made.Bays) > 0 {
		return nil
	}
	var bad InvalidError
	for _, p := range made.Problems {
		if p.Fatal {
			bad.Add(cmp.Or(p.Field, "length"), p.Sentence)
		}
	}
	if len(bad.Fields) == 0 {
		bad.Add("length", "Enter the run's length: with what is given there is no bay to lay out.")
	}
	return bad.Err()
}

func (r *Record) layOut(run Run, rules codes.Applied) layout.Layout {
	live := PlainRuns(r.Live())
	in := layout.Input{Run: run.Run, Spec: r.Job.Spec, Rules: rules, Unit: r.Job.Units, Joint: r.joint(run, live), Meets: layout.Meetings(run.Run, live)}
	bays := layout.Places(in)
	posts := 0
	for _, b := range bays {
		posts = max(posts, b.FromPost, b.ToPost)
	}
	in.Built = r.openings(run.ID, bays)
	in.Posts = measuredPosts(run.ID, posts, checklist.KeyPostWidth, r.read(run.ID, checklist.KeyPostWidth))
	return layout.Compute(in)
}

// relayout lays out every live run again, or one, and keeps those that came out otherwise as new versions.
func (w *work) relayout(runID, basis string) error {
	rules, err := w.rec.Job.Rules()
	if err != nil {
		return err
	}
	for _, run := range w.rec.Live() {
		if runID != "" && run.ID != runID {
			continue
		}
		made := w.rec.layOut(run, rules)
		last, ok := w.rec.Layout(run.ID)
		made.Version, made.Basis = last.Version, last.Basis
		if ok && sameLayout(made, last.Layout) {
			continue
		}
		made.Version, made.Basis = last.Version+1, basis
		v := LayoutVersion{RunID: run.ID, Version: made.Version, At: w.at, Basis: basis, Layout: made}
		if err := w.emit(EvLayoutMade, Change{Layout: &v}); err != nil {
			return err
		}
	}
	return nil
}

// sameLayout compares two layouts as they are stored.
func sameLayout(a, b layout.Layout) bool {
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// joint is what a run knows of its neighbours.
func (r *Record) joint(run Run, live []layout.Run) layout.Joint {
	var before *layout.Layout
	if other, ok := find(r.Live(), func(x Run) bool { return run.StartAt != "" && x.Label == run.StartAt && x.ID != run.ID }); ok {
		if v, ok := r.Layout(other.ID); ok {
			before = &v.Layout
		}
	}
	return layout.NewJoints(live, r.Job.Spec, r.Job.Units).Of(run.Run, before)
}

// PlainRuns are the runs as the layout takes them.
func PlainRuns(runs []Run) []layout.Run {
	plain := make([]layout.Run, len(runs))
	for i, run := range runs {
		plain[i] = run.Run
	}
	return plain
}
