package jobs

import (
	"time"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Step is what was done to a piece.
type Step string

// Steps of a piece.
const (
	StepCut    Step = "cut"
	StepFitted Step = "fitted"
)

// Tick says how many of a piece are cut, or fitted, from then on. A tick is never changed: taking one back is another tick. It keeps
// the piece as the layout had it, so that one whose length has changed since is told from one that has not.
type Tick struct {
	ID      string        `json:"id"`
	PieceID string        `json:"piece_id"` // permanent: "k7d2/B2 top"
	RunID   string        `json:"run_id"`
	Label   string        `json:"label"` // as it was then
	What    string        `json:"what"`
	Section string        `json:"section"`
	Length  length.Length `json:"length"` // to be cut, as it was then
	Count   int           `json:"count"`  // pieces of it that there were
	Step    Step          `json:"step"`
	Done    int           `json:"done"`           // of them, 0 where the tick was taken back
	Layout  int           `json:"layout_version"` // that it was ticked by
	At      time.Time     `json:"at"`
	By      Actor         `json:"by"`
}

// PieceState is a piece of the newest layouts and what was ticked of it; or one that they no longer have, where Gone.
type PieceState struct {
	ID, RunID, Label, What, Section string
	Cuts, Lies, Basis               string // how its ends are cut, where it lies, and planned or as built; empty where Gone
	Boarded                         bool   // cut out of a board; else it is bought by count
	Length                          length.Length
	Count                           int
	Version                         int   // of its run's layout
	Cut, Fitted                     *Tick // the newest of each; nil where it was never ticked
	Gone                            bool
}

// done is how many a tick says are done; a piece that was never ticked has none.
func (t *Tick) done() int {
	if t == nil {
		return 0
	}
	return t.Done
}

// CutNow and FittedNow are how many are ticked.
func (p PieceState) CutNow() int    { return p.Cut.done() }
func (p PieceState) FittedNow() int { return p.Fitted.done() }

// Over is by how much the piece was cut longer than the layout has it now; negative where it was cut shorter.
func (p PieceState) Over() length.Length {
	if p.CutNow() == 0 || p.Gone {
		return 0
	}
	return p.Cut.Length - p.Length
}

// Differs says that what was cut is not what the layout has now: of another length or section.
func (p PieceState) Differs() bool {
	return !p.Gone && p.CutNow() > 0 && (p.Cut.Length != p.Length || p.Cut.Section != p.Section)
}

// Stays says that somebody looked at what is fitted and differs from the layout as it is now, and left it: it was ticked as fitted anew.
func (p PieceState) Stays() bool {
	return p.Differs() && p.FittedNow() > 0 && p.Fitted.Length == p.Length && p.Fitted.Section == p.Section
}

// Changed says that what was cut differs from the layout and is still to be seen to: cut anew or trimmed, or looked at where it is fitted.
func (p PieceState) Changed() bool { return p.Differs() && !p.Stays() }

// Serves is how many of the piece need no board any more: those fitted, whatever the layout asks for since, until that is taken back; and
// those cut as long as they are to be now, or longer, of the section that they are to be.
func (p PieceState) Serves() int {
	if p.Gone {
		return 0
	}
	n := p.FittedNow()
	if p.CutNow() > 0 && p.Over() >= 0 && p.Cut.Section == p.Section {
		n = max(n, p.CutNow())
	}
	return min(n, p.Count)
}

// Pieces are the pieces of the live runs' newest layouts in order, with what was ticked of each, and then those ticked as cut
// that no layout has any more.
func (r *Record) Pieces() []PieceState {
	newest := map[string]*[2]*Tick{}
	var order []string
	for i := range r.Ticks {
		t := &r.Ticks[i]
		if newest[t.PieceID] == nil {
			newest[t.PieceID] = new([2]*Tick)
			order = append(order, t.PieceID)
		}
		if t.Step == StepCut {
			newest[t.PieceID][0] = t
		} else {
			newest[t.PieceID][1] = t
		}
	}
	var out []PieceState
	for _, run := range r.Live() {
		v, _ := r.Layout(run.ID)
		for _, p := range v.Layout.Pieces {
			s := PieceState{ID: v.Layout.PieceID(p), RunID: run.ID, Label: p.Label, What: p.What, Section: p.StockSection(), Cuts: p.Cuts, Lies: p.Place, Basis: p.Version, Boarded: p.Boarded(), Length: p.Length, Count: p.Count, Version: v.Version}
			if ticks := newest[s.ID]; ticks != nil {
				s.Cut, s.Fitted = ticks[0], ticks[1]
				delete(newest, s.ID)
			}
			out = append(out, s)
		}
	}
	for _, id := range order {
		ticks := newest[id]
		if ticks == nil || ticks[0].done() == 0 {
			continue
		}
		t := ticks[0]
		out = append(out, PieceState{ID: id, RunID: t.RunID, Label: t.Label, What: t.What, Section: t.Section, Boarded: layout.Piece{What: t.What}.Boarded(), Length: t.Length, Count: t.Count, Version: t.Layout, Cut: t, Fitted: ticks[1], Gone: true})
	}
	return out
}
