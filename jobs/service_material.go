package jobs

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// mostOnHand is the most boards of one entry of stock on hand.
const mostOnHand = 1000

// TickInput ticks a piece, all of it, or takes the tick back.
type TickInput struct {
	PieceID string
	Step    string // cut or fitted
	Done    bool   // false takes it back
}

// TickPiece ticks a piece as cut or fitted. What is fitted is cut: ticking the first ticks the second too, and taking back
// that a piece is cut takes back that it is fitted. What is fitted and differs from the layout as it is now stays as it was cut: ticking
// it as fitted anew says that somebody looked at it and left it.
func (s *Service) TickPiece(ctx context.Context, by By, jobID string, in TickInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		p, ok := find(w.rec.Pieces(), func(p PieceState) bool { return p.ID == in.PieceID })
		if !ok {
			return "", ErrNotFound
		}
		cut, fitted := p.CutNow(), p.FittedNow()
		switch step := Step(in.Step); {
		case step == StepCut && in.Done:
			cut = p.Count
		case step == StepCut:
			cut, fitted = 0, 0
		case step == StepFitted && in.Done:
			cut, fitted = p.Count, p.Count
		case step == StepFitted:
			fitted = 0
		default:
			return "", &InvalidError{Fields: []FieldError{{Field: "step", Message: "Tick the piece as cut or as fitted."}}}
		}
		if p.Gone && in.Done {
			return "", &InvalidError{Fields: []FieldError{{Field: "piece", Message: p.Label + " is no longer in the layout: there is nothing to tick."}}}
		}
		if in.Done && fitted > 0 && p.FittedNow() > 0 && p.Changed() {
			return "", w.tick(p, StepFitted, p.FittedNow())
		}
		// What was cut before the layout changed is ticked anew as it is to be now.
		again := in.Done && p.Changed()
		if cut != p.CutNow() || again {
			if err := w.tick(p, StepCut, cut); err != nil {
				return "", err
			}
		}
		if fitted != p.FittedNow() {
			return "", w.tick(p, StepFitted, fitted)
		}
		return "", nil
	})
	return err
}

// tick writes one tick of a piece as the layout has it.
func (w *work) tick(p PieceState, step Step, done int) error {
	t := Tick{
		ID: NewID(), PieceID: p.ID, RunID: p.RunID, Label: p.Label, What: p.What, Section: p.Section, Length: p.Length, Count: p.Count,
		Step: step, Done: min(done, p.Count), Layout: p.Version, At: w.at, By: w.by,
	}
	return w.emit(EvPieceTicked, Change{Tick: &t})
}

// OnHandInput is stock on hand as typed.
type OnHandInput struct {
	Stock  string // section and wood, as StockKinds names them
	Length string
	Count  string // empty is one
	Offcut bool
	From   string
}

// StockKind is one section of stock that the job is cut from.
type StockKind struct{ Section, Species string }

// Key names the kind in a form.
func (k StockKind) Key() string { return k.Section + "; " + k.Species }

// StockKinds lists the sections that the live runs' pieces are cut from, in the order of the layouts.
func (r *Record) StockKinds() []StockKind {
	var out []StockKind
	for _, run := range r.Live() {
		v, _ := r.Layout(run.ID)
		spec, _ := r.Job.Spec.With(run.Overrides, r.Job.Units) // faults were refused when the run was saved
		for _, p := range v.Layout.Pieces {
			if !p.Boarded() {
				continue
			}
			k := StockKind{Section: p.StockSection(), Species: speciesName(p, spec)}
			if !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
	}
	return out
}

// speciesName is the name of the wood that a piece is of; empty where the layout does not know it.
func speciesName(p layout.Piece, spec layout.Spec) string {
	if s, ok := codes.SpeciesByKey(p.StockSpecies(spec)); ok {
		return s.Name
	}
	return ""
}

// AddOnHand records boards or an offcut that are on the site.
func (s *Service) AddOnHand(ctx context.Context, by By, jobID string, in OnHandInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		o, err := in.onHand(w.rec)
		if err != nil {
			return "", err
		}
		return "", w.putOnHand(o, "")
	})
	return err
}

// onHand reads the stock, all faults at once.
func (in OnHandInput) onHand(r *Record) (OnHand, error) {
	var bad InvalidError
	o := OnHand{ID: NewID(), Count: 1, Offcut: in.Offcut, From: strings.TrimSpace(in.From)}
	if k, ok := find(r.StockKinds(), func(k StockKind) bool { return k.Key() == in.Stock }); ok {
		o.Section, o.Species = k.Section, k.Species
	} else {
		bad.Add("stock", "Choose the section that the boards are of.")
	}
	l, err := length.Parse(in.Length, r.Job.Units)
	switch {
	case err != nil:
		bad.Add("length", "Enter the length of one board, such as "+map[bool]string{true: "2400 or 2400 mm.", false: `96 or 8'.`}[r.Job.Units == length.Millimetres])
	case l <= 0:
		bad.Add("length", "Enter a length greater than zero.")
	}
	o.Length = l
	if text := strings.TrimSpace(in.Count); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > mostOnHand {
			bad.Add("count", fmt.Sprintf("Enter how many boards there are, from 1 to %d.", mostOnHand))
		}
		o.Count = n
	}
	if len(o.From) > 200 {
		bad.Add("from", "Say where it comes from in 200 characters or fewer.")
	}
	return o, bad.Err()
}

