package materials

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/cutting"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Stock is all the pieces of one section and species that come out of the same boards, with the plan for cutting them.
type Stock struct {
	Section  string          `json:"section"`
	Species  string          `json:"species"` // name; empty where the layout does not know it
	Runs     []string        `json:"runs"`    // labels of the runs that it is for
	Lengths  []length.Length `json:"lengths"` // of boards to be had, shortest first
	Kerf     length.Length   `json:"kerf"`
	EndTrim  length.Length   `json:"end_trim"` // off each end of each board
	Pieces   []Member        `json:"pieces"`
	Boards   []Board         `json:"boards"` // in the order to cut them
	New      int             `json:"new"`    // how many of them are to be bought
	Unplaced []Unplaced      `json:"unplaced"`
	Taken    length.Length   `json:"taken"`  // length of the boards together
	Bought   length.Length   `json:"bought"` // length of those to be bought
	Waste    length.Length   `json:"waste"`  // what of Taken is in no piece
	Fewest   bool            `json:"fewest"` // proved: no plan buys fewer boards
	Bound    int             `json:"bound"`  // proved: no plan buys fewer boards than this
	Why      string          `json:"why"`    // the number of boards and what is proved of it, one sentence
}

// Member is one piece of the layout, with the length of board that one of it takes.
type Member struct {
	ID    string        `json:"id"` // permanent
	Piece layout.Piece  `json:"piece"`
	Takes length.Length `json:"takes"` // point to point, where its ends are slanted; else the cut length
	Cut   int           `json:"cut"`   // how many of it are cut already and not in the plan
}

// Board is one board of the plan.
type Board struct {
	Number int           `json:"number"` // within its section, from 1
	Length length.Length `json:"length"`
	OnHand string        `json:"on_hand"` // id of the stock on hand that it is; empty for one to be bought
	Cuts   []Cut         `json:"cuts"`
	Left   length.Length `json:"left"`  // usable piece behind the last cut, the end trim not counted
	Waste  length.Length `json:"waste"` // trims, kerfs and what is left
}

// Cut is one piece in a board.
type Cut struct {
	ID     string        `json:"id"` // of the piece
	Label  string        `json:"label"`
	Length length.Length `json:"length"` // cut length
	Takes  length.Length `json:"takes"`
	From   length.Length `json:"from"` // untrimmed end of the board to the start of the piece
}

// Unplaced is pieces that come out of no board of the plan. Reason is a finished sentence.
type Unplaced struct {
	Label  string        `json:"label"`
	Length length.Length `json:"length"`
	Takes  length.Length `json:"takes"`
	Count  int           `json:"count"`
	Reason string        `json:"reason"`
}

// plan cuts the pieces out of the boards, and takes what it uses of those on hand out of their counts. Pieces go through the plan
// under their number, so that labels need not differ.
func (s *Stock) plan(onHand []OnHand, style length.Style) {
	in := cutting.Input{Kerf: s.Kerf, EndTrim: s.EndTrim, Budget: Budget, Style: style}
	byName := map[string]Member{}
	for i, p := range s.Pieces {
		name := fmt.Sprintf("%06d", i)
		byName[name] = p
		in.Pieces = append(in.Pieces, cutting.Piece{Label: name, Length: p.Takes, Count: p.Piece.Count - p.Cut})
		in.Budget = min(in.Budget+budgetAPiece*(p.Piece.Count-p.Cut), budgetMost)
	}
	mine := func(o OnHand) bool { return o.Section == s.Section && o.Species == s.Species && o.Count > 0 }
	for _, o := range onHand {
		if mine(o) {
			in.Stock = append(in.Stock, cutting.Stock{Length: o.Length, Count: o.Count, OnHand: true})
		}
	}
	for _, l := range s.Lengths {
		in.Stock = append(in.Stock, cutting.Stock{Length: l})
	}
	res := cutting.PlanWithin(in, cutting.DefaultBudget)
	s.Boards, s.Unplaced = []Board{}, []Unplaced{}
	s.Taken, s.Bought, s.Waste, s.New, s.Bound, s.Fewest, s.Why = res.Stock, res.Bought, 0, res.New, res.Bound, res.Optimal, res.Why
	for i, b := range res.Boards {
		board := Board{Number: i + 1, Length: b.Stock, Left: b.Left, Waste: b.Stock}
		if b.OnHand {
			at := slices.IndexFunc(onHand, func(o OnHand) bool { return mine(o) && o.Length == b.Stock })
			board.OnHand = onHand[at].ID
			onHand[at].Count--
		}
		for _, c := range b.Cuts {
			p := byName[c.Label].Piece
			board.Cuts = append(board.Cuts, Cut{ID: byName[c.Label].ID, Label: p.Label, Length: p.Length, Takes: c.Length, From: c.From})
			board.Waste -= p.Length
		}
		s.Waste += board.Waste
		s.Boards = append(s.Boards, board)
	}
	for _, u := range res.Unplaced {
		p := byName[u.Label].Piece
		s.Unplaced = append(s.Unplaced, Unplaced{Label: p.Label, Length: p.Length, Takes: u.Length, Count: u.Count, Reason: u.Reason})
	}
}

// orders counts the boards to be bought by length, the longest first.
func (s *Stock) orders() []Order {
	var out []Order
	for _, b := range s.Boards {
		if b.OnHand != "" {
			continue
		}
		if last := len(out) - 1; last >= 0 && out[last].Length == b.Length {
			out[last].Count++
			continue
		}
		out = append(out, Order{Section: s.Section, Species: s.Species, Length: b.Length, Count: 1})
	}
	return out
}

// beyond lists the pieces that the plan leaves out, those of one length together.
func (s *Stock) beyond() []Beyond {
	var out []Beyond
	for _, u := range s.Unplaced {
		why := strings.TrimSuffix(u.Reason, ".")
		if longest := len(s.Lengths) - 1; longest >= 0 && u.Takes > s.Lengths[longest]-2*s.EndTrim {
			why = "Longer than any stock length"
		}
		i := slices.IndexFunc(out, func(b Beyond) bool { return b.Takes == u.Takes && b.Why == why })
		if i < 0 {
			i = len(out)
			out = append(out, Beyond{Section: s.Section, Species: s.Species, Takes: u.Takes, Why: why})
		}
		out[i].Count += u.Count
		out[i].Labels = append(out[i].Labels, u.Label)
	}
	return out
}
