package jobs

import (
	"fmt"
	"slices"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/media"
)

// PaperKind is what an attached paper is.
type PaperKind string

// Kinds of paper.
const (
	PaperDrawing PaperKind = "approved drawing"
	PaperLetter  PaperKind = "engineer's letter"
	PaperTest    PaperKind = "test report"
	PaperLabel   PaperKind = "product label or instructions"
	PaperPermit  PaperKind = "permit"
	PaperOther   PaperKind = "other paper"
)

// PaperKinds lists the kinds in the order in which forms and packs name them.
func PaperKinds() []PaperKind {
	return []PaperKind{PaperDrawing, PaperLetter, PaperTest, PaperLabel, PaperPermit, PaperOther}
}

// ForOwner says whether an owner needs papers of the kind after the handover: what tells how a product is looked after.
func (k PaperKind) ForOwner() bool { return k == PaperLabel }

// Paper is a paper attached to the job: a file as it was received, under its hash like the original of a photograph, and what is
// said of it. It is never changed and never deleted; one that no longer holds is withdrawn with a reason, and stays listed.
type Paper struct {
	ID     string          `json:"id"`
	Number int             `json:"number"` // counted per job, never used again
	Media  media.ID        `json:"media"`  // SHA-256 of the file
	Name   string          `json:"name"`   // of the file as uploaded: a hint for people, nothing more
	File   media.Kind      `json:"file"`   // pdf, jpeg, png or webp, by its content
	Bytes  int64           `json:"bytes"`
	Kind   PaperKind       `json:"kind"`
	Title  string          `json:"title"`
	On     string          `json:"on"`     // the date that stands on it, 2026-05-04; empty where it bears none
	Issuer string          `json:"issuer"` // who issued it, as it says
	Place  checklist.Place `json:"place"`  // what it is about: the job, a run, a post or a bay
	// DeviationID and Amendment name what rests on it: one deviation, or the authority's own figure of that key. Empty for none.
	DeviationID string    `json:"deviation_id"`
	Amendment   string    `json:"amendment"`
	By          Actor     `json:"by"`
	Received    time.Time `json:"received"`
	// Withdrawn is when it was taken back, zero while it holds.
	Withdrawn   time.Time `json:"withdrawn"`
	WithdrawnBy Actor     `json:"withdrawn_by"`
	Why         string    `json:"why"`
	Version     int       `json:"version"`
}

// Holds says whether the paper was not withdrawn.
func (p Paper) Holds() bool { return p.Withdrawn.IsZero() }

// Label is the paper's name in lists and packs: Paper 3.
func (p Paper) Label() string { return fmt.Sprintf("Paper %d", p.Number) }

// Paper is the paper of that id, also a withdrawn one.
func (r *Record) Paper(id string) (Paper, bool) {
	return find(r.Papers, func(p Paper) bool { return p.ID == id })
}

// PapersInForce lists the papers that were not withdrawn, in order of number.
func (r *Record) PapersInForce() []Paper {
	return slices.DeleteFunc(slices.Clone(r.Papers), func(p Paper) bool { return !p.Holds() })
}

// PaperFor says which kind of paper an observation of the check may rest on, so that its reading can name one; empty for none. A
// post base is used only with a published test report, and a removable length with the owner's acknowledgement in writing (both
// common practice; the rule sets that print them are named with the checks).
func PaperFor(c checklist.Check) PaperKind {
	switch c.Key {
	case checklist.KeyBaseTest:
		return PaperTest
	case checklist.KeyOwnerTold:
		return PaperOther
	}
	return ""
}

// ReadingsOn lists the current readings that name a paper.
func (s *Sheet) ReadingsOn(paperID string) []Reading {
	var out []Reading
	for i := range s.Checks {
		if c := s.Checks[i].Current; c != nil && c.PaperID == paperID {
			out = append(out, *c)
		}
	}
	return out
}

// Rest is something that can rest on a paper, as a form offers it.
type Rest struct{ Value, Label string }

// restDeviation and restAmendment begin the value of a Rest.
const (
	restDeviation = "deviation:"
	restAmendment = "amendment:"
)

// Rests lists what may rest on a paper: every deviation, and every figure of the authority's own that is in force.
func (r *Record) Rests() []Rest {
	var out []Rest
	for _, d := range r.Deviations {
		out = append(out, Rest{restDeviation + d.ID, fmt.Sprintf("Deviation D%d at %s: %s", d.Number, d.Place.Label, d.What)})
	}
	for _, a := range r.Job.Amendments {
		out = append(out, Rest{restAmendment + a.Key, "The authority's own figure: " + r.figureTitle(a)})
	}
	return out
}

func (r *Record) figureTitle(a codes.Amendment) string {
	title := a.Key
	if rules, err := r.Job.Rules(); err == nil {
		if f, ok := find(rules.Figures(), func(f codes.AppliedFigure) bool { return f.Key == a.Key }); ok {
			title = f.Title
		}
	}
	return fmt.Sprintf("%s, %s, said by %s", title, a.Value, a.SaidBy)
}

// RestOf is what rests on a paper as a form names it, empty for nothing; and in words, which stay when the figure no longer holds.
func (r *Record) RestOf(p Paper) (rest Rest) {
	switch {
	case p.DeviationID != "":
		rest.Value, rest.Label = restDeviation+p.DeviationID, "A deviation"
	case p.Amendment != "":
		rest.Value, rest.Label = restAmendment+p.Amendment, "The authority's own figure "+p.Amendment+", which no longer holds"
	}
	if known, ok := find(r.Rests(), func(x Rest) bool { return x.Value == rest.Value }); ok {
		return known
	}
	return rest
}