// putOnHand writes stock on hand as it now stands, and why.
func (w *work) putOnHand(o OnHand, why string) error {
	o.Why, o.At, o.By = why, w.at, w.by
	o.Version++
	return w.emit(EvOnHandSaved, Change{OnHand: &o})
}

// WithdrawOnHandInput takes boards off the stock on hand: one that was used, or all that are left.
type WithdrawOnHandInput struct {
	ID      string
	Version int
	All     bool
}

// WithdrawOnHand takes boards off the stock on hand. The record keeps that they were there.
func (s *Service) WithdrawOnHand(ctx context.Context, by By, jobID string, in WithdrawOnHandInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		o, ok := w.rec.HandOf(in.ID)
		if !ok {
			return "", ErrNotFound
		}
		if o.Version != in.Version {
			return "", &InvalidError{Fields: []FieldError{{Message: fmt.Sprintf("%s changed this stock on hand after the page was opened: look at what is left of it. Nothing was recorded.", o.By.Name)}}}
		}
		if o.Count == 0 {
			return "", nil
		}
		if in.All {
			o.Count = 0
			return "", w.putOnHand(o, "taken off the list")
		}
		o.Count--
		return "", w.putOnHand(o, "used")
	})
	return err
}

// BoardInput is a board of the cutting plan that was cut.
type BoardInput struct {
	Pieces []string // ids, one for each piece cut from it
	OnHand string   // the stock on hand that it was; empty for a board that was bought
	Rest   string   // length of the offcut that is kept, as typed; empty for none
}

// CutBoard records that a board was cut: its pieces are ticked as cut, it is withdrawn where it was on hand, and what is left of it
// becomes stock on hand. All of it is recorded or nothing.
func (s *Service) CutBoard(ctx context.Context, by By, jobID string, in BoardInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		cut := map[string]int{}
		for _, id := range in.Pieces {
			cut[id]++
		}
		if len(cut) == 0 {
			return "", &InvalidError{Fields: []FieldError{{Message: "No piece of the board is named: tick the pieces by themselves."}}}
		}
		pieces := w.rec.Pieces()
		var first PieceState
		for _, id := range slices.Sorted(maps.Keys(cut)) {
			p, ok := find(pieces, func(p PieceState) bool { return p.ID == id })
			if !ok || p.Gone || p.Serves()+cut[id] > p.Count {
				return "", &InvalidError{Fields: []FieldError{{Message: "The plan has changed since this page was opened: look at the boards again. Nothing was recorded."}}}
			}
			if first.ID == "" {
				first = p
			}
			if err := w.tick(p, StepCut, p.Serves()+cut[id]); err != nil {
				return "", err
			}
		}
		if in.OnHand != "" {
			o, ok := w.rec.HandOf(in.OnHand)
			if !ok || o.Count == 0 {
				return "", &InvalidError{Fields: []FieldError{{Message: "That board is no longer on hand: look at the boards again. Nothing was recorded."}}}
			}
			o.Count--
			if err := w.putOnHand(o, "used for "+first.Label); err != nil {
				return "", err
			}
		}
		if strings.TrimSpace(in.Rest) == "" {
			return "", nil
		}
		kind, _ := w.rec.kindOf(first.ID)
		rest, err := OnHandInput{Stock: kind.Key(), Length: in.Rest, Offcut: true, From: "the board of " + first.Label}.onHand(w.rec)
		if err != nil {
			return "", &InvalidError{Fields: []FieldError{{Field: "rest", Message: "What is kept of the board must be a length, such as 40 1/2 in or 1030 mm; leave it empty where nothing is kept. Nothing was recorded."}}}
		}
		return "", w.putOnHand(rest, "")
	})
	return err
}

// kindOf is the section that a piece of the newest layouts is cut from.
func (r *Record) kindOf(pieceID string) (StockKind, bool) {
	for _, run := range r.Live() {
		v, _ := r.Layout(run.ID)
		spec, _ := r.Job.Spec.With(run.Overrides, r.Job.Units)
		for _, p := range v.Layout.Pieces {
			if v.Layout.PieceID(p) == pieceID {
				return StockKind{Section: p.StockSection(), Species: speciesName(p, spec)}, true
			}
		}
	}
	return StockKind{}, false
}
