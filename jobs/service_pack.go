package jobs

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"newelbook/checklist"
	"newelbook/checklist/layout"
)

// MayIssue refuses whoever may not issue a pack.
func MayIssue(a Actor) error {
	if a.Role != RoleBuilder {
		return fmt.Errorf("%w: only the builder issues packs", ErrForbidden)
	}
	return nil
}

// Unfinished says what is missing or open, stage by stage: what a pack issued now would print as such.
func (r *Record) Unfinished() ([]string, error) {
	sheet, err := r.Sheet()
	if err != nil {
		return nil, err
	}
	var out []string
	for _, st := range sheet.Stages {
		if !st.State.Closed {
			out = append(out, fmt.Sprintf("The stage %s is not closed: %d of %d checks answered.", st.Stage, st.Answered, st.Total))
			continue
		}
		if len(st.State.Deviations) > 0 {
			out = append(out, fmt.Sprintf("The stage %s was closed over a deviation.", st.Stage))
		}
		if st.Again != "" {
			out = append(out, st.Again)
		}
		if owed := r.unnamed(st); len(owed) > 0 {
			out = append(out, fmt.Sprintf("The stage %s was closed, and %s came to be outstanding since, the first being: %s", st.Stage, things(len(owed)), owed[0]))
		}
	}
	for _, m := range sheet.Mixed {
		out = append(out, m.Sentence)
	}
	for _, d := range r.Deviations {
		if d.State == DevOpen {
			out = append(out, fmt.Sprintf("Deviation D%d is open: %s", d.Number, d.What))
		}
	}
	for _, p := range r.Papers {
		for _, x := range sheet.ReadingsOn(p.ID) {
			if !p.Holds() {
				out = append(out, fmt.Sprintf("%s was withdrawn, and a reading rests on it: %s %s.", p.Label(), x.Check.Place.Label, x.Check.Title))
			}
		}
	}
	var open []string
	for _, run := range r.Live() {
		if _, ok := r.CoveredRun(run.ID); !ok {
			open = append(open, run.Label)
		}
	}
	switch len(open) {
	case 0:
	case 1:
		out = append(out, open[0]+" is not marked as covered.")
	default:
		out = append(out, "Not marked as covered: "+layout.Series(open)+".")
	}
	return out, nil
}

// unnamed lists what is outstanding in a stage and named by none of the deviations that it was closed over: what a change of
// the layout or a later reading brought with it.
func (r *Record) unnamed(st StageSheet) []string {
	var out []string
	for _, o := range st.Outstanding {
		named := slices.ContainsFunc(st.State.Deviations, func(id string) bool {
			d, _ := r.Deviation(id)
			return slices.Contains(d.Missing, o.text())
		})
		if !named {
			out = append(out, o.text())
		}
	}
	return out
}

// RecordIssue takes a frozen pack into the record. The number must be the next one; when another pack took it meanwhile
// the answer is a ConflictError and the pack must be made again.
func (s *Service) RecordIssue(ctx context.Context, by By, jobID string, p IssuedPack) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := MayIssue(w.by); err != nil {
			return "", err
		}
		if p.Number != len(w.rec.Packs)+1 {
			return "", &ConflictError{What: fmt.Sprintf("pack %d", p.Number)}
		}
		p.By, p.Issued = w.by, p.Issued.UTC()
		return fmt.Sprint(p.Number), w.emit(EvPackIssued, Change{Pack: &p})
	})
	return err
}

// LinkInput asks for a link to one issued pack.
type LinkInput struct {
	Pack int
	For  string // owner or inspector
	Name string
	Days int // how long it stays open
}

// MakeLink makes a link and returns its id and its token. The token is shown once and kept nowhere: only its hash is. A
// repeated form returns the id and no token.
func (s *Service) MakeLink(ctx context.Context, by By, jobID string, in LinkInput) (id, token string, err error) {
	id, err = s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		var bad InvalidError
		if _, ok := w.rec.Pack(in.Pack); !ok {
			bad.Add("pack", "Choose an issued pack: a link opens one pack alone.")
		}
		if r := Role(in.For); r != RoleOwner && r != RoleInspector {
			bad.Add("for", "Choose whether the link is for the owner or the inspector.")
		}
		if strings.TrimSpace(in.Name) == "" {
			bad.Add("name", "Enter whom the link is for.")
		}
		if in.Days < 1 || in.Days > 730 {
			bad.Add("days", "Enter for how many days the link stays open, from 1 to 730.")
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		secret := make([]byte, 32)
		rand.Read(secret)
		token = base64.RawURLEncoding.EncodeToString(secret)
		l := Link{ID: NewID(), TokenHash: TokenHash(token), For: Role(in.For), Name: strings.TrimSpace(in.Name), Pack: in.Pack,
			Made: w.at, MadeBy: w.by, Expires: w.at.Add(time.Duration(in.Days) * 24 * time.Hour)}
		return l.ID, w.emit(EvLinkMade, Change{Link: &l})
	})
	if err != nil {
		return "", "", err
	}
	return id, token, nil
}

// TokenHash is what is kept of a link's token.
func TokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// RevokeLink closes a link for good.
func (s *Service) RevokeLink(ctx context.Context, by By, jobID, linkID string) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		l, ok := w.rec.Link(linkID)
		if !ok {
			return "", ErrNotFound
		}
		if l.Revoked != nil {
			return "", nil
		}
		l.Revoked = &w.at
		return "", w.emit(EvLinkRevoked, Change{Link: &l})
	})
	return err
}

