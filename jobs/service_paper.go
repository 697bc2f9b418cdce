package jobs

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"newelbook/media"
)

// PaperInput is what is said of a paper, as typed. A new one has Facts and Name of its file; ID and Version are those of the paper
// that is described anew.
type PaperInput struct {
	ID      string
	Version int

	Facts media.Paper
	Name  string // of the file as uploaded

	Kind, Title, On, Issuer, PlaceID string
	Rests                            string // the Value of a Rest, empty for none
}

// Limits of what is said of one paper, in characters.
const paperTextRunes = 200

// CheckPaper says what is wrong with what is said of a paper, before its file is sent: nil, or an InvalidError.
func (r *Record) CheckPaper(in PaperInput, today string) error {
	_, err := r.describe(Paper{}, in, today)
	return err
}

// AddPaper attaches a paper and returns its id. Its file is held already.
func (s *Service) AddPaper(ctx context.Context, by By, jobID string, in PaperInput) (string, error) {
	return s.update(ctx, jobID, by, func(w *work) (string, error) {
		if there, ok := find(w.rec.PapersInForce(), func(p Paper) bool { return p.Media == in.Facts.ID }); ok {
			return "", &InvalidError{Fields: []FieldError{{Field: "file", Message: fmt.Sprintf("This file is attached already, as %s: %s. Open that one and describe it anew, or choose another file.", there.Label(), there.Title)}}}
		}
		p, err := w.rec.describe(Paper{
			ID: NewID(), Number: len(w.rec.Papers) + 1, Media: in.Facts.ID, Name: PlainFileName(in.Name), File: in.Facts.Kind, Bytes: in.Facts.Bytes,
			By: w.by, Received: w.at, Version: 1,
		}, in, w.rec.Job.Day(w.at))
		if err != nil {
			return "", err
		}
		return p.ID, w.emit(EvPaperAdded, Change{Paper: &p})
	})
}

// DescribePaper changes what is said of a paper that holds; its file stays as it is. Only the builder does.
func (s *Service) DescribePaper(ctx context.Context, by By, jobID string, in PaperInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		p, err := w.paper(in.ID, in.Version)
		if err != nil {
			return "", err
		}
		if p, err = w.rec.describe(p, in, w.rec.Job.Day(w.at)); err != nil {
			return "", err
		}
		p.Version++
		return "", w.emit(EvPaperDescribed, Change{Paper: &p})
	})
	return err
}

// WithdrawPaperInput takes a paper back, as typed.
type WithdrawPaperInput struct {
	ID      string
	Version int
	Why     string
}

// WithdrawPaper takes a paper back: it stays in the record with the reason, and its file is held on, but no later pack encloses it.
func (s *Service) WithdrawPaper(ctx context.Context, by By, jobID string, in WithdrawPaperInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		p, err := w.paper(in.ID, in.Version)
		if err != nil {
			return "", err
		}
		if p.Why = strings.TrimSpace(in.Why); p.Why == "" {
			return "", &InvalidError{Fields: []FieldError{{Field: "why", Message: "Enter why it no longer holds, so that whoever reads the pack can follow it."}}}
		}
		p.Withdrawn, p.WithdrawnBy = w.at, w.by
		p.Version++
		return "", w.emit(EvPaperWithdrawn, Change{Paper: &p})
	})
	return err
}

// paper is the paper that the builder means to change.
func (w *work) paper(id string, version int) (Paper, error) {
	if err := w.builder(); err != nil {
		return Paper{}, err
	}
	p, ok := w.rec.Paper(id)
	if !ok {
		return Paper{}, ErrNotFound
	}
	if err := stale(strings.ToLower(p.Label()), p.WithdrawnBy.Name, p.Version, version); err != nil {
		return Paper{}, err
	}
	if !p.Holds() {
		return Paper{}, &InvalidError{Fields: []FieldError{{Message: "This paper was withdrawn and is described no further: attach it anew if it holds again."}}}
	}
	return p, nil
}

// describe puts what was typed into a paper, or says each fault at its field.
func (r *Record) describe(p Paper, in PaperInput, today string) (Paper, error) {
	var bad InvalidError
	p.Kind, p.Title, p.On, p.Issuer = PaperKind(in.Kind), strings.Join(strings.Fields(in.Title), " "), strings.TrimSpace(in.On), strings.Join(strings.Fields(in.Issuer), " ")
	if !slices.Contains(PaperKinds(), p.Kind) {
		bad.Add("kind", "Choose what the paper is.")
	}
	for _, f := range []struct{ field, text, empty string }{
		{"title", p.Title, "Enter the title as it stands on the paper, or what it is in a few words."},
		{"issuer", p.Issuer, "Enter who issued it: the office, engineer, laboratory or maker that it names."},
	} {
		switch n := utf8.RuneCountInString(f.text); {
		case n == 0:
			bad.Add(f.field, f.empty)
		case n > paperTextRunes:
			bad.Add(f.field, fmt.Sprintf("Enter at most %d characters here.", paperTextRunes))
		}
	}
	if p.On != "" && (!isDate(p.On) || p.On > today) {
		bad.Add("on", "Enter the date on it as 2026-05-04, not later than today; leave it empty where it bears none.")
	}
	var ok bool
	if p.Place, ok = r.Place(in.PlaceID); !ok {
		bad.Add("place", "Choose what it is about: the whole job, or a run, post or bay.")
	}
	stood := r.RestOf(p).Value // what it rests on may be gone by now, and may stay
	p.DeviationID, p.Amendment = "", ""
	if _, known := find(r.Rests(), func(x Rest) bool { return x.Value == in.Rests }); in.Rests != "" && in.Rests != stood && !known {
		bad.Add("rests", "Choose a deviation or a figure that is in the record now.")
	}
	if id, ok := strings.CutPrefix(in.Rests, restDeviation); ok {
		p.DeviationID = id
	} else if key, ok := strings.CutPrefix(in.Rests, restAmendment); ok {
		p.Amendment = key
	}
	return p, bad.Err()
}