// Guest is what a link opens.
type Guest struct {
	Record *Record
	Link   Link
	Pack   IssuedPack
}

// Open looks a token up. ErrNotFound means no such link was ever made; ErrGone that it was revoked or has expired, and then
// the Guest still carries the record, for how to reach the builder.
func (s *Service) Open(ctx context.Context, token string) (Guest, error) {
	var g Guest
	err := s.store.View(ctx, func(tx Tx) error {
		jobID, err := tx.LinkJob(TokenHash(token))
		if err != nil {
			return err
		}
		g.Record, err = s.load(tx, jobID)
		return err
	})
	if err != nil {
		return Guest{}, err
	}
	return g.Record.guest(token, s.Now())
}

func (r *Record) guest(token string, at time.Time) (Guest, error) {
	hash := TokenHash(token)
	l, ok := find(r.Links, func(l Link) bool { return l.TokenHash == hash })
	if !ok {
		return Guest{}, ErrNotFound
	}
	g := Guest{Record: r, Link: l}
	if l.Revoked != nil || !at.Before(l.Expires) {
		return g, ErrGone
	}
	if g.Pack, ok = r.Pack(l.Pack); !ok {
		return g, ErrNotFound
	}
	return g, nil
}

// AnswerInput is what a guest says.
type AnswerInput struct {
	Kind, Outcome, Stage, Place, Text, Name, Office, On, Signature string
}

// Answer records what a guest says of the pack that the link opens. It changes nothing else in the record, but for a removable length,
// whose deviation ends by what owner and authority say alone.
func (s *Service) Answer(ctx context.Context, token string, form, body string, in AnswerInput) (string, error) {
	var jobID string
	err := s.store.View(ctx, func(tx Tx) (err error) {
		jobID, err = tx.LinkJob(TokenHash(token))
		return err
	})
	if err != nil {
		return "", err
	}
	return s.update(ctx, jobID, By{Form: form, Body: body}, func(w *work) (string, error) {
		g, err := w.rec.guest(token, w.at)
		if err != nil {
			return "", err
		}
		a := Answer{
			ID: NewID(), LinkID: g.Link.ID, From: g.Link.For, Pack: g.Pack.Number, PackHash: g.Pack.Hash, Kind: AnswerKind(in.Kind), Outcome: in.Outcome,
			Stage: checklist.Stage(in.Stage), Place: strings.TrimSpace(in.Place), Text: strings.TrimSpace(in.Text), Name: strings.TrimSpace(in.Name),
			Office: strings.TrimSpace(in.Office), On: strings.TrimSpace(in.On), Signature: strings.TrimSpace(in.Signature), At: w.at,
		}
		if a.Kind != AnswerOutcome {
			a.Outcome, a.On = "", "" // left chosen under a remark, they say nothing
		}
		if err := a.check(w.rec.Job.Day(w.at)); err != nil {
			return "", err
		}
		w.by = Actor{ID: g.Link.ID, Name: a.Name, Role: g.Link.For}
		if err := w.emit(EvAnswerGiven, Change{Answer: &a}); err != nil {
			return "", err
		}
		return a.ID, w.answered()
	})
}

func (a Answer) check(today string) error {
	var bad InvalidError
	switch {
	case a.From == RoleInspector && a.Kind != AnswerOutcome && a.Kind != AnswerRemark,
		a.From == RoleOwner && !slices.Contains([]AnswerKind{AnswerAccept, AnswerDecline, AnswerRemark}, a.Kind):
		bad.Add("kind", "Choose what you want to record.")
	}
	if a.Kind == AnswerOutcome {
		if !slices.Contains([]string{OutcomeAccepted, OutcomeCorrect, OutcomeNotInspected}, a.Outcome) {
			bad.Add("outcome", "Choose the outcome.")
		}
		if !isDate(a.On) || a.On > today {
			bad.Add("on", "Enter the date of the inspection as 2026-05-04, not later than today.")
		}
	}
	if a.Stage != "" && !slices.Contains(checklist.Stages(), a.Stage) {
		bad.Add("stage", "Choose the stage that was inspected.")
	}
	if a.Kind == AnswerRemark && a.Text == "" {
		bad.Add("text", "Enter your remark.")
	}
	if a.Kind == AnswerDecline && a.Text == "" {
		bad.Add("text", "Enter what stands in the way, so that the builder can see to it.")
	}
	if _, err := ParseStrokes(a.Signature); err != nil {
		bad.Add("signature", "The drawn signature could not be read: wipe it and draw it again, or leave it out. Your name serves as well.")
	}
	if a.Name == "" {
		bad.Add("name", "Enter your name: it is kept with your answer.")
	}
	for _, f := range []struct {
		field, text string
		most        int
	}{{"text", a.Text, 4000}, {"place", a.Place, 200}, {"name", a.Name, 200}, {"office", a.Office, 200}} {
		if utf8.RuneCountInString(f.text) > f.most {
			bad.Add(f.field, fmt.Sprintf("Enter at most %d characters here.", f.most))
		}
	}
	return bad.Err()
}
